package board

import "slices"

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

func (tag Tag) Key() Key         { return KeyOf(KindTag, tag.ID) }
func (tag Tag) Rev() Rev         { return tag.V }
func (tag Tag) stamp(r Rev) Noun { tag.V = r; return tag }

func (tag Tag) valid(s State) *Refusal { return s.validOn(tag.Robot, tag.Person) }

func (hands Hands) Key() Key         { return KeyOf(KindHands, hands.ID) }
func (hands Hands) Rev() Rev         { return hands.V }
func (hands Hands) stamp(r Rev) Noun { hands.V = r; return hands }

func (hands Hands) valid(s State) *Refusal { return s.validOn(hands.Robot, hands.Person) }

func (s State) validOn(robot RobotID, person PersonID) *Refusal {
	if _, ok := s.Robots[robot]; !ok {
		return missing("robot", "robot")
	}
	if _, ok := s.People[person]; !ok {
		return breaks(5, "A tag belongs to one named person. Join with a name first.")
	}
	return nil
}

// TagOf finds a person's tag on a robot.
func (s State) TagOf(robot RobotID, person PersonID) (Tag, bool) {
	for _, tag := range inOrder(s.Tags) {
		if tag.Robot == robot && tag.Person == person {
			return tag, true
		}
	}
	return Tag{}, false
}

// HandsOf finds a person's hands near a robot.
func (s State) HandsOf(robot RobotID, person PersonID) (Hands, bool) {
	for _, hands := range inOrder(s.Hands) {
		if hands.Robot == robot && hands.Person == person {
			return hands, true
		}
	}
	return Hands{}, false
}

// tagsOn lists the tags on a robot in the order in which they were put on.
func (s State) tagsOn(robot RobotID) []Tag {
	var on []Tag
	for _, tag := range Sorted(s.Tags, func(tag Tag) string { return tag.At.String() + string(tag.ID) }) {
		if tag.Robot == robot {
			on = append(on, tag)
		}
	}
	return on
}

// othersTags says whose tags are on a robot besides a person's: "Ada's and Ben's".
func (s State) othersTags(robot RobotID, person PersonID) string {
	var names []string
	for _, tag := range s.tagsOn(robot) {
		if tag.Person != person {
			names = append(names, s.People[tag.Person].Name+"'s")
		}
	}
	return listNames(names)
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
	power, robot, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	person, bad := t.own(c.Person)
	if bad != nil {
		return bad
	}
	_, noticed := t.s().noticeDue(person.ID)
	switch authorised := person.AuthorisedFor(robot); {
	case t.wasOn(power) && (noticed || !authorised):
		return t.handsNear(power, robot, person)
	case !authorised:
		return breaks(5, "%s is not authorised for every energy of %s. Mark hands near instead: it blocks power just the same.", person.Name, robot.Name)
	}
	if _, on := t.s().TagOf(robot.ID, person.ID); on {
		return refuse(CodeNothingToDo, "%s's tag is on %s already.", person.Name, robot.Name)
	}
	if bad := first(checkShort("isolator", c.Isolator), t.noticed(person), t.mayTag(power, robot)); bad != nil {
		return bad
	}
	t.put(Tag{ID: TagID(t.id(KindTag, "")), Robot: robot.ID, Person: person.ID, Isolator: c.Isolator, At: t.handsSince(power, person.ID)})
	if power.State == Verified {
		t.firstInAgain(robot)
	}
	if power.State == Ready || power.State.Energised() {
		t.becomeUnknown(power, person.Name+"'s tag came in while the board said "+power.State.String(), true)
	}
	if open := t.openLine(robot.ID, ListFirstIn); power.State == Work && open != "" {
		t.becomeUnknown(power, person.Name+"'s tag came in while only one might be on", true)
	}
	t.cameLate(robot.ID, t.handsSince(power, person.ID), person.Name+"'s tag was on")
	return nil
}

// tapMost is how long a tap takes to the board while its phone has a network, so that
// a refusal still reaches who tapped: our decision.
const tapMost = 2 * second

// wasOn tells that a tag which comes now was on before the board could say no: it waited
// on a phone, and long, or since before the robot came to the state that it is in. It is
// a fact.
func (t *turn) wasOn(power Power) bool {
	return t.late() || t.when < t.now-tapMost && t.when < power.Since
}

// mayTag says from where a tag may go on. One that was on already goes on from anywhere.
func (t *turn) mayTag(power Power, robot Robot) *Refusal {
	if t.wasOn(power) {
		return nil
	}
	switch power.State {
	case Work:
		if open := t.openLine(robot.ID, ListFirstIn); open != "" {
			first := t.s().People[t.s().tagsOn(robot.ID)[0].Person].Name
			return breaks(3, "Only one tag may be on %s, and %s's is, until this is answered: %s To hand over now, %s's tag comes off first: the robot stays verified.", robot.Name, first, open, first)
		}
		return nil
	case Verified:
		if open := t.openLine(robot.ID, ListFirstIn); open != "" {
			if near := t.s().othersNear(robot.ID, t.by.Person); len(near) > 0 {
				return breaks(3, "%s still near %s, and only one may be on until this is answered: %s First off: theirs, by their own word.", isAre(near), robot.Name, open)
			}
		}
		return t.recheckFirst(robot)
	case ClosingUp:
		return breaks(3, "%s is being closed up. Its lead reopens it first; until then mark hands near.", robot.Name)
	case Ready:
		return breaks(7, "%s is signed ready: keep hands out. To work on it, set it unknown, which anyone may, and make it safe again.", robot.Name)
	case Test, Live:
		return breaks(7, "%s is %s: keep hands out. Its lead must end that first.", robot.Name, power.State)
	}
	return breaks(3, "%s is %s. Make it safe and verify it first; until then mark hands near.", robot.Name, power.State)
}

