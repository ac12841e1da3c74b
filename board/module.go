package board

import "slices"

// Module is a thing that goes into one of a robot's slots: an armour panel, a
// pair of forks, a weapon.
type Module struct {
	ID ModuleID `json:"id"`
	V  Rev      `json:"v"`
	ModuleFields
	// Worn is how many fights it has been through.
	Worn    int  `json:"worn,omitzero"`
	Retired bool `json:"retired,omitzero"`
}

// ModuleFields are what the team says of a module.
type ModuleFields struct {
	Robot RobotID `json:"robot"`
	// Slot is where it goes: "front". A slot holds one module.
	Slot      string  `json:"slot"`
	Name      string  `json:"name"`
	MassGrams float64 `json:"massGrams"`
	// SwapSec and SwapBadSec are the likely and the bad time to put it on in place
	// of another.
	SwapSec    int `json:"swapSec"`
	SwapBadSec int `json:"swapBadSec"`
	// Lasts is how many fights one of them is good for; 0 is not known.
	Lasts int     `json:"lasts,omitzero"`
	Stock StockID `json:"stock,omitzero"`
}

func (module Module) Key() Key         { return KeyOf(KindModule, module.ID) }
func (module Module) Rev() Rev         { return module.V }
func (module Module) stamp(r Rev) Noun { module.V = r; return module }

func (module Module) called() (name, among string, inUse bool) {
	return module.Name, string(module.Robot), !module.Retired
}

func (module Module) valid(s State) *Refusal {
	bad := first(
		checkName("slot", module.Slot),
		checkName("name", module.Name),
		checkRange("massGrams", module.MassGrams, 0, partMassMost, "g"),
		checkTimes("swapSec", "swapBadSec", module.SwapSec, module.SwapBadSec),
		checkRange("lasts", module.Lasts, 0, 999, "fights"),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Robots[module.Robot]; !ok {
		return missing("robot", "robot")
	}
	if _, ok := s.Stocks[module.Stock]; module.Stock != "" && !ok {
		return missing("spare", "stock")
	}
	return nil
}

// ModuleAdd enters a module.
type ModuleAdd struct{ ModuleFields }

func (c ModuleAdd) do(t *turn) *Refusal {
	t.put(Module{ID: ModuleID(t.id(KindModule, string(c.Robot)+" "+c.Name)), ModuleFields: c.ModuleFields})
	return nil
}

// ModuleChange replaces what is said of a module. It stays with its robot.
type ModuleChange struct {
	Module ModuleID `json:"module"`
	ModuleFields
}

func (c ModuleChange) do(t *turn) *Refusal {
	module, ok := t.s().Modules[c.Module]
	if !ok {
		return missing("module", "module")
	}
	if c.Robot != module.Robot {
		return staysWithRobot("module")
	}
	if c.Slot != module.Slot {
		for _, setup := range Sorted(t.s().Setups, func(setup Setup) string { return setup.Name + string(setup.ID) }) {
			if !setup.Retired && setup.has(module.ID) {
				return badField("slot", "The setup %s has it in the slot %s. Take it out of the setup first.", setup.Name, module.Slot)
			}
		}
	}
	module.ModuleFields = c.ModuleFields
	t.put(module)
	return nil
}

// ModuleRenew says that a new one has taken a module's place: its wear begins
// again.
type ModuleRenew struct {
	Module ModuleID `json:"module"`
}

func (c ModuleRenew) do(t *turn) *Refusal {
	module, ok := t.s().Modules[c.Module]
	if !ok {
		return missing("module", "module")
	}
	if module.Worn == 0 {
		return refuse(CodeNothingToDo, "%s has been through no fight. It is as good as new.", module.Name)
	}
	module.Worn = 0
	t.put(module)
	for id, fit := range inOrder(t.s().Fits) {
		if !slices.Contains(fit.Modules, module.ID) {
			continue
		}
		power, robot, bad := t.power(id)
		switch {
		case bad != nil:
			return bad
		case power.State.Energised() && !t.late():
			return breaks(7, "%s is %s: hands out until that has ended. Say it then.", robot.Name, power.State)
		}
		fit.By, fit.At = t.by.Person, t.now
		t.put(fit)
		t.fittedSince(power, robot)
	}
	return nil
}

// wear counts fights on every module that a robot has on, one taken back as -1.
func (t *turn) wear(robot RobotID, fights int) {
	for _, id := range t.s().Fits[robot].Modules {
		module := t.s().Modules[id]
		module.Worn = max(0, module.Worn+fights)
		t.put(module)
	}
}

// ModuleRetire takes a module off the board.
type ModuleRetire struct {
	Module ModuleID `json:"module"`
}

func (c ModuleRetire) do(t *turn) *Refusal {
	module, ok := t.s().Modules[c.Module]
	if !ok {
		return missing("module", "module")
	}
	for _, setup := range Sorted(t.s().Setups, func(setup Setup) string { return setup.Name + string(setup.ID) }) {
		if !setup.Retired && setup.has(module.ID) {
			return refuse(CodeState, "The setup %s has %s in it. Change or retire the setup first.", setup.Name, module.Name)
		}
	}
	module.Retired = true
	t.put(module)
	return nil
}
