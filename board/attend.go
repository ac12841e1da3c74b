package board

import (
	"cmp"
	"slices"
)

// PackAttend says that a person stays with a pack on a charger: they take it over, say
// so of a charge that they were named for, or say that it still runs after the board was
// off. Nobody says it for another, and what is older than another word about the charge
// changes nothing.
type PackAttend struct {
	Pack PackID `json:"pack"`
	// Person says so on someone else's device, proved by PIN.
	Person PersonID `json:"person,omitzero"`
}

func (c PackAttend) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok || p.Retired {
		return missing("pack", "pack")
	}
	person, bad := t.own(c.Person)
	if bad != nil {
		return bad
	}
	switch {
	case p.State != PackCharging:
		return refuse(CodeState, "Pack %s is on no charger by the board, so nobody stays with it.", p.Name)
	case p.Attendant == person.ID && p.AttendAt != 0 && !p.Unsure && p.Away.At == 0:
		return refuse(CodeNothingToDo, "%s stays with pack %s already.", person.Name, p.Name)
	}
	p = t.heard(p, person.Name+" stays with it")
	if t.when >= max(p.Since, p.AttendAt, p.UnsureAt, p.Away.At) {
		p.Attendant, p.AttendAt, p.Unsure, p.UnsureAt, p.Away, p.Stopped = person.ID, t.when, false, 0, AwayAt{}, ""
	}
	t.put(p)
	return nil
}

// rule14Said takes nobody's word for another that they stay with a charge.
func rule14Said(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		is, was := t.s().Packs[PackID(id)], t.before.Packs[PackID(id)]
		if k != KindPack || is.State != PackCharging || t.undoing {
			continue
		}
		handed := was.State == PackCharging && was.Attendant != is.Attendant
		said := is.AttendAt != 0 && (was.State != PackCharging || was.AttendAt != is.AttendAt)
		if (handed || said || (was.Unsure && !is.Unsure)) && !t.by.proves(is.Attendant) {
			return breaks(14, "Nobody says for %s that they stay with pack %s: it takes their own phone, or their PIN.", t.s().People[is.Attendant].Name, is.Name)
		}
	}
	return nil
}

// OutOfSight is someone at work, or with a tag or hands near on a robot, where the pack
// that they stay with is not in sight.
type OutOfSight struct {
	Pack PackID
	// Job is what they work on, none where only their tag or hands near is on Robot; Tag
	// is none for hands near alone.
	Job   JobID
	Tag   TagID
	Robot RobotID
	// At is where they work, none where nobody has said.
	At PlaceID
}

// OutOfSight lists who is at work away from a charge that they stay with.
func (s State) OutOfSight() []OutOfSight {
	var list []OutOfSight
	away := func(who PersonID, at PlaceID, o OutOfSight) {
		for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name }) {
			if p.State == PackCharging && p.Attendant == who && !s.Sees(at, p.Place) {
				o.Pack, o.At = p.ID, at
				list = append(list, o)
			}
		}
	}
	for _, j := range inJobOrder(s) {
		for _, st := range j.Stints {
			if j.State != JobRunning || st.To != 0 {
				continue
			}
			away(st.By, cmp.Or(s.Stations[st.Station].Place, s.Powers[j.Robot].Place), OutOfSight{Job: j.ID, Robot: j.Robot})
		}
	}
	for _, r := range Sorted(s.Robots, func(r Robot) string { return r.Name + string(r.ID) }) {
		for _, h := range s.HandsOn(r.ID) {
			if h.Tag != "" || h.Near != "" {
				away(h.Person, s.Powers[r.ID].Place, OutOfSight{Robot: r.ID, Tag: h.Tag})
			}
		}
	}
	return list
}

// AwayAt is what someone did at a robot out of sight of the charge that they stay with.
type AwayAt struct {
	Robot RobotID `json:"robot"`
	At    Moment  `json:"at"`
}

// atRobot is who was beside which robot as they gave this command; "" where it shows
// nothing of that. A result, or a word about a job, is given from anywhere.
func (t *turn) atRobot() (PersonID, RobotID) {
	switch c := t.command.(type) {
	case SheetAnswer:
		if !c.Paper {
			return cmp.Or(c.Person, t.by.Person), t.s().Sheets[c.Sheet].Robot
		}
	case RobotTest:
		return t.by.Person, c.Robot
	case RobotTestEnd:
		return t.by.Person, c.Robot
	case RobotLive:
		return t.by.Person, c.Robot
	case RobotPlace:
		return t.by.Person, c.Robot
	}
	return "", ""
}

// awayFromCharge notes on each charge that whoever stays with it was at a robot out of
// its sight.
func (t *turn) awayFromCharge() {
	who, robot := t.atRobot()
	if who == "" {
		return
	}
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		if p.State == PackCharging && p.Attendant == who && p.Away.At == 0 && t.when >= max(p.Since, p.AttendAt) && !t.s().Sees(t.s().Powers[robot].Place, p.Place) {
			p.Away = AwayAt{Robot: robot, At: t.when}
			t.put(p)
		}
	}
}

// Sees tells whether a charge is in sight of a place, as the captain has said.
func (s State) Sees(from, charge PlaceID) bool {
	return from != "" && (from == charge || slices.Contains(s.Places[from].InSight, charge))
}

// isAFact tells whether a command says what is so, whatever rules say: where a robot is,
// whose hands are near it, and what a phone brings late.
func (t *turn) isAFact() bool {
	switch c := t.command.(type) {
	case RobotPlace, HandsOn:
		return true
	case TagOn:
		return t.wasOn(t.before.Powers[c.Robot])
	}
	return t.late()
}

// rule14Sight lets whoever stays with a charge work only where it is in sight. What a
// phone brings late is a fact, and an alarm.
func rule14Sight(t *turn) *Refusal {
	if t.isAFact() || t.by.Role == RoleSystem || t.undoing {
		return nil
	}
	was := t.before.OutOfSight()
	for _, o := range t.s().OutOfSight() {
		stood := slices.ContainsFunc(was, func(w OutOfSight) bool {
			return w.Pack == o.Pack && w.Job == o.Job && w.Robot == o.Robot && (o.Tag == "" || w.Tag == o.Tag)
		})
		if stood {
			continue
		}
		p := t.s().Packs[o.Pack]
		who, robot := t.s().People[p.Attendant].Name, t.s().Robots[o.Robot].Name
		if o.At == "" {
			return breaks(14, "%s stays with pack %s on %s and is on %s, and nobody has said where that stands. Say where it is, or someone else says that they stay with the pack.", who, p.Name, t.s().Channels[p.Channel].Name, robot)
		}
		return breaks(14, "%s stays with pack %s on %s and is on %s, and the captain has not entered that it is in sight of %s. Someone else takes it over on their own phone, it comes off, or the captain enters it.",
			who, p.Name, t.s().Channels[p.Channel].Name, robot, t.s().Places[o.At].Name)
	}
	return nil
}
