package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about jobs and the damage they put right.

// noLockout is why a job in the robot asks for no lockout, where it asks for none.
const noLockout = "nothing that moves is near it"

func (p *pit) jobWith(by Actor, triage Triage, fix Fix, damages ...DamageID) JobID {
	p.t.Helper()
	return JobID(p.madeKind(KindJob, p.ok(by, JobAdd{
		JobFields: JobFields{Robot: p.moth, Name: "a job", Triage: triage, Fixes: []Fix{fix}, Damages: damages}, Reason: noLockout,
	})))
}

func (p *pit) damage(g Grade) (DamageID, CommandID) {
	p.t.Helper()
	ch := p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: g}})
	return DamageID(p.made(ch)), ch.Done.ID
}

// bare has Ben start a job late, dated to when Dee's tag was on and his own was off.
func (p *pit) bare(job JobID) {
	p.t.Helper()
	if p.tagOf(p.dee) == "" {
		p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	}
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(p.t, bad)
	p.now += 60_000
	at := p.now
	p.now += 200_000
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	require.Nil(p.t, p.lateAt(p.as(p.ben), JobStart{Job: job}, p.now+1000-at))
	require.Equal(p.t, Work, p.state())
}

func TestAJobGradedUpNeverStandsInTheWayOfSafety(t *testing.T) {
	for name, c := range map[string]func(p *pit) (Actor, Command){
		"tag off": func(p *pit) (Actor, Command) { return p.as(p.ben), TagOff{Tag: p.tagOf(p.ben)} },
		"restart": func(*pit) (Actor, Command) { return Itself(), BoardStart{Why: "restart"} },
		"doubt":   func(p *pit) (Actor, Command) { return p.as(p.kit), RobotDoubt{Robot: p.moth, Why: "smoke"} },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			d, _ := p.damage(G3)
			job := p.jobWith(p.as(p.ben), Should, swapBlade(p.blade), d)
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.ok(p.as(p.dee), DamageRegrade{Damage: d, Grade: GX})
			by, do := c(p)
			p.ok(by, do)
			require.Equal(t, JobHeld, p.jobState(job))
		})
	}
}

func TestAPatchOfDamageGradedUpIsHeldAndThenDoneAnotherWay(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(G3)
	patch := swapBlade(p.blade)
	patch.Name, patch.Way, patch.Limits = "wrap it", WayPatch, "half speed"
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "blade", Triage: Must, Fixes: []Fix{patch, swapBlade(p.blade)}, Damages: []DamageID{d},
	}})))
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.dee), DamageRegrade{Damage: d, Grade: GX})
	p.refused(p.as(p.ben), JobFinish{Job: job}, 11)
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	p.refused(p.as(p.ben), JobResume{Job: job}, 11)
	p.ok(p.as(p.ben), JobFix{Job: job, Chosen: 1})
	p.ok(p.as(p.ben), JobResume{Job: job})
}

func TestAJobBeginsByTheFixThatItsStarterWasTold(t *testing.T) {
	p := newPit(t)
	p.open()
	mend := swapBlade(p.blade)
	mend.Name, mend.Way, mend.Stock = "grind it", WayMend, nil
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "blade", Triage: Must, Fixes: []Fix{swapBlade(p.blade), mend},
	}})))
	p.refused(p.as(p.ben), JobStart{Job: job, Fix: 2}, 0)
	began := p.ok(p.as(p.ben), JobStart{Job: job, Fix: 1})
	require.Equal(t, 1, p.s.Jobs[job].Chosen)
	require.Equal(t, 1, p.s.Jobs[job].Stints[0].Fix)
	p.ok(p.as(p.ben), Undo{Command: began.Done.ID})
	require.Equal(t, 0, p.s.Jobs[job].Chosen, "nobody has chosen any more")
	p.ok(p.as(p.ben), JobStart{Job: job})
	require.Equal(t, 0, p.s.Jobs[job].Stints[0].Fix)
}

