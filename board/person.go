package board

import (
	"slices"
)

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

// people says who has a role.
func (r Role) people() string {
	switch r {
	case RoleCaptain:
		return "the captain"
	case RoleSafety:
		return "event safety"
	case RoleSystem:
		return "the board itself"
	}
	return "the crew"
}

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
	// ClaimedOn is whose device that was, where it is another's.
	ClaimedOn PersonID `json:"claimedOn,omitzero"`
	Retired   bool     `json:"retired,omitzero"`
	// BriefedAt is when BriefedBy told the person how the pit works, and what to do
	// in an emergency.
	BriefedAt Moment   `json:"briefedAt,omitzero"`
	BriefedBy PersonID `json:"briefedBy,omitzero"`
	// Forgotten is when their PIN was last forgotten, so that another could be set.
	Forgotten Forgotten `json:"forgotten,omitzero"`
	// Loosened lists by whose word they are no minor any more, or a signer, oldest first.
	Loosened []Loosened `json:"loosened,omitempty"`
}

// Forgotten says who had a PIN forgotten, and when.
type Forgotten struct {
	By  PersonID `json:"by,omitzero"`
	At  Moment   `json:"at"`
	Rev Rev      `json:"rev"`
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

func (person Person) Key() Key         { return KeyOf(KindPerson, person.ID) }
func (person Person) Rev() Rev         { return person.V }
func (person Person) stamp(r Rev) Noun { person.V = r; return person }

func (person Person) called() (name, among string, inUse bool) {
	return person.Name, "", !person.Retired
}

func (person Person) valid(s State) *Refusal {
	bad := first(
		checkName("name", person.Name),
		oneOf("role", person.Role, RoleCaptain, RoleCrew, RoleSafety),
		each(person.Skills, func(k Skill) *Refusal { return knownSkill("skills", k) }),
		each(person.Authorised, func(k EnergyKind) *Refusal { return knownEnergy("authorised", k) }),
		checkShort("from", person.From),
	)
	if bad != nil {
		return bad
	}
	if (person.Minor || person.Guest) && (len(person.Authorised) > 0 || person.Signer || person.Role != RoleCrew) {
		return badField("authorised", "A minor or guest is crew, may say that their hands are near, and can hold no authority and sign nothing. Take one or the other off.")
	}
	return nil
}

// Answers tells whether others may rest on the person's word as a lead's, a
// signer's or a driver's: no minor or guest, and on the roster.
func (person Person) Answers() bool { return !person.Minor && !person.Guest && !person.Retired }

// whatIs says why someone answers for nothing.
func (person Person) whatIs() string {
	switch {
	case person.Retired:
		return "off the roster"
	case person.Minor:
		return "a minor on the roster"
	}
	return "a guest on the roster"
}

// AuthorisedFor tells whether p may lock out and verify r: an authority for each
// energy the robot has, and neither minor nor guest.
func (person Person) AuthorisedFor(r Robot) bool {
	if !person.Answers() {
		return false
	}
	for _, energy := range r.Energies {
		if !slices.Contains(person.Authorised, energy.Kind) {
			return false
		}
	}
	return true
}

// PersonAdd enters a person.
type PersonAdd struct {
	PersonFields
	// Reason says why, where someone who was taken off the roster may do more now.
	Reason string `json:"reason,omitzero"`
}

// do brings back who was taken off under the same name: a person sheds no notice and
// nothing else by being entered again.
func (c PersonAdd) do(t *turn) *Refusal {
	if was, ok := t.s().takenOff(c.Name); ok {
		is := was
		is.PersonFields, is.Retired = c.PersonFields, false
		t.put(t.grown(was, is, c.Reason))
		return nil
	}
	t.put(Person{ID: PersonID(t.id(KindPerson, c.Name)), PersonFields: c.PersonFields})
	return nil
}

// takenOff finds who was taken off the roster under a name; of several, who has a
// notice to read, or else the first by id.
func (s State) takenOff(name string) (Person, bool) {
	var found Person
	folded := FoldedPerson(name)
	for _, person := range Sorted(s.People, func(person Person) string { return string(person.ID) }) {
		_, due := s.noticeDue(person.ID)
		if person.Retired && FoldedPerson(person.Name) == folded && (found.ID == "" || due) {
			found = person
		}
	}
	return found, found.ID != ""
}

// PersonForget has a person's PIN forgotten, so that they can set another. The server
// gives it, never a device.
type PersonForget struct {
	Person PersonID `json:"person"`
	By     PersonID `json:"by"`
}

func (c PersonForget) do(t *turn) *Refusal {
	person, ok := t.s().People[c.Person]
	if !ok {
		return missing("person", "person")
	}
	person.Forgotten = Forgotten{By: c.By, At: t.now, Rev: t.before.Rev + 1}
	t.put(person)
	return nil
}

// PersonChange replaces what is said of a person.
type PersonChange struct {
	Person PersonID `json:"person"`
	PersonFields
	// Reason says why, where they are no minor any more, or a signer now.
	Reason string `json:"reason,omitzero"`
}

func (c PersonChange) do(t *turn) *Refusal {
	person, ok := t.s().People[c.Person]
	if !ok {
		return missing("person", "person")
	}
	was := person
	person.PersonFields = c.PersonFields
	for _, tag := range inOrder(t.s().Tags) {
		if robot := t.s().Robots[tag.Robot]; tag.Person == person.ID && !person.AuthorisedFor(robot) {
			return refuse(CodeState, "%s has a tag on %s, which needs that authority. The tag comes off first.", person.Name, robot.Name)
		}
	}
	t.put(t.grown(was, person, c.Reason))
	return nil
}

// PersonBrief says that a person was briefed; the one who says so briefed them.
type PersonBrief struct {
	Person PersonID `json:"person"`
}

func (c PersonBrief) do(t *turn) *Refusal {
	person, ok := t.s().People[c.Person]
	if !ok || person.Retired {
		return missing("person", "person")
	}
	by, bad := t.own("")
	if bad != nil {
		return bad
	}
	person.BriefedAt, person.BriefedBy = t.when, by.ID
	t.put(person)
	return nil
}

// PersonRetire takes a person off the roster; the record keeps the name.
type PersonRetire struct {
	Person PersonID `json:"person"`
}

func (c PersonRetire) do(t *turn) *Refusal {
	person, ok := t.s().People[c.Person]
	if !ok {
		return missing("person", "person")
	}
	for _, tag := range inOrder(t.s().Tags) {
		if tag.Person == person.ID {
			return refuse(CodeState, "%s has a tag on %s. It must come off first.", person.Name, t.s().Robots[tag.Robot].Name)
		}
	}
	for _, hands := range inOrder(t.s().Hands) {
		if hands.Person == person.ID {
			return refuse(CodeState, "%s has hands near %s. That must be lifted first.", person.Name, t.s().Robots[hands.Robot].Name)
		}
	}
	person.Retired = true
	t.put(person)
	return nil
}

// PersonClaim says that a device took the person's name and set the PIN. The
// server gives it, never a device.
type PersonClaim struct {
	Person PersonID `json:"person"`
	// Name enters a new person, as a guest, when Person is not on the roster yet.
	Name string `json:"name,omitzero"`
	Role Role   `json:"role"`
	// On is the captain on whose device a signer without one sets their PIN.
	On PersonID `json:"on,omitzero"`
}

func (c PersonClaim) do(t *turn) *Refusal {
	person, ok := t.s().People[c.Person]
	if !ok {
		if !isID(string(c.Person)) {
			return badField("person", "The id is not one.")
		}
		if was, off := t.s().takenOff(c.Name); off {
			return refuse(CodeState, "%s is off the roster. Ask the captain to enter them again.", was.Name)
		}
		person = Person{ID: c.Person, PersonFields: PersonFields{Name: c.Name, Role: c.Role, Guest: c.Role == RoleCrew}}
	}
	if on := t.s().People[c.On]; c.On != "" && (!person.Signer || on.Role != RoleCaptain || !on.Answers()) {
		return refuse(CodeForbidden, "Only a signer sets a first PIN on the captain's device. %s joins on a phone.", person.Name)
	}
	if person.Retired {
		return refuse(CodeState, "%s is off the roster. Ask the captain.", person.Name)
	}
	if person.Claimed != 0 {
		return refuse(CodeTaken, "%s has been taken by a device already: the PIN is needed.", person.Name)
	}
	if person.Role != c.Role {
		return refuse(CodeForbidden, "%s is %s on the roster. Use that code, or ask the captain.", person.Name, person.Role)
	}
	person.Claimed, person.ClaimedOn = t.now, c.On
	t.put(person)
	return nil
}

// rule5Answers makes no lead of a minor, a guest or someone off the roster, and takes
// no signature, test or going live from one. Who leads on a board of an earlier
// program stays entered and has none of a lead's powers.
func rule5Answers(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		var bad *Refusal
		switch k, id := key.Split(); k {
		case KindRobot:
			is, was := t.s().Robots[RobotID(id)], t.before.Robots[RobotID(id)]
			if is.Lead != was.Lead || was.Retired && !is.Retired {
				bad = t.s().leadAnswers(is)
			}
		case KindPerson:
			if was, had := t.before.People[PersonID(id)]; !had || !was.Answers() {
				continue
			}
			for _, robot := range Sorted(t.s().Robots, func(robot Robot) string { return string(robot.ID) }) {
				if bad == nil && robot.Lead == PersonID(id) {
					bad = t.s().leadAnswers(robot)
				}
			}
		case KindPower:
			bad = t.powerAnswered(t.s().Powers[RobotID(id)])
		}
		if bad != nil {
			return bad
		}
	}
	return nil
}

