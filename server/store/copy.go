package store

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"

	bolt "go.etcd.io/bbolt"
)

// Backup copies the board to path while it runs: to a temporary file beside
// path, flushed, examined, and only then renamed over an older copy. Keep
// backups on another device.
func (s *Store) Backup(path string) (Report, error) {
	s.copying.Lock()
	defer s.copying.Unlock()
	if same(path, s.path) {
		return Report{}, fmt.Errorf("backup to %s: that is the board itself: name another file", path)
	}
	temp := path + ".new"
	err := s.view(func(tx *bolt.Tx) error { return writeTx(tx, temp) })
	if err == nil {
		err = markCopy(temp, Options{})
	}
	if err != nil {
		return Report{}, fmt.Errorf("backup to %s: %w", path, err)
	}
	r, err := adopt(temp, path, len(migrations))
	if err != nil {
		return r, fmt.Errorf("backup to %s: %w", path, err)
	}
	return r, nil
}

// Draft copies the board to path while it runs, examined but not flushed, so that no
// commit waits for the disk behind it. Whoever wants to keep it has CopyTo put it
// somewhere else.
func (s *Store) Draft(path string) (Report, error) {
	err := s.view(func(tx *bolt.Tx) error {
		return writeNew(path, func(f *os.File) error { _, err := tx.WriteTo(f); return err })
	})
	if err == nil {
		err = markCopy(path, Options{noSync: true})
	}
	if err != nil {
		return Report{}, fmt.Errorf("draft of a copy: %w", err)
	}
	r, err := vet(path, len(migrations))
	if err != nil {
		return r, fmt.Errorf("draft of a copy: %w", err)
	}
	return r, nil
}

// markCopy marks the file at temp as a backup: whoever serves it goes back in time.
// It holds no session, so that none that was ended comes back.
func markCopy(temp string, o Options) error {
	db, _, err := openBolt(temp, o.withDefaults())
	if err == nil {
		err = guard(func() error {
			return db.Update(func(tx *bolt.Tx) error {
				return writing(tx, func(w *writer) error {
					for _, kv := range pairs(tx.Bucket(bucketSess)) {
						if err := w.del(bucketSess, []byte(kv.Key)); err != nil {
							return err
						}
					}
					return w.putMeta(metaCopy, []byte{1})
				})
			})
		})
		err = errors.Join(err, db.Close())
	}
	if err != nil {
		return errors.Join(err, os.Remove(temp))
	}
	return nil
}

// Copied reports whether the file was made as a backup and nobody has gone on from it
// since, however it came to its place.
func (s *Store) Copied() bool { return s.copied }

// GoOn takes that mark away: the board goes on from this file, and is another line of
// it than the one that went on without this file.
func (s *Store) GoOn() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.copied {
		return nil
	}
	if err := s.ready(); err != nil {
		return fmt.Errorf("go on from a backup: %w", err)
	}
	line := make([]byte, 4)
	rand.Read(line) // never fails (crypto/rand)
	err := s.update(func(w *writer) error {
		return errors.Join(w.tx.Bucket(bucketMeta).Delete(metaCopy), w.putMeta(metaLine, hex.AppendEncode(nil, line)))
	})
	if err != nil {
		return fmt.Errorf("go on from a backup: %w", err)
	}
	s.copied = false
	return nil
}

// Restore puts a copy of the file from in the place of the board at to, which
// no process may hold. It is marked as a backup and holds no session. What stood at to
// is kept beside it under a name with its date, as which it returns it: "" where
// nothing stood there.
func Restore(from, to string, now time.Time) (r Report, kept string, err error) {
	if r, kept, err = restore(from, to, now); err != nil {
		return r, kept, fmt.Errorf("restore %s: %w", from, err)
	}
	return r, kept, nil
}

func restore(from, to string, now time.Time) (r Report, kept string, err error) {
	if same(from, to) {
		return r, "", errors.New("that is the board itself: name a backup")
	}
	lock, err := takeLock(to, lockWait)
	if err != nil {
		return r, "", err
	}
	defer lock.release()
	temp := to + ".new"
	if r, err = stage(from, temp, len(migrations)); err != nil {
		return r, "", err
	}
	if err := markCopy(temp, Options{}); err != nil {
		return r, "", err
	}
	if kept, err = keepReplaced(to, now); err != nil {
		return r, "", errors.Join(err, os.Remove(temp))
	}
	if err := place(temp, to); err != nil {
		return r, kept, err
	}
	return r, kept, lock.markClosed(r.Rev)
}

// keepReplaced keeps the file at path, if there is one.
func keepReplaced(path string, now time.Time) (kept string, err error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	return keepAs(path, path+now.Format(".replaced-20060102-150405"))
}

// keepAs gives the file at path, whatever its state, a second name that nothing has;
// where the file system gives a file only one, a copy. It stays in its place until
// a new one is renamed over it.
func keepAs(path, dated string) (kept string, err error) {
	kept = dated
	for n := 2; ; n++ {
		if _, err := os.Lstat(kept); errors.Is(err, fs.ErrNotExist) {
			if os.Link(path, kept) == nil {
				return kept, nil
			}
			return kept, CopyFile(path, kept)
		} else if err != nil {
			return "", err
		}
		kept = fmt.Sprintf("%s-%d", dated, n)
	}
}

