package board

import "slices"

// Grade says what a damage asks for: our decision.
type Grade string

// The grades. GX hurts people if wrong: it is never deferred, never patched, and
// the clock cannot overrule it.
const (
	G0 Grade = "G0"
	G1 Grade = "G1"
	G2 Grade = "G2"
	G3 Grade = "G3"
	G4 Grade = "G4"
	GX Grade = "GX"
)

func knownGrade(g Grade) *Refusal { return oneOf("grade", g, G0, G1, G2, G3, G4, GX) }

// Severity is how hard a hit looked.
type Severity string

// The severities.
const (
	Glancing Severity = "glancing"
	Solid    Severity = "solid"
	Hard     Severity = "hard"
)

// Damage is what the strip and the inspection found.
type Damage struct {
	ID     DamageID `json:"id"`
	V      Rev      `json:"v"`
	Number int      `json:"number"`
	DamageFields
	By      PersonID  `json:"by,omitzero"`
	At      Moment    `json:"at"`
	Photos  []PhotoID `json:"photos,omitempty"`
	Dropped bool      `json:"dropped,omitzero"`
	// GradedAt is when it got the grade it has, RaisedAt when it was reported or last
	// graded up: only work since then puts it right. Loosened lists by whose word it
	// counts for less than before, oldest first.
	GradedAt Moment     `json:"gradedAt,omitzero"`
	RaisedAt Moment     `json:"raisedAt,omitzero"`
	Loosened []Loosened `json:"loosened,omitempty"`
	// Acceptor answers for its being left as it is.
	Acceptor   PersonID `json:"acceptor,omitzero"`
	AcceptedAt Moment   `json:"acceptedAt,omitzero"`
	// Off says that the part is off the robot, BackAt when one that was off was last put on
	// again; Looked who looked at it after it was put right.
	Off    PartOff      `json:"off,omitzero"`
	BackAt Moment       `json:"backAt,omitzero"`
	Looked Reinspection `json:"looked,omitzero"`
}

// DamageFields are what the finder says.
type DamageFields struct {
	Robot RobotID `json:"robot"`
	Part  string  `json:"part"`
	What  string  `json:"what,omitzero"`
	Grade Grade   `json:"grade"`
	// Fight and Hit say where it came from: the fight, and which hit of it.
	Fight    FightID  `json:"fight,omitzero"`
	Hit      int      `json:"hit,omitzero"`
	Severity Severity `json:"severity,omitzero"`
	// OnPart and OnJoint say which part or joint of the part map it is on, at most
	// one of them; Part is then its name where nothing else is said.
	OnPart  PartID  `json:"onPart,omitzero"`
	OnJoint JointID `json:"onJoint,omitzero"`
	// Stuck members are jammed into each other and will not come apart; Destroyed
	// ones broke when they were taken out.
	Stuck     bool `json:"stuck,omitzero"`
	Destroyed bool `json:"destroyed,omitzero"`
	// WorksPct is how much of it still works as it is, 0 to 100 %; none where nobody
	// said.
	WorksPct *int     `json:"worksPct,omitzero"`
	Touches  []System `json:"touches,omitempty"`
}

func (d Damage) Key() Key         { return KeyOf(KindDamage, d.ID) }
func (d Damage) Rev() Rev         { return d.V }
func (d Damage) stamp(r Rev) Noun { d.V = r; return d }

func (d Damage) valid(s State) *Refusal {
	bad := first(
		checkName("part", d.Part),
		checkShort("what", d.What),
		knownGrade(d.Grade),
		checkRange("hit", d.Hit, 0, 99, ""),
		each(d.Touches, func(y System) *Refusal { return knownSystem("touches", y) }),
		checkRange("photos", len(d.Photos), 0, 12, "photos"),
		checkShort("what", d.Off.What),
	)
	if bad != nil {
		return bad
	}
	if d.Severity != "" {
		if bad := oneOf("severity", d.Severity, Glancing, Solid, Hard); bad != nil {
			return bad
		}
	}
	if _, ok := s.Robots[d.Robot]; !ok {
		return missing("robot", "robot")
	}
	if bad := d.onMap(s); bad != nil {
		return bad
	}
	if f, ok := s.Fights[d.Fight]; d.Fight != "" && (!ok || f.Robot != d.Robot) {
		return badField("fight", "That is not a fight of this robot's. Choose one, or leave it open.")
	}
	return nil
}

// onMap refuses a place on the part map that is not this robot's.
func (d DamageFields) onMap(s State) *Refusal {
	p, part := s.Parts[d.OnPart]
	j, joint := s.Joints[d.OnJoint]
	switch {
	case d.OnPart != "" && d.OnJoint != "":
		return badField("onJoint", "A damage is on a part or on a joint. Report the other as a damage of its own.")
	case d.OnPart != "" && (!part || p.Robot != d.Robot):
		return badField("onPart", "That is no part of this robot. Choose one that is, or leave it open.")
	case d.OnJoint != "" && (!joint || j.Robot != d.Robot):
		return badField("onJoint", "That is no joint of this robot. Choose one that is, or leave it open.")
	case d.WorksPct != nil:
		return checkRange("worksPct", *d.WorksPct, 0, 100, "%")
	}
	return nil
}

