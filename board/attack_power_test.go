package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Attacks on power and on hands beside it, each with the nearest honest thing.
// Constructed by us.

// wren is a second robot, led by Ben, where it stands.
func (p *pit) wren(at PlaceID) RobotID {
	p.t.Helper()
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number, f.Lead = "Pewter Wren", 2, p.ben
	wren := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: f})))
	p.ok(p.as(p.ben), RobotPlace{Robot: wren, Place: at})
	return wren
}

func (p *pit) handsOff(robot RobotID, who PersonID) {
	p.t.Helper()
	near, _ := p.s.HandsOf(robot, who)
	p.ok(p.as(who), HandsOff{Hands: near.ID})
}

// overridden has Ben's tag taken off as an absent person's.
func (p *pit) overridden() {
	p.t.Helper()
	p.now += 5 * minute
	two := p.as(p.ada)
	two.Proved = []PersonID{p.dee}
	p.ok(two, TagOverride{Tag: p.tagOf(p.ben), Second: p.dee, Override: p.answers()})
}

func TestRule7ALateTagThatMayNotGoOnIsHandsNear(t *testing.T) {
	for name, c := range map[string]struct {
		who   func(p *pit) PersonID
		there func(p *pit)
		rule  int
	}{
		"a notice waits": {func(p *pit) PersonID { return p.ben }, func(p *pit) { p.open(); p.overridden() }, 6},
		"a guest":        {func(p *pit) PersonID { return p.gus }, func(p *pit) { p.open() }, 5},
		"a minor":        {func(p *pit) PersonID { return p.kit }, func(p *pit) { p.open() }, 5},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			c.there(p)
			who := c.who(p)
			p.refused(p.as(who), TagOn{Robot: p.moth}, c.rule)
			require.Nil(t, p.lateAt(p.as(who), TagOn{Robot: p.moth}, 60*second))
			_, tagged := p.s.TagOf(p.moth, who)
			_, near := p.s.HandsOf(p.moth, who)
			require.False(t, tagged)
			require.True(t, near, "the hands are a fact")
		})
	}
}

func TestRule7AGuestsLateTagEndsATest(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.ok(p.as(p.ada), driven(p))
	p.now += minute
	require.Nil(t, p.lateAt(p.as(p.gus), TagOn{Robot: p.moth}, 90*second))
	require.Equal(t, Unknown, p.state())
	require.True(t, p.power().Conflict, "an alarm about people")
}

func TestRule7ATagFromBeforeTheTestCountsHoweverLateItIs(t *testing.T) {
	for name, c := range map[string]struct {
		ago Moment
		ok  bool
	}{
		"from before it, nine seconds ago": {9 * second, true}, "from within it": {3 * second, false}, "tapped just now": {0, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.closedUp()
			p.ok(p.as(p.ada), driven(p))
			p.now += 4 * second
			bad := p.lateAt(p.as(p.dee), TagOn{Robot: p.moth}, c.ago)
			require.Equal(t, c.ok, bad == nil, "%v", bad)
			require.Equal(t, c.ok, p.state() == Unknown)
			require.Equal(t, c.ok, p.power().Conflict)
			if !c.ok {
				require.Equal(t, 7, bad.Rule)
			}
		})
	}
}

func TestRule7NoPowerBesideARobotWithHandsOn(t *testing.T) {
	for name, c := range map[string]struct {
		at    func(p *pit) PlaceID
		there func(p *pit)
		power func(p *pit) Command
	}{
		"a test":     {func(p *pit) PlaceID { return p.box }, (*pit).closedUp, driven},
		"going live": {func(p *pit) PlaceID { return p.arena }, func(p *pit) { p.open(); p.ready() }, fighting},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			wren := p.wren(c.at(p))
			c.there(p)
			p.ok(p.as(p.gus), HandsOn{Robot: wren})
			bad := p.refused(p.as(p.ada), c.power(p), 7)
			sentenceHas(t, bad, "Gus is still on Pewter Wren")
			p.ok(p.as(p.dee), RobotPlace{Robot: wren, Place: p.bench})
			p.ok(p.as(p.ada), c.power(p))
		})
		t.Run(name+", once the hands are off", func(t *testing.T) {
			p := newPit(t)
			wren := p.wren(c.at(p))
			c.there(p)
			p.ok(p.as(p.gus), HandsOn{Robot: wren})
			p.handsOff(wren, p.gus)
			p.ok(p.as(p.ada), c.power(p))
		})
	}
}

