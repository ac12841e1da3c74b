package copies

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

// BenchmarkATapWhileACopyOf100000LinesIsMade gives how long taps took, one after the
// other, while nothing else went on and while a copy was made and put on the stick.
func BenchmarkATapWhileACopyOf100000LinesIsMade(b *testing.B) {
	data, stick := b.TempDir(), b.TempDir()
	d, err := desk.New(desk.Options{Path: filepath.Join(data, "board.db"), Store: store.Options{FreeBytesLeast: -1}})
	require.NoError(b, err)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- d.Run(ctx) }()
	defer func() { stop(); <-ended }()
	k, err := New(Options{Desk: d, Data: data, Folders: []string{stick}})
	require.NoError(b, err)
	give := func(c board.Command) {
		with, err := json.Marshal(c)
		require.NoError(b, err)
		a, err := d.Do(context.Background(), desk.Request{ID: d.NewCommandID(), Do: board.Name(c), With: with, Actor: board.Actor{Role: board.RoleCaptain}})
		require.NoError(b, err)
		require.Nil(b, a.Refusal)
	}
	give(board.StockAdd{StockFields: board.StockFields{Name: "blade", Count: 2}})
	var stock board.StockID
	for id := range d.View().State.Stocks {
		stock = id
	}
	tap := func(n int) {
		give(board.StockChange{Stock: stock, StockFields: board.StockFields{Name: "blade", Where: fmt.Sprint("drawer ", n), Count: n % 9}})
	}
	var all sync.WaitGroup
	for w := range 100 {
		all.Go(func() {
			for n := w; n < 100_000; n += 100 {
				tap(n)
			}
		})
	}
	all.Wait()
	taps := func(until func() bool) (took []time.Duration) {
		for n := 0; !until(); n++ {
			began := time.Now()
			tap(n)
			took = append(took, time.Since(began))
		}
		return took
	}
	var quiet, busy, copying []time.Duration
	for b.Loop() {
		end := time.Now().Add(3 * time.Second)
		quiet = append(quiet, taps(func() bool { return time.Now().After(end) })...)
		done := make(chan time.Duration, 1)
		began := time.Now()
		go func() {
			k.round(k.folders[0], true)
			done <- time.Since(began)
		}()
		busy = append(busy, taps(func() bool {
			select {
			case took := <-done:
				copying = append(copying, took)
				return true
			default:
				return false
			}
		})...)
		require.Empty(b, k.folders[0].failing)
	}
	ms := func(list []time.Duration, part float64) float64 {
		slices.Sort(list)
		return float64(list[int(part*float64(len(list)-1))].Microseconds()) / 1000
	}
	for name, list := range map[string][]time.Duration{"quiet": quiet, "copying": busy} {
		b.ReportMetric(ms(list, 0.5), "ms-p50-"+name)
		b.ReportMetric(ms(list, 0.99), "ms-p99-"+name)
		b.ReportMetric(ms(list, 1), "ms-most-"+name)
	}
	b.ReportMetric(ms(copying, 0.5), "ms-copy")
	bytes, err := d.FileBytes()
	require.NoError(b, err)
	b.ReportMetric(float64(bytes)/(1<<20), "MiB")
}
