package board_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// held gives the robot other things that hold its weapon still.
func (p *pit) held(locks ...Lock) {
	p.t.Helper()
	f := p.s.Robots[p.moth].RobotFields
	f.Locks = locks
	p.captain(RobotChange{Robot: p.moth, RobotFields: f, Reason: "looked at with the officials"})
}

// lockLinesOf begins every sheet of the robot that speaks of what holds its weapon
// still and gives those lines by list.
func (p *pit) lockLinesOf() map[SheetList]Line {
	p.t.Helper()
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(p.t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	p.ok(p.as(p.ada), RobotLoadIn{Robot: p.moth})
	for _, list := range []SheetList{ListOvernight, ListPackUp} {
		p.ok(p.as(p.ada), RobotList{Robot: p.moth, List: list})
	}
	lines := map[SheetList]Line{}
	for _, list := range spokenOfLocks {
		sheet, _ := p.s.Sheet(p.moth, list)
		for _, l := range sheet.Lines {
			if l.ID == "lock" || (l.ID == "strap" && sheet.List == ListReady) {
				lines[sheet.List] = l
			}
		}
	}
	return lines
}

var spokenOfLocks = []SheetList{ListMakeSafe, ListReopen, ListInspect, ListCloseUp, ListReady, ListLoadIn, ListOvernight, ListPackUp}

func TestSheetsAskForWhatHoldsTheWeaponOfThisRobot(t *testing.T) {
	for name, c := range map[string]struct {
		locks     []Lock
		ask, say  string
		ready     string
		never, in []string
	}{
		"nobody has said":   {nil, "Weapon lock: in, and it stops the weapon by hand?", "LOCK IN", "LOCK IN, LINK OUT", nil, []string{"lock"}},
		"a lock":            {[]Lock{LockPlain}, "Weapon lock: in, and it stops the weapon by hand?", "LOCK IN", "LOCK IN, LINK OUT", nil, []string{"lock"}},
		"a lifter's bar":    {[]Lock{LockProp}, "Prop bar: in, and it stops the weapon by hand?", "PROP BAR IN", "PROP BAR IN, LINK OUT", []string{"lock"}, []string{"prop bar"}},
		"a strap":           {[]Lock{LockStrap}, "Weapon strap: on, and it stops the weapon by hand?", "WEAPON STRAP ON", "WEAPON STRAP ON, LINK OUT", []string{"lock"}, []string{"weapon strap"}},
		"two at once":       {[]Lock{LockPin, LockClamp}, "Weapon pin in, weapon clamp on: they stop the weapon by hand?", "PIN IN, CLAMP ON", "PIN IN, CLAMP ON, LINK OUT", []string{"lock"}, []string{"pin", "clamp"}},
		"worded for a lock": {[]Lock{LockProp}, "Prop bar: in, and it stops the weapon by hand?", "PROP BAR IN", "PROP BAR IN, LINK OUT", []string{"lock", "red"}, []string{"prop bar"}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			if name == "worded for a lock" {
				lines := closeUp()
				for i := range lines {
					if lines[i].ID == "lock" {
						lines[i].Ask, lines[i].Say = "Red lock in?", "RED LOCK IN"
					}
				}
				p.ok(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines})
			}
			p.held(c.locks...)
			lines := p.lockLinesOf()
			for _, list := range []SheetList{ListMakeSafe, ListReopen, ListCloseUp} {
				require.Equal(t, c.ask, lines[list].Ask, list)
				require.Equal(t, c.say, lines[list].Say, list)
			}
			require.Equal(t, c.ready, lines[ListReady].Say)
			for _, list := range spokenOfLocks {
				l, ok := lines[list]
				require.True(t, ok, list)
				words := strings.ToLower(strings.Join([]string{l.Ask, l.Touch, l.Say, l.Not}, " "))
				for _, never := range c.never {
					require.NotContains(t, words, never, list)
				}
				for _, word := range c.in {
					require.Contains(t, words, word, list)
				}
			}
		})
	}
}

func TestARobotOfWhichNothingMovesIsAskedForNoLock(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Locks = []Lock{LockNone}
	_, bad := p.try(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f, Reason: "none of it moves"})
	require.Equal(t, "locks", bad.Field, "its weapon has power")
	f.Energies = []Energy{{Kind: EnergyDrive, Isolator: "removable link", Reach: Outside}}
	p.ok(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f, Reason: "the weapon is off for good"})
	lines := p.lockLinesOf()
	require.Equal(t, "LINK OUT", lines[ListReady].Say)
	require.Equal(t, "Armour and fasteners: all there and whole?", lines[ListInspect].Ask)
	require.Len(t, lines, 2)
	f.Energies = append(f.Energies, Energy{Kind: EnergyArm, Isolator: "arm", Reach: Outside})
	_, bad = p.try(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f})
	require.Equal(t, "locks", bad.Field, "an arm must be held")
}

func TestARobotThatWasAskedForNoLockIsAskedOnceItHasOne(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Energies = []Energy{{Kind: EnergyDrive, Isolator: "removable link", Reach: Outside}, {Kind: EnergyArm, Isolator: "arm", Reach: Outside}}
	p.ok(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f, Reason: "another weapon"})
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	require.NotContains(t, asks(sheet), "lock", "a robot of today's boards keeps today's lines")
	f.Locks = []Lock{LockProp}
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	sheet, _ = p.s.Sheet(p.moth, ListMakeSafe)
	require.Equal(t, "lock", asks(sheet)[0])
}

func TestWhatHoldsTheWeaponIsChangedLikeAnEnergy(t *testing.T) {
	p := newPit(t)
	p.held(LockPlain, LockStrap)
	p.makeSafe()
	f := p.s.Robots[p.moth].RobotFields
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	require.Equal(t, Verified, p.state(), "nothing has changed")
	f.Locks = []Lock{LockPlain}
	bad := p.refused(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f}, 8)
	sentenceHas(t, bad, "no weapon strap any more")
	less := RobotChange{Robot: p.moth, RobotFields: f, Reason: "the new lock holds both"}
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.refused(p.as(p.ada), less, 8)
	_, bad = p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), less)
	require.Equal(t, Unknown, p.state(), "the old answer was about something else")
	require.Equal(t, "no weapon strap any more", p.s.Robots[p.moth].Loosened[0].What)
	f.Locks = []Lock{LockPin}
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	for _, locks := range [][]Lock{{"rope"}, {LockPin, LockPin}, {LockPin, LockNone}, {LockPlain, LockPin, LockProp, LockStrap}} {
		f.Locks = locks
		_, bad = p.try(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f})
		require.Equal(t, "locks", bad.Field, locks)
	}
}
