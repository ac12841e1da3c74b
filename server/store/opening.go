package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// Opening is what Open found and did, for those who should know. The zero value is a
// board that was closed as it should be and is whole.
type Opening struct {
	// Unclean: there was no mark of a clean stop, and the file was copied.
	Unclean bool
	// Head: one of the two pages was broken that say where all else is. What was written
	// last may be gone, unless the revision was known (Behind) or found (Rebuilt).
	Head bool
	// Behind is how many revisions the board starts before the one it was closed at.
	Behind uint64
	// Rebuilt is what was brought out of the file where it was damaged, nil where it was
	// not, and Kept where the damaged file is now.
	Rebuilt *Salvaged
	Kept    string
	// Lost are the revisions whose journal lines are gone, now or since an earlier start.
	Lost []uint64
}

// Opening is what Open found and did.
func (s *Store) Opening() Opening { return s.opening }

// makeSound leaves a file at s.path that may be trusted: new, examined after a
// clean stop, or else a copy. Where the file itself does not hold, a copy may,
// since it takes only the pages in use; and where that does not, what is brought out
// of it, if no noun and no secret is in doubt.
func (s *Store) makeSound(o Options, list []migration) error {
	heads, err := headsOf(s.path)
	if errors.Is(err, fs.ErrNotExist) && !o.Existing {
		s.lock.unclean, s.lock.closedAt, heads = false, 0, 2
		err = create(s.path, o, list)
	}
	if err != nil {
		return err
	}
	s.opening.Head = heads < 2
	if !s.lock.unclean && !s.opening.Head {
		s.report, err = inspect(s.path, len(list))
		if err == nil && len(s.report.Damage) == 0 || err != nil && !errors.Is(err, ErrDamaged) {
			return err
		}
	}
	s.opening.Unclean = s.lock.unclean
	if s.opening.Head {
		if done, err := s.rebuild(o, true); done || err != nil {
			return err
		}
	}
	s.report, err = renew(s.path, len(list))
	if !errors.Is(err, ErrDamaged) {
		return err
	}
	if done, err := s.rebuild(o, false); done || err != nil {
		return err
	}
	return fmt.Errorf("%w (restore a backup, or bring out what holds: mendline salvage %s)", err, s.path)
}

// rebuild puts what was brought out of the file in its place, if each noun is known as
// it was and no secret is lost; onlyAhead: and if that is more than a copy would have.
func (s *Store) rebuild(o Options, onlyAhead bool) (done bool, err error) {
	k, err := bringOut(s.path, s.lock.closedAt)
	if err != nil {
		return false, err
	}
	if !k.State || k.Secrets || onlyAhead && !k.ahead {
		return false, nil
	}
	at, err := keepAs(s.path, s.path+o.Created.Format(".damaged-20060102-150405"))
	if err != nil {
		return false, err
	}
	temp := s.path + ".new"
	if err := k.write(temp, o); err != nil {
		return false, err
	}
	if s.report, err = adopt(temp, s.path, len(migrations)); err != nil {
		return false, err
	}
	s.opening.Rebuilt, s.opening.Kept = &k.Salvaged, at
	return true, nil
}

func headsOf(path string) (int, error) {
	f, err := os.Open(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	return len(readHeads(f)), nil
}
