package board

// Tag is one person's word that they are working on a robot.
type Tag struct {
	ID       TagID    `json:"id"`
	V        Rev      `json:"v"`
	Robot    RobotID  `json:"robot"`
	Person   PersonID `json:"person"`
	Isolator string   `json:"isolator,omitzero"`
	At       Moment   `json:"at"`
}

// Hands is the same warning from anyone: it blocks power as a tag does, and
// gives no authority.
type Hands struct {
	ID     HandsID  `json:"id"`
	V      Rev      `json:"v"`
	Robot  RobotID  `json:"robot"`
	Person PersonID `json:"person"`
	At     Moment   `json:"at"`
}

func (g Tag) Key() Key         { return KeyOf(KindTag, g.ID) }
func (g Tag) Rev() Rev         { return g.V }
func (g Tag) stamp(r Rev) Noun { g.V = r; return g }

func (g Tag) valid(s State) *Refusal { return s.validOn(g.Robot, g.Person) }

func (h Hands) Key() Key         { return KeyOf(KindHands, h.ID) }
func (h Hands) Rev() Rev         { return h.V }
func (h Hands) stamp(r Rev) Noun { h.V = r; return h }

func (h Hands) valid(s State) *Refusal { return s.validOn(h.Robot, h.Person) }

func (s State) validOn(robot RobotID, person PersonID) *Refusal {
	if _, ok := s.Robots[robot]; !ok {
		return missing("robot", "robot")
	}
	if _, ok := s.People[person]; !ok {
		return breaks(5, "A tag belongs to one named person. Join with a name first.")
	}
	return nil
}

// tagOf finds a person's tag on a robot.
func (s State) tagOf(robot RobotID, person PersonID) (Tag, bool) {
	for _, g := range s.Tags {
		if g.Robot == robot && g.Person == person {
			return g, true
		}
	}
	return Tag{}, false
}

func (s State) handsOf(robot RobotID, person PersonID) (Hands, bool) {
	for _, h := range s.Hands {
		if h.Robot == robot && h.Person == person {
			return h, true
		}
	}
	return Hands{}, false
}

// tagsOn lists the tags on a robot in the order in which they were put on.
func (s State) tagsOn(robot RobotID) []Tag {
	var on []Tag
	for _, g := range sortedBy(s.Tags, func(g Tag) string { return g.At.String() + string(g.ID) }) {
		if g.Robot == robot {
			on = append(on, g)
		}
	}
	return on
}

// namesOn lists everyone on or near a robot, by name, once each.
func (s State) namesOn(robot RobotID) []string {
	seen := map[string]string{}
	for _, g := range s.Tags {
		if g.Robot == robot {
			seen[s.People[g.Person].Name] = ""
		}
	}
	for _, h := range s.Hands {
		if h.Robot == robot {
			seen[s.People[h.Person].Name] = ""
		}
	}
	return sortedNames(seen)
}

// TagOn puts on a person's own tag.
type TagOn struct {
	Robot RobotID `json:"robot"`
	// Person is the tag's owner on someone else's device, proved by PIN; else the
	// device's own person.
	Person   PersonID `json:"person,omitzero"`
	Isolator string   `json:"isolator,omitzero"`
}

func (c TagOn) do(t *turn) *Refusal {
	w, robot, r := t.power(c.Robot)
	if r != nil {
		return r
	}
	p, r := t.own(c.Person)
	if r != nil {
		return r
	}
	if !p.authorisedFor(robot) {
		return breaks(5, "%s is not authorised for every energy of %s. Mark hands near instead: it blocks power just the same.", p.Name, robot.Name)
	}
	if _, on := t.s().tagOf(robot.ID, p.ID); on {
		return refuse(CodeNothingToDo, "%s's tag is on %s already.", p.Name, robot.Name)
	}
	if r := first(checkShort("isolator", c.Isolator), t.noticed(p), t.mayTag(w, robot)); r != nil {
		return r
	}
	t.put(Tag{ID: TagID(t.id(KindTag, "")), Robot: robot.ID, Person: p.ID, Isolator: c.Isolator, At: t.when})
	if w.State == Verified {
		t.firstInAgain(robot)
	}
	if w.State == Ready || w.State.energised() {
		t.becomeUnknown(w, p.Name+"'s tag came in while the board said "+string(w.State), true)
	}
	if open := t.openLine(robot.ID, ListFirstIn); w.State == Work && open != "" {
		t.becomeUnknown(w, p.Name+"'s tag came in while only one might be on", true)
	}
	return nil
}

