package desk

import (
	"context"
	"errors"
	"fmt"

	"mendline/board"
	"mendline/server/store"
)

const (
	saidBroken  = "The board could not write to its disk. It only shows what was there before. The captain can try again; what you send meanwhile is not kept."
	saidMoved   = "The board's file was moved, deleted or replaced, and what you send now is not kept. Tell the captain, who sees where it was."
	saidLowDisk = "The board's disk is nearly full. It only shows what is there. Make room on the disk: it goes on by itself."
)

// failed turns the board read-only after a commit that did not succeed. A store
// that refused for want of space, or before it wrote to a file that is not in its
// place, is whole; any other is never used again.
func (d *Desk) failed(err error) {
	d.o.Log.Error("the board is read-only", "rev", d.state.Rev, "error", err)
	moved := errors.Is(err, store.ErrMoved)
	d.broken = errors.Is(err, store.ErrBroken) || !moved && !errors.Is(err, store.ErrLowDisk)
	switch {
	case moved:
		d.readOnly = saidMoved
	case d.broken:
		d.readOnly = saidBroken
	default:
		d.readOnly = saidLowDisk
	}
	if v := d.View(); v == nil || v.Epoch != d.epoch { // the start is not through
		return
	}
	d.publish()
	d.pulse()
	if moved {
		d.rescue()
	}
}

// look finds out, without a command, whether the store could take one.
func (d *Desk) look() {
	err := d.store.Healthy()
	switch {
	case err != nil && (d.readOnly == "" || errors.Is(err, store.ErrMoved) && d.readOnly != saidMoved):
		d.failed(err)
	case err == nil && d.readOnly != "":
		d.readOnly = ""
		d.publish()
	}
}

func (d *Desk) refuseReadOnly() *board.Refusal {
	return &board.Refusal{Code: board.CodeReadOnly, Sentence: d.readOnly}
}

// Again leaves read-only: the file is closed, copied, examined and opened, and
// the board is what it holds, in a new epoch with every robot unknown. Followers
// end with ErrRestored. On a board that can write it does nothing.
//
// Errors: ctx's own, ErrRestarting, and what stands in the way; the board stays
// read-only then.
func (d *Desk) Again(ctx context.Context) error {
	done := make(chan error, 1)
	select {
	case d.agains <- done:
		return <-done
	case <-d.stopping:
		return ErrRestarting
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (d *Desk) again() error {
	if err := d.store.InPlace(); err != nil {
		return err
	}
	if err := d.store.Healthy(); err == nil || errors.Is(err, store.ErrLowDisk) {
		return err
	}
	before, shift := d.core, d.clock.shift.Load()
	if err := d.store.Close(); err != nil {
		d.o.Log.Error("close after a failed write", "error", err)
	}
	existing := d.o.Store
	existing.Existing = true
	if err := d.open(existing, "the board was taken from its file again"); err != nil {
		d.core = before
		d.clock.shift.Store(shift)
		d.broken = true
		d.readOnly = saidBroken
		d.publish()
		d.o.Log.Error("try again", "error", err)
		return fmt.Errorf("try again: %w", err)
	}
	for _, f := range d.followers {
		f.cut(ErrRestored)
	}
	d.followers = nil
	d.o.Metrics.Followers(0)
	return nil
}
