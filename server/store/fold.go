package store

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"

	"github.com/go-json-experiment/json/jsontext"
	bolt "go.etcd.io/bbolt"
)

// checkJournal looks for gaps, other than those known before.
func checkJournal(tx *bolt.Tx, r *Report, sealed bool, found *findings) {
	gap := found.fault
	if sealed {
		gap = found.damage // a digest would have to be wrong too
	}
	c := tx.Bucket(bucketLines).Cursor()
	last, lost := uint64(0), r.Lost
	for k, _ := c.First(); k != nil; k, _ = c.Next() {
		r.Lines++
		rev := number(k)
		before := last
		for len(lost) > 0 && lost[0] == last+1 {
			last, lost = last+1, lost[1:]
		}
		if rev != last+1 {
			gap("journal goes from revision %d to %d", before, rev)
		}
		last = rev
	}
	for len(lost) > 0 && lost[0] == last+1 {
		last, lost = last+1, lost[1:]
	}
	if last != r.Rev {
		found.damage("journal ends at revision %d, the board is at %d", last, r.Rev)
	}
}

// checkFold folds the lines into nouns and compares them with those stored.
func checkFold(tx *bolt.Tx, r *Report, sealed bool, found *findings) {
	nouns := map[string][]byte{}
	var reader lineReader
	c := tx.Bucket(bucketLines).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		if sealed {
			v, _ = unseal(bucketLines, k, v)
		}
		reader.fold(nouns, number(k), v, found)
	}
	compareNouns(tx, nouns, r, sealed, found)
}

// lineReader reads of a journal line what became of the nouns. It copies no noun: put
// holds parts of the line.
type lineReader struct {
	d    jsontext.Decoder
	text bytes.Buffer

	rev uint64
	put []KV
	del []string
}

func (r *lineReader) fold(nouns map[string][]byte, rev uint64, line []byte, found *findings) {
	if err := r.read(line); err != nil {
		found.fault("journal line %d: %v", rev, err)
		return
	}
	if r.rev != rev {
		found.fault("journal line %d calls itself %d", rev, r.rev)
	}
	for _, kv := range r.put {
		nouns[kv.Key] = kv.Value
	}
	for _, key := range r.del {
		delete(nouns, key)
	}
}

// read takes one object and nothing behind it.
func (r *lineReader) read(line []byte) error {
	r.rev, r.put, r.del = 0, r.put[:0], r.del[:0]
	r.text = *bytes.NewBuffer(line)
	r.d.Reset(&r.text, jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))
	err := r.members('{', func(name string) error {
		switch name {
		case "rev":
			n, err := r.d.ReadToken()
			if err != nil || n.Kind() != '0' {
				return cmp.Or(err, errors.New("rev is no number"))
			}
			r.rev, err = n.Uint()
			return err
		case "put":
			return r.members('{', func(key string) error {
				value, err := r.d.ReadValue()
				end := r.d.InputOffset()
				r.put = append(r.put, KV{key, line[end-int64(len(value)) : end]})
				return err
			})
		case "del":
			return r.members('[', func(key string) error { r.del = append(r.del, key); return nil })
		}
		return r.d.SkipValue()
	})
	if err != nil {
		return err
	}
	if _, err := r.d.ReadToken(); err != io.EOF {
		return cmp.Or(err, errors.New("something stands behind it"))
	}
	return nil
}

// members calls each with the names of an object, or with the strings of a list;
// null holds none.
func (r *lineReader) members(open jsontext.Kind, each func(string) error) error {
	begin, err := r.d.ReadToken()
	if err == nil && begin.Kind() == 'n' {
		return nil
	}
	if err != nil || begin.Kind() != open {
		return cmp.Or(err, fmt.Errorf("%v where %v should be", begin.Kind(), open))
	}
	for k := r.d.PeekKind(); k != '}' && k != ']'; k = r.d.PeekKind() {
		text, err := r.d.ReadToken()
		if err != nil || text.Kind() != '"' {
			return cmp.Or(err, fmt.Errorf("%v where a string should be", text.Kind()))
		}
		if err := each(text.String()); err != nil {
			return err
		}
	}
	_, err = r.d.ReadToken()
	return err
}

// compareNouns passes over what lost lines may have made of a noun.
func compareNouns(tx *bolt.Tx, folded map[string][]byte, r *Report, sealed bool, found *findings) {
	c := tx.Bucket(bucketNouns).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		key := string(k)
		if sealed {
			v, _ = unseal(bucketNouns, k, v)
		}
		rev := checkVersion(key, v, r.Rev, found)
		want, ok := folded[key]
		delete(folded, key)
		switch {
		case slices.Contains(r.Lost, rev):
		case !ok:
			found.fault("noun %s is stored, but the journal has none", key)
		case !sameJSON(v, want):
			found.fault("noun %s differs from the journal", key)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(folded)) {
		if len(r.Lost) == 0 || versionOf(folded[key]) > r.Lost[len(r.Lost)-1] {
			found.fault("noun %s is in the journal, but not stored", key)
		}
	}
}

// checkVersion returns the revision of the noun's last change.
func checkVersion(key string, noun []byte, rev uint64, found *findings) uint64 {
	var head versionHead
	err := json.Unmarshal(noun, &head)
	switch {
	case err != nil:
		found.fault("noun %s: %v", key, err)
	case head.V == 0:
		found.fault("noun %s has no v", key)
	case head.V > rev:
		found.fault("noun %s is of revision %d, the board at %d", key, head.V, rev)
	}
	return head.V
}

type versionHead struct {
	V uint64 `json:"v"`
}

// versionOf is the revision of a noun's last change, 0 where it cannot be read.
func versionOf(noun []byte) uint64 {
	var head versionHead
	if json.Unmarshal(noun, &head) != nil {
		return 0
	}
	return head.V
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
