package board

import "slices"

// standing finds the earlier answers that still stand for the lines of a new sheet:
// for each line that of the newest sheet on which anyone answered it.
func (t *turn) standing(sheet Sheet, stands func(Sheet, Line, Answer) bool) []Answer {
	var stand []Answer
	earlier := Sorted(t.s().Sheets, sheetOrder)
	for _, l := range sheet.Lines {
		for _, old := range slices.Backward(earlier) {
			if old.Robot != sheet.Robot || old.List != sheet.List || !old.mentions(l.ID) {
				continue
			}
			was, known := old.LineOf(l.ID)
			a, answered := old.Answered(l.ID)
			if known && answered && was.asksAs(l) && stands(sheet, l, a) {
				a.Standing = true
				stand = append(stand, a)
			}
			break
		}
	}
	return stand
}

// mentions tells whether anyone gave the sheet an answer to a line, yes or no.
func (sheet Sheet) mentions(line string) bool {
	return slices.ContainsFunc(sheet.Answers, func(a Answer) bool { return a.Line == line && !a.Record })
}

// asksAs tells whether an answer to l means the same as an answer to o: the same
// question and words on the buttons, and the same answers taken.
func (l Line) asksAs(o Line) bool {
	return l.Kind == o.Kind && l.Ask == o.Ask && l.Say == o.Say && l.Not == o.Not && l.NotFitted == o.NotFitted &&
		l.Unit == o.Unit && l.Least == o.Least && l.Most == o.Most && slices.Equal(l.Choices, o.Choices)
}

// stands tells whether an answer of an earlier sheet holds for line l of sheet h:
// "not fitted" for the day, and what nothing has touched since (rule 11).
// Locks, links, people told and signatures are always asked again. An inspection
// holds until the next fight: what it found is work, and work has lines of its own.
func (t *turn) stands(sheet Sheet, l Line, a Answer) bool {
	offset := t.s().Event().OffsetMin
	power := t.s().Powers[sheet.Robot]
	switch {
	case a.At.Day(offset) != t.now.Day(offset):
		return false
	case t.s().fittedAfterAll(t.s().Robots[sheet.Robot], l, a):
		return false
	case a.Said == SaidNotFitted && l.Kind != LinePack:
		return t.s().Fits[sheet.Robot].At <= a.At // said of a setup: another voids it
	case a.At <= power.FoughtAt || l.Kind == LinePack && a.Said == SaidNotFitted:
		return false
	case sheet.List == ListInspect:
		return true
	case t.s().overtaken(sheet.Robot, l, a):
		return false
	}
	switch sheet.List {
	case ListCloseUp:
		if slices.Contains(l.Covers, SysLock) || slices.Contains(l.Covers, SysLink) || l.Kind == LineTold || power.openedSince(a.At) {
			return false
		}
		return true
	case ListReady:
		return l.Kind == LineNumber || l.Kind == LineProof && (a.Said != SaidDone || t.s().ProvenFailsafe(sheet.Robot, l))
	}
	return false
}

// openedSince tells whether anyone had a tag on the robot after m.
func (power Power) openedSince(m Moment) bool {
	n := len(power.Covered)
	return n > 0 && (power.Covered[n-1].To == 0 || power.Covered[n-1].To > m)
}

// moduleTouches is what hands touch that put another module on: its fasteners and
// covers, the mass, and the lock of a weapon that may be another now.
var moduleTouches = []System{SysStructure, SysMass, SysLock}

// touched tells whether a job that touches what the line covers was worked on
// after m, or other modules went on, or a damaged part came off.
func (s State) touched(robot RobotID, l Line, m Moment) bool {
	if s.Fits[robot].At > m && overlap(moduleTouches, l.Covers) {
		return true
	}
	if s.partMoved(robot, l, m) {
		return true
	}
	for _, j := range s.Jobs {
		if j.Robot != robot {
			continue
		}
		for _, st := range j.Stints {
			if st.during(m) && overlap(s.touches(j, s.fixOf(j, st)), l.Covers) {
				return true
			}
		}
	}
	return false
}

