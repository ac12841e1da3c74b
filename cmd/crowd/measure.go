package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"time"
)

const (
	stretchMost = 5 * time.Second // of load, between two of the floor
	joinMost    = 3 * time.Second // a device, for the limit of the whole run
	spareMost   = 2 * time.Minute // for the rest of it
)

// measure is one whole run. Its error is a run that could not be made; what the
// checks found wrong is in the figures.
func (o options) measure(ctx context.Context, progress io.Writer) (*figures, error) {
	most := time.Duration(o.devices)*joinMost + 3*time.Duration(o.seconds)*time.Second + spareMost
	ctx, stop := context.WithTimeoutCause(ctx, most, fmt.Errorf("the run took longer than %s", most))
	defer stop()
	dir, err := os.MkdirTemp(o.dir, "crowd-")
	if err != nil {
		return nil, fmt.Errorf("make a temporary folder: %w", err)
	}
	defer os.RemoveAll(dir)
	r := &trial{options: o, base: o.url, code: o.code, dir: dir, progress: progress}
	if o.url == "" {
		board, err := o.start(ctx, dir, progress)
		if err != nil {
			return nil, err
		}
		defer board.stop()
		r.base, r.code, r.pid, r.own = board.base, board.code, board.cmd.Process.Pid, board
	}
	return r.run(ctx)
}

// trial is a run against a board that answers.
type trial struct {
	options
	base, code string
	pid        int // of the board, 0 when it is another's
	own        *child
	dir        string
	progress   io.Writer

	crowd    *crowd
	floor    floorTimes
	boardCPU time.Duration // under load
	crowdCPU time.Duration
	loaded   time.Duration
	foretold int // forecasts before the load
}

func (t *trial) run(ctx context.Context) (*figures, error) {
	t.crowd = newCrowd(t.base, t.devices, t.seed)
	if err := t.crowd.join(ctx, t.code, t.progress); err != nil {
		return nil, err
	}
	following, cancel := context.WithCancelCause(ctx)
	wait, err := t.crowd.open(following, cancel)
	defer func() { cancel(nil); wait() }()
	if err != nil {
		return nil, err
	}
	if err := t.stretches(following); err != nil {
		return nil, err
	}
	f, err := t.figures(following)
	if err == nil && t.url != "" {
		err = t.crowd.leave(ctx)
	}
	if err == nil && t.restart {
		f.Back, err = t.restarts(following)
	}
	return f, err
}

// stretches loads the board and measures the floor in turns, so that both meet
// the machine in the same mood.
func (t *trial) stretches(ctx context.Context) error {
	floor, err := openFloor(t.dir, t.devices)
	if err != nil {
		return err
	}
	if t.jobs > 0 {
		err = errors.Join(t.crowd.enter(ctx, t.jobs), t.crowd.catchUp(ctx))
		t.crowd.ledger.untimed = len(t.crowd.ledger.sent)
	}
	t.foretold = t.crowd.devices[0].foretold()
	fmt.Fprintf(t.progress, "%d devices have the board; loading it for %d s\n", t.devices, t.seconds)
	if err := t.crowd.catchUp(ctx); err != nil {
		return errors.Join(err, floor.close())
	}
	rng := rand.New(rand.NewPCG(t.seed, 1))
	for left := time.Duration(t.seconds) * time.Second; left > 0 && err == nil; left -= stretchMost {
		err = t.stretch(ctx, floor, schedule(rng, t.rate, min(left, stretchMost), t.steady))
	}
	return errors.Join(err, floor.close())
}

func (t *trial) stretch(ctx context.Context, floor *floor, due []time.Duration) error {
	boardWas, crowdWas, err := t.processor()
	if err != nil {
		return err
	}
	begun := time.Now()
	messages, err := t.crowd.load(ctx, due, t.crowd.mix.next)
	if err != nil {
		return err
	}
	t.loaded += time.Since(begun)
	boardIs, crowdIs, err := t.processor()
	if err != nil {
		return err
	}
	t.boardCPU += boardIs - boardWas
	t.crowdCPU += crowdIs - crowdWas
	more, err := floor.replay(ctx, due, messages)
	t.floor.flush = append(t.floor.flush, more.flush...)
	t.floor.everywhere = append(t.floor.everywhere, more.everywhere...)
	return err
}

// processor is the processor time used so far by the board and by the crowd; 0
// where the board is another's.
func (t *trial) processor() (board, crowd time.Duration, err error) {
	if t.pid == 0 {
		return 0, 0, nil
	}
	board, err = processorOf(t.pid)
	if err != nil {
		return 0, 0, err
	}
	crowd, err = processorOf(os.Getpid())
	return board, crowd, err
}

// figures checks everything and adds up.
func (t *trial) figures(ctx context.Context) (*figures, error) {
	rev, nouns, err := t.crowd.compare(ctx)
	if err != nil {
		return nil, err
	}
	t.crowd.collect()
	t.crowd.ledger.verify()
	f := &figures{
		Devices: t.devices, Rate: t.rate, Seconds: t.seconds, Steady: t.steady, Seed: t.seed,
		Commands: len(t.crowd.ledger.sent) - t.crowd.ledger.untimed, Jobs: t.jobs, Forecasts: t.crowd.devices[0].foretold() - t.foretold, LateMs: ms(t.crowd.late),
		Flush: spreadOf(t.floor.flush), Floor: spreadOf(t.floor.everywhere),
		Rev: rev, Nouns: nouns, Faults: t.crowd.ledger.faults,
	}
	ack, everywhere := t.crowd.ledger.times()
	f.Ack, f.Everywhere = spreadOf(ack), spreadOf(everywhere)
	f.Ratio = f.Everywhere.over(f.Floor)
	for _, d := range t.crowd.devices {
		cuts, bytes := d.traffic()
		f.Cuts += cuts
		f.DeviceBytes = max(f.DeviceBytes, bytes)
	}
	if f.Commands == 0 {
		f.Faults = append(f.Faults, "no command fell into the time: choose a higher -rate or more -seconds")
	}
	if t.pid == 0 {
		return f, nil
	}
	f.Board, err = t.usage()
	return f, err
}

func (t *trial) usage() (*usageFigures, error) {
	m, err := memoryOf(t.pid)
	if err != nil {
		return nil, err
	}
	return &usageFigures{memory: m, Seconds: t.loaded.Seconds(), BoardCPU: t.boardCPU.Seconds(), CrowdCPU: t.crowdCPU.Seconds()}, nil
}
