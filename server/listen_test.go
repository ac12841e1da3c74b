package server

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/require"
)

func TestASlowHeaderIsCutOff(t *testing.T) {
	p := newPitWith(t, with{http: func(h *http.Server) { h.ReadHeaderTimeout = 50 * time.Millisecond }})
	c, err := net.Dial("tcp", p.addr)
	require.NoError(t, err)
	defer c.Close()
	fmt.Fprintf(c, "GET /healthz HTTP/1.1\r\nHost: %s\r\n", p.addr) // and no end
	require.NoError(t, c.SetReadDeadline(time.Now().Add(testWait)))
	_, err = io.ReadAll(c)
	require.NoError(t, err, "the server closes, we did not wait in vain")
	p.nobody().get("/healthz").ok()
}

// The certificate is the test server's own.
func TestTheBoardSpeaksOverTLS(t *testing.T) {
	p := newPitWith(t, with{options: func(o *Options) { o.TLS = true }})
	token := p.wall().token
	h := httptest.NewUnstartedServer(p.s.handler)
	h.Listener = Limited(h.Listener)
	h.StartTLS()
	t.Cleanup(h.Close)
	roots := h.Client().Transport.(*http.Transport).TLSClientConfig
	d := websocket.Dialer{Subprotocols: []string{proto}, TLSClientConfig: roots}
	addr := h.Listener.Addr().String()
	conn, _, err := d.Dial("wss://"+addr+"/live", http.Header{"Cookie": {"__Host-mendline=" + token}, "Origin": {"https://" + addr}})
	require.NoError(t, err)
	t.Cleanup(func() { conn.Close() })
	k := &sock{p: p, t: t, conn: conn}
	require.Equal(t, "board", k.resume("", 0).T)
	_, res, err := d.Dial("wss://"+addr+"/live", http.Header{"Cookie": {"__Host-mendline=" + token}, "Origin": {"https://elsewhere.example"}})
	require.Error(t, err)
	require.Equal(t, http.StatusForbidden, res.StatusCode)
}

func TestTheServerHasItsLimits(t *testing.T) {
	h := newPit(t).s.HTTP("127.0.0.1:0")
	require.Equal(t, 5*time.Second, h.ReadHeaderTimeout)
	require.Equal(t, 15*time.Second, h.ReadTimeout)
	require.Equal(t, 30*time.Second, h.WriteTimeout)
	require.Equal(t, 60*time.Second, h.IdleTimeout)
	require.Equal(t, 16<<10, h.MaxHeaderBytes)
}

// closedAtOnce reads to the end: true where the server closed without a word.
func closedAtOnce(t *testing.T, c net.Conn) bool {
	t.Helper()
	fmt.Fprint(c, "GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")
	require.NoError(t, c.SetReadDeadline(time.Now().Add(testWait)))
	b, _ := io.ReadAll(c)
	return len(b) == 0
}

func TestConnectionsAreFewAnAddressAndInAll(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	small := &limited{Listener: l, most: 3, perAddress: 2, from: map[netip.Addr]int{}}
	h := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { io.WriteString(w, "here") })}
	done := make(chan error, 1)
	go func() { done <- h.Serve(small) }()
	t.Cleanup(func() {
		require.NoError(t, h.Close())
		require.ErrorIs(t, <-done, http.ErrServerClosed)
	})
	dial := func(from string) net.Conn {
		d := net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP(from)}}
		c, err := d.Dial("tcp", l.Addr().String())
		require.NoError(t, err)
		t.Cleanup(func() { c.Close() })
		return c
	}
	one, two := dial("127.0.0.1"), dial("127.0.0.1")
	require.True(t, closedAtOnce(t, dial("127.0.0.1")), "the third of one address")
	other := dial("127.0.0.2")
	require.True(t, closedAtOnce(t, dial("127.0.0.3")), "the fourth in all")
	require.False(t, closedAtOnce(t, one))
	require.False(t, closedAtOnce(t, other))
	require.Eventually(t, func() bool { return !closedAtOnce(t, dial("127.0.0.3")) }, testWait, time.Millisecond, "their places are free again")
	require.False(t, closedAtOnce(t, two))
}
