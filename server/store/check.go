package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

const namedMost = 20 // findings of one sort spelled out in a report

// Report is what an examination found.
type Report struct {
	Format  int
	Program string // that wrote the file last in a new format
	Created time.Time
	// Line tells apart the boards that have gone on from one file, of which each knows
	// what the others do not: eight hexadecimal digits.
	Line     string
	Rev      uint64
	Bytes    int64
	Nouns    int
	Lines    int
	IDs      int
	Sessions int
	// Lost are revisions whose journal lines were lost before: what they changed stands in
	// the nouns, what they were does not.
	Lost []uint64

	// Damage: what is there is not what was written; it can't be used.
	Damage []string
	// Faults: journal and nouns disagree, both as they were written. The board can be
	// used, but someone should know.
	Faults []string
}

// Err returns nil for a clean report, else all it found in one error.
func (r Report) Err() error {
	all := append(append([]string{}, r.Damage...), r.Faults...)
	if len(all) == 0 {
		return nil
	}
	if len(r.Damage) > 0 {
		return fmt.Errorf("%w: %s", ErrDamaged, strings.Join(all, "; "))
	}
	return errors.New(strings.Join(all, "; "))
}

// damaged returns nil unless the file can't be used.
func (r Report) damaged() error {
	if len(r.Damage) == 0 {
		return nil
	}
	return fmt.Errorf("%w: %s", ErrDamaged, strings.Join(r.Damage, "; "))
}

// Check examines the file at path, which no board may hold: bbolt's own check
// of every page; each value by its sum, and all of them by the digests; the journal
// gapless up to the revision; its lines folded give the nouns stored; no noun newer
// than the revision. The error is for a file that could not be examined; what was
// found is in the report.
func Check(path string) (Report, error) {
	r, err := inspectAll(path, len(migrations))
	if err != nil {
		return r, fmt.Errorf("check %s: %w", path, err)
	}
	return r, nil
}

// Check examines a copy of the running board, so that commits go on meanwhile.
func (s *Store) Check() (Report, error) {
	s.copying.Lock()
	defer s.copying.Unlock()
	temp := s.path + ".check"
	err := s.view(func(tx *bolt.Tx) error { return writeTx(tx, temp) })
	if err != nil {
		return Report{}, fmt.Errorf("check %s: %w", s.path, err)
	}
	r, err := Check(temp)
	return r, errors.Join(err, os.Remove(temp))
}

// inspect examines the file at path, all but whether the journal gives the nouns: sums
// and digests say that nothing has changed since they were written.
func inspect(path string, format int) (Report, error) { return inspectFile(path, format, false) }

// inspectAll examines the file at path, and folds its journal.
func inspectAll(path string, format int) (Report, error) { return inspectFile(path, format, true) }

func inspectFile(path string, format int, fold bool) (Report, error) {
	db, err := openReadOnly(path)
	if err != nil {
		return Report{}, err
	}
	defer db.Close()
	var r Report
	var found findings
	err = guard(func() error {
		return db.View(func(tx *bolt.Tx) error { return examine(tx, &r, &found, format, fold) })
	})
	var p *panicError
	if errors.As(err, &p) {
		found.damage("%v", p)
		err = nil
	}
	r.Damage, r.Faults = found.damages.texts(), found.faults.texts()
	return r, err
}

func examine(tx *bolt.Tx, r *Report, found *findings, format int, fold bool) error {
	r.Bytes = tx.Size()
	for _, name := range buckets() {
		if tx.Bucket(name) == nil {
			found.damage("bucket %s is missing", name)
		}
	}
	if found.damages.n > 0 {
		return nil
	}
	digests := readMeta(tx, r, found)
	if found.damages.n > 0 {
		return nil
	}
	if r.Format > format {
		return fmt.Errorf("%w: format %d, by program %q, where this one reads formats up to %d: start the newer program, or restore a backup made before it, such as the board.db.format%d that it left",
			ErrNewer, r.Format, r.Program, format, format)
	}
	sealed := r.Format >= formatSums
	if sealed {
		checkSums(tx, digests, found)
	}
	r.Sessions = walk(tx.Bucket(bucketSess))
	walk(tx.Bucket(bucketSecret))
	checkIDs(tx, r, sealed, found)
	checkJournal(tx, r, sealed, found)
	if r.Nouns = walk(tx.Bucket(bucketNouns)); fold || !sealed {
		checkFold(tx, r, sealed, found)
	}
	for err := range tx.Check() {
		found.damage("%v", err)
	}
	return nil
}

