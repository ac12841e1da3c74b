package store

import (
	"errors"
	"fmt"
	"os"
	"runtime"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

const (
	lockWait         = 2 * time.Second
	initialMapBytes  = 256 << 20
	defaultBytesMost = 1<<31 - 1
	defaultFreeLeast = 64 << 20
	pageBytes        = 4096
)

// Options of a store. The zero value is right for a board.
type Options struct {
	// Program is the version written into the file, for the people who find
	// it later.
	Program string

	// Created is written into a new file; zero means now.
	Created time.Time

	// BytesMost is the size the file may reach; 0 means 2 GiB less a byte.
	BytesMost int

	// FreeBytesLeast is the free space below which writes are refused with
	// ErrLowDisk; 0 means 64 MiB, less than 0 switches the guard off. Systems
	// other than Linux, macOS and FreeBSD have no guard.
	FreeBytesLeast int64

	// Existing has Open create nothing: where there is no file, that is an error.
	Existing bool

	noSync bool // for drafts, and for a test that shows that its crash images see a missing flush
}

func (o Options) withDefaults() Options {
	if o.Created.IsZero() {
		o.Created = time.Now()
	}
	if o.BytesMost == 0 {
		o.BytesMost = defaultBytesMost
	}
	if o.FreeBytesLeast == 0 {
		o.FreeBytesLeast = defaultFreeLeast
	}
	return o
}

// Store is an open board file. Its methods may be called from any goroutine;
// entries are committed in the order of their revisions, so by one owner.
type Store struct {
	path      string
	spot      spot
	freeLeast int64
	lock      *lockFile
	report    Report
	opening   Opening
	copied    bool

	copying sync.Mutex // one copy at a time: copies share their temporary name

	mu   sync.Mutex // held through a write, and while a reader begins
	db   *bolt.DB
	file *os.File // of db
	down error    // ErrBroken or ErrClosed with its cause
	rev  uint64
	ids  ids
}

// Open opens the board at path, and creates it where there is none: under
// another name first, so that a power cut leaves a whole file or none. It
// examines the file, after an unclean stop on a fresh copy that takes its
// place. A damaged one is kept beside and rebuilt where each noun can be known as it
// was; Opening says so. A file of an older format is kept beside as path.formatN, and a copy in
// today's format takes its place.
//
// Errors: *HeldError after two seconds, ErrNewer, ErrDamaged, those of the
// file system.
func Open(path string, o Options) (*Store, error) {
	return open(path, o.withDefaults(), migrations)
}

func open(path string, o Options, list []migration) (*Store, error) {
	lock, err := takeLock(path, lockWait)
	if err != nil {
		return nil, fmt.Errorf("open board: %w", err)
	}
	s := &Store{path: path, freeLeast: o.FreeBytesLeast, lock: lock, ids: ids{max: IDsMost}}
	if err := s.start(o, list); err != nil {
		lock.release()
		return nil, fmt.Errorf("open board: %w", err)
	}
	return s, nil
}

func (s *Store) start(o Options, list []migration) error {
	if err := s.makeSound(o, list); err != nil {
		return err
	}
	if have := s.report.Format; have < len(list) {
		var err error
		if s.report, err = upgrade(s.path, have, o, list); err != nil {
			return err
		}
	}
	if err := s.lock.markOpen(); err != nil {
		return err
	}
	var err error
	if s.db, s.file, err = openBolt(s.path, o); err != nil {
		return err
	}
	if s.spot, err = spotOf(s.path, s.file); err == nil {
		err = guard(func() error { return s.db.View(s.readState) })
	}
	if err != nil {
		return errors.Join(err, s.db.Close())
	}
	if !s.copied && s.lock.closedAt > s.rev {
		s.opening.Behind = s.lock.closedAt - s.rev
	}
	s.opening.Lost = s.report.Lost
	return nil
}

func (s *Store) readState(tx *bolt.Tx) error {
	s.rev = number(tx.Bucket(bucketMeta).Get(metaRev))
	s.copied = tx.Bucket(bucketMeta).Get(metaCopy) != nil
	return s.ids.read(tx)
}

// Report is what the examination at Open found. Damage is empty; Faults may
// not be, and the operator should hear of them.
func (s *Store) Report() Report { return s.report }

// Healthy returns nil when the next write would be tried; else why not.
func (s *Store) Healthy() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.ready()
}

// Path is where the board's file was when it was opened, in full.
func (s *Store) Path() string { return s.spot.path }

// InPlace returns ErrMoved, with why, when the open file is not at its path. It asks
// nothing of a store that was closed.
func (s *Store) InPlace() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if errors.Is(s.down, ErrClosed) {
		return nil
	}
	return s.spot.check()
}

// Watched reports whether the file system tells files apart, so that InPlace can.
func (s *Store) Watched() bool { return s.spot.file != nil }

