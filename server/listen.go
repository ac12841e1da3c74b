package server

import (
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"sync"
	"time"
)

// Limits of connections, and how long one may take.
const (
	connectionsMost       = 2500
	connectionsPerAddress = 64

	headerWait  = 5 * time.Second
	requestWait = 15 * time.Second
	answerWait  = 30 * time.Second
	idleWait    = 60 * time.Second
	headerMost  = 16 << 10 // bytes
)

// HTTP is the server for addr, with all its limits. Give it a listener that
// Limited has wrapped.
func (s *Server) HTTP(addr string) *http.Server {
	var protocols http.Protocols
	protocols.SetHTTP1(true) // a socket needs it
	return &http.Server{
		Addr: addr, Handler: s.handler, Protocols: &protocols,
		ReadHeaderTimeout: headerWait, ReadTimeout: requestWait, WriteTimeout: answerWait, IdleTimeout: idleWait,
		MaxHeaderBytes: headerMost, DisableGeneralOptionsHandler: true, ErrorLog: slog.NewLogLogger(s.log.Handler(), slog.LevelWarn),
	}
}

// Limited closes connections of l that are too many, in all or from one address.
func Limited(l net.Listener) net.Listener {
	return &limited{Listener: l, most: connectionsMost, perAddress: connectionsPerAddress, from: map[netip.Addr]int{}}
}

type limited struct {
	net.Listener
	most, perAddress int

	mu   sync.Mutex
	all  int
	from map[netip.Addr]int
}

// Accept gives the next connection there is room for.
func (l *limited) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		from := addressOf(c.RemoteAddr().String())
		if l.enter(from) {
			return &countedConn{Conn: c, leave: sync.OnceFunc(func() { l.leave(from) })}, nil
		}
		c.Close()
	}
}

func (l *limited) enter(from netip.Addr) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.all >= l.most || l.from[from] >= l.perAddress {
		return false
	}
	l.all++
	l.from[from]++
	return true
}

func (l *limited) leave(from netip.Addr) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all--
	if l.from[from]--; l.from[from] == 0 {
		delete(l.from, from)
	}
}

// countedConn gives its place back when it is closed.
type countedConn struct {
	net.Conn
	leave func()
}

// Close closes the connection.
func (c *countedConn) Close() error {
	c.leave()
	return c.Conn.Close()
}

// NetConn is the connection itself.
func (c *countedConn) NetConn() net.Conn { return c.Conn }
