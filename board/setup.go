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

func (setup Setup) Key() Key         { return KeyOf(KindSetup, setup.ID) }
func (setup Setup) Rev() Rev         { return setup.V }
func (setup Setup) stamp(r Rev) Noun { setup.V = r; return setup }

func (setup Setup) called() (name, among string, inUse bool) {
	return setup.Name, string(setup.Robot), !setup.Retired
}

func (setup Setup) has(m ModuleID) bool { return slices.Contains(setup.Modules, m) }

func (setup Setup) valid(s State) *Refusal {
	bad := first(
		checkName("name", setup.Name),
		checkNote("notes", setup.Notes),
		checkRange("against", len(setup.Against), 0, 12, "kinds of opponent"),
		each(setup.Against, func(k string) *Refusal { return checkName("against", k) }),
		checkRange("notNeeded", len(setup.NotNeeded), 0, 12, "functions"),
		each(setup.NotNeeded, func(f string) *Refusal { return checkName("notNeeded", f) }),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Robots[setup.Robot]; !ok {
		return missing("robot", "robot")
	}
	return s.oneASlot(setup.Robot, setup.Modules)
}

// oneASlot refuses modules that are not the robot's, and two for one slot.
func (s State) oneASlot(robot RobotID, modules []ModuleID) *Refusal {
	slots := map[string]string{}
	for _, id := range modules {
		module, ok := s.Modules[id]
		if !ok || module.Robot != robot {
			return badField("modules", "That is no module of this robot. Choose one that is.")
		}
		if other, two := slots[module.Slot]; two {
			return badField("modules", "%s and %s both go into the slot %s. Choose one of them.", other, module.Name, module.Slot)
		}
		slots[module.Slot] = module.Name
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
	setup, ok := t.s().Setups[c.Setup]
	if !ok {
		return missing("setup", "setup")
	}
	if c.Robot != setup.Robot {
		return staysWithRobot("setup")
	}
	setup.SetupFields = c.SetupFields
	t.put(setup)
	return nil
}

// SetupRetire takes a setup off the board.
type SetupRetire struct {
	Setup SetupID `json:"setup"`
}

func (c SetupRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Setups, c.Setup, missing("setup", "setup"), func(n *Setup) { n.Retired = true })
}
