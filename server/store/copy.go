package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

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
		err = markCopy(temp)
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

// markCopy marks the file at temp as a backup: whoever serves it goes back in time.
func markCopy(temp string) error {
	db, _, err := openBolt(temp, Options{}.withDefaults())
	if err == nil {
		err = guard(func() error {
			return db.Update(func(tx *bolt.Tx) error { return tx.Bucket(bucketMeta).Put(metaCopy, []byte{1}) })
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

// GoOn takes that mark away: the board goes on from this file.
func (s *Store) GoOn() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.copied {
		return nil
	}
	if err := s.ready(); err != nil {
		return fmt.Errorf("go on from a backup: %w", err)
	}
	if err := s.update(func(tx *bolt.Tx) error { return tx.Bucket(bucketMeta).Delete(metaCopy) }); err != nil {
		return fmt.Errorf("go on from a backup: %w", err)
	}
	s.copied = false
	return nil
}

// Restore puts a copy of the file from in the place of the board at to, which
// no process may hold. What stood there is kept as to.replaced.
func Restore(from, to string) (Report, error) {
	r, err := restore(from, to)
	if err != nil {
		return r, fmt.Errorf("restore %s: %w", from, err)
	}
	return r, nil
}

func restore(from, to string) (Report, error) {
	if same(from, to) {
		return Report{}, errors.New("that is the board itself: name a backup")
	}
	lock, err := takeLock(to, lockWait)
	if err != nil {
		return Report{}, err
	}
	defer lock.release()
	temp := to + ".new"
	r, err := stage(from, temp, len(migrations))
	if err != nil {
		return r, err
	}
	if err := keepReplaced(to); err != nil {
		return r, err
	}
	if err := place(temp, to); err != nil {
		return r, err
	}
	return r, lock.markClosed()
}

// keepReplaced copies the file at path, whatever its state, out of the way. It
// stays in its place until the new one is renamed over it.
func keepReplaced(path string) error {
	old, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	defer old.Close()
	kept := path + ".replaced"
	err = writeFile(kept+".new", func(f *os.File) error { _, err := f.ReadFrom(old); return err })
	if err != nil {
		return err
	}
	return place(kept+".new", kept)
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
	if err := removeOld(temp); err != nil {
		return err
	}
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	err = write(f)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, os.Remove(temp))
	}
	return nil
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
