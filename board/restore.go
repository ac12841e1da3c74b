package board

import (
	"fmt"
	"slices"
	"strings"
)

const beforeRestore = "Before the restore: "

// HeldBack lists, in sentences, what a board keeps from use: packs that were set aside,
// robots that event safety stopped or people are on, and damage that can hurt; what runs
// on a charger; and what an earlier restore listed and nobody has settled. A board that
// takes its place after a restore may know nothing of it.
func (s State) HeldBack() []string {
	var list []string
	for _, n := range Sorted(s.Notes, func(n Note) string { return n.Text + string(n.ID) }) {
		if n.Held && n.SettledAt == 0 {
			list = append(list, strings.TrimPrefix(n.Text, beforeRestore))
		}
	}
	for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name }) {
		if p.State.setAside() && !p.Retired {
			list = append(list, fmt.Sprintf("Pack %s was %s.", p.Name, p.State))
		}
	}
	for _, power := range Sorted(s.Powers, func(power Power) string { return s.Robots[power.Robot].Name }) {
		if power.Stop.At != 0 {
			list = append(list, fmt.Sprintf("%s was stopped by %s: %s.", s.Robots[power.Robot].Name, s.People[power.Stop.By].Name, power.Stop.Why))
		}
	}
	for _, d := range Sorted(s.Damages, func(d Damage) string { return s.Robots[d.Robot].Name + itoa(100000+d.Number) }) {
		if d.Grade == GX && !d.Dropped {
			list = append(list, fmt.Sprintf("Damage %d of %s, %s, was marked GX: it can hurt people.", d.Number, s.Robots[d.Robot].Name, d.Part))
		}
	}
	for _, r := range Sorted(s.Robots, func(r Robot) string { return r.Name }) {
		for _, h := range s.HandsOn(r.ID) {
			list = append(list, fmt.Sprintf("%s was on %s.", s.People[h.Person].Name, r.Name))
		}
	}
	for _, k := range Sorted(s.Circuits, func(k Circuit) string { return k.Name }) {
		switch {
		case k.Retired:
			list = append(list, fmt.Sprintf("Circuit %s was off the board.", k.Name))
		case k.OffAt != 0:
			list = append(list, fmt.Sprintf("Circuit %s was off.", k.Name))
		}
	}
	for _, ch := range Sorted(s.Channels, func(ch Channel) string { return ch.Name }) {
		if ch.Retired {
			list = append(list, fmt.Sprintf("Channel %s of charger %s was off the board.", ch.Name, ch.Charger))
		}
	}
	for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name }) {
		if p.State == PackCharging {
			list = append(list, fmt.Sprintf("Pack %s was charging on %s, with %s.", p.Name, s.Channels[p.Channel].Name, s.People[p.Attendant].Name))
		}
	}
	return list
}

// BoardRestore is given in place of BoardStart where a backup has taken the board's
// place: what it says of packs is as old as it is, and so every pack is unread.
type BoardRestore struct {
	Why string `json:"why"`
	// Held is what the replaced board kept from use, or that nobody could read it.
	Held []string `json:"held"`
	// Last is as BoardStart has it, of the backup.
	Last Moment `json:"last,omitzero"`
	// Clock is what had been done to the replaced board's time: it goes on, and what the
	// backup dated before or after that was done is moved to it. None where nobody knows.
	Clock *Clock `json:"clock,omitzero"`
	// On is who was on a robot, by the replaced board, and People who they are; Notices are
	// those that nobody had acknowledged there, and Emergencies those that stood. They stand
	// again.
	On          []Hands     `json:"on,omitzero"`
	People      []Person    `json:"people,omitzero"`
	Notices     []Notice    `json:"notices,omitzero"`
	Emergencies []Emergency `json:"emergencies,omitzero"`
	// SetAside are packs, Stopped robots with their stop, and Hurts the damage that can
	// hurt people and was not put right. They are held from use here too.
	SetAside []Pack   `json:"setAside,omitzero"`
	Stopped  []Power  `json:"stopped,omitzero"`
	Hurts    []Damage `json:"hurts,omitzero"`
	// Charging are the packs that were on a charger: there they may be still.
	Charging []Pack `json:"charging,omitzero"`
	// Circuits are those that were off or off the board, Channels those off the board.
	Circuits []Circuit `json:"circuits,omitzero"`
	Channels []Channel `json:"channels,omitzero"`
}

