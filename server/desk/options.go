package desk

import (
	"log/slog"
	"time"

	"mendline/board"
	"mendline/server/store"
)

// Options of a desk. Path is needed; the rest has defaults.
type Options struct {
	// Path is the board's file, and Store how it is opened. The desk opens it in
	// New, again in Again, and closes it at the end of Run.
	Path  string
	Store store.Options

	// Now is the laptop's clock; nil means time.Now. The board's time begins with it.
	Now func() time.Time
	// Boot is what the board's time goes on by, as BootClock reads it; nil means what Now
	// measures.
	Boot func() time.Duration

	// Log takes what an operator should hear of; nil means nobody listens.
	Log *slog.Logger

	// Forecast computes what follows from a state. It is called on a goroutine of
	// its own, one call at a time, and must not keep or change what it is given.
	// nil means no forecast.
	Forecast func(s board.State, at board.Moment, seed uint64) Derived
	// Seed is handed to Forecast, always the same so that what the screens show
	// does not flicker.
	Seed uint64

	// Restored is what is known of the board whose place a backup has taken since it was
	// last open; nil where none has.
	Restored *Restored

	Metrics Metrics
}

// Restored is what a board hands over to the backup that takes its place.
type Restored struct {
	board.BoardRestore
	// Created is when the board was made whose Clock that is: the dates of another are
	// not moved by it.
	Created time.Time `json:"created,omitzero"`
	// AheadMs is how far its time was ahead of the laptop's clock, and Newest the moment
	// of its newest line.
	AheadMs int64        `json:"aheadMs,omitzero"`
	Newest  board.Moment `json:"newest,omitzero"`
}

// Derived is what a forecast makes of a state.
type Derived struct {
	// Nouns are the derived nouns as JSON, by key.
	Nouns map[board.Key][]byte
	// Own are commands that the desk gives the board itself.
	Own []Own
}

// Own is a command of the desk's own, with the revision of each noun it rests on:
// it is not done where one of them has changed meanwhile.
type Own struct {
	Command board.Command
	Seen    map[board.Key]board.Rev
}

// Metrics is told what happens. Fields left nil are not called; the others must
// return at once, and may be called from the desk, from the forecast's goroutine
// and from callers of Do.
type Metrics struct {
	// Commit is called after a transaction that succeeded, with its duration and
	// the number of commands in it.
	Commit func(seconds float64, commands int)
	// Command is called for every answer: the command's name, "unknown" where
	// there is no such command, and "done", "again" for a repeated id, or the code
	// of the refusal.
	Command func(do, result string)
	// Forecast is called with the duration of each computation.
	Forecast func(seconds float64)
	// Followers is called with their number when it changes.
	Followers func(n int)
	// ReadOnly is called when the board becomes so or stops being so.
	ReadOnly func(readOnly bool)
}

func (o Options) withDefaults() Options {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Boot == nil {
		now, first := o.Now, o.Now()
		o.Boot = func() time.Duration { return now().Sub(first) }
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	m := &o.Metrics
	if m.Commit == nil {
		m.Commit = func(float64, int) {}
	}
	if m.Command == nil {
		m.Command = func(string, string) {}
	}
	if m.Forecast == nil {
		m.Forecast = func(float64) {}
	}
	if m.Followers == nil {
		m.Followers = func(int) {}
	}
	if m.ReadOnly == nil {
		m.ReadOnly = func(bool) {}
	}
	return o
}
