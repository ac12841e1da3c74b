package photo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"
)

// KeptBefore gives the photos that were kept before a moment, and when each was.
func (s *Store) KeptBefore(moment time.Time) (map[string]time.Time, error) {
	entries, err := fs.ReadDir(s.root.FS(), ".")
	if err != nil {
		return nil, fmt.Errorf("list photos: %w", err)
	}
	kept := map[string]time.Time{}
	for _, entry := range entries {
		id, isFull := strings.CutSuffix(entry.Name(), ".jpg")
		if !isFull || !validID(id) {
			continue
		}
		info, err := entry.Info()
		switch {
		case errors.Is(err, fs.ErrNotExist): // removed meanwhile
		case err != nil:
			return nil, fmt.Errorf("list photos: %w", err)
		case info.ModTime().Before(moment):
			kept[id] = info.ModTime()
		}
	}
	return kept, nil
}

// Remove removes a photo; one that is not there is no error.
func (s *Store) Remove(id string) error {
	if !validID(id) {
		return refuseBadID()
	}
	for _, size := range []Size{Full, Thumb} {
		if err := s.root.Remove(fileName(id, size)); err != nil && !errors.Is(err, os.ErrNotExist) {
			return fmt.Errorf("remove photo: %w", err)
		}
	}
	return nil
}
