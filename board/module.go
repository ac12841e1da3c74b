package board

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

func (m Module) Key() Key         { return KeyOf(KindModule, m.ID) }
func (m Module) Rev() Rev         { return m.V }
func (m Module) stamp(r Rev) Noun { m.V = r; return m }

func (m Module) valid(s State) *Refusal {
	r := first(
		checkName("slot", m.Slot),
		checkName("name", m.Name),
		checkRange("massGrams", m.MassGrams, 0, partMassMost, "g"),
		checkTimes("swapSec", "swapBadSec", m.SwapSec, m.SwapBadSec),
		checkRange("lasts", m.Lasts, 0, 999, "fights"),
	)
	if r != nil {
		return r
	}
	if _, ok := s.Robots[m.Robot]; !ok {
		return missing("robot", "robot")
	}
	if _, ok := s.Stocks[m.Stock]; m.Stock != "" && !ok {
		return missing("spare", "stock")
	}
	if !m.Retired && sameName(s.Modules, m.ID, m.Name, func(o Module) (string, bool) { return o.Name, !o.Retired && o.Robot == m.Robot }) {
		return nameTaken(m.Name)
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
	m, ok := t.s().Modules[c.Module]
	if !ok {
		return missing("module", "module")
	}
	if c.Robot != m.Robot {
		return staysWithRobot("module")
	}
	if c.Slot != m.Slot {
		for _, u := range sortedBy(t.s().Setups, func(u Setup) string { return u.Name + string(u.ID) }) {
			if !u.Retired && u.has(m.ID) {
				return badField("slot", "The setup %s has it in the slot %s. Take it out of the setup first.", u.Name, m.Slot)
			}
		}
	}
	m.ModuleFields = c.ModuleFields
	t.put(m)
	return nil
}

// ModuleRenew says that a new one has taken a module's place: its wear begins
// again.
type ModuleRenew struct {
	Module ModuleID `json:"module"`
}

func (c ModuleRenew) do(t *turn) *Refusal {
	m, ok := t.s().Modules[c.Module]
	if !ok {
		return missing("module", "module")
	}
	if m.Worn == 0 {
		return refuse(CodeNothingToDo, "%s has been through no fight. It is as good as new.", m.Name)
	}
	m.Worn = 0
	t.put(m)
	return nil
}

// wear counts a fight on every module that a robot has on.
func (t *turn) wear(robot RobotID) {
	for _, id := range t.s().Fits[robot].Modules {
		m := t.s().Modules[id]
		m.Worn++
		t.put(m)
	}
}

// ModuleRetire takes a module off the board.
type ModuleRetire struct {
	Module ModuleID `json:"module"`
}

func (c ModuleRetire) do(t *turn) *Refusal {
	m, ok := t.s().Modules[c.Module]
	if !ok {
		return missing("module", "module")
	}
	for _, u := range sortedBy(t.s().Setups, func(u Setup) string { return u.Name + string(u.ID) }) {
		if !u.Retired && u.has(m.ID) {
			return refuse(CodeState, "The setup %s has %s in it. Change or retire the setup first.", u.Name, m.Name)
		}
	}
	m.Retired = true
	t.put(m)
	return nil
}
