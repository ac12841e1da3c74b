package forecast

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mendline/board"
)

// A flood is 10 alarms in 10 minutes (EEMUA 191, Alarm systems, from memory); an alarm
// is stale after one fight of its robot, or else after 60 minutes (our decision).
const (
	floodMany = 10
	floodSec  = 10 * 60
	staleSec  = 60 * 60
)

// named puts the class before each alarm's name, as the board asks.
func named(list []Alarm) []Alarm {
	for i, a := range list {
		list[i].Slug = string(a.Class) + "-" + a.Slug
	}
	return list
}

// marked adds to each alarm what people did about it: who took it, until when it
// is shelved, and whether it has stood for too long.
func marked(s board.State, at board.Moment, calls []Call, list []Alarm) []Alarm {
	for i, a := range list {
		mark := s.Marks[board.AlarmID(a.Slug)]
		armed := armedAt(s, a)
		if mark.TakenAt != 0 && mark.TakenAt+grainMs >= armed {
			list[i].TakenBy, list[i].TakenAt = mark.TakenBy, mark.TakenAt
		}
		until := min(mark.ShelvedUntil, nextCall(calls, a.Robot, mark))
		if a.Class != ClassA && until > at && mark.ShelvedAt+grainMs >= armed {
			list[i].ShelvedBy, list[i].ShelvedUntil = mark.ShelvedBy, until
		}
		list[i].Stale = a.Class != ClassA && a.Since != 0 &&
			(at >= plusSec(a.Since, staleSec) || s.Powers[a.Robot].FoughtAt > a.Since)
	}
	return list
}

// armedAt is when the state that an alarm is about last changed: a mark from
// before that no longer counts. A predicted time moves by itself and arms nothing.
func armedAt(s board.State, a Alarm) board.Moment {
	armed := s.Powers[a.Robot].FoughtAt
	if strings.HasPrefix(a.Slug, "B-call-") || strings.HasPrefix(a.Slug, "C-past-") || strings.Contains(a.Slug, "-"+floodSlug) {
		return armed
	}
	return max(armed, a.Since)
}

// nextCall is the first call after an alarm was shelved: that of its robot, or of
// any where it is about none. No shelving outlasts it.
func nextCall(calls []Call, robot board.RobotID, mark board.Mark) board.Moment {
	next := mark.ShelvedUntil
	for _, c := range calls {
		if (robot == "" || c.Robot == robot) && c.CallAt.Median > mark.ShelvedAt {
			next = min(next, c.CallAt.Median)
		}
	}
	return next
}

const floodSlug = "flood-"

// collapsed makes one line a robot of what is not about people, when so much
// comes at once that nobody could read it.
func collapsed(s board.State, at board.Moment, list []Alarm) []Alarm {
	fresh := 0
	for _, a := range list {
		if a.Class != ClassA && (a.Since == 0 || a.Since >= plusSec(at, -floodSec)) {
			fresh++
		}
	}
	if fresh < floodMany {
		return list
	}
	var out []Alarm
	var robots []board.RobotID
	of := map[board.RobotID][]Alarm{}
	for _, a := range list {
		if a.Class == ClassA || a.Robot == "" {
			out = append(out, a)
			continue
		}
		if !slices.Contains(robots, a.Robot) {
			robots = append(robots, a.Robot)
		}
		of[a.Robot] = append(of[a.Robot], a)
	}
	for _, r := range robots {
		out = append(out, oneLine(s, of[r]))
	}
	return out
}

// oneLine stands for all of a robot's alarms: the worst of them, with their
// number.
func oneLine(s board.State, list []Alarm) Alarm {
	worst := list[0]
	if len(list) == 1 {
		return worst
	}
	for _, a := range list {
		if a.Class < worst.Class {
			worst = a
		}
	}
	worst.Slug, worst.Count = floodSlug+string(worst.Robot), len(list)
	worst.What = fmt.Sprintf("%d things at once on %s; first: %s", len(list), s.Robots[worst.Robot].Name, worst.What)
	return worst
}

// noCard is all that the board says in an emergency by itself. What to do is the
// officials' to say.
const noCard = "Raise the alarm – get clear – tell event safety"

// whatToDo is the officials' card, or what stands for it where none is entered.
func whatToDo(s board.State) string {
	if e := s.Event(); e.Card.Text != "" {
		return fmt.Sprintf("%s (card approved by %s, entered %s)", e.Card.Text, e.Card.ApprovedBy, s.Clock(e.Entered.Card))
	}
	return noCard
}

// emergencies are those that nobody has ended.
func emergencies(s board.State) []Alarm {
	act := whatToDo(s)
	var list []Alarm
	for _, emergency := range board.Sorted(s.Emergencies, func(emergency board.Emergency) string { return emergency.At.String() }) {
		if emergency.EndedAt != 0 {
			continue
		}
		list = append(list, Alarm{
			Slug: "emergency-" + string(emergency.ID), Class: ClassA, Robot: emergency.Robot, Since: emergency.At, What: emergencyWords(s, emergency), Act: act,
		})
	}
	return list
}

func emergencyWords(s board.State, emergency board.Emergency) string {
	words := "EMERGENCY"
	if r, ok := s.Robots[emergency.Robot]; ok {
		words += " at " + r.Name
	}
	if place, ok := s.Places[cmp.Or(emergency.Place, emergency.Stood)]; ok {
		words += ", " + place.Name
	}
	if who, ok := s.People[emergency.By]; ok {
		words += ", raised by " + who.Name + " " + s.Clock(emergency.At)
	}
	if emergency.What != "" {
		words += ": " + emergency.What
	}
	return words
}

// recheckWarnSec is how long before a re-check of gas or capacitors is overdue
// people are told.
const recheckWarnSec = 3 * 60

// recheckAlarms ask for what must be answered again while people are at work.
func recheckAlarms(s board.State, r board.Robot, at board.Moment, todos []Todo) []Alarm {
	on := peopleOn(s, r.ID)
	if s.Powers[r.ID].State != board.Work || len(on) == 0 {
		return nil
	}
	var list []Alarm
	for _, c := range s.Rechecks(r.ID) {
		since := plusSec(c.Due, -recheckWarnSec)
		if since > at {
			break
		}
		asked := func(t Todo) bool { return t.Act == ActRecheck && t.Sheet == c.Sheet && t.Line == c.Line.ID }
		list = append(list, Alarm{
			Slug: "recheck-" + string(r.ID) + "-" + c.Line.ID, Class: ClassC, Robot: r.ID, Since: since, Sheet: c.Sheet, Line: c.Line.ID,
			What: fmt.Sprintf("%s is to be checked again by %s: %s", r.Name, s.Clock(c.Due), c.Line.Ask),
			Act:  sentTo(s, todos, asked, mayRecheck(s, on, c)) + ": look and answer it again, or everyone leaves it",
		})
	}
	return list
}

// mayRecheck names who of those on a robot may answer a line again, or else who leads it.
func mayRecheck(s board.State, on []on, c board.Recheck) string {
	sheet := s.Sheets[c.Sheet]
	for _, o := range on {
		if s.MayAnswer(board.Actor{Person: o.person.ID, Role: o.person.Role}, o.person, sheet, c.Line) == nil {
			return o.person.Name
		}
	}
	return leadName(s, s.Robots[sheet.Robot])
}
