package board

import "strings"

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

func (e Emergency) Key() Key         { return KeyOf(KindEmergency, e.ID) }
func (e Emergency) Rev() Rev         { return e.V }
func (e Emergency) stamp(r Rev) Noun { e.V = r; return e }

func (e Emergency) valid(State) *Refusal {
	return first(checkShort("what", e.What), checkShort("how", e.How))
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
	e := Emergency{ID: EmergencyID(t.id(KindEmergency, "")), By: t.by.Person, At: t.when}
	if what := strings.TrimSpace(c.What); checkShort("what", what) == nil {
		e.What = what
	}
	if _, ok := t.s().Places[c.Place]; ok {
		e.Place = c.Place
	}
	if w, robot, r := t.power(c.Robot); r == nil {
		e.Robot = robot.ID
		t.becomeUnknown(w, "an emergency was raised", true)
	}
	t.put(e)
	return nil
}

// EmergencyEnd says that an emergency is over, and how. It brings nothing back:
// a robot it was about stays unknown.
type EmergencyEnd struct {
	Emergency EmergencyID `json:"emergency"`
	How       string      `json:"how"`
}

func (c EmergencyEnd) do(t *turn) *Refusal {
	e, ok := t.s().Emergencies[c.Emergency]
	if !ok {
		return missing("emergency", "emergency")
	}
	p, r := t.own("")
	if r != nil {
		return r
	}
	if r := checkName("how", c.How); r != nil {
		return r
	}
	if e.EndedAt != 0 {
		return refuse(CodeNothingToDo, "It was ended already.")
	}
	e.EndedBy, e.EndedAt, e.How = p.ID, t.now, c.How
	t.put(e)
	return nil
}
