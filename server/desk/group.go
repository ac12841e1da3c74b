package desk

import (
	"errors"
	"runtime/debug"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/server/store"
)

// A group takes what waits up to these limits; the last command may go over the
// second.
const (
	groupCommands = 256
	groupBytes    = 1 << 20
)

// group is the commands of one transaction, applied one after the other.
type group struct {
	state board.State // as changed so far
	at    board.Moment
	ahead time.Duration // of the laptop's clock
	// shift is by how much the group sets the board's time.
	shift   time.Duration
	changes []board.Change
	entries []store.Entry
	patches []patch
	sizes   []map[board.Key]int // of the nouns put, by change
	bytes   int
	first   map[board.CommandID]*verdict // accepted in this group
	waiting []*verdict
}

// verdict is the answer to a request, to be given when the group is on disk.
type verdict struct {
	*request
	result Answer
	again  bool // the id was done before
}

func (d *Desk) newGroup() *group {
	return &group{state: d.state, at: d.at, ahead: d.clock.ahead(), first: map[board.CommandID]*verdict{}}
}

// serve takes the first request and what waits behind it as one group.
func (d *Desk) serve(q *request) {
	g := d.newGroup()
	d.judge(g, q)
	for len(g.waiting) < groupCommands && g.bytes < groupBytes {
		select {
		case q := <-d.requests:
			d.judge(g, q)
			continue
		default:
		}
		break
	}
	d.commit(g)
}

// itself gives the board a command of the desk's own that it may not refuse.
func (d *Desk) itself(c board.Command) error {
	a, err := d.own(Own{Command: c})
	if err == nil && a.Refusal != nil {
		err = errors.New(a.Refusal.Sentence)
	}
	return err
}

// own gives the board a command of the desk's own.
func (d *Desk) own(o Own) (Answer, error) {
	with, err := json.Marshal(o.Command)
	if err != nil {
		return Answer{}, err
	}
	q := &request{command: o.Command, own: true, answer: make(chan Answer, 1)}
	q.Request = Request{ID: newCommandID(d.clock.now()), Do: board.Name(o.Command), With: with, Seen: o.Seen, Actor: board.Itself()}
	g := d.newGroup()
	d.judge(g, q)
	err = d.commit(g)
	return <-q.answer, err
}

// judge answers what needs no commit, and applies the rest to the group.
func (d *Desk) judge(g *group, q *request) {
	if a, known := d.known(q); known {
		d.give(&verdict{request: q, result: a, again: a.Refusal == nil})
		return
	}
	v := &verdict{request: q}
	g.waiting = append(g.waiting, v)
	if first, ok := g.first[q.ID]; ok {
		v.result, v.again = first.sameAgain(q), true
		return
	}
	now := d.clock.now().Add(g.shift)
	change, refusal := d.apply(g.state, q, now)
	if refusal != nil {
		v.result.Refusal = refusal
		return
	}
	v.result.Rev = change.Rev
	g.first[q.ID] = v
	g.setTime(change.Done.At.Sub(now))
	g.add(q, change)
}

// known answers a request that is decided before it begins: done earlier, too
// old to know, or no writing at all.
func (d *Desk) known(q *request) (Answer, bool) {
	if q.own {
		return Answer{}, false
	}
	if done, ok := d.store.Done(q.ID); ok {
		if done.Actor != actorOf(q.Actor) || done.Body != q.body {
			return Answer{Refusal: idReused()}, true
		}
		return Answer{Rev: board.Rev(done.Rev)}, true
	}
	if !board.OnlyRaises(q.command) && d.store.TooOld(q.ID, agesBy(d.state, d.clock.now()).Time()) {
		return Answer{Refusal: tooLate()}, true
	}
	if d.broken {
		return Answer{Refusal: d.refuseReadOnly()}, true
	}
	return Answer{}, false
}

// agesBy is the moment by which command ids grow old at now: the board's time, or what it
// would be had no captain set it, whichever is earlier. Phones date them by one or the
// other, and a time set too far ahead must not make all of them old.
func agesBy(s board.State, now board.Moment) board.Moment {
	return min(now, now-board.Moment(s.TimeOf().ShiftSec)*1000)
}

// setTime moves the board's time for what comes after. Only a command that sets it is
// done at another moment than it was given.
func (g *group) setTime(by time.Duration) {
	g.shift += by
	g.ahead += by
}

// sameAgain is the first request's answer, if q is the same command.
func (v *verdict) sameAgain(q *request) Answer {
	if actorOf(v.Actor) != actorOf(q.Actor) || v.body != q.body {
		return Answer{Refusal: idReused()}
	}
	return v.result
}

