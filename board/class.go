package board

// Class is a weight class. The limit is kept and compared in the rule's own unit.
type Class struct {
	Name    string   `json:"name"`
	Limit   float64  `json:"limit"`
	Unit    MassUnit `json:"unit"`
	RuleSet string   `json:"ruleSet"`
	// BonusPct is what the rules allow on top for legs or the like, in % of the
	// limit; Bonus says what for. WalkingGrams is the mass of the machines that have
	// it, where a robot is made of several and only some have; 0 is all of it.
	BonusPct     float64 `json:"bonusPct,omitzero"`
	Bonus        string  `json:"bonus,omitzero"`
	WalkingGrams float64 `json:"walkingGrams,omitzero"`
}

// MassUnit is a unit of a class limit.
type MassUnit string

// The units of class limits.
const (
	Gram     MassUnit = "g"
	Kilogram MassUnit = "kg"
	Pound    MassUnit = "lb"
)

// grams a unit has; a pound is 453.59237 g by definition (international
// yard and pound agreement, 1959).
func (u MassUnit) grams() float64 {
	switch u {
	case Pound:
		return 453.59237
	case Kilogram:
		return 1000
	}
	return 1
}

// LimitGrams is the class limit in grams, with its bonus. Where only some of a
// robot's machines walk, each of their grams counts as 1/(1+bonus): rolling mass
// + walking mass/(1+bonus) must keep to the plain limit (so the
// rules of a UK 150 g class, at 50 %: rollers ≤ limit − ⅔ × non-rollers; author and year
// unknown).
func (c Class) LimitGrams() float64 {
	plain := c.Limit * c.Unit.grams()
	full := plain * (1 + c.BonusPct/100)
	if c.WalkingGrams == 0 || c.WalkingGrams >= full {
		return full
	}
	return plain + c.WalkingGrams*(1-plain/full)
}

// Said tells whether anybody has said the class. Till then the robot is not weighed.
func (c Class) Said() bool { return c != Class{} }

// classKept refuses to leave out a class that was said: what is said next would be no
// raise of it.
func (r Robot) classKept(is Class) *Refusal {
	if r.Class.Said() && !is.Said() {
		return badField("class", "%s has a class. It is changed, and not left out.", r.Name)
	}
	return nil
}

func (c Class) valid() *Refusal {
	if !c.Said() {
		return nil
	}
	return first(
		checkName("class", c.Name),
		checkRange("class", c.Limit, 0.001, 1000000, ""),
		oneOf("class", c.Unit, Gram, Kilogram, Pound),
		checkShort("class", c.RuleSet),
		checkRange("class", c.BonusPct, 0, 200, "%"),
		checkShort("class", c.Bonus),
		checkRange("class", c.WalkingGrams, 0, gramsMost, "g"),
	)
}
