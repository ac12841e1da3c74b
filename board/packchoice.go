package board

import (
	"slices"

	"mendline/board/charge"
)

// PackChoose says which robot's next fight a pack is for; no robot takes that back.
// The board plans with it, and bars no other pack. A choice ends when the pack goes
// into a robot, is set aside or is not one for that robot any more, when the robot is
// withdrawn and when either leaves the board.
type PackChoose struct {
	Pack  PackID  `json:"pack"`
	Robot RobotID `json:"robot,omitzero"`
}

func (c PackChoose) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok || p.Retired {
		return missing("pack", "pack")
	}
	if c.Robot != "" {
		r, ok := t.s().Robots[c.Robot]
		switch {
		case !ok || r.Retired:
			return missing("robot", "robot")
		case r.Withdrawn:
			return refuse(CodeState, "%s is withdrawn and has no next fight. Choose the pack for another, or let the captain take %s back in first.", r.Name, r.Name)
		case p.State.setAside():
			return breaks(13, "Pack %s is %s and not for use any more: choose another. %s", p.Name, p.State, p.keepOff())
		case !slices.Contains(p.Fits, c.Robot):
			return badField("robot", "Pack %s is not one for %s by its record. Choose another, or let the captain change what it is for.", p.Name, r.Name)
		case p.Use == UseTransmitter:
			return badField("pack", "Pack %s is for a transmitter: which one is in it is said on the way to the signature. Read it, and name it there.", p.Name)
		case p.Robot != "" && !p.CameBack:
			return refuse(CodeState, "Pack %s is in %s. Take it out first.", p.Name, t.s().Robots[p.Robot].Name)
		}
		t.unchoose(r, p)
	}
	p.ChosenFor = c.Robot
	t.put(p)
	return nil
}

// unchoose takes back what was chosen for r before p, where both do not go together.
func (t *turn) unchoose(r Robot, p Pack) {
	room := r.Takes(p.Use) - 1
	for _, o := range Sorted(t.s().Packs, func(o Pack) string { return o.Name + string(o.ID) }) {
		if o.ID == p.ID || o.ChosenFor != r.ID || o.Use != p.Use {
			continue
		}
		if room > 0 && o.Kind() == p.Kind() {
			room--
			continue
		}
		o.ChosenFor = ""
		t.put(o)
	}
}

// endChoices ends the choices that nobody can follow any more.
func (t *turn) endChoices() {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		r := t.s().Robots[p.ChosenFor]
		if p.ChosenFor != "" && (p.Retired || p.State.setAside() || !r.fights() || !slices.Contains(p.Fits, r.ID)) {
			p.ChosenFor = ""
			t.put(p)
		}
	}
}

// fights tells whether r is on the board and not withdrawn.
func (r Robot) fights() bool { return r.ID != "" && !r.Retired && !r.Withdrawn }

// PackKind is what makes packs fit to be used together.
type PackKind struct {
	Chemistry  charge.Chemistry
	Cells      int
	Parallel   int
	CapacityAh float64
}

// Kind is the pack's.
func (f PackFields) Kind() PackKind {
	return PackKind{f.Chemistry, f.Cells, f.Parallel, f.CapacityAh}
}
