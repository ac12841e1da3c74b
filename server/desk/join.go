package desk

import (
	"context"
	"log/slog"

	"mendline/board"
)

// join asks to follow the board from a revision of an epoch.
type join struct {
	epoch  string
	rev    board.Rev
	joined chan *Follower // one slot
}

// Join follows the board from now on, in one step of the desk so that no patch
// falls in between. The follower's first frame is the patches since rev, where
// they are kept and epoch is the present one, or else a snapshot; the whole
// forecast follows. The caller closes the follower.
//
// Errors: ctx's own, ErrRestarting.
func (d *Desk) Join(ctx context.Context, epoch string, rev board.Rev) (*Follower, error) {
	j := join{epoch: epoch, rev: rev, joined: make(chan *Follower, 1)}
	select {
	case d.joins <- j:
		return <-j.joined, nil
	case <-d.stopping:
		return nil, ErrRestarting
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (d *Desk) join(j join) *Follower {
	f := newFollower(d.opening(j), d.derived.Load())
	d.followers = append(without(d.followers), f)
	d.o.Metrics.Followers(len(d.followers))
	return f
}

// opening chooses patches, unless they are gone or outweigh the snapshot.
func (d *Desk) opening(j join) opening {
	v := d.View()
	whole := opening{view: v}
	if j.epoch != v.Epoch || j.rev+1 < v.From {
		return whole
	}
	if j.rev > v.State.Rev {
		d.o.Log.Error("a device is ahead of the board", "epoch", j.epoch, "device", j.rev, "board", v.State.Rev)
		return whole
	}
	patches, bytes := d.ring.since(j.rev)
	if bytes > d.bytes {
		return whole
	}
	return opening{patches: patches}
}

// beat tells every follower that the board is there, and forgets those that have
// ended.
func (d *Desk) beat() {
	d.look()
	d.lookAtClock()
	before := len(d.followers)
	d.followers = without(d.followers)
	if len(d.followers) != before {
		d.o.Metrics.Followers(len(d.followers))
	}
	d.pulse()
}

func (d *Desk) pulse() {
	b := frame(BeatMessage{T: "beat", Now: d.clock.now(), ReadOnly: d.readOnly, Clock: d.ClockSaid()})
	for _, f := range d.followers {
		f.pulse(b)
	}
}

// tell hands a new forecast on, and gives the board the commands that come with
// it. One of an epoch that is over says nothing.
func (d *Desk) tell(n *derived) {
	if n.epoch != d.epoch {
		return
	}
	if n.news {
		d.derived.Store(n)
		for _, f := range d.followers {
			f.forecast(n)
		}
	}
	level := slog.LevelInfo
	if d.View().State.Rev != n.of {
		level = slog.LevelDebug // a job was closed meanwhile, say
	}
	for _, o := range n.own {
		d.offer(o, level)
	}
}

// offer gives the board a command that a forecast came to. The board has moved on
// since, so that it may be refused; the next forecast knows more then. A refusal is
// logged at a level.
func (d *Desk) offer(o Own, level slog.Level) {
	if d.broken {
		return
	}
	switch a, err := d.own(o); {
	case err != nil:
		d.o.Log.Error("own command", "do", board.Name(o.Command), "error", err)
	case a.Refusal != nil:
		d.o.Log.Log(context.Background(), level, "own command refused", "do", board.Name(o.Command), "code", a.Refusal.Code, "sentence", a.Refusal.Sentence)
	}
}