func (s State) leadAnswers(robot Robot) *Refusal {
	person, ok := s.People[robot.Lead]
	if !ok || robot.Retired || person.Answers() {
		return nil
	}
	return breaks(5, "%s is %s and leads no robot. Choose another lead for %s first, or leave it to the captain.", person.Name, person.whatIs(), robot.Name)
}

// rule5Drives keeps the driver of a live robot to who may drive it.
func rule5Drives(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		was := t.before.Powers[id]
		if power.State == Live && was.State == Live && t.s().drivenByMinor(id) && !t.before.drivenByMinor(id) {
			robot := t.s().Robots[id]
			return breaks(5, "%s is live, and %s would drive it: a minor, and nobody has entered that the event lets minors drive. Change that when it is back and unknown, or enter first that the event lets them.", robot.Name, t.s().People[robot.Driver].Name)
		}
	}
	return nil
}

// drivenByMinor tells whether a minor drives a robot where nobody has entered that the
// event lets minors drive.
func (s State) drivenByMinor(robot RobotID) bool {
	return s.People[s.Robots[robot].Driver].Minor && !s.Event().MinorsDrive
}

func (t *turn) powerAnswered(power Power) *Refusal {
	who := t.by.Person
	switch power.State {
	case t.before.Powers[power.Robot].State:
		return nil
	case Ready:
		who = power.ReadyBy
	case Test, Live:
	default:
		return nil
	}
	robot := t.s().Robots[power.Robot]
	if power.State == Live && t.s().drivenByMinor(robot.ID) {
		return breaks(5, "%s is a minor and drives %s, and nobody has entered that the event lets minors drive. The captain asks the officials and enters it, or chooses another driver.", t.s().People[robot.Driver].Name, robot.Name)
	}
	person, ok := t.s().People[who]
	switch {
	case ok && person.Answers() && power.State != Ready:
		return t.mayGivePower(robot)
	case !ok || person.Answers():
		return nil
	}
	return breaks(5, "%s is %s and gives no robot power and no signature. %s does it for %s.", person.Name, person.whatIs(), upper(t.s().leadName(robot)), robot.Name)
}

// ruleCaptain keeps one captain on the roster, once there is one.
func ruleCaptain(t *turn) *Refusal {
	captains := func(s State) (Person, bool) {
		for _, person := range Sorted(s.People, func(person Person) string { return string(person.ID) }) {
			if person.Role == RoleCaptain && person.Answers() {
				return person, true
			}
		}
		return Person{}, false
	}
	last, had := captains(t.before)
	if _, has := captains(t.s()); had && !has {
		return refuse(CodeState, "%s is the only captain: nobody could change the board's settings any more. Make someone else captain first.", last.Name)
	}
	return nil
}
