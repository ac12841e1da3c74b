package photo

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
)

// A crash here is a child process that dies by SIGKILL. That shows what the
// order of writes and renames leaves behind; the flushes, which matter when
// the power goes, it cannot show.

const (
	crashDirVariable  = "PHOTO_TEST_CRASH_DIR"
	crashWhenVariable = "PHOTO_TEST_CRASH_WHEN"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(crashDirVariable); dir != "" {
		if err := crashIn(dir, os.Getenv(crashWhenVariable), os.Stdin); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(2)
		}
	}
	os.Exit(m.Run())
}

// crashIn is the child: it dies at the named moment, or adds photos without
// end and prints the id of each one kept.
func crashIn(dir, when string, upload io.Reader) error {
	s, err := OpenStore(dir)
	if err != nil {
		return err
	}
	file, err := io.ReadAll(upload)
	if err != nil {
		return err
	}
	if when != "at any moment" {
		return crashWhileKeeping(s, when, file)
	}
	for {
		id := uuid.NewString()
		if _, err := s.Add(context.Background(), id, bytes.NewReader(file)); err != nil {
			return err
		}
		fmt.Println(id)
	}
}

func crashWhileKeeping(s *Store, when string, file []byte) error {
	picture, err := cleanse(file)
	if err != nil {
		return err
	}
	if when == "thumbnail half written" {
		picture.thumb = picture.thumb[:len(picture.thumb)/2]
		if err := s.writeFlushed(fileName(someID, Thumb)+tempSuffix, picture.thumb); err != nil {
			return err
		}
		return syscall.Kill(os.Getpid(), syscall.SIGKILL)
	}
	if err := s.stage(someID, picture); err != nil {
		return err
	}
	if when == "one of two renamed" {
		if err := s.root.Rename(fileName(someID, Thumb)+tempSuffix, fileName(someID, Thumb)); err != nil {
			return err
		}
	}
	return syscall.Kill(os.Getpid(), syscall.SIGKILL)
}

func crashingChild(t *testing.T, dir, when string, upload []byte) *exec.Cmd {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), crashDirVariable+"="+dir, crashWhenVariable+"="+when)
	child.Stdin = bytes.NewReader(upload)
	child.Stderr = os.Stderr
	return child
}

func requireKilled(t *testing.T, err error) {
	t.Helper()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	require.Equal(t, syscall.SIGKILL, exit.Sys().(syscall.WaitStatus).Signal())
}

func TestACrashBeforeTheRenameLeavesNoPhotoAndTheNextTryWorks(t *testing.T) {
	good := jpegOf(t, fourColours(64, 48))
	full, thumb := someID+".jpg", someID+".thumb.jpg"
	for _, c := range []struct {
		when string
		left []string
	}{
		{"thumbnail half written", []string{thumb + tempSuffix}},
		{"both written, none renamed", []string{full + tempSuffix, thumb + tempSuffix}},
		{"one of two renamed", []string{full + tempSuffix, thumb}},
	} {
		t.Run(c.when, func(t *testing.T) {
			dir := t.TempDir()
			requireKilled(t, crashingChild(t, dir, c.when, good).Run())
			require.Equal(t, c.left, namesIn(t, dir), "what the crash left")

			s, err := OpenStore(dir)
			require.NoError(t, err)
			defer s.Close()
			_, err = s.Open(someID, Full)
			require.ErrorIs(t, err, os.ErrNotExist)
			for _, name := range namesIn(t, dir) {
				require.NotContains(t, name, tempSuffix, "swept")
			}

			_, err = s.Add(t.Context(), someID, bytes.NewReader(good))
			require.NoError(t, err)
			s.read(t, someID, Full).requireFourColours(t)
			s.read(t, someID, Thumb).requireFourColours(t)
		})
	}
}

func TestAKillAtAnyMomentLosesNoPhotoThatWasKept(t *testing.T) {
	good := jpegOf(t, fourColours(64, 48))
	dir := t.TempDir()
	kept := map[string]bool{}
	for round := range 12 {
		child := crashingChild(t, dir, "at any moment", good)
		out, err := child.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, child.Start())
		lines := bufio.NewScanner(out)
		for n := 0; lines.Scan(); n++ {
			kept[lines.Text()] = true
			if n == round { // the child is in the middle of some later photo
				require.NoError(t, child.Process.Kill())
			}
		}
		requireKilled(t, child.Wait())
	}
	require.GreaterOrEqual(t, len(kept), 12*13/2)

	s, err := OpenStore(dir)
	require.NoError(t, err)
	defer s.Close()
	for id := range kept {
		s.read(t, id, Full).requireFourColours(t)
		s.read(t, id, Thumb).requireFourColours(t)
	}
	for _, name := range namesIn(t, dir) { // kept or not: no half file under a final name
		id, isThumb := strings.CutSuffix(strings.TrimSuffix(name, ".jpg"), ".thumb")
		size := Full
		if isThumb {
			size = Thumb
		}
		require.Equal(t, name, fileName(id, size))
		s.read(t, id, size).requireFourColours(t)
	}
}

// A directory in the way stands for a disk that refuses.
func TestAFolderThatCannotBeWrittenKeepsNothingAndSaysSo(t *testing.T) {
	good := jpegOf(t, fourColours(64, 48))
	for _, inTheWay := range []string{
		someID + ".thumb.jpg" + tempSuffix, someID + ".jpg" + tempSuffix, someID + ".jpg",
	} {
		t.Run(inTheWay, func(t *testing.T) {
			s, dir := openStore(t)
			obstacle := filepath.Join(dir, inTheWay, "x")
			require.NoError(t, os.MkdirAll(obstacle, 0o700))
			_, err := s.Add(t.Context(), someID, bytes.NewReader(good))
			require.Error(t, err)
			var refused *Refused
			require.NotErrorAs(t, err, &refused, "the sender cannot help it")
			require.Equal(t, []string{inTheWay}, namesIn(t, dir))

			require.NoError(t, os.RemoveAll(filepath.Join(dir, inTheWay)))
			_, err = s.Add(t.Context(), someID, bytes.NewReader(good))
			require.NoError(t, err)
		})
	}
}

func TestTheSweepTakesOnlyTemporaryFiles(t *testing.T) {
	s, dir := openStore(t)
	_, err := s.Add(t.Context(), someID, bytes.NewReader(jpegOf(t, fourColours(64, 48))))
	require.NoError(t, err)
	for _, name := range []string{"upload-ABC" + tempSuffix, otherID + ".jpg" + tempSuffix, "notes.txt"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o600))
	}
	again, err := OpenStore(dir)
	require.NoError(t, err)
	require.NoError(t, again.Close())
	require.Equal(t, []string{someID + ".jpg", someID + ".thumb.jpg", "notes.txt"}, namesIn(t, dir))
}

func TestPhotosAreTheirOwnersAlone(t *testing.T) {
	s, dir := openStore(t)
	_, err := s.Add(t.Context(), someID, bytes.NewReader(jpegOf(t, fourColours(64, 48))))
	require.NoError(t, err)
	for _, path := range []string{dir, filepath.Join(dir, someID+".jpg"), filepath.Join(dir, someID+".thumb.jpg")} {
		info, err := os.Stat(path)
		require.NoError(t, err)
		require.Zero(t, info.Mode().Perm()&0o077, path)
	}
}
