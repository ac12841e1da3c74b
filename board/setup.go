package board

import "slices"

// Setup is a choice of modules for a robot's slots.
type Setup struct {
	ID SetupID `json:"id"`
	V  Rev     `json:"v"`
	SetupFields
	Retired bool `json:"retired,omitzero"`
}

// SetupFields are what the team says of a setup.
type SetupFields struct {
	Robot RobotID `json:"robot"`
	Name  string  `json:"name"`
	// Modules has one a slot at most; a slot that is left out is empty.
	Modules []ModuleID `json:"modules,omitempty"`
	// Declared setups were named to the officials. The heaviest of them is weighed.
	Declared bool `json:"declared,omitzero"`
	// Against lists the kinds of opponent that the team takes it for: "spinner".
	Against []string `json:"against,omitempty"`
	Notes   string   `json:"notes,omitzero"`
	// NotNeeded lists the functions that a fight in this setup does not ask for.
	NotNeeded []string `json:"notNeeded,omitempty"`
}

func (u Setup) Key() Key         { return KeyOf(KindSetup, u.ID) }
func (u Setup) Rev() Rev         { return u.V }
func (u Setup) stamp(r Rev) Noun { u.V = r; return u }

func (u Setup) has(m ModuleID) bool { return slices.Contains(u.Modules, m) }

func (u Setup) valid(s State) *Refusal {
	r := first(
		checkName("name", u.Name),
		checkNote("notes", u.Notes),
		checkRange("against", len(u.Against), 0, 12, "kinds of opponent"),
		each(u.Against, func(k string) *Refusal { return checkName("against", k) }),
		checkRange("notNeeded", len(u.NotNeeded), 0, 12, "functions"),
		each(u.NotNeeded, func(f string) *Refusal { return checkName("notNeeded", f) }),
	)
	if r != nil {
		return r
	}
	if _, ok := s.Robots[u.Robot]; !ok {
		return missing("robot", "robot")
	}
	if !u.Retired && sameName(s.Setups, u.ID, u.Name, func(o Setup) (string, bool) { return o.Name, !o.Retired && o.Robot == u.Robot }) {
		return nameTaken(u.Name)
	}
	return s.oneASlot(u.Robot, u.Modules)
}

// oneASlot refuses modules that are not the robot's, and two for one slot.
func (s State) oneASlot(robot RobotID, modules []ModuleID) *Refusal {
	slots := map[string]string{}
	for _, id := range modules {
		m, ok := s.Modules[id]
		if !ok || m.Robot != robot {
			return badField("modules", "That is no module of this robot. Choose one that is.")
		}
		if other, two := slots[m.Slot]; two {
			return badField("modules", "%s and %s both go into the slot %s. Choose one of them.", other, m.Name, m.Slot)
		}
		slots[m.Slot] = m.Name
	}
	return nil
}

// SetupAdd enters a setup.
type SetupAdd struct{ SetupFields }

func (c SetupAdd) do(t *turn) *Refusal {
	t.put(Setup{ID: SetupID(t.id(KindSetup, string(c.Robot)+" "+c.Name)), SetupFields: c.SetupFields})
	return nil
}

// SetupChange replaces what is said of a setup. It stays with its robot.
type SetupChange struct {
	Setup SetupID `json:"setup"`
	SetupFields
}

func (c SetupChange) do(t *turn) *Refusal {
	u, ok := t.s().Setups[c.Setup]
	if !ok {
		return missing("setup", "setup")
	}
	if c.Robot != u.Robot {
		return staysWithRobot("setup")
	}
	u.SetupFields = c.SetupFields
	t.put(u)
	return nil
}

// SetupRetire takes a setup off the board.
type SetupRetire struct {
	Setup SetupID `json:"setup"`
}

func (c SetupRetire) do(t *turn) *Refusal {
	u, ok := t.s().Setups[c.Setup]
	if !ok {
		return missing("setup", "setup")
	}
	u.Retired = true
	t.put(u)
	return nil
}
