package board

import (
	"slices"

	"github.com/go-json-experiment/json"
)

// EnergyKind is one way a robot can hurt.
type EnergyKind string

// The kinds of energy.
const (
	EnergyWeapon    EnergyKind = "weapon-power"
	EnergyDrive     EnergyKind = "drive-power"
	EnergyGas       EnergyKind = "gas"
	EnergyHydraulic EnergyKind = "hydraulic"
	EnergySpring    EnergyKind = "spring"
	EnergySpin      EnergyKind = "spinning-mass"
	EnergyArm       EnergyKind = "raised-arm"
	EnergyCapacitor EnergyKind = "capacitor"
	EnergyHeat      EnergyKind = "hot-parts"
)

func knownEnergy(field string, k EnergyKind) *Refusal {
	return oneOf(field, k, EnergyWeapon, EnergyDrive, EnergyGas, EnergyHydraulic, EnergySpring, EnergySpin, EnergyArm, EnergyCapacitor, EnergyHeat)
}

// Reach says from where an energy can be isolated.
type Reach string

// Outside can be isolated with the covers on; Inside only once they are off, and
// then has a first-in line.
const (
	Outside Reach = "outside"
	Inside  Reach = "inside"
)

// Energy is one energy source of a robot with its isolating point.
type Energy struct {
	Kind EnergyKind `json:"kind"`
	// Isolator is what isolates it: "removable link, rear left".
	Isolator string `json:"isolator"`
	Reach    Reach  `json:"reach"`
	// Moves says what moves when this energy goes: "the arm drops".
	Moves string `json:"moves,omitzero"`
	// RestSec is how long it takes by itself, with the power off, until it is gone:
	// capacitors, or a rotor that takes longer than the event says.
	RestSec int `json:"restSec,omitzero"`
}

// Size chooses between the two sets of job templates.
type Size string

// The sizes.
const (
	Heavy Size = "heavy"
	Light Size = "light"
)

// Robot is one of the team's robots.
type Robot struct {
	ID RobotID `json:"id"`
	V  Rev     `json:"v"`
	RobotFields
	// Withdrawn robots have no calls any more; they keep their lockout.
	Withdrawn bool `json:"withdrawn,omitzero"`
	Retired   bool `json:"retired,omitzero"`
	// Names are what it was called before.
	Names []string `json:"names,omitempty"`
	// Once is the most that it asked: where it asks less now, that prints.
	Once RobotOnce `json:"once,omitzero"`
	// Loosened lists by whose word an energy or a lock was taken off, or whoever isolated
	// it verifies it, oldest first.
	Loosened []Loosened `json:"loosened,omitempty"`
}

// RobotFields are what the captain says of a robot.
type RobotFields struct {
	Name string `json:"name"`
	// Number is the short number people shout.
	Number   int      `json:"number"`
	Class    Class    `json:"class"`
	Size     Size     `json:"size"`
	Energies []Energy `json:"energies,omitempty"`
	// Locks are what holds its weapon still, which the sheets then ask for by name;
	// none given is a lock.
	Locks  []Lock   `json:"locks,omitempty"`
	Lead   PersonID `json:"lead,omitzero"`
	Driver PersonID `json:"driver,omitzero"`
	// Hands is how many people can work at it at once.
	Hands int `json:"hands"`
	// BeforeSec and AfterSec are the overheads that do not shrink: from the end of
	// a fight to the first job, and from the last job to the call.
	BeforeSec int `json:"beforeSec"`
	AfterSec  int `json:"afterSec"`
	// SecondVerifier asks that someone else verifies than who isolated.
	SecondVerifier bool `json:"secondVerifier,omitzero"`
	// MainPacks and WeaponPacks are how many packs of each use it takes at once, all
	// of one kind; 0 counts as 1.
	MainPacks   int `json:"mainPacks,omitzero"`
	WeaponPacks int `json:"weaponPacks,omitzero"`
	// Weight is how much the captain weighs this robot's calls, 1 to 9.
	Weight int `json:"weight"`
}

func (r Robot) Key() Key           { return KeyOf(KindRobot, r.ID) }
func (r Robot) Rev() Rev           { return r.V }
func (r Robot) stamp(rev Rev) Noun { r.V = rev; return r }

func (r Robot) called() (name, among string, inUse bool) {
	return r.Name, "", !r.Retired
}

// decodeRobot passes over "packInOutside", which no rule ever read and boards of an
// earlier program hold.
func decodeRobot(data []byte) (Noun, error) {
	var n struct {
		Robot
		PackInOutside bool `json:"packInOutside"`
	}
	err := json.Unmarshal(data, &n, json.RejectUnknownMembers(true))
	return n.Robot, err
}

