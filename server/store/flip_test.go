package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"
)

// board is a closed board of a hundred and one revisions with sessions and secrets, its
// bytes, the mark beside it, and what it serves.
type closedBoard struct {
	data, mark []byte
	earlier    []byte // the file before its last revision
	served     served
}

// served is all that a board answers with.
type served struct {
	snap Snapshot
	done map[[16]byte]Done
}

func serves(t *testing.T, s *Store) served {
	t.Helper()
	snap := load(t, s)
	for i, kv := range snap.Nouns { // the journal may space and escape them otherwise
		v, ok := decodeAny(kv.Value)
		require.True(t, ok)
		snap.Nouns[i].Value = fmt.Append(nil, v)
	}
	return served{snap, maps.Clone(s.ids.done)}
}

func aClosedBoard(t *testing.T) closedBoard {
	t.Helper()
	path := filepath.Join(t.TempDir(), "board.db")
	s, err := Open(path, Options{Created: noon})
	require.NoError(t, err)
	commit(t, s, entries(1, 100)...)
	require.NoError(t, s.SetSessions(KV{"token hash", []byte(`{"role":"crew"}`)}, KV{"another", []byte(`{"role":"viewer"}`)}))
	require.NoError(t, s.SetSecrets(KV{"code/crew", []byte("7G2KQ0ZD")}, KV{"pin/ada", bytes.Repeat([]byte("h"), 40)}))
	earlier, err := os.ReadFile(path)
	require.NoError(t, err)
	commit(t, s, entry(101))
	want := serves(t, s)
	require.NoError(t, s.Close())
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	mark, err := os.ReadFile(path + ".lock")
	require.NoError(t, err)
	return closedBoard{data[:readHeads(bytes.NewReader(data))[0].pages*pageBytes], mark, earlier, want}
}

// put writes the board with a change to a new folder.
func (b closedBoard) put(t *testing.T, edit func(data []byte)) string {
	t.Helper()
	data := bytes.Clone(b.data)
	edit(data)
	return put(t, data, b.mark)
}

func put(t *testing.T, data, mark []byte) string {
	t.Helper()
	path := filepath.Join(memoryFolder(t), "board.db")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	require.NoError(t, os.WriteFile(path+".lock", mark, 0o600))
	return path
}

// opensAs opens a changed board: it serves what it did before, or says what is amiss, or
// does not open.
func (b closedBoard) opensAs(t *testing.T, path string) (o Opening, same bool, err error) {
	t.Helper()
	s, err := Open(path, Options{FreeBytesLeast: -1, Created: noon})
	if err != nil {
		require.ErrorIs(t, err, ErrDamaged)
		return o, false, err
	}
	defer func() { require.NoError(t, s.Close()) }()
	got := serves(t, s)
	same = reflect.DeepEqual(b.served, got)
	o = s.Opening()
	require.NoError(t, s.Report().Err())
	if o.Behind > 0 || o.Head && o.Unclean && o.Rebuilt == nil {
		return o, same, nil // it is said that it is an older board
	}
	if len(o.Lost) == 0 && (o.Rebuilt == nil || !o.Rebuilt.IDs && !o.Rebuilt.Sessions) {
		require.True(t, same, "what differs is said")
	}
	require.Equal(t, b.served.snap.Nouns, got.snap.Nouns, "no noun is served that was not so")
	require.Equal(t, b.served.snap.Secrets, got.snap.Secrets)
	return o, same, nil
}

