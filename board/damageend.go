package board

import "slices"

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

func (c DamageAccept) Guards(State) []Key { return []Key{KeyOf(KindDamage, c.Damage)} }

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
// put right or its part is off, and at graver damage whose part is off.
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
	case d.Dropped || d.Grade.rank() < G3.rank() || d.Grade != GX && !t.s().off(d):
		return refuse(CodeNothingToDo, "Damage %d cannot hurt people as it is graded: nobody needs to look at it again.", d.Number)
	case !person.Answers():
		return breaks(11, "%s is %s: the look at damage %d is not theirs. It is for %s.", person.Name, person.whatIs(), d.Number, t.s().whoLooks(d))
	case !t.s().handled(d):
		if bad := t.s().notClosed(11, d); bad != nil {
			return bad
		}
		if !t.s().jobsToDo(d) {
			return breaks(11, "Damage %d, %s, is not put right yet. Make a new job of it, a swap or a mend under lockout, or take the part off and say so; then look.", d.Number, d.Part)
		}
		return breaks(11, "Damage %d, %s, is not put right yet. Do its job, or take the part off and say so; then look.", d.Number, d.Part)
	case !t.s().mayLook(person, d):
		return breaks(11, "The look at damage %d is for someone with authority, or a signer, who did no work on it: %s.", d.Number, t.s().whoLooks(d))
	}
	if bad := t.lookable(d); bad != nil {
		return bad
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
	switch {
	case c.Back && d.Off.At == 0:
		return refuse(CodeNothingToDo, "Nobody said that the part of damage %d is off: by the board it is on.", d.Number)
	case c.Back:
		d.BackAt, d.Off = t.now, PartOff{}
		t.put(d)
		return nil
	case d.Dropped:
		return refuse(CodeState, "Damage %d was dropped: there is no damaged part to be off. Report it again, if there is.", d.Number)
	}
	if bad := first(t.mayLoosen(d), t.opened(d), t.atWork(d), checkName("what", c.What)); bad != nil {
		return bad
	}
	d.Off = PartOff{What: c.What, By: t.by.Person, At: t.now}
	t.put(t.loosened(d, "its part is off the robot", c.What))
	return nil
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

// Guards names the damage where less is made of it than it was: a worse word that came
// between is read first.
func (c DamageRegrade) Guards(s State) []Key {
	if d := s.Damages[c.Damage]; c.less(d) || c.Drop && !d.Dropped {
		return []Key{d.Key()}
	}
	return nil
}

func (c DamageRegrade) less(d Damage) bool { return c.Grade.rank() < d.Grade.rank() }

func (c DamageRegrade) do(t *turn) *Refusal {
	d, ok := t.s().Damages[c.Damage]
	if !ok {
		return missing("damage", "damage")
	}
	what := ""
	less, more := c.less(d), c.Grade.rank() > d.Grade.rank()
	switch {
	case c.Drop && !d.Dropped:
		what = "it is dropped"
	case less:
		what = "graded " + string(c.Grade) + ", not " + string(d.Grade)
	}
	if what != "" {
		if bad := t.mayLoosen(d); bad != nil {
			return bad
		}
		if checkReason("reason", c.Reason) != nil {
			return &Refusal{Code: CodeSafety, Rule: 11, Field: "reason", Sentence: "Say in a few words why: " + what + ". It stands in the review."}
		}
		d = t.talkedDown(d, what, c.Reason)
	}
	if c.Grade != d.Grade {
		d.GradedAt, d.Acceptor, d.AcceptedAt, d.Looked = t.now, "", 0, Reinspection{}
	}
	if more && c.Grade.rank() >= G3.rank() {
		d.RaisedAt = t.now
	}
	d.Grade, d.Dropped = c.Grade, c.Drop
	if less && !c.Drop && d.Grade.rank() <= G2.rank() {
		d.Acceptor, d.AcceptedAt = t.by.Person, t.now
	}
	if c.What != "" {
		d.What = c.What
	}
	t.put(d)
	switch {
	case d.Dropped:
	case d.Grade == GX:
		t.mustDo(d.ID)
	case d.RaisedAt == t.now:
		t.takeUp(d.ID)
	}
	return nil
}

// takeUp opens again the jobs of a damage that were left off while it was graded less.
func (t *turn) takeUp(id DamageID) {
	for _, j := range inJobOrder(t.s()) {
		if slices.Contains(j.Damages, id) && j.State == JobDeferred {
			j.State, j.Acceptor = JobOpen, ""
			j.Reinspected = Reinspection{}
			t.put(j)
		}
	}
}

// mustDo makes every job of a damage that can hurt people a must, takes up again
// those that were left off, and turns them from a patch to another fix.
func (t *turn) mustDo(id DamageID) {
	for _, j := range inJobOrder(t.s()) {
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
