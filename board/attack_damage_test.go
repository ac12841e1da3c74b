package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about damage that nobody makes a job of.

// closeUpAgain closes the robot up from work, with Ben's tag on.
func (p *pit) closeUpAgain() {
	p.t.Helper()
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(p.t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
}

func (p *pit) sign(by PersonID) (Change, *Refusal) {
	for {
		sheet, _ := p.s.Sheet(p.moth, ListReady)
		if l, _ := sheet.OpenLine(); l.Kind == LineSign {
			return p.try(p.as(by), p.said(ListReady, "sign", SaidDone))
		}
		p.answer(p.as(p.ben), ListReady)
	}
}

// doJob has Ben do a job with his tag on.
func (p *pit) doJob(job JobID) {
	p.t.Helper()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(p.t, JobClosed, p.jobState(job))
}

func TestRule11DamageWithoutAJobKeepsTheSignatureBack(t *testing.T) {
	for _, g := range []Grade{G3, G4} {
		p := newPit(t)
		p.open()
		d, _ := p.damage(g)
		p.closeUpAgain()
		_, bad := p.sign(p.dee)
		require.NotNil(t, bad)
		require.Equal(t, 11, bad.Rule)
		sentenceHas(t, bad, "has no job")
		p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G1, Reason: "a scratch, looked at with Ben"})
		_, bad = p.sign(p.dee)
		require.Nil(t, bad, "whoever grades it down has accepted it")
	}
}

func TestRule11SmallDamageWaitsForANameAtTheSignatureOnly(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(G2)
	p.closeUpAgain()
	_, bad := p.sign(p.dee)
	require.NotNil(t, bad)
	sentenceHas(t, bad, "nobody has accepted it")
	p.refused(p.as(p.ben), DamageAccept{Damage: d}, 0)
	p.ok(p.as(p.ada), DamageAccept{Damage: d})
	_, bad = p.sign(p.dee)
	require.Nil(t, bad)
	p.damage(G1)
	require.Equal(t, Ready, p.state(), "what comes after the signature is asked after the fight")
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
}

func TestALeadAcceptsInTheReportAndOthersDoNot(t *testing.T) {
	p := newPit(t)
	f := DamageFields{Robot: p.moth, Part: "paint", Grade: G1}
	p.refused(p.as(p.ben), DamageReport{DamageFields: f, Accept: true}, 0)
	p.ok(p.as(p.ada), DamageReport{DamageFields: f, Accept: true})
	require.Empty(t, p.s.DamageAsks(p.s.StandingDamage(p.moth)[0]))
	f.Grade = G3
	p.refused(p.as(p.ada), DamageReport{DamageFields: f, Accept: true}, 11)
}

func TestRule11DamageFoundAfterTheSignatureTakesItBack(t *testing.T) {
	for _, g := range []Grade{G3, G4, GX} {
		p := newPit(t)
		p.open()
		p.ready()
		p.damage(g)
		require.Equal(t, Unknown, p.state(), g)
	}
}

func TestRule11DamageCountsForLessOnlyAtTheWordOfWhoLeads(t *testing.T) {
	for name, less := range map[string]func(DamageID) Command{
		"graded down": func(d DamageID) Command { return DamageRegrade{Damage: d, Grade: G0, Reason: "looks fine"} },
		"dropped": func(d DamageID) Command {
			return DamageRegrade{Damage: d, Grade: G3, Drop: true, Reason: "looks fine"}
		},
		"off": func(d DamageID) Command { return DamageOff{Damage: d, What: "blade in the box"} },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			d, _ := p.damage(G3)
			for _, by := range []PersonID{p.ben, p.kit} {
				p.refused(p.as(by), less(d), 11)
			}
			p.refused(Actor{Role: RoleSafety}, less(d), 11)
			job := p.jobWith(p.as(p.ada), Must, swapBlade(p.blade), d)
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.ok(p.as(p.ada), TagOn{Robot: p.moth})
			p.ok(p.as(p.ada), JobJoin{Job: job})
			p.refused(p.as(p.ada), less(d), 11)
			if name == "off" {
				require.Equal(t, job, p.refused(p.as(p.dee), less(d), 11).Job, "the hands are on it still")
				p.ok(p.as(p.ada), JobHold{Job: job, Why: HoldPart})
			}
			p.ok(p.as(p.dee), less(d))
		})
	}
	p := newPit(t)
	d, _ := p.damage(G3)
	p.refused(p.as(p.ada), DamageRegrade{Damage: d, Grade: G1}, 11)
	p.refused(p.as(p.ada), DamageRegrade{Damage: d, Grade: G3, Drop: true}, 11)
	p.refused(Actor{Role: RoleSafety}, DamageRegrade{Damage: d, Grade: G3, Drop: true, Reason: "looks fine"}, 11)
}

