package desk

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

const (
	// forecastGather is how long a change waits for others before a forecast.
	forecastGather = 100 * time.Millisecond
	// forecastRest is how many times as long as a forecast took the next one
	// waits: a busy board gets fewer forecasts, not slower answers.
	forecastRest = 4
	// forecastEvery is how often time alone makes a forecast.
	forecastEvery = 10 * time.Second
)

// derived is one forecast. It never changes.
type derived struct {
	epoch string
	seq   uint64
	of    board.Rev
	at    board.Moment
	all   map[board.Key][]byte
	put   []board.Key // that differ from the forecast before
	del   []board.Key
	own   []Own
	news  bool // it says something that the one before did not

	changed, whole encoding
}

// encoding is a frame made when first asked for.
type encoding struct {
	once sync.Once
	made *Frame
}

// frame is the forecast message: all of it, or what changed.
func (f *derived) frame(whole bool) *Frame {
	if whole {
		f.whole.once.Do(func() { f.whole.made = frame(f.message(true)) })
		return f.whole.made
	}
	f.changed.once.Do(func() { f.changed.made = frame(f.message(false)) })
	return f.changed.made
}

func (f *derived) message(whole bool) ForecastMessage {
	m := ForecastMessage{T: "forecast", Epoch: f.epoch, Seq: f.seq, Of: f.of, At: f.at, Whole: whole, Put: map[board.Key]jsontext.Value{}}
	if whole {
		for k, v := range f.all {
			m.Put[k] = v
		}
		return m
	}
	for _, k := range f.put {
		m.Put[k] = f.all[k]
	}
	m.Del = f.del
	return m
}

// forecasting computes forecasts of the newest view until ctx ends. It hands the
// desk those that say something new.
func (d *Desk) forecasting(ctx context.Context) {
	every := time.NewTicker(forecastEvery)
	defer every.Stop()
	view := d.View()
	var last *derived
	for {
		began := time.Now()
		next := d.makeForecast(view, last)
		rest := max(forecastGather, forecastRest*time.Since(began))
		if next != last {
			select {
			case d.forecasts <- next:
				last = next
			case <-ctx.Done():
				return
			}
		}
		select {
		case view = <-d.newest:
			if view = d.gathered(ctx, view, rest); view == nil {
				return
			}
		case <-every.C:
		case <-ctx.Done():
			return
		}
	}
}

// gathered waits a little and is the newest view then, nil when ctx has ended.
func (d *Desk) gathered(ctx context.Context, view *View, rest time.Duration) *View {
	wait := time.NewTimer(rest)
	defer wait.Stop()
	for {
		select {
		case view = <-d.newest:
		case <-wait.C:
			return view
		case <-ctx.Done():
			return nil
		}
	}
}

// makeForecast is the forecast of view, or last where it would say the same.
func (d *Desk) makeForecast(view *View, last *derived) *derived {
	at := d.clock.now()
	start := time.Now()
	made, err := d.compute(view.State, at)
	d.o.Metrics.Forecast(time.Since(start).Seconds())
	if err != nil {
		d.o.Log.Error("forecast", "rev", view.State.Rev, "error", err)
		return last
	}
	f := &derived{epoch: view.Epoch, seq: 1, of: view.State.Rev, at: at, all: made.Nouns, own: made.Own}
	before := map[board.Key][]byte{}
	if last != nil && last.epoch == f.epoch {
		f.seq, before = last.seq+1, last.all
	}
	f.put, f.del = difference(before, f.all)
	f.news = f.seq == 1 || len(f.put)+len(f.del) > 0
	switch {
	case f.news:
	case len(f.own) == 0:
		return last
	default:
		f.seq = last.seq
	}
	return f
}

// compute keeps a fault of the forecast from taking the board down with it.
func (d *Desk) compute(s board.State, at board.Moment) (made Derived, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("panic: %v", r)
		}
	}()
	made = d.o.Forecast(s, at, d.o.Seed)
	for key, v := range made.Nouns {
		if !jsontext.Value(v).IsValid() {
			return Derived{}, fmt.Errorf("%s is not JSON", key)
		}
	}
	return made, nil
}

// difference lists the keys of is that are new or changed, and those that only
// was has, in order.
func difference(was, is map[board.Key][]byte) (put, del []board.Key) {
	for k, v := range is {
		if old, ok := was[k]; !ok || !bytes.Equal(old, v) {
			put = append(put, k)
		}
	}
	for k := range was {
		if _, ok := is[k]; !ok {
			del = append(del, k)
		}
	}
	slices.Sort(put)
	slices.Sort(del)
	return put, del
}