// Replaced adds to a restore what a board holds back that is replaced by it.
func (s State) Replaced(c BoardRestore) BoardRestore {
	s, _ = s.redated(c.moves(s))
	c.Held = append(c.Held, s.HeldBack()...)
	for _, r := range Sorted(s.Robots, func(r Robot) string { return string(r.ID) }) {
		for _, h := range s.HandsOn(r.ID) {
			c.On = append(c.On, Hands{Robot: r.ID, Person: h.Person})
			c.People = append(c.People, s.People[h.Person])
		}
	}
	for _, notice := range inOrder(s.Notices) {
		if notice.Taken == 0 {
			c.Notices = append(c.Notices, notice)
		}
	}
	for _, emergency := range inOrder(s.Emergencies) {
		if emergency.EndedAt == 0 {
			c.Emergencies = append(c.Emergencies, emergency)
		}
	}
	for _, p := range inOrder(s.Packs) {
		switch {
		case p.State.setAside():
			c.SetAside = append(c.SetAside, p)
		case p.State == PackCharging:
			c.Charging = append(c.Charging, p)
		}
	}
	for _, power := range inOrder(s.Powers) {
		if power.Stop.At != 0 {
			c.Stopped = append(c.Stopped, Power{Robot: power.Robot, Stop: power.Stop})
		}
	}
	for _, d := range Sorted(s.Damages, damageOrder) {
		if d.Grade == GX && !d.Dropped && !(s.mended(d) && s.looked(d)) {
			c.Hurts = append(c.Hurts, d)
		}
	}
	for _, k := range inOrder(s.Circuits) {
		if k.OffAt != 0 || k.Retired {
			c.Circuits = append(c.Circuits, k)
		}
	}
	for _, ch := range inOrder(s.Channels) {
		if ch.Retired {
			c.Channels = append(c.Channels, ch)
		}
	}
	return c
}

// holdAgain holds from use what the replaced board did, as far as this one knows of it: a
// doubt leaves the more locked of the two.
func (c BoardRestore) holdAgain(t *turn) {
	for _, was := range c.SetAside {
		p, ok := t.held(was)
		switch {
		case !ok || was.State == PackGone && p.State.setAside():
			continue
		case was.Lost:
			p.State, p.Since, p.Lost, p.Channel = PackGone, t.now, true, ""
			if was.Robot == "" {
				p.Robot, p.CameBack, p.Unread, p.Powered, p.Found = "", false, false, false, false
			}
		default:
			p = t.liesAgain(p, was)
		}
		t.put(p)
	}
	c.chargeAgain(t)
	for _, was := range c.Circuits {
		k, ok := t.s().Circuits[was.ID]
		if !ok || k.OffAt != 0 || k.Retired {
			continue
		}
		if k.Retired = was.Retired; was.OffAt != 0 {
			k.OffAt, k.OffBy = was.OffAt, was.OffBy
		}
		t.put(k)
		if k.Retired {
			t.stopCharges(func(ch Channel) bool { return ch.Circuit == k.ID }, k.ID)
		} else {
			t.doubtCharges(k, "off")
		}
	}
	for _, was := range c.Channels {
		ch, ok := t.s().Channels[was.ID]
		if !ok || ch.Retired {
			continue
		}
		t.stopCharges(func(on Channel) bool { return on.ID == ch.ID }, ch.Circuit)
		ch.Retired = true
		t.put(ch)
	}
	for _, was := range c.Stopped {
		if power, ok := t.s().Powers[was.Robot]; ok && power.Stop.At == 0 {
			power.Stop = was.Stop
			t.put(power)
		}
	}
	for _, d := range c.Hurts {
		if _, ok := t.s().Robots[d.Robot]; !ok {
			continue
		}
		was, ok := t.s().Damages[d.ID]
		if ok && was.Robot == d.Robot {
			d.DamageFields, d.Number = was.DamageFields, was.Number
		} else {
			if ok { // it was moved since: it stays where it was too
				d.ID = DamageID(t.id(KindDamage, string(d.ID)))
			}
			d.Number = t.nextDamage()
			d.Fight, d.Hit, d.OnPart, d.OnJoint = "", 0, "", ""
		}
		d.Grade, d.GradedAt, d.RaisedAt, d.Off, d.Looked = GX, t.now, t.now, PartOff{}, Reinspection{}
		t.put(d)
		t.mustDo(d.ID)
	}
}

