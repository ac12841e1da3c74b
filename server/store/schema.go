package store

import (
	"encoding/binary"
	"errors"
	"fmt"
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
)

func buckets() [][]byte {
	return [][]byte{bucketMeta, bucketNouns, bucketLines, bucketIDs, bucketSess, bucketSecret}
}

// A migration takes a file to the next format, in one transaction. One that
// changes nouns also adds the journal line that says so, else the journal no
// longer folds into them.
type migration func(*bolt.Tx) error

// migrations in order; their number is the format. They are never edited. A
// file of each released format stays in testdata.
var migrations = []migration{format1}

func format1(tx *bolt.Tx) error {
	for _, name := range buckets() {
		if _, err := tx.CreateBucket(name); err != nil {
			return fmt.Errorf("bucket %s: %w", name, err)
		}
	}
	return tx.Bucket(bucketMeta).Put(metaRev, bigEndian(0))
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
	err = db.Update(func(tx *bolt.Tx) error { return fill(tx, o, list) })
	if err = errors.Join(err, db.Close()); err != nil {
		return fmt.Errorf("create %s: %w", temp, err)
	}
	return place(temp, path)
}

func fill(tx *bolt.Tx, o Options, list []migration) error {
	for _, m := range list {
		if err := m(tx); err != nil {
			return err
		}
	}
	meta := tx.Bucket(bucketMeta)
	return errors.Join(
		meta.Put(metaSchema, bigEndian(uint64(len(list)))),
		meta.Put(metaCreated, []byte(o.Created.UTC().Format(time.RFC3339Nano))),
		meta.Put(metaProgram, []byte(o.Program)))
}

// migrate brings the file to the format of list, after a backup beside it.
func migrate(db *bolt.DB, path, program string, list []migration) error {
	have, err := backupOld(db, path, len(list))
	if err != nil {
		return fmt.Errorf("backup before migration: %w", err)
	}
	for n := have; n < len(list); n++ {
		err := db.Update(func(tx *bolt.Tx) error {
			if err := list[n](tx); err != nil {
				return err
			}
			meta := tx.Bucket(bucketMeta)
			return errors.Join(meta.Put(metaSchema, bigEndian(uint64(n+1))), meta.Put(metaProgram, []byte(program)))
		})
		if err != nil {
			return fmt.Errorf("migration to format %d: %w", n+1, err)
		}
	}
	return nil
}

// backupOld copies a file that is not in the format wanted to path.formatN, N
// being the format it has.
func backupOld(db *bolt.DB, path string, want int) (have int, err error) {
	temp := path + ".new"
	err = guard(func() error {
		return db.View(func(tx *bolt.Tx) error {
			have = int(number(tx.Bucket(bucketMeta).Get(metaSchema)))
			if have == want {
				return nil
			}
			return writeTx(tx, temp)
		})
	})
	if err != nil || have == want {
		return have, err
	}
	_, err = adopt(temp, fmt.Sprintf("%s.format%d", path, have), want)
	return have, err
}

func bigEndian(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// number reads what bigEndian wrote; 0 for anything else.
func number(b []byte) uint64 {
	if len(b) != 8 {
		return 0
	}
	return binary.BigEndian.Uint64(b)
}
