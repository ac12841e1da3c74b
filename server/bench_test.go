package server

import (
	"bytes"
	"fmt"
	"net/http"
	"net/netip"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// screens opens so many sockets that follow the board.
func (p *pit) screens(n int) []*sock {
	p.t.Helper()
	var list []*sock
	var token string
	for i := range n {
		if i%socketsPerSession == 0 {
			var seat *session
			seat, token = issue(board.RoleViewer, "", netip.Addr{}, p.clock.Now())
			_, ok := p.s.sessions.add(seat, p.clock.Now())
			require.True(p.t, ok)
		}
		k, _, err := p.dialWith(http.Header{"Authorization": {"Bearer " + token}}, proto)
		require.NoError(p.t, err)
		k.resume("", 0)
		list = append(list, k)
	}
	return list
}

// BenchmarkFanOut is the time from a command's start until every screen has read
// its patch, the clients in the same process.
func BenchmarkFanOut(b *testing.B) {
	for _, n := range []int{10, 100, 500} {
		b.Run(fmt.Sprintf("screens=%d", n), func(b *testing.B) {
			p := newPitWith(b, with{unlimited: true})
			seen := make(chan struct{}, n)
			for _, k := range p.screens(n) {
				go func() { // ends when the pit closes
					for {
						_, text, err := k.conn.ReadMessage()
						if err != nil {
							return
						}
						if bytes.HasPrefix(text, []byte(`{"t":"patches"`)) {
							seen <- struct{}{}
						}
					}
				}()
			}
			b.ReportAllocs()
			for b.Loop() {
				p.told(note("blade is bent"))
				for range n {
					<-seen
				}
			}
		})
	}
}

// BenchmarkIdleSocket measures what one more socket costs while nothing is said,
// both ends together: heap and stacks after a collection.
func BenchmarkIdleSocket(b *testing.B) {
	const n = 400
	for b.Loop() {
		p := newPitWith(b, with{unlimited: true})
		before := held()
		p.screens(n)
		b.ReportMetric(float64(held()-before)/n, "B/socket")
	}
}

func held() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc + m.StackInuse
}

func BenchmarkPIN(b *testing.B) {
	p := loadPins(nil, pinRounds)
	for b.Loop() {
		if _, err := p.make(b.Context(), somePIN); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHear(b *testing.B) {
	text := []byte(`{"t":"do","id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","do":"note.add","with":{"text":"` + strings.Repeat("x", 200) + `"}}`)
	b.ReportAllocs()
	for b.Loop() {
		if hear(text).refusal != nil {
			b.Fatal("refused")
		}
	}
}
