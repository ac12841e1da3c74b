package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/gorilla/websocket"

	"mendline/board"
)

const (
	writeWait  = 5 * time.Second
	silentMost = 6 * time.Second // the board beats every 2 s
	answerMost = 3 * time.Second // for a command; then another connection is tried
	cutsMost   = 5               // connections lost by one device before the run fails

	// As a phone does (frontend/core/live.js).
	connectMost = 5 * time.Second         // for a connection
	pauseFirst  = 500 * time.Millisecond  // the most before the first new one; then twice that …
	pauseMost   = 1500 * time.Millisecond // … up to this, and after a word that the board restarts
	healthyFor  = 30 * time.Second        // then the pauses begin anew
)

// device is one simulated device: its session, its socket and its copy of the
// board.
type device struct {
	name, pin string
	base      string // of the board, http://host:port
	client    *http.Client
	dialer    *websocket.Dialer
	frames    *frames

	token  string
	person board.PersonID

	cutsMost int // connections lost before the run fails

	writing sync.Mutex // one writer at a time on conn

	mu       sync.Mutex // guards what follows
	conn     *websocket.Conn
	copy     boardCopy
	pending  map[board.CommandID][]byte // sent and not answered
	receipts []receipt
	answers  []answer
	beats    int
	// forecasts that came.
	forecasts int
	cuts      int
	bytes     int64     // received in frames
	back      time.Time // when the newest connection brought the board, zero till then
}

// receipt is a revision's arrival: its patch, or nil when it came in a snapshot
// after the device had been cut.
type receipt struct {
	rev   board.Rev
	patch *patch
	at    time.Time
}

// answer is what the board said to one command.
type answer struct {
	id      board.CommandID
	rev     board.Rev
	refusal *board.Refusal
	at      time.Time
}

// address is where the n-th device, n ≥ 0, dials from: 127.0.1.1, 127.0.1.2, …
func address(n int) net.IP {
	const perNet = 250
	return net.IPv4(127, 0, byte(1+n/perNet), byte(1+n%perNet))
}

func newDevice(n int, base string, seed uint64, f *frames) *device {
	from := &net.Dialer{LocalAddr: &net.TCPAddr{IP: address(n)}, Timeout: dialPatience}
	rng := rand.New(rand.NewPCG(seed, uint64(n)))
	return &device{
		name: fmt.Sprintf("Crowd %d", n+1), pin: fmt.Sprintf("%06d", rng.IntN(1_000_000)), base: base,
		client: &http.Client{Transport: &http.Transport{DialContext: from.DialContext, DisableKeepAlives: true}, Timeout: 2 * dialPatience},
		dialer: &websocket.Dialer{NetDialContext: from.DialContext, HandshakeTimeout: connectMost, Subprotocols: []string{protocol}, ReadBufferSize: 4096, WriteBufferSize: 1024},
		frames: f, cutsMost: cutsMost, pending: map[board.CommandID][]byte{},
	}
}

// follow keeps the device connected until ctx ends. A connection that the board
// cuts is opened again, as a phone would do, with the revision it has.
func (d *device) follow(ctx context.Context) error {
	for tries := 0; ; tries++ {
		begun := time.Now()
		err := d.connected(ctx)
		if ctx.Err() != nil {
			return nil
		}
		if time.Since(begun) > healthyFor {
			tries = 0
		}
		d.mu.Lock()
		d.cuts++
		cuts, most := d.cuts, min(pauseMost, pauseFirst<<min(tries, 8))
		d.mu.Unlock()
		if errors.As(err, new(*wrong)) || cuts > d.cutsMost {
			return fmt.Errorf("%s: %w", d.name, err)
		}
		if websocket.IsCloseError(err, websocket.CloseGoingAway, websocket.CloseServiceRestart) {
			most = pauseMost
		}
		select {
		case <-time.After(rand.N(most)):
		case <-ctx.Done():
			return nil
		}
	}
}

// wrong is a fault of the board's that no new connection cures.
type wrong struct{ what string }

func (w *wrong) Error() string { return w.what }

// connected opens a connection and reads it until it ends.
func (d *device) connected(ctx context.Context) error {
	conn, response, err := d.dialer.DialContext(ctx, "ws"+strings.TrimPrefix(d.base, "http")+"/live", http.Header{"Authorization": {"Bearer " + d.token}})
	if err != nil {
		if response != nil {
			return fmt.Errorf("open /live: status %d: %w", response.StatusCode, err)
		}
		return fmt.Errorf("open /live: %w", err)
	}
	defer conn.Close()
	defer context.AfterFunc(ctx, func() { conn.Close() })()
	if conn.Subprotocol() != protocol {
		return &wrong{fmt.Sprintf("the board speaks %q, not %q", conn.Subprotocol(), protocol)}
	}
	if err := d.resume(conn); err != nil {
		return err
	}
	for {
		if err := d.read(conn); err != nil {
			return err
		}
	}
}

// resume says what the device has, and sends again what nobody answered.
func (d *device) resume(conn *websocket.Conn) error {
	d.mu.Lock()
	d.conn, d.back = conn, time.Time{}
	first, err := json.Marshal(resumeFrame{T: "resume", Epoch: d.copy.epoch, Rev: d.copy.rev})
	waiting := [][]byte{first}
	for id, frame := range d.pending {
		waiting = append(waiting, frame)
		d.awaits(conn, id)
	}
	d.mu.Unlock()
	for _, frame := range waiting {
		err = errors.Join(err, d.write(conn, frame))
	}
	return err
}

