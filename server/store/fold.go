package store

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"

	bolt "go.etcd.io/bbolt"
)

// journalLine is the part of a line that says what became of the nouns.
type journalLine struct {
	Rev uint64                     `json:"rev"`
	Put map[string]json.RawMessage `json:"put"`
	Del []string                   `json:"del"`
}

// checkJournal folds the lines into nouns and compares them with those stored.
func checkJournal(tx *bolt.Tx, r *Report, found *findings) {
	nouns := map[string]json.RawMessage{}
	c := tx.Bucket(bucketLines).Cursor()
	var last uint64
	for k, v := c.First(); k != nil; k, v = c.Next() {
		r.Lines++
		rev := number(k)
		if rev != last+1 {
			found.fault("journal goes from revision %d to %d", last, rev)
		}
		last = rev
		foldLine(nouns, rev, v, found)
	}
	if last != r.Rev {
		found.damage("journal ends at revision %d, the board is at %d", last, r.Rev)
	}
	compareNouns(tx, nouns, r, found)
}

func foldLine(nouns map[string]json.RawMessage, rev uint64, data []byte, found *findings) {
	var line journalLine
	if err := json.Unmarshal(data, &line); err != nil {
		found.fault("journal line %d: %v", rev, err)
		return
	}
	if line.Rev != rev {
		found.fault("journal line %d calls itself %d", rev, line.Rev)
	}
	maps.Copy(nouns, line.Put)
	for _, key := range line.Del {
		delete(nouns, key)
	}
}

func compareNouns(tx *bolt.Tx, folded map[string]json.RawMessage, r *Report, found *findings) {
	c := tx.Bucket(bucketNouns).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		r.Nouns++
		key := string(k)
		checkVersion(key, v, r.Rev, found)
		want, ok := folded[key]
		delete(folded, key)
		switch {
		case !ok:
			found.fault("noun %s is stored, but the journal has none", key)
		case !sameJSON(v, want):
			found.fault("noun %s differs from the journal", key)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(folded)) {
		found.fault("noun %s is in the journal, but not stored", key)
	}
}

func checkVersion(key string, noun []byte, rev uint64, found *findings) {
	var head struct {
		V uint64 `json:"v"`
	}
	err := json.Unmarshal(noun, &head)
	switch {
	case err != nil:
		found.fault("noun %s: %v", key, err)
	case head.V == 0:
		found.fault("noun %s has no v", key)
	case head.V > rev:
		found.fault("noun %s is of revision %d, the board at %d", key, head.V, rev)
	}
}

// sameJSON compares two values, however they were spaced, escaped or ordered.
func sameJSON(a, b []byte) bool {
	if bytes.Equal(a, b) {
		return true
	}
	va, okA := decodeAny(a)
	vb, okB := decodeAny(b)
	return okA && okB && reflect.DeepEqual(va, vb)
}

func decodeAny(b []byte) (v any, ok bool) {
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber() // large numbers keep all their digits
	return v, d.Decode(&v) == nil
}
