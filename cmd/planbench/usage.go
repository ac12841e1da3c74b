package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

const usage = `planbench: how good the planner's schedules are

  planbench [-schedules N] [-seed S] [-out DIR] FILE...

Reads project scheduling instances, .sm files with one mode a job and .mm files
with several, solves each with the board's own planner on one core, and prints
  instance,makespan,schedules,seconds
in the numeric order of the file names: j301_2 before j301_10 before j3010_1.

One schedule is one start time given to every job. Every trial of a mode, each
direction of a justification and each part of a schedule that is rebuilt count, so
schedules are the starts given divided by the jobs. The planner stops early
where it reaches a bound. An empty makespan says that no schedule within the
non-renewable resources was found.

  -schedules N  how many it may build, 1 to 100000000        5000
  -seed S       the same seed gives the same schedules       1
  -out DIR      writes DIR/INSTANCE.csv with job,mode,start: jobs and modes
                numbered from 1 as in the file, dummies included

The exit status is 0, or 1 if a file could not be read or written, or 2 for
wrong flags.

Example: a whole set, with its schedules
  planbench -schedules 5000 -seed 1 -out schedules j30/*.sm > j30.csv
`

const schedulesMost = 100_000_000

type options struct {
	schedules int
	seed      uint64
	out       string
	files     []string
}

func parse(args []string) (o options, err error) {
	flags := flag.NewFlagSet("planbench", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.IntVar(&o.schedules, "schedules", 5000, "")
	flags.Uint64Var(&o.seed, "seed", 1, "")
	flags.StringVar(&o.out, "out", "", "")
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	o.files = flags.Args()
	switch {
	case o.schedules < 1 || o.schedules > schedulesMost:
		return o, fmt.Errorf("-schedules %d is not 1 to %d", o.schedules, schedulesMost)
	case len(o.files) == 0:
		return o, errors.New("no files: name .sm or .mm files")
	}
	for _, f := range o.files {
		if strings.HasPrefix(f, "-") {
			return o, fmt.Errorf("%s stands behind a file: flags come first", f)
		}
	}
	return o, nil
}