func TestAPatchIsNotBegunOnWhatHurtsThoughThePlanSaysSo(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(GX)
	patch := swapBlade(p.blade)
	patch.Name, patch.Way, patch.Limits = "wrap it", WayPatch, "half speed"
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "blade", Triage: Must, Fixes: []Fix{swapBlade(p.blade), patch}, Damages: []DamageID{d},
	}})))
	p.refused(p.as(p.ben), JobStart{Job: job, Fix: 1}, 11)
	p.ok(p.as(p.ben), JobStart{Job: job})
}

func TestAReinspectionSaysNothingOfWorkAfterIt(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.bare(job)
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.ok(p.as(p.ada), JobReinspect{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
	p.ok(p.as(p.ben), JobReopen{Job: job})
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(t, JobFinished, p.jobState(job), "the lead looks again")
}

func TestAWorkedFixKeepsTheLockoutItAskedFor(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.bare(job)
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	bad := p.refused(p.as(p.ben), JobChange{Job: job, JobFields: p.offRobot(job)}, 0)
	require.Equal(t, CodeState, bad.Code)
	more := p.s.Jobs[job].JobFields
	more.Fixes = append(more.Fixes, p.offRobot(job).Fixes[0])
	p.ok(p.as(p.ada), JobChange{Job: job, JobFields: more, Reason: "it comes off in one piece"})
}

func TestAJobThatOnlyWaitedIsNotFinished(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	bad := p.refused(p.as(p.ben), JobFinish{Job: job}, 0)
	sentenceHas(t, bad, "never started")
}

func TestHandsStayOffAnUnknownRobotWhateverTheFixSays(t *testing.T) {
	p := newPit(t)
	fix := swapBlade(p.blade)
	fix.Lockout, fix.PackOut = false, false
	job := p.jobWith(p.as(p.ada), Must, fix)
	p.refused(p.as(p.kit), JobStart{Job: job}, 3)
	p.makeSafe()
	p.ok(p.as(p.kit), JobStart{Job: job})
	p.ok(Itself(), BoardStart{Why: "restart"})
	require.Equal(t, JobHeld, p.jobState(job))
}

func TestADamageThatCanHurtWithoutAJobKeepsTheRobotFromBeingSigned(t *testing.T) {
	p := newPit(t)
	p.open()
	hurt, _ := p.damage(GX)
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	for range 3 {
		p.answer(p.as(p.ben), ListReady)
	}
	bad = p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 11)
	sentenceHas(t, bad, "blade")
	p.ok(p.as(p.dee), DamageRegrade{Damage: hurt, Grade: G1, Reason: "a scratch"})
	p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 12)
	p.answer(p.as(p.nia), ListReady)
	require.Equal(t, Ready, p.state())
}

func TestADamageGradedUpBringsItsJobBackAsAMust(t *testing.T) {
	p := newPit(t)
	d, _ := p.damage(G1)
	patch := swapBlade(p.blade)
	patch.Way, patch.Limits = WayPatch, "weak"
	j := JobFields{Robot: p.moth, Name: "lock bent", Triage: Could, Fixes: []Fix{patch, swapBlade(p.blade)}, Damages: []DamageID{d}}
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: j})))
	p.ok(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "later"})
	p.ok(p.as(p.ben), DamageRegrade{Damage: d, Grade: GX})
	is := p.s.Jobs[job]
	require.Equal(t, JobOpen, is.State)
	require.Equal(t, Must, is.Triage)
	require.Equal(t, WaySwap, is.Fix().Way)
}

func TestALateStartIsKeptWhateverTheRobotDidSince(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ready0()
	require.Nil(t, p.lateAt(p.as(p.ben), JobStart{Job: job}, 600_000))
	require.Equal(t, JobHeld, p.jobState(job))
	require.Nil(t, p.lateAt(p.as(p.ben), JobFinish{Job: job}, 540_000))
	require.NotEqual(t, JobClosed, p.jobState(job))
}