// TestDamageIsHarmlessOrSaid damages one place, anywhere in a closed file or in one that
// was not closed.
func TestDamageIsHarmlessOrSaid(t *testing.T) {
	b := aClosedBoard(t)
	seed := seedOf(t)
	rng := rand.New(rand.NewPCG(seed, 2))
	pages := len(b.data) / pageBytes
	for name, damage := range map[string]func(data []byte, unclean bool) []byte{
		"a flipped bit": func(data []byte, _ bool) []byte {
			bit := rng.IntN(8 * len(data))
			data[bit/8] ^= 1 << (bit % 8)
			return data
		},
		"an empty page": func(data []byte, _ bool) []byte {
			page := rng.IntN(pages)
			clear(data[page*pageBytes : (page+1)*pageBytes])
			return data
		},
		"a sector of noise": func(data []byte, _ bool) []byte {
			at := 512 * rng.IntN(len(data)/512)
			for i := range 512 {
				data[at+i] = byte(rng.Uint32())
			}
			return data
		},
		"a page that was never written": func(data []byte, unclean bool) []byte {
			first := 0
			if unclean { // nothing tells a last change that never reached the disk from one that never was
				first = 2
			}
			page := first + rng.IntN(pages-first)
			copy(data[page*pageBytes:(page+1)*pageBytes], b.earlier[page*pageBytes:])
			return data
		},
		"a file cut short": func(data []byte, _ bool) []byte { return data[:rng.IntN(len(data))] },
	} {
		t.Run(name, func(t *testing.T) {
			harmless, said, refused := 0, 0, 0
			for n := range times(t, "MENDLINE_FLIPS", 60) {
				mark := b.mark
				if n%2 == 1 {
					mark = []byte("open 1")
				}
				o, same, err := b.opensAs(t, put(t, damage(bytes.Clone(b.data), n%2 == 1), mark))
				switch {
				case err != nil:
					refused++
				case o.said():
					said++
				default:
					require.True(t, same, "another board is served, and nothing said")
					harmless++
				}
			}
			t.Logf("of %d pages: %d harmless, %d said, %d refused", pages, harmless, said, refused)
		})
	}
}

func (o Opening) said() bool { return o.Head || o.Behind > 0 || o.Rebuilt != nil || len(o.Lost) > 0 }

// TestDamageAtEachKindOfPage flips a bit where it matters, on each kind of page, beside a
// twin where it does not.
func TestDamageAtEachKindOfPage(t *testing.T) {
	b := aClosedBoard(t)
	at := func(text string) func(*testing.T, []byte) int {
		return func(t *testing.T, data []byte) int { return inUse(t, b, []byte(text)) }
	}
	page := func(bucket []byte, offset int) func(*testing.T, []byte) int {
		return func(t *testing.T, data []byte) int { return rootOf(t, b, bucket)*pageBytes + offset }
	}
	line := rootOf(t, b, bucketLines)
	require.EqualValues(t, branchPage, b.data[line*pageBytes+8], "the journal has a branch")
	firstLeaf := int(binary.NativeEndian.Uint64(b.data[line*pageBytes+headBytes+8:]))
	for name, c := range map[string]struct {
		at   func(*testing.T, []byte) int
		want func(*testing.T, Opening, bool, error)
	}{
		"a noun":                      {at(string(entry(82).Put[0].Value)), rebuilt("job/02")},
		"a noun's key":                {at("job/05" + string(seal(bucketNouns, []byte("job/05"), entry(85).Put[0].Value))), rebuilt("job/05")},
		"a count of nouns":            {page(bucketNouns, 10), rebuilt()},
		"the page of nouns":           {page(bucketNouns, 8), rebuilt()},
		"its own number":              {page(bucketNouns, 0), rebuilt()},
		"a branch of the journal":     {page(bucketLines, headBytes+8), rebuilt()},
		"the journal's branch itself": {page(bucketLines, 8), rebuilt()},
		"a page of the journal":       {func(*testing.T, []byte) int { return firstLeaf*pageBytes + 10 }, rebuilt()},
		"a line of the journal": {at(`},"rev":5}`), func(t *testing.T, o Opening, same bool, err error) {
			require.NoError(t, err)
			require.Len(t, o.Lost, 1, "and what it was, is said")
			require.True(t, o.Rebuilt.State, "each noun is known all the same")
			require.Empty(t, o.Rebuilt.Doubtful)
		}},
		"a command id": {at(`{"rev":81}`), func(t *testing.T, o Opening, same bool, err error) {
			require.NoError(t, err)
			require.NotNil(t, o.Rebuilt)
			require.True(t, o.Rebuilt.IDs)
		}},
		"a session": {at("token hash"), func(t *testing.T, o Opening, same bool, err error) {
			require.NoError(t, err)
			require.NotNil(t, o.Rebuilt)
			require.True(t, o.Rebuilt.Sessions, "who had it joins again")
		}},
		"a PIN": {at("hhhhhhhh"), func(t *testing.T, o Opening, same bool, err error) {
			require.ErrorIs(t, err, ErrDamaged, "else whoever comes first sets another")
			require.ErrorContains(t, err, "mendline salvage")
		}},
		"the older head": {func(_ *testing.T, data []byte) int { return olderHead(data)*pageBytes + metaRoot }, func(t *testing.T, o Opening, same bool, err error) {
			require.NoError(t, err)
			require.True(t, o.Head)
			require.Zero(t, o.Behind)
			require.True(t, same)
		}},
		"the newest head": {func(_ *testing.T, data []byte) int { return (1-olderHead(data))*pageBytes + metaRoot }, func(t *testing.T, o Opening, same bool, err error) {
			require.NoError(t, err)
			require.True(t, o.Head)
			require.NotNil(t, o.Rebuilt, "its last revision is on pages that the older head does not lead to")
			require.Zero(t, o.Behind)
		}},
		"a free page": {func(t *testing.T, data []byte) int { return freeOf(t, b)*pageBytes + 100 }, func(t *testing.T, o Opening, same bool, err error) {
			require.NoError(t, err)
			require.True(t, same)
			require.Equal(t, Opening{}, o, "nothing was, and nothing is said")
		}},
	} {
		t.Run(name, func(t *testing.T) {
			path := b.put(t, func(data []byte) {
				data[c.at(t, data)] ^= 1
			})
			o, same, err := b.opensAs(t, path)
			c.want(t, o, same, err)
			if o.Rebuilt == nil {
				return
			}
			was, err := os.ReadFile(o.Kept)
			require.NoError(t, err, "the damaged file is kept")
			require.Len(t, was, len(b.data))
			again := opened(t, path, Options{FreeBytesLeast: -1})
			require.Nil(t, again.Opening().Rebuilt, "it is rebuilt once")
			require.Equal(t, o.Lost, again.Opening().Lost, "and what is gone, is said again")
			commit(t, again, entry(102))
		})
	}
}

