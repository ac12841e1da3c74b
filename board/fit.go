package board

import (
	"fmt"
	"slices"
	"strings"
)

// Fit is what is fitted to a robot now, and what it weighed last. It is keyed by
// the robot.
type Fit struct {
	Robot RobotID `json:"robot"`
	V     Rev     `json:"v"`
	// Setup is the one that was named; the modules may be those of none.
	Setup   SetupID    `json:"setup,omitzero"`
	Modules []ModuleID `json:"modules,omitempty"`
	By      PersonID   `json:"by,omitzero"`
	// At is when the modules were last changed.
	At      Moment   `json:"at,omitzero"`
	Weighed Weighing `json:"weighed,omitzero"`
}

// Weighing is one reading of a scale with all that was on the robot.
type Weighing struct {
	Grams float64 `json:"grams"`
	// Scale names the scale, StepGrams is the step it shows; "" and 0 where nobody
	// said.
	Scale     string     `json:"scale,omitzero"`
	StepGrams float64    `json:"stepGrams,omitzero"`
	Modules   []ModuleID `json:"modules,omitempty"`
	Packs     []PackID   `json:"packs,omitempty"`
	// Sure marks a reading that the board asked about and that was said again.
	Sure bool     `json:"sure,omitzero"`
	By   PersonID `json:"by,omitzero"`
	At   Moment   `json:"at"`
}

func (fit Fit) Key() Key         { return KeyOf(KindFit, fit.Robot) }
func (fit Fit) Rev() Rev         { return fit.V }
func (fit Fit) stamp(r Rev) Noun { fit.V = r; return fit }

const gramsMost = 1000000

func (fit Fit) valid(s State) *Refusal {
	if _, ok := s.Robots[fit.Robot]; !ok {
		return missing("robot", "robot")
	}
	if setup, ok := s.Setups[fit.Setup]; fit.Setup != "" && (!ok || setup.Robot != fit.Robot) {
		return badField("setup", "That is no setup of this robot. Choose one that is.")
	}
	w := fit.Weighed
	return first(
		s.oneASlot(fit.Robot, fit.Modules),
		checkRange("grams", w.Grams, 0, gramsMost, "g"),
		checkRange("stepGrams", w.StepGrams, 0, 10000, "g"),
		checkShort("scale", w.Scale),
	)
}

// RobotFit says which setup is on a robot now, or which modules where it is none
// of the setups.
type RobotFit struct {
	Robot   RobotID    `json:"robot"`
	Setup   SetupID    `json:"setup,omitzero"`
	Modules []ModuleID `json:"modules,omitempty"`
}

func (c RobotFit) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	modules := c.Modules
	switch setup, ok := t.s().Setups[c.Setup]; {
	case power.State.Energised() && !t.late():
		return breaks(7, "%s is %s: hands out until that has ended. Say it then.", robot.Name, power.State)
	case c.Setup != "" && !ok:
		return missing("setup", "setup")
	case c.Setup != "" && len(modules) > 0:
		return badField("modules", "Name a setup, or modules, not both.")
	case c.Setup != "":
		modules = setup.Modules
	}
	fit := t.s().Fits[robot.ID]
	fit.Robot, fit.Setup = robot.ID, c.Setup
	changed := !sameSet(fit.Modules, modules)
	if changed {
		fit.By, fit.At = t.by.Person, t.now
	}
	fit.Modules = modules
	t.put(fit)
	if changed {
		t.fittedSince(power, robot)
	}
	return nil
}

// fittedSince asks again what was answered of the modules that were on before:
// making safe and the load-in where "not fitted" was said, closing up where hands
// have been at it since.
func (t *turn) fittedSince(power Power, r Robot) {
	t.closeUpAnew(power, r)
	if sheet, ok := t.s().Sheet(r.ID, ListLoadIn); ok && sheet.saidNotFitted() {
		t.beginSheet(r, ListLoadIn, func(_ Sheet, _ Line, a Answer) bool { return a.Said != SaidNotFitted })
	}
	sheet, ok := t.s().Sheet(r.ID, ListMakeSafe)
	switch {
	case !ok || sheet.State != SheetOpen || !sheet.saidNotFitted():
	case power.State == Unknown:
		t.openSheet(r, ListMakeSafe)
	default:
		t.becomeUnknown(power, "other modules are on than when \"not fitted\" was said", false)
	}
}

