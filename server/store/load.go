package store

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"
)

// LinesMost is how many journal lines one call of Journal returns at most.
const LinesMost = 500

// Line is one line of the journal.
type Line struct {
	Rev  uint64
	Data []byte // JSON
}

// Snapshot is all that a store holds, except the older journal and the command
// ids, which Done answers for.
type Snapshot struct {
	Rev      uint64
	Created  time.Time
	Ahead    time.Duration     // see SetAhead
	Nouns    []KV              // by key
	Lines    []Line            // the newest, oldest of them first
	Sessions map[string][]byte // by the hash of the token
	Secrets  map[string][]byte
}

// Load reads the board as it stands, with the newest lines of its journal.
// Nothing in the snapshot is shared with the store.
func (s *Store) Load(lines int) (Snapshot, error) {
	var snap Snapshot
	err := s.view(func(tx *bolt.Tx) error {
		meta := tx.Bucket(bucketMeta)
		snap.Rev = number(meta.Get(metaRev))
		created, err := time.Parse(time.RFC3339Nano, string(meta.Get(metaCreated)))
		if err != nil {
			return fmt.Errorf("created: %w", err)
		}
		snap.Created = created
		snap.Ahead = time.Duration(int64(number(meta.Get(metaAhead)))) * time.Millisecond
		if snap.Nouns, err = unsealed(tx, bucketNouns); err != nil {
			return err
		}
		if snap.Lines, err = newest(tx.Bucket(bucketLines), lines); err != nil {
			return err
		}
		sessions, errSess := unsealed(tx, bucketSess)
		secrets, errSecret := unsealed(tx, bucketSecret)
		snap.Sessions, snap.Secrets = asMap(sessions), asMap(secrets)
		return errors.Join(errSess, errSecret)
	})
	if err != nil {
		return Snapshot{}, fmt.Errorf("load %s: %w", s.path, err)
	}
	return snap, nil
}

// Journal returns the lines after the revision given, in order, at most limit
// and never more than LinesMost of them.
func (s *Store) Journal(after uint64, limit int) ([]Line, error) {
	var lines []Line
	err := s.view(func(tx *bolt.Tx) error {
		c := tx.Bucket(bucketLines).Cursor()
		for k, v := c.Seek(bigEndian(after)); k != nil && len(lines) < min(limit, LinesMost); k, v = c.Next() {
			if number(k) <= after {
				continue
			}
			l, err := lineAt(k, v)
			if err != nil {
				return err
			}
			lines = append(lines, l)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("journal after %d: %w", after, err)
	}
	return lines, nil
}

// Lines gives every line of the journal in order, a page at a time; it ends with
// the first error.
func (s *Store) Lines() iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		for after := uint64(0); ; {
			page, err := s.Journal(after, LinesMost)
			if err != nil {
				yield(nil, err)
				return
			}
			if len(page) == 0 {
				return
			}
			for _, l := range page {
				if !yield(l.Data, nil) {
					return
				}
				after = l.Rev
			}
		}
	}
}

func newest(b *bolt.Bucket, n int) ([]Line, error) {
	var lines []Line
	c := b.Cursor()
	for k, v := c.Last(); k != nil && len(lines) < n; k, v = c.Prev() {
		l, err := lineAt(k, v)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l)
	}
	slices.Reverse(lines)
	return lines, nil
}

func lineAt(k, v []byte) (Line, error) {
	data, ok := unseal(bucketLines, k, v)
	if !ok {
		return Line{}, fmt.Errorf("journal line %d: %w", number(k), ErrDamaged)
	}
	return Line{Rev: number(k), Data: bytes.Clone(data)}, nil
}

// unsealed are the pairs of a bucket without their sums.
func unsealed(tx *bolt.Tx, bucket []byte) ([]KV, error) {
	kvs := pairs(tx.Bucket(bucket))
	for i, kv := range kvs {
		data, ok := unseal(bucket, []byte(kv.Key), kv.Value)
		if !ok {
			return nil, fmt.Errorf("%s: %w", bucket, ErrDamaged) // the key may be a secret: not named
		}
		kvs[i].Value = data
	}
	return kvs, nil
}

func pairs(b *bolt.Bucket) []KV {
	var kvs []KV
	c := b.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		kvs = append(kvs, KV{Key: string(k), Value: bytes.Clone(v)})
	}
	return kvs
}

func asMap(kvs []KV) map[string][]byte {
	m := make(map[string][]byte, len(kvs))
	for _, kv := range kvs {
		m[kv.Key] = kv.Value
	}
	return m
}
