package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// A word kept by a phone that was away, or given by a script that says nothing of what
// it saw, makes nothing less of what has become worse since.
func TestRule19WhoMakesLessOfWhatHasToBeDoneSaysWhatTheySaw(t *testing.T) {
	p := newPit(t)
	p.open()
	hurt, _ := p.damage(GX)
	small, _ := p.damage(G2)
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number = "Wasp", 9
	wasp := RobotID(p.made(p.captain(RobotAdd{RobotFields: f})))
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldClock})
	could := p.s.Jobs[job].JobFields
	could.Triage = Could
	other := p.job()
	ways := p.s.Jobs[other].JobFields
	ways.Fixes = append(ways.Fixes, p.offRobot(other).Fixes...)
	two := JobID(p.madeKind(KindJob, p.ok(p.as(p.ada), JobAdd{JobFields: ways})))
	fight := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.captain(FightNow{Arena: "north", Number: 7, Sure: true})
	for _, c := range []Command{
		DamageRegrade{Damage: hurt, Grade: G1, Reason: "only a scuff"},
		DamageRegrade{Damage: hurt, Grade: GX, Drop: true, Reason: "an old scuff"},
		DamageMove{Damage: hurt, Robot: wasp, Reason: "it is on the other one"},
		DamageAccept{Damage: small},
		JobDrop{Job: job, Reason: "the chain is fine"},
		JobDefer{Job: job, Acceptor: p.ada, Reason: "it can wait"},
		JobReinspect{Job: job},
		JobChange{Job: job, JobFields: could, Reason: "it can wait"},
		JobChange{Job: other, JobFields: p.offRobot(other), Reason: "it comes off"},
		JobFix{Job: two, Chosen: 1}, JobStart{Job: two, Fix: 1},
		FightNotFought{Fight: fight, Reason: "the other robot's"},
	} {
		p.now += 1000
		_, bad := p.tryAsk(p.as(p.ada), c, Ask{ID: newID(p.now, 1), Seen: map[Key]Rev{}})
		require.NotNil(t, bad, "%T without a word of what was seen", c)
		require.Equal(t, CodeStale, bad.Code, "%T: %s", c, bad.Sentence)
		late := Ask{ID: newID(p.now, 2), Seen: p.seen(c), At: p.now - 20_000}
		_, bad = p.tryAsk(p.as(p.ada), c, late)
		require.NotNil(t, bad, "%T from long ago", c)
		require.Equal(t, 19, bad.Rule, "%T: %s", c, bad.Sentence)
	}
	_, bad := p.tryAsk(p.as(p.ada), DamageRegrade{Damage: small, Grade: G3, What: "it is worse"}, Ask{ID: newID(p.now, 3)})
	require.Nil(t, bad, "worse is heard from whoever says it")
	ways.Name = "swap the blade"
	_, bad = p.tryAsk(p.as(p.ada), JobChange{Job: two, JobFields: ways}, Ask{ID: newID(p.now, 4)})
	require.Nil(t, bad, "it asks no less")
	p.ok(p.as(p.ada), DamageRegrade{Damage: hurt, Grade: G1, Reason: "only a scuff"})
	p.ok(p.as(p.ada), JobDrop{Job: job, Reason: "the chain is fine"})
}

func TestANoIsHeardWhateverItsSenderSaw(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	l, _ := sheet.OpenLine()
	no := SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidNo}
	seen := p.seen(SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone})
	p.answer(p.as(p.ben), ListMakeSafe)
	for i, c := range []Command{no, RobotDoubt{Robot: p.moth, Why: "it moved"}, EmergencyRaise{Robot: p.moth}} {
		p.now += 1000
		_, bad := p.tryAsk(p.as(p.dee), c, Ask{ID: newID(p.now, uint64(40+i)), Seen: seen})
		require.Nil(t, bad, "%T", c)
	}
}

func TestRule11ACheckPutsNoGraveDamageRight(t *testing.T) {
	p := newPit(t)
	p.open()
	grave, _ := p.damage(G4)
	check := Fix{Name: "look at it", Way: WayCheck, LikelySec: 1, BadSec: 1, Hands: []Skill{SkillAny}, Station: StationNone, Where: OffRobot}
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.gus), JobAdd{JobFields: JobFields{Robot: p.moth, Name: "see to it", Triage: Could, Fixes: []Fix{check}, Damages: []DamageID{grave}}})))
	p.ok(p.as(p.gus), JobStart{Job: job})
	p.ok(p.as(p.gus), JobFinish{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
	require.Equal(t, AsksJob, p.s.DamageAsks(p.s.Damages[grave]))
}

func TestRule12WhoTalksDamageAwayDoesNotSign(t *testing.T) {
	for name, talk := range map[string]func(p *pit, d DamageID, other RobotID) Command{
		"graded down": func(_ *pit, d DamageID, _ RobotID) Command {
			return DamageRegrade{Damage: d, Grade: G1, Reason: "paint only"}
		},
		"dropped": func(_ *pit, d DamageID, _ RobotID) Command {
			return DamageRegrade{Damage: d, Grade: G1, Drop: true, Reason: "no crack"}
		},
		"moved": func(_ *pit, d DamageID, r RobotID) Command {
			return DamageMove{Damage: d, Robot: r, Reason: "wrong robot"}
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := p.s.Robots[p.moth].RobotFields
			f.Name, f.Number = "Wasp", 9
			wasp := RobotID(p.made(p.captain(RobotAdd{RobotFields: f})))
			p.toSign()
			hurt, _ := p.damage(GX)
			p.ok(p.as(p.dee), talk(p, hurt, wasp))
			sentenceHas(t, p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 12), "Dee said that damage which could hurt people")
			sheet, _ := p.s.Sheet(p.moth, ListReady)
			require.NotNil(t, p.s.MayEverAnswer(p.as(p.dee), p.s.People[p.dee], sheet, sheet.Lines[len(sheet.Lines)-1]), "nor is it offered")
			p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
			require.Equal(t, Ready, p.state())
		})
	}
}
