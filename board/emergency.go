package board

import (
	"cmp"
	"strings"
)

// Emergency is someone's word that something has happened that is an emergency.
// What people are to do then comes from the officials' card and from nowhere
// else.
type Emergency struct {
	ID EmergencyID `json:"id"`
	V  Rev         `json:"v"`
	// Robot and Place say where, as far as anyone said; Stood where the robot stood when
	// it was raised, if nobody named a place.
	Robot RobotID  `json:"robot,omitzero"`
	Place PlaceID  `json:"place,omitzero"`
	Stood PlaceID  `json:"stood,omitzero"`
	What  string   `json:"what,omitzero"`
	By    PersonID `json:"by,omitzero"`
	At    Moment   `json:"at"`
	// EndedBy, EndedAt and How say who ended it, when, and how it ended.
	EndedBy PersonID `json:"endedBy,omitzero"`
	EndedAt Moment   `json:"endedAt,omitzero"`
	How     string   `json:"how,omitzero"`
}

func (emergency Emergency) Key() Key         { return KeyOf(KindEmergency, emergency.ID) }
func (emergency Emergency) Rev() Rev         { return emergency.V }
func (emergency Emergency) stamp(r Rev) Noun { emergency.V = r; return emergency }

func (emergency Emergency) valid(State) *Refusal {
	return first(checkShort("what", emergency.What), checkShort("how", emergency.How))
}

// EmergencyRaise raises an emergency. Anyone may, minors and guests too, and
// nothing that they say or leave out stands in the way. A robot that it is about is
// unknown, and so is every robot that stands there: people have left it as it was.
type EmergencyRaise struct {
	Robot RobotID `json:"robot,omitzero"`
	Place PlaceID `json:"place,omitzero"`
	What  string  `json:"what,omitzero"`
}

func (c EmergencyRaise) do(t *turn) *Refusal {
	emergency := Emergency{ID: EmergencyID(t.id(KindEmergency, "")), By: t.by.Person, At: t.when}
	if what := strings.TrimSpace(c.What); checkShort("what", what) == nil {
		emergency.What = what
	}
	if _, ok := t.s().Places[c.Place]; ok {
		emergency.Place = c.Place
	}
	if power, robot, bad := t.power(c.Robot); bad == nil {
		emergency.Robot = robot.ID
		if emergency.Place == "" {
			emergency.Stood = power.Place
		}
		t.becomeUnknown(power, "an emergency was raised", true)
	}
	t.put(emergency)
	place := cmp.Or(emergency.Place, emergency.Stood)
	for _, robot := range t.s().standAt(place) {
		if place != "" && robot.ID != emergency.Robot {
			t.doubt(t.s().Powers[robot.ID], "an emergency was raised at "+t.s().Places[place].Name)
		}
	}
	return nil
}

// emergencyAt finds an emergency that stands at a place: there by its own word, or, where
// it names none, where the robot it is about stood when it was raised and stands now. One
// that names neither is warned of everywhere and bars nothing.
func (s State) emergencyAt(place PlaceID) (Emergency, bool) {
	for _, emergency := range Sorted(s.Emergencies, func(emergency Emergency) string { return string(emergency.ID) }) {
		at := place == emergency.Place
		if emergency.Place == "" {
			at = place == emergency.Stood || place == s.Powers[emergency.Robot].Place
		}
		if emergency.EndedAt == 0 && place != "" && at {
			return emergency, true
		}
	}
	return Emergency{}, false
}

// rule20Places keeps a place where an emergency stands on the board, as it is: nobody
// finds what is burning under another name.
func rule20Places(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was, had := t.before.Places[PlaceID(id)]
		if k != KindPlace || !had || was.Retired {
			continue
		}
		is := t.s().Places[was.ID]
		if _, stands := t.before.emergencyAt(was.ID); stands && (is.ID == "" || is.Retired || is.Kind != was.Kind || Folded(is.Name) != Folded(was.Name)) {
			return breaks(20, "There is an emergency at %s: it stays on the board as it is before %s has said that it is over.", was.Name, t.s().inCharge())
		}
	}
	return nil
}

