package forecast_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// late is a robot that is called and not ready: one alarm of class B.
func late(t *testing.T) (*pit, board.PersonID, board.RobotID) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.fight(board.FightFields{Robot: r, Number: 3})
	p.made("", board.FightNow{Arena: "A", Number: 1}, captain)
	return p, ada, r
}

func (p *pit) alarm() forecast.Alarm {
	p.t.Helper()
	list := p.make().Alarms
	require.Len(p.t, list, 1, "%+v", list)
	return list[0]
}

func id(a forecast.Alarm) board.AlarmID { return board.AlarmID(a.Slug) }

func TestAnAlarmsNameBeginsWithItsClass(t *testing.T) {
	p, ada, r := late(t)
	p.by(ada, board.EmergencyRaise{Robot: r})
	for _, a := range p.make().Alarms {
		require.Regexp(t, "^"+string(a.Class)+"-[a-z0-9-]+$", a.Slug)
		p.by(ada, board.AlarmTake{Alarm: id(a)})
	}
}

func TestAlarmsAreTheSameWithoutAllElse(t *testing.T) {
	p, ada, r := late(t)
	p.by(ada, board.EmergencyRaise{Robot: r})
	p.wait(10 * time.Minute)
	whole := forecast.Make(p.s, p.now, 1, 1).Alarms
	require.Len(t, whole, 3)
	require.Equal(t, whole, forecast.AlarmsAt(p.s, p.now))
}

func TestATakenAlarmSaysWhoSeesToIt(t *testing.T) {
	p, ada, _ := late(t)
	require.Empty(t, p.alarm().TakenBy)
	at := p.now
	p.by(ada, board.AlarmTake{Alarm: id(p.alarm())})
	require.Equal(t, ada, p.alarm().TakenBy)
	require.GreaterOrEqual(t, p.alarm().TakenAt, at)
	p.wait(2 * time.Minute)
	require.Equal(t, ada, p.alarm().TakenBy, "the forecast's own times arm nothing")
}

func TestAnAlarmSoundsAgainOnlyWhenItsStateChanged(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.open(r, ada)
	fight := p.fight(board.FightFields{Robot: r, Number: 3})
	p.made("", board.FightNow{Arena: "A", Number: 3}, captain)
	conflict := func() forecast.Alarm {
		return find(t, p.make().Alarms, func(a forecast.Alarm) bool { return a.Class == forecast.ClassA })
	}
	was := conflict()
	p.by(ada, board.AlarmTake{Alarm: id(was)})
	p.wait(10 * time.Minute)
	require.Equal(t, ada, conflict().TakenBy)
	p.captain(board.FightEnd{Fight: fight, Result: board.Won})
	require.Equal(t, was.Slug, conflict().Slug)
	require.Empty(t, conflict().TakenBy, "it has fought again since")
}

func TestAShelvedAlarmComesBackAtItsTimeOrAtTheCall(t *testing.T) {
	t.Run("at its time", func(t *testing.T) {
		p, ada, _ := late(t)
		p.by(ada, board.AlarmShelve{Alarm: id(p.alarm()), Minutes: 5, Reason: "the officials know"})
		until := p.now.Add(5 * time.Minute)
		require.Equal(t, ada, p.alarm().ShelvedBy)
		require.Equal(t, until, p.alarm().ShelvedUntil)
		p.wait(5 * time.Minute)
		require.Empty(t, p.alarm().ShelvedUntil)
	})
	t.Run("at the call", func(t *testing.T) {
		p := newPit(t)
		ada := p.person("Ada")
		r := p.light("Sprat", 1, ada)
		p.fought(r)
		p.calledAt(r, p.now.Add(8*time.Minute))
		a := p.alarm()
		p.by(ada, board.AlarmShelve{Alarm: id(a), Minutes: 15, Reason: "we know"})
		call := p.call(r).CallAt.Median
		require.Less(t, call, p.now.Add(15*time.Minute))
		require.Equal(t, call, p.alarm().ShelvedUntil)
	})
	t.Run("never one about people", func(t *testing.T) {
		p, ada, r := late(t)
		p.by(ada, board.EmergencyRaise{Robot: r})
		for _, a := range p.make().Alarms {
			_, refusal := p.try(board.AlarmShelve{Alarm: id(a), Minutes: 5, Reason: "not now"}, as(ada))
			require.Equal(t, a.Class == forecast.ClassA, refusal != nil)
		}
	})
}

func TestAFloodIsOneLineARobot(t *testing.T) {
	flood := func(t *testing.T, missing int) (*pit, board.RobotID, []forecast.Alarm) {
		p := newPit(t)
		ada := p.person("Ada")
		r := p.light("Sprat", 1, ada)
		for i := range missing {
			p.job(board.JobFields{Robot: r, Name: fmt.Sprintf("Belt %d", i), Fixes: []board.Fix{using(fix(10, 20, board.SkillAny), p.stock(fmt.Sprintf("belt %d", i), 0))}})
		}
		p.by(ada, board.EmergencyRaise{})
		return p, r, p.make().Alarms
	}
	_, _, nine := flood(t, 9)
	require.Len(t, nine, 10)
	p, r, ten := flood(t, 10)
	require.Len(t, ten, 2)
	require.Equal(t, forecast.ClassA, ten[0].Class, "what is about people stays apart")
	require.Zero(t, ten[0].Count)
	require.Equal(t, r, ten[1].Robot)
	require.Equal(t, 10, ten[1].Count)
	require.Contains(t, ten[1].What, "10 things at once on Sprat")
	p.by(p.s.Robots[r].Lead, board.AlarmTake{Alarm: id(ten[1])})
	require.NotEmpty(t, p.make().Alarms[1].TakenBy)
	p.wait(10*time.Minute + 10*time.Second)
	require.Len(t, p.make().Alarms, 11, "what is old is no flood")
}

