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
	// Robot and Place say where, as far as anyone said.
	Robot RobotID  `json:"robot,omitzero"`
	Place PlaceID  `json:"place,omitzero"`
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
// nothing that they say or leave out stands in the way. A robot that it is about
// is unknown.
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
		t.becomeUnknown(power, "an emergency was raised", true)
	}
	t.put(emergency)
	return nil
}

// emergencyAt finds an emergency that stands at a place: there by its own word, or at
// the robot it is about where it names no place. One that names neither is warned of
// everywhere and bars nothing.
func (s State) emergencyAt(place PlaceID) (Emergency, bool) {
	for _, emergency := range Sorted(s.Emergencies, func(emergency Emergency) string { return string(emergency.ID) }) {
		at := cmp.Or(emergency.Place, s.Powers[emergency.Robot].Place)
		if emergency.EndedAt == 0 && at != "" && at == place {
			return emergency, true
		}
	}
	return Emergency{}, false
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
	if bad := checkName("how", c.How); bad != nil {
		return bad
	}
	if emergency.EndedAt != 0 {
		return refuse(CodeNothingToDo, "It was ended already.")
	}
	emergency.EndedBy, emergency.EndedAt, emergency.How = person.ID, t.now, c.How
	t.put(emergency)
	return nil
}
