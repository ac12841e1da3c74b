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
	for _, j := range SortedOf(s.Jobs, func(j Job) bool { return j.Robot == robot && j.State == JobRunning }, jobOrder) {
		for _, st := range j.AtWork() {
			if s.fixOf(j, st).Where != OffRobot {
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

// othersNear names who is on a robot besides a person.
func (s State) othersNear(robot RobotID, person PersonID) []string {
	var names []string
	for _, h := range s.HandsOn(robot) {
		if h.Person != person {
			names = append(names, s.People[h.Person].Name)
		}
	}
	return names
}

// VerifiesNext tells whether the next line of a robot is one that is answered with nobody
// on it, and what that is for.
func (s State) VerifiesNext(robot RobotID) (what string, next bool) {
	sheet, _ := s.Sheet(robot, ListMakeSafe)
	l, open := sheet.OpenLine()
	return l.verifying(), open && sheet.State == SheetOpen && l.Part == partVerify
}

// verifying is what somebody does who answers a line that verifies.
func (l Line) verifying() string {
	if l.ID == "try" {
		return "tries whether it starts"
	}
	return "looks whether it is really off"
}

// rule7Away takes no answer to a line that verifies while anyone is on the robot: to
// try whether it starts is to give it power.
func rule7Away(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		l, _ := is.LineOf(a.Line)
		if l.Part != partVerify || a.Standing || a.Record || a.Said == SaidNo || t.before.Sheets[is.ID].State == SheetComplete {
			continue
		}
		if who, first := t.s().stillOn(t.s().Robots[is.Robot]); who != "" {
			return breaks(7, "%s: nobody %s while anyone is.%s If one cannot be reached, two people override it.", who, l.verifying(), first)
		}
	}
	return nil
}

// beside says who is on another of our robots where this one stands, and which that is;
// "" where nobody is.
func (s State) beside(power Power) (who, first string, at Robot) {
	for _, robot := range s.standAt(power.Place) {
		if robot.ID == power.Robot || power.Place == "" {
			continue
		}
		if who, first := s.stillOn(robot); who != "" {
			return who, first, robot
		}
	}
	return "", "", Robot{}
}

// rule7Beside keeps power from a place where people are on another of our robots, and
// people from a robot where another has power.
func rule7Beside(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		who, first, at := t.s().beside(power)
		was := t.before.Powers[id]
		stood, _, _ := t.before.beside(was)
		robot, place := t.s().Robots[id].Name, t.s().Places[power.Place].Name
		switch {
		case !power.State.Energised() || who == "":
		case power.State != was.State:
			return breaks(7, "%s, which is at %s too: no power there while anyone is.%s Or that robot is taken elsewhere.", who, place, first)
		case stood == "":
			return breaks(7, "%s is %s at %s, where %s stands too: hands out until that has ended. Or take %s elsewhere.", robot, power.State, place, at.Name, at.Name)
		}
	}
	return nil
}

// cameBeside makes a robot with power unknown when the board hears that people are on
// another where it stands.
func (t *turn) cameBeside(power Power) {
	if !power.State.Energised() || t.before.Powers[power.Robot].State != power.State || !t.isAFact() {
		return
	}
	if who, _, _ := t.s().beside(power); who != "" {
		t.becomeUnknown(power, who+", at "+t.s().Places[power.Place].Name+" too, while the board said "+power.State.String(), true)
	}
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
