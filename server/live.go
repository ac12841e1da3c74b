package server

import (
	"context"
	"errors"
	"net"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"

	"mendline/board"
	"mendline/server/desk"
)

const (
	messageMost = 64 << 10 // bytes of a client's message
	sendBuffer  = 64 << 10 // bytes the kernel keeps for a client that does not read
)

// waits of a socket: a peer that says nothing for read is gone, pings make a live
// one speak sooner, and one that takes no message for write is cut. One that was hung up on
// has close for its own close.
type waits struct{ ping, read, write, close time.Duration }

var usualWaits = waits{ping: 15 * time.Second, read: 40 * time.Second, write: 5 * time.Second, close: 2 * time.Second}

// writeBuffers are shared: an idle socket holds none.
var writeBuffers sync.Pool

// upgrader of sockets. A browser always says its page's origin, and no page can
// send a bearer token.
var upgrader = websocket.Upgrader{
	HandshakeTimeout: usualWaits.write,
	ReadBufferSize:   512,
	WriteBufferSize:  4096,
	WriteBufferPool:  &writeBuffers,
	Subprotocols:     []string{proto},
	CheckOrigin: func(r *http.Request) bool {
		if r.Header.Get("Origin") == "" {
			return bearer(r) != ""
		}
		return sameOrigin(r)
	},
}

// socket is one device's connection. Its handler reads; a writer that the handler
// starts sends what the follower has.
type socket struct {
	s       *Server
	conn    *websocket.Conn
	session *session
	role    board.Role

	follower *desk.Follower
	written  chan struct{} // closed when the follower's writer has ended

	// answering is true while the desk has a command of this device. Its patches come
	// before its answer, and nobody is hung up on between the two.
	answering atomic.Bool

	mu      sync.Mutex
	over    closeCode // why it was hung up, 0 while it was not
	ending  bool      // finish was called
	current *desk.Follower
}

// live speaks the protocol with one device until either side closes.
func (s *Server) live(w http.ResponseWriter, r *http.Request) {
	by, refusal := s.caller(r)
	conn, err := upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // Upgrade has answered
	}
	narrow(conn.NetConn())
	conn.SetReadLimit(messageMost)
	k := &socket{s: s, conn: conn, session: by.session, role: by.actor.Role}
	defer conn.Close()
	code := s.receive(k, refusal != nil)
	if code != 0 {
		s.o.Metrics.closed(code)
		k.hangUp(code)
		k.drain()
		return
	}
	defer s.sockets.leave()
	defer s.sessions.detach(k)
	s.o.Metrics.clients.Inc()
	defer s.o.Metrics.clients.Dec()
	s.o.Metrics.closed(k.run(by))
}

// receive lets a socket in, or says why not: a script in a browser can read a
// close code and no status of a failed upgrade.
func (s *Server) receive(k *socket, noSession bool) closeCode {
	switch {
	case k.conn.Subprotocol() != proto:
		return closeProtocol
	case noSession:
		return closeEnded
	case !s.sockets.enter():
		return closeRestarting
	}
	code := s.sessions.attach(k)
	if code == 0 && s.closing() {
		s.sessions.detach(k)
		code = closeRestarting
	}
	if code != 0 {
		s.sockets.leave()
	}
	return code
}

// run greets, reads until the end, and waits for the writer. It gives the close
// code.
func (k *socket) run(by caller) closeCode {
	k.renew()
	k.conn.SetPongHandler(func(string) error { k.renew(); return nil })
	err := k.send(k.hello(by))
	for err == nil {
		var b []byte
		if _, b, err = k.conn.ReadMessage(); err != nil {
			break
		}
		k.renew()
		err = k.take(b)
	}
	if k.follower != nil {
		k.follower.Close()
		k.conn.Close()
		<-k.written
	}
	return k.why(err)
}

// why is the code the socket closed with: ours, or else the peer's.
func (k *socket) why(err error) closeCode {
	k.mu.Lock()
	defer k.mu.Unlock()
	var peer *websocket.CloseError
	switch {
	case k.over != 0:
		return k.over
	case errors.Is(err, websocket.ErrReadLimit):
		return closeTooBig
	case errors.As(err, &peer):
		return closeCode(peer.Code)
	}
	return closeAbnormal
}

func (k *socket) hello(by caller) *desk.Frame {
	v := k.s.desk.View()
	return frame(HelloMessage{
		T: "hello", Proto: proto, Epoch: v.Epoch, Rev: v.State.Rev, From: v.From, Now: k.s.desk.Now(),
		Role: by.actor.Role, Person: by.actor.Person, Name: by.name, ReadOnly: v.ReadOnly, Clock: k.s.desk.ClockSaid(), Version: k.s.o.Version,
	})
}

// take acts on one message. An error ends the socket.
func (k *socket) take(b []byte) error {
	if k.hungUp() {
		return nil // the peer's close is all that is waited for
	}
	got := k.s.desk.Now()
	by, ok := k.s.standing(k.session)
	if !ok {
		k.hangUp(closeEnded)
		return nil
	}
	h := hear(b)
	switch {
	case h.refusal != nil:
		if !k.session.speed.AllowN(k.s.o.Now(), 1) {
			k.hangUp(closeFull)
			return nil
		}
		return k.reply(refusedFrame(h.id, h.refusal))
	case h.ask != nil:
		return k.command(by, *h.ask)
	case !k.session.speed.AllowN(k.s.o.Now(), 1):
		k.hangUp(closeFull)
		return nil
	case h.resume != nil:
		return k.resume(h.resume)
	}
	return k.reply(frame(EchoMessage{T: "echo", Sent: h.echo.Sent, Got: got, Now: k.s.desk.Now()}))
}