// mayTag says from where a tag may go on. One that waited on a phone is a fact
// and always goes on.
func (t *turn) mayTag(w Power, robot Robot) *Refusal {
	if t.late() {
		return nil
	}
	switch w.State {
	case Work:
		if open := t.openLine(robot.ID, ListFirstIn); open != "" {
			first := t.s().People[t.s().tagsOn(robot.ID)[0].Person].Name
			return breaks(3, "Only one tag may be on %s, and %s's is, until this is answered: %s To hand over now, %s's tag comes off first: the robot stays verified.", robot.Name, first, open, first)
		}
		return nil
	case Verified:
		return t.recheckFirst(robot)
	case ClosingUp:
		return breaks(3, "%s is being closed up. Its lead opens it again first; until then mark hands near.", robot.Name)
	case Test, Ready, Live:
		return breaks(7, "%s is %s: keep hands out. Its lead must end that first.", robot.Name, w.State)
	}
	return breaks(3, "%s is %s. Make it safe and verify it first; until then mark hands near.", robot.Name, w.State)
}

// TagOff takes a tag off. Only its owner can: on their own device, or by their
// PIN on another.
type TagOff struct {
	Tag TagID `json:"tag"`
}

func (c TagOff) Guards(s State) []Key { return []Key{KeyOf(KindTag, c.Tag)} }

func (c TagOff) do(t *turn) *Refusal {
	g, ok := t.s().Tags[c.Tag]
	if !ok {
		return missing("tag", "tag")
	}
	if !t.by.proves(g.Person) {
		name := t.s().People[g.Person].Name
		return breaks(5, "This is %s's tag. Only %s takes it off: on their own phone, or here with their PIN.", name, name)
	}
	t.del(g.Key())
	return nil
}

// HandsOn says that a person's hands are near a robot. It is never refused for
// the robot's state: a robot that the board took to be powered is unknown now.
type HandsOn struct {
	Robot  RobotID  `json:"robot"`
	Person PersonID `json:"person,omitzero"`
}

func (c HandsOn) do(t *turn) *Refusal {
	w, robot, r := t.power(c.Robot)
	if r != nil {
		return r
	}
	p, r := t.own(c.Person)
	if r != nil {
		return r
	}
	if _, on := t.s().handsOf(robot.ID, p.ID); on {
		return refuse(CodeNothingToDo, "%s's hands are near %s already.", p.Name, robot.Name)
	}
	t.put(Hands{ID: HandsID(t.id(KindHands, "")), Robot: robot.ID, Person: p.ID, At: t.when})
	if w.State == Ready || w.State.energised() {
		t.becomeUnknown(w, p.Name+"'s hands were near while the board said "+string(w.State), true)
	}
	return nil
}

// HandsOff lifts a person's own hands near.
type HandsOff struct {
	Hands HandsID `json:"hands"`
}

func (c HandsOff) Guards(s State) []Key { return []Key{KeyOf(KindHands, c.Hands)} }

func (c HandsOff) do(t *turn) *Refusal {
	h, ok := t.s().Hands[c.Hands]
	if !ok {
		return missing("hands near", "hands")
	}
	if !t.by.proves(h.Person) {
		return breaks(5, "Only %s can say that their hands are away.", t.s().People[h.Person].Name)
	}
	t.del(h.Key())
	return nil
}

// own finds the person a tag or hands near would belong to.
func (t *turn) own(id PersonID) (Person, *Refusal) {
	if id == "" {
		id = t.by.Person
	}
	p, ok := t.s().People[id]
	if !ok || p.Retired {
		return Person{}, breaks(5, "This belongs to one named person. Join with a name first.")
	}
	if !t.by.proves(id) {
		return Person{}, &Refusal{Code: CodeNeedProof, Rule: 5, Field: "person", Sentence: "Nobody does this in another's name: " + p.Name + " types their own PIN."}
	}
	return p, nil
}

// rule5 keeps tags and hands near to people who stand behind them.
func rule5(t *turn) *Refusal {
	for key := range t.did {
		person, moved := t.owner(key)
		_, overridden := t.notice(person)
		if moved && !t.by.proves(person) && !overridden {
			return breaks(5, "A tag or hands near is put on and taken off by its owner only.")
		}
	}
	return nil
}

// owner finds whose tag or hands near came or went under key.
func (t *turn) owner(key Key) (PersonID, bool) {
	was, had := t.before.Get(key)
	is, has := t.s().Get(key)
	if had == has {
		return "", false
	}
	if had {
		is = was
	}
	switch n := is.(type) {
	case Tag:
		return n.Person, true
	case Hands:
		return n.Person, true
	}
	return "", false
}
