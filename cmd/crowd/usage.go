package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
	"time"
)

const usage = `crowd: how quickly a board reaches every device

  crowd [-devices 50] [-rate 20] [-seconds 20]       with a board of its own
  crowd -url http://127.0.0.1:8080 -code CREWCODE    with a board that runs

Joins as guests "Crowd 1", "Crowd 2", …, each device from an address of its own
(127.0.1.1 and on: Linux), sends notes, counts, damages and jobs at the rate, and
prints the time from a command sent to its patch received by every device. Between
the stretches of load it measures the floor: one flush of the same bytes to disk,
then the same bytes through as many bare sockets. At the end each device's copy
must equal the board, and each acknowledged command must be in it once.

  -devices N    how many, 1 to 500 (the board keeps 500 sessions)     50
  -rate R       commands a second in all; at most 10 for each device  20
  -seconds S    seconds under load, 1 to 600                          20
  -jobs N       open jobs entered beforehand, so that forecasts have work   0
  -restart      at the end the board is stopped and killed, and started again
  -steady       evenly spaced commands instead of random arrivals
  -seed S       chooses devices, commands and arrivals                1
  -json         print the figures as one JSON object
  -url, -code   the board to load, and its crew code. It fills with notes:
                never the board of an event
Without -url:
  -bin FILE     the mendline program; else it is built with go build
  -team DIR     the team folder to load; else the demo team
  -dir DIR      where the temporary folder goes: the disk to be measured
  -- FLAGS      whatever follows goes to mendline serve

The exit status is 0, or 1 when a check failed, or 2 for wrong flags.

Example: 500 devices, on the disk that /srv is on
  crowd -devices 500 -rate 20 -seconds 30 -dir /srv
Example: the same taps with forecasts under way, and without
  crowd -jobs 80 -team ./sixrobots
  crowd -jobs 80 -team ./sixrobots -- -no-forecast
`

// The limits of the flags. The board keeps sessionMost sessions and takes 20
// commands a second of each; half of that leaves room for random arrivals.
const (
	sessionMost  = 500
	rateMost     = 10
	secondsMost  = 600
	jobsMost     = 500
	dialPatience = 30 * time.Second
)

type options struct {
	devices int
	rate    float64 // commands a second, in all
	seconds int
	jobs    int // entered before the load
	steady  bool
	restart bool
	seed    uint64
	json    bool

	url, code string

	bin, team, dir string
	serveArgs      []string
}

// run is the program: its exit status is 0, 1 for a failed run, 2 for wrong flags.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	o, err := parse(args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(stdout, usage)
		return 0
	}
	if err != nil {
		fmt.Fprintf(stderr, "crowd: %v\n(crowd -h shows the flags)\n", err)
		return 2
	}
	figures, err := o.measure(ctx, stderr)
	if err != nil {
		fmt.Fprintf(stderr, "crowd: %v\n", err)
		return 1
	}
	if o.json {
		err = figures.writeJSON(stdout)
	} else {
		err = figures.writeTable(stdout)
	}
	if err != nil {
		fmt.Fprintf(stderr, "crowd: write the figures: %v\n", err)
		return 1
	}
	if len(figures.Faults) > 0 {
		return 1
	}
	return 0
}

func parse(args []string) (options, error) {
	var o options
	set := flag.NewFlagSet("crowd", flag.ContinueOnError)
	set.SetOutput(io.Discard)
	set.Usage = func() {}
	set.IntVar(&o.devices, "devices", 50, "")
	set.Float64Var(&o.rate, "rate", 20, "")
	set.IntVar(&o.seconds, "seconds", 20, "")
	set.IntVar(&o.jobs, "jobs", 0, "")
	set.BoolVar(&o.restart, "restart", false, "")
	set.BoolVar(&o.steady, "steady", false, "")
	set.Uint64Var(&o.seed, "seed", 1, "")
	set.BoolVar(&o.json, "json", false, "")
	set.StringVar(&o.url, "url", "", "")
	set.StringVar(&o.code, "code", "", "")
	set.StringVar(&o.bin, "bin", "", "")
	set.StringVar(&o.team, "team", "", "")
	set.StringVar(&o.dir, "dir", "", "")
	if err := set.Parse(args); err != nil {
		return o, hint(err, set)
	}
	o.serveArgs = set.Args()
	return o, o.check()
}

// hint adds the flag that was probably meant.
func hint(err error, set *flag.FlagSet) error {
	name, unknown := strings.CutPrefix(err.Error(), "flag provided but not defined: -")
	if !unknown {
		return err
	}
	meant := ""
	set.VisitAll(func(f *flag.Flag) {
		if strings.HasPrefix(f.Name, name) || strings.HasPrefix(name, f.Name) {
			meant = f.Name
		}
	})
	if meant == "" {
		return fmt.Errorf("there is no flag -%s", name)
	}
	return fmt.Errorf("there is no flag -%s: did you mean -%s?", name, meant)
}

func (o options) check() error {
	switch {
	case o.devices < 1 || o.devices > sessionMost:
		return fmt.Errorf("-devices %d: choose 1 to %d, the board keeps no more sessions", o.devices, sessionMost)
	case !(o.rate > 0) || o.rate > float64(rateMost*o.devices):
		return fmt.Errorf("-rate %g: choose more than 0 and at most %d, so that no device meets the board's limit of commands", o.rate, rateMost*o.devices)
	case o.seconds < 1 || o.seconds > secondsMost:
		return fmt.Errorf("-seconds %d: choose 1 to %d", o.seconds, secondsMost)
	case o.jobs < 0 || o.jobs > jobsMost:
		return fmt.Errorf("-jobs %d: choose 0 to %d", o.jobs, jobsMost)
	case o.url != "" && o.code == "":
		return errors.New("-url needs -code: the board's crew code, which its start screen prints")
	case o.url == "" && o.code != "":
		return errors.New("-code needs -url: say which board")
	case o.url != "" && (o.bin != "" || o.team != "" || o.dir != "" || len(o.serveArgs) > 0):
		return errors.New("-url loads a board that runs: leave -bin, -team, -dir and the flags of serve away")
	case o.url != "" && o.restart:
		return errors.New("-restart ends the board: only one that the crowd started")
	case len(o.serveArgs) > 0 && !strings.HasPrefix(o.serveArgs[0], "-"):
		return fmt.Errorf("%q is not a flag: only flags for mendline serve may follow, behind --", o.serveArgs[0])
	}
	return nil
}
