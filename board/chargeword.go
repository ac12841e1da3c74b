package board

// LateWord is what a phone brought late about a charge, as the review shows it.
type LateWord struct {
	What  string   `json:"what"`
	By    PersonID `json:"by,omitzero"`
	At    Moment   `json:"at"`
	Heard Moment   `json:"heard"`
}

// heard is p, which is on a charger, with what was said of it noted where it came late.
func (t *turn) heard(p Pack, what string) Pack {
	if t.when < t.now-lateMost {
		p.HeardLate = LateWord{What: what, By: t.by.Person, At: t.when, Heard: t.now}
	}
	return p
}

// answers tells whether the actor is one of the crew under their own name, no minor or
// guest, or the board itself.
func (t *turn) answers() bool {
	who := t.s().People[t.by.Person]
	return t.by.Role == RoleSystem || who.ID != "" && who.Answers()
}

// offCharge takes someone's word that p is not on its charger any more. What is older than
// the charge was about another, and leaves it as it is. A word of a guest or a minor, or
// one from before someone said that they stay with it, is a doubt: it may run.
func (t *turn) offCharge(p Pack, what string) (is Pack, off bool) {
	p = t.heard(p, what)
	switch {
	case t.when < p.Since:
		return p, false
	case !t.answers() || t.when < max(p.AttendAt, p.StayedAt):
		return p.doubted(t.now), false
	}
	return p, true
}

// doubted is p, which is on a charger, with nobody's word that it still charges.
func (p Pack) doubted(now Moment) Pack {
	p.StayedAt = max(p.StayedAt, p.AttendAt)
	p.AttendAt, p.Unsure, p.UnsureAt = 0, true, now
	return p
}

// doubtCharges leaves it open whether what charges on a circuit still does.
func (t *turn) doubtCharges(k Circuit, what string) {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		if p.State != PackCharging || t.s().Channels[p.Channel].Circuit != k.ID {
			continue
		}
		is := t.heard(p, "circuit "+k.Name+" "+what)
		if t.when >= p.Since {
			is = is.doubted(t.now)
			is.Stopped = k.ID
		}
		t.put(is)
	}
}

// rule24Charge lets nobody who is a minor or guest, or has no name, end a charge or what
// is an alarm about it.
func rule24Charge(t *turn) *Refusal {
	if t.answers() {
		return nil
	}
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was, had := t.before.Packs[PackID(id)]
		is := t.s().Packs[PackID(id)]
		if k != KindPack || !had || was.State != PackCharging || is.State == PackSuspect || is.State == PackQuarantined {
			continue
		}
		_, hot := was.HotOnCharge()
		_, still := is.HotOnCharge()
		if is.State != PackCharging || is.Channel != was.Channel || was.Unsure && !is.Unsure || hot && !still {
			return breaks(24, "Pack %s is on charger %s. That it is off, or cool again, is for a member of the team to say. Call %s.", was.Name, t.s().Channels[was.Channel].Name, t.s().inCharge())
		}
	}
	return nil
}
