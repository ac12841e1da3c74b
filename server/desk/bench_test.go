package desk

import (
	"fmt"
	"os"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// BenchmarkCommands keeps so many callers waiting, each with one command at a
// time, and with that many followers on the board.
func BenchmarkCommands(b *testing.B) {
	for _, waiting := range []int{1, 10, 50} {
		for _, followers := range []int{0, 50} {
			b.Run(fmt.Sprintf("waiting=%d/followers=%d", waiting, followers), func(b *testing.B) {
				p := newPit(b, Options{})
				for range followers {
					f := p.join("", 0)
					go func() {
						for {
							if _, err := f.Next(b.Context()); err != nil {
								return
							}
						}
					}()
				}
				b.ReportAllocs()
				b.ResetTimer()
				p.share(b.N, waiting)
				b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "commands/s")
			})
		}
	}
}

// share has so many callers give n commands.
func (p *pit) share(n, callers int) {
	var all sync.WaitGroup
	for caller := range callers {
		all.Go(func() {
			for i := caller; i < n; i += callers {
				p.do(p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: i % 100}))
			}
		})
	}
	all.Wait()
}

// BenchmarkFloor is what one flush of as many bytes as a command's journal line
// costs on this machine.
func BenchmarkFloor(b *testing.B) {
	f, err := os.Create(b.TempDir() + "/floor")
	require.NoError(b, err)
	defer f.Close()
	page := make([]byte, 4096)
	for b.Loop() {
		_, err := f.WriteAt(page, 0)
		require.NoError(b, err)
		require.NoError(b, f.Sync())
	}
}

func BenchmarkSnapshot(b *testing.B) {
	p := newPit(b, Options{})
	p.open()
	v := p.d.View()
	b.ReportAllocs()
	for b.Loop() {
		boardFrame(v)
	}
}
