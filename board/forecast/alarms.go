package forecast

import (
	"fmt"
	"slices"
	"strings"

	"mendline/board"
	"mendline/board/plan"
	"mendline/board/view"
	"mendline/board/work"
)

// How long until an alarm is due: our decision.
const (
	noLockoutSec = 3 * 60
	quietTagSec  = 45 * 60
)

// alarms lists what needs someone's act now, people first. Who is sent to it by their own
// phone is named.
func (c *schedule) alarms(calls []Call, todos []Todo) []Alarm {
	list := emergencies(c.s)
	for g, o := range c.robots {
		list = append(list, energisedAlarms(c.s, o.robot)...)
		list = append(list, c.conflictAlarm(o.robot, todos)...)
		list = append(list, recheckAlarms(c.s, o.robot, c.at, todos)...)
		list = append(list, c.callAlarms(o, calls[g])...)
		list = append(list, c.lockoutAlarm(o, todos)...)
		list = append(list, c.undecidedAlarm(o.robot, todos)...)
		list = append(list, rosterAlarms(c.s, o.robot)...)
	}
	list = append(list, pinAlarms(c.s)...)
	list = append(list, grownAlarms(c.s)...)
	list = append(list, packAlarms(c.s)...)
	list = append(list, c.attendantAlarms(calls)...)
	list = append(list, circuitAlarms(c.s)...)
	list = append(list, commonPackAlarms(c.s)...)
	list = append(list, restoreAlarm(c.s)...)
	list = append(list, c.spareAlarms(todos)...)
	list = append(list, c.driverAlarms()...)
	list = append(list, quietTags(c.s, c.at)...)
	list = marked(c.s, c.at, calls, named(collapsed(c.s, c.at, list)))
	slices.SortStableFunc(list, byClass)
	return list
}

// AlsoAlarm adds alarms that no board knows of, for the captain to act on: each with its
// class not yet in its name, nor the captain's in what to do.
func (f *Forecast) AlsoAlarm(s board.State, list []Alarm) {
	for i := range list {
		list[i].Act = roleName(s, board.RoleCaptain) + ": " + list[i].Act
	}
	f.Alarms = append(f.Alarms, marked(s, f.At, f.Calls, named(list))...)
	slices.SortStableFunc(f.Alarms, byClass)
}

func byClass(a, b Alarm) int { return int(a.Class[0]) - int(b.Class[0]) }

// AlarmsAt are the alarms that Make would give with the least planning there is, and
// nothing else: for looking back on a day. They name who leads, not whose phone was sent.
func AlarmsAt(s board.State, at board.Moment) []Alarm {
	at = forMoment(at)
	on := view.RecordsOf(s).Learnt(s)
	c := makeSchedule(pose(s, at, outlooks(s, at, on), on), 1, 1)
	return c.alarms(c.calls(), nil)
}

// on is someone whose hands are on a robot, by what, and since when.
type on struct {
	slug   string
	person board.Person
	what   string
	at     board.Moment
}

func peopleOn(s board.State, robot board.RobotID) []on {
	var list []on
	for _, h := range s.HandsOn(robot) {
		o := on{person: s.People[h.Person]}
		switch {
		case h.Tag != "":
			o.slug, o.what, o.at = "tag-"+string(h.Tag), o.person.Name+"'s tag is on", s.Tags[h.Tag].At
		case h.Near != "":
			o.slug, o.what, o.at = "hands-"+string(h.Near), o.person.Name+"'s hands are near", s.Hands[h.Near].At
		default:
			j := s.Jobs[h.Job]
			o.slug, o.what, o.at = "job-"+string(j.ID)+"-"+string(h.Person), fmt.Sprintf("%s is on job %d", o.person.Name, j.Number), j.Started
		}
		list = append(list, o)
	}
	return list
}

func energisedAlarms(s board.State, r board.Robot) []Alarm {
	power := s.Powers[r.ID]
	if !power.State.Energised() {
		return nil
	}
	var list []Alarm
	for _, o := range peopleOn(s, r.ID) {
		list = append(list, Alarm{
			Slug: "energised-" + o.slug, Class: ClassA, Robot: r.ID, Since: max(o.at, power.Since),
			What: fmt.Sprintf("%s is declared %s, and %s", r.Name, power.State, o.what),
			Act:  fmt.Sprintf("%s: away from %s, now", o.person.Name, r.Name),
		})
	}
	return list
}

