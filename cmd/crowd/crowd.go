package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"sync"
	"time"

	"mendline/board"
)

const (
	openWait   = 30 * time.Second // for a device's first snapshot
	drainWait  = 15 * time.Second // for what is on its way when the load stops
	echoEach   = 10 * time.Second // a device's echo, as a phone's
	boardTries = 5                // to find the board and all copies at one revision
	faultsMost = 20               // differences listed of one copy
	enterRate  = 2                // jobs a second that each device enters beforehand
)

// crowd is the devices and what they did.
type crowd struct {
	devices []*device
	rng     *rand.Rand
	mix     *mix
	ledger  *ledger
	late    time.Duration // the most a command was sent after it was due
}

func newCrowd(base string, n int, seed uint64) *crowd {
	c := &crowd{rng: rand.New(rand.NewPCG(seed, 0)), ledger: newLedger(n)}
	f := newFrames()
	for i := range n {
		c.devices = append(c.devices, newDevice(i, base, seed, f))
	}
	return c
}

// join gives each device a session, one after the other, since the board hashes
// one PIN at a time.
func (c *crowd) join(ctx context.Context, code string, progress io.Writer) error {
	begun := time.Now()
	for i, d := range c.devices {
		if err := d.join(ctx, code); err != nil {
			return err
		}
		if n := i + 1; n%100 == 0 || n == len(c.devices) {
			fmt.Fprintf(progress, "joined %d of %d in %.0f s\n", n, len(c.devices), time.Since(begun).Seconds())
		}
	}
	return nil
}

// open connects every device and waits until each has the board. The devices end
// with ctx, and wait waits for them; one that fails ends all through cancel.
func (c *crowd) open(ctx context.Context, cancel context.CancelCauseFunc) (wait func(), err error) {
	var wg sync.WaitGroup
	for _, d := range c.devices {
		wg.Go(func() { // ends with ctx
			if err := d.follow(ctx); err != nil {
				cancel(err)
			}
		})
		ok, err := until(ctx, openWait, func() bool { epoch, _ := d.at(); return epoch != "" })
		if err == nil && !ok {
			err = fmt.Errorf("%s: no board came within %s", d.name, openWait)
		}
		if err != nil {
			return wg.Wait, err
		}
	}
	wg.Go(func() { c.echo(ctx) }) // ends with ctx
	if ok, err := c.level(ctx); err != nil || !ok {
		return wg.Wait, errors.Join(err, errors.New("the devices do not come to one revision"))
	}
	c.mix = newMix(c.rng, c.devices[0].keys())
	c.collect()
	return wg.Wait, nil
}

// echo lets one device after the other ask for the time.
func (c *crowd) echo(ctx context.Context) {
	t := time.NewTicker(echoEach / time.Duration(len(c.devices)))
	defer t.Stop()
	for i := 0; ; i++ {
		select {
		case <-t.C:
			if c.devices[i%len(c.devices)].echo() != nil {
				return
			}
		case <-ctx.Done():
			return
		}
	}
}

// enter gives the board n open jobs, quicker than a crowd would and not quicker than
// the board takes them of each device.
func (c *crowd) enter(ctx context.Context, n int) error {
	gap := time.Second / time.Duration(enterRate*len(c.devices))
	due := make([]time.Duration, n)
	for i := range due {
		due[i] = time.Duration(i) * gap
	}
	_, err := c.load(ctx, due, c.mix.work)
	return err
}

// load gives commands when they are due, then waits until each is answered and
// all devices have come to one revision. Whatever stays out is a fault that
// verify finds. It gives the patch frames of these commands, for the floor.
func (c *crowd) load(ctx context.Context, due []time.Duration, next func() (order, error)) ([][]byte, error) {
	begun, first := time.Now(), len(c.ledger.sent)
	err := pace(ctx, due, func(i int) error {
		o, err := next()
		if err != nil {
			return err
		}
		d := c.devices[c.rng.IntN(len(c.devices))]
		at, err := d.send(o)
		c.ledger.note(&sent{order: o, by: d.person, at: at})
		c.late = max(c.late, at.Sub(begun)-due[i])
		return err
	})
	if err != nil {
		return nil, err
	}
	if _, err := until(ctx, drainWait, c.answered); err != nil {
		return nil, err
	}
	if _, err := c.level(ctx); err != nil {
		return nil, err
	}
	c.collect()
	return c.ledger.frames(first), nil
}

func (c *crowd) answered() bool {
	return !slices.ContainsFunc(c.devices, func(d *device) bool { return d.waiting() > 0 })
}

// level waits until all devices are at one revision of one epoch.
func (c *crowd) level(ctx context.Context) (bool, error) {
	return until(ctx, drainWait, func() bool {
		epoch, rev := c.devices[0].at()
		return !slices.ContainsFunc(c.devices, func(d *device) bool { e, r := d.at(); return e != epoch || r != rev })
	})
}

// catchUp waits until each device has had a beat more, so that the forecast after
// the joins is out of the way.
func (c *crowd) catchUp(ctx context.Context) error {
	had := map[*device]int{}
	for _, d := range c.devices {
		had[d] = d.beaten()
	}
	ok, err := until(ctx, silentMost, func() bool {
		return !slices.ContainsFunc(c.devices, func(d *device) bool { return d.beaten() == had[d] })
	})
	if err == nil && !ok {
		err = fmt.Errorf("the board did not beat within %s", silentMost)
	}
	return err
}

func (c *crowd) collect() {
	for _, d := range c.devices {
		receipts, answers := d.collect()
		c.ledger.take(d.name, receipts, answers)
	}
}

// compare asks for the board and adds a fault for each device whose copy is not
// equal to it. It gives the board's revision and how many nouns it has.
func (c *crowd) compare(ctx context.Context) (board.Rev, int, error) {
	for range boardTries {
		b, err := c.devices[0].board(ctx)
		if err != nil {
			return 0, 0, fmt.Errorf("ask for the board: %w", err)
		}
		past := false
		_, err = until(ctx, drainWait, func() bool {
			past = slices.ContainsFunc(c.devices, func(d *device) bool { _, r := d.at(); return r > b.Rev })
			return past || !slices.ContainsFunc(c.devices, func(d *device) bool { _, r := d.at(); return r < b.Rev })
		})
		if err != nil {
			return 0, 0, err
		}
		if !past && c.compareAt(b) {
			return b.Rev, len(b.Put), nil
		}
	}
	return 0, 0, errors.New("the board changes too quickly to be compared: nobody else may use it meanwhile")
}

// compareAt tells whether no device went past the board while it was compared.
func (c *crowd) compareAt(b *message) bool {
	var faults []string
	for _, d := range c.devices {
		d.mu.Lock()
		epoch, rev := d.copy.epoch, d.copy.rev
		var differ []string
		if epoch == b.Epoch && rev == b.Rev {
			differ = d.copy.differences(b)
		}
		d.mu.Unlock()
		switch {
		case rev > b.Rev:
			return false
		case epoch != b.Epoch || rev < b.Rev:
			faults = append(faults, fmt.Sprintf("%s is at revision %d, the board at %d", d.name, rev, b.Rev))
		}
		for _, what := range differ[:min(len(differ), faultsMost)] {
			faults = append(faults, fmt.Sprintf("%s: %s", d.name, what))
		}
	}
	c.ledger.faults = append(c.ledger.faults, faults...)
	return true
}

// leave ends the sessions of a board that goes on without the crowd.
func (c *crowd) leave(ctx context.Context) error {
	var err error
	for _, d := range c.devices {
		err = errors.Join(err, d.leave(ctx))
	}
	return err
}