// rebuilt wants all of the board back, with these nouns among those the journal gave.
func rebuilt(nouns ...string) func(*testing.T, Opening, bool, error) {
	return func(t *testing.T, o Opening, same bool, err error) {
		require.NoError(t, err)
		require.NotNil(t, o.Rebuilt)
		require.True(t, same)
		require.Subset(t, o.Rebuilt.Rebuilt, nouns)
		require.Empty(t, o.Lost)
	}
}

// inUse is where a text stands on a page that the newest head leads to.
func inUse(t *testing.T, b closedBoard, text []byte) int {
	t.Helper()
	m, err := gather(b.put(t, func([]byte) {}))
	require.NoError(t, err)
	for at := 0; ; at++ {
		n := bytes.Index(b.data[at:], text)
		require.GreaterOrEqual(t, n, 0, "%s", text)
		if at += n; m.reached[uint64(at/pageBytes)] {
			return at
		}
	}
}

func olderHead(data []byte) int {
	first := binary.NativeEndian.Uint64(data[metaTxID:])
	if second := binary.NativeEndian.Uint64(data[pageBytes+metaTxID:]); second > first {
		return 0
	}
	return 1
}

func rootOf(t *testing.T, b closedBoard, bucket []byte) (root int) {
	t.Helper()
	viewed(t, b, func(tx *bolt.Tx) { root = int(tx.Bucket(bucket).RootPage()) })
	return root
}

func freeOf(t *testing.T, b closedBoard) (id int) {
	t.Helper()
	viewed(t, b, func(tx *bolt.Tx) {
		for n := 2; ; n++ {
			info, err := tx.Page(n)
			require.NoError(t, err)
			require.NotNil(t, info, "no page is free")
			if info.Type == "free" {
				id = n
				return
			}
		}
	})
	return id
}

func viewed(t *testing.T, b closedBoard, look func(*bolt.Tx)) {
	t.Helper()
	db, err := boltOpen(b.put(t, func([]byte) {}), &bolt.Options{})
	require.NoError(t, err)
	require.NoError(t, db.View(func(tx *bolt.Tx) error { look(tx); return nil }))
	require.NoError(t, db.Close())
}

