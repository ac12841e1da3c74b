// Package desk owns the board: one goroutine applies every command, puts it on
// disk, and only then tells anyone.
//
// [New] opens the store, builds the board from it and makes every robot unknown
// by the system command board.start. [Desk.Run], called once by the owner of the
// program, is the desk's goroutine; it ends when its context does, and by then
// everything below it has ended too.
//
// Three ways lead in. [Desk.Do] gives a command and waits for its answer.
// [Desk.Join] gives a [Follower], from which a socket's writer takes ready frames
// in order. [Desk.View] reads the newest acknowledged state without asking
// anyone.
//
// # A command's way
//
// Do decodes the command in its caller's goroutine and hands it over. The desk
// takes the first that waits and drains the rest, up to a limit; applies each to
// the state as changed by those before it; writes all in one transaction; then
// adopts the state, hands the patches to the followers, and answers. A commit
// that fails leaves the last acknowledged state standing, and the board is
// read-only until [Desk.Again].
//
// # Goroutines
//
// Run's own, which is the desk, and one that computes the forecast: Run starts
// it, and stops it and waits for it before it returns. The desk never waits for
// a follower nor for the forecast.
package desk