func (c *schedule) conflictAlarm(r board.Robot, todos []Todo) []Alarm {
	power := c.s.Powers[r.ID]
	if power.State != board.Unknown || !power.Conflict {
		return nil
	}
	return []Alarm{{
		Slug: "conflict-" + string(r.ID), Class: ClassA, Robot: r.ID, Since: power.Since,
		What: fmt.Sprintf("%s is UNKNOWN: %s", r.Name, power.Why),
		Act:  c.makesSafe(r, todos) + ": everyone away from it, then make it safe",
	}}
}

func (c *schedule) callAlarms(o outlook, call Call) []Alarm {
	var list []Alarm
	ready := o.power.State == board.Ready || o.power.State == board.Live
	switch {
	case !o.called() || call.OnNow:
	case o.times.past:
		list = append(list, Alarm{
			Slug: "past-" + string(o.fight.ID), Class: ClassC, Robot: o.robot.ID, Since: call.StartAt.Median,
			What: fmt.Sprintf("%s of %s seems to be over", upper(fightName(o.fight)), o.robot.Name),
			Act:  leadName(c.s, o.robot) + ": say how it ended, or move it",
		})
	case call.CallNow && !ready:
		list = append(list, Alarm{
			Slug: "call-" + string(o.fight.ID), Class: ClassB, Robot: o.robot.ID, Since: call.CallAt.Median,
			What: fmt.Sprintf("%s is called for %s and is not ready", o.robot.Name, fightName(o.fight)),
			Act:  leadName(c.s, o.robot) + ": tell the officials how long, or leave work off",
		})
	case call.Flag == FlagWontFinish:
		list = append(list, Alarm{
			Slug: "wont-finish-" + string(o.robot.ID), Class: ClassB, Robot: o.robot.ID,
			What: fmt.Sprintf("%s will not be ready for %s: %s", o.robot.Name, fightName(o.fight), strings.TrimSuffix(call.Cause.Text, ".")),
			Act:  roleName(c.s, board.RoleCaptain) + ": " + c.whatHelps(o, call.Cause.Kind),
		})
	}
	for _, b := range call.Branches {
		if b.If == "" && b.ShortSec > 0 {
			list = append(list, Alarm{
				Slug: "too-soon-" + string(b.Fight), Class: ClassC, Robot: o.robot.ID,
				What: fmt.Sprintf("%s cannot be back and signed for %s after %s: its sheets alone are %s short", o.robot.Name, fightName(c.s.Fights[b.Fight]), fightName(o.fight), minutes(b.ShortSec)),
				Act:  roleName(c.s, board.RoleCaptain) + ": tell the officials, or ask for time",
			})
		}
	}
	return list
}

// whatHelps is what to do about a robot that will not be ready.
func (c *schedule) whatHelps(o outlook, why CauseKind) string {
	g := c.groupOf(o.robot.ID)
	works := slices.ContainsFunc(c.problem.Tasks, func(t plan.Task) bool { return t.Group == g })
	switch {
	case why == CausePart:
		return "find the part, or another way"
	case why == CausePerson && c.plan.Groups[g].Never:
		return "find someone who can do it"
	case why == CauseStation && c.plan.Groups[g].Never:
		return "make room for it, or choose another fix"
	case why == CauseOfCharge:
		return "see to its packs, or ask for time"
	case !works && len(undecided(c, g)) > 0:
		return "say what is done about its damage, or ask for time"
	case !works:
		return "ask for time, or tell the officials"
	}
	return "choose what to leave off"
}

// lockoutAlarm asks for make-safe where a robot has been back for 3 minutes with
// work queued.
func (c *schedule) lockoutAlarm(o outlook, todos []Todo) []Alarm {
	last, fought := lastFight(c.s, o.robot.ID)
	due := plusSec(max(last.EndAt, o.power.Since), noLockoutSec)
	queued := slices.ContainsFunc(c.jobs, func(j board.Job) bool { return j.Robot == o.robot.ID })
	if !fought || o.gone || due > c.at || !queued || work.MadeSafe(o.power.State) || o.power.State.Energised() {
		return nil
	}
	return []Alarm{{
		Slug: "no-lockout-" + string(o.robot.ID), Class: ClassC, Robot: o.robot.ID, Since: due,
		What: fmt.Sprintf("%s is back with work waiting and is %s", o.robot.Name, o.power.State),
		Act:  c.makesSafe(o.robot, todos) + ": make it safe and have it verified",
	}}
}

