// Package board is a team's pit board: its nouns, the commands people give, and
// the rules those commands must keep.
//
// The package is pure. It reads no clock, does no input or output, starts no
// goroutine and draws no random number: the same state, command, actor and
// moment give the same answer, byte for byte. Package desk owns the one board
// there is and keeps it on disk.
//
// A [State] is a value. [Apply] asks it whether a [Command] may happen and gets a
// [Change] or a [Refusal]; [State.With] makes the next state and leaves the old
// one standing. Commands propose, rules dispose: every numbered safety rule is a
// function over the state before and after, kept beside its noun and listed in
// rules.go, so that no command can go round one.
//
// The board senses nothing. It shows who declared what, and when.
package board
