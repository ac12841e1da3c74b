package board

import (
	"fmt"
	"slices"
)

// MayVent tells whether p, which was set aside, may be hot, smoke or burn: all but one
// of which nothing is known but that its cells are low or apart.
func (p Pack) MayVent() bool {
	r := p.Reading
	cells := len(r.CellVolts) > 0 && p.cellsSuspect(r.CellVolts)
	return (p.State == PackSuspect || p.State == PackQuarantined) && !(cells && !r.venting())
}

// vents tells whether p was set aside and read to be hot, or to look, smell or smoke so.
func (p Pack) vents() bool {
	return (p.State == PackSuspect || p.State == PackQuarantined) && p.Reading.venting()
}

// handsOff refuses to have a robot made safe with a pack in it that vents.
func (s State) handsOff(r Robot) *Refusal {
	for _, p := range s.packsIn(r.ID) {
		if p.vents() {
			return hasAside(13, p, r)
		}
	}
	return nil
}

// AsideHere tells whether p was set aside and is, by the board, where people may be: an
// alarm.
func (s State) AsideHere(p Pack) bool {
	kind := s.Places[p.Place].Kind
	return (p.State == PackSuspect || p.State == PackQuarantined) && kind != PlaceWatch && kind != PlaceAway
}

// venting tells whether what was read is of a pack that people keep away from.
func (r Reading) venting() bool {
	return (r.Look != "" && r.Look != LookFine) || (r.TempC != nil && *r.TempC >= packHotC)
}

// hotOnChargeC is from when on a pack on a charger is an alarm (our decision).
const hotOnChargeC = 50.0

// HotOnCharge gives what was read last of a pack since it was put on the charger it is
// on, where that is an alarm.
func (p Pack) HotOnCharge() (tempC float64, hot bool) {
	r := p.Reading
	if p.State != PackCharging || r.TempC == nil || r.tempAt() < p.UsedAt || *r.TempC < hotOnChargeC {
		return 0, false
	}
	return *r.TempC, true
}

// offFirst says how to go on with what p on its charger is in the way of: way, but where p
// is hot, event safety decides.
func (p Pack) offFirst(way string) string {
	if _, hot := p.HotOnCharge(); hot {
		return "It is hot: event safety decides."
	}
	return way
}

// getClear is all that the board says about such a pack: what is done with it is
// for the officials to say, and no sentence tells anyone to handle it.
const getClear = "Get clear, raise the alarm, tell event safety."

// keepOff says what to do about a pack that was set aside.
func (p Pack) keepOff() string {
	switch {
	case p.State == PackGone && p.Lost:
		return "It is gone by the board. If it is here after all, the captain says so, and it is not read."
	case p.State == PackGone:
		return "It is gone by the board. If it is here after all, anyone sets it aside again."
	case p.MayVent():
		return getClear
	}
	return "Leave it be: event safety says what becomes of it."
}

// hasAside refuses what a pack that was set aside bars, which is in a robot.
func hasAside(rule int, p Pack, r Robot) *Refusal {
	return breaks(rule, "Pack %s in %s is %s. %s Once that is done, say where it is now.", p.Name, r.Name, p.State, p.keepOff())
}

// outLine asks where a pack that is in a robot is now: out of it, by those who are on
// it; of one that was set aside only what others did.
func (p Pack) outLine() Line {
	l := Line{
		ID: "out-" + string(p.ID), Part: partFirstIn, Kind: LinePlace, Pack: p.ID,
		Ask: "Pack " + p.Name + ": unplugged and out. Where is it now?", Touch: "the pack",
		Say: "PACK OUT", Not: "still in", Covers: []System{SysPack},
	}
	if p.State.setAside() {
		l.Ask = fmt.Sprintf("Pack %s is set aside: hands off, event safety decides. Once they have seen to it: where is it now?", p.Name)
		l.Touch, l.Say = "nothing", "IT LIES THERE"
	}
	return l
}

// rewordAside gives new words to open lines about packs set aside since.
func (t *turn) rewordAside() {
	for _, sheet := range Sorted(t.s().Sheets, sheetOrder) {
		if sheet.List != ListFirstIn || sheet.State != SheetOpen {
			continue
		}
		lines, changed := slices.Clone(sheet.Lines), false
		for i, l := range lines {
			p := t.s().Packs[l.Pack]
			if _, done := sheet.Answered(l.ID); !done && p.State.setAside() && !t.before.Packs[p.ID].State.setAside() {
				lines[i], changed = p.outLine(), true
			}
		}
		if changed {
			sheet.Lines = lines
			t.put(sheet)
		}
	}
}
