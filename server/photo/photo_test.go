package photo

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"
	"testing/synctest"

	"github.com/stretchr/testify/require"
)

const (
	someID  = "0198c0de-5a17-7b3e-9f00-00000000a001"
	otherID = "0198c0de-5a17-7b3e-9f00-00000000a002"
)

func openStore(t testing.TB) (*Store, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "photos")
	s, err := OpenStore(dir)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	return s, dir
}

func namesIn(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	names := []string{}
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	return names
}

func requireRefused(t testing.TB, err error, code Code) *Refused {
	t.Helper()
	var refused *Refused
	require.ErrorAs(t, err, &refused)
	require.Equal(t, code, refused.Code)
	require.NotEmpty(t, refused.Sentence)
	return refused
}

// Each row differs from its twin in one point: the row is refused, the twin kept.
func TestABadUploadIsRefusedAndItsTwinIsKept(t *testing.T) {
	good := jpegOf(t, fourColours(64, 48))
	padded := func(size int) []byte { return append(bytes.Clone(good), make([]byte, size-len(good))...) }
	heic := append([]byte("\x00\x00\x00\x18ftypheic"), good...)

	for _, c := range []struct {
		name      string
		bad, twin []byte
		code      Code
		says      string
	}{
		{"one byte over 12 MiB", padded(BodyBytesMost + 1), padded(BodyBytesMost), TooBig, "12 MiB"},
		{"100 megapixels, 10,000 a side", blankPNG(t, 10_000, 10_000), blankPNG(t, 10_000, 100), TooManyPixels, "10000 × 10000"},
		{"one row over 25 megapixels", blankPNG(t, 5_000, 5_001), blankPNG(t, 5_000, 5_000), TooManyPixels, "25 megapixels"},
		{"one pixel over 10,000 wide", blankPNG(t, 10_001, 4), blankPNG(t, 10_000, 4), TooManyPixels, "10000 pixels a side"},
		{"one pixel over 10,000 high", blankPNG(t, 4, 10_001), blankPNG(t, 4, 10_000), TooManyPixels, "10000 pixels a side"},
		{"HEIC before the picture", heic, heic[12:], CannotRead, "screenshot"},
		{"HEIC alone", []byte("\x00\x00\x00\x18ftypmif1\x00\x00\x00\x00mif1heic"), good, CannotRead, "screenshot"},
		{"a film", []byte("\x00\x00\x00\x18ftypisom\x00\x00\x00\x00isommp42"), good, NotAPicture, "neither a JPEG nor a PNG"},
		{"a GIF", []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"), good, NotAPicture, "neither a JPEG nor a PNG"},
		{"no bytes at all", nil, good, NotAPicture, "neither a JPEG nor a PNG"},
		{"first marker only", good[:3], good, CannotRead, "damaged"},
		{"cut in half", good[:len(good)/2], good, CannotRead, "cut short"},
		{"a PNG with a wrong checksum", broken(pngOf(t, fourColours(8, 8)), 20), pngOf(t, fourColours(8, 8)), CannotRead, "damaged"},
		{"a PNG 0 wide", blankPNG(t, 0, 1), blankPNG(t, 1, 1), CannotRead, "damaged"},
		{"a JPEG of no lines", withHeight(good, 0), withHeight(good, 48), CannotRead, "damaged"},
		{"one scan too many", withScans(good, scansMost+1), withScans(good, scansMost), CannotRead, "damaged"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, dir := openStore(t)
			_, err := s.Add(t.Context(), someID, bytes.NewReader(c.bad))
			require.Contains(t, requireRefused(t, err, c.code).Sentence, c.says)
			require.Empty(t, namesIn(t, dir), "a refused upload leaves nothing")

			_, err = s.Add(t.Context(), someID, bytes.NewReader(c.twin))
			require.NoError(t, err)
			require.Equal(t, []string{someID + ".jpg", someID + ".thumb.jpg"}, namesIn(t, dir))
		})
	}
}

func broken(file []byte, at int) []byte {
	file = bytes.Clone(file)
	file[at] ^= 0x40
	return file
}