// liesAgain is p, set aside where it was by the replaced board. Where this one does not
// know that, nobody has said where it is.
func (t *turn) liesAgain(p, was Pack) Pack {
	if p.State != PackQuarantined {
		p.State, p.Since, p.Lost = PackSuspect, t.now, false
	}
	p.Robot, p.PlacedAt = "", was.PlacedAt
	p.CameBack, p.Unread, p.Powered, p.Found = false, false, false, false
	s := t.s()
	if r := s.Robots[was.Robot]; r.ID != "" && !r.Retired {
		p.Robot, p.Found = r.ID, true
	}
	p.Place, p.Perhaps, p.Channel = s.Places[was.Place].ID, s.Places[was.Perhaps].ID, s.Channels[was.Channel].ID
	if r := was.Reading; r.At != 0 {
		r.By, r.Fought, r.Charged = s.People[r.By].ID, s.Robots[r.Fought].ID, false
		p.Reading = r
		p = p.void(t.now)
	}
	return p
}

// held is a pack that the replaced board held from use, as this board knows it or, where
// it does not, as it can; ok is false where its name is another's by now.
func (t *turn) held(was Pack) (p Pack, ok bool) {
	if p, ok := t.s().Packs[was.ID]; ok {
		return p, true
	}
	p = Pack{ID: was.ID, PackFields: was.PackFields, Retired: was.Retired, State: PackUnread}
	p.Fits = slices.DeleteFunc(slices.Clone(p.Fits), func(id RobotID) bool { return t.s().Robots[id].ID == "" })
	return p, p.valid(t.s()) == nil && t.s().inUse(KindPack)["/"+folded(KindPack, p.Name)] == 0
}

// chargeAgain has on their chargers the packs that the replaced board had there, as far as
// this one knows the charger and who stayed with them: they may charge.
func (c BoardRestore) chargeAgain(t *turn) {
	for _, was := range c.Charging {
		p, ok := t.held(was)
		ch, place, who := t.s().Channels[was.Channel], t.s().Places[was.Place], t.s().People[was.Attendant]
		if !ok || p.State.setAside() || p.Retired || ch.ID == "" || place.ID == "" || who.ID == "" {
			continue
		}
		p.State, p.Since, p.Robot, p.Place = PackCharging, t.now, "", place.ID
		p.Channel, p.Attendant, p.Amps, p.Stopped = ch.ID, who.ID, was.Amps, was.Stopped
		p.StayedAt, p.PlacedAt = max(p.StayedAt, was.AttendAt, was.StayedAt), was.PlacedAt
		p.CameBack, p.Unread, p.Powered, p.Found = false, false, false, false
		if t.s().Circuits[p.Stopped].ID == "" {
			p.Stopped = ""
		}
		t.put(p.doubted(t.now))
	}
}

