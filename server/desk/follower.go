package desk

import (
	"context"
	"errors"
	"slices"
	"sync"
)

// A follower that lets this much wait is cut when more comes. So a group of
// commands that is larger by itself cuts nobody who keeps up.
const (
	followerPatches = 64
	followerBytes   = 256 << 10
	followerReplies = 64
)

var (
	// ErrSlow is the end of a follower that did not keep up. It may join again
	// with the revision it has.
	ErrSlow = errors.New("too slow: join again")
	// ErrRestored is the end of every follower when the board is taken from its
	// file again: the epoch is new.
	ErrRestored = errors.New("the board was taken from its file again: join again")
	// ErrLeft is the end of a follower that was closed.
	ErrLeft = errors.New("left")
)

// Follower is one device's place in the broadcast. The desk puts in and never
// waits; one goroutine takes out with Next. Whoever joined calls Close when the
// device is gone.
type Follower struct {
	wake chan struct{} // one slot: something is there

	mu      sync.Mutex
	opening *opening // what Join found, till it is taken
	batches []*batch
	patches int
	bytes   int
	replies []*Frame
	derived *derived
	whole   bool // all of derived is owed, not only what changed last
	beat    *Frame
	end     error
}

// opening is what a follower starts from: a snapshot, or the patches since.
type opening struct {
	view    *View // nil for patches
	patches []patch
}

// batch is the patches of one group of commands, encoded once for all followers.
type batch struct {
	patches []patch
	frame   *Frame
}

func newFollower(o opening, f *derived) *Follower {
	return &Follower{wake: make(chan struct{}, 1), opening: &o, derived: f, whole: true}
}

// Next waits until there is something to send and takes all of it, in the order
// in which it must be sent: the board or patches, acks and refusals, forecast,
// beat. Waiting patches come as one frame.
//
// Errors, after which there is nothing more: ErrSlow, ErrRestored, ErrRestarting,
// ErrLeft, or ctx's own, after which Next may be called again.
func (f *Follower) Next(ctx context.Context) ([]*Frame, error) {
	for {
		frames, err := f.take()
		if len(frames) > 0 || err != nil {
			return frames, err
		}
		select {
		case <-f.wake:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

// Close takes the follower out of the broadcast.
func (f *Follower) Close() { f.cut(ErrLeft) }

func (f *Follower) take() ([]*Frame, error) {
	f.mu.Lock()
	opening, batches, replies, derived, whole, beat := f.opening, f.batches, f.replies, f.derived, f.whole, f.beat
	f.opening, f.batches, f.replies, f.derived, f.whole, f.beat = nil, nil, nil, nil, false, nil
	f.patches, f.bytes = 0, 0
	end := f.end
	f.mu.Unlock()

	var frames []*Frame
	if opening != nil {
		frames = opening.frames()
	}
	frames = append(frames, joined(batches)...)
	frames = append(frames, replies...)
	if derived != nil {
		frames = append(frames, derived.frame(whole))
	}
	if beat != nil {
		frames = append(frames, beat)
	}
	if len(frames) == 0 {
		return nil, end
	}
	return frames, nil
}

func (o *opening) frames() []*Frame {
	switch {
	case o.view != nil:
		return []*Frame{o.view.Snapshot()}
	case len(o.patches) > 0:
		return []*Frame{patchesFrame(o.patches)}
	}
	return nil
}

func joined(batches []*batch) []*Frame {
	switch len(batches) {
	case 0:
		return nil
	case 1:
		return []*Frame{batches[0].frame}
	}
	var all []patch
	for _, b := range batches {
		all = append(all, b.patches...)
	}
	return []*Frame{patchesFrame(all)}
}

func (f *Follower) push(b *batch) {
	f.put(func() {
		if f.patches >= followerPatches || f.bytes >= followerBytes {
			f.drop(ErrSlow)
			return
		}
		f.batches = append(f.batches, b)
		f.patches += len(b.patches)
		f.bytes += len(b.frame.Data)
	})
}

func (f *Follower) reply(r *Frame) {
	f.put(func() {
		if len(f.replies) >= followerReplies {
			f.drop(ErrSlow)
			return
		}
		f.replies = append(f.replies, r)
	})
}

// forecast leaves the newest forecast. When one before it was never taken, all of
// it is owed.
func (f *Follower) forecast(n *derived) {
	f.put(func() {
		f.whole = f.whole || f.derived != nil
		f.derived = n
	})
}

func (f *Follower) pulse(b *Frame) { f.put(func() { f.beat = b }) }

// cut ends the follower. What waits is still taken, except by one that is slow
// or gone.
func (f *Follower) cut(why error) {
	f.put(func() {
		f.end = why
		if why == ErrLeft {
			f.drop(why)
		}
	})
}

func (f *Follower) drop(why error) {
	f.end = why
	f.opening, f.batches, f.replies, f.derived, f.beat = nil, nil, nil, nil, nil
}

// put changes the follower, unless it has ended, and wakes the one who takes.
func (f *Follower) put(change func()) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.end != nil {
		return
	}
	change()
	select {
	case f.wake <- struct{}{}:
	default:
	}
}

func (f *Follower) ended() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.end != nil
}

// without is the followers that have not ended.
func without(followers []*Follower) []*Follower {
	return slices.DeleteFunc(followers, (*Follower).ended)
}