func TestSalvageListsWhatCouldNotBe(t *testing.T) {
	b := aClosedBoard(t)
	leaf := rootOf(t, b, bucketNouns)
	m, err := gather(b.put(t, func([]byte) {}))
	require.NoError(t, err)
	path := b.put(t, func(data []byte) {
		for id := uint64(2); id < uint64(len(data)/pageBytes); id++ {
			if !m.reached[id] { // no older page helps
				clear(data[id*pageBytes : (id+1)*pageBytes])
			}
		}
		for at := bytes.Index(data, []byte(`,"rev":95}`)); at >= 0; at = bytes.Index(data, []byte(`,"rev":95}`)) {
			data[at] ^= 1 // the line that put job/15 last
		}
		clear(data[leaf*pageBytes : (leaf+1)*pageBytes])
	})
	_, err = Open(path, Options{FreeBytesLeast: -1})
	require.ErrorIs(t, err, ErrDamaged, "nobody knows what job/15 is now")

	to := filepath.Join(filepath.Dir(path), "salvaged.db")
	said, err := Salvage(path, to, Options{})
	require.NoError(t, err)
	require.False(t, said.State)
	require.EqualValues(t, 101, said.Rev)
	require.Equal(t, []uint64{95}, said.Lost)
	require.Contains(t, said.Doubtful, "job/15")
	require.NotContains(t, said.Doubtful, "job/00", "revision 100 put it")
	require.Contains(t, said.Rebuilt, "job/00")
	require.False(t, said.Secrets || said.Sessions || said.IDs)

	r, err := Check(to)
	require.NoError(t, err)
	require.NoError(t, r.Err(), "what is lost is known to be")
	s := opened(t, to, Options{FreeBytesLeast: -1})
	require.True(t, s.Copied(), "every pack is unread on it")
	require.Equal(t, []uint64{95}, s.Opening().Lost)
	_, err = Salvage(path, to, Options{})
	require.ErrorContains(t, err, "is there already")
}

func TestAWholeBoardSalvagedIsTheBoard(t *testing.T) {
	b := aClosedBoard(t)
	path := b.put(t, func([]byte) {})
	to := filepath.Join(filepath.Dir(path), "salvaged.db")
	said, err := Salvage(path, to, Options{})
	require.NoError(t, err)
	require.Equal(t, Salvaged{Rev: 101, Nouns: 20, Lines: 101, State: true}, said)
	require.Equal(t, b.served, serves(t, opened(t, to, Options{FreeBytesLeast: -1})))
}

func TestAnOlderCopyPutInPlaceByHandIsKnownForOne(t *testing.T) {
	path := filepath.Join(t.TempDir(), "board.db")
	s := opened(t, path, Options{})
	commit(t, s, entries(1, 5)...)
	require.NoError(t, s.Close())
	older, err := os.ReadFile(path)
	require.NoError(t, err)
	s = opened(t, path, Options{})
	require.Zero(t, s.Opening().Behind)
	commit(t, s, entries(6, 3)...)
	require.NoError(t, s.Close())
	require.NoError(t, os.WriteFile(path, older, 0o600))
	require.EqualValues(t, 3, opened(t, path, Options{}).Opening().Behind)
}

// TestNoOlderBoardIsServedForOneWhoseLastChangeIsGone has the newest head reach the disk and
// nothing that it leads to. The older head leads to a whole board without the last change.
func TestNoOlderBoardIsServedForOneWhoseLastChangeIsGone(t *testing.T) {
	b := aClosedBoard(t)
	b.mark = []byte("open 1")
	_, _, err := b.opensAs(t, b.put(t, func(data []byte) {
		clear(data[2*pageBytes:])
		copy(data[2*pageBytes:], b.earlier[2*pageBytes:])
	}))
	require.ErrorIs(t, err, ErrDamaged)
	_, same, err := b.opensAs(t, b.put(t, func([]byte) {}))
	require.NoError(t, err)
	require.True(t, same)
}
