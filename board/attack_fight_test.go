package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// A fight that was said to be on or over by mistake, and that others touched since.

// wrongly says of the robot's fight what is not so; another person changes the fight then,
// so that it cannot be taken back.
func (p *pit) wrongly(say func(f FightID) Command) (FightID, Moment) {
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	p.ready()
	fought := p.power().FoughtAt
	wrong := p.ok(p.as(p.ben), say(f)).Done.ID
	require.Equal(p.t, Unknown, p.state())
	fields := p.s.Fights[f].FightFields
	fields.Opponent = "Brass Newt"
	p.captain(FightChange{Fight: f, FightFields: fields})
	_, bad := p.try(p.as(p.ben), Undo{Command: wrong})
	require.Equal(p.t, CodeStale, bad.Code)
	return f, fought
}

func TestRule21AFightThatWasNotFoughtGivesTheInspectionBackByAWordOfAuthority(t *testing.T) {
	for name, say := range map[string]func(f FightID) Command{
		"a result": func(f FightID) Command { return FightEnd{Fight: f, Result: Lost} },
		"on now":   func(FightID) Command { return FightNow{Arena: "north", Number: 7, Sure: true} },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f, fought := p.wrongly(say)
			for _, who := range []PersonID{p.ben, p.gus, p.kit} {
				_, bad := p.try(p.as(who), FightNotFought{Fight: f, Reason: "it was ours of number 8"})
				require.Equal(t, CodeForbidden, bad.Code)
				sentenceHas(t, bad, "Ada")
			}
			for _, none := range []string{"", "..", "\u200b\u200b\u200b"} {
				require.Equal(t, "reason", p.refused(p.as(p.ada), FightNotFought{Fight: f, Reason: none}, 0).Field)
			}
			p.ok(p.as(p.ada), FightNotFought{Fight: f, Reason: "it was ours of number 8"})
			require.Equal(t, Unknown, p.state(), "it moves no power")
			is := p.s.Fights[f]
			require.Equal(t, FightPlanned, is.State)
			require.Empty(t, is.Result)
			require.Equal(t, "Brass Newt", is.Opponent)
			require.Equal(t, "it was ours of number 8", is.Loosened[0].Reason)
			require.Equal(t, fought, p.power().FoughtAt)
			p.makeSafe()
			sheet, _ := p.s.Sheet(p.moth, ListInspect)
			require.Equal(t, SheetComplete, sheet.State, "what was inspected counts again")
			_, bad := p.try(p.as(p.ada), FightNotFought{Fight: f, Reason: "again"})
			require.Equal(t, CodeNothingToDo, bad.Code)
		})
	}
}

func TestAFightThatWasOnAndOverByMistakeGoesBackToBeforeBoth(t *testing.T) {
	p := newPit(t)
	f, fought := p.wrongly(func(FightID) Command { return FightNow{Arena: "north", Number: 7, Sure: true} })
	p.now += minute
	p.ok(p.as(p.dee), FightEnd{Fight: f, Result: Won})
	p.ok(p.as(p.dee), FightNotFought{Fight: f, Reason: "the other robot's"})
	require.Equal(t, fought, p.power().FoughtAt)
}

func TestAFightThatWasNotFoughtSpendsNoPackAndWearsNoModule(t *testing.T) {
	m := newFitted(t)
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
	f := FightID(m.made(m.captain(FightAdd{FightFields{Robot: m.moth, Arena: "north", Number: 7}})))
	m.ok(m.as(m.ben), FightEnd{Fight: f, Result: Won})
	m.read(m.p2)
	m.ok(m.as(m.ben), PackMove{Pack: m.p2, Robot: m.moth, Found: true})
	m.read(m.p2)
	require.False(t, m.s.Packs[m.p2].Unread)
	m.ok(m.as(m.ada), FightNotFought{Fight: f, Reason: "the other robot's"})
	require.False(t, m.s.Packs[m.p2].Unread, "it was read, and in no fight since")
	require.Zero(t, m.s.Modules[m.wide].Worn)
	m.ok(m.as(m.ben), FightEnd{Fight: f, Result: Won})
	require.Equal(t, 1, m.s.Modules[m.wide].Worn)
	m.ok(m.as(m.ben), ModuleRenew{Module: m.wide})
	m.ok(m.as(m.ada), FightNotFought{Fight: f, Reason: "the other robot's"})
	require.Zero(t, m.s.Modules[m.wide].Worn, "another one is on since")
}