// EmergencyEnd says that an emergency is over, and how. It brings nothing back:
// a robot it was about stays unknown.
type EmergencyEnd struct {
	Emergency EmergencyID `json:"emergency"`
	How       string      `json:"how"`
}

func (c EmergencyEnd) do(t *turn) *Refusal {
	emergency, ok := t.s().Emergencies[c.Emergency]
	if !ok {
		return missing("emergency", "emergency")
	}
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if bad := checkReason("how", c.How); bad != nil {
		return bad
	}
	if emergency.EndedAt != 0 {
		return refuse(CodeNothingToDo, "It was ended already.")
	}
	if t.when < t.now-guardFresh {
		return &Refusal{Code: CodeTooLate, Rule: 19, Now: emergency.Key(),
			Sentence: "This was given a while before the board could hear of it. Look again, and repeat it if the emergency is still over."}
	}
	emergency.EndedBy, emergency.EndedAt, emergency.How = person.ID, t.now, c.How
	t.put(emergency)
	return nil
}

// inCharge names who takes and ends what is about people.
func (s State) inCharge() string {
	var names []string
	for _, person := range Sorted(s.People, func(person Person) string { return person.Name + string(person.ID) }) {
		if (person.Role == RoleCaptain || person.Role == RoleSafety) && person.Answers() {
			names = append(names, person.Name)
		}
	}
	if len(names) == 0 {
		return "the captain or event safety"
	}
	return listOr(names)
}

// powerInEmergency is rule 20 for a robot that is tested or declared live where an
// emergency stands, or that one is about.
func (t *turn) powerInEmergency() *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		is := t.s().Powers[RobotID(id)]
		if k != KindPower || !is.State.Energised() || is.State == t.before.Powers[is.Robot].State {
			continue
		}
		robot := t.s().Robots[is.Robot]
		if t.s().emergencyAbout(robot.ID) {
			return breaks(20, "There is an emergency about %s: it gets no power before %s has said that it is over.", robot.Name, t.s().inCharge())
		}
		if _, stands := t.s().emergencyAt(is.Place); stands {
			return breaks(20, "There is an emergency at %s: %s gets no power there before %s has said that it is over.", t.s().Places[is.Place].Name, robot.Name, t.s().inCharge())
		}
	}
	return nil
}

func (s State) emergencyAbout(robot RobotID) bool {
	for _, emergency := range s.Emergencies {
		if emergency.Robot == robot && emergency.EndedAt == 0 {
			return true
		}
	}
	return false
}

// rule24Pack lets nobody who is a minor or guest, or has no name, end the alarm over a pack
// that was set aside by saying that it is gone or lies where it hurts nobody.
func rule24Pack(t *turn) *Refusal {
	if t.answers() {
		return nil
	}
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was, had := t.before.Packs[PackID(id)]
		if k == KindPack && had && t.before.AsideHere(was) && !t.s().AsideHere(t.s().Packs[was.ID]) {
			return breaks(24, "Pack %s is %s. That it is gone or well away is for a member of the team to say. Call %s.", was.Name, was.State, t.s().inCharge())
		}
	}
	return nil
}

// rule24Ends lets a member of the team take what is about people, and the captain or
// event safety end an emergency, each in their own name.
func rule24Ends(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		switch k, id := key.Split(); k {
		case KindMark:
			is, was := t.s().Marks[AlarmID(id)], t.before.Marks[AlarmID(id)]
			taker, ok := t.s().People[is.TakenBy]
			if is.ID.people() && ok && !taker.Answers() && (is.TakenBy != was.TakenBy || is.TakenAt != was.TakenAt) {
				return breaks(24, "%s is %s: they raise an alarm about people and do not take it. Call %s.", taker.Name, taker.whatIs(), t.s().inCharge())
			}
		case KindEmergency:
			is, was := t.s().Emergencies[EmergencyID(id)], t.before.Emergencies[EmergencyID(id)]
			leads := t.by.Role == RoleCaptain || t.by.Role == RoleSafety
			if is.EndedAt != was.EndedAt && (!leads || is.EndedBy != t.by.Person || !t.s().People[is.EndedBy].Answers()) {
				return breaks(24, "An emergency is ended by the captain or event safety, by name. Call %s.", t.s().inCharge())
			}
		}
	}
	return nil
}
