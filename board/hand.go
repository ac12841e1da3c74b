package board

import (
	"cmp"
	"slices"
)

// Hand is a person whose hands are on a robot, and by what the board knows: their
// tag, their hands near, or a job there that they are at work on. One of the three
// is set, or more.
type Hand struct {
	Person PersonID
	Tag    TagID
	Near   HandsID
	Job    JobID
}

// HandsOn lists everyone whose hands are on a robot, by name, each once: anyone who
// has a tag on it or hands near it, or is at work on a job of it that is not off
// the robot.
func (s State) HandsOn(robot RobotID) []Hand {
	on := map[PersonID]Hand{}
	add := func(id PersonID, set func(*Hand)) {
		h := on[id]
		h.Person = id
		set(&h)
		on[id] = h
	}
	for _, tag := range s.Tags {
		if tag.Robot == robot {
			add(tag.Person, func(h *Hand) { h.Tag = tag.ID })
		}
	}
	for _, hands := range s.Hands {
		if hands.Robot == robot {
			add(hands.Person, func(h *Hand) { h.Near = hands.ID })
		}
	}
	for _, j := range Sorted(s.Jobs, jobOrder) {
		for _, st := range j.AtWork() {
			if j.Robot == robot && s.fixOf(j, st).Where != OffRobot {
				add(st.By, func(h *Hand) { h.Job = cmp.Or(h.Job, j.ID) })
			}
		}
	}
	return Sorted(on, func(h Hand) string { return s.People[h.Person].Name + string(h.Person) })
}

// stillOn says who is on a robot and by what, and what they do first; "" where
// nobody is.
func (s State) stillOn(r Robot) (who, first string) {
	var tagged, parts []string
	for _, h := range s.HandsOn(r.ID) {
		name := s.People[h.Person].Name
		if h.Tag != "" || h.Near != "" {
			tagged = append(tagged, name)
		}
		if j, ok := s.Jobs[h.Job]; ok {
			parts = append(parts, name+" is on job "+itoa(j.Number)+" of "+r.Name)
			first = " Those on a job leave it or finish it first."
		}
	}
	if len(tagged) > 0 {
		parts = slices.Insert(parts, 0, isAre(tagged)+" still on "+r.Name)
		first = " They take their own off first." + first
	}
	return listNames(parts), first
}

// TriesNext tells whether the next line of a robot is one that is answered with nobody on it.
func (s State) TriesNext(robot RobotID) bool {
	sheet, _ := s.Sheet(robot, ListMakeSafe)
	l, open := sheet.OpenLine()
	return open && sheet.State == SheetOpen && l.Part == partVerify
}

// rule7Away takes no answer to a line that verifies while anyone is on the robot: to
// try whether it starts is to give it power.
func rule7Away(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		l, _ := is.line(a.Line)
		if l.Part != partVerify || a.Standing || a.Record || a.Said == SaidNo || t.before.Sheets[is.ID].State == SheetComplete {
			continue
		}
		if who, first := t.s().stillOn(t.s().Robots[is.Robot]); who != "" {
			return breaks(7, "%s: nobody tries whether it starts while anyone is.%s If one cannot be reached, two people override it.", who, first)
		}
	}
	return nil
}

// rule7 keeps power from a robot that people are on.
func rule7(t *turn) *Refusal {
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		if !power.State.Energised() && power.State != Ready {
			continue
		}
		who, first := t.s().stillOn(t.s().Robots[power.Robot])
		switch {
		case who == "":
		case power.State == Ready:
			return breaks(7, "%s: nobody signs it while anyone is.%s", who, first)
		default:
			return breaks(7, "%s: no power while anyone is.%s", who, first)
		}
	}
	return nil
}