func TestAReportOrARaisedGradeIsTakenBackAsASlipForAMinuteOnly(t *testing.T) {
	p := newPit(t)
	_, slip := p.damage(G4)
	p.ok(p.as(p.ben), Undo{Command: slip})
	_, late := p.damage(G4)
	p.now += 2 * minute
	p.refused(p.as(p.ben), Undo{Command: late}, 11)
	d, _ := p.damage(G1)
	up := p.ok(p.as(p.ben), DamageRegrade{Damage: d, Grade: G3})
	p.ok(p.as(p.ben), Undo{Command: up.Done.ID})
	up = p.ok(p.as(p.ben), DamageRegrade{Damage: d, Grade: G3})
	p.now += 2 * minute
	p.refused(p.as(p.ben), Undo{Command: up.Done.ID}, 11)
}

func TestRule11DamageThatCanHurtIsNotTakenBackButStaysForALook(t *testing.T) {
	p := newPit(t)
	for _, who := range []PersonID{p.gus, p.ben, p.ada} {
		id := p.ok(p.as(who), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: GX}}).Done.ID
		p.refused(p.as(who), Undo{Command: id}, 11)
	}
	d, _ := p.damage(G2)
	up := p.ok(p.as(p.gus), DamageRegrade{Damage: d, Grade: GX})
	p.refused(p.as(p.gus), Undo{Command: up.Done.ID}, 11)
	p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G2, Reason: "a slip of the finger"})
}

func TestRule17NoTestWithDamageThatCanHurt(t *testing.T) {
	test := func(p *pit) Command { return RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5} }
	t.Run("unless the part is off", func(t *testing.T) {
		p := newPit(t)
		p.closedUp()
		d, _ := p.damage(GX)
		p.refused(p.as(p.ada), test(p), 17)
		p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
		p.walk(p.as(p.ben), ListReopen)
		p.takenOff(d)
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		p.walk(p.as(p.ben), ListCloseUp)
		p.ok(p.as(p.ada), test(p))
		p.ok(p.as(p.ben), DamageOff{Damage: d, Back: true})
		require.Equal(t, Unknown, p.state(), "it is on again: the test ends")
	})
	t.Run("found in the test, it ends it", func(t *testing.T) {
		p := newPit(t)
		p.closedUp()
		p.ok(p.as(p.ada), test(p))
		p.damage(GX)
		require.Equal(t, Unknown, p.state())
	})
	t.Run("mended, it waits for other eyes", func(t *testing.T) {
		p := newPit(t)
		p.open()
		d, _ := p.damage(GX)
		p.refused(p.as(p.dee), DamageLook{Damage: d}, 11)
		p.doJob(p.jobWith(p.as(p.ben), Must, swapBlade(p.blade), d))
		p.closeUpAgain()
		bad := p.refused(p.as(p.ada), test(p), 17)
		sentenceHas(t, bad, "Dee")
		p.refused(p.as(p.ben), DamageLook{Damage: d}, 11)
		p.ok(p.as(p.dee), DamageLook{Damage: d})
		p.ok(p.as(p.ada), test(p))
	})
}

