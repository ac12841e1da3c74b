package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"time"

	bolt "go.etcd.io/bbolt"
)

var (
	bucketMeta   = []byte("meta")
	bucketNouns  = []byte("ent")
	bucketLines  = []byte("jnl")
	bucketIDs    = []byte("cmd")
	bucketSess   = []byte("sess")
	bucketSecret = []byte("secret")

	metaSchema  = []byte("schema")
	metaRev     = []byte("rev")
	metaCreated = []byte("created")
	metaProgram = []byte("program")
	metaExpired = []byte("expired")
	metaAhead   = []byte("ahead") // how far the board's time was ahead of the laptop's clock, in ms
	metaCopy    = []byte("copy")  // this file is a backup of a board that went on
	metaLine    = []byte("line")  // see Report.Line
	metaSums    = []byte("sums")  // digests and a sum over meta, which every later format keeps
	metaLost    = []byte("lost")  // revisions whose journal lines a salvage did not find, 8 bytes each
)

func buckets() [][]byte {
	return [][]byte{bucketMeta, bucketNouns, bucketLines, bucketIDs, bucketSess, bucketSecret}
}

// A migration takes a file to the next format. One that changes nouns changes
// the journal too, which must go on folding into them.
type migration func(*writer) error

// migrations in order; their number is the format. They are never edited. A
// file of each released format stays in testdata.
var migrations = []migration{format1, format2, format3}

func format1(w *writer) error {
	for _, name := range buckets() {
		if _, err := w.tx.CreateBucket(name); err != nil {
			return fmt.Errorf("bucket %s: %w", name, err)
		}
	}
	return w.putMeta(metaRev, bigEndian(0))
}

// create makes a new file: written and flushed under another name, then
// renamed to path.
func create(path string, o Options, list []migration) error {
	temp := path + ".new"
	if err := removeOld(temp); err != nil {
		return err
	}
	db, _, err := openBolt(temp, o)
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bolt.Tx) error {
		return writing(tx, func(w *writer) error { return fill(w, o, list) })
	})
	if err = errors.Join(err, db.Close()); err != nil {
		return fmt.Errorf("create %s: %w", temp, err)
	}
	return place(temp, path)
}

func fill(w *writer, o Options, list []migration) error {
	for _, m := range list {
		if err := m(w); err != nil {
			return err
		}
	}
	return errors.Join(
		w.putMeta(metaSchema, bigEndian(uint64(len(list)))),
		w.putMeta(metaCreated, []byte(o.Created.UTC().Format(time.RFC3339Nano))),
		w.putMeta(metaProgram, []byte(o.Program)))
}

// upgrade brings the file at path to the format of list. The old file is kept as
// path.formatN, N being its format. The new one is a copy, migrated and examined
// before it takes the place of the old; until then a power cut, or a migration
// that fails, leaves path as it was.
func upgrade(path string, have int, o Options, list []migration) (Report, error) {
	temp := path + ".new"
	r, err := stage(path, temp, have)
	if err == nil && have < formatSums && len(r.Faults) > 0 { // nothing would notice them again
		err = errors.Join(fmt.Errorf("%w: %w", ErrDamaged, r.Err()), os.Remove(temp))
	}
	if err != nil {
		return Report{}, fmt.Errorf("keep the board of format %d: %w", have, err)
	}
	if err := place(temp, fmt.Sprintf("%s.format%d", path, have)); err != nil {
		return Report{}, fmt.Errorf("keep the board of format %d: %w", have, err)
	}
	if _, err := stage(path, temp, have); err != nil {
		return Report{}, err
	}
	if err := migrate(temp, have, o, list); err != nil {
		return Report{}, errors.Join(err, os.Remove(temp))
	}
	return adopt(temp, path, len(list))
}

// migrate runs in the file at path the migrations that it has not seen.
func migrate(path string, have int, o Options, list []migration) error {
	db, _, err := openBolt(path, o)
	if err != nil {
		return err
	}
	err = guard(func() error {
		return db.Update(func(tx *bolt.Tx) error {
			return writing(tx, func(w *writer) error {
				for n := have; n < len(list); n++ {
					if err := list[n](w); err != nil {
						return fmt.Errorf("migration to format %d: %w", n+1, err)
					}
				}
				return errors.Join(w.putMeta(metaSchema, bigEndian(uint64(len(list)))), w.putMeta(metaProgram, []byte(o.Program)))
			})
		})
	})
	return errors.Join(err, db.Close())
}

func bigEndian(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// number reads what bigEndian wrote; 0 for anything else.
func number(b []byte) uint64 {
	if len(b) != 8 {
		return 0
	}
	return binary.BigEndian.Uint64(b)
}

// numbers reads numbers of 8 bytes each.
func numbers(b []byte) (list []uint64) {
	for ; len(b) >= 8; b = b[8:] {
		list = append(list, number(b[:8]))
	}
	return list
}
