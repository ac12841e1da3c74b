package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"

	"github.com/google/uuid"
	bolt "go.etcd.io/bbolt"
)

// Salvaged is what was brought out of a damaged file, and what was not.
type Salvaged struct {
	Rev   uint64
	Nouns int
	Lines int
	// Rebuilt are the nouns that the journal gave as they last became, where their own
	// place was broken. Doubtful are those that were changed or deleted since, for all
	// that can be known: of a later revision no line is left.
	Rebuilt, Doubtful []string
	// Lost are the revisions whose journal lines are gone.
	Lost []uint64
	// Some of these are gone; of the nouns none is where State is set.
	IDs, Sessions, Secrets bool
	// State: each noun is as it was at the revision.
	State bool
}

// kept is a board brought out of a damaged file.
type kept struct {
	Salvaged
	ahead bool // of the revision that the file gives itself
	meta  map[string][]byte
	lines map[uint64][]byte
	// pairs are those of the other sealed buckets, by name.
	pairs map[string]map[string][]byte
}

// Salvage brings out of the damaged file at from what holds, and writes it as a board at
// to, where nothing may be. Live nouns that are broken are rebuilt from the journal's.
func Salvage(from, to string, o Options) (Salvaged, error) {
	s, err := salvage(from, to, o.withDefaults())
	if err != nil {
		return s, fmt.Errorf("salvage %s: %w", from, err)
	}
	return s, nil
}

func salvage(from, to string, o Options) (Salvaged, error) {
	if pid := HeldBy(from); pid != 0 {
		return Salvaged{}, &HeldError{Path: from, PID: pid}
	}
	if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
		return Salvaged{}, fmt.Errorf("%s is there already", to)
	}
	_, closedAt := parseMark(readMark(from))
	k, err := bringOut(from, closedAt)
	if err != nil {
		return Salvaged{}, err
	}
	if len(k.lines) == 0 && k.Nouns == 0 {
		return k.Salvaged, fmt.Errorf("%w: nothing in it can be read: it is no board, or of a format before %d, whose values carry no sums", ErrDamaged, formatSums)
	}
	k.meta[string(metaCopy)] = []byte{1}
	if err := k.write(to+".new", o); err != nil {
		return k.Salvaged, err
	}
	_, err = adopt(to+".new", to, len(migrations))
	return k.Salvaged, err
}

// bringOut reads what holds in the file at path, which was closed at a revision, 0 for
// unknown, and chooses.
func bringOut(path string, closedAt uint64) (*kept, error) {
	m, err := gather(path)
	if err != nil {
		return nil, err
	}
	k := &kept{meta: map[string][]byte{}, lines: map[uint64][]byte{}, pairs: map[string]map[string][]byte{}}
	for _, from := range []map[string][]byte{m.stray[bucketIndex(bucketLines)], m.tree[bucketIndex(bucketLines)]} {
		for key, data := range from {
			k.lines[number([]byte(key))] = data
		}
	}
	delete(k.lines, 0)
	if format := number(m.meta[string(metaSchema)]); format > uint64(len(migrations)) {
		return nil, fmt.Errorf("%w: format %d", ErrNewer, format)
	}
	maps.Copy(k.meta, m.meta)
	known := k.findRev(m, closedAt)
	k.findLost()
	k.chooseNouns(m)
	newest := !m.older && !k.ahead
	k.State = known && len(k.Lost) == 0 || newest && m.whole(bucketNouns) ||
		newest && m.meta != nil && digestOf(bucketNouns, k.pairs[string(bucketNouns)]) == m.want[bucketIndex(bucketNouns)]
	if k.State {
		k.Doubtful = nil
	}
	k.IDs, k.Sessions, k.Secrets = !m.whole(bucketIDs) || k.ahead, !m.whole(bucketSess), !m.whole(bucketSecret)
	k.chooseIDs(m)
	for _, name := range [][]byte{bucketSess, bucketSecret} {
		k.pairs[string(name)] = m.tree[bucketIndex(name)]
	}
	return k, nil
}

// findRev says at which revision the board was, and whether that is known.
func (k *kept) findRev(m *remains, closedAt uint64) (known bool) {
	said := number(m.meta[string(metaRev)])
	k.Rev = said
	switch {
	case m.meta == nil:
		for rev := range k.lines {
			k.Rev = max(k.Rev, rev)
		}
		k.Rev = max(k.Rev, closedAt)
	case m.behind:
		for k.lines[k.Rev+1] != nil {
			k.Rev++
		}
		k.Rev = max(k.Rev, closedAt)
	}
	k.ahead = k.Rev > said
	return k.Rev == closedAt || m.meta != nil && (!m.behind || k.ahead)
}

// findLost lists the revisions without a line. Lines of none are of a write that was not
// finished.
func (k *kept) findLost() {
	maps.DeleteFunc(k.lines, func(rev uint64, _ []byte) bool { return rev > k.Rev })
	k.Lines = len(k.lines)
	for rev := uint64(1); rev <= k.Rev; rev++ {
		if k.lines[rev] == nil {
			k.Lost = append(k.Lost, rev)
		}
	}
}

// became is a noun as it last became: no data where it was deleted.
type became struct {
	rev  uint64
	data []byte
}

