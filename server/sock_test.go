package server

import (
	"net/http"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
)

// patience of a test for what must come; nothing waits so long unless it fails.
const testWait = 20 * time.Second

// message is any message of the server.
type message struct {
	T        string                       `json:"t"`
	Proto    string                       `json:"proto"`
	Epoch    string                       `json:"epoch"`
	Rev      board.Rev                    `json:"rev"`
	From     board.Rev                    `json:"from"`
	At       board.Moment                 `json:"at"`
	Now      board.Moment                 `json:"now"`
	Got      board.Moment                 `json:"got"`
	Sent     float64                      `json:"sent"`
	Role     board.Role                   `json:"role"`
	Person   board.PersonID               `json:"person"`
	Name     string                       `json:"name"`
	ReadOnly string                       `json:"readOnly"`
	Clock    string                       `json:"clock"`
	Version  string                       `json:"version"`
	ID       string                       `json:"id"`
	Refusal  *board.Refusal               `json:"refusal"`
	Entity   jsontext.Value               `json:"entity"`
	Put      map[board.Key]jsontext.Value `json:"put"`
	Del      []board.Key                  `json:"del"`
	List     []desk.Patch                 `json:"list"`
	Seq      uint64                       `json:"seq"`
	Of       board.Rev                    `json:"of"`
	Whole    bool                         `json:"whole"`
}

// sock is a device's socket, as a script opens it.
type sock struct {
	p    *pit
	t    testing.TB
	conn *websocket.Conn
}

func (p *pit) dialWith(h http.Header, protocols ...string) (*sock, *http.Response, error) {
	d := websocket.Dialer{Subprotocols: protocols, HandshakeTimeout: testWait}
	conn, res, err := d.Dial("ws://"+p.addr+"/live", h)
	if err != nil {
		return nil, res, err
	}
	p.t.Cleanup(func() { conn.Close() })
	return &sock{p: p, t: p.t, conn: conn}, res, nil
}

func (p *pit) dial(d device) *sock {
	p.t.Helper()
	k, _, err := p.dialWith(http.Header{"Authorization": {"Bearer " + d.token}}, proto)
	require.NoError(p.t, err)
	return k
}

func (k *sock) say(m any) {
	k.t.Helper()
	require.NoError(k.t, k.conn.WriteMessage(websocket.TextMessage, encode(k.t, m)))
}

func (k *sock) next() (message, error) { return k.nextBy(time.Now().Add(testWait)) }

func (k *sock) nextBy(end time.Time) (message, error) {
	k.conn.SetReadDeadline(end)
	_, b, err := k.conn.ReadMessage()
	if err != nil {
		return message{}, err
	}
	var m message
	return m, json.Unmarshal(b, &m)
}

// await reads on to a message of the kind.
func (k *sock) await(kind string) message {
	k.t.Helper()
	for end := time.Now().Add(testWait); ; {
		m, err := k.nextBy(end)
		require.NoError(k.t, err, "while waiting for %s", kind)
		if m.T == kind {
			return m
		}
	}
}

// resume reads hello, asks to go on from rev, and gives what comes first.
func (k *sock) resume(epoch string, rev board.Rev) message {
	k.t.Helper()
	k.await("hello")
	k.say(ResumeMessage{T: "resume", Epoch: epoch, Rev: rev})
	return k.first()
}

// first is the next board or patches.
func (k *sock) first() message {
	k.t.Helper()
	for end := time.Now().Add(testWait); ; {
		m, err := k.nextBy(end)
		require.NoError(k.t, err)
		if m.T == "board" || m.T == "patches" {
			return m
		}
	}
}

// closed reads to the end and gives the close code.
func (k *sock) closed() int {
	k.t.Helper()
	for end := time.Now().Add(testWait); ; {
		if _, err := k.nextBy(end); err != nil {
			var said *websocket.CloseError
			require.ErrorAs(k.t, err, &said)
			return said.Code
		}
	}
}

// do gives a command over the socket and waits for its answer.
func (k *sock) do(ask Ask) message {
	k.t.Helper()
	k.say(DoMessage{T: "do", Ask: ask})
	for end := time.Now().Add(testWait); ; {
		m, err := k.nextBy(end)
		require.NoError(k.t, err)
		if (m.T == "ack" || m.T == "refused") && m.ID == ask.ID {
			return m
		}
	}
}