// Close gives the file back. A store that is whole and in its place leaves the mark
// of a clean stop; any other does not, so that the next Open takes a copy. It waits
// for readers.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if errors.Is(s.down, ErrClosed) {
		return nil
	}
	defer s.lock.release()
	clean := s.down == nil
	moved := s.spot.check()
	err := errors.Join(s.closeBolt(), moved)
	s.down = ErrClosed
	if err == nil && clean {
		err = s.lock.markClosed(s.rev)
	}
	if err != nil {
		return fmt.Errorf("close %s: %w", s.path, err)
	}
	return nil
}

// closeBolt closes the handle. One that panicked may hold its own locks for
// ever: there only the file is closed, which frees its lock.
func (s *Store) closeBolt() error {
	var p *panicError
	if errors.As(s.down, &p) {
		return s.file.Close()
	}
	return s.db.Close()
}

func (s *Store) ready() error {
	if s.down != nil {
		return s.down
	}
	if err := s.spot.check(); err != nil {
		return err
	}
	if s.freeLeast < 0 {
		return nil
	}
	if free, least, known := s.Free(); known && free < least {
		return fmt.Errorf("%d MiB free where %d are needed: %w", free>>20, least>>20, ErrLowDisk)
	}
	return nil
}

// Free is the room on the board's disk, in bytes, and the least with which writes are
// taken; known where the system can tell.
func (s *Store) Free() (free, least int64, known bool) {
	free, known = freeBytes(s.path)
	return free, s.freeLeast, known
}

// update runs f in the one transaction that writes; s.mu is held.
func (s *Store) update(f func(*writer) error) error {
	err := guard(func() error {
		return s.db.Update(func(tx *bolt.Tx) error { return writing(tx, f) })
	})
	if err != nil {
		s.down = fmt.Errorf("%w: %w", ErrBroken, err)
		return s.down
	}
	return nil
}

// view runs f in a transaction that reads. It begins between writes, never after one
// that failed; after one that went to a file that was moved away it does.
func (s *Store) view(f func(*bolt.Tx) error) error {
	s.mu.Lock()
	if s.down != nil && !errors.Is(s.down, ErrMoved) {
		s.mu.Unlock()
		return s.down
	}
	tx, err := s.db.Begin(false)
	s.mu.Unlock()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	return guard(func() error { return f(tx) })
}

// openBolt opens the file at path for writing.
func openBolt(path string, o Options) (*bolt.DB, *os.File, error) {
	var file *os.File
	bo := &bolt.Options{
		Timeout:         lockWait,
		FreelistType:    bolt.FreelistMapType,
		InitialMmapSize: initialMapBytes,
		PageSize:        pageBytes,
		MaxSize:         o.BytesMost,
		NoSync:          o.noSync,
		OpenFile: func(name string, flag int, perm os.FileMode) (*os.File, error) {
			var err error
			file, err = os.OpenFile(name, flag, perm)
			return file, err
		},
	}
	if runtime.GOOS == "windows" {
		bo.InitialMmapSize = 0 // else the file itself grows to it
	}
	db, err := boltOpen(path, bo)
	return db, file, err
}

// openReadOnly opens the file at path beside other readers, once it is known
// that bbolt may walk its pages.
func openReadOnly(path string) (*bolt.DB, error) {
	if err := wholeFile(path, 2*pageBytes); err != nil {
		return nil, err
	}
	db, err := boltOpen(path, &bolt.Options{Timeout: lockWait, ReadOnly: true})
	if err != nil {
		return nil, err
	}
	err = db.View(func(tx *bolt.Tx) error { return checkTree(tx, path, db.Info().PageSize) })
	if err = errors.Join(err, db.Close()); err != nil {
		return nil, err
	}
	return boltOpen(path, &bolt.Options{Timeout: lockWait, ReadOnly: true, PreLoadFreelist: true})
}

func wholeFile(path string, wantBytes int64) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if info.Size() < wantBytes {
		return fmt.Errorf("%s: %d of %d bytes there: %w", path, info.Size(), wantBytes, ErrDamaged)
	}
	return nil
}

func boltOpen(path string, bo *bolt.Options) (db *bolt.DB, err error) {
	err = guard(func() error {
		var err error
		db, err = bolt.Open(path, 0o600, bo)
		return err
	})
	var p *panicError
	switch {
	case err == nil:
		return db, nil
	case errors.Is(err, bolterrors.ErrTimeout):
		return nil, &HeldError{Path: path, PID: holder(path)}
	case errors.As(err, &p), errors.Is(err, bolterrors.ErrInvalid), errors.Is(err, bolterrors.ErrChecksum),
		errors.Is(err, bolterrors.ErrVersionMismatch):
		return nil, fmt.Errorf("%s: %w: %w", path, ErrDamaged, err)
	}
	return nil, err
}