// chooseNouns takes the nouns that the tree leads to where it leads to all of them, and
// else the newest there is of each.
func (k *kept) chooseNouns(m *remains) {
	live, stray := m.tree[bucketIndex(bucketNouns)], m.stray[bucketIndex(bucketNouns)]
	k.Nouns = len(live)
	k.pairs[string(bucketNouns)] = live
	if m.whole(bucketNouns) && !k.ahead {
		return
	}
	newest := k.fold()
	older := m.behind // the tree's nouns may be those of a transaction before
	for key, n := range newest {
		data, there := live[key]
		older = older || there && versionOf(data) < n.rev
	}
	for _, from := range []map[string][]byte{live, stray} {
		for key, data := range from {
			v, is := versionOf(data), newest[key]
			if v <= k.Rev && (v > is.rev || v == is.rev && is.data != nil) { // as it was written, byte for byte
				newest[key] = became{v, data}
			}
		}
	}
	nouns := map[string][]byte{}
	for _, key := range slices.Sorted(maps.Keys(newest)) {
		n := newest[key]
		data, there := live[key]
		sure := there && !older
		if !sure && len(k.Lost) > 0 && n.rev < k.Lost[len(k.Lost)-1] {
			k.Doubtful = append(k.Doubtful, key)
		} else if n.data != nil && !(there && versionOf(data) == n.rev) {
			k.Rebuilt = append(k.Rebuilt, key)
		}
		if n.data != nil {
			nouns[key] = n.data
		}
	}
	k.pairs[string(bucketNouns)], k.Nouns = nouns, len(nouns)
}

// fold gives the nouns as the journal's lines made them.
func (k *kept) fold() map[string]became {
	nouns := map[string]became{}
	var line lineReader
	for rev := uint64(1); rev <= k.Rev; rev++ {
		if k.lines[rev] == nil || line.read(k.lines[rev]) != nil {
			continue
		}
		for _, kv := range line.put {
			nouns[kv.Key] = became{rev, kv.Value}
		}
		for _, key := range line.del {
			nouns[key] = became{rev: rev}
		}
	}
	return nouns
}

// chooseIDs takes the command ids that the tree leads to, and those of the journal's lines:
// of these nobody knows what exactly was asked, so that a resend of one is refused, but not
// done again.
func (k *kept) chooseIDs(m *remains) {
	ids := map[string][]byte{}
	k.pairs[string(bucketIDs)] = ids
	for id, value := range m.tree[bucketIndex(bucketIDs)] {
		if d, err := decodeDone(value); err == nil && len(id) == 16 && d.Rev <= k.Rev {
			ids[id] = value
		}
	}
	if !k.IDs {
		return
	}
	expired := string(k.meta[string(metaExpired)])
	for rev, data := range k.lines {
		var asked struct{ ID, By, Role string }
		id, err := uuid.UUID{}, json.Unmarshal(data, &asked)
		if err == nil {
			id, err = uuid.Parse(asked.ID)
		}
		actor := "role/" + asked.Role // as the desk names who asked
		if asked.By != "" {
			actor = "person/" + asked.By
		}
		if key := string(id[:]); err == nil && key > expired && ids[key] == nil {
			ids[key] = encodeDone(&Entry{Rev: rev, Actor: actor})
		}
	}
}

// writeEach is how many pairs of a salvaged board are written in one transaction.
const writeEach = 5000

// write makes a file at temp of it.
func (k *kept) write(temp string, o Options) (err error) {
	if err := removeOld(temp); err != nil {
		return err
	}
	db, _, err := openBolt(temp, o)
	if err != nil {
		return err
	}
	defer func() {
		if err = errors.Join(err, db.Close()); err != nil {
			err = errors.Join(err, removeOld(temp))
		}
	}()
	update := func(f func(*writer) error) error {
		return guard(func() error { return db.Update(func(tx *bolt.Tx) error { return writing(tx, f) }) })
	}
	if err := update(func(w *writer) error { return k.fillMeta(w, o) }); err != nil {
		return err
	}
	lines := make([]KV, 0, len(k.lines))
	for _, rev := range slices.Sorted(maps.Keys(k.lines)) {
		lines = append(lines, KV{string(bigEndian(rev)), k.lines[rev]})
	}
	for _, name := range sealedBuckets() {
		pairs := lines
		if name := string(name); name != string(bucketLines) {
			pairs = inOrder(k.pairs[name])
		}
		for part := range slices.Chunk(pairs, writeEach) {
			if err := update(func(w *writer) error { return writePairs(w, name, part) }); err != nil {
				return err
			}
		}
	}
	return nil
}

func (k *kept) fillMeta(w *writer, o Options) error {
	if err := fill(w, o, migrations); err != nil {
		return err
	}
	var lost []byte
	for _, rev := range k.Lost {
		lost = append(lost, bigEndian(rev)...)
	}
	err := errors.Join(w.putMeta(metaRev, bigEndian(k.Rev)), w.putMeta(metaLost, lost))
	for _, key := range [][]byte{metaCreated, metaExpired, metaAhead, metaLine, metaCopy} {
		if value := k.meta[string(key)]; value != nil {
			err = errors.Join(err, w.putMeta(key, value))
		}
	}
	return err
}

func inOrder(m map[string][]byte) []KV {
	list := make([]KV, 0, len(m))
	for _, key := range slices.Sorted(maps.Keys(m)) {
		list = append(list, KV{key, m[key]})
	}
	return list
}