// closeUpAnew begins the closing-up sheet of a robot that is being closed up
// again, with the answers that no module has overtaken.
func (t *turn) closeUpAnew(power Power, r Robot) {
	sheet, _ := t.s().Sheet(r.ID, ListCloseUp)
	_, stale := t.s().staleOn(sheet)
	if power.State == ClosingUp && stale && t.openLine(r.ID, ListReopen) == "" {
		t.endSheets(r.ID, ListReady)
		t.openSheet(r, ListCloseUp)
	}
}

func (sheet Sheet) saidNotFitted() bool {
	return slices.ContainsFunc(sheet.Lines, func(l Line) bool {
		a, answered := sheet.Answered(l.ID)
		return answered && a.Said == SaidNotFitted
	})
}

// RobotWeigh enters what a scale reads of a robot as it stands.
type RobotWeigh struct {
	Robot     RobotID `json:"robot"`
	Grams     float64 `json:"grams"`
	Scale     string  `json:"scale,omitzero"`
	StepGrams float64 `json:"stepGrams,omitzero"`
	// Sure says that the person who read the scale has looked again.
	Sure bool `json:"sure,omitzero"`
}

func (c RobotWeigh) do(t *turn) *Refusal {
	if _, _, bad := t.power(c.Robot); bad != nil {
		return bad
	}
	if bad := checkRange("grams", c.Grams, 0.1, gramsMost, "g"); bad != nil {
		return bad
	}
	if !t.s().Robots[c.Robot].Class.Said() {
		return refuse(CodeState, "Nobody has said the class and limit of %s yet. The captain enters them, then it is weighed.", t.s().Robots[c.Robot].Name)
	}
	if last := t.s().Fits[c.Robot].Weighed; t.when < last.At {
		return refuse(CodeState, "%s was weighed again after that: %s. The later reading stands.", t.s().Robots[c.Robot].Name, grams(last.Grams))
	}
	t.weighed(c.Robot, Weighing{Grams: c.Grams, Scale: c.Scale, StepGrams: c.StepGrams, Sure: c.Sure, By: t.by.Person, At: t.when})
	return nil
}

// rule11Weighed takes a reading of a scale from someone who answers for it, and asks
// again for one that is hardly so: under half the class limit, or over it (our decision).
func rule11Weighed(t *turn) *Refusal {
	for id, fit := range inOrder(t.s().Fits) {
		was, is := t.before.Fits[id].Weighed, fit.Weighed
		if is.At == was.At && is.Grams == was.Grams && is.By == was.By {
			continue
		}
		who, robot := t.s().People[is.By], t.s().Robots[id]
		limit := robot.Class.LimitGrams()
		var odd string
		switch {
		case who.ID == "":
			return breaks(11, "A weight is kept with the name of who read the scale. Join with a name first.")
		case !who.Answers():
			return breaks(11, "%s is %s: one of the crew reads the scale and enters it.", who.Name, who.whatIs())
		case is.Sure:
			continue
		case is.Grams < limit/2:
			odd = fmt.Sprintf("%s is under half of the %s limit", grams(is.Grams), grams(limit))
		case is.Grams > limit+convertGrams:
			odd = fmt.Sprintf("%s is over the %s limit, by %s", grams(is.Grams), grams(limit), grams(is.Grams-limit))
		default:
			continue
		}
		return &Refusal{Code: CodeUnlikely, Rule: 11, Field: "sure", Sentence: odd + ". Look at the scale again: is that what it shows?"}
	}
	return nil
}