// CopyFile copies the file from to the file to, as CopyTo does.
func CopyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	return CopyTo(to, in)
}

// CopyTo writes what in reads to the file at path: under another name first, flushed,
// read again and compared, and only then renamed.
func CopyTo(path string, in io.Reader) error {
	temp := path + ".new"
	sent := sha256.New()
	err := writeFile(temp, func(f *os.File) error {
		_, err := io.Copy(f, io.TeeReader(in, sent))
		return err
	})
	if err != nil {
		return err
	}
	if err := sameBytes(temp, sent); err != nil {
		return errors.Join(err, os.Remove(temp))
	}
	return place(temp, path)
}

// PutCopy puts the backup in the file from where a board is served from, at to, unless
// somebody has gone on from what is there: then the error is ErrGoneOn, or a *HeldError
// while they do.
func PutCopy(from, to string) error {
	if err := putCopy(from, to); err != nil {
		return fmt.Errorf("put the copy at %s: %w", to, err)
	}
	return nil
}

func putCopy(from, to string) error {
	lock, err := takeLock(to, 0)
	if err != nil {
		return err
	}
	defer lock.release()
	if _, err := os.Stat(to); !errors.Is(err, fs.ErrNotExist) {
		if copied, err := isCopy(to); err != nil || !copied {
			return errors.Join(ErrGoneOn, err)
		}
	}
	if err := CopyFile(from, to); err != nil {
		return err
	}
	return lock.markClosed(0)
}

func isCopy(path string) (copied bool, err error) {
	db, err := openReadOnly(path)
	if err != nil {
		return false, err
	}
	err = guard(func() error {
		return db.View(func(tx *bolt.Tx) error {
			if meta := tx.Bucket(bucketMeta); meta != nil {
				copied = meta.Get(metaCopy) != nil
			}
			return nil
		})
	})
	return copied, errors.Join(err, db.Close())
}

// sameBytes reads the file at path, from its device where the system can be told to, and
// compares it with what was sent to it.
func sameBytes(path string, sent hash.Hash) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	forgetCached(f)
	read := sha256.New()
	if _, err := io.Copy(read, f); err != nil {
		return err
	}
	if !bytes.Equal(read.Sum(nil), sent.Sum(nil)) {
		return fmt.Errorf("%s: %w: it does not read as it was written", path, ErrDamaged)
	}
	return nil
}

// renew copies the file at path and puts the copy in its place: what stands
// there afterwards is known to be flushed and whole.
func renew(path string, format int) (Report, error) {
	temp := path + ".new"
	r, err := stage(path, temp, format)
	if err != nil {
		return r, err
	}
	return r, place(temp, path)
}

// stage copies the board in the file from to temp, flushed and examined.
func stage(from, temp string, format int) (Report, error) {
	db, err := openReadOnly(from)
	if err != nil {
		return Report{}, err
	}
	err = guard(func() error {
		return db.View(func(tx *bolt.Tx) error { return writeTx(tx, temp) })
	})
	if err = errors.Join(err, db.Close()); err != nil {
		return Report{}, err
	}
	return vet(temp, format)
}

// adopt examines temp and renames it to path.
func adopt(temp, path string, format int) (Report, error) {
	r, err := vet(temp, format)
	if err != nil {
		return r, err
	}
	return r, place(temp, path)
}

// vet examines temp, and removes it where it can't be used.
func vet(temp string, format int) (Report, error) {
	r, err := inspect(temp, format)
	if err == nil {
		err = r.damaged()
	}
	if err != nil {
		return r, errors.Join(err, os.Remove(temp))
	}
	return r, nil
}

// writeTx writes the board that tx sees to temp.
func writeTx(tx *bolt.Tx, temp string) error {
	return writeFile(temp, func(f *os.File) error { _, err := tx.WriteTo(f); return err })
}

// writeFile makes a new file temp, flushed, readable by its owner alone.
func writeFile(temp string, write func(*os.File) error) error {
	return writeNew(temp, func(f *os.File) error {
		if err := write(f); err != nil {
			return err
		}
		return f.Sync()
	})
}

func writeNew(temp string, write func(*os.File) error) error {
	if err := removeOld(temp); err != nil {
		return err
	}
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	if err := errors.Join(write(f), f.Close()); err != nil {
		return errors.Join(err, os.Remove(temp))
	}
	return nil
}

// WriteFile writes path whole or not at all, flushed, readable by its owner alone.
func WriteFile(path string, content []byte) error {
	temp := path + ".new"
	err := writeFile(temp, func(f *os.File) error { _, err := f.Write(content); return err })
	if err != nil {
		return err
	}
	return place(temp, path)
}

// place renames temp to path and flushes the folder.
func place(temp, path string) error {
	if err := os.Rename(temp, path); err != nil {
		return err
	}
	return syncDir(filepath.Dir(path))
}

func removeOld(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

func syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // it has no flush of a folder
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	if err := errors.Join(d.Sync(), d.Close()); err != nil {
		return fmt.Errorf("flush folder %s: %w", dir, err)
	}
	return nil
}

func same(a, b string) bool {
	ia, errA := os.Stat(a)
	ib, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(ia, ib)
}
