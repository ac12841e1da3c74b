package board

import "slices"

// lineSender asks on the way to the signature which pack is in a robot's transmitter, where
// the board has any for it. That pack is in no robot: one transmitter may serve several.
const lineSender = "sender"

// senders lists by name the packs for a robot's transmitter that are for use.
func (s State) senders(r Robot) []Pack {
	all := Sorted(s.Packs, func(p Pack) string { return p.Name + string(p.ID) })
	return slices.DeleteFunc(all, func(p Pack) bool {
		return p.Use != UseTransmitter || p.Retired || p.State.setAside() || !p.listedFor(r)
	})
}

func (s State) senderLines(r Robot) []Line {
	var names []string
	for _, p := range s.senders(r) {
		names = append(names, p.Name)
	}
	if names == nil {
		return nil
	}
	return []Line{{
		ID: lineSender, Part: partReady, Kind: LineChoice, Ask: "Transmitter: which pack is in it?", Touch: "the transmitter",
		Say: "IN IT", Not: "not yet", NotFitted: true, Choices: names,
	}}
}

// senderNamed is the pack for a robot's transmitter that a choice names.
func (s State) senderNamed(r Robot, name string) PackID {
	for _, p := range s.senders(r) {
		if p.Name == name {
			return p.ID
		}
	}
	return ""
}

// sender is what a robot's newest way to the signature says of its transmitter: the pack
// that was named then, whatever it is called by now.
func (s State) sender(r Robot) (a Answer, said bool) {
	sheet, _ := s.Sheet(r.ID, ListReady)
	a, ok := sheet.Answered(lineSender)
	return a, ok && a.Said == SaidDone
}

// senderFit refuses a robot with a pack named for its transmitter that is not fit for it.
func (s State) senderFit(r Robot) *Refusal {
	if a, said := s.sender(r); said {
		return s.sends(r, a)
	}
	return nil
}

// sends refuses a pack for a robot's transmitter that is not read since it was last used,
// or low.
func (s State) sends(r Robot, a Answer) *Refusal {
	all := s.senders(r)
	i := slices.IndexFunc(all, func(p Pack) bool { return p.ID == a.Pack })
	if i < 0 {
		return breaks(11, "The board has no pack %s for the transmitter of %s any more. Say which pack is in it.", a.Choice, r.Name)
	}
	p := all[i]
	low, _ := spread(p.Reading.CellVolts)
	switch {
	case p.State == PackCharging:
		return breaks(11, "Pack %s is on a charger by the board. Say that it is off and read it, or say which pack is in the transmitter of %s.", p.Name, r.Name)
	case p.State == PackUnread || !p.read():
		return breaks(11, "Nobody has read the cells of pack %s since it was last used. Read it, or say that another is in the transmitter of %s.", p.Name, r.Name)
	case low < fightVolts(p.Chemistry):
		return breaks(11, "A cell of pack %s reads %.2f V, and none goes into a fight below %.2f V. Charge it, or say that another is in the transmitter of %s.", p.Name, low, fightVolts(p.Chemistry), r.Name)
	}
	return nil
}

// rule11Sender names for a transmitter only a pack of its own that is read since its last
// use and not low.
func rule11Sender(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		if a.Line == lineSender && a.Said == SaidDone && !a.Record && !a.Standing {
			if bad := t.s().sends(t.s().Robots[is.Robot], a); bad != nil {
				return bad
			}
		}
	}
	return nil
}

// spendSender makes unread what is named for the transmitter of a robot that gets power.
func (t *turn) spendSender(r Robot) {
	a, _ := t.s().sender(r)
	for _, p := range t.s().senders(r) {
		if p.ID == a.Pack {
			t.put(p.void(t.when))
		}
	}
}
