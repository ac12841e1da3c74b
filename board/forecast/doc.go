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
// half of such days meet. Bad cases are the 90th percentile of the days played
// under the plan (board/chance): what merges, waits and is late together counts. A
// running or held job counts with the time left, given the time spent.
//
// Sheets are work too (board/work): each stretch that one person does in one go is a task
// of the plan, for those who may answer it, before the jobs and behind them. Where nobody
// on the board may, it takes its time and nobody's hands.
//
// Of the plans that score alike the one is taken that has most robots ready on the
// days played. A charge that a robot waits for is work of that robot in the same
// plan; packs that nobody waits for are charged in what is left.
//
// # Chances and remedies
//
// Chances are those of the same days. A remedy is a few ordinary commands, given to
// a copy of the board on which people follow the plan at hand: what the board refuses is
// never offered. All are planned briefly and played on a few days; those that promise most
// are posed, planned, chosen and played as any board is, on the same days, so that what is
// promised for each robot is what the forecast says once the commands are done.
package forecast
