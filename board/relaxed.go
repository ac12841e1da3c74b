package board

import "fmt"

// Relaxed lists, in sentences, every setting that asks for less than the board
// would by itself. They are shown where everyone reads them.
func (s State) Relaxed() []string {
	var all []string
	e := s.Event()
	if e.RepairerMaySign {
		all = append(all, "The person who finished the last repair may sign.")
	}
	if e.MinorsDrive {
		all = append(all, "Minors may drive; an adult sees to lock and link and declares the robot live.")
	}
	if e.RecheckSec > recheckSec {
		all = append(all, fmt.Sprintf("Gas and capacitors again after %d min, not %d.", (e.RecheckSec+59)/60, recheckSec/60))
	}
	for _, list := range []SheetList{ListInspect, ListLoadIn} {
		if out := s.Wordings[list].leftOut(); len(out) > 0 {
			all = append(all, fmt.Sprintf("The %s sheet leaves out: %s.", list, listNames(out)))
		}
	}
	for _, place := range Sorted(s.Places, func(place Place) string { return place.Name }) {
		var seen []string
		for _, id := range place.InSight {
			seen = append(seen, s.Places[id].Name)
		}
		if len(seen) > 0 && !place.Retired {
			all = append(all, fmt.Sprintf("Whoever stays with a charge at %s may work at %s: it is in sight.", listNames(seen), place.Name))
		}
	}
	return all
}