// apply asks the board. A fault in the board's own rules must not take the desk
// down, nor come back with every resend: the state is a value, so dropping the
// turn is enough.
func (d *Desk) apply(s board.State, q *request, now board.Moment) (c board.Change, refusal *board.Refusal) {
	defer func() {
		if r := recover(); r != nil {
			d.o.Log.Error("command", "do", q.Do, "id", q.ID.String(), "panic", r, "stack", string(debug.Stack()))
			c, refusal = board.Change{}, ownFault()
		}
	}()
	return board.Apply(s, q.command, board.Ask{ID: q.ID, At: q.At, ShiftSec: q.ShiftSec, Seen: q.Seen}, q.Actor, now)
}

// add encodes a change, once for disk and for all sockets.
func (g *group) add(q *request, c board.Change) {
	g.state, g.at = g.state.With(c), c.Done.At
	e := store.Entry{
		Rev: uint64(c.Rev), At: agesBy(g.state, g.at).Time(), Actor: actorOf(q.Actor), Body: q.body, Ahead: g.ahead,
		Secrets: q.Secrets, Sessions: q.Sessions,
	}
	if !q.own {
		e.ID = q.ID
	}
	put := make(map[board.Key]jsontext.Value, len(c.Put))
	sizes := make(map[board.Key]int, len(c.Put))
	for _, n := range c.Put {
		key, b := n.Key(), board.Encode(n)
		put[key], sizes[key] = b, len(b)
		e.Put = append(e.Put, store.KV{Key: string(key), Value: b})
	}
	was := make(map[board.Key]jsontext.Value, len(c.Done.Was))
	for _, n := range c.Done.Was {
		was[n.Key()] = board.Encode(n)
	}
	for _, key := range c.Del {
		e.Del = append(e.Del, string(key))
	}
	e.Line = frame(board.JournalLine{
		Rev: c.Rev, At: c.Done.At, ID: q.ID.String(), By: c.Done.By, Role: c.Done.Role, Do: c.Done.Do,
		With: q.With, Put: put, Del: c.Del, Was: was,
	}).Data
	p := frame(Patch{Rev: c.Rev, At: c.Done.At, By: c.Done.By, Do: c.Done.Do, Put: put, Del: c.Del})

	g.changes = append(g.changes, c)
	g.entries = append(g.entries, e)
	g.patches = append(g.patches, patch{rev: c.Rev, json: p.Data})
	g.sizes = append(g.sizes, sizes)
	g.bytes += len(e.Line)
}

// commit puts the group on disk, and only then adopts it, broadcasts it and
// answers. When the commit fails nothing of it has happened.
func (d *Desk) commit(g *group) error {
	if len(g.entries) > 0 {
		start := time.Now()
		if err := d.store.Commit(g.entries); err != nil {
			d.failed(err)
			for _, v := range g.waiting {
				v.result = Answer{Refusal: d.refuseReadOnly()}
				d.give(v)
			}
			return err
		}
		d.o.Metrics.Commit(time.Since(start).Seconds(), len(g.entries))
		d.adopt(g)
	}
	for _, v := range g.waiting {
		if bad := v.result.Refusal; bad != nil && bad.Code == board.CodeStale {
			v.result.Entity, _ = d.state.Get(bad.Now)
		}
		d.give(v)
	}
	return nil
}

// adopt makes the group's state the board, and tells the followers.
func (d *Desk) adopt(g *group) {
	d.state, d.at, d.aheadKept = g.state, g.at, g.ahead
	if g.shift != 0 {
		d.clock.shift.Add(g.shift.Milliseconds())
		d.tickAfter = 0
	}
	for i, c := range g.changes {
		for key, n := range g.sizes[i] {
			d.bytes += n - d.sizes[key]
			d.sizes[key] = n
		}
		for _, key := range c.Del {
			d.bytes -= d.sizes[key]
			delete(d.sizes, key)
		}
		d.ring.add(g.patches[i])
	}
	d.readOnly = ""
	d.publish()
	b := &batch{patches: g.patches, frame: patchesFrame(g.patches)}
	for _, f := range d.followers {
		f.push(b)
	}
}

// give answers a request: first in its follower's queue, then to its caller.
func (d *Desk) give(v *verdict) {
	result := "done"
	switch {
	case v.result.Refusal != nil:
		result = string(v.result.Refusal.Code)
	case v.again:
		result = "again"
	}
	d.o.Metrics.Command(v.Do, result)
	if v.Follower != nil {
		v.Follower.reply(answerFrame(v.ID, v.result))
	}
	v.answer <- v.result
}