func TestWorkThatNoLockoutCoveredIsNotDroppedUnseen(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.bare(job)
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	p.refused(p.as(p.ada), JobDrop{Job: job, Reason: "not needed"}, 8)
	p.ok(p.as(p.ada), JobReinspect{Job: job})
	p.ok(p.as(p.ada), JobDrop{Job: job, Reason: "not needed"})
}

func TestTakingAJobUpAgainDoesNotHideWhoRepaired(t *testing.T) {
	p := newPit(t)
	p.captain(PersonChange{Person: p.ben, PersonFields: PersonFields{
		Name: "Ben", Role: RoleCrew, Signer: true, Authorised: []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin},
	}, Reason: "signs from now on"})
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.ok(p.as(p.ben), JobReopen{Job: job})
	p.ok(p.as(p.ada), JobDrop{Job: job, Reason: "not needed"})
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	for range 3 {
		p.answer(p.as(p.ben), ListReady)
	}
	p.refused(p.as(p.ben), p.said(ListReady, "sign", SaidDone), 12)
}

func TestARobotsLeadReinspectsWhateverTheirRole(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Lead = p.nia
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	p.open()
	job := p.job()
	p.bare(job)
	p.ok(p.as(p.ben), JobFinish{Job: job})
	bad := p.refused(p.as(p.ben), JobReinspect{Job: job}, 0)
	sentenceHas(t, bad, "Nia")
	p.ok(p.as(p.nia), JobReinspect{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
}

func TestARefusedStepOfAJobNamesTheStepThatComesFirst(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	sentenceHas(t, p.refused(p.as(p.ben), JobFinish{Job: job}, 0), "Start it first")
	p.ok(p.as(p.ben), JobStart{Job: job})
	sentenceHas(t, p.refused(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "no time"}, 0), "Hold it first")
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	sentenceHas(t, p.refused(p.as(p.ben), JobStart{Job: job}, 0), "Resume it first")
	p.ok(p.as(p.ben), JobResume{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	sentenceHas(t, p.refused(p.as(p.ada), JobDrop{Job: job}, 0), "Reopen it first")
}

func TestNobodySaysThatTheHandsAreDoneOnAJobTheyNeverWorkedOn(t *testing.T) {
	for name, c := range map[string]struct {
		by func(p *pit) Actor
		ok bool
	}{
		"a guest":             {func(p *pit) Actor { return p.as(p.gus) }, false},
		"a minor":             {func(p *pit) Actor { return p.as(p.kit) }, false},
		"another of the crew": {func(p *pit) Actor { return p.as(p.nia) }, false},
		"who worked on it":    {func(p *pit) Actor { return p.as(p.ben) }, true},
		"the lead":            {func(p *pit) Actor { return p.as(p.ada) }, true},
		"event safety":        {func(p *pit) Actor { return p.as(p.dee) }, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := p.job()
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
			_, bad := p.try(c.by(p), JobFinish{Job: job})
			if c.ok {
				require.Nil(t, bad)
				require.Equal(t, JobClosed, p.jobState(job))
				return
			}
			require.Equal(t, CodeForbidden, bad.Code)
			sentenceHas(t, bad, "never worked on job 1: Ada or Ben says")
			require.Equal(t, JobHeld, p.jobState(job), "it waits for its part")
		})
	}
}

func TestAPatchWithNoOtherFixSaysThatTheLeadEntersANewJob(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(G3)
	patch := swapBlade(p.blade)
	patch.Name, patch.Way, patch.Limits = "wrap it", WayPatch, "half speed"
	job := p.jobWith(p.as(p.ben), Must, patch, d)
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.dee), DamageRegrade{Damage: d, Grade: GX})
	sentenceHas(t, p.refused(p.as(p.ben), JobFinish{Job: job}, 11), "enters a new one, with a swap or a mend.")
}
