package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestNoTestIsRunOnAPackThatWasSetAside(t *testing.T) {
	for _, c := range []struct {
		state PackState
		rule  int
	}{{PackSuspect, 13}, {PackQuarantined, 13}, {"", 0}} {
		p := newPit(t)
		p.closedUp()
		for id, k := range p.s.Packs {
			if k.Robot == p.moth && c.state != "" {
				p.ok(p.as(p.ben), PackSet{Pack: id, State: c.state, Why: "it is warm"})
			}
		}
		test := RobotTest{Robot: p.moth, What: "spin up", Place: p.box, Minutes: 3}
		if c.rule == 0 {
			p.ok(p.as(p.ada), test)
			continue
		}
		p.refused(p.as(p.ada), test, c.rule)
		require.Equal(t, ClosingUp, p.state())
	}
}

func TestAReadingFromBeforeUseLetsNoPackBeCharged(t *testing.T) {
	p := newPit(t)
	warm, cells := 25.0, []float64{3.8, 3.8, 3.8, 3.8}
	charge := PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: cells, TempC: &warm})
	p.now += 60_000
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
	p.now += 600_000
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
	for _, said := range []PackState{PackUnread, PackWaiting, PackCooling, PackStorage} {
		p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: said})
		_, bad := p.try(p.as(p.ben), charge)
		require.NotNil(t, bad, said)
		require.Equal(t, CodeNotYet, bad.Code)
	}
	p.now += 60_000
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: cells, TempC: &warm})
	p.ok(p.as(p.ben), charge)
}

func TestANoToVerifyingIsHeardHoweverLate(t *testing.T) {
	for _, c := range []struct {
		said  Said
		heard bool
	}{{SaidNo, true}, {SaidDone, false}} {
		p := newPit(t)
		p.makeSafe()
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		at := p.now
		p.now += 60_000
		_, bad := p.tryAsk(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "try", Said: c.said}, Ask{ID: newID(p.now, 1<<40), At: at})
		if c.heard {
			require.Nil(t, bad)
			require.Equal(t, Unknown, p.state(), "it moved: the lockout does not hold")
			continue
		}
		require.NotNil(t, bad)
		require.Equal(t, 19, bad.Rule)
	}
}

func TestAStopIsLiftedByWhoSeesItAndNotShakenOff(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "cracked hub"})
	saw, at := p.seen(RobotGoOn{Robot: p.moth}), p.now
	p.now += 60_000
	_, bad := p.tryAsk(p.as(p.dee), RobotGoOn{Robot: p.moth}, Ask{ID: newID(p.now, 1<<40), At: at, Seen: saw})
	require.NotNil(t, bad, "what was sent before may be about an earlier stop")
	require.Equal(t, CodeTooLate, bad.Code)
	p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "gas leak"})
	_, bad = p.tryAsk(p.as(p.dee), RobotGoOn{Robot: p.moth}, Ask{ID: newID(p.now, 1<<41), Seen: saw})
	require.NotNil(t, bad)
	require.Equal(t, CodeStale, bad.Code)
	_, bad = p.try(p.as(p.ada), RobotRetire{Robot: p.moth})
	require.NotNil(t, bad, "entered again it would be under no stop")
	require.Equal(t, CodeForbidden, bad.Code)
	p.ok(p.as(p.dee), RobotGoOn{Robot: p.moth})
	p.ok(p.as(p.ada), RobotRetire{Robot: p.moth})
}

func TestAPackThatWasSetAsideIsNotEnteredAgainUnderItsName(t *testing.T) {
	for _, state := range []PackState{PackSuspect, PackQuarantined, PackGone} {
		p := newPit(t)
		p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: state, Why: "swollen"})
		f := p.s.Packs[p.p2].PackFields
		f.Name = "P2 old"
		p.refused(p.as(p.ada), PackChange{Pack: p.p2, PackFields: f}, 13)
		f.Name, f.MassGrams = "P2", 80
		p.ok(p.as(p.ada), PackChange{Pack: p.p2, PackFields: f})
		if state == PackGone {
			p.ok(p.as(p.ada), PackRetire{Pack: p.p2})
		}
		_, bad := p.try(p.as(p.ada), PackAdd{PackFields: f})
		require.NotNil(t, bad, state)
		require.Equal(t, "name", bad.Field)
	}
}