// readMeta reads what the file says of itself. A sum that is another than meta's own
// comes before what meta says: a flipped bit makes no newer program.
func readMeta(tx *bolt.Tx, r *Report, found *findings) digests {
	meta := tx.Bucket(bucketMeta)
	schema := number(meta.Get(metaSchema))
	r.Format = int(min(schema, math.MaxInt32))
	r.Program = string(meta.Get(metaProgram))
	r.Rev = number(meta.Get(metaRev))
	r.Lost = numbers(meta.Get(metaLost))
	var err error
	if r.Created, err = time.Parse(time.RFC3339Nano, string(meta.Get(metaCreated))); err != nil {
		found.damage("created: %v", err)
	}
	if r.Line = string(meta.Get(metaLine)); r.Line == "" {
		first := sha256.Sum256(meta.Get(metaCreated))
		r.Line = hex.EncodeToString(first[:4])
	}
	if r.Format == 0 {
		found.damage("no format number")
	}
	totals, ok := readSums(meta)
	if has := meta.Get(metaSums) != nil; !ok && (has || r.Format >= formatSums) {
		found.damage("what the file says of itself is not as it was written")
	}
	return totals
}

// checkSums compares each value with its sum, and each bucket with its digest.
func checkSums(tx *bolt.Tx, want digests, found *findings) {
	for i, name := range sealedBuckets() {
		var total uint64
		bad := 0
		c := tx.Bucket(name).Cursor()
		for k, v := c.First(); k != nil; k, v = c.Next() {
			total += uint64(storedSum(v))
			if _, ok := unseal(name, k, v); !ok {
				bad++
				found.damage("%s is not as it was written", called(name, k))
			}
		}
		if total != want[i] && bad == 0 {
			found.damage("%s: something is missing, or older than it was", plural(name))
		}
	}
}

// called names a pair without its secrets.
func called(bucket, key []byte) string {
	switch {
	case bytes.Equal(bucket, bucketNouns):
		return fmt.Sprintf("noun %q", key)
	case bytes.Equal(bucket, bucketLines):
		return fmt.Sprintf("journal line %d", number(key))
	case bytes.Equal(bucket, bucketIDs):
		return fmt.Sprintf("command id %x", key)
	case bytes.Equal(bucket, bucketSess):
		return "a session"
	}
	return "a PIN or a join code"
}

func plural(bucket []byte) string {
	return map[string]string{"ent": "nouns", "jnl": "journal", "cmd": "command ids", "sess": "sessions", "secret": "PINs and join codes"}[string(bucket)]
}

func walk(b *bolt.Bucket) int {
	n := 0
	c := b.Cursor()
	for k, _ := c.First(); k != nil; k, _ = c.Next() {
		n++
	}
	return n
}

func checkIDs(tx *bolt.Tx, r *Report, sealed bool, found *findings) {
	c := tx.Bucket(bucketIDs).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		r.IDs++
		if sealed {
			v, _ = unseal(bucketIDs, k, v)
		}
		d, err := decodeDone(v)
		switch {
		case len(k) != 16 || err != nil:
			found.damage("command id %x can't be read", k)
		case d.Rev == 0 || d.Rev > r.Rev:
			found.fault("command id %x has revision %d of %d", k, d.Rev, r.Rev)
		}
	}
}

// findings of an examination.
type findings struct{ damages, faults list }

func (f *findings) damage(format string, args ...any) { f.damages.add(format, args...) }
func (f *findings) fault(format string, args ...any)  { f.faults.add(format, args...) }

// list spells out its first lines and counts the rest.
type list struct {
	n     int
	named []string
}

func (l *list) add(format string, args ...any) {
	if l.n++; l.n <= namedMost {
		l.named = append(l.named, fmt.Sprintf(format, args...))
	}
}

func (l *list) texts() []string {
	if more := l.n - len(l.named); more > 0 {
		return append(l.named, fmt.Sprintf("and %d more", more))
	}
	return l.named
}
