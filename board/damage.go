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
	// GradedAt is when it got the grade it has; Loosened lists by whose word it
	// counts for less than before, oldest first.
	GradedAt Moment     `json:"gradedAt,omitzero"`
	Loosened []Loosened `json:"loosened,omitempty"`
	// Acceptor answers for its being left as it is.
	Acceptor   PersonID `json:"acceptor,omitzero"`
	AcceptedAt Moment   `json:"acceptedAt,omitzero"`
	// Off says that the part is off the robot; Looked who looked at it after it was
	// put right.
	Off    PartOff      `json:"off,omitzero"`
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
	n := 1
	for _, d := range t.s().Damages {
		n = max(n, d.Number+1)
	}
	d := Damage{
		ID: DamageID(t.id(KindDamage, "")), Number: n, DamageFields: c.DamageFields, By: t.by.Person, At: t.when, GradedAt: t.now,
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

// accept has someone answer for a damage that is left as it is.
func (t *turn) accept(d Damage, by PersonID) (Damage, *Refusal) {
	person, bad := t.own(by)
	if bad != nil {
		return d, bad
	}
	robot := t.s().Robots[d.Robot]
	may := person.Signer || person.ID == robot.Lead || person.Role == RoleCaptain || person.Role == RoleSafety
	switch {
	case person.Retired || person.Minor || person.Guest || !may:
		return d, refuse(CodeForbidden, "%s, event safety or a signer accepts damage on %s. Ask one of them.", upper(t.s().leadName(robot)), robot.Name)
	case d.Dropped:
		return d, refuse(CodeState, "Damage %d was dropped: there is nothing to accept.", d.Number)
	case d.Grade.rank() > G2.rank():
		return d, breaks(11, "A damage graded %s is not left as it is. Make a job of it, or grade it down first, with a reason.", d.Grade)
	}
	d.Acceptor, d.AcceptedAt = person.ID, t.now
	return d, nil
}

// DamageAccept says by name that a small damage is left as it is.
type DamageAccept struct {
	Damage DamageID `json:"damage"`
	// Person accepts on someone else's device, proved by PIN.
	Person PersonID `json:"person,omitzero"`
}

func (c DamageAccept) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	d, bad := t.accept(d, c.Person)
	if bad != nil {
		return bad
	}
	t.put(d)
	return nil
}

// DamageLook is the look of other eyes at damage that could hurt people, once it is
// put right or its part is off.
type DamageLook struct {
	Damage DamageID `json:"damage"`
	// Person looks on someone else's device, proved by PIN.
	Person PersonID `json:"person,omitzero"`
}

func (c DamageLook) Guards(State) []Key { return []Key{KeyOf(KindDamage, c.Damage)} }

func (c DamageLook) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	person, bad := t.own(c.Person)
	switch {
	case bad != nil:
		return bad
	case d.Grade != GX || d.Dropped:
		return refuse(CodeNothingToDo, "Damage %d cannot hurt people as it is graded: nobody needs to look at it again.", d.Number)
	case !t.s().handled(d):
		return breaks(11, "Damage %d, %s, is not put right yet. Do its job, or take the part off and say so; then look.", d.Number, d.Part)
	case !t.s().mayLook(person, d):
		return breaks(11, "The look at damage %d is for someone with authority, or a signer, who did no work on it: %s.", d.Number, t.s().whoLooks(d))
	}
	d.Looked = Reinspection{By: person.ID, At: t.now}
	t.put(d)
	return nil
}

// DamageOff says that the damaged part is off its robot, and where it is; Back, that
// it is on again.
type DamageOff struct {
	Damage DamageID `json:"damage"`
	What   string   `json:"what,omitzero"`
	Back   bool     `json:"back,omitzero"`
}

func (c DamageOff) Guards(State) []Key {
	if c.Back {
		return nil
	}
	return []Key{KeyOf(KindDamage, c.Damage)}
}

func (c DamageOff) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	d.Looked = Reinspection{}
	if c.Back {
		d.Off = PartOff{}
		t.put(d)
		return nil
	}
	if bad := first(t.mayLoosen(d), checkName("what", c.What)); bad != nil {
		return bad
	}
	d.Off = PartOff{What: c.What, By: t.by.Person, At: t.now}
	t.put(t.loosened(d, "its part is off the robot", c.What))
	return nil
}

// DamageMove puts a damage that was entered on the wrong robot on the right one, with
// its photos and its hit.
type DamageMove struct {
	Damage DamageID `json:"damage"`
	Robot  RobotID  `json:"robot"`
}

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
	for _, j := range Sorted(t.s().Jobs, jobOrder) {
		if slices.Contains(j.Damages, d.ID) {
			return refuse(CodeState, "Job %d is for this damage and stays with its robot. Report the damage on %s, and drop this one with the reason.", j.Number, robot.Name)
		}
	}
	from := t.s().Robots[d.Robot]
	if d.Fight != "" {
		d.Fight = t.s().fightBeside(t.s().Fights[d.Fight], robot.ID, d.At)
	}
	if d.Fight == "" {
		d.Hit = 0
	}
	d.Robot, d.OnPart, d.OnJoint = robot.ID, "", ""
	d.Acceptor, d.AcceptedAt, d.Off, d.Looked = "", 0, PartOff{}, Reinspection{}
	t.put(t.loosened(d, "it is no damage of "+from.Name, "it was entered on the wrong robot and is on "+robot.Name))
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

// DamageRegrade gives a damage another grade, or drops it as no damage. Less than
// before takes a reason.
type DamageRegrade struct {
	Damage DamageID `json:"damage"`
	Grade  Grade    `json:"grade"`
	What   string   `json:"what,omitzero"`
	Drop   bool     `json:"drop,omitzero"`
	Reason string   `json:"reason,omitzero"`
}

func (c DamageRegrade) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	what := ""
	less := c.Grade.rank() < d.Grade.rank()
	switch {
	case c.Drop && !d.Dropped:
		what = "it is dropped"
	case less:
		what = "graded " + string(c.Grade) + ", not " + string(d.Grade)
	}
	if what != "" {
		if bad := first(t.mayLoosen(d), checkName("reason", c.Reason)); bad != nil {
			return bad
		}
		d = t.loosened(d, what, c.Reason)
	}
	if c.Grade != d.Grade {
		d.GradedAt, d.Acceptor, d.AcceptedAt, d.Looked = t.now, "", 0, Reinspection{}
	}
	d.Grade, d.Dropped = c.Grade, c.Drop
	if less && !c.Drop && d.Grade.rank() <= G2.rank() {
		d.Acceptor, d.AcceptedAt = t.by.Person, t.now
	}
	if c.What != "" {
		d.What = c.What
	}
	t.put(d)
	if d.Grade == GX && !d.Dropped {
		t.mustDo(d.ID)
	}
	return nil
}

// mustDo makes every job of a damage that can hurt people a must, takes up again
// those that were left off, and turns them from a patch to another fix.
func (t *turn) mustDo(id DamageID) {
	for _, j := range Sorted(t.s().Jobs, jobOrder) {
		if !slices.Contains(j.Damages, id) || j.State == JobClosed {
			continue
		}
		if j.State == JobDeferred || j.State == JobDropped {
			j.State, j.Acceptor = JobOpen, ""
			j.Reinspected = Reinspection{}
		}
		j.Triage = Must
		if other := slices.IndexFunc(j.Fixes, func(fix Fix) bool { return fix.Way != WayPatch }); j.State == JobOpen && j.Fix().Way == WayPatch && other >= 0 {
			j.Chosen = other
		}
		t.put(j)
	}
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
