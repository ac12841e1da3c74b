package board

import "slices"

// The lists of an event day's ends, in the words of the team: common practice, no
// source. They are walked like the safety sheets, and nothing waits for them.
var endLists = []SheetList{ListOvernight, ListPackUp}

// ofTheEvent tells whether a list is the event's own, which lasts whatever state
// the robot is in.
func (l SheetList) ofTheEvent() bool { return l == ListLoadIn || slices.Contains(endLists, l) }

const (
	partOvernight = "overnight"
	partPackUp    = "pack-up"
)

func overnightLines(r Robot) []Line {
	line := endLine(partOvernight)
	return slices.Concat([]Line{
		line("packs", "Packs: all out of it, each with its place on the board?", "each pack", "ALL PLACED", "not yet", false),
		line("charge", "Nothing of its left on charge with nobody there?", "the chargers", "NOTHING ON CHARGE", "something is", false),
	}, r.endLock(line("lock", "", "", "", "not yet", true), "for the night"), []Line{
		{ID: "keeper", Part: partOvernight, Kind: LineTold, Ask: "Links: out. Who keeps them tonight?", Touch: "the links", Say: "KEEPS THEM", Not: "not out", NotFitted: true},
		line("gas", "Gas: shut off, bled, bottle put away?", "the valve", "PUT AWAY", "not yet", true),
		line("spares", "What was taken from the box today: all written down?", "the box", "WRITTEN DOWN", "not yet", false),
		line("start", "What comes first tomorrow: on the board as jobs?", "nothing", "ON THE BOARD", "not yet", false),
	})
}

func packUpLines(r Robot) []Line {
	line := endLine(partPackUp)
	return slices.Concat([]Line{
		line("packs", "Packs: all out of it, each with its place on the board?", "each pack", "ALL PLACED", "not yet", false),
		line("storage", "Packs: at storage charge, set aside ones handed over?", "each pack", "AT STORAGE", "not yet", false),
	}, r.endLock(line("lock", "", "", "", "not yet", true), "for the journey"), []Line{
		line("link", "Links: out, and packed apart from the robot?", "the links", "PACKED APART", "not yet", true),
		line("gas", "Gas: bottles shut and packed as the carrier asks?", "each bottle", "PACKED", "not yet", true),
		line("loans", "What was lent to us: given back?", "each thing lent", "GIVEN BACK", "not yet", true),
		line("tools", "Tools counted: all back in their places?", "the tool roll", "ALL BACK", "one missing", false),
		line("spares", "Spares counted, and the count on the board?", "the box", "COUNTED", "not yet", false),
		line("strap", "Robot: edges covered, blocked and strapped?", "each strap", "STRAPPED", "not yet", false),
		line("place", "Bench: swept, swarf and rags in their bins?", "the bench", "SWEPT", "not yet", false),
	})
}

func endLine(part string) func(id, ask, touch, say, not string, notFitted bool) Line {
	return func(id, ask, touch, say, not string, notFitted bool) Line {
		return Line{ID: id, Part: part, Kind: LineDo, Ask: ask, Touch: touch, Say: say, Not: not, NotFitted: notFitted}
	}
}

// ruleEnds takes no answer to a list of a day's end that the board knows better.
func ruleEnds(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		if !slices.Contains(endLists, is.List) {
			continue
		}
		if bad := t.s().knowsBetter(is.Robot, a); bad != nil {
			return bad
		}
	}
	return nil
}

// knowsBetter refuses "nothing on charge" and "all placed" with the packs that are not.
func (s State) knowsBetter(robot RobotID, a Answer) *Refusal {
	if a.Said != SaidDone || a.Standing || a.Record {
		return nil
	}
	var names []string
	switch a.Line {
	case "charge":
		for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name }) {
			if p.State == PackCharging && (len(p.Fits) == 0 || slices.Contains(p.Fits, robot)) {
				names = append(names, p.Name+" on "+s.Channels[p.Channel].Name+", with "+s.People[p.Attendant].Name)
			}
		}
		if len(names) > 0 {
			return refuse(CodeState, "By the board there is something on charge: %s. Say that it is off, then answer.", listNames(names))
		}
	case "packs":
		for _, p := range s.PacksToPlace(robot) {
			if p.State.setAside() && p.Robot == robot {
				return hasAside(0, p, s.Robots[robot])
			}
			names = append(names, p.Name)
		}
		if len(names) > 0 {
			return refuse(CodeState, "By the board this is not so of %s: say of each where it is now, then answer.", listNames(names))
		}
	}
	return nil
}

// RobotList begins a robot's overnight or pack-up list; a new day takes a new one.
type RobotList struct {
	Robot RobotID   `json:"robot"`
	List  SheetList `json:"list"`
}

func (c RobotList) do(t *turn) *Refusal {
	_, robot, bad := t.power(c.Robot)
	if bad = first(bad, oneOf("list", c.List, endLists...)); bad != nil {
		return bad
	}
	offset := t.s().Event().OffsetMin
	if sheet, ok := t.s().Sheet(robot.ID, c.List); ok && sheet.State == SheetOpen && sheet.OpenedAt.Day(offset) == t.now.Day(offset) {
		return refuse(CodeNothingToDo, "The %s list of %s is open already. Answer it.", c.List, robot.Name)
	}
	t.openSheet(robot, c.List)
	return nil
}

// RobotLoadIn begins a robot's load-in inspection. It says nothing of its power
// and lasts whatever state the robot is in.
type RobotLoadIn struct {
	Robot RobotID `json:"robot"`
}

func (c RobotLoadIn) do(t *turn) *Refusal {
	_, robot, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	if sheet, ok := t.s().Sheet(robot.ID, ListLoadIn); ok && sheet.State == SheetOpen {
		return refuse(CodeNothingToDo, "The load-in inspection of %s is open already. Answer it.", robot.Name)
	}
	t.openSheet(robot, ListLoadIn)
	return nil
}

// loadedIn refuses where the event asks for a load-in inspection and the robot's
// is not done.
func (t *turn) loadedIn(r Robot) *Refusal {
	if !t.s().Event().LoadIn {
		return nil
	}
	return t.sheetDone(r, ListLoadIn)
}
