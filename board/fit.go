package board

import "slices"

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
	By        PersonID   `json:"by,omitzero"`
	At        Moment     `json:"at"`
}

func (f Fit) Key() Key         { return KeyOf(KindFit, f.Robot) }
func (f Fit) Rev() Rev         { return f.V }
func (f Fit) stamp(r Rev) Noun { f.V = r; return f }

const gramsMost = 1000000

func (f Fit) valid(s State) *Refusal {
	if _, ok := s.Robots[f.Robot]; !ok {
		return missing("robot", "robot")
	}
	if u, ok := s.Setups[f.Setup]; f.Setup != "" && (!ok || u.Robot != f.Robot) {
		return badField("setup", "That is no setup of this robot. Choose one that is.")
	}
	w := f.Weighed
	return first(
		s.oneASlot(f.Robot, f.Modules),
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
	w, robot, r := t.power(c.Robot)
	if r != nil {
		return r
	}
	modules := c.Modules
	switch u, ok := t.s().Setups[c.Setup]; {
	case w.State.energised() && !t.late():
		return breaks(7, "%s is %s: hands out until that has ended. Say it then.", robot.Name, w.State)
	case c.Setup != "" && !ok:
		return missing("setup", "setup")
	case c.Setup != "" && len(modules) > 0:
		return badField("modules", "Name a setup, or modules, not both.")
	case c.Setup != "":
		modules = u.Modules
	}
	f := t.s().Fits[robot.ID]
	f.Robot, f.Setup = robot.ID, c.Setup
	changed := !sameSet(f.Modules, modules)
	if changed {
		f.By, f.At = t.by.Person, t.now
	}
	f.Modules = modules
	t.put(f)
	if changed {
		t.fittedSince(w, robot)
	}
	return nil
}

// fittedSince asks again what was answered of the modules that were on before:
// making safe and the load-in where "not fitted" was said, closing up where hands
// have been at it since.
func (t *turn) fittedSince(w Power, r Robot) {
	t.closeUpAnew(w, r)
	if h, ok := t.s().Sheet(r.ID, ListLoadIn); ok && h.saidNotFitted() {
		t.beginSheet(r, ListLoadIn, func(_ Sheet, _ Line, a Answer) bool { return a.Said != SaidNotFitted })
	}
	h, ok := t.s().Sheet(r.ID, ListMakeSafe)
	switch {
	case !ok || h.State != SheetOpen || !h.saidNotFitted():
	case w.State == Unknown:
		t.openSheet(r, ListMakeSafe)
	default:
		t.becomeUnknown(w, "other modules are on than when \"not fitted\" was said", false)
	}
}

// closeUpAnew begins the closing-up sheet of a robot that is being closed up
// anew, with the answers that no module has overtaken.
func (t *turn) closeUpAnew(w Power, r Robot) {
	h, _ := t.s().Sheet(r.ID, ListCloseUp)
	_, stale := t.s().staleOn(h)
	if w.State == ClosingUp && stale && t.openLine(r.ID, ListReopen) == "" {
		t.endSheets(r.ID, ListReady)
		t.openSheet(r, ListCloseUp)
	}
}

func (h Sheet) saidNotFitted() bool {
	return slices.ContainsFunc(h.Lines, func(l Line) bool {
		a, answered := h.Answered(l.ID)
		return answered && a.Said == SaidNotFitted
	})
}

// RobotWeigh enters what a scale reads of a robot as it stands.
type RobotWeigh struct {
	Robot     RobotID `json:"robot"`
	Grams     float64 `json:"grams"`
	Scale     string  `json:"scale,omitzero"`
	StepGrams float64 `json:"stepGrams,omitzero"`
}

func (c RobotWeigh) do(t *turn) *Refusal {
	if _, _, r := t.power(c.Robot); r != nil {
		return r
	}
	if r := checkRange("grams", c.Grams, 0.1, gramsMost, "g"); r != nil {
		return r
	}
	t.weighed(c.Robot, Weighing{Grams: c.Grams, Scale: c.Scale, StepGrams: c.StepGrams, By: t.by.Person, At: t.when})
	return nil
}

// weighed keeps a reading with the modules and packs that were on. A reading on a
// sheet names no scale: the last one stands.
func (t *turn) weighed(robot RobotID, w Weighing) {
	f := t.s().Fits[robot]
	f.Robot = robot
	if w.Scale == "" && w.StepGrams == 0 {
		w.Scale, w.StepGrams = f.Weighed.Scale, f.Weighed.StepGrams
	}
	w.Modules, w.Packs = f.Modules, t.s().fitted(robot)
	f.Weighed = w
	t.put(f)
}

// WeighStale says why a robot's last reading holds no more, or "" where it does
// or there is none. Packs that are out for work do not count until one is in.
func (s State) WeighStale(robot RobotID) string {
	f := s.Fits[robot]
	w := f.Weighed
	switch {
	case w.At == 0:
		return ""
	case !sameSet(f.Modules, w.Modules):
		return "other modules are on since it was weighed"
	case len(s.fitted(robot)) > 0 && !sameSet(s.fitted(robot), w.Packs) && !s.sameMass(s.fitted(robot), w.Packs):
		return "another pack is in since it was weighed"
	case s.touched(robot, Line{Covers: []System{SysMass}}, w.At):
		return "work since it was weighed may have changed its mass"
	}
	return ""
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
