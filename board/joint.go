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

func (joint Joint) Key() Key         { return KeyOf(KindJoint, joint.ID) }
func (joint Joint) Rev() Rev         { return joint.V }
func (joint Joint) stamp(r Rev) Noun { joint.V = r; return joint }

func (joint Joint) called() (name, among string, inUse bool) {
	return joint.Name, string(joint.Robot), !joint.Retired
}

func (joint Joint) valid(s State) *Refusal {
	bad := first(
		checkName("name", joint.Name),
		checkName("fastening", joint.Fastening),
		checkRange("count", joint.Count, 0, 999, "fasteners"),
		checkShort("tool", joint.Tool),
		checkTimes("offSec", "offBadSec", joint.OffSec, joint.OffBadSec),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Robots[joint.Robot]; !ok {
		return missing("robot", "robot")
	}
	if len(joint.Parts) < 2 || len(joint.Parts) > partListMost {
		return badField("parts", "A joint joins 2 to %d parts; this has %d.", partListMost, len(joint.Parts))
	}
	for i, id := range joint.Parts {
		switch part, ok := s.Parts[id]; {
		case slices.Contains(joint.Parts[:i], id):
			return badField("parts", "%s is joined to itself. Name another part.", part.Name)
		case !ok || part.Robot != joint.Robot || part.Retired && !joint.Retired:
			return badField("parts", "That is no part on the map of this robot. Choose one that is.")
		}
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
	joint, ok := t.s().Joints[c.Joint]
	if !ok {
		return missing("joint", "joint")
	}
	if c.Robot != joint.Robot {
		return staysWithRobot("joint")
	}
	joint.JointFields = c.JointFields
	t.put(joint)
	return nil
}

// JointRetire takes a joint off the map; the record keeps it.
type JointRetire struct {
	Joint JointID `json:"joint"`
}

func (c JointRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Joints, c.Joint, missing("joint", "joint"), func(n *Joint) { n.Retired = true })
}
