package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"
)

// backFigures are how long after a board answered again each device had it, once it
// was stopped in good order and once it was killed.
type backFigures struct {
	Stopped spread `json:"stopped"`
	Killed  spread `json:"killed"`
	// DownMs is how long the board did not answer, each time.
	DownMs [2]float64 `json:"downMs"`
}

// restarts ends the board twice under all devices and starts it again where it was.
func (t *trial) restarts(ctx context.Context) (*backFigures, error) {
	for _, d := range t.crowd.devices {
		d.cutsMost = math.MaxInt // a phone goes on trying
	}
	f := &backFigures{}
	for i, how := range []struct {
		end func()
		to  *spread
	}{{t.own.stop, &f.Stopped}, {t.own.kill, &f.Killed}} {
		was, _ := t.crowd.devices[0].at()
		down := time.Now()
		how.end()
		if err := t.own.run(ctx); err != nil {
			return nil, err
		}
		up := time.Now()
		f.DownMs[i] = ms(up.Sub(down))
		back := func(d *device) bool { epoch, _, ok := d.backSince(); return ok && epoch != was }
		all, err := until(ctx, openWait, func() bool {
			return !slices.ContainsFunc(t.crowd.devices, func(d *device) bool { return !back(d) })
		})
		if err != nil || !all {
			return nil, fmt.Errorf("not every device came back within %s: %w", openWait, err)
		}
		var times []time.Duration
		for _, d := range t.crowd.devices {
			_, at, _ := d.backSince()
			times = append(times, max(at.Sub(up), 0))
		}
		*how.to = spreadOf(times)
	}
	return f, nil
}
