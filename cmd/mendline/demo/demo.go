// Package demo holds an invented team and the script of its event day: the files
// of its team folder, and the commands that bring a board to the middle of that
// day, given through the same door as anyone's.
//
// Every name in it is invented.
package demo

import (
	"embed"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"mendline/board/team"
)

//go:embed team/*.csv
var embedded embed.FS

// Files is the team folder.
func Files() fs.FS {
	files, err := fs.Sub(embedded, "team")
	if err != nil {
		panic("demo: " + err.Error())
	}
	return files
}

// WriteTo writes the team folder, and what its columns mean, into dir, which it makes where
// it is missing. It writes over no file: one that is there already is an error.
func WriteTo(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("write demo team: %w", err)
	}
	names, err := fs.Glob(Files(), "*.csv")
	if err != nil {
		return fmt.Errorf("write demo team: %w", err)
	}
	for _, name := range append(names, team.ReadMe) {
		if _, err := os.Lstat(filepath.Join(dir, name)); err == nil {
			return fmt.Errorf("write demo team: %s is there already: name an empty folder", filepath.Join(dir, name))
		}
	}
	for _, name := range names {
		data, err := fs.ReadFile(Files(), name)
		if err == nil {
			err = writeNew(filepath.Join(dir, name), data)
		}
		if err != nil {
			return fmt.Errorf("write demo team: %w", err)
		}
	}
	if err := writeNew(filepath.Join(dir, team.ReadMe), team.ReadMeText()); err != nil {
		return fmt.Errorf("write demo team: %w", err)
	}
	return nil
}

func writeNew(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
