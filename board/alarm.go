package board

import (
	"regexp"
	"strings"
)

// AlarmID names an alarm of the forecast: its class, a dash and what it is about,
// as "B-call-0192…". The class is part of the name, so that the board, which
// computes no alarm, knows what may not be shelved; an alarm that changes its
// class is another alarm.
type AlarmID string

var alarmForm = regexp.MustCompile(`^[ABC]-[a-z0-9-]{1,120}$`)

// OfWork tells whether the name is that of a piece of work that someone has taken.
func (id AlarmID) OfWork() bool {
	name, is := strings.CutPrefix(string(id), "W-")
	return is && workForm.MatchString(name)
}

// people tells whether the alarm is of the top class, which is about people.
func (id AlarmID) people() bool { return strings.HasPrefix(string(id), "A-") }

// Mark is what people did about an alarm: who took it, and how long it is
// shelved. It counts until the state that the alarm is about changes again. Who has a
// piece of work is kept as the mark of its name behind W-.
type Mark struct {
	ID      AlarmID  `json:"id"`
	V       Rev      `json:"v"`
	TakenBy PersonID `json:"takenBy,omitzero"`
	TakenAt Moment   `json:"takenAt,omitzero"`
	// ShelvedBy put it aside until ShelvedUntil, for a reason.
	ShelvedBy    PersonID `json:"shelvedBy,omitzero"`
	ShelvedAt    Moment   `json:"shelvedAt,omitzero"`
	ShelvedUntil Moment   `json:"shelvedUntil,omitzero"`
	Reason       string   `json:"reason,omitzero"`
}

func (mark Mark) Key() Key         { return KeyOf(KindMark, mark.ID) }
func (mark Mark) Rev() Rev         { return mark.V }
func (mark Mark) stamp(r Rev) Noun { mark.V = r; return mark }

func (mark Mark) valid(State) *Refusal {
	if bad := checkAlarm(mark.ID); bad != nil && !mark.ID.OfWork() {
		return bad
	}
	return checkShort("reason", mark.Reason)
}

func checkAlarm(id AlarmID) *Refusal {
	if !alarmForm.MatchString(string(id)) {
		return badField("alarm", "That is not the name of an alarm: it begins with its class, as in B-call.")
	}
	return nil
}

// AlarmTake says that a named person sees to an alarm: it stops sounding. One that
// came late is dated when it was said, so that it takes no later alarm.
type AlarmTake struct {
	Alarm AlarmID `json:"alarm"`
}

func (c AlarmTake) do(t *turn) *Refusal {
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if bad := checkAlarm(c.Alarm); bad != nil {
		return bad
	}
	if t.s().notYet(c.Alarm) {
		return refuse(CodeNothingToDo, "There is no such alarm now. It is taken once it stands.")
	}
	mark := t.s().Marks[c.Alarm]
	mark.ID, mark.TakenBy, mark.TakenAt = c.Alarm, person.ID, max(mark.TakenAt, t.when)
	t.put(mark)
	return nil
}

// notYet tells whether an alarm about people does not stand, as far as the board knows by
// itself: what it is about is an emergency, a pack or a robot that is no such thing.
func (s State) notYet(id AlarmID) bool {
	for kind, stands := range map[string]func(about string) bool{
		"A-emergency-": func(about string) bool { e, ok := s.Emergencies[EmergencyID(about)]; return ok && e.EndedAt == 0 },
		"A-pack-":      func(about string) bool { return s.AsideHere(s.Packs[PackID(about)]) },
		"A-conflict-":  func(about string) bool { return s.Powers[RobotID(about)].Conflict },
	} {
		if about, is := strings.CutPrefix(string(id)+"-", kind); is {
			return !stands(strings.TrimSuffix(about, "-"))
		}
	}
	return false
}

// shelveMostMin is the longest an alarm may be shelved: our decision after
// ISA-18.2 and IEC 62682, which ask that shelving be for a time.
const shelveMostMin = 15

// AlarmShelve puts an alarm aside for some minutes, with a reason: never one of
// the top class, and never past the next call.
type AlarmShelve struct {
	Alarm   AlarmID `json:"alarm"`
	Minutes int     `json:"minutes"`
	Reason  string  `json:"reason"`
	// NextCall is the next call to staging that the screen shows, where there is
	// one. The forecast ends a shelving at the call in any case.
	NextCall Moment `json:"nextCall,omitzero"`
}

func (c AlarmShelve) do(t *turn) *Refusal {
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if person.Minor || person.Guest {
		return refuse(CodeForbidden, "An alarm is snoozed by a member of the team. Call %s.", t.s().inCharge())
	}
	if c.Alarm.people() {
		return breaks(24, "This alarm is about people: it is not snoozed, muted or hidden. Say that you are on it, and see to it.")
	}
	if bad := first(checkAlarm(c.Alarm), checkRange("minutes", c.Minutes, 1, shelveMostMin, "minutes"), checkReason("reason", c.Reason)); bad != nil {
		return bad
	}
	until := t.now + Moment(c.Minutes)*minute
	if c.NextCall > t.now && until > c.NextCall {
		return badField("minutes", "The next call comes before that. Shelve it for %d minutes at most.", int((c.NextCall-t.now)/minute))
	}
	mark := t.s().Marks[c.Alarm]
	mark.ID, mark.ShelvedBy, mark.ShelvedAt, mark.ShelvedUntil, mark.Reason = c.Alarm, person.ID, t.now, until, c.Reason
	t.put(mark)
	return nil
}

// rule24 shelves no alarm about people, and none for longer than may be.
func rule24(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		is, was := t.s().Marks[AlarmID(id)], t.before.Marks[AlarmID(id)]
		if k != KindMark || is.ShelvedUntil == was.ShelvedUntil || is.ShelvedUntil == 0 {
			continue
		}
		if is.ID.people() || is.ShelvedUntil > t.now+shelveMostMin*minute || is.ShelvedBy == "" || checkReason("reason", is.Reason) != nil {
			return breaks(24, "An alarm is snoozed by name, with a reason, for at most %d minutes, and never one about people.", shelveMostMin)
		}
	}
	return nil
}
