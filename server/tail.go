package server

import (
	"context"
	"errors"
	"fmt"
	"time"

	"mendline/board"
	"mendline/server/store"
)

// readWithin is how long a request reads on in the journal: well under answerWait, so
// that it is answered. What was read is kept, and the next one goes on from there.
const readWithin = 20 * time.Second

// tail is the journal as far as somebody has read it, of one epoch.
type tail struct {
	turn  chan struct{} // holds one while somebody reads
	epoch string
	of    uint64                  // the newest line read
	take  func(line []byte) error // nil: from the first line on
}

func newTail() tail { return tail{turn: make(chan struct{}, 1)} }

// lock waits until nobody else reads; an error says that this took too long.
func (t *tail) lock(ctx context.Context) error {
	select {
	case t.turn <- struct{}{}:
		return nil
	case <-ctx.Done():
		return fmt.Errorf("somebody else reads the journal: %w", ctx.Err())
	}
}

func (t *tail) unlock() { <-t.turn }

// readOn gives what reads at t the lines it has not read, up to the newest there is now;
// begin is for a journal that is read from its first line. It stops between two lines, to
// go on from there another time, when nobody waits for it any more or the server ends.
// The caller has t's lock.
func (s *Server) readOn(ctx context.Context, t *tail, begin func() func([]byte) error) error {
	now := s.desk.View()
	if t.take == nil || t.epoch != now.Epoch {
		t.epoch, t.of, t.take = now.Epoch, 0, begin()
	}
	for t.of < uint64(now.State.Rev) {
		page, err := s.desk.Store().Journal(t.of, store.LinesMost)
		if err != nil || len(page) == 0 {
			return err
		}
		for _, line := range page {
			if err := errors.Join(ctx.Err(), s.life.Err()); err != nil {
				return fmt.Errorf("stopped after line %d: %w", t.of, err)
			}
			if err := t.take(line.Data); err != nil {
				t.take = nil // it may have stopped inside a line
				return err
			}
			t.of = line.Rev
		}
	}
	return nil
}

// notRead answers a request for which the journal could not be read to its end.
func notRead(err error) *board.Refusal {
	if errors.Is(err, context.DeadlineExceeded) {
		return &board.Refusal{Code: board.CodeTooMany, Sentence: "The board is still reading what was done so far. Ask again: it goes on from where it is."}
	}
	return cannotRead()
}