func TestAnAnswerStandsForNoLineThatIsWordedAnew(t *testing.T) {
	is := func(change func(l *WordedLine)) []WordedLine {
		own := WordedLine{ID: "own-guard", Kind: LineNumber, Ask: "Guard: how far off?", Say: "READS", Not: "no", Unit: "mm", Most: 9, NotFitted: true}
		change(&own)
		return append(worded("weapon", "frame", "drive", "electrics", "lock"), own)
	}
	for name, c := range map[string]struct {
		change func(l *WordedLine)
		said   Said
		stands bool
	}{
		"nothing":            {func(*WordedLine) {}, SaidDone, true},
		"what to touch":      {func(l *WordedLine) { l.Touch = "the guard" }, SaidDone, true},
		"unit":               {func(l *WordedLine) { l.Unit = "cm" }, SaidDone, false},
		"button":             {func(l *WordedLine) { l.Say = "RUBS AT" }, SaidDone, false},
		"other button":       {func(l *WordedLine) { l.Not = "yes" }, SaidDone, false},
		"kind":               {func(l *WordedLine) { l.Kind = LineTold }, SaidDone, false},
		"not fitted":         {func(*WordedLine) {}, SaidNotFitted, true},
		"not fitted no more": {func(l *WordedLine) { l.NotFitted = false }, SaidNotFitted, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.dee), WordingSet{List: ListInspect, Lines: is(func(*WordedLine) {})})
			p.makeSafe()
			answer, figure := p.said(ListInspect, "own-guard", c.said), 4.0
			answer.Number = &figure
			p.ok(p.as(p.ben), answer)
			p.ok(p.as(p.dee), WordingSet{List: ListInspect, Lines: is(c.change)})
			p.ok(p.as(p.ben), RobotDoubt{Robot: p.moth, Why: "not sure"})
			p.makeSafeAgain()
			sheet, _ := p.s.Sheet(p.moth, ListInspect)
			_, stands := sheet.Answered("own-guard")
			require.Equal(t, c.stands, stands)
		})
	}
}

func TestNotFittedIsVoidOnAnOpenSheetWhenTheSetupChanges(t *testing.T) {
	lightSaid := func(m fittedMoth) bool {
		sheet, _ := m.s.Sheet(m.moth, ListMakeSafe)
		_, said := sheet.Answered("light")
		return said
	}
	for name, c := range map[string]struct {
		setup   func(m fittedMoth) SetupID
		isolate bool
		want    PowerState
		stands  bool
	}{
		"the same setup, before powering down": {func(m fittedMoth) SetupID { return m.spin }, false, Unknown, true},
		"the same setup, isolated":             {func(m fittedMoth) SetupID { return m.spin }, true, Isolated, true},
		"another, before powering down":        {func(m fittedMoth) SetupID { return m.push }, false, Unknown, false},
		"another, isolated":                    {func(m fittedMoth) SetupID { return m.push }, true, Unknown, false},
	} {
		t.Run(name, func(t *testing.T) {
			m := newFitted(t)
			m.captain(RobotFit{Robot: m.moth, Setup: m.spin})
			m.walkUntil(ListMakeSafe, "light")
			m.ok(m.as(m.ben), m.said(ListMakeSafe, "light", SaidNotFitted))
			m.now += 60_000
			m.ok(m.as(m.ben), RobotDoubt{Robot: m.moth, Why: "not sure"})
			require.True(t, lightSaid(m))
			if c.isolate {
				m.walkUntil(ListMakeSafe, "try")
				require.Equal(t, Isolated, m.state())
			}
			m.now += 60_000
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: c.setup(m)})
			require.Equal(t, c.want, m.state())
			require.Equal(t, c.stands, lightSaid(m))
		})
	}
}

func TestALateTakeTakesNoAlarmThatCameAfterIt(t *testing.T) {
	for _, ago := range []Moment{0, 60_000} {
		p := newPit(t)
		_, bad := p.tryAsk(p.as(p.ben), AlarmTake{Alarm: "A-people-on-moth"}, Ask{ID: newID(p.now, 1<<40), At: p.now - ago})
		require.Nil(t, bad)
		require.Equal(t, p.now-ago, p.s.Marks["A-people-on-moth"].TakenAt)
	}
}
