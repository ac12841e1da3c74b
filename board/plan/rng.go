package plan

// rng is the splitmix64 generator: a counter put through a mixing function, so
// that a seed gives the same numbers on every machine.
// Source: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom
// number generators", OOPSLA 2014, 453-472 (citation from memory).
type rng struct{ state uint64 }

func (r *rng) next() uint64 {
	r.state += 0x9e3779b97f4a7c15
	z := r.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below returns a number from 0 up to, not including, n > 0.
func (r *rng) below(n int) int {
	return int((r.next() >> 32) * uint64(n) >> 32)
}

// chance is true in percent of 100 cases.
func (r *rng) chance(percent int) bool { return r.below(100) < percent }
