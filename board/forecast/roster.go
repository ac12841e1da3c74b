package forecast

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mendline/board"
)

// rosterAlarms names who is entered for a robot and cannot be it: a lead who is a
// minor, a guest or off the roster, as boards of an earlier program have, and a minor
// who drives where nobody has entered that the event allows it.
func rosterAlarms(s board.State, r board.Robot) []Alarm {
	var list []Alarm
	captain := roleName(s, board.RoleCaptain)
	if lead, ok := s.People[r.Lead]; ok && !lead.Answers() {
		list = append(list, Alarm{
			Slug: "lead-" + string(r.ID), Class: ClassC, Robot: r.ID,
			What: fmt.Sprintf("%s is entered as lead for %s and is a minor, a guest or off the roster: only the captain leads it", lead.Name, r.Name),
			Act:  captain + ": choose another lead for it",
		})
	}
	if driver := s.People[r.Driver]; driver.Minor && !driver.Retired && !s.Event().MinorsDrive {
		list = append(list, Alarm{
			Slug: "minor-drives-" + string(r.ID), Class: ClassC, Robot: r.ID,
			What: fmt.Sprintf("%s is a minor and drives %s, and nobody has entered that the event lets minors drive", driver.Name, r.Name),
			Act:  captain + ": ask the officials, then enter it in the event's settings, or choose another driver",
		})
	}
	return list
}

// pinAlarms tells of each PIN that was forgotten, until its person has seen it.
func pinAlarms(s board.State) []Alarm {
	var list []Alarm
	for _, who := range board.Sorted(s.People, personKey) {
		slug := "pin-" + string(who.ID)
		seen := s.Marks[board.AlarmID("B-"+slug)]
		if who.Forgotten.At == 0 || who.Retired || (seen.TakenBy == who.ID && seen.TakenAt >= who.Forgotten.At) {
			continue
		}
		list = append(list, Alarm{
			Slug: slug, Class: ClassB, Since: who.Forgotten.At,
			What: fmt.Sprintf("%s had %s's PIN forgotten at %s: what was put on in that name before comes off with the old PIN or as an override", s.People[who.Forgotten.By].Name, who.Name, s.Clock(who.Forgotten.At)),
			Act:  who.Name + ": look at what stands in your name, then say that you are on it",
		})
	}
	return list
}

// grownAlarms tells event safety and the leads of whoever is no minor any more, or a
// signer now, until another of them than who entered it has seen it.
func grownAlarms(s board.State) []Alarm {
	var list []Alarm
	for _, who := range board.Sorted(s.People, personKey) {
		if len(who.Loosened) == 0 || who.Retired {
			continue
		}
		last, slug := who.Loosened[len(who.Loosened)-1], "grown-"+string(who.ID)
		seen := s.Marks[board.AlarmID("B-"+slug)]
		hear := hearersOf(s, last.By, who.ID)
		heard := seen.TakenAt >= last.At && slices.ContainsFunc(hear, func(p board.Person) bool { return p.ID == seen.TakenBy })
		if heard || len(hear) == 0 {
			continue
		}
		var names []string
		for _, p := range hear {
			names = append(names, p.Name)
		}
		list = append(list, Alarm{
			Slug: slug, Class: ClassB, Since: last.At,
			What: fmt.Sprintf("%s is %s, entered by %s at %s: %s", who.Name, last.What, cmp.Or(s.People[last.By].Name, "the laptop"), s.Clock(last.At), last.Reason),
			Act:  strings.Join(names, " or ") + ": if that is so, say that you are on it; if not, have the captain put it back",
		})
	}
	return list
}

// hearersOf lists event safety and the leads, but for who said something and who it is
// about.
func hearersOf(s board.State, by, about board.PersonID) []board.Person {
	leads := map[board.PersonID]bool{}
	for _, r := range s.Robots {
		leads[r.Lead] = leads[r.Lead] || !r.Retired
	}
	return slices.DeleteFunc(board.Sorted(s.People, personKey), func(p board.Person) bool {
		return !p.Answers() || p.ID == by || p.ID == about || p.Role != board.RoleSafety && !leads[p.ID]
	})
}
