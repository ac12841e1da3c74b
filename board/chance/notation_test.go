package chance_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/chance"
	"mendline/board/estimate"
)

// work is a duration in minutes.
func work(t testing.TB, likely, bad float64) chance.Work {
	t.Helper()
	l, err := estimate.TwoPoint{LikelySec: likely * 60, BadSec: bad * 60}.Lognormal()
	require.NoError(t, err)
	return chance.Work{Time: l}
}

// by is a call that is known, in minutes.
func by(minutes float64) chance.Call {
	return chance.Call{LowSec: minutes * 60, MidSec: minutes * 60, HighSec: minutes * 60}
}

// series are tasks one after the other, to be ready by a call in minutes.
func series(call float64, works ...chance.Work) *chance.Network {
	n := &chance.Network{Calls: []chance.Call{by(call)}, Groups: []chance.Group{{}}}
	for i, w := range works {
		task := chance.Task{Key: uint64(i + 1), Work: w}
		if i > 0 {
			task.After = []chance.Arc{{From: i - 1}}
		}
		n.Tasks = append(n.Tasks, task)
	}
	return n
}

// parallel are tasks side by side.
func parallel(call float64, works ...chance.Work) *chance.Network {
	n := series(call, works...)
	for i := range n.Tasks {
		n.Tasks[i].After = nil
	}
	return n
}

// spread is mean and standard deviation of a group's ready times, in minutes.
func spread(o *chance.Outcome, g int) (mean, sd float64) {
	days := o.ReadyDays(g)
	for _, sec := range days {
		mean += sec / 60 / float64(len(days))
	}
	for _, sec := range days {
		sd += (sec/60 - mean) * (sec/60 - mean) / float64(len(days))
	}
	return mean, math.Sqrt(sd)
}