func TestDamageThatCanHurtIsClosedByASwapUnderLockoutAndTheSignersEyes(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(GX)
	check := swapBlade(p.blade)
	check.Way = WayCheck
	p.doJob(p.jobWith(p.as(p.ben), Must, check, d))
	p.closeUpAgain()
	_, bad := p.sign(p.dee)
	require.NotNil(t, bad, "a check mends nothing")
	require.Equal(t, 11, bad.Rule)
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.walk(p.as(p.ben), ListFirstIn)
	p.doJob(p.jobWith(p.as(p.ben), Must, swapBlade(p.blade), d))
	p.closeUpAgain()
	p.ok(p.as(p.dee), DamageLook{Damage: d})
	_, bad = p.sign(p.dee)
	require.Nil(t, bad)
	require.Equal(t, Ready, p.state())
}

func TestAJobForWhatIsOffTheRobotIsDropped(t *testing.T) {
	p := newPit(t)
	d, _ := p.damage(GX)
	job := p.jobWith(p.as(p.ada), Must, swapBlade(p.blade), d)
	p.refused(p.as(p.ada), JobDrop{Job: job, Reason: "not fitted"}, 11)
	p.takenOff(d)
	p.ok(p.as(p.ada), JobDrop{Job: job, Reason: "not fitted"})
}

func TestDamageOnTheWrongRobotMovesWithItsPhotoAndHit(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number = "Wasp", 9
	wasp := RobotID(p.made(p.captain(RobotAdd{RobotFields: f})))
	mine := FightID(p.made(p.captain(FightAdd{FightFields: FightFields{Robot: p.moth, Arena: "north", Number: 4}})))
	theirs := FightID(p.made(p.captain(FightAdd{FightFields: FightFields{Robot: wasp, Arena: "north", Number: 4}})))
	d := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: GX, Fight: mine, Hit: 2}})))
	photo := PhotoID(NewID(newID(p.now, 7), KindDamage, "photo"))
	p.ok(p.as(p.ben), DamagePhoto{Damage: d, Photo: photo})
	why := "seen on the other blade"
	p.refused(p.as(p.ben), DamageMove{Damage: d, Robot: wasp, Reason: why}, 11)
	for _, none := range []string{"", "..", "\u200b\u200b\u200b"} {
		require.Equal(t, "reason", p.refused(p.as(p.ada), DamageMove{Damage: d, Robot: wasp, Reason: none}, 0).Field)
	}
	p.ok(p.as(p.ada), DamageMove{Damage: d, Robot: wasp, Reason: why})
	is := p.s.Damages[d]
	require.Equal(t, wasp, is.Robot)
	require.Equal(t, []PhotoID{photo}, is.Photos)
	require.Equal(t, theirs, is.Fight)
	require.Equal(t, 2, is.Hit)
	require.Equal(t, Loosened{What: "it is on Wasp, not on Tin Moth", Reason: why, By: p.ada, At: p.now, Hurt: p.moth}, is.Loosened[0])
	require.Equal(t, AsksJob, p.s.DamageAsks(is), "it is as open there")
}

func TestAWithdrawnRobotDoesNotGoLive(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	p.captain(RobotWithdraw{Robot: p.moth})
	p.refused(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena}, 0)
	p.captain(RobotBackIn{Robot: p.moth})
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
}

func TestRule11GraveDamageIsMendedOrLeftOffByNameWhateverItsJobIsCalled(t *testing.T) {
	for _, g := range []Grade{G3, G4} {
		for _, triage := range []Triage{Should, Could} {
			p := newPit(t)
			p.open()
			d, _ := p.damage(g)
			job := p.jobWith(p.as(p.gus), triage, swapBlade(p.blade), d)
			p.closeUpAgain()
			_, bad := p.sign(p.dee)
			require.NotNil(t, bad, "%s %s", g, triage)
			sentenceHas(t, bad, "its job is not done")
			p.ok(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "it holds one fight"})
			_, bad = p.sign(p.dee)
			require.Nil(t, bad)
		}
	}
}
