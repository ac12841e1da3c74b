package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"
)

const (
	// KeepIDs is how long a command id is remembered, by the time inside it.
	KeepIDs = 7 * 24 * time.Hour
	// IDsMost is how many are remembered at most.
	IDsMost = 200_000

	expireExtra = 256 // ids forgotten in one commit beyond those it adds
)

// Done is what was answered to a command.
type Done struct {
	Rev    uint64
	Actor  string
	Body   [32]byte
	Answer []byte
}

// Done returns the answer to the command id, from memory, so that a broken
// store still answers. It waits for a write under way.
func (s *Store) Done(id [16]byte) (Done, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	d, ok := s.ids.done[id]
	return d, ok
}

// TooOld reports whether at now, see Entry.At, id is as old as one already forgotten, so
// that nobody can say whether it was done.
func (s *Store) TooOld(id [16]byte, now time.Time) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return idTime(id[:]).Before(now.Add(-KeepIDs)) || s.ids.holds(now) && bytes.Compare(id[:], s.ids.expired[:]) <= 0
}

// ids mirrors the bucket of command ids, as committed.
type ids struct {
	max     int // IDsMost; less in tests
	done    map[[16]byte]Done
	expired [16]byte // the newest one forgotten
}

// holds tells whether the newest id forgotten says what is old at now. One dated later
// is from before the time was set back.
func (m *ids) holds(now time.Time) bool { return !idTime(m.expired[:]).After(now) }

func (m *ids) read(tx *bolt.Tx) error {
	copy(m.expired[:], tx.Bucket(bucketMeta).Get(metaExpired))
	m.done = make(map[[16]byte]Done)
	return tx.Bucket(bucketIDs).ForEach(func(k, v []byte) error {
		data, ok := unseal(bucketIDs, k, v)
		d, err := decodeDone(data)
		if !ok || err != nil || len(k) != 16 {
			return fmt.Errorf("command id %x: %w", k, errors.Join(ErrDamaged, err))
		}
		m.done[[16]byte(k)] = d
		return nil
	})
}

// expire deletes ids that are too old at the group's end or too many, oldest
// first, and remembers the newest of all that were forgotten.
func (m *ids) expire(w *writer, group []Entry) (gone [][16]byte, last [16]byte, err error) {
	now := group[len(group)-1].At
	oldest := now.Add(-KeepIDs)
	spare := len(m.done) - m.max
	for i := range group {
		if group[i].ID != [16]byte{} {
			spare++
		}
	}
	c := w.tx.Bucket(bucketIDs).Cursor()
	for k, _ := c.First(); k != nil && len(gone) < len(group)+expireExtra; k, _ = c.Next() {
		if len(gone) >= spare && !idTime(k).Before(oldest) {
			break
		}
		gone = append(gone, [16]byte(k))
	}
	if len(gone) == 0 {
		return nil, m.expired, nil
	}
	for _, id := range gone {
		if err := w.del(bucketIDs, id[:]); err != nil {
			return nil, last, fmt.Errorf("forget id: %w", err)
		}
	}
	last = gone[len(gone)-1]
	if m.holds(now) && bytes.Compare(last[:], m.expired[:]) < 0 {
		last = m.expired
	}
	return gone, last, w.putMeta(metaExpired, last[:])
}

func (m *ids) adopt(group []Entry, gone [][16]byte, expired [16]byte) {
	for i := range group {
		if e := &group[i]; e.ID != [16]byte{} {
			m.done[e.ID] = Done{Rev: e.Rev, Actor: e.Actor, Body: e.Body, Answer: e.Answer}
		}
	}
	for _, id := range gone {
		delete(m.done, id)
	}
	m.expired = expired
}

// idTime is the moment in a UUIDv7: 48 bits of Unix milliseconds (RFC 9562,
// Universally Unique IDentifiers, 2024, section 5.7).
func idTime(id []byte) time.Time {
	var b [8]byte
	copy(b[2:], id[:6])
	return time.UnixMilli(int64(binary.BigEndian.Uint64(b[:])))
}

func writeID(w *writer, e *Entry) error {
	if e.ID == [16]byte{} {
		return nil
	}
	if w.tx.Bucket(bucketIDs).Get(e.ID[:]) != nil {
		return fmt.Errorf("command id %x was done before", e.ID)
	}
	if err := w.put(bucketIDs, e.ID[:], encodeDone(e)); err != nil {
		return fmt.Errorf("command id %x: %w", e.ID, err)
	}
	return nil
}

// encodeDone: revision, body hash, length of actor, actor, answer.
func encodeDone(e *Entry) []byte {
	b := make([]byte, 0, 8+32+2+len(e.Actor)+len(e.Answer))
	b = binary.BigEndian.AppendUint64(b, e.Rev)
	b = append(b, e.Body[:]...)
	b = binary.AppendUvarint(b, uint64(len(e.Actor)))
	b = append(b, e.Actor...)
	return append(b, e.Answer...)
}

// decodeDone reads what encodeDone wrote, copied out.
func decodeDone(v []byte) (Done, error) {
	if len(v) < 8+32 {
		return Done{}, fmt.Errorf("answer of %d bytes", len(v))
	}
	d := Done{Rev: binary.BigEndian.Uint64(v), Body: [32]byte(v[8:40])}
	n, size := binary.Uvarint(v[40:])
	if size <= 0 || n > uint64(len(v)-40-size) {
		return Done{}, errors.New("actor cut short")
	}
	rest := v[40+size:]
	d.Actor = string(rest[:n])
	d.Answer = bytes.Clone(rest[n:])
	return d, nil
}
