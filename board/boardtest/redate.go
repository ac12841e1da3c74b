package boardtest

import (
	"regexp"
	"time"

	. "mendline/board"
)

// date is a field of a noun on the wire that holds a time.
var date = regexp.MustCompile(`"(\w+)":"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)"`)

// redated is a board after its captain set the time: what the board dated moved along, as
// it stands on the wire, and what the event's own clock says did not.
func redated(s State, by Moment) State {
	nouns := s.Nouns()
	for i, n := range nouns {
		kind, _ := n.Key().Split()
		if kind == KindEvent {
			continue
		}
		moved := date.ReplaceAllFunc(Encode(n), func(field []byte) []byte {
			part := date.FindSubmatch(field)
			at, err := time.Parse(time.RFC3339, string(part[2]))
			if err != nil || string(part[1]) == "notBefore" {
				return field
			}
			return []byte(`"` + string(part[1]) + `":"` + (MomentOf(at) + by).String() + `"`)
		})
		back, err := DecodeNoun(n.Key(), moved)
		if err != nil {
			panic("boardtest: redate " + string(n.Key()) + ": " + err.Error())
		}
		nouns[i] = back
	}
	return FromNouns(s.Rev, nouns, nil)
}

// timeSet moves what a witness remembers with the board's time, and gives the step as one
// sees it who goes by the new time.
func (w *Witness) timeSet(x Step) Step {
	if back, restored := x.Command.(BoardRestore); restored && back.Clock != nil {
		if by := Moment(back.Clock.ShiftSec-x.Before.TimeOf().ShiftSec) * 1000; by != 0 {
			x.Before = redated(x.Before, by) // a backup from before the time was set
		}
		return x
	}
	set, ok := x.Command.(TimeSet)
	if !ok {
		return x
	}
	by := Moment(set.BySec) * 1000
	x.Before = redated(x.Before, by)
	w.last = x.Before
	for _, list := range w.seen {
		for i := range list {
			list[i].from += by
		}
	}
	for _, at := range []map[PackID]Moment{w.spent, w.fought} {
		for id := range at {
			at[id] += by
		}
	}
	for key, o := range w.own {
		o.from += by
		if o.gone != 0 {
			o.gone += by
		}
		w.own[key] = o
	}
	return x
}
