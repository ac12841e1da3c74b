package desk

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"mendline/board"
	"mendline/server/store"
)

const (
	beatEvery = 2 * time.Second
	// tickPause is how long the desk waits to repeat a tick that did not go
	// through.
	tickPause = 10_000 // ms
)

// Desk is the one owner of a board. Its methods may be called from any goroutine.
type Desk struct {
	o     Options
	clock clock

	requests  chan *request
	joins     chan join
	states    chan chan *View
	agains    chan chan error
	forecasts chan *derived
	newest    chan *View // one slot, the newest wins
	stopping  chan struct{}

	view    atomic.Pointer[View]
	derived atomic.Pointer[derived]
	current atomic.Pointer[store.Store]

	// What follows belongs to New until it returns, and then to Run's goroutine.
	core
	followers []*Follower
	tickAfter board.Moment
	// clockSaid is what was last logged of the laptop's clock, aheadKept what the store
	// last kept of it.
	clockSaid string
	aheadKept time.Duration
}

// core is all that a fresh start from the file replaces.
type core struct {
	store    *store.Store
	epoch    string
	state    board.State // as last acknowledged
	at       board.Moment
	ring     ring
	sizes    map[board.Key]int // of the encoded nouns
	bytes    int               // their sum
	readOnly string
	broken   bool // the store is, and only Again helps
	rescued  rescued
}

// New opens the board's file and makes every robot on it unknown. Run must be
// called even if only to close the file: with a context that has ended it does
// nothing else.
//
// Errors: those of store.Open, and of a board.start that could not be written.
func New(o Options) (*Desk, error) {
	d := &Desk{
		o:         o.withDefaults(),
		requests:  make(chan *request),
		joins:     make(chan join),
		states:    make(chan chan *View),
		agains:    make(chan chan error),
		forecasts: make(chan *derived),
		newest:    make(chan *View, 1),
		stopping:  make(chan struct{}),
	}
	d.clock.laptop, d.clock.boot = d.o.Now, d.o.Boot
	if err := d.open(d.o.Store, "the program has started"); err != nil {
		return nil, err
	}
	return d, nil
}

// open takes the board from its file: a new epoch, every robot unknown.
func (d *Desk) open(o store.Options, why string) error {
	s, err := store.Open(d.o.Path, o)
	if err != nil {
		return err
	}
	if err := d.start(s, why); err != nil {
		return errors.Join(err, s.Close())
	}
	d.current.Store(s)
	return nil
}

func (d *Desk) start(s *store.Store, why string) error {
	h, err := load(s, d.o.Log)
	if err != nil {
		return err
	}
	if !s.Watched() {
		d.o.Log.Warn("this file system does not tell files apart: the board cannot notice that its file is moved, deleted or replaced")
	}
	if r := s.Report(); len(r.Faults) > 0 {
		d.o.Log.Error("the board's file was examined", "faults", r.Faults)
	}
	for _, said := range Recovered(s.Opening(), h.state) {
		d.o.Log.Warn("recovery", "said", said)
	}
	d.core = core{store: s, epoch: uuid.NewString(), state: h.state, at: h.at, sizes: h.sizes}
	for _, n := range h.sizes {
		d.bytes += n
	}
	restore := d.restore(s, h)
	d.timeOf(s, h, restore)
	d.o.Restored = nil
	if restore == nil && len(d.state.Robots) == 0 {
		d.publish()
		return s.GoOn()
	}
	var begins board.Command = board.BoardStart{Why: why, Last: h.at}
	if restore != nil {
		begins = *restore
	}
	if err := d.itself(begins); err != nil {
		return fmt.Errorf("start board: %w", err)
	}
	return s.GoOn()
}

// restore is what the board says as it starts where more is in doubt, as the file knows
// less than there was: a backup, restored or put in place by hand, or damaged. It is nil
// where the board goes on from its own file.
func (d *Desk) restore(s *store.Store, h held) *board.BoardRestore {
	r := board.BoardRestore{Last: h.at}
	switch known := d.View(); {
	case d.o.Restored != nil:
		r = d.o.Restored.BoardRestore
		r.Last = h.at
		if !s.Report().Created.Equal(d.o.Restored.Created) {
			r.Clock = nil
		}
	case known != nil && h.state.Rev < known.State.Rev:
		clock := known.State.TimeOf()
		r.Why, r.Clock = "what was last on the board was lost", &clock
		r = known.State.Replaced(r)
	case doubted(s.Opening()):
		r.Why = "what was last on the board was lost"
		r.Held = []string{"The board's file was damaged, and what people did last before it was closed is not on it: nobody knows which packs were set aside then, what was stopped and what could hurt people."}
	case s.Copied():
		r.Why = "the board is a backup"
		r.Held = []string{"This is a backup that was put in place by hand: nobody knows which packs the board before it had set aside, what was stopped and what could hurt people."}
	default:
		return nil
	}
	return &r
}

