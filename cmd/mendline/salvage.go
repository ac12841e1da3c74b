package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

// salvage brings out of a damaged board's file what holds.
func salvage(_ context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("salvage", flag.ContinueOnError)
	out := f.String("o", "", "")
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		args = append(args[1:len(args):len(args)], args[0]) // the file may come first
	}
	args, err := parse(f, args, "FILE")
	if err != nil {
		return err
	}
	to := *out
	if to == "" {
		to = args[0] + ".salvaged"
	}
	said, err := store.Salvage(args[0], to, store.Options{Program: version()})
	if err != nil {
		return whoHolds(err)
	}
	fmt.Fprintf(t.out, "%s holds the board at revision %d, with %d nouns and %d journal lines.\n", to, said.Rev, said.Nouns, said.Lines)
	state, err := stateOfCopy(to)
	if err != nil {
		return fmt.Errorf("look at what was brought out: %w", err)
	}
	list := desk.Salvaged(said, state)
	for _, sentence := range list {
		fmt.Fprintln(t.out, "  "+sentence)
	}
	if len(list) == 0 {
		fmt.Fprintln(t.out, "  Nothing was missing.")
	}
	fmt.Fprintf(t.out, "Put it in the place of the board: mendline restore -data DIR %s\n", to)
	return nil
}

// stateOfCopy reads the board in a file and leaves nothing beside it.
func stateOfCopy(path string) (board.State, error) {
	dir, err := os.MkdirTemp("", "mendline-")
	if err != nil {
		return board.State{}, fmt.Errorf("make a folder for the copy: %w", err)
	}
	defer os.RemoveAll(dir)
	copied := filepath.Join(dir, "copy.db")
	if err := store.CopyFile(path, copied); err != nil {
		return board.State{}, err
	}
	return stateOf(copied)
}