func TestAnAlarmThatStandsTooLongIsStale(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(10, 20, board.SkillAny), p.stock("belt", 0))}})
	require.False(t, p.alarm().Stale)
	p.wait(59 * time.Minute)
	require.False(t, p.alarm().Stale)
	p.wait(time.Minute + 10*time.Second)
	require.True(t, p.alarm().Stale)
	t.Run("or for longer than a fight", func(t *testing.T) {
		p := newPit(t)
		r := p.light("Sprat", 1, p.person("Ada"))
		p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(10, 20, board.SkillAny), p.stock("belt", 0))}})
		p.wait(time.Minute)
		p.fought(r)
		spare := find(t, p.make().Alarms, func(a forecast.Alarm) bool { return a.Since != 0 && a.Class == forecast.ClassC })
		require.True(t, spare.Stale)
	})
}

func TestInAnEmergencyOnlyTheOfficialsCardSaysWhatToDo(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.by(ada, board.EmergencyRaise{Robot: r, What: "smoke"})
	raised := func() forecast.Alarm {
		return find(t, p.make().Alarms, func(a forecast.Alarm) bool { return a.What[:9] == "EMERGENCY" })
	}
	require.Equal(t, "Raise the alarm – get clear – tell event safety", raised().Act)
	require.Contains(t, raised().What, "at Sprat")
	require.Contains(t, raised().What, "raised by Ada 12:0")
	require.Contains(t, raised().What, "smoke")
	f := p.s.Event().EventFields
	f.Card = board.Card{Text: "Invented: go to gate 2.", ApprovedBy: "O. Steward"}
	p.captain(board.EventSet{EventFields: f})
	require.Contains(t, raised().Act, "Invented: go to gate 2. (card approved by O. Steward, entered 12:")
	for e := range p.s.Emergencies {
		p.made("", board.EmergencyEnd{Emergency: e, How: "taken outside"}, board.Actor{Person: ada, Role: board.RoleSafety})
	}
	for _, a := range p.make().Alarms {
		require.NotContains(t, a.What, "EMERGENCY")
	}
}

func TestARecheckIsAskedForThreeMinutesAhead(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	f := p.s.Robots[r].RobotFields
	f.Energies = append(f.Energies, board.Energy{Kind: board.EnergyCapacitor, Isolator: "bank", Reach: board.Outside})
	p.captain(board.RobotChange{Robot: r, RobotFields: f})
	who := p.s.People[ada].PersonFields
	who.Authorised = append(who.Authorised, board.EnergyCapacitor)
	p.captain(board.PersonChange{Person: ada, PersonFields: who})
	p.open(r, ada)
	due := p.s.Rechecks(r)[0].Due
	p.now = due.Add(-200 * time.Second)
	require.Empty(t, p.make().Alarms)
	p.now = due.Add(-3 * time.Minute)
	a := p.alarm()
	require.Equal(t, forecast.ClassC, a.Class)
	require.Contains(t, a.Act, "Ada: look and answer it again")
	require.NotEmpty(t, a.Sheet)
	p.by(ada, board.SheetAnswer{Sheet: a.Sheet, Line: a.Line, Said: board.SaidDone})
	require.Empty(t, p.make().Alarms)
}

func TestWhatIsRelaxedIsShown(t *testing.T) {
	p := newPit(t)
	require.Empty(t, p.make().Relaxed.List)
	require.NotContains(t, p.make().Entries(), board.Key("relaxed/event"))
	f := p.s.Event().EventFields
	f.RepairerMaySign, f.RecheckSec = true, 1200
	p.captain(board.EventSet{EventFields: f, Reason: "the event says so"})
	require.Len(t, p.make().Relaxed.List, 2)
	require.Contains(t, string(p.make().Entries()["relaxed/event"]), "20 min, not 15")
}

func TestWhoDrivesTwoRobotsAtOnceIsNamed(t *testing.T) {
	for name, c := range map[string]struct {
		second time.Duration
		driver bool // of both
		want   []string
	}{
		"at once":        {35 * time.Minute, true, []string{"Ada drives Sprat in fight BSprat 2 and Tern in fight BTern 2, and both may be on at once"}},
		"hours apart":    {180 * time.Minute, true, nil},
		"another drives": {35 * time.Minute, false, nil},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			ada, ben := p.person("Ada"), p.person("Ben")
			r := p.light("Sprat", 1, ada)
			other := p.light("Tern", 2, ada)
			if !c.driver {
				f := p.s.Robots[other].RobotFields
				f.Driver = ben
				p.captain(board.RobotChange{Robot: other, RobotFields: f})
			}
			p.calledAt(r, p.now.Add(30*time.Minute))
			p.calledAt(other, p.now.Add(c.second))
			var said []string
			for _, a := range p.make().Alarms {
				if a.Class == forecast.ClassC && strings.Contains(a.What, "drives") {
					said = append(said, a.What)
				}
			}
			require.Equal(t, c.want, said)
		})
	}
}