// undecidedAlarm asks for a word on damage that has to be put right and has no job.
func (c *schedule) undecidedAlarm(r board.Robot, todos []Todo) []Alarm {
	list := work.Undecided(c.s, r.ID)
	if len(list) == 0 {
		return nil
	}
	var names []string
	for _, d := range list {
		names = append(names, fmt.Sprintf("%d %s", d.Number, d.Part))
	}
	each := "each"
	if len(list) == 1 {
		each = "it"
	}
	return []Alarm{{
		Slug: "undecided-" + string(r.ID), Class: ClassC, Robot: r.ID, Since: list[0].RaisedAt,
		What: fmt.Sprintf("%s has damage without a job: %s", r.Name, and(names)),
		Act:  sentTo(c.s, todos, func(t Todo) bool { return t.Act == ActDecide && t.Robot == r.ID }, leadName(c.s, r)) + ": make a job of " + each + ", or grade it down with a reason",
	}}
}

// spareAlarms names each must whose chosen fix lacks a spare.
func (c *schedule) spareAlarms(todos []Todo) []Alarm {
	var list []Alarm
	for i, j := range c.jobs {
		if !j.Blocking() || j.State == board.JobRunning {
			continue
		}
		fetches := func(t Todo) bool { return t.Act == ActFetch && t.Job == j.ID }
		for _, need := range j.Fix().Stock {
			stock := c.s.Stocks[need.Stock]
			if stock.Count < need.Count || stock.Retired {
				list = append(list, Alarm{
					Slug: "spare-" + string(j.ID) + "-" + string(stock.ID), Class: ClassC, Robot: j.Robot, Since: j.At,
					What: fmt.Sprintf("%s needs %d of %s and there are %d", upper(jobName(j)), need.Count, stock.Name, stock.Count),
					Act:  sentTo(c.s, todos, fetches, leadName(c.s, c.robots[c.problem.Tasks[i].Group].robot)) + ": find one, or choose another fix",
				})
			}
		}
	}
	return list
}

// quietTags names each tag whose owner has done nothing on the board for 45
// minutes.
func quietTags(s board.State, at board.Moment) []Alarm {
	var list []Alarm
	seen := lastSeen(s)
	for _, tag := range board.Sorted(s.Tags, func(tag board.Tag) string { return tag.At.String() }) {
		due := plusSec(max(tag.At, seen[tag.Person]), quietTagSec)
		if due > at {
			continue
		}
		who := s.People[tag.Person].Name
		list = append(list, Alarm{
			Slug: "quiet-" + string(tag.ID), Class: ClassC, Robot: tag.Robot, Since: due,
			What: fmt.Sprintf("%s's tag on %s has been quiet for %s", who, s.Robots[tag.Robot].Name, minutes(quietTagSec)),
			Act:  who + ": still on it? Take the tag off when you leave",
		})
	}
	return list
}

// lastSeen is when each person last did something that the board dates.
func lastSeen(s board.State) map[board.PersonID]board.Moment {
	seen := map[board.PersonID]board.Moment{}
	saw := func(id board.PersonID, at board.Moment) { seen[id] = max(seen[id], at) }
	for _, j := range s.Jobs {
		for _, st := range j.Stints {
			saw(st.By, max(st.From, st.To))
		}
		saw(j.FinishedBy, j.FinishedAt)
	}
	for _, sheet := range s.Sheets {
		for _, a := range sheet.Answers {
			saw(a.By, a.At)
		}
	}
	for _, d := range s.Damages {
		saw(d.By, d.At)
	}
	for _, tag := range s.Tags {
		saw(tag.Person, tag.At)
	}
	for _, g := range s.Hands {
		saw(g.Person, g.At)
	}
	for _, n := range s.Notes {
		saw(n.By, n.At)
	}
	return seen
}
