// Package debrief is the account after a fight, a day, an event: what each hit
// cost in money and minutes, whether another construction would have been cheaper
// and quicker to put right, and what to bring next time. It is pure: a journal goes
// in, figures come out, and the same journal and seed give the same bytes.
//
// # The account
//
// Read turns a journal into entries. An entry is one thing that happened once: a
// stretch of work, a wait, the walk of a sheet, a spare used, a part lost. Each has
// a source of its own and stands under exactly one hit of one fight, under hit 0
// where nobody said which hit, or under no fight at all. Every bill and every
// ranking is a sum of entries, so that nothing is counted twice and nothing is lost.
//
// Minutes are sorted in the terms of IEC 60050-192: technical delay (making safe),
// logistic delay (waiting for a part, a person, a station), active repair (finding,
// fixing, checking). They are clock minutes of one thread of work: two jobs at one
// time count twice, as the two pairs of hands do.
//
// # Constructions
//
// A construction says what it takes to put groups of members right. Compare replays
// the recorded damage through two of them: durations are lognormal through likely
// and bad case, ln T = μ + σ(√ρ Z₀ + √(1−ρ) Z), with one Z₀ a fight for both (the
// same hits were as hard for both), and a factor on each construction's medians,
// e^(τZ), for how well its times are known. The way in is drawn once a fight for
// both and has neither. Fights, not hits, are the unit of the
// outer bootstrap.
//
// What no replay knows: force takes another way through another frame. The share of
// the damage that moves with it is a parameter, stated beside every answer.
//
// # What to bring
//
// Demand for a spare over the fights to come is Poisson, or compound Poisson where
// one hit takes several. The list with the most chance of no missed call is found
// exactly by dynamic programming, and greedily as a check and an order of buying.
package debrief