// standAgain puts hands near on for everyone who was on a robot, and brings back notices
// and emergencies.
func (c BoardRestore) standAgain(t *turn) {
	for i, on := range c.On {
		if _, known := t.s().Robots[on.Robot]; !known {
			continue // it stands in a sentence of HeldBack
		}
		on.Person = c.backAsGuest(t, on.Person)
		_, tagged := t.s().TagOf(on.Robot, on.Person)
		_, near := t.s().HandsOf(on.Robot, on.Person)
		on.ID, on.At = HandsID(t.id(KindHands, "on "+itoa(i))), t.now
		if !tagged && !near && on.valid(t.s()) == nil {
			t.put(on)
		}
	}
	for _, notice := range c.Notices {
		if _, known := t.s().Notices[notice.ID]; !known && notice.valid(t.s()) == nil {
			t.put(notice)
		}
	}
	for _, emergency := range c.Emergencies {
		if _, known := t.s().Emergencies[emergency.ID]; !known {
			t.put(emergency)
		}
	}
}

// backAsGuest is who this board knows somebody as who was on a robot. Whoever it does not
// know is a guest: their hands are on it, and they may do no more.
func (c BoardRestore) backAsGuest(t *turn, id PersonID) PersonID {
	i := slices.IndexFunc(c.People, func(was Person) bool { return was.ID == id })
	if _, known := t.s().People[id]; known || i < 0 {
		return id
	}
	guest := Person{ID: id, PersonFields: PersonFields{Name: c.People[i].Name, Role: RoleCrew, Guest: true}}
	for _, other := range inOrder(t.s().People) {
		if !other.Retired && FoldedPerson(other.Name) == FoldedPerson(guest.Name) {
			return other.ID
		}
	}
	if off, is := t.s().takenOff(guest.Name); is {
		fields := guest.PersonFields
		guest, guest.PersonFields, guest.Retired = off, fields, false
	}
	t.put(guest)
	return guest.ID
}

// moves is by how much the time of the replaced board is ahead of what a board of it has.
func (c BoardRestore) moves(s State) Moment {
	if c.Clock == nil {
		return 0
	}
	return Moment(c.Clock.ShiftSec-s.TimeOf().ShiftSec) * second
}

// keepClock enters what had been done to the replaced board's time, by someone whom the
// backup may not know.
func (c BoardRestore) keepClock(t *turn) {
	if c.moves(t.asked) == 0 {
		return
	}
	is := *c.Clock
	if _, known := t.s().People[is.By]; !known {
		is.By = ""
	}
	t.put(is)
}

func (c BoardRestore) do(t *turn) *Refusal {
	if c.Last != 0 {
		c.Last += c.moves(t.asked)
	}
	if bad := (BoardStart{Why: c.Why, Last: c.Last}).do(t); bad != nil {
		return bad
	}
	c.keepClock(t)
	c.standAgain(t)
	known := map[string]bool{}
	for _, sentence := range t.s().HeldBack() {
		known[sentence] = true
	}
	for i, sentence := range c.Held {
		if !known[sentence] {
			known[sentence] = true
			t.put(Note{ID: NoteID(t.id(KindNote, "held "+itoa(i))), Text: beforeRestore + cut(sentence, textMost-20), At: t.now, Held: true})
		}
	}
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		p = p.void(t.now)
		p.Reading.Charged = false
		t.put(p)
	}
	c.holdAgain(t)
	return nil
}

// NoteSettle says that what a replaced board held back is entered again, or no longer holds.
type NoteSettle struct {
	Note NoteID `json:"note"`
}

func (c NoteSettle) do(t *turn) *Refusal {
	note, ok := t.s().Notes[c.Note]
	if !ok || !note.Held {
		return missing("note of a restore", "note")
	}
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if note.SettledAt != 0 {
		return refuse(CodeNothingToDo, "%s has settled that already.", t.s().People[note.SettledBy].Name)
	}
	note.SettledBy, note.SettledAt = person.ID, t.now
	t.put(note)
	return nil
}