// overtaken tells whether work on what the line covers came after an answer to it, or,
// where it says which pack is in and strapped, or what it all weighs, another pack did.
func (s State) overtaken(robot RobotID, l Line, a Answer) bool {
	if a.Said == SaidDone && (l.Kind == LinePack && s.packedSince(robot, a) || l.weighs() && s.otherPacks(robot)) {
		return true
	}
	return l.ofCovers() && s.packWentIn(robot, a.At) || s.touched(robot, l, a.At)
}

func (l Line) ofCovers() bool { return l.Part == partCloseUp && l.ID == "covers" }

// packWentIn tells whether a pack went under a robot's covers after a moment.
func (s State) packWentIn(robot RobotID, m Moment) bool {
	return slices.ContainsFunc(s.packsIn(robot), func(p Pack) bool { return p.Use != UseTransmitter && p.Since > m })
}

// packedSince tells whether the pack that an answer names is out of the robot, or one is
// in it that nobody has named since it went in: hands were under the covers since.
func (s State) packedSince(robot RobotID, a Answer) bool {
	in := s.packsIn(robot)
	return !slices.ContainsFunc(in, func(p Pack) bool { return p.ID == a.Pack }) || slices.ContainsFunc(in, s.unnamed)
}

// touches lists what a fix of a job touches: what it says itself, what the damage is
// about that it puts right, and wiring, radio and controllers where it takes the hands of
// someone who can do those.
func (s State) touches(j Job, fix Fix) []System {
	all := slices.Clone(fix.Touches)
	if fix.Where != OffRobot && wires(fix.Hands) {
		all = append(all, SysRadio)
	}
	for _, id := range j.Damages {
		all = append(all, s.Damages[id].Touches...)
	}
	return all
}

// wires tells whether hands are asked for that see to wiring or to the radio.
func wires(hands []Skill) bool {
	return slices.Contains(hands, SkillElectrical) || slices.Contains(hands, SkillRadio)
}

func overlap(a, b []System) bool {
	return slices.ContainsFunc(a, func(y System) bool { return slices.Contains(b, y) })
}

// staleLine is the first line of the return list whose answer is older than work
// on what it covers.
func (s State) staleLine(robot RobotID) (Line, bool) {
	for _, list := range []SheetList{ListCloseUp, ListReady} {
		sheet, _ := s.Sheet(robot, list)
		if l, stale := s.staleOn(sheet); stale {
			return l, true
		}
	}
	return Line{}, false
}

func (s State) staleOn(sheet Sheet) (Line, bool) {
	for _, l := range sheet.Lines {
		if a, ok := sheet.Answered(l.ID); ok && s.overtaken(sheet.Robot, l, a) {
			return l, true
		}
	}
	return Line{}, false
}

// rule11 keeps a robot from being ready on answers that work has overtaken, with
// blocking work open, or with a pack that is not for use.
func rule11(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if power.State != Ready || t.before.Powers[id].State == Ready {
			continue
		}
		switch l, stale := t.s().staleLine(id); {
		case stale && l.weighs() && t.s().otherPacks(id):
			return breaks(11, "Another pack is in than when %s was weighed, or its record was changed. Answer it again: %s", t.s().Robots[id].Name, l.Ask)
		case stale && l.Kind == LinePack && t.s().oneTooMany(t.s().Robots[id]) != "":
			return breaks(11, "%s Say where the one is that does not belong, or answer again, on the sheet for closing up: %s", t.s().oneTooMany(t.s().Robots[id]), l.Ask)
		case stale && (l.Kind == LinePack || l.ofCovers() && t.s().packWentIn(id, 0)):
			return breaks(11, "A pack went in or came out since this was answered. Answer it again, on the sheet for closing up: %s", l.Ask)
		case stale:
			return breaks(11, "Work was done since this was answered. Answer it again: %s", l.Ask)
		}
		r := t.s().Robots[id]
		if bad := first(t.s().fitToFight(r), t.s().unaccepted(r)); bad != nil {
			return bad
		}
	}
	return nil
}
