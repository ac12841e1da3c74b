package server

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

// BenchmarkGrowth asks what a journal that grows costs: of a tap, each tap with its own
// flush, the three boards in turn; of the memory, the start, the snapshot and the
// debrief. Run it with -benchtime 4000x -v, as one tap in a hundred has to be many: the
// table comes at the end.
func BenchmarkGrowth(b *testing.B) {
	var boards []*grown
	for _, lines := range []int{0, 10_000, 100_000} {
		boards = append(boards, grow(b, lines))
	}
	for n := 0; b.Loop(); n++ {
		for _, g := range boards {
			begun := time.Now()
			g.told(board.StockCount{Stock: g.spare, Count: n % 100})
			g.taps = append(g.taps, time.Since(begun))
		}
	}
	var table strings.Builder
	fmt.Fprintf(&table, "\n%8s %10s %10s %10s %10s %10s %10s %12s %12s\n", "lines", "p50", "p95", "p99", "memory", "start", "snapshot", "debrief", "and again")
	for _, g := range boards {
		slices.Sort(g.taps)
		at := func(share float64) time.Duration { return g.taps[int(share*float64(len(g.taps)-1))] }
		snapshot := took(func() { g.d.View().Snapshot() })
		debrief := func() time.Duration {
			return took(func() {
				_, err := g.s.record(b.Context())
				require.NoError(b, err)
			})
		}
		first := debrief()
		g.told(board.StockCount{Stock: g.spare, Count: 1})
		again := debrief()
		start, memory := g.starts()
		fmt.Fprintf(&table, "%8d %10v %10v %10v %7.1f MB %10v %10v %12v %12v\n", g.lines, micro(at(0.50)), micro(at(0.95)), micro(at(0.99)),
			float64(memory)/1e6, micro(start), micro(snapshot), micro(first), micro(again))
	}
	b.Log(table.String())
}

func micro(d time.Duration) time.Duration { return d.Round(time.Microsecond) }

func took(what func()) time.Duration {
	begun := time.Now()
	what()
	return time.Since(begun)
}

// grown is a board with a journal of so many lines.
type grown struct {
	*pit
	lines int
	spare board.StockID
	taps  []time.Duration
}

func grow(b *testing.B, lines int) *grown {
	b.Helper()
	g := &grown{pit: newPitWith(b, with{}), lines: lines}
	g.told(board.StockAdd{StockFields: board.StockFields{Name: "blade", Count: 2}})
	for id := range g.d.View().State.Stocks {
		g.spare = id
	}
	const group = 250
	for done := 0; done < lines; done += group {
		g.clock.pass(time.Second)
		var all sync.WaitGroup
		for i := range group {
			c := board.StockCount{Stock: g.spare, Count: i % 100}
			q := desk.Request{ID: g.newID(), Do: board.Name(c), With: encode(b, c), Actor: board.Actor{Role: board.RoleCaptain}}
			all.Go(func() {
				a, err := g.d.Do(context.Background(), q)
				require.NoError(b, err)
				require.Nil(b, a.Refusal)
			})
		}
		all.Wait()
	}
	return g
}

// starts stops the desk and makes another of its file: how long that takes, and the heap
// that it holds then.
func (g *grown) starts() (took time.Duration, memory uint64) {
	g.stopDesk()
	before := held()
	begun := time.Now()
	d, err := desk.New(desk.Options{Path: g.path, Store: store.Options{FreeBytesLeast: -1}, Now: g.clock.laptop, Boot: g.clock.boot, Forecast: plainForecast})
	require.NoError(g.t, err)
	took, memory = time.Since(begun), held()-before
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	require.NoError(g.t, d.Run(ctx))
	return took, memory
}
