package board

import "slices"

// Joint is where parts of a robot are fastened to each other.
type Joint struct {
	ID JointID `json:"id"`
	V  Rev     `json:"v"`
	JointFields
	Retired bool `json:"retired,omitzero"`
}

// JointFields are what the team says of a joint.
type JointFields struct {
	Robot RobotID `json:"robot"`
	Name  string  `json:"name"`
	// Parts are those it joins, two or more.
	Parts []PartID `json:"parts"`
	// Fastening says how: "M5 button head", "tab and slot", "weld".
	Fastening string `json:"fastening"`
	// Count is how many of them; 0 where they are not counted, as a weld.
	Count int `json:"count,omitzero"`
	// Tool undoes it: "hex key 3".
	Tool string `json:"tool,omitzero"`
	// OffSec and OffBadSec are the likely and the bad time to undo all of it and
	// fasten it again; both 0 where the parts' own times hold it.
	OffSec    int `json:"offSec,omitzero"`
	OffBadSec int `json:"offBadSec,omitzero"`
}

func (j Joint) Key() Key         { return KeyOf(KindJoint, j.ID) }
func (j Joint) Rev() Rev         { return j.V }
func (j Joint) stamp(r Rev) Noun { j.V = r; return j }

func (j Joint) valid(s State) *Refusal {
	r := first(
		checkName("name", j.Name),
		checkName("fastening", j.Fastening),
		checkRange("count", j.Count, 0, 999, "fasteners"),
		checkShort("tool", j.Tool),
		checkTimes("offSec", "offBadSec", j.OffSec, j.OffBadSec),
	)
	if r != nil {
		return r
	}
	if _, ok := s.Robots[j.Robot]; !ok {
		return missing("robot", "robot")
	}
	if len(j.Parts) < 2 || len(j.Parts) > partListMost {
		return badField("parts", "A joint joins 2 to %d parts; this has %d.", partListMost, len(j.Parts))
	}
	for i, id := range j.Parts {
		switch p, ok := s.Parts[id]; {
		case slices.Contains(j.Parts[:i], id):
			return badField("parts", "%s is joined to itself. Name another part.", p.Name)
		case !ok || p.Robot != j.Robot || p.Retired && !j.Retired:
			return badField("parts", "That is no part on the map of this robot. Choose one that is.")
		}
	}
	if !j.Retired && sameName(s.Joints, j.ID, j.Name, func(o Joint) (string, bool) { return o.Name, !o.Retired && o.Robot == j.Robot }) {
		return nameTaken(j.Name)
	}
	return nil
}

// JointAdd enters a joint.
type JointAdd struct{ JointFields }

func (c JointAdd) do(t *turn) *Refusal {
	t.put(Joint{ID: JointID(t.id(KindJoint, string(c.Robot)+" "+c.Name)), JointFields: c.JointFields})
	return nil
}

// JointChange replaces what is said of a joint. It stays with its robot.
type JointChange struct {
	Joint JointID `json:"joint"`
	JointFields
}

func (c JointChange) do(t *turn) *Refusal {
	j, ok := t.s().Joints[c.Joint]
	if !ok {
		return missing("joint", "joint")
	}
	if c.Robot != j.Robot {
		return staysWithRobot("joint")
	}
	j.JointFields = c.JointFields
	t.put(j)
	return nil
}

// JointRetire takes a joint off the map; the record keeps it.
type JointRetire struct {
	Joint JointID `json:"joint"`
}

func (c JointRetire) do(t *turn) *Refusal {
	j, ok := t.s().Joints[c.Joint]
	if !ok {
		return missing("joint", "joint")
	}
	j.Retired = true
	t.put(j)
	return nil
}