// TagOff takes a tag off. Only its owner can: on their own device, or by their
// PIN on another.
type TagOff struct {
	Tag TagID `json:"tag"`
}

func (c TagOff) Guards(s State) []Key { return []Key{KeyOf(KindTag, c.Tag)} }

func (c TagOff) do(t *turn) *Refusal {
	tag, ok := t.s().Tags[c.Tag]
	if !ok {
		return missing("tag", "tag")
	}
	if bad := t.sinceForgotten(tag.Key(), tag.Person); bad != nil {
		return bad
	}
	if !t.putOn(tag.Key(), tag.Person) {
		name := t.s().People[tag.Person].Name
		return breaks(5, "This is %s's tag. Only %s takes it off: on their own phone, or here with their PIN.", name, name)
	}
	t.del(tag.Key())
	return nil
}

// HandsOn says that a person's hands are near a robot. It is never refused for
// the robot's state: a robot that the board took to be powered is unknown now.
type HandsOn struct {
	Robot  RobotID  `json:"robot"`
	Person PersonID `json:"person,omitzero"`
}

func (c HandsOn) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	person, bad := t.own(c.Person)
	if bad != nil {
		return bad
	}
	return t.handsNear(power, robot, person)
}

func (t *turn) handsNear(power Power, robot Robot, person Person) *Refusal {
	if _, on := t.s().HandsOf(robot.ID, person.ID); on {
		return refuse(CodeNothingToDo, "%s's hands are near %s already.", person.Name, robot.Name)
	}
	t.put(Hands{ID: HandsID(t.id(KindHands, "")), Robot: robot.ID, Person: person.ID, At: t.handsSince(power, person.ID)})
	if power.State == Ready || power.State.Energised() {
		t.becomeUnknown(power, person.Name+"'s hands were near while the board said "+power.State.String(), true)
	}
	if t.s().crowded(robot.ID) {
		t.becomeUnknown(power, person.Name+"'s hands came near while one alone might be on", true)
	}
	t.cameLate(robot.ID, t.handsSince(power, person.ID), person.Name+"'s hands were near")
	return nil
}

// HandsOff lifts a person's own hands near.
type HandsOff struct {
	Hands HandsID `json:"hands"`
}

func (c HandsOff) Guards(s State) []Key { return []Key{KeyOf(KindHands, c.Hands)} }

func (c HandsOff) do(t *turn) *Refusal {
	hands, ok := t.s().Hands[c.Hands]
	if !ok {
		return missing("hands near", "hands")
	}
	if bad := t.sinceForgotten(hands.Key(), hands.Person); bad != nil {
		return bad
	}
	if !t.putOn(hands.Key(), hands.Person) {
		return breaks(5, "Only %s can say that their hands are away.", t.s().People[hands.Person].Name)
	}
	t.del(hands.Key())
	return nil
}

// own finds the person a tag or hands near would belong to.
func (t *turn) own(id PersonID) (Person, *Refusal) {
	if id == "" {
		id = t.by.Person
	}
	person, ok := t.s().People[id]
	if !ok || person.Retired {
		return Person{}, breaks(5, "This belongs to one named person. Join with a name first.")
	}
	if !t.by.proves(id) {
		return Person{}, &Refusal{Code: CodeNeedProof, Rule: 5, Field: "person", Sentence: "Nobody does this in another's name: " + person.Name + " types their own PIN."}
	}
	return person, nil
}

// rule5 keeps tags and hands near to people who stand behind them.
func rule5(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		person, moved := t.owner(key)
		_, overridden := t.notice(person)
		_, had := t.before.Get(key)
		if _, restored := t.command.(BoardRestore); restored && !had {
			continue // by the board that was replaced
		}
		if moved && !t.putOn(key, person) && !overridden {
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

func (t *turn) followTags(power Power) Power {
	on := len(t.s().tagsOn(power.Robot))
	switch {
	case power.State == Verified && on > 0:
		return t.step(power, Work)
	case power.State == Work && on == 0:
		return t.step(power, Verified)
	}
	return power
}

// putOn tells whether the hand behind the request is the one that put a tag or hands
// near on, or puts it on now. A PIN set after another was forgotten is not the hand
// that put on what stands from before; the one that was forgotten is.
func (t *turn) putOn(key Key, owner PersonID) bool {
	was, had := t.before.Get(key)
	if !had || was.Rev() >= t.before.People[owner].Forgotten.Rev {
		return t.by.proves(owner)
	}
	return slices.ContainsFunc(t.by.Before, func(pin BeforePIN) bool { return pin.Person == owner && was.Rev() < pin.Until })
}

// sinceForgotten refuses a new PIN what was put on before, and says both ways out.
func (t *turn) sinceForgotten(key Key, owner PersonID) *Refusal {
	if !t.by.proves(owner) || t.putOn(key, owner) {
		return nil
	}
	person := t.s().People[owner]
	return breaks(5, "%s's PIN was forgotten at %s, after this was put on. It comes off with the PIN from before, or as an override by two people.", person.Name, t.s().Clock(person.Forgotten.At))
}

// OldestOn is the revision since which something of a person's has stood longest, 0
// where nothing does: a tag or hands near.
func (s State) OldestOn(person PersonID) Rev {
	oldest := Rev(0)
	for _, tag := range s.Tags {
		if tag.Person == person && (oldest == 0 || tag.V < oldest) {
			oldest = tag.V
		}
	}
	for _, hands := range s.Hands {
		if hands.Person == person && (oldest == 0 || hands.V < oldest) {
			oldest = hands.V
		}
	}
	return oldest
}