// tooHeavy refuses a robot whose last reading of a scale was over its class limit.
func (s State) tooHeavy(r Robot) *Refusal {
	limit, w := r.Class.LimitGrams(), s.Fits[r.ID].Weighed
	if w.At == 0 || w.Grams <= limit+convertGrams {
		return nil
	}
	return breaks(11, "The scale last read %s of %s, and its limit is %s. Lighten it and weigh it again.", grams(w.Grams), r.Name, grams(limit))
}

func grams(n float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", n), ".0") + " g"
}

// weighed keeps a reading with the modules and packs that were on, unless a later one is
// kept. A reading on a sheet names no scale: the last one stands.
func (t *turn) weighed(robot RobotID, w Weighing) {
	fit := t.s().Fits[robot]
	if w.At < fit.Weighed.At {
		return
	}
	fit.Robot = robot
	if w.Scale == "" && w.StepGrams == 0 {
		w.Scale, w.StepGrams = fit.Weighed.Scale, fit.Weighed.StepGrams
	}
	w.Modules, w.Packs = fit.Modules, t.s().fitted(robot)
	fit.Weighed = w
	t.put(fit)
}

// WeighStale says why a robot's last reading no longer holds, or "" where it does
// or there is none. Packs that are out for work do not count until one is in.
func (s State) WeighStale(robot RobotID) string {
	fit := s.Fits[robot]
	w := fit.Weighed
	switch {
	case w.At == 0:
		return ""
	case !sameSet(fit.Modules, w.Modules):
		return "other modules are on since it was weighed"
	case s.otherPacks(robot):
		return "another pack is in since it was weighed"
	case s.touched(robot, Line{Covers: []System{SysMass}}, w.At):
		return "work since it was weighed may have changed its mass"
	}
	return ""
}

// otherPacks tells whether a robot's last reading does not say what it weighs with the
// packs that are in it now: others than then, not known to weigh the same nor of the same
// kind, or with a record that was changed since.
func (s State) otherPacks(robot RobotID) bool {
	w, in := s.Fits[robot].Weighed, s.fitted(robot)
	if w.At == 0 || len(in) == 0 {
		return false
	}
	changed := slices.ContainsFunc(in, func(id PackID) bool { return s.Packs[id].ReweighAt > w.At })
	return changed || !sameSet(in, w.Packs) && !s.sameMass(in, w.Packs) && !s.sameKinds(in, w.Packs)
}

// weighs tells whether a line asks what the robot weighs.
func (l Line) weighs() bool {
	return l.Kind == LineNumber && l.Unit == massUnit && slices.Contains(l.Covers, SysMass)
}

// sameKinds tells whether two lots of packs, of which no mass is known, are of the same
// kinds.
func (s State) sameKinds(a, b []PackID) bool {
	left := slices.Clone(b)
	for _, id := range a {
		i := slices.IndexFunc(left, func(o PackID) bool { return o == id })
		if i < 0 {
			i = slices.IndexFunc(left, func(o PackID) bool {
				return s.Packs[o].Kind() == s.Packs[id].Kind() && s.Packs[o].MassGrams == 0 && s.Packs[id].MassGrams == 0
			})
		}
		if i < 0 {
			return false
		}
		left = slices.Delete(left, i, i+1)
	}
	return len(left) == 0
}

// sameMass tells whether two lots of packs are known to weigh the same.
func (s State) sameMass(a, b []PackID) bool {
	sum := func(ids []PackID) (grams float64, known bool) {
		for _, id := range ids {
			if s.Packs[id].MassGrams == 0 {
				return 0, false
			}
			grams += s.Packs[id].MassGrams
		}
		return grams, true
	}
	x, known := sum(a)
	y, too := sum(b)
	return known && too && x == y
}

// sameSet tells whether two lists hold the same, in whatever order.
func sameSet[ID ~string](a, b []ID) bool {
	return len(a) == len(b) && !slices.ContainsFunc(a, func(id ID) bool { return !slices.Contains(b, id) })
}
