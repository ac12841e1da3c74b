package desk

import (
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"time"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/server/store"
)

const (
	// recentLines are read from the journal at the start, as many as the board
	// keeps commands for undo.
	recentLines = 512
	undoFor     = board.Moment(10 * 60 * 1000)
)

// held is what a store holds.
type held struct {
	state board.State
	at    board.Moment  // of the newest journal line
	ahead time.Duration // of the laptop's clock, when the store last saw it
	sizes map[board.Key]int
}

// load builds the board from the store.
func load(s *store.Store, log *slog.Logger) (held, error) {
	snap, err := s.Load(recentLines)
	if err != nil {
		return held{}, err
	}
	h := held{ahead: snap.Ahead, sizes: make(map[board.Key]int, len(snap.Nouns))}
	nouns := make([]board.Noun, 0, len(snap.Nouns))
	for _, kv := range snap.Nouns {
		n, err := board.DecodeNoun(board.Key(kv.Key), kv.Value)
		if err != nil {
			return held{}, fmt.Errorf("load board: %w", err)
		}
		nouns = append(nouns, n)
		h.sizes[n.Key()] = len(kv.Value)
	}
	recent, err := recent(snap.Lines, log)
	if err != nil {
		return held{}, fmt.Errorf("load board: %w", err)
	}
	if len(recent) > 0 {
		h.at = recent[len(recent)-1].At
		recent = slices.DeleteFunc(recent, func(d board.Done) bool { return d.At < h.at-undoFor })
	}
	h.state = board.FromNouns(board.Rev(snap.Rev), nouns, recent)
	return h, nil
}

// recent reads journal lines back into the commands they tell of.
func recent(lines []store.Line, log *slog.Logger) ([]board.Done, error) {
	undoable := map[string]bool{}
	for _, c := range board.Commands() {
		undoable[c.Do] = c.Undo
	}
	list := make([]board.Done, 0, len(lines))
	for _, l := range lines {
		var line board.JournalLine
		err := json.Unmarshal(l.Data, &line, json.RejectUnknownMembers(true))
		if errors.Is(err, json.ErrUnknownName) {
			err = fmt.Errorf("%w: %w", board.ErrNewer, err)
		}
		if err != nil {
			return nil, fmt.Errorf("journal line %d: %w", l.Rev, err)
		}
		done, err := doneOf(line, undoable[line.Do])
		if err != nil {
			log.Warn("a command can no longer be undone", "rev", l.Rev, "error", err)
			done.Final, done.Was, done.Made = true, nil, nil
		}
		list = append(list, done)
	}
	return list, nil
}

func doneOf(line board.JournalLine, undoable bool) (board.Done, error) {
	d := board.Done{Rev: line.Rev, At: line.At, By: line.By, Role: line.Role, Do: line.Do, Final: !undoable}
	id, ok := board.ParseCommandID(line.ID)
	if !ok {
		return d, fmt.Errorf("command id %q", line.ID)
	}
	d.ID = id
	for _, key := range sortedKeys(line.Was) {
		n, err := board.DecodeNoun(key, line.Was[key])
		if err != nil {
			return d, err
		}
		d.Was = append(d.Was, n)
	}
	for _, key := range sortedKeys(line.Put) {
		if _, had := line.Was[key]; !had {
			d.Made = append(d.Made, key)
		}
	}
	return d, nil
}

func sortedKeys[V any](m map[board.Key]V) []board.Key {
	keys := make([]board.Key, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
