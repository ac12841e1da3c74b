package board

import "slices"

// Role is what a device may do: it comes from the code it joined with.
type Role string

// The roles. RoleSystem is the board itself and no device can have it.
const (
	RoleCaptain Role = "captain"
	RoleCrew    Role = "crew"
	RoleSafety  Role = "safety"
	RoleViewer  Role = "viewer"
	RoleSystem  Role = "system"
)

// Skill is one trade, or any trained hand.
type Skill string

// The skills.
const (
	SkillMechanical Skill = "mechanical"
	SkillElectrical Skill = "electrical"
	SkillRadio      Skill = "radio"
	SkillWeld       Skill = "weld"
	SkillPressure   Skill = "pressure"
	SkillFabricate  Skill = "fabricate"
	SkillDrive      Skill = "drive"
	SkillAny        Skill = "any"
)

func knownSkill(field string, k Skill) *Refusal {
	return oneOf(field, k, SkillMechanical, SkillElectrical, SkillRadio, SkillWeld, SkillPressure, SkillFabricate, SkillDrive, SkillAny)
}

// Person is someone in the pit. The PIN is kept apart and is never a noun.
type Person struct {
	ID PersonID `json:"id"`
	V  Rev      `json:"v"`
	PersonFields
	// Claimed is when a device first took this name.
	Claimed Moment `json:"claimed,omitzero"`
	Retired bool   `json:"retired,omitzero"`
	// BriefedAt is when BriefedBy told the person how the pit works, and what to do
	// in an emergency.
	BriefedAt Moment   `json:"briefedAt,omitzero"`
	BriefedBy PersonID `json:"briefedBy,omitzero"`
}

// PersonFields are what the captain says of a person.
type PersonFields struct {
	Name   string  `json:"name"`
	Role   Role    `json:"role"`
	Skills []Skill `json:"skills,omitempty"`
	// Authorised lists the kinds of energy the person may lock out and verify.
	Authorised []EnergyKind `json:"authorised,omitempty"`
	// Minor and Guest may only say that their hands are near.
	Minor bool `json:"minor,omitzero"`
	Guest bool `json:"guest,omitzero"`
	// Signer may sign a robot ready: a second pair of eyes, perhaps of another
	// team or an official, as From says.
	Signer bool   `json:"signer,omitzero"`
	From   string `json:"from,omitzero"`
}

func (p Person) Key() Key         { return KeyOf(KindPerson, p.ID) }
func (p Person) Rev() Rev         { return p.V }
func (p Person) stamp(r Rev) Noun { p.V = r; return p }

func (p Person) valid(s State) *Refusal {
	r := first(
		checkName("name", p.Name),
		oneOf("role", p.Role, RoleCaptain, RoleCrew, RoleSafety),
		each(p.Skills, func(k Skill) *Refusal { return knownSkill("skills", k) }),
		each(p.Authorised, func(k EnergyKind) *Refusal { return knownEnergy("authorised", k) }),
		checkShort("from", p.From),
	)
	if r != nil {
		return r
	}
	if (p.Minor || p.Guest) && (len(p.Authorised) > 0 || p.Signer || p.Role != RoleCrew) {
		return badField("authorised", "A minor or guest is crew, may say that their hands are near, and can hold no authority and sign nothing. Take one or the other off.")
	}
	if !p.Retired && sameName(s.People, p.ID, p.Name, func(o Person) (string, bool) { return o.Name, !o.Retired }) {
		return nameTaken(p.Name)
	}
	return nil
}

// authorisedFor tells whether p may lock out and verify r: an authority for each
// energy the robot has, and neither minor nor guest.
func (p Person) authorisedFor(r Robot) bool {
	if p.Minor || p.Guest || p.Retired {
		return false
	}
	for _, e := range r.Energies {
		if !slices.Contains(p.Authorised, e.Kind) {
			return false
		}
	}
	return true
}

// PersonAdd enters a person.
type PersonAdd struct{ PersonFields }

func (c PersonAdd) do(t *turn) *Refusal {
	t.put(Person{ID: PersonID(t.id(KindPerson, c.Name)), PersonFields: c.PersonFields})
	return nil
}

// PersonChange replaces what is said of a person.
type PersonChange struct {
	Person PersonID `json:"person"`
	PersonFields
}

func (c PersonChange) do(t *turn) *Refusal {
	p, ok := t.s().People[c.Person]
	if !ok {
		return missing("person", "person")
	}
	p.PersonFields = c.PersonFields
	for _, g := range t.s().Tags {
		if robot := t.s().Robots[g.Robot]; g.Person == p.ID && !p.authorisedFor(robot) {
			return refuse(CodeState, "%s has a tag on %s, which needs that authority. The tag comes off first.", p.Name, robot.Name)
		}
	}
	t.put(p)
	return nil
}

// PersonBrief says that a person was briefed, by whoever says so.
type PersonBrief struct {
	Person PersonID `json:"person"`
}

func (c PersonBrief) do(t *turn) *Refusal {
	p, ok := t.s().People[c.Person]
	if !ok || p.Retired {
		return missing("person", "person")
	}
	by, r := t.own("")
	if r != nil {
		return r
	}
	p.BriefedAt, p.BriefedBy = t.when, by.ID
	t.put(p)
	return nil
}

// PersonRetire takes a person off the roster; the record keeps the name.
type PersonRetire struct {
	Person PersonID `json:"person"`
}

func (c PersonRetire) do(t *turn) *Refusal {
	p, ok := t.s().People[c.Person]
	if !ok {
		return missing("person", "person")
	}
	for _, tag := range t.s().Tags {
		if tag.Person == p.ID {
			return refuse(CodeState, "%s has a tag on %s. It must come off first.", p.Name, t.s().Robots[tag.Robot].Name)
		}
	}
	for _, h := range t.s().Hands {
		if h.Person == p.ID {
			return refuse(CodeState, "%s has hands near %s. That must be lifted first.", p.Name, t.s().Robots[h.Robot].Name)
		}
	}
	p.Retired = true
	t.put(p)
	return nil
}

// PersonClaim says that a device took the person's name and set the PIN. The
// server gives it, never a device.
type PersonClaim struct {
	Person PersonID `json:"person"`
	// Name enters a new person, as a guest, when Person is not on the roster yet.
	Name string `json:"name,omitzero"`
	Role Role   `json:"role"`
}

func (c PersonClaim) do(t *turn) *Refusal {
	p, ok := t.s().People[c.Person]
	if !ok {
		if !isID(string(c.Person)) {
			return badField("person", "The id is not one.")
		}
		p = Person{ID: c.Person, PersonFields: PersonFields{Name: c.Name, Role: c.Role, Guest: c.Role == RoleCrew}}
	}
	if p.Retired {
		return refuse(CodeState, "%s is off the roster. Ask the captain.", p.Name)
	}
	if p.Claimed != 0 {
		return refuse(CodeTaken, "%s has been taken by a device already: the PIN is needed.", p.Name)
	}
	if p.Role != c.Role {
		return refuse(CodeForbidden, "%s is %s on the roster. Use that code, or ask the captain.", p.Name, p.Role)
	}
	p.Claimed = t.now
	t.put(p)
	return nil
}
