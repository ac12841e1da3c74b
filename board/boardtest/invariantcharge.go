package boardtest

import . "mendline/board"

// chargeInvariants are about words that come late about a charge, or from someone who
// may not say them.
var chargeInvariants = []Invariant{
	{14, "a word from before a charge changes nothing of it but that the pack is set aside", func(_ *Witness, x Step) bool {
		return eachCharge(x, func(was, is Pack) bool {
			return x.At == 0 || x.At >= was.Since || is.State == PackCharging && is.Channel == was.Channel && is.Attendant == was.Attendant && is.AttendAt == was.AttendAt && is.Unsure == was.Unsure
		})
	}},
	{14, "no word from before someone said that they stay with a charge ends it, or puts another in their place", func(_ *Witness, x Step) bool {
		return eachCharge(x, func(was, is Pack) bool {
			return x.At == 0 || x.At >= was.AttendAt || is.State == PackCharging && is.Channel == was.Channel && is.Attendant == was.Attendant && (is.AttendAt == was.AttendAt || is.Unsure)
		})
	}},
	{14, "no word from before a charge was in doubt says that it runs", func(_ *Witness, x Step) bool {
		return eachCharge(x, func(was, is Pack) bool {
			return x.At == 0 || !was.Unsure || x.At >= was.UnsureAt || is.State != PackCharging || is.Unsure
		})
	}},
	{14, "a channel stays on the board, and where it is, under a pack that charges or was set aside on it", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Packs {
			is, ch, had := x.After.Packs[id], x.After.Channels[was.Channel], x.Before.Channels[was.Channel]
			on := was.Channel != "" && is.Channel == was.Channel && !is.Retired && (is.State == PackCharging || SetAside(is))
			if on && !restores(x) && (ch.ID != had.ID || ch.Retired && !had.Retired || ch.Place != had.Place) {
				return false
			}
		}
		return true
	}},
	{24, "no minor or guest, nor anyone without a name, says that a charge is off or runs again", func(_ *Witness, x Step) bool {
		who := x.After.People[x.By.Person]
		return who.ID != "" && !who.Minor && !who.Guest || eachCharge(x, func(was, is Pack) bool {
			return is.State == PackCharging && is.Channel == was.Channel && (is.Unsure || !was.Unsure)
		})
	}},
}

// eachCharge asks ok of every pack that was on a charger and was not set aside by a step
// of a person's.
func eachCharge(x Step, ok func(was, is Pack) bool) bool {
	switch x.Command.(type) {
	case Undo, TimeSet: // of now, whenever the phone says
		return true
	}
	for id, was := range x.Before.Packs {
		if is := x.After.Packs[id]; x.By.Role != RoleSystem && was.State == PackCharging && !SetAside(is) && !ok(was, is) {
			return false
		}
	}
	return true
}