// named is the fields with the name of part or joint where none was said.
func (d DamageFields) named(s State) DamageFields {
	if d.Part == "" && d.OnPart != "" {
		d.Part = s.Parts[d.OnPart].Name
	}
	if d.Part == "" && d.OnJoint != "" {
		d.Part = s.Joints[d.OnJoint].Name
	}
	return d
}

// DamageOutcome says what became of a damage: stuck, destroyed when it was taken
// out, how much of it works as it is.
type DamageOutcome struct {
	Damage    DamageID `json:"damage"`
	Stuck     bool     `json:"stuck,omitzero"`
	Destroyed bool     `json:"destroyed,omitzero"`
	WorksPct  *int     `json:"worksPct,omitzero"`
}

func (c DamageOutcome) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	d.Stuck, d.Destroyed, d.WorksPct = c.Stuck, c.Destroyed, c.WorksPct
	t.put(d)
	return nil
}

// DamageReport enters a damage. Accept says, by who reports it, that it is left as it
// is.
type DamageReport struct {
	DamageFields
	Accept bool `json:"accept,omitzero"`
}

func (c DamageReport) do(t *turn) *Refusal {
	c.DamageFields = c.named(t.s())
	d := Damage{
		ID: DamageID(t.id(KindDamage, "")), Number: t.nextDamage(), DamageFields: c.DamageFields, By: t.by.Person, At: t.when,
		GradedAt: t.now, RaisedAt: t.now,
	}
	if c.Accept {
		var bad *Refusal
		if d, bad = t.accept(d, ""); bad != nil {
			return bad
		}
	}
	t.put(d)
	return nil
}

func (t *turn) nextDamage() int {
	n := 1
	for _, d := range t.s().Damages {
		n = max(n, d.Number+1)
	}
	return n
}

// DamageMove puts a damage that was entered on the wrong robot on the right one, with
// its photos and its hit.
type DamageMove struct {
	Damage DamageID `json:"damage"`
	Robot  RobotID  `json:"robot"`
	// Reason says how one knows: the robot that it was on is rid of it.
	Reason string `json:"reason"`
}

func (c DamageMove) Guards(State) []Key { return []Key{KeyOf(KindDamage, c.Damage)} }

func (c DamageMove) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	robot, ok := t.s().Robots[c.Robot]
	if !ok || robot.Retired {
		return missing("robot", "robot")
	}
	if d.Robot == c.Robot {
		return refuse(CodeNothingToDo, "Damage %d is on %s already.", d.Number, robot.Name)
	}
	if bad := t.mayLoosen(d); bad != nil {
		return bad
	}
	for _, j := range inJobOrder(t.s()) {
		if slices.Contains(j.Damages, d.ID) {
			return refuse(CodeState, "Job %d is for this damage and stays with its robot. Report the damage on %s, and say with a reason that there is none here.", j.Number, robot.Name).of(j)
		}
	}
	if bad := checkReason("reason", c.Reason); bad != nil {
		return bad
	}
	from := t.s().Robots[d.Robot]
	if d.Fight != "" {
		d.Fight = t.s().fightBeside(t.s().Fights[d.Fight], robot.ID, d.At)
	}
	if d.Fight == "" {
		d.Hit = 0
	}
	d = t.talkedDown(d, "it is on "+robot.Name+", not on "+from.Name, c.Reason)
	d.Robot, d.OnPart, d.OnJoint = robot.ID, "", ""
	d.Acceptor, d.AcceptedAt, d.Off, d.Looked = "", 0, PartOff{}, Reinspection{}
	t.put(d)
	return nil
}

// fightBeside is the other robot's fight of the same number, else the last that it
// had begun by then, or "".
func (s State) fightBeside(was Fight, robot RobotID, by Moment) FightID {
	var last Fight
	for _, f := range inOrder(s.Fights) {
		switch {
		case f.Robot != robot:
		case f.Number == was.Number:
			return f.ID
		case f.OnAt != 0 && f.OnAt <= by && f.OnAt > last.OnAt:
			last = f
		}
	}
	return last.ID
}

// DamageHit says which hit a damage came from, also long after: what was found at
// home joins its hit. Without a fight the hit is not known.
type DamageHit struct {
	Damage   DamageID `json:"damage"`
	Fight    FightID  `json:"fight,omitzero"`
	Hit      int      `json:"hit,omitzero"`
	Severity Severity `json:"severity,omitzero"`
}

func (c DamageHit) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	if c.Fight == "" && c.Hit != 0 {
		return badField("fight", "Say of which fight hit %d was.", c.Hit)
	}
	d.Fight, d.Hit = c.Fight, c.Hit
	if c.Severity != "" {
		d.Severity = c.Severity
	}
	t.put(d)
	return nil
}

// DamagePhoto hangs a photo, already stored, on a damage.
type DamagePhoto struct {
	Damage DamageID `json:"damage"`
	Photo  PhotoID  `json:"photo"`
}

func (c DamagePhoto) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	if !isID(string(c.Photo)) {
		return badField("photo", "That is not the id of a stored photo.")
	}
	if slices.Contains(d.Photos, c.Photo) {
		return refuse(CodeNothingToDo, "This damage has that photo already.")
	}
	d.Photos = append(slices.Clone(d.Photos), c.Photo)
	t.put(d)
	return nil
}
