package copies

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"mendline/server/store"
)

// PhotoList is what the list of photos is sealed for.
const PhotoList = "photos"

// PhotosIn is where a folder of copies holds the photos of all of them.
func PhotosIn(folder string) string { return filepath.Join(folder, "photos") }

// Photos lists the board's photos by file name, small ones too.
func (k *Keeper) Photos() ([]string, error) { return photosIn(k.o.Photos) }

// Photo opens one of them.
func (k *Keeper) Photo(name string) (*os.File, error) {
	if !isPhoto(name) {
		return nil, fs.ErrNotExist
	}
	return os.OpenInRoot(k.o.Photos, name)
}

func isPhoto(name string) bool { return strings.HasSuffix(name, ".jpg") && filepath.Base(name) == name }

func photosIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var names []string
	for _, e := range entries {
		if isPhoto(e.Name()) {
			names = append(names, e.Name())
		}
	}
	return names, err
}

// MissingPhotos are those of names that the folder does not have. It makes the folder
// where there are any. Photos never change.
func MissingPhotos(names []string, folder string) ([]string, error) {
	var missing []string
	for _, name := range names {
		if !isPhoto(name) {
			continue
		}
		if _, err := os.Stat(filepath.Join(folder, name)); errors.Is(err, fs.ErrNotExist) {
			missing = append(missing, name)
		}
	}
	if len(missing) == 0 {
		return nil, nil
	}
	if err := os.Mkdir(folder, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, err
	}
	return missing, nil
}

// takePhotos copies the photos that the folder of copies does not have yet.
func takePhotos(from, folder string) error {
	names, err := photosIn(from)
	if err != nil {
		return err
	}
	to := PhotosIn(folder)
	missing, err := MissingPhotos(names, to)
	if err != nil {
		return err
	}
	for _, name := range missing {
		err := store.CopyFile(filepath.Join(from, name), filepath.Join(to, name))
		if err != nil && !errors.Is(err, fs.ErrNotExist) { // one that has gone since
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}