func (r Robot) valid(s State) *Refusal {
	bad := first(
		checkName("name", r.Name),
		checkRange("number", r.Number, 1, 99, ""),
		r.Class.valid(),
		oneOf("size", r.Size, Heavy, Light),
		checkRange("hands", r.Hands, 1, 8, "people"),
		checkRange("beforeSec", r.BeforeSec, 0, 7200, "seconds"),
		checkRange("afterSec", r.AfterSec, 0, 7200, "seconds"),
		checkRange("weight", r.Weight, 1, 9, ""),
		checkRange("mainPacks", r.MainPacks, 0, 4, "packs"),
		checkRange("weaponPacks", r.WeaponPacks, 0, 4, "packs"),
		each(r.Energies, Energy.valid),
		r.validLocks(),
		s.knowsPerson("lead", r.Lead),
		s.knowsPerson("driver", r.Driver),
	)
	if bad != nil {
		return bad
	}
	for _, o := range s.Robots {
		if o.ID != r.ID && !o.Retired && !r.Retired && o.Number == r.Number {
			return &Refusal{Code: CodeTaken, Field: "number", Sentence: "Another robot has this number. Choose another."}
		}
	}
	return nil
}

// Takes is how many packs of a use the robot needs for a fight.
func (r RobotFields) Takes(use PackUse) int {
	switch use {
	case UseMain:
		return max(1, r.MainPacks)
	case UseWeapon:
		return max(1, r.WeaponPacks)
	}
	return 1
}

func (energy Energy) valid() *Refusal {
	bad := first(
		knownEnergy("energies", energy.Kind),
		checkName("energies", energy.Isolator),
		oneOf("energies", energy.Reach, Outside, Inside),
		checkShort("energies", energy.Moves),
		checkRange("energies", energy.RestSec, 0, restMost, "seconds"),
	)
	if bad == nil && energy.RestSec > 0 && energy.Kind != EnergyCapacitor && energy.Kind != EnergySpin {
		bad = badField("energies", "Only capacitors and a spinning mass go by themselves in a time. Take the time off %s.", energy.Isolator)
	}
	return bad
}

// knowsPerson refuses the id of nobody; "" passes.
func (s State) knowsPerson(field string, id PersonID) *Refusal {
	if id == "" {
		return nil
	}
	if _, ok := s.People[id]; !ok {
		return missing("person", field)
	}
	return nil
}

// leads tells whether the actor leads r: the captain, and the robot's lead.
func (s State) leads(by Actor, r Robot) bool {
	if by.Role == RoleCaptain {
		return true
	}
	lead, ok := s.People[r.Lead]
	return ok && by.Person == r.Lead && lead.Answers()
}

func (t *turn) leadOnly(r Robot, what string) *Refusal { return t.s().MayLead(t.by, r, what) }

// MayLead says whether the actor may do what only a robot's lead and the captain do.
func (s State) MayLead(by Actor, r Robot, what string) *Refusal {
	if by.Person == "" {
		return breaks(5, "Only someone with a name can %s. Join with a name first.", what)
	}
	if s.leads(by, r) {
		return nil
	}
	lead := "the captain"
	if person, ok := s.People[r.Lead]; ok && person.Answers() {
		lead = person.Name + " or the captain"
	}
	return refuse(CodeForbidden, "Only the lead for %s can %s: ask %s.", r.Name, what, lead)
}

// RobotAdd enters a robot, with the lowest free number where none is given. Its power is
// unknown, as everything is at first.
type RobotAdd struct {
	RobotFields
	// Reason says why, where it was taken off the board and asks less now.
	Reason string `json:"reason,omitzero"`
}

func (c RobotAdd) do(t *turn) *Refusal {
	if was, ok := t.s().robotTakenOff(c.Name); ok {
		r := was
		if bad := was.classKept(c.Class); bad != nil {
			return bad
		}
		r.RobotFields, r.Once, r.Retired = c.RobotFields, was.Once.after(was), false
		r = r.renamed(was)
		if less := robotLess(was, r); less != "" {
			r.Loosened = append(slices.Clip(r.Loosened), t.word(less, c.Reason))
		}
		r.Loosened = t.weakened(r.Loosened, robotWeaker(was, r), robotWeaker(r, was), c.Reason)
		t.put(r)
		t.becomeUnknown(t.s().Powers[r.ID], "entered again", false)
		return nil
	}
	r := Robot{ID: RobotID(t.id(KindRobot, c.Name)), RobotFields: c.RobotFields}
	if r.Number == 0 {
		r.Number = t.s().freeNumber()
	}
	t.put(r)
	t.becomeUnknown(Power{Robot: r.ID, State: Unknown}, "new on the board", false)
	return nil
}