// withHeight writes the number of lines into a baseline JPEG's frame header.
func withHeight(file []byte, lines uint16) []byte {
	file = bytes.Clone(file)
	at := bytes.Index(file, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint16(file[at+5:], lines)
	return file
}

// withScans repeats a baseline JPEG's only scan; a decoder reads all of them.
func withScans(file []byte, scans int) []byte {
	at := bytes.Index(file, []byte{0xff, markerSOS})
	end := len(file) - 2
	return bytes.Join([][]byte{file[:at], bytes.Repeat(file[at:end], scans), file[end:]}, nil)
}

func TestOnlyACanonicalLowerCaseUUIDNamesAPhoto(t *testing.T) {
	good := jpegOf(t, fourColours(64, 48))
	for _, id := range []string{
		"", ".", "..", "/", "../" + someID, someID + "/..", "../../etc/passwd", "/etc/passwd", `..\` + someID,
		someID + ".jpg", someID + "\x00", someID + "/", " " + someID, someID + "\n",
		strings.ToUpper(someID), "{" + someID + "}", "urn:uuid:" + someID, strings.ReplaceAll(someID, "-", ""),
		someID[:35], someID + "0", strings.Replace(someID, "0", "g", 1), strings.Replace(someID, "-", "/", 1), "０" + someID[1:],
	} {
		t.Run(id, func(t *testing.T) {
			s, dir := openStore(t)
			_, err := s.Add(t.Context(), id, bytes.NewReader(good))
			requireRefused(t, err, BadID)
			_, err = s.Open(id, Full)
			requireRefused(t, err, BadID)
			_, err = s.Open(id, Thumb)
			requireRefused(t, err, BadID)
			require.Empty(t, namesIn(t, dir))
			require.Equal(t, []string{"photos"}, namesIn(t, filepath.Dir(dir)), "nothing beside the folder")
		})
	}
	s, _ := openStore(t)
	_, err := s.Add(t.Context(), someID, bytes.NewReader(good))
	require.NoError(t, err)
	s.read(t, someID, Full).requireFourColours(t)
}

func TestALinkOutOfTheFolderIsNotFollowed(t *testing.T) {
	s, dir := openStore(t)
	outside := filepath.Join(t.TempDir(), "secret.jpg")
	require.NoError(t, os.WriteFile(outside, []byte("secret"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "inside.jpg"), []byte("inside"), 0o600))
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, someID+".jpg")))
	require.NoError(t, os.Symlink("inside.jpg", filepath.Join(dir, otherID+".jpg")))

	_, err := s.Open(someID, Full)
	require.Error(t, err)
	file, err := s.Open(otherID, Full)
	require.NoError(t, err, "the twin: a link that stays in the folder")
	require.NoError(t, file.Close())
}

func TestAPhotoNobodyAddedDoesNotExist(t *testing.T) {
	s, _ := openStore(t)
	_, err := s.Add(t.Context(), someID, bytes.NewReader(jpegOf(t, fourColours(16, 12))))
	require.NoError(t, err)
	for _, size := range []Size{Full, Thumb} {
		_, err := s.Open(otherID, size)
		require.ErrorIs(t, err, fs.ErrNotExist)
	}
}

func TestSendingAgainChangesNothing(t *testing.T) {
	s, _ := openStore(t)
	first, err := s.Add(t.Context(), someID, bytes.NewReader(jpegOf(t, fourColours(64, 48))))
	require.NoError(t, err)
	before := s.read(t, someID, Full).raw
	require.Equal(t, Photo{ID: someID, WidthPx: 64, HeightPx: 48, SizeBytes: int64(len(before))}, first)

	again, err := s.Add(t.Context(), someID, bytes.NewReader(jpegOf(t, fourColours(200, 100))))
	require.NoError(t, err)
	require.Equal(t, first, again)
	require.Equal(t, before, s.read(t, someID, Full).raw)
}

func TestAnUploadThatBreaksOffLeavesNothing(t *testing.T) {
	s, dir := openStore(t)
	good := jpegOf(t, fourColours(64, 48))
	lost := errors.New("connection lost")
	for _, got := range []int{0, 5, len(good) / 2} {
		_, err := s.Add(t.Context(), someID, io.MultiReader(bytes.NewReader(good[:got]), iotest.ErrReader(lost)))
		require.ErrorIs(t, err, lost)
		require.Empty(t, namesIn(t, dir))
	}
	_, err := s.Add(t.Context(), someID, iotest.OneByteReader(bytes.NewReader(good)))
	require.NoError(t, err, "the twin: as slow as can be, but whole")
}

func TestUploadsAreDecodedOneAtATime(t *testing.T) {
	dir := t.TempDir()
	good := jpegOf(t, fourColours(64, 48))
	synctest.Test(t, func(t *testing.T) {
		s, err := OpenStore(dir)
		require.NoError(t, err)
		defer s.Close()
		require.NoError(t, s.turns.wait(t.Context(), 1)) // somebody else's upload is being decoded

		added := make(chan error, 1)
		go func() {
			_, err := s.Add(t.Context(), someID, bytes.NewReader(good))
			added <- err
		}()
		synctest.Wait()
		require.Empty(t, added, "waits for its turn")
		require.NoFileExists(t, filepath.Join(dir, someID+".jpg"))

		s.turns.next()
		require.NoError(t, <-added)
		require.FileExists(t, filepath.Join(dir, someID+".jpg"))
		require.False(t, s.turns.taken, "gives the turn back")
	})
}

func TestWhoGivesUpWaitingLeavesNothing(t *testing.T) {
	s, dir := openStore(t)
	good := jpegOf(t, fourColours(64, 48))
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	require.NoError(t, s.turns.wait(t.Context(), 1))
	_, err := s.Add(gone, someID, bytes.NewReader(good))
	require.ErrorIs(t, err, context.Canceled)
	require.Empty(t, namesIn(t, dir))

	s.turns.next()
	_, err = s.Add(t.Context(), someID, bytes.NewReader(good))
	require.NoError(t, err)
}

func TestManyAtOnceAreAllKept(t *testing.T) {
	s, dir := openStore(t)
	good := jpegOf(t, fourColours(64, 48))
	const devices = 8
	errs := make(chan error, 2*devices)
	for i := range devices {
		id := someID[:35] + string("0123456789abcdef"[i])
		for range 2 { // each sends twice, as phones do
			go func() {
				_, err := s.Add(context.Background(), id, bytes.NewReader(good))
				errs <- err
			}()
		}
	}
	for range 2 * devices {
		require.NoError(t, <-errs)
	}
	require.Len(t, namesIn(t, dir), 2*devices)
}

// A 144-megapixel picture would take 144 MB to decode; the twin of 12
// megapixels shows that the measure sees a decode.
func TestARefusedBombTakesNoMemory(t *testing.T) {
	bomb, twin := blankPNG(t, 12_000, 12_000), blankPNG(t, 4_000, 3_000)
	require.Less(t, len(bomb), 200<<10)
	allocated := func(file []byte) (bytesTaken uint64, err error) {
		s, _ := openStore(t)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err = s.Add(t.Context(), someID, bytes.NewReader(file))
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc, err
	}
	taken, err := allocated(bomb)
	requireRefused(t, err, TooManyPixels)
	require.Less(t, taken, uint64(4<<20))

	taken, err = allocated(twin)
	require.NoError(t, err)
	require.Greater(t, taken, uint64(12_000_000))
}