// awaits gives the connection up where the command has no answer in time.
func (d *device) awaits(conn *websocket.Conn, id board.CommandID) {
	time.AfterFunc(answerMost, func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		if d.pending[id] != nil && d.conn == conn {
			conn.Close()
		}
	})
}

func (d *device) read(conn *websocket.Conn) error {
	if err := conn.SetReadDeadline(time.Now().Add(silentMost)); err != nil {
		return fmt.Errorf("read: %w", err)
	}
	_, data, err := conn.ReadMessage()
	at := time.Now()
	if err != nil {
		return fmt.Errorf("read: %w", err)
	}
	m, err := d.frames.decode(data)
	if err != nil {
		return &wrong{err.Error()}
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.bytes += int64(len(data))
	return d.take(m, at)
}

// take makes a message the device's own. The caller holds mu.
func (d *device) take(m *message, at time.Time) error {
	if (m.T == "board" || m.T == "patches") && d.back.IsZero() {
		d.back = at
	}
	switch m.T {
	case "hello":
		if m.Proto != protocol {
			return &wrong{fmt.Sprintf("the board says hello in %q, not %q", m.Proto, protocol)}
		}
	case "beat":
		d.beats++
	case "forecast":
		d.forecasts++
	case "board":
		if m.Epoch == d.copy.epoch {
			for rev := d.copy.rev + 1; rev <= m.Rev; rev++ {
				d.receipts = append(d.receipts, receipt{rev, nil, at})
			}
		}
		d.copy.replace(m)
	case "patches":
		for _, p := range m.patches {
			if err := d.copy.apply(p); err != nil {
				return &wrong{err.Error()}
			}
			d.receipts = append(d.receipts, receipt{p.Rev, p, at})
		}
	case "ack", "refused":
		return d.answered(m, at)
	}
	return nil
}

func (d *device) answered(m *message, at time.Time) error {
	id, ok := board.ParseCommandID(m.ID)
	if !ok {
		return &wrong{fmt.Sprintf("an answer names the command %q, which is no version 7 UUID", m.ID)}
	}
	if m.T == "ack" && m.Rev > d.copy.rev {
		return &wrong{fmt.Sprintf("the answer of revision %d came before its patch", m.Rev)}
	}
	delete(d.pending, id)
	d.answers = append(d.answers, answer{id: id, rev: m.Rev, refusal: m.Refusal, at: at})
	return nil
}

// send gives a command. It tells when it was written; a connection that is gone
// is not an error, since the command goes again with the next one.
func (d *device) send(o order) (time.Time, error) {
	frame, err := json.Marshal(doFrame{T: "do", ID: o.id, Do: o.do, With: o.with})
	if err != nil {
		return time.Time{}, fmt.Errorf("write %s: %w", o.do, err)
	}
	d.mu.Lock()
	d.pending[o.id] = frame
	conn := d.conn
	d.awaits(conn, o.id)
	d.mu.Unlock()
	at := time.Now()
	_ = d.write(conn, frame) // the reader sees that the connection is gone
	return at, nil
}

// echo asks for the time, as a phone does for its clock, and makes nothing of it.
func (d *device) echo() error {
	frame, err := json.Marshal(echoFrame{T: "echo", Sent: time.Now().UnixMilli()})
	if err != nil {
		return fmt.Errorf("write echo: %w", err)
	}
	d.mu.Lock()
	conn := d.conn
	d.mu.Unlock()
	_ = d.write(conn, frame) // the reader sees that the connection is gone
	return nil
}

func (d *device) write(conn *websocket.Conn, frame []byte) error {
	d.writing.Lock()
	defer d.writing.Unlock()
	if err := conn.SetWriteDeadline(time.Now().Add(writeWait)); err != nil {
		return fmt.Errorf("write: %w", err)
	}
	if err := conn.WriteMessage(websocket.TextMessage, frame); err != nil {
		return fmt.Errorf("write: %w", err)
	}
	return nil
}

// at is the epoch and revision the device has.
func (d *device) at() (epoch string, rev board.Rev) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.copy.epoch, d.copy.rev
}

// backSince is when the newest connection brought the board; false while none has.
func (d *device) backSince() (epoch string, at time.Time, ok bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.copy.epoch, d.back, !d.back.IsZero()
}

// waiting is how many commands have no answer yet.
func (d *device) waiting() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.pending)
}

// collect hands over what came since it was last asked.
func (d *device) collect() ([]receipt, []answer) {
	d.mu.Lock()
	defer d.mu.Unlock()
	r, a := d.receipts, d.answers
	d.receipts, d.answers = nil, nil
	return r, a
}

// traffic is how often the device was cut, and the bytes it received in frames.
func (d *device) traffic() (cuts int, bytes int64) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.cuts, d.bytes
}

// foretold is how many forecasts the device has had.
func (d *device) foretold() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.forecasts
}

// beaten is how many beats the device has had.
func (d *device) beaten() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.beats
}

// keys names the nouns the device has, in order.
func (d *device) keys() []board.Key {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Sorted(maps.Keys(d.copy.nouns))
}
