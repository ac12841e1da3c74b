package photo

import (
	"cmp"
	"context"
	"slices"
	"sync"
)

// turns lets one upload at a time be decoded: the one that takes least memory first, so
// that a photo does not wait for a queue of huge pictures.
type turns struct {
	mu      sync.Mutex
	taken   bool
	waiting []*turn // in the order in which they came
}

type turn struct {
	bytes int64
	mine  chan struct{} // closed when it has come
}

// wait returns when it is the caller's turn, who then calls next; or ctx's error.
func (t *turns) wait(ctx context.Context, bytes int64) error {
	own := &turn{bytes, make(chan struct{})}
	t.mu.Lock()
	t.waiting = append(t.waiting, own)
	if !t.taken {
		t.pass()
	}
	t.mu.Unlock()
	select {
	case <-own.mine:
		return nil
	case <-ctx.Done():
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if i := slices.Index(t.waiting, own); i >= 0 {
		t.waiting = slices.Delete(t.waiting, i, i+1)
	} else {
		t.pass() // it came meanwhile
	}
	return context.Cause(ctx)
}

// next gives the turn on.
func (t *turns) next() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.pass()
}

func (t *turns) pass() {
	t.taken = len(t.waiting) > 0
	if !t.taken {
		return
	}
	least := slices.MinFunc(t.waiting, func(a, b *turn) int { return cmp.Compare(a.bytes, b.bytes) })
	t.waiting = slices.DeleteFunc(t.waiting, func(w *turn) bool { return w == least })
	close(least.mine)
}
