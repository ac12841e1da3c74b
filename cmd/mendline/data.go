package main

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/uuid"

	"mendline/board"
	"mendline/board/team"
	"mendline/server/desk"
	"mendline/server/store"
)

// dataDir is the folder that holds one board: its file, its photos, and while it
// runs the note that says how its owner reaches it.
type dataDir string

func (d dataDir) board() string  { return filepath.Join(string(d), "board.db") }
func (d dataDir) photos() string { return filepath.Join(string(d), "photos") }
func (d dataDir) note() string   { return filepath.Join(string(d), "running.json") }

// held is where a restore leaves what the replaced board held back, until the board is
// next served.
func (d dataDir) held() string { return filepath.Join(string(d), "restored.json") }

// full is the folder by its one full name, whichever way it is written or linked to.
func (d dataDir) full() string {
	path, err := filepath.Abs(string(d))
	if err != nil {
		return string(d)
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	return path
}

const defaultData = "mendline-data"

func dataFlag(f *flag.FlagSet) *string { return f.String("data", defaultData, "") }

// make creates the folder for its owner alone.
func (d dataDir) make() error {
	if err := os.MkdirAll(string(d), 0o700); err != nil {
		return fmt.Errorf("make the data folder: %w", err)
	}
	return nil
}

func (d dataDir) mustHoldBoard() error {
	if _, err := os.Stat(d.board()); err != nil {
		return fmt.Errorf("there is no board in %s: say which folder with -data (%w)", d, err)
	}
	return nil
}

// load reads a team folder into an empty board, running or not.
func load(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("load", flag.ContinueOnError)
	data := dataFlag(f)
	args, err := parse(f, args, "TEAMDIR")
	if err != nil {
		return err
	}
	id, cmd, err := readTeam(t.err, args[0])
	if err != nil {
		return err
	}
	d := dataDir(*data)
	if running, ok := d.running(); ok {
		err = running.load(ctx, id, cmd)
	} else {
		err = d.loadIntoFile(ctx, id, cmd)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(t.out, "loaded %s: %d people, %d robots, %d packs, %d kinds of job, %d fights\n",
		args[0], len(cmd.People), len(cmd.Robots), len(cmd.Packs), len(cmd.Templates), len(cmd.Fights))
	return nil
}

// readTeam reads a team folder and says on w what is wrong with it, row by row.
func readTeam(w io.Writer, dir string) (board.CommandID, board.TeamLoad, error) {
	id := board.CommandID(uuid.Must(uuid.NewV7()))
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return id, board.TeamLoad{}, fmt.Errorf("%s is no folder: name one with a team's CSV files (mendline demo -dump DIR writes an example)", dir)
	}
	given, err := team.Open(os.DirFS(dir))
	if err != nil {
		return id, board.TeamLoad{}, fmt.Errorf("read the team: %w", err)
	}
	if skipped := given.Skipped(); len(skipped) > 0 {
		fmt.Fprintf(w, "passed over: %s\n", strings.Join(skipped, ", "))
	}
	cmd, bad := given.Read(id)
	if len(bad) == 0 {
		return id, cmd, nil
	}
	for _, row := range bad {
		fmt.Fprintln(w, row.Error())
	}
	return id, board.TeamLoad{}, fmt.Errorf("put that right in %s first: nothing was loaded", dir)
}

// loadIntoFile loads a team into a board that does not run.
func (d dataDir) loadIntoFile(ctx context.Context, id board.CommandID, cmd board.TeamLoad) error {
	if err := d.make(); err != nil {
		return err
	}
	own, err := desk.New(desk.Options{Path: d.board(), Store: store.Options{Program: version()}, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		return whoHolds(err)
	}
	runCtx, stop := context.WithCancel(context.WithoutCancel(ctx))
	ended := make(chan error, 1)
	go func() { ended <- own.Run(runCtx) }() // ended by stop, waited for below
	err = giveTeam(ctx, own, id, cmd)
	stop()
	return errors.Join(err, <-ended)
}

// giveTeam gives a desk the team as its captain would.
func giveTeam(ctx context.Context, own *desk.Desk, id board.CommandID, cmd board.TeamLoad) error {
	with, err := encodeTeam(cmd)
	if err != nil {
		return err
	}
	a, err := own.Do(ctx, desk.Request{ID: id, Do: board.Name(cmd), With: with, Actor: board.Actor{Role: board.RoleCaptain}})
	switch {
	case err != nil:
		return fmt.Errorf("load the team: %w", err)
	case a.Refusal != nil:
		return fmt.Errorf("load the team: %s", a.Refusal.Sentence)
	}
	return nil
}

// dump writes the board's team as a folder of CSV files.
func dump(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("dump", flag.ContinueOnError)
	data := dataFlag(f)
	over := f.Bool("over", false, "")
	blank := f.Bool("blank", false, "")
	args, err := parse(f, args, "TEAMDIR")
	if err != nil {
		return err
	}
	if *blank {
		files, err := team.Blank()
		if err != nil {
			return fmt.Errorf("write the team: %w", err)
		}
		return writeFiles(t.out, args[0], files, *over)
	}
	var state board.State
	err = dataDir(*data).copied(ctx, func(path string) (err error) {
		state, err = stateOf(path)
		return err
	})
	if err != nil {
		return err
	}
	files, err := team.Write(state)
	if err != nil {
		return fmt.Errorf("write the team: %w", err)
	}
	return writeFiles(t.out, args[0], files, *over)
}

func writeFiles(w io.Writer, dir string, files map[string][]byte, over bool) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("make the team folder: %w", err)
	}
	flags := os.O_WRONLY | os.O_CREATE | os.O_EXCL
	if over {
		flags = os.O_WRONLY | os.O_CREATE | os.O_TRUNC
	}
	for name, content := range files {
		file, err := os.OpenFile(filepath.Join(dir, name), flags, 0o644)
		if errors.Is(err, os.ErrExist) {
			return fmt.Errorf("%s is there already: choose an empty folder, or replace it with -over", filepath.Join(dir, name))
		}
		if err != nil {
			return fmt.Errorf("write the team: %w", err)
		}
		_, err = file.Write(content)
		if err := errors.Join(err, file.Close()); err != nil {
			return fmt.Errorf("write the team: %w", err)
		}
	}
	fmt.Fprintf(w, "wrote %d files to %s\n", len(files), dir)
	return nil
}