func TestARobotThatWasInTheArenaSinceStaysSo(t *testing.T) {
	p := newPit(t)
	f, _ := p.wrongly(func(f FightID) Command { return FightEnd{Fight: f, Result: Won} })
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.arena})
	fought := p.power().FoughtAt
	p.ok(p.as(p.ada), FightNotFought{Fight: f, Reason: "the other robot's"})
	require.Equal(t, fought, p.power().FoughtAt)
}

func TestWhatWasSignedOverAFightThatWasNotFoughtIsUnknown(t *testing.T) {
	p := newPit(t)
	f, _ := p.wrongly(func(f FightID) Command { return FightEnd{Fight: f, Result: Won} })
	p.open()
	p.ready()
	p.ok(p.as(p.ada), FightNotFought{Fight: f, Reason: "the other robot's"})
	require.Equal(t, Unknown, p.state())
}

func TestBeforeASignatureIsLostTheBoardAsksOnce(t *testing.T) {
	for name, say := range map[string]func(p *pit, sure bool) Command{
		"on now": func(p *pit, sure bool) Command { return FightNow{Arena: "north", Number: 7, Sure: sure} },
		"in the arena": func(p *pit, sure bool) Command {
			return RobotPlace{Robot: p.moth, Place: p.arena, Sure: sure}
		},
	} {
		signed := func(t *testing.T) *pit {
			p := newPit(t)
			p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})
			p.open()
			p.ready()
			return p
		}
		t.Run(name, func(t *testing.T) {
			p := signed(t)
			_, bad := p.try(p.as(p.ben), say(p, false))
			require.Equal(t, CodeUnlikely, bad.Code)
			require.Equal(t, "sure", bad.Field)
			sentenceHas(t, bad, "Tin Moth is signed; this makes it unknown")
			require.Equal(t, Ready, p.state())
			p.ok(p.as(p.ben), say(p, true))
			require.Equal(t, Unknown, p.state())
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
		})
		t.Run(name+", late from a phone", func(t *testing.T) {
			p := signed(t)
			p.now += minute
			_, bad := p.tryAsk(p.as(p.ben), say(p, false), Ask{ID: newID(p.now, 1<<42), At: p.now - 30_000})
			require.Nil(t, bad)
			require.Equal(t, Unknown, p.state())
		})
		t.Run(name+", with the robot live", func(t *testing.T) {
			p := signed(t)
			p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
			p.ok(p.as(p.ben), say(p, false))
			require.Equal(t, Live, p.state())
		})
	}
}

func TestRule21AFightThatIsOnOrOverStaysWithItsRobotUntilItWasNotFought(t *testing.T) {
	for name, say := range map[string]Command{
		"on":   FightNow{Arena: "north", Number: 7, Sure: true},
		"done": nil,
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			wasp := p.s.Robots[p.moth].RobotFields
			wasp.Name, wasp.Number = "Clay Wasp", 9
			other := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: wasp})))
			f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
			change := FightChange{Fight: f, FightFields: FightFields{Robot: other, Arena: "north", Number: 7}}
			p.captain(change)
			change.Robot = p.moth
			p.captain(change) // to come, it may be either's
			if say == nil {
				say = FightEnd{Fight: f, Result: Lost}
			}
			p.ok(p.as(p.ben), say)
			for _, to := range []func(c *FightChange){
				func(c *FightChange) { c.Robot = other },
				func(c *FightChange) { c.Arena = "south" },
				func(c *FightChange) { c.Number = 8 },
			} {
				moved := change
				to(&moved)
				_, bad := p.try(p.as(p.ada), moved)
				require.NotNil(t, bad)
				require.Equal(t, CodeState, bad.Code)
				sentenceHas(t, bad, "not fought")
			}
			change.Opponent = "Brass Newt"
			p.captain(change)
			p.ok(p.as(p.ada), FightNotFought{Fight: f, Reason: "it was the other robot's"})
			change.Robot = other
			p.captain(change)
			require.Equal(t, other, p.s.Fights[f].Robot)
			require.Zero(t, p.s.Powers[other].FoughtAt)
		})
	}
}
