package main

import (
	"context"
	_ "embed"
	"flag"
	"fmt"
)

// noticesText names what others made that is in the program, each with the terms
// that ask for it. A test holds it to what is linked in, and writes it with -update.
//
//go:embed notices.txt
var noticesText string

func notices(_ context.Context, t terminal, args []string) error {
	if _, err := parse(flag.NewFlagSet("notices", flag.ContinueOnError), args); err != nil {
		return err
	}
	_, err := fmt.Fprint(t.out, noticesText)
	return err
}