func (k *socket) command(by caller, ask Ask) error {
	if k.follower == nil {
		return k.send(refusedFrame(ask.ID, &board.Refusal{Code: board.CodeNotYet, Sentence: "Resume first, so that you see what you change."}))
	}
	q, refusal := k.s.request(k.s.life, by, ask)
	if refusal != nil {
		k.follower.Reply(refusedFrame(ask.ID, refusal))
		return nil
	}
	q.Follower = k.follower
	k.answering.Store(true)
	_, err := k.s.give(k.s.life, q)
	k.answering.Store(false)
	k.look(k.follower)
	k.renew()
	return err
}

// reply sends behind what the follower has, or at once where there is none yet
// and so no other writer.
func (k *socket) reply(f *desk.Frame) error {
	if k.follower == nil {
		return k.send(f)
	}
	k.follower.Reply(f)
	return nil
}

// resume follows the board from where the client is. A second one takes the place
// of the first, once what that still had is sent.
func (k *socket) resume(m *ResumeMessage) error {
	if k.follower != nil {
		k.follower.End(errResumed)
		<-k.written
		if k.hungUp() {
			return nil
		}
	}
	f, err := k.s.desk.Join(k.s.life, m.Epoch, m.Rev)
	if err != nil {
		k.hangUp(closeRestarting)
		k.follower = nil
		return nil
	}
	k.follower, k.written = f, make(chan struct{})
	go k.write(f, k.written) // ends with f, which run closes
	k.mu.Lock()
	defer k.mu.Unlock()
	k.current = f
	if k.ending {
		f.End(desk.ErrRestarting)
	}
	return nil
}

// write sends what f has until f ends.
func (k *socket) write(f *desk.Follower, written chan struct{}) {
	defer close(written)
	ping := time.Now().Add(k.s.o.ping)
	for {
		ctx, cancel := context.WithDeadline(context.Background(), ping)
		frames, err := f.Next(ctx)
		cancel()
		if err != nil && !errors.Is(err, context.DeadlineExceeded) {
			k.hangUp(codeFor(err))
			return
		}
		for _, m := range frames {
			if k.send(m) != nil {
				k.conn.Close()
				return
			}
		}
		if !time.Now().Before(ping) {
			ping = time.Now().Add(k.s.o.ping)
			if k.conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(k.s.o.write)) != nil {
				k.conn.Close()
				return
			}
		}
		if !k.answering.Load() {
			k.look(f)
		}
	}
}

// look ends the follower where the session has ended or the role is another: what
// waits, as the answer to the command that did it, still goes out.
func (k *socket) look(f *desk.Follower) {
	by, ok := k.s.standing(k.session)
	switch {
	case !ok:
		f.End(errEnded)
	case by.actor.Role != k.role:
		f.End(errRole)
	}
}

func (k *socket) send(f *desk.Frame) error {
	m := f.Prepared(prepare).(*websocket.PreparedMessage)
	k.conn.SetWriteDeadline(time.Now().Add(k.s.o.write))
	return k.conn.WritePreparedMessage(m)
}

func prepare(data []byte) any {
	m, err := websocket.NewPreparedMessage(websocket.TextMessage, data)
	if err != nil {
		panic("server: prepare message: " + err.Error())
	}
	return m
}

// hangUp says why and lets the handler end with the peer's own close, or soon
// without it. Any goroutine may call it; the first code counts, 0 is none.
func (k *socket) hangUp(code closeCode) {
	k.mu.Lock()
	first := k.over == 0 && code != 0
	if first {
		k.over = code
	}
	k.mu.Unlock()
	if !first {
		return
	}
	words := websocket.FormatCloseMessage(int(code), closeWords[code])
	if k.conn.WriteControl(websocket.CloseMessage, words, time.Now().Add(k.s.o.close)) != nil {
		k.conn.Close()
		return
	}
	k.conn.SetReadDeadline(time.Now().Add(k.s.o.close))
}

func (k *socket) hungUp() bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.over != 0
}

// finish hangs up for a restart, behind what the follower still has.
func (k *socket) finish() {
	k.mu.Lock()
	k.ending = true
	f := k.current
	k.mu.Unlock()
	if f == nil {
		k.hangUp(closeRestarting)
		return
	}
	f.End(desk.ErrRestarting)
}

// renew gives the peer its time again, unless the socket was hung up.
func (k *socket) renew() {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.over == 0 {
		k.conn.SetReadDeadline(time.Now().Add(k.s.o.read))
	}
}

// drain reads until the peer closes or its time is over: to close on what it has
// sent would take the close code from it.
func (k *socket) drain() {
	for {
		if _, _, err := k.conn.NextReader(); err != nil {
			return
		}
	}
}

// narrow bounds what the kernel keeps for a client that does not read.
func narrow(c net.Conn) {
	for {
		switch t := c.(type) {
		case *net.TCPConn:
			t.SetWriteBuffer(sendBuffer)
			sendAgainSoon(t)
			return
		case interface{ NetConn() net.Conn }:
			c = t.NetConn()
		default:
			return
		}
	}
}