func TestRule7HandsThatComeBesidePowerMakeItUnknown(t *testing.T) {
	for name, c := range map[string]struct {
		at    func(p *pit) PlaceID
		comes func(p *pit, wren RobotID)
		ends  bool
	}{
		"hands near it there": {func(p *pit) PlaceID { return p.box }, func(p *pit, wren RobotID) { p.ok(p.as(p.gus), HandsOn{Robot: wren}) }, true},
		"hands near it elsewhere": {func(p *pit) PlaceID { return p.bench }, func(p *pit, wren RobotID) {
			p.ok(p.as(p.gus), HandsOn{Robot: wren})
		}, false},
		"brought there with hands on": {func(p *pit) PlaceID { return p.bench }, func(p *pit, wren RobotID) {
			p.ok(p.as(p.gus), HandsOn{Robot: wren})
			p.ok(p.as(p.gus), RobotPlace{Robot: wren, Place: p.box})
		}, true},
		"a late tag there": {func(p *pit) PlaceID { return p.box }, func(p *pit, wren RobotID) {
			require.Nil(p.t, p.lateAt(p.as(p.ben), TagOn{Robot: wren}, minute))
		}, true},
		"a job there is refused": {func(p *pit) PlaceID { return p.box }, func(p *pit, wren RobotID) {
			fix := swapBlade(p.blade)
			fix.Lockout, fix.PackOut, fix.Touches, fix.Where = false, false, nil, OffRobot
			job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{Robot: wren, Name: "dress a bolt", Triage: Could, Fixes: []Fix{fix}}})))
			p.ok(p.as(p.ben), JobStart{Job: job})
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			wren := p.wren(c.at(p))
			p.closedUp()
			p.ok(p.as(p.ada), driven(p))
			c.comes(p, wren)
			require.Equal(t, c.ends, p.state() == Unknown)
			require.Equal(t, c.ends, p.power().Conflict, "an alarm about people")
			if c.ends {
				require.Contains(t, p.power().Why, "Pewter Wren")
			}
		})
	}
}

func TestAnEmergencyAtAPlaceMakesEveryRobotThereUnknown(t *testing.T) {
	for name, c := range map[string]struct {
		raise func(p *pit, wren RobotID) EmergencyRaise
		ends  bool
	}{
		"there":                     {func(p *pit, _ RobotID) EmergencyRaise { return EmergencyRaise{Place: p.box} }, true},
		"elsewhere":                 {func(p *pit, _ RobotID) EmergencyRaise { return EmergencyRaise{Place: p.shelf} }, false},
		"about a robot there":       {func(p *pit, wren RobotID) EmergencyRaise { return EmergencyRaise{Robot: wren} }, true},
		"about nothing and nowhere": {func(*pit, RobotID) EmergencyRaise { return EmergencyRaise{What: "smoke"} }, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			wren := p.wren(p.box)
			p.closedUp()
			p.ok(p.as(p.ada), driven(p))
			p.ok(p.as(p.gus), c.raise(p, wren))
			require.Equal(t, c.ends, p.state() == Unknown)
		})
	}
	t.Run("in the arena", func(t *testing.T) {
		p := newPit(t)
		p.open()
		p.ready()
		p.ok(p.as(p.ada), fighting(p))
		p.ok(p.as(p.kit), EmergencyRaise{Place: p.arena, What: "smoke"})
		require.Equal(t, Unknown, p.state())
	})
}

func TestADoubtDuringWorkIsAnAlarmAboutPeople(t *testing.T) {
	for name, c := range map[string]struct {
		there func(p *pit)
		on    bool
	}{
		"with a tag on":          {(*pit).open, true},
		"verified, nobody on it": {(*pit).makeSafe, false},
		"verified, hands near": {func(p *pit) {
			p.makeSafe()
			p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
		}, true},
	} {
		for _, doubt := range []func(p *pit) Command{
			func(p *pit) Command { return RobotDoubt{Robot: p.moth, Why: "a click"} },
			func(p *pit) Command { return EmergencyRaise{Place: p.bench} },
		} {
			t.Run(name, func(t *testing.T) {
				p := newPit(t)
				p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
				c.there(p)
				p.ok(p.as(p.nia), doubt(p))
				require.Equal(t, Unknown, p.state())
				require.Equal(t, c.on, p.power().Conflict)
			})
		}
	}
}

func TestRule7NobodyIsAloneWhileAnotherIsOnIt(t *testing.T) {
	p := newPit(t)
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	for {
		sheet, _ := p.s.Sheet(p.moth, ListCloseUp)
		if l, _ := sheet.OpenLine(); l.Kind == LineTold {
			break
		}
		p.answer(p.as(p.ben), ListCloseUp)
	}
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	sheet, _ := p.s.Sheet(p.moth, ListCloseUp)
	told, _ := sheet.OpenLine()
	alone := p.said(ListCloseUp, told.ID, SaidAlone)
	sentenceHas(t, p.refused(p.as(p.ben), alone, 7), "Gus")
	p.handsOff(p.moth, p.gus)
	p.ok(p.as(p.ben), HandsOn{Robot: p.moth})
	p.ok(p.as(p.ben), alone)
}

func TestRule5AMinorsRobotGoesLiveWhereTheEventLetsMinorsDrive(t *testing.T) {
	p := newPit(t)
	p.captain(p.with(func(f *RobotFields) { f.Driver = p.kit }))
	p.open()
	p.ready()
	bad := p.refused(p.as(p.ada), fighting(p), 5)
	sentenceHas(t, bad, "Kit is a minor")
	allowed := p.settings()
	allowed.MinorsDrive = true
	p.captain(EventSet{EventFields: allowed, Reason: "the event says so"})
	p.refused(p.as(p.kit), fighting(p), 5)
	p.ok(p.as(p.ada), fighting(p))

	q := newPit(t)
	q.captain(q.with(func(f *RobotFields) { f.Driver = q.gus }))
	q.open()
	q.ready()
	q.ok(q.as(q.ada), fighting(q))
}
