package board

import "fmt"

// Relaxed lists, in sentences, every setting that asks for less than the board
// would by itself. They are shown where everyone reads them.
func (s State) Relaxed() []string {
	var list []string
	e := s.Event()
	if e.RepairerMaySign {
		list = append(list, "Whoever finished the last repair may sign.")
	}
	if e.RecheckSec > recheckSec {
		list = append(list, fmt.Sprintf("Gas and capacitors are checked again after %d min, not %d.", (e.RecheckSec+59)/60, recheckSec/60))
	}
	for _, r := range sortedBy(s.Robots, func(r Robot) string { return r.Name + string(r.ID) }) {
		if r.PackInOutside && !r.Retired {
			list = append(list, r.Name+" may be worked on from outside with a pack in it.")
		}
	}
	return list
}
