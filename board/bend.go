package board

import (
	"cmp"
	"math"
	"slices"
)

// Bend is how far from straight a part was, measured with a straightedge on its hollow
// side: the widest gap under it, over the length it lay on.
type Bend struct {
	GapMM  float64 `json:"gapMm"`
	OverMM float64 `json:"overMm"`
	// Fight is the robot's last fight that had begun by then.
	Fight FightID  `json:"fight,omitzero"`
	By    PersonID `json:"by,omitzero"`
	At    Moment   `json:"at"`
}

// Limits of a measurement: our decision. The gap of a part that is folded in half is
// half its length.
const (
	bendOverLeast = 10
	bendOverMost  = 3000
	bendsKept     = 40
	bendMost      = 50
)

// MMPer100 is the gap for each 100 mm of length, as straightness is said in a workshop.
func (b Bend) MMPer100() float64 { return 100 * b.GapMM / b.OverMM }

// Degrees is the angle between the part's two ends. Our derivation: a hit leaves two
// straight halves and a kink in the middle, each half rises by the gap over half the
// length, so the angle is 2·atan(2·gap/length). Where it is one even curve instead, the
// angle is twice that: 4·atan(2·gap/length), for the tangent at the end of an
// arc makes twice the angle of its half chord.
func (b Bend) Degrees() float64 {
	return 2 * math.Atan2(2*b.GapMM, b.OverMM) * 180 / math.Pi
}

// PastLimit tells whether a measurement is more than the part may have; never where
// nobody said how much that is.
func (part Part) PastLimit(b Bend) bool {
	return part.BendMmPer100 > 0 && b.MMPer100() > part.BendMmPer100
}

// BendGrade is the grade that a measurement of a part proposes: past its limit it is
// mended or swapped before the next fight. "" proposes none.
func (part Part) BendGrade(b Bend) Grade {
	if part.PastLimit(b) {
		return G3
	}
	return ""
}

func (b Bend) valid() *Refusal {
	if bad := checkRange("overMm", b.OverMM, bendOverLeast, bendOverMost, "mm"); bad != nil {
		return bad
	}
	return checkRange("gapMm", b.GapMM, 0, b.OverMM/2, "mm")
}

// PartBend enters how far from straight a part is.
type PartBend struct {
	Part   PartID  `json:"part"`
	GapMM  float64 `json:"gapMm"`
	OverMM float64 `json:"overMm"`
}

func (c PartBend) do(t *turn) *Refusal {
	part, ok := t.s().Parts[c.Part]
	if !ok || part.Retired {
		return missing("part", "part")
	}
	b := Bend{GapMM: c.GapMM, OverMM: c.OverMM, Fight: t.s().begunBy(part.Robot, t.when), By: t.by.Person, At: t.when}
	if bad := b.valid(); bad != nil {
		return bad
	}
	part.Bends = append(slices.Clone(part.Bends), b)
	slices.SortStableFunc(part.Bends, func(a, b Bend) int { return cmp.Compare(a.At, b.At) })
	part.Bends = part.Bends[max(0, len(part.Bends)-bendsKept):]
	t.put(part)
	return nil
}

// begunBy is a robot's last fight that had begun by a moment, or "".
func (s State) begunBy(robot RobotID, by Moment) FightID {
	var last Fight
	for _, f := range inOrder(s.Fights) {
		if f.Robot == robot && f.OnAt != 0 && f.OnAt <= by && f.OnAt > last.OnAt {
			last = f
		}
	}
	return last.ID
}
