// Package forecast computes all that follows from a board at a moment: when each
// robot is called, how many hands-on minutes are left, who does which job when,
// what will not be done in time and why, each person's next move, where each
// robot is on its strip, and what needs someone's act now.
//
// It translates and nothing else: a board becomes a planning problem and a
// question to the fight clock, and the answers become nouns of the wire. It
// gives no command, so nothing here can change a safety state.
//
// # Times
//
// A forecast is made for the next full 10 s at or after the moment asked for, and
// the times it gives are rounded to 10 s: two forecasts a few seconds apart are
// mostly the same bytes. Durations a person reads as minutes are rounded to the
// minute.
//
// # Two times for each job
//
// The plan is made with medians ("likely"), so that a planned finish is one that
// half of such days meet. The bad case of a job is the 90th percentile of the
// chain of jobs that leads to its end under the plan, as the sum of lognormals by
// Fenton and Wilkinson ([estimate.InARow]) with tired-hands correlation; chains
// that merge are not multiplied, so that the bad case of a merge is somewhat
// early. A running or held job counts with the time left, given the time spent.
package forecast
