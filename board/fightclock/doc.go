// Package fightclock answers one question: when will fight n start, and when are
// we called for it? It knows no robots and no clock: now is an argument, and the
// same input gives the same answer.
//
// # Problem
//
// A running order slips. People say "fight 9 is on now" when they can see it, not
// for every fight. From that, from what the captain believes of the pace, from
// breaks and from times before which a fight may not start, give start and call
// of each wanted fight as median, P10 and P90.
//
// # Notation and units
//
// Durations are seconds (…Sec). An interval runs from the start of one fight to
// the start of the next in the same arena. Intervals are gamma with shape α
// (default 8: they spread by 35 %) and unknown rate λ ~ Gamma(a, b). The captain's
// mean M, worth c intervals, makes
//
//	a = 1 + αc,  b = Mc;  after n intervals of sum S:  a + nα,  b + S
//
// so that the mean interval is αb/(a−1). The sum of the next k intervals is
//
//	X = b·B/(1−B),  B ~ Beta(kα, a)
//
// a closed form: its quantiles are those of the beta distribution. Once e seconds
// have gone by since the last start, the first of the k intervals is known to be
// longer than e. Given the sum X = s, the first interval's share of it is
// Beta(α, (k−1)α) whatever λ is, so the density of s is that of X times
// P(share > e/s): one more beta function and no random draws.
//
// Hold-ups (a broken arena door, a long clean-up): with chance π an interval
// carries an extra exponential hold-up of mean h. After e seconds the fight
// before us is either still in its gamma part, or in a hold-up, whose rest is
// again exponential. Both are added up on a grid of equal steps.
//
// # Our decisions
//
// An interval that covers a break, or is more likely than not to contain a
// hold-up, says nothing about λ and is set aside; so is one too short to be true,
// which is a correction of the number seen and no pace. Each is judged by all the
// others, the least likely goes first, then the rest are judged again: the order
// of arrival does not matter, and a captain's wrong guess is outvoted. A span of
// several fights needs the same strength of evidence as a single interval.
//
// Breaks stop the clock: what is left of an interval runs on after the break. (A
// simulation that starts a fight at once after the break is about 3 minutes
// earlier at its median.) A start is never inside a break.
//
// # References
//
// Gamma intervals with a gamma rate, and the beta-prime sum: standard conjugate
// results, e.g. Gelman et al., Bayesian Data Analysis, section 2.6; Johnson, Kotz,
// Balakrishnan, Continuous Univariate Distributions 2, ch. 27 (both from memory).
// Shape 8, hold-up share 0.08 and mean 15 min: our own guesses.
package fightclock