// timeOf sets the board's time as the board begins: it goes on from the file's, or where
// that is a backup from that of the board it replaces. One that runs has its time.
func (d *Desk) timeOf(s *store.Store, h held, restore *board.BoardRestore) {
	was := h.state.TimeOf().ShiftSec
	shift := was
	if restore != nil && restore.Clock != nil {
		shift = restore.Clock.ShiftSec
	}
	d.clock.shift.Store(int64(shift) * 1000)
	if d.View() != nil {
		return
	}
	ahead, last := h.ahead, h.at.Add(time.Duration(shift-was)*time.Second)
	switch r := d.o.Restored; {
	case r != nil:
		ahead, last = time.Duration(r.AheadMs)*time.Millisecond, max(last, r.Newest)
	case s.Copied(): // of which laptop's clock nobody knows
		ahead = 0
	}
	d.clock.begin(ahead, last)
}

// Run is the desk. It returns when ctx has ended: what it had taken is answered
// then, the followers' queues end with ErrRestarting, the forecast has stopped
// and the file is closed. It is called once.
func (d *Desk) Run(ctx context.Context) error {
	stopForecast := d.startForecast()
	beat := time.NewTicker(beatEvery)
	defer beat.Stop()
	due := time.NewTimer(0)
	defer due.Stop()
	for ctx.Err() == nil {
		d.arm(due)
		select {
		case q := <-d.requests:
			d.serve(q)
		case j := <-d.joins:
			j.joined <- d.join(j)
		case asked := <-d.states:
			asked <- d.View()
		case done := <-d.agains:
			done <- d.again()
		case f := <-d.forecasts:
			d.tell(f)
		case <-due.C:
		case <-beat.C:
			d.beat()
		case <-ctx.Done():
		}
	}
	return d.stop(stopForecast)
}

// arm sets the timer to the moment at which time changes the board by itself, after
// doing what is due already. A timer may stand while the machine sleeps: the next beat
// finds what fell due meanwhile.
func (d *Desk) arm(timer *time.Timer) {
	due := d.due()
	for due != 0 && d.clock.now() >= due {
		d.tick()
		due = d.due()
	}
	if due == 0 {
		timer.Stop()
		return
	}
	timer.Reset(due.Sub(d.clock.now()))
}

// due is when the next tick is to be given, 0 for never. It is reckoned from the
// last change, so that a day's end that has just passed still counts.
func (d *Desk) due() board.Moment {
	due := board.Due(d.state, d.at)
	if d.broken || due == 0 {
		return 0
	}
	return max(due, d.tickAfter)
}

func (d *Desk) tick() {
	if err := d.itself(board.BoardTick{}); err != nil {
		d.tickAfter = d.clock.now() + tickPause
		d.o.Log.Error("tick", "error", err)
	}
}

// stop follows the order: what was taken is answered, followers end, then the
// forecast, then the file.
func (d *Desk) stop(stopForecast func()) error {
	close(d.stopping)
	for _, f := range d.followers {
		f.cut(ErrRestarting)
	}
	d.followers = nil
	d.o.Metrics.Followers(0)
	stopForecast()
	return d.store.Close()
}

// startForecast starts the forecast's goroutine and returns what stops it and
// waits for it.
func (d *Desk) startForecast() (stop func()) {
	if d.o.Forecast == nil {
		return func() {}
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		d.forecasting(ctx)
	}()
	return func() {
		cancel()
		<-done
	}
}

// publish makes the desk's state what everyone reads.
func (d *Desk) publish() {
	v := &View{State: d.state, At: d.at, Epoch: d.epoch, From: d.ring.from(d.state.Rev), ReadOnly: d.readOnly, Rescued: d.rescued.path, snapshot: &snapshot{}}
	old := d.View()
	if old != nil && old.Epoch == v.Epoch && old.State.Rev == v.State.Rev {
		v.snapshot = old.snapshot
	}
	d.view.Store(v)
	if readOnly := v.ReadOnly != ""; readOnly != (old != nil && old.ReadOnly != "") {
		d.o.Metrics.ReadOnly(readOnly)
	}
	select {
	case <-d.newest:
	default:
	}
	d.newest <- v
}

// View is the board as last acknowledged.
func (d *Desk) View() *View { return d.view.Load() }

// Forecast is the newest forecast, whole, or nil while there is none.
func (d *Desk) Forecast() *Frame {
	f := d.derived.Load()
	if f == nil {
		return nil
	}
	return f.frame(true)
}

// Store is the open store, for sessions, secrets, journal pages, backup and
// check. Again puts another in its place, so it is not to be kept.
func (d *Desk) Store() *store.Store { return d.current.Load() }

// State is View asked of the desk itself: an answer shows that the desk is at
// work. Errors: ctx's own, ErrRestarting.
func (d *Desk) State(ctx context.Context) (*View, error) {
	answer := make(chan *View, 1)
	select {
	case d.states <- answer:
		return <-answer, nil
	case <-d.stopping:
		return nil, ErrRestarting
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// newCommandID makes a version 7 UUID of the moment (RFC 9562 §5.7).
func newCommandID(at board.Moment) board.CommandID {
	var id board.CommandID
	rand.Read(id[6:])
	for i := range 6 {
		id[i] = byte(at >> (8 * (5 - i)))
	}
	id[6] = id[6]&0x0f | 0x70
	id[8] = id[8]&0x3f | 0x80
	return id
}
