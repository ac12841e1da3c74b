package charge

import "math"

// Sharing is how a charger or a circuit divides what it has. Real chargers have a
// rule of their own: record which.
type Sharing string

// The rules.
const (
	// FairShare is max-min: what one does not need goes to the others, and none
	// gets more while another that wants it has less.
	FairShare Sharing = "fair-share"
	// InOrder gives each what it wants, in the order of the seats.
	InOrder Sharing = "in-order"
)

// Supply is what several charges share.
type Supply struct {
	// Watts is the output power of all chargers together (see Mains.OutputWatts); 0
	// for no limit.
	Watts float64
	// ChargerWatts is the output power of each charger, 0 for no limit. A Seat names
	// its charger by its place in the list.
	ChargerWatts []float64
	Sharing      Sharing
}

// want is what one charge could take now, in watts of output.
type want struct {
	watts   float64
	charger int // −1 for none that limits
}

// divide shares s among the wants and writes what each gets.
func (s Supply) divide(wants []want, got []float64) {
	if s.Sharing == InOrder {
		s.divideInOrder(wants, got)
		return
	}
	s.divideFairly(wants, got)
}

func unlimited(watts float64) float64 {
	if watts == 0 {
		return math.Inf(1)
	}
	return watts
}

func (s Supply) divideInOrder(wants []want, got []float64) {
	left := unlimited(s.Watts)
	for k, w := range wants {
		most := min(w.watts, left, s.chargerLeft(w.charger, wants[:k], got[:k]))
		got[k] = max(most, 0)
		left -= got[k]
	}
}

func (s Supply) chargerLeft(charger int, wants []want, got []float64) float64 {
	if charger < 0 {
		return math.Inf(1)
	}
	left := unlimited(s.ChargerWatts[charger])
	for k, w := range wants {
		if w.charger == charger {
			left -= got[k]
		}
	}
	return left
}

// divideFairly raises all shares together. Those that have what they want, or whose
// charger is used up, stop; the rest go on until the supply is used up.
func (s Supply) divideFairly(wants []want, got []float64) {
	clear(got)
	left := unlimited(s.Watts)
	for range 2*len(wants) + 1 {
		open := 0
		for k, w := range wants {
			if s.canRise(k, w, wants, got) {
				open++
			}
		}
		if open == 0 || left <= tinyWatts {
			return
		}
		rise := left / float64(open)
		for k, w := range wants {
			if s.canRise(k, w, wants, got) {
				rise = min(rise, w.watts-got[k], s.roomEach(w.charger, wants, got))
			}
		}
		left -= s.raise(rise, wants, got)
	}
}

const tinyWatts = 1e-9

func (s Supply) canRise(k int, w want, wants []want, got []float64) bool {
	return w.watts-got[k] > tinyWatts && s.chargerLeft(w.charger, wants, got) > tinyWatts
}

// roomEach is what a charger has left for each of its charges that want more.
func (s Supply) roomEach(charger int, wants []want, got []float64) float64 {
	open := 0
	for k, w := range wants {
		if w.charger == charger && w.watts-got[k] > tinyWatts {
			open++
		}
	}
	return s.chargerLeft(charger, wants, got) / float64(max(open, 1))
}

// raise gives each that can rise the same; it returns the sum.
func (s Supply) raise(watts float64, wants []want, got []float64) float64 {
	rising := make([]bool, len(wants))
	for k, w := range wants {
		rising[k] = s.canRise(k, w, wants, got)
	}
	sum := 0.0
	for k := range wants {
		if rising[k] {
			got[k] += watts
			sum += watts
		}
	}
	return sum
}
