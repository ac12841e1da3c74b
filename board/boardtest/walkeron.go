package boardtest

import (
	"pgregory.net/rapid"

	. "mendline/board"
)

// onward is the next step of an honest day, by someone who may: bad luck and bad will
// come in between.
func (w *Walker) onward() Command {
	if w.state.Places[w.Box].Retired && rapid.IntRange(0, 3).Draw(w.RT, "box") == 0 {
		w.hand = w.as(w.Ada)
		return w.box()
	}
	w.hand = w.as(w.Ben)
	power := w.state.Powers[w.Moth]
	switch power.State {
	case Unknown, PoweredDown, Isolated:
		if power.Stop.At != 0 {
			w.hand = w.as(w.Dee)
			return RobotGoOn{Robot: w.Moth}
		}
		return w.next(ListMakeSafe)
	case Verified:
		if rapid.Bool().Draw(w.RT, "go in") {
			return TagOn{Robot: w.Moth}
		}
	case Work:
		for _, list := range []SheetList{ListFirstIn, ListInspect} {
			if c := w.next(list); c != nil {
				return c
			}
		}
		for _, id := range ordered(w.state.Tags) {
			w.hand = w.as(w.state.Tags[id].Person)
			return TagOff{Tag: id}
		}
	case ClosingUp:
		for _, list := range []SheetList{ListReopen, ListCloseUp, ListReady} {
			if list == ListReady && rapid.IntRange(0, 2).Draw(w.RT, "test first") == 0 {
				break
			}
			if c := w.next(list); c != nil {
				return c
			}
		}
	}
	w.hand = w.as(w.Ada)
	if c := w.wayOn(); c != nil {
		return c
	}
	return w.fights()
}

// next answers the open line of a sheet as it asks, or reads the pack that it is about;
// nil where the sheet is not open.
func (w *Walker) next(list SheetList) Command {
	sheet, ok := w.state.Sheet(w.Moth, list)
	if !ok || sheet.State != SheetOpen {
		return nil
	}
	l, _ := sheet.OpenLine()
	p := w.state.Packs[w.P2]
	if l.Kind == LinePack && p.Robot == "" && p.State != PackCharged && !outOfUse(p) && p.State != PackCharging {
		return PackRead{Pack: w.P2, CellVolts: []float64{4.18, 4.18, 4.19, 4.18}, Charged: true}
	}
	if l.Kind == LineSign {
		w.hand = w.as(rapid.SampledFrom([]PersonID{w.Dee, w.Nia}).Draw(w.RT, "signs"))
	}
	return AnswerTo(w.state, sheet, l, w.hand.Person)
}

// charges reads a pack and has someone stay with its charge; of one that runs, anyone says
// something.
func (w *Walker) charges() Command {
	p := w.state.Packs[w.aPack()]
	if p.State == PackCharging {
		if rapid.IntRange(0, 2).Draw(w.RT, "whose word") == 0 {
			w.hand = w.as(rapid.SampledFrom([]PersonID{w.Gus, w.Kit}).Draw(w.RT, "word"))
		}
		return rapid.SampledFrom([]Command{
			PackOff{Pack: p.ID}, PackAttend{Pack: p.ID}, PackMove{Pack: p.ID, Place: w.Watch}, CircuitOff{Circuit: w.Wall},
			PackRead{Pack: p.ID, CellVolts: []float64{4, 4, 4, 4}}, PackRead{Pack: p.ID, CellVolts: []float64{4.2, 4.2, 4.2, 4.2}, Charged: true},
		}).Draw(w.RT, "of a charge")
	}
	w.hand = w.as(rapid.SampledFrom([]PersonID{w.Nia, w.Dee, w.Ben}).Draw(w.RT, "stays"))
	warm := 25.0
	switch {
	case w.state.Circuits[w.Wall].OffAt != 0:
		w.hand = w.as(w.Ada)
		return CircuitOn{Circuit: w.Wall, SaidBy: "the hall"}
	case p.Robot == "" && (len(p.Reading.CellVolts) == 0 || p.Reading.TempC == nil || p.Unread):
		return PackRead{Pack: p.ID, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}, TempC: &warm}
	}
	return PackCharge{Pack: p.ID, Channel: w.A1, Attendant: w.hand.Person, Cells: 4, Amps: 0.6, Contained: true}
}
