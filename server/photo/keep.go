package photo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// tempSuffix ends the name of every file that is not yet a photo.
const tempSuffix = ".tmp"

// keep puts both pictures on disk. Where it fails, no picture of that id stays
// under its final name. The full picture comes last: where it is, the
// thumbnail is.
func (s *Store) keep(id string, picture clean) error {
	err := s.stage(id, picture)
	if err == nil {
		err = s.publish(id)
	}
	if err != nil {
		s.forget(id)
	}
	return err
}

// stage writes both pictures under temporary names and flushes them.
func (s *Store) stage(id string, picture clean) error {
	if err := s.writeFlushed(fileName(id, Thumb)+tempSuffix, picture.thumb); err != nil {
		return err
	}
	return s.writeFlushed(fileName(id, Full)+tempSuffix, picture.full)
}

// publish gives staged pictures their final names and flushes the folder.
func (s *Store) publish(id string) error {
	for _, size := range []Size{Thumb, Full} {
		name := fileName(id, size)
		if err := s.root.Rename(name+tempSuffix, name); err != nil {
			return fmt.Errorf("rename picture: %w", err)
		}
	}
	return s.syncFolder()
}

// forget removes what keep began. What cannot be removed under a temporary
// name goes with the next sweep.
func (s *Store) forget(id string) {
	for _, size := range []Size{Full, Thumb} {
		name := fileName(id, size)
		_ = s.root.Remove(name)
		_ = s.root.Remove(name + tempSuffix)
	}
}

func (s *Store) writeFlushed(name string, content []byte) error {
	file, err := s.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return fmt.Errorf("make picture file: %w", err)
	}
	_, err = file.Write(content)
	if err == nil {
		err = file.Sync()
	}
	if err := errors.Join(err, file.Close()); err != nil {
		return fmt.Errorf("write picture: %w", err)
	}
	return nil
}

func (s *Store) syncFolder() error {
	folder, err := s.root.Open(".")
	if err != nil {
		return fmt.Errorf("open photo folder to flush it: %w", err)
	}
	if err := errors.Join(folder.Sync(), folder.Close()); err != nil {
		return fmt.Errorf("flush photo folder: %w", err)
	}
	return nil
}

// discard closes and removes an upload; a failure leaves it for the next sweep.
func (s *Store) discard(upload *os.File) {
	_ = upload.Close()
	_ = s.root.Remove(filepath.Base(upload.Name()))
}

// sweep removes what a crash left under temporary names.
func (s *Store) sweep() error {
	entries, err := fs.ReadDir(s.root.FS(), ".")
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if entry.IsDir() || !strings.HasSuffix(entry.Name(), tempSuffix) {
			continue
		}
		if err := s.root.Remove(entry.Name()); err != nil {
			return err
		}
	}
	return nil
}