// stateOf reads the board in a file that no board holds.
func stateOf(path string) (board.State, error) {
	snap, err := snapshotOf(path)
	if err != nil {
		return board.State{}, err
	}
	return stateIn(snap)
}

func snapshotOf(path string) (store.Snapshot, error) {
	s, err := store.Open(path, store.Options{Program: version()})
	if err != nil {
		return store.Snapshot{}, whoHolds(err)
	}
	snap, err := s.Load(1)
	return snap, errors.Join(err, s.Close())
}

func stateIn(snap store.Snapshot) (board.State, error) {
	var nouns []board.Noun
	for _, kv := range snap.Nouns {
		n, err := board.DecodeNoun(board.Key(kv.Key), kv.Value)
		if err != nil {
			return board.State{}, err
		}
		nouns = append(nouns, n)
	}
	return board.FromNouns(board.Rev(snap.Rev), nouns, nil), nil
}

// copied calls use with a copy of the board in a folder of its own, made while
// the board runs or from its file.
func (d dataDir) copied(ctx context.Context, use func(path string) error) error {
	if err := d.mustHoldBoard(); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "mendline-")
	if err != nil {
		return fmt.Errorf("make a folder for the copy: %w", err)
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "copy.db")
	if err := d.backupTo(ctx, path); err != nil {
		return err
	}
	return use(path)
}

// backupTo copies the board to a file that is not there yet.
func (d dataDir) backupTo(ctx context.Context, path string) error {
	if running, ok := d.running(); ok {
		return running.backup(ctx, path)
	}
	s, err := store.Open(d.board(), store.Options{Program: version()})
	if err != nil {
		return whoHolds(err)
	}
	_, err = s.Backup(path)
	return errors.Join(err, s.Close())
}

// whoHolds says what to do about a board that another process has open.
func whoHolds(err error) error {
	var held *store.HeldError
	if errors.As(err, &held) {
		return fmt.Errorf("process %d has the board open and does not answer here: stop it first (%w)", held.PID, err)
	}
	return err
}

// newToken is a secret of 256 bits.
func newToken() string {
	var b [32]byte
	rand.Read(b[:]) // never fails (crypto/rand)
	return hex.EncodeToString(b[:])
}
