// Package random draws numbers from a seed, the same on every machine.
package random

// Source is the splitmix64 generator: a counter put through a mixing function.
// Its value is the seed. Source: G. L. Steele, D. Lea, C. H. Flood, "Fast
// splittable pseudorandom number generators", OOPSLA 2014, 453-472 (citation from
// memory).
type Source uint64

// Next returns a number of 64 random bits.
func (s *Source) Next() uint64 {
	*s += 0x9e3779b97f4a7c15
	return Mix(uint64(*s))
}

// Below returns a number from 0 up to, not including, n > 0.
func (s *Source) Below(n int) int { return int((s.Next() >> 32) * uint64(n) >> 32) }

// Chance is true in percent of 100 cases.
func (s *Source) Chance(percent int) bool { return s.Below(100) < percent }

// Mix spreads z over all 64 bits: near numbers give far ones.
func Mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
