package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"mendline/board/debrief"
	"mendline/board/debrief/print"
	"mendline/server/store"
)

// runDebrief writes the account of the board, or of each file named.
func runDebrief(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("debrief", flag.ContinueOnError)
	data := dataFlag(f)
	asPage, asRows := f.Bool("html", false, ""), f.Bool("csv", false, "")
	moves, fights := f.Float64("moves", 1, ""), f.Int("fights", 5, "")
	kg, money := f.Float64("kg", 40, ""), f.Float64("money", 0, "")
	guesses := map[string]float64{}
	f.Func("guess", "", func(text string) error {
		spare, perFight, err := debrief.ParseGuess(text)
		guesses[spare] = perFight
		return err
	})
	f.SetOutput(io.Discard)
	if err := f.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return misuse(err.Error())
	}
	switch {
	case *asPage && *asRows:
		return misuse("-html and -csv are two forms of one account: choose one")
	case !(*moves >= 0 && *moves <= 2):
		return misuse("-moves is how much of the damage moves: 0 to 2, 1 is all of it")
	case *fights < 1 || *fights > 30:
		return misuse("-fights is how many fights a robot has to come: 1 to 30")
	case !(*kg > 0 && *kg <= 1000):
		return misuse("-kg is how much may be brought: more than 0, at most 1000")
	case !(*money >= 0 && *money <= 1e6):
		return misuse("-money is how much may be spent: 0 for no limit, at most 1000000")
	}
	asked := debrief.Usual()
	asked.Moves, asked.Next.Fights, asked.Next.Budget = *moves, *fights, debrief.Budget{Grams: int(*kg * 1000), Cents: int(*money * 100)}
	asked.Next.Guesses = guesses
	accounts, err := accountsOf(ctx, dataDir(*data), f.Args(), asked)
	if err != nil {
		return err
	}
	return writeAccounts(t.out, accounts, *asPage, *asRows)
}

// accountsOf reads the board in dir, or where files are named those in their order.
func accountsOf(ctx context.Context, dir dataDir, files []string, asked debrief.Asked) ([]debrief.Account, error) {
	var all []debrief.Account
	read := func(path string) error {
		a, err := accountOf(path, asked)
		all = append(all, a)
		return err
	}
	if len(files) == 0 {
		err := dir.copied(ctx, read)
		return all, err
	}
	for _, file := range files {
		if err := onCopy(file, read); err != nil {
			return nil, fmt.Errorf("debrief %s: %w", file, err)
		}
	}
	return all, nil
}

// onCopy calls use with a copy of a board's file, which stays as it is.
func onCopy(file string, use func(path string) error) error {
	dir, err := os.MkdirTemp("", "mendline-")
	if err != nil {
		return fmt.Errorf("make a folder for the copy: %w", err)
	}
	defer os.RemoveAll(dir)
	from, err := os.Open(file)
	if err != nil {
		return err
	}
	defer from.Close()
	path := filepath.Join(dir, "copy.db")
	to, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(to, from)
	if err := errors.Join(err, to.Close()); err != nil {
		return err
	}
	return use(path)
}

func accountOf(path string, asked debrief.Asked) (debrief.Account, error) {
	s, err := store.Open(path, store.Options{Program: version()})
	if err != nil {
		return debrief.Account{}, err
	}
	rec, err := debrief.Read(s.Lines())
	if err := errors.Join(err, s.Close()); err != nil {
		return debrief.Account{}, err
	}
	return rec.Account(asked)
}

func writeAccounts(w io.Writer, accounts []debrief.Account, asPage, asRows bool) error {
	out := []byte(nil)
	var err error
	switch {
	case asPage:
		out, err = print.HTML(accounts)
	case asRows:
		out, err = print.CSV(accounts)
	default:
		out = []byte(print.Text(accounts))
	}
	if err != nil {
		return err
	}
	_, err = w.Write(out)
	return err
}
