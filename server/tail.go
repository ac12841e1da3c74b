package server

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"mendline/server/store"
)

// tail is the journal as far as somebody has read it, of one epoch.
type tail struct {
	sync.Mutex // one reader at a time
	epoch      string
	of         uint64                  // the newest line read
	take       func(line []byte) error // nil: from the first line on
}

// readOn gives what reads at t the lines it has not read; begin is for a journal that
// is read from its first line. It stops between two lines, to go on from there another
// time, when nobody waits for it any more or the server ends. The caller has t's lock.
func (s *Server) readOn(ctx context.Context, t *tail, begin func() func([]byte) error) error {
	if epoch := s.desk.View().Epoch; t.take == nil || t.epoch != epoch {
		t.epoch, t.of, t.take = epoch, 0, begin()
	}
	for {
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
}