// freeNumber is the lowest number that no robot on the board has.
func (s State) freeNumber() int {
	taken := map[int]bool{}
	for _, r := range s.Robots {
		taken[r.Number] = taken[r.Number] || !r.Retired
	}
	n := 1
	for taken[n] {
		n++
	}
	return n
}

// robotTakenOff finds a robot that was taken off the board under a name, or had it once.
// Entered again it is the same, with its damage, its jobs and its past.
func (s State) robotTakenOff(name string) (Robot, bool) {
	for _, r := range Sorted(s.Robots, func(r Robot) string { return string(r.ID) }) {
		if r.Retired && FoldedLabel(r.Name) == FoldedLabel(name) {
			return r, true
		}
	}
	for _, r := range Sorted(s.Robots, func(r Robot) string { return string(r.ID) }) {
		if r.Retired && r.wasCalled(name) {
			return r, true
		}
	}
	return Robot{}, false
}

// RobotChange replaces what is said of a robot. A change of its energies, or of what
// holds its weapon still, makes its power unknown: the old answers were about others.
type RobotChange struct {
	Robot RobotID `json:"robot"`
	RobotFields
	// Reason says why, where an energy or a lock is taken off, no second person verifies, or
	// the name is mended while something has to be put right.
	Reason string `json:"reason,omitzero"`
}

func (c RobotChange) do(t *turn) *Refusal {
	r, ok := t.s().Robots[c.Robot]
	if !ok {
		return missing("robot", "robot")
	}
	if r.Retired {
		return refuse(CodeState, "%s is off the board. Enter it again first.", r.Name)
	}
	was := r
	if bad := was.classKept(c.Class); bad != nil {
		return bad
	}
	r.RobotFields, r.Once = c.RobotFields, r.Once.after(was)
	r = r.renamed(was)
	if less := robotLess(was, r); less != "" {
		r.Loosened = append(slices.Clip(r.Loosened), t.word(less, c.Reason))
	}
	if called := t.called(was, r); called != "" {
		r.Loosened = append(slices.Clip(r.Loosened), t.word(called, c.Reason))
	}
	r.Loosened = t.weakened(r.Loosened, robotWeaker(was, r), robotWeaker(r, was), c.Reason)
	t.put(r)
	switch {
	case !slices.Equal(was.Energies, r.Energies):
		t.becomeUnknown(t.s().Powers[r.ID], "its list of energies changed", false)
	case !slices.Equal(was.heldBy(), r.heldBy()):
		t.becomeUnknown(t.s().Powers[r.ID], "what holds its weapon still changed", false)
	}
	return nil
}

// RobotWithdraw says that a robot has no calls any more. It is no field of
// RobotChange: a form that was opened before would put it back.
type RobotWithdraw struct {
	Robot RobotID `json:"robot"`
}

func (c RobotWithdraw) do(t *turn) *Refusal { return t.withdraw(c.Robot, true, "withdrawn already") }

// RobotBackIn takes a robot back in that was withdrawn.
type RobotBackIn struct {
	Robot RobotID `json:"robot"`
}

func (c RobotBackIn) do(t *turn) *Refusal { return t.withdraw(c.Robot, false, "not withdrawn") }

func (t *turn) withdraw(id RobotID, out bool, already string) *Refusal {
	_, r, bad := t.power(id)
	if bad != nil {
		return bad
	}
	if r.Withdrawn == out {
		return refuse(CodeNothingToDo, "%s is %s.", r.Name, already)
	}
	r.Withdrawn = out
	t.put(r)
	return nil
}

// RobotRetire takes a robot off the board; the record keeps it.
type RobotRetire struct {
	Robot RobotID `json:"robot"`
}

func (c RobotRetire) do(t *turn) *Refusal {
	r, ok := t.s().Robots[c.Robot]
	if !ok {
		return missing("robot", "robot")
	}
	if who, first := t.s().stillOn(r); who != "" {
		return refuse(CodeState, "%s.%s", who, first)
	}
	if power := t.s().Powers[r.ID]; power.State.Energised() {
		return refuse(CodeState, "%s is %s. That must end first.", r.Name, power.State)
	}
	if stop := t.s().Powers[r.ID].Stop; stop.At != 0 {
		return refuse(CodeForbidden, "%s was stopped by %s: %s. It stays on the board until they lift it.", r.Name, t.s().People[stop.By].Name, stop.Why)
	}
	r.Retired = true
	t.put(r)
	return nil
}
