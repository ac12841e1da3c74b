package board

import "slices"

// Part is one part of one robot, as its part map has it.
type Part struct {
	ID PartID `json:"id"`
	V  Rev    `json:"v"`
	PartFields
	Retired bool `json:"retired,omitzero"`
	// Bends are how far from straight it was measured, oldest first.
	Bends []Bend `json:"bends,omitempty"`
}

// PartFields are what the team says of a part.
type PartFields struct {
	Robot RobotID `json:"robot"`
	// Name is the part's own on its robot: "rail, left".
	Name string `json:"name"`
	// Assembly groups parts: "drive, left".
	Assembly  string  `json:"assembly,omitzero"`
	Material  string  `json:"material,omitzero"`
	MassGrams float64 `json:"massGrams,omitzero"`
	// What one part costs by the list and what was paid: its material, or its price
	// where it is bought, and the machining that others did; OwnSec is the team's
	// own work on it.
	MaterialListCents  int `json:"materialListCents,omitzero"`
	MaterialPaidCents  int `json:"materialPaidCents,omitzero"`
	MachiningListCents int `json:"machiningListCents,omitzero"`
	MachiningPaidCents int `json:"machiningPaidCents,omitzero"`
	OwnSec             int `json:"ownSec,omitzero"`
	LeadDays           int `json:"leadDays,omitzero"`
	// Stock is the spare that goes in its place.
	Stock StockID `json:"stock,omitzero"`
	// OffSec and OffBadSec are the likely and the bad time to take the part off and
	// put it back, its fastenings not counted; both 0 where it takes no time.
	OffSec    int `json:"offSec,omitzero"`
	OffBadSec int `json:"offBadSec,omitzero"`
	// BendMmPer100 is how far from straight it may be, in mm of gap under a straightedge
	// for each 100 mm of length; 0 where nobody said.
	BendMmPer100 float64 `json:"bendMmPer100,omitzero"`
	// First is what must come off before it: any one of these sets; none where it is
	// reached at once.
	First []Access `json:"first,omitempty"`
	// Next lists the parts that a hit on this one runs into next.
	Next []PartID `json:"next,omitempty"`
	// Serves says what the robot does by means of this part.
	Serves []Serve `json:"serves,omitempty"`
}

// Access is one set of parts that must all be off.
type Access struct {
	Parts []PartID `json:"parts"`
}

// Serve is a part's share in a function of the robot.
type Serve struct {
	// Function is its name: "drive left", "weapon", "self-righting".
	Function string `json:"function"`
	// Share is how much of the function goes with the part, 1 to 100 %: at 100 the
	// part is a single point of failure.
	Share int `json:"share"`
}

// ListCents is what one part costs by the list, the team's own hours apart.
func (p PartFields) ListCents() int { return p.MaterialListCents + p.MachiningListCents }

func (part Part) Key() Key         { return KeyOf(KindPart, part.ID) }
func (part Part) Rev() Rev         { return part.V }
func (part Part) stamp(r Rev) Noun { part.V = r; return part }

func (part Part) called() (name, among string, inUse bool) {
	return part.Name, string(part.Robot), !part.Retired
}

// Limits of what is said of a part.
const (
	partMassMost  = 500000
	partCentsMost = 100000000
	partSecMost   = 100 * 3600
	partListMost  = 12
)

