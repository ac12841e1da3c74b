package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"sync/atomic"
	"time"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/cmd/mendline/demo"
	"mendline/server/desk"
)

// runDemo serves the invented team from a folder that goes when it ends.
func runDemo(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("demo", flag.ContinueOnError)
	s := settings{codes: map[board.Role]string{}}
	dumpTo := f.String("dump", "", "")
	s.hostFlags(f, t)
	if _, err := parse(f, args); err != nil {
		return err
	}
	if *dumpTo != "" {
		if err := demo.WriteTo(*dumpTo); err != nil {
			return err
		}
		fmt.Fprintf(t.out, "wrote the demo's team to %s\n", *dumpTo)
		return nil
	}
	day, err := newPlay(time.Now())
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "mendline-demo-")
	if err != nil {
		return fmt.Errorf("make a folder for the demo: %w", err)
	}
	s.data = dataDir(dir)
	s.now, s.boot = day.now, day.boot
	limitMemory(t)
	h, err := open(t, s)
	if err != nil {
		return errors.Join(err, os.RemoveAll(dir))
	}
	err = h.run(ctx, func(ctx context.Context) error { return day.play(ctx, h.desk) })
	return errors.Join(err, os.RemoveAll(dir))
}

// play is the demo's day with the clock that goes with it: at the moment of the
// step that plays, and the machine's own afterwards.
type play struct {
	steps []demo.Step
	at    atomic.Int64
	// since reads the time since boot; what it read when the day ended is ended.
	since func() time.Duration
	ended atomic.Int64
	lasts time.Duration
}

func newPlay(now time.Time) (*play, error) {
	_, offsetSec := now.Zone()
	steps, err := demo.Day(board.MomentOf(now), offsetSec/60)
	if err != nil {
		return nil, err
	}
	p := &play{steps: steps, since: desk.BootClock()}
	p.at.Store(int64(steps[0].At))
	return p, nil
}

func (p *play) now() time.Time {
	if at := p.at.Load(); at != 0 {
		return board.Moment(at).Time()
	}
	return time.Now()
}

// boot is the time since the day began, by which the board's time goes on.
func (p *play) boot() time.Duration {
	if at := p.at.Load(); at != 0 {
		return board.Moment(at).Sub(p.steps[0].At)
	}
	return p.lasts + p.since() - time.Duration(p.ended.Load())
}

// play gives the desk the day, command by command.
func (p *play) play(ctx context.Context, own *desk.Desk) error {
	for _, step := range p.steps {
		p.at.Store(int64(step.At))
		if err := give(ctx, own, step); err != nil {
			return fmt.Errorf("play the demo: %s of %s: %w", board.Name(step.Command), step.At, err)
		}
	}
	p.lasts = time.Since(p.steps[0].At.Time())
	p.ended.Store(int64(p.since()))
	p.at.Store(0)
	return nil
}

func give(ctx context.Context, own *desk.Desk, p demo.Step) error {
	with, err := json.Marshal(p.Command, json.Deterministic(true))
	if err != nil {
		return fmt.Errorf("encode %s: %w", board.Name(p.Command), err)
	}
	ask := p.Ask(own.View().State)
	a, err := own.Do(ctx, desk.Request{ID: p.ID, Do: board.Name(p.Command), With: with, Seen: ask.Seen, At: ask.At, Actor: p.By})
	switch {
	case err != nil:
		return err
	case a.Refusal != nil:
		return errors.New(a.Refusal.Sentence)
	}
	return nil
}
