package view_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/view"
)

// mapped is a heavyweight with a small part map and two setups, constructed by us.
type mapped struct {
	*pit
	robot             board.RobotID
	cover, pod, chain board.PartID
	plough, wedge     board.SetupID
}

func newMapped(t *testing.T) mapped {
	m := mapped{pit: &pit{t: t}}
	m.robot = m.pit.robot("Grumlow", 9, board.Heavy, board.Class{Name: "heavyweight", Limit: 250, Unit: board.Pound, RuleSet: "house rules 2"})
	part := func(f board.PartFields) board.PartID {
		f.Robot = m.robot
		return board.PartID(m.made(board.KindPart, board.PartAdd{PartFields: f}, captain))
	}
	m.cover = part(board.PartFields{Name: "cover", OffSec: 300, OffBadSec: 600})
	m.chain = part(board.PartFields{Name: "chain", First: []board.Access{{Parts: []board.PartID{m.cover}}}, Serves: []board.Serve{{Function: "drive left", Share: 50}}})
	m.pod = part(board.PartFields{
		Name: "pod", First: []board.Access{{Parts: []board.PartID{m.cover}}}, Next: []board.PartID{m.chain}, Serves: []board.Serve{{Function: "drive left", Share: 100}},
	})
	m.captain(board.JointAdd{JointFields: board.JointFields{Robot: m.robot, Name: "cover bolts", Parts: []board.PartID{m.cover, m.pod}, Fastening: "M8", Count: 12, Tool: "hex key 6"}})
	module := func(name string, grams float64) board.ModuleID {
		return board.ModuleID(m.made(board.KindModule, board.ModuleAdd{ModuleFields: board.ModuleFields{
			Robot: m.robot, Slot: "front", Name: name, MassGrams: grams, SwapSec: 600, SwapBadSec: 1500, Lasts: 2,
		}}, captain))
	}
	setup := func(f board.SetupFields, id board.ModuleID) board.SetupID {
		f.Robot, f.Modules, f.Declared = m.robot, []board.ModuleID{id}, true
		return board.SetupID(m.made(board.KindSetup, board.SetupAdd{SetupFields: f}, captain))
	}
	m.plough = setup(board.SetupFields{Name: "plough"}, module("plough", 1900))
	m.wedge = setup(board.SetupFields{Name: "wedge", Against: []string{"spinner"}, NotNeeded: []string{"drive left"}}, module("wedge plate", 2400))
	return m
}

func TestTheDriverIsToldWhatWorksAndWhatToLookAt(t *testing.T) {
	m := newMapped(t)
	require.Equal(t, view.FunctionNow{Name: "drive left", Word: board.WorksFull, Pct: 100}, m.views().Works[0].Functions[0])
	third := 30
	m.captain(board.DamageReport{DamageFields: board.DamageFields{Robot: m.robot, OnPart: m.pod, What: "gear teeth gone", Grade: board.G1, WorksPct: &third}})
	m.captain(board.DamageReport{DamageFields: board.DamageFields{Robot: m.robot, Part: "paint", Grade: board.G1, Stuck: true}})
	w := m.views().Works[0]
	require.Equal(t, []view.FunctionNow{{Name: "drive left", Word: board.WorksDegraded, Pct: 30, Why: []string{"pod: gear teeth gone, 30 % of it works"}}}, w.Functions)
	require.Equal(t, []string{"paint. Stuck"}, w.Other)
	require.Equal(t, []view.NextLook{{Part: m.chain, Name: "chain", From: "pod"}}, w.LookNext)
	m.captain(board.RobotFit{Robot: m.robot, Setup: m.wedge})
	w = m.views().Works[0]
	require.Equal(t, "wedge", w.Setup)
	require.Equal(t, board.NotRequired, w.Functions[0].Word)
}

