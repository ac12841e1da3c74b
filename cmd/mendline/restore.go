package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/server/copies"
	"mendline/server/desk"
	"mendline/server/store"
)

// replaced is what a restore hands over from the board that was there to the one that
// takes its place, until that is next served.
type replaced struct {
	desk.Restored
	// Codes are its join codes, as they are kept: one that was changed stays changed.
	// They are for no other board than the one that was made at Created.
	Codes map[string][]byte `json:"codes,omitzero"`
}

// restore puts a backup in the place of the board.
func restore(_ context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("restore", flag.ContinueOnError)
	data := dataFlag(f)
	args, err := parse(f, args, "FILE")
	if err != nil {
		return err
	}
	d := dataDir(*data)
	if running, ok := d.running(); ok {
		return fmt.Errorf("the board of %s runs as process %d: stop it, then restore", d, running.PID)
	}
	if err := d.make(); err != nil {
		return err
	}
	if err := d.leaveHeld(); err != nil {
		return err
	}
	report, kept, err := store.Restore(args[0], d.board(), time.Now())
	if err != nil {
		return errors.Join(whoHolds(err), os.Remove(d.held()))
	}
	photos, err := copyPhotos(photosOf(args[0]), d.photos())
	if err != nil {
		return err
	}
	fmt.Fprintf(t.out, "%s now holds the board at revision %d, with %s. Every robot will be unknown, and every pack unread.\n", d, report.Rev, inWords(photos))
	fmt.Fprintln(t.out, "Every device has to join again. PINs are those of the backup.")
	if kept != "" {
		fmt.Fprintf(t.out, "The board that was there is kept as %s.\n", kept)
	}
	return nil
}

// photosOf is where the photos of a backup lie: beside it, or with those of other copies.
func photosOf(file string) string {
	if _, ok := copies.Tagged(strings.TrimSuffix(filepath.Base(file), ".db")); ok {
		return copies.PhotosIn(filepath.Dir(file))
	}
	return file + "-photos"
}

const elsewhere = "This is a backup of a board that is not in this folder: nobody knows which packs it has set aside since, what was stopped and what could hurt people."

const unreadable = "The replaced board could not be read: nobody knows which packs it had set aside, what was stopped and what could hurt people."

// leaveHeld writes down, for the board that comes, what the one that is there holds back.
func (d dataDir) leaveHeld() error {
	var comes replaced
	comes.Why = "the board was restored from a backup"
	before, err := d.restored()
	if err != nil {
		return err
	}
	if before != nil {
		comes = *before // restored twice, and not served in between
	}
	if _, err := os.Stat(d.board()); errors.Is(err, fs.ErrNotExist) && before == nil {
		comes.Held = append(comes.Held, elsewhere)
	} else if err == nil {
		snap, err := snapshotOf(d.board())
		var s board.State
		if err == nil {
			s, err = stateIn(snap)
		}
		switch {
		case errors.As(err, new(*store.HeldError)):
			return err
		case err != nil:
			comes.Held = append(comes.Held, unreadable)
		default:
			if before == nil {
				clock := s.TimeOf()
				comes.Clock, comes.Created, comes.Codes = &clock, snap.Created, codesIn(snap)
				comes.AheadMs, comes.Newest = snap.Ahead.Milliseconds(), newestIn(snap)
			}
			comes.BoardRestore = s.Replaced(comes.BoardRestore)
		}
	}
	b, err := json.Marshal(comes)
	if err != nil {
		return err
	}
	if err := store.WriteFile(d.held(), b); err != nil {
		return fmt.Errorf("write down what the board held back: %w", err)
	}
	return nil
}

// newestIn is when the board last did something, none where it is new.
func newestIn(snap store.Snapshot) board.Moment {
	var line board.JournalLine
	if len(snap.Lines) == 0 || json.Unmarshal(snap.Lines[len(snap.Lines)-1].Data, &line) != nil {
		return 0
	}
	return line.At
}

func codesIn(snap store.Snapshot) map[string][]byte {
	codes := map[string][]byte{}
	for key, code := range snap.Secrets {
		if strings.HasPrefix(key, "code/") {
			codes[key] = code
		}
	}
	return codes
}

// restored reads what a restore left, nil where there was none since the board was last
// served.
func (d dataDir) restored() (*replaced, error) {
	b, err := os.ReadFile(d.held())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var r replaced
	if err := json.Unmarshal(b, &r, json.RejectUnknownMembers(true)); err != nil {
		return nil, fmt.Errorf("read %s: %w", d.held(), err)
	}
	return &r, nil
}

// takeOver gives the board that a restore put in place the codes of the one that was
// there, and forgets the restore.
func (d dataDir) takeOver(r *replaced, own *store.Store) error {
	if r == nil {
		return nil
	}
	if len(r.Codes) > 0 && own.Report().Created.Equal(r.Created) {
		var pairs []store.KV
		for key, code := range r.Codes {
			pairs = append(pairs, store.KV{Key: key, Value: code})
		}
		if err := own.SetSecrets(pairs...); err != nil {
			return fmt.Errorf("keep the join codes: %w", err)
		}
	}
	return os.Remove(d.held())
}
