package main

import (
	"context"
	"math/rand/v2"
	"time"
)

// tick is how often the crowd looks whether what it waits for has come.
const tick = 10 * time.Millisecond

// schedule is when commands are due within a stretch: evenly, or at random with
// the same mean rate a second (a Poisson process: exponential gaps).
func schedule(rng *rand.Rand, rate float64, stretch time.Duration, steady bool) []time.Duration {
	gap := float64(time.Second) / rate
	var due []time.Duration
	at := 0.0
	for {
		if steady {
			at += gap
		} else {
			at += gap * rng.ExpFloat64()
		}
		if at > float64(stretch) {
			return due
		}
		due = append(due, time.Duration(at))
	}
}

// pace calls do(i) when due[i] has passed since now. It ends early with do's
// error or ctx's cause.
func pace(ctx context.Context, due []time.Duration, do func(i int) error) error {
	begun := time.Now()
	for i, d := range due {
		select {
		case <-time.After(d - time.Since(begun)):
		case <-ctx.Done():
			return context.Cause(ctx)
		}
		if err := do(i); err != nil {
			return err
		}
	}
	return nil
}

// until waits till it is so, for at most the patience; it tells whether it was.
func until(ctx context.Context, patience time.Duration, so func() bool) (bool, error) {
	end := time.Now().Add(patience)
	for !so() {
		if time.Now().After(end) {
			return false, nil
		}
		select {
		case <-time.After(tick):
		case <-ctx.Done():
			return false, context.Cause(ctx)
		}
	}
	return true, nil
}
