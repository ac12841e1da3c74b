package store

import (
	"fmt"
	"time"
)

const linesFill = 0.9 // share of a page that splits leave: lines only arrive at the end

// KV is one stored pair.
type KV struct {
	Key   string
	Value []byte
}

// Entry is the effect of one command: one revision.
type Entry struct {
	Rev    uint64        // one more than the entry before
	At     time.Time     // by it ids are forgotten
	Ahead  time.Duration // of the laptop's clock, see SetAhead
	ID     [16]byte      // command id, UUIDv7; zero for a command that nobody can resend
	Actor  string        // who sent it
	Body   [32]byte      // hash of what was sent
	Answer []byte        // what was answered
	Put    []KV          // nouns as they became
	Del    []string      // nouns gone, after Put
	Line   []byte        // journal line

	Secrets  []KV // written with it; a nil Value deletes
	Sessions []KV // likewise
}

// Commit writes the group in one transaction: all of it is on disk, or the
// error says why not. After any error but ErrLowDisk the store is broken, and
// the group may be found there all the same when the file is opened again. It
// keeps no reference to the group but to its answers, which must not change.
func (s *Store) Commit(group []Entry) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return fmt.Errorf("commit: %w", err)
	}
	if len(group) == 0 {
		return nil
	}
	var gone [][16]byte
	var expired [16]byte
	err := s.update(func(w *writer) error {
		for i := range group {
			if want := s.rev + uint64(i) + 1; group[i].Rev != want {
				return fmt.Errorf("revision %d where %d is next", group[i].Rev, want)
			}
			if err := write(w, &group[i]); err != nil {
				return fmt.Errorf("revision %d: %w", group[i].Rev, err)
			}
		}
		var err error
		gone, expired, err = s.ids.expire(w, group)
		return err
	})
	if err == nil {
		err = s.stillHere()
	}
	if err != nil {
		return fmt.Errorf("commit: %w", err)
	}
	s.rev += uint64(len(group))
	s.ids.adopt(group, gone, expired)
	return nil
}

func write(w *writer, e *Entry) error {
	for _, kv := range e.Put {
		if err := w.put(bucketNouns, []byte(kv.Key), kv.Value); err != nil {
			return fmt.Errorf("noun %q: %w", kv.Key, err)
		}
	}
	for _, key := range e.Del {
		if err := w.del(bucketNouns, []byte(key)); err != nil {
			return fmt.Errorf("noun %q: %w", key, err)
		}
	}
	if err := w.put(bucketLines, bigEndian(e.Rev), e.Line); err != nil {
		return fmt.Errorf("journal line: %w", err)
	}
	if err := writeID(w, e); err != nil {
		return err
	}
	if err := writePairs(w, bucketSecret, e.Secrets); err != nil {
		return err
	}
	if err := writePairs(w, bucketSess, e.Sessions); err != nil {
		return err
	}
	if err := writeAhead(w, e.Ahead); err != nil {
		return err
	}
	return w.putMeta(metaRev, bigEndian(e.Rev))
}

func writeAhead(w *writer, ahead time.Duration) error {
	return w.putMeta(metaAhead, bigEndian(uint64(ahead.Milliseconds())))
}

// SetAhead notes, for the next start, how far the board's time is ahead of the laptop's
// clock, below 0 for behind. Errors as for Commit.
func (s *Store) SetAhead(ahead time.Duration) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return fmt.Errorf("note the clock: %w", err)
	}
	if err := s.update(func(w *writer) error { return writeAhead(w, ahead) }); err != nil {
		return fmt.Errorf("note the clock: %w", err)
	}
	return nil
}

func writePairs(w *writer, bucket []byte, pairs []KV) error {
	for _, kv := range pairs {
		var err error
		if kv.Value == nil {
			err = w.del(bucket, []byte(kv.Key))
		} else {
			err = w.put(bucket, []byte(kv.Key), kv.Value)
		}
		if err != nil {
			return fmt.Errorf("session or secret: %w", err) // the key may be one: not named
		}
	}
	return nil
}

// SetSecrets writes secrets in a transaction of their own; a nil Value deletes.
// Errors as for Commit.
func (s *Store) SetSecrets(pairs ...KV) error { return s.set(bucketSecret, pairs) }

// SetSessions writes sessions in a transaction of their own; a nil Value
// deletes. Errors as for Commit.
func (s *Store) SetSessions(pairs ...KV) error { return s.set(bucketSess, pairs) }

func (s *Store) set(bucket []byte, pairs []KV) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return fmt.Errorf("write %s: %w", bucket, err)
	}
	err := s.update(func(w *writer) error { return writePairs(w, bucket, pairs) })
	if err != nil {
		return fmt.Errorf("write %s: %w", bucket, err)
	}
	return nil
}