func TestTheSetupThatWouldBeOverSaysSoBeforeItGoesOn(t *testing.T) {
	m := newMapped(t)
	require.Equal(t, board.MassUnknown, m.views().Setups[0].Now.Word)
	m.captain(board.RobotFit{Robot: m.robot, Setup: m.plough})
	ada := board.PersonID(m.made(board.KindPerson, board.PersonAdd{PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain}}, captain))
	m.made("", board.RobotWeigh{Robot: m.robot, Grams: 113100, Scale: "event scale"}, board.Actor{Person: ada, Role: board.RoleCaptain})
	u := m.views().Setups[0]
	require.Equal(t, "250 lb (113.40 kg)", u.Limit)
	require.Equal(t, "under by 0.30 kg (0.66 lb)", u.Now.Text)
	require.Equal(t, m.wedge, u.Heaviest)
	wedge := u.List[1]
	require.Equal(t, "over by 0.20 kg (0.45 lb)", wedge.Weight.Text)
	require.InDelta(t, 0.2, wedge.Weight.OverPct, 1e-9)
	require.Equal(t, []int{600, 1500}, []int{wedge.LikelySec, wedge.BadSec})
	require.Zero(t, u.List[0].LikelySec, "it is on")
	require.Empty(t, u.Weighed.Stale)

	fight := m.fight(board.FightFields{Robot: m.robot, Arena: "north", Number: 3, OpponentKind: "spinner"})
	m.captain(board.FightEnd{Fight: fight, Result: board.Won})
	m.captain(board.RobotFit{Robot: m.robot, Setup: m.wedge})
	u = m.views().Setups[0]
	require.Contains(t, u.Weighed.Stale, "other modules")
	require.Equal(t, 1, *u.List[0].Modules[0].Left)
	require.Equal(t, []view.Fared{{Kind: "spinner", N: 1, Won: 1}}, u.List[0].Record)
}

func TestJobsAtOneRobotShareTheirWayIn(t *testing.T) {
	m := newMapped(t)
	var damages []board.DamageID
	for _, id := range []board.PartID{m.pod, m.chain} {
		damages = append(damages, board.DamageID(m.made(board.KindDamage, board.DamageReport{DamageFields: board.DamageFields{Robot: m.robot, OnPart: id, Grade: board.G3}}, captain)))
	}
	for _, d := range damages {
		m.captain(board.JobAdd{JobFields: board.JobFields{Robot: m.robot, Name: "swap", Triage: board.Must, Damages: []board.DamageID{d}, Fixes: []board.Fix{{
			Name: "swap", Way: board.WaySwap, LikelySec: 600, BadSec: 900, Hands: []board.Skill{board.SkillAny}, Station: board.StationBench, Where: board.AtRobot, Lockout: true,
		}}}})
	}
	a := m.views().Access[0]
	require.Equal(t, view.Way{Off: []string{"cover"}, Joints: 1, Fasteners: 12, Tools: []string{"hex key 6"}, LikelySec: 300, BadSec: 600, Untimed: 1}, a.Work)
	require.Len(t, a.Parts, 3)
	require.Equal(t, []view.Alone{{Part: m.pod, Function: "drive left"}}, a.Alone)
}

func TestATeamWithoutAPartMapLosesNothing(t *testing.T) {
	p := &pit{t: t}
	p.robot("Egg", 2, board.Light, board.Class{Name: "ant", Limit: 1, Unit: board.Pound, RuleSet: "house"})
	f := p.views()
	require.Empty(t, f.Works)
	require.Empty(t, f.Setups)
	require.Empty(t, f.Access)
	require.Len(t, f.Strips, 1)
}

func TestABendStandsBesideItsLimitAndTheOneBefore(t *testing.T) {
	m := newMapped(t)
	require.Empty(t, m.views().Bends)
	m.captain(board.PartBend{Part: m.pod, GapMM: 0.3, OverMM: 300})
	require.Equal(t, []view.BendNow{{Part: m.pod, Said: 1, Says: "0.10 mm per 100 mm, 0.2°. Not measured before."}}, m.views().Bends[0].List)
	f := m.s.Parts[m.pod].PartFields
	f.BendMmPer100 = 0.5
	m.captain(board.PartChange{Part: m.pod, PartFields: f})
	m.captain(board.PartBend{Part: m.pod, GapMM: 2, OverMM: 300})
	now := m.views().Bends[0].List[0]
	require.Equal(t, board.G3, now.Grade)
	require.Contains(t, now.Says, "0.67 mm per 100 mm, 1.5°: past its limit of 0.50. Before that 0.10 at ")
}
