package main

import (
	"context"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"mendline/server/store"
)

// backup copies the board and its photos, also while it runs.
func backup(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("backup", flag.ContinueOnError)
	data := dataFlag(f)
	args, err := parse(f, args, "FILE")
	if err != nil {
		return err
	}
	d := dataDir(*data)
	if err := d.mustHoldBoard(); err != nil {
		return err
	}
	if _, err := os.Stat(args[0]); err == nil {
		return fmt.Errorf("%s is there already: a backup replaces nothing, choose another name", args[0])
	}
	if err := d.backupTo(ctx, args[0]); err != nil {
		return err
	}
	photos, err := copyPhotos(d.photos(), args[0]+"-photos")
	if err != nil {
		return err
	}
	report, err := store.Check(args[0])
	if err != nil {
		return fmt.Errorf("examine the backup: %w", err)
	}
	if err := report.Err(); err != nil {
		return fmt.Errorf("examine the backup: %w", err)
	}
	fmt.Fprintf(t.out, "%s holds the board at revision %d, and %s beside it\n", args[0], report.Rev, inWords(photos))
	return nil
}

// copyPhotos copies every photo, with the small picture that goes with it, and counts them.
func copyPhotos(from, to string) (int, error) {
	if _, err := os.Stat(from); err != nil {
		return 0, nil // a board without photos has no folder for them
	}
	n := 0
	err := filepath.WalkDir(from, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || filepath.Ext(path) != ".jpg" {
			return err
		}
		if !strings.HasSuffix(entry.Name(), ".thumb.jpg") {
			n++
		}
		return copyFile(path, filepath.Join(to, entry.Name()))
	})
	if err != nil {
		return n, fmt.Errorf("copy the photos: %w", err)
	}
	return n, nil
}

func inWords(photos int) string {
	if photos == 1 {
		return "1 photo"
	}
	return fmt.Sprintf("%d photos", photos)
}

// copyFile copies a file so that a kill leaves at to what was there or all of from.
func copyFile(from, to string) error {
	if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
		return err
	}
	return store.CopyFile(from, to)
}

// check examines a board's file where it lies; a running board examines itself.
func check(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("check", flag.ContinueOnError)
	data := dataFlag(f)
	args, err := parse(f, args, "[FILE]")
	if err != nil {
		return err
	}
	if len(args) == 1 {
		return examine(t, args[0])
	}
	d := dataDir(*data)
	if err := d.mustHoldBoard(); err != nil {
		return err
	}
	running, ok := d.running()
	if !ok {
		return examine(t, d.board())
	}
	report, err := running.check(ctx)
	if err != nil {
		return err
	}
	return say(t, d.board(), report)
}

func examine(t terminal, path string) error {
	report, err := store.Check(path)
	if err != nil {
		return fmt.Errorf("examine %s: %w", path, whoHolds(err))
	}
	return say(t, path, report)
}

func say(t terminal, name string, report store.Report) error {
	if err := report.Err(); err != nil {
		return fmt.Errorf("%s is damaged: %w", name, err)
	}
	fmt.Fprintf(t.out, "%s is sound: revision %d, %d nouns, %d journal lines, %d bytes\n", name, report.Rev, report.Nouns, report.Lines, report.Bytes)
	return nil
}
