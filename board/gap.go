package board

import "fmt"

// PostponeFor says who shares the one postponement that an event grants in a day.
type PostponeFor string

// The event's rule: one for the whole team whatever the number of its robots,
// which is what holds where nothing is said, or one for each robot.
const (
	PostponeTeam  PostponeFor = "team"
	PostponeRobot PostponeFor = "robot"
)

// Postponed is a postponement that was granted to a fight.
type Postponed struct {
	At Moment   `json:"at"`
	By PersonID `json:"by,omitzero"`
	// Sec is how much later the fight comes, in seconds.
	Sec int `json:"sec"`
}

// MayPostpone tells whether fight f may be given the postponement at now; if not,
// why says so in a sentence to show.
func (s State) MayPostpone(f Fight, now Moment) (may bool, why string) {
	e, robot := s.Event(), s.Robots[f.Robot].Name
	switch {
	case e.PostponeSec == 0:
		return false, "This event grants no postponement."
	case f.State != FightPlanned:
		return false, fmt.Sprintf("That fight is %s: only a fight to come is postponed.", f.State)
	}
	used, ok := s.postponedToday(f, now)
	if !ok {
		return true, ""
	}
	at := s.Clock(used.Postponed.At)
	switch {
	case used.Robot == f.Robot:
		return false, fmt.Sprintf("%s had the one postponement of the day at %s.", robot, at)
	default:
		return false, fmt.Sprintf("%s can't be postponed: the one postponement of the day, for all robots of the team together, went to %s at %s.",
			robot, s.Robots[used.Robot].Name, at)
	}
}

// postponedToday is the fight whose postponement leaves none for f.
func (s State) postponedToday(f Fight, now Moment) (Fight, bool) {
	e := s.Event()
	for _, o := range Sorted(s.Fights, func(o Fight) string { return o.Postponed.At.String() }) {
		shares := o.Robot == f.Robot || e.PostponeFor != PostponeRobot
		if shares && o.Postponed.At != 0 && o.Postponed.At.Day(e.OffsetMin) == now.Day(e.OffsetMin) {
			return o, true
		}
	}
	return Fight{}, false
}

// FightPostpone says that the event granted a fight the postponement.
type FightPostpone struct {
	Fight FightID `json:"fight"`
}

func (c FightPostpone) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	if bad != nil {
		return bad
	}
	if may, why := t.s().MayPostpone(f, t.when); !may {
		return refuse(CodeState, "%s", why)
	}
	f.Postponed = Postponed{At: t.when, By: t.by.Person, Sec: t.s().Event().PostponeSec}
	t.put(f)
	return nil
}

// FightPause says that the promised gap after a fight of ours did not run for a
// while: the officials had the robot, for a weigh-in or a check. Without To they
// still have it; the same From with a To ends that.
type FightPause struct {
	Fight FightID `json:"fight"`
	Span
}

// pausesMost is how many pauses one gap may have.
const pausesMost = 20

func (c FightPause) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	switch {
	case bad != nil:
		return bad
	case f.State != FightDone:
		return refuse(CodeState, "That fight is %s: the gap runs from its end.", f.State)
	case c.From == 0 || c.To != 0 && c.To <= c.From:
		return badField("to", "A pause ends before it begins. Turn the times round.")
	case len(f.Pauses) >= pausesMost:
		return badField("fight", "This gap has %d pauses already.", pausesMost)
	}
	pauses := []Span{}
	for _, p := range f.Pauses {
		if p.From != c.From {
			pauses = append(pauses, p)
		}
	}
	f.Pauses = append(pauses, c.Span)
	t.put(f)
	return nil
}

// cameBack dates the robot's way back from its last fight by the places people say
// it is at.
func (t *turn) cameBack(robot RobotID, place Place) {
	f, ok := t.s().lastFought(robot)
	if !ok || place.Kind == PlaceArena {
		return
	}
	was := f
	if f.LeftAt == 0 {
		f.LeftAt = t.when
	}
	if place.Kind == PlaceBench && f.BenchAt == 0 {
		f.BenchAt = t.when
	}
	if f.LeftAt != was.LeftAt || f.BenchAt != was.BenchAt {
		t.put(f)
	}
}

// lastFought is the robot's fight that is on, or else the last one it fought.
func (s State) lastFought(robot RobotID) (last Fight, ok bool) {
	for _, f := range Sorted(s.Fights, func(f Fight) string { return string(f.ID) }) {
		switch {
		case f.Robot != robot:
		case f.State == FightOn:
			return f, true
		case f.State == FightDone && f.Result.fought() && (!ok || f.EndAt > last.EndAt):
			last, ok = f, true
		}
	}
	return last, ok
}