func (part Part) valid(s State) *Refusal {
	bad := first(
		checkName("name", part.Name),
		checkShort("assembly", part.Assembly),
		checkShort("material", part.Material),
		checkRange("massGrams", part.MassGrams, 0, partMassMost, "g"),
		checkRange("materialListCents", part.MaterialListCents, 0, partCentsMost, "cents"),
		checkRange("materialPaidCents", part.MaterialPaidCents, 0, partCentsMost, "cents"),
		checkRange("machiningListCents", part.MachiningListCents, 0, partCentsMost, "cents"),
		checkRange("machiningPaidCents", part.MachiningPaidCents, 0, partCentsMost, "cents"),
		checkRange("ownSec", part.OwnSec, 0, partSecMost, "seconds"),
		checkRange("leadDays", part.LeadDays, 0, 999, "days"),
		checkTimes("offSec", "offBadSec", part.OffSec, part.OffBadSec),
		checkRange("bendMmPer100", part.BendMmPer100, 0, bendMost, "mm per 100 mm"),
		checkRange("bends", len(part.Bends), 0, bendsKept, "measurements"),
		each(part.Bends, Bend.valid),
		checkRange("first", len(part.First), 0, partListMost, "sets"),
		checkRange("next", len(part.Next), 0, partListMost, "parts"),
		checkRange("serves", len(part.Serves), 0, partListMost, "functions"),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Robots[part.Robot]; !ok {
		return missing("robot", "robot")
	}
	if _, ok := s.Stocks[part.Stock]; part.Stock != "" && !ok {
		return missing("spare", "stock")
	}
	return first(part.validServes(), part.validNext(s), part.validFirst(s))
}

// checkTimes refuses a likely time without its bad case, and a bad case that is
// the shorter; both 0 stands for no time at all.
func checkTimes(likely, bad string, likelySec, badSec int) *Refusal {
	r := first(checkRange(likely, likelySec, 0, fixMostSec, "seconds"), checkRange(bad, badSec, 0, fixMostSec, "seconds"))
	switch {
	case r != nil:
		return r
	case likelySec == 0 && badSec > 0:
		return badField(likely, "There is a bad case (%d s) and no likely time. Say both.", badSec)
	case badSec < likelySec:
		return badField(bad, "The bad case (%d s) is shorter than the likely time (%d s). Nine in ten are done by the bad case.", badSec, likelySec)
	}
	return nil
}

func (part Part) validServes() *Refusal {
	for i, v := range part.Serves {
		if slices.ContainsFunc(part.Serves[:i], func(o Serve) bool { return o.Function == v.Function }) {
			return badField("serves", "The function %s is there twice. Say its share once.", v.Function)
		}
		if bad := first(checkName("serves", v.Function), checkRange("serves", v.Share, 1, 100, "%")); bad != nil {
			return bad
		}
	}
	return nil
}

func (part Part) validNext(s State) *Refusal {
	for i, id := range part.Next {
		switch {
		case id == part.ID:
			return badField("next", "A hit on %s runs into another part next, not into itself.", part.Name)
		case slices.Contains(part.Next[:i], id):
			return badField("next", "%s is there twice.", s.Parts[id].Name)
		case !s.isPartOf(part.Robot, id):
			return badField("next", "That is no part of this robot. Choose one that is.")
		}
	}
	return nil
}

// isPartOf tells whether id is a part of the robot, in use or taken off its map.
func (s State) isPartOf(robot RobotID, id PartID) bool {
	part, ok := s.Parts[id]
	return ok && part.Robot == robot
}

func (part Part) validFirst(s State) *Refusal {
	for _, set := range part.First {
		if len(set.Parts) == 0 || len(set.Parts) > partListMost {
			return badField("first", "A set of what comes off first has 1 to %d parts; this has %d.", partListMost, len(set.Parts))
		}
		for i, id := range set.Parts {
			switch {
			case id == part.ID:
				return badField("first", "%s would have to come off before itself. Take it out of the list.", part.Name)
			case slices.Contains(set.Parts[:i], id):
				return badField("first", "%s is there twice in one set.", s.Parts[id].Name)
			case !s.isPartOf(part.Robot, id) || s.Parts[id].Retired && !part.Retired:
				return badField("first", "That is no part on the map of this robot. Choose one that is.")
			}
		}
	}
	if len(part.First) > 0 && s.cannotComeOff(part) {
		return badField("first", "%s could never come off: what comes off before it waits for it, in a ring. Take one of them out.", part.Name)
	}
	return nil
}

// PartAdd enters a part.
type PartAdd struct{ PartFields }

func (c PartAdd) do(t *turn) *Refusal {
	t.put(Part{ID: PartID(t.id(KindPart, string(c.Robot)+" "+c.Name)), PartFields: c.PartFields})
	return nil
}

// PartChange replaces what is said of a part. It stays with its robot.
type PartChange struct {
	Part PartID `json:"part"`
	PartFields
}

func (c PartChange) do(t *turn) *Refusal {
	part, ok := t.s().Parts[c.Part]
	if !ok {
		return missing("part", "part")
	}
	if c.Robot != part.Robot {
		return staysWithRobot("part")
	}
	part.PartFields = c.PartFields
	t.put(part)
	return nil
}

func staysWithRobot(what string) *Refusal {
	return badField("robot", "A %s stays with its robot. Retire it, and enter it at the other robot.", what)
}

// PartRetire takes a part off the map; the record keeps it.
type PartRetire struct {
	Part PartID `json:"part"`
}

func (c PartRetire) do(t *turn) *Refusal {
	part, ok := t.s().Parts[c.Part]
	if !ok {
		return missing("part", "part")
	}
	for _, joint := range Sorted(t.s().Joints, func(joint Joint) string { return joint.Name + string(joint.ID) }) {
		if !joint.Retired && slices.Contains(joint.Parts, part.ID) {
			return refuse(CodeState, "The joint %s holds %s. Retire or change the joint first.", joint.Name, part.Name)
		}
	}
	for _, o := range Sorted(t.s().Parts, func(o Part) string { return o.Name + string(o.ID) }) {
		if !o.Retired && slices.ContainsFunc(o.First, func(a Access) bool { return slices.Contains(a.Parts, part.ID) }) {
			return refuse(CodeState, "%s waits for %s to come off first. Change that part first.", o.Name, part.Name)
		}
	}
	part.Retired = true
	t.put(part)
	return nil
}
