// Package chance says how probable it is that work is ready when it must be, and
// what would make it more probable. It plays the same plan through some thousand
// days whose durations and calls differ, and counts.
//
// It stands between board/plan, which decides, and board/forecast, which knows
// what a robot is: tasks, groups and resources are indices here, so that the
// figures can be checked against ones computed elsewhere without a board.
//
// # Policy
//
// People do what they were told: a task begins when what comes before it is
// finished and when the people and things that do it come free in the order of the
// plan ([Flow]). Nobody re-plans within a day that is played. This is the
// resource-flow, or earliest-start, policy: every end is the length of a longest
// path, a longer task never makes another end earlier, and the chain of tasks
// that led to a missed call can be read back ([Outcome.Why]).
//
// # Notation and units
//
// Times are seconds from now (…Sec). A duration is lognormal ([estimate.Lognormal])
// or, where work is under way, what is left of one given the time spent:
//
//	ln T = μ + σ (√ρ Z₀ + √(1−ρ) Z)
//
// Z₀ is the day's: the same tired hands do all of it; ρ = [TiredRho]. A call is
// normal to either side of its median. An absence that comes while a task runs
// interrupts it. One day is one row.
//
// # Numbers
//
// The normal numbers of a task are a shuffled table of Φ⁻¹((i+½)/n), its shuffle a
// hash of the task's key and the seed; what the day adds keeps that spread, by
// rank. Every task so meets the same share of good
// and bad days, and keeps its days whatever other tasks come or go: two plans are
// compared day by day, and their difference has a far smaller error than either
// chance ([Paired]).
//
// # References
//
// F. Stork, Stochastic resource-constrained project scheduling, thesis, Berlin 2001
// (policies). M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 21, 1979,
// 239-245 (stratified, shuffled numbers). Z. Karnin, T. Koren, O. Somekh, "Almost
// optimal exploration in multi-armed bandits", ICML 2013, 1238-1246 (sequential
// halving). All from memory.
package chance
