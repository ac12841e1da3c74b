package main

import (
	"fmt"
	"sync"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

// protocol is the subprotocol of the socket.
const protocol = "mendline.v1"

// message is whatever the board sends. A device shares its messages with others
// and changes nothing in them.
type message struct {
	T     string                       `json:"t"`
	Proto string                       `json:"proto"` // hello
	Epoch string                       `json:"epoch"`
	Rev   board.Rev                    `json:"rev"`
	Put   map[board.Key]jsontext.Value `json:"put"`  // board
	List  []jsontext.Value             `json:"list"` // patches

	ID      string         `json:"id"` // ack, refused
	Refusal *board.Refusal `json:"refusal"`

	patches []*patch
}

// patch is what one command changed. Its raw text is what came over the wire.
type patch struct {
	Rev board.Rev                    `json:"rev"`
	By  board.PersonID               `json:"by"`
	Do  string                       `json:"do"`
	Put map[board.Key]jsontext.Value `json:"put"`
	Del []board.Key                  `json:"del"`

	raw jsontext.Value
}

func decode(data []byte) (*message, error) {
	m := &message{}
	if err := json.Unmarshal(data, m); err != nil {
		return nil, fmt.Errorf("read a frame: %w", err)
	}
	for _, raw := range m.List {
		p := &patch{raw: raw}
		if err := json.Unmarshal(raw, p); err != nil {
			return nil, fmt.Errorf("read a patch: %w", err)
		}
		m.patches = append(m.patches, p)
	}
	return m, nil
}

// frames decodes frames, once for all devices that receive the same bytes soon
// after each other: the crowd must not take the processor from the board.
type frames struct {
	mu    sync.Mutex
	known map[string]*message
	order [framesKept]string // oldest at next
	next  int
}

const (
	framesKept    = 256
	frameKeptMost = 32 << 10 // bytes; larger ones are decoded by each device
)

func newFrames() *frames { return &frames{known: map[string]*message{}} }

func (f *frames) decode(data []byte) (*message, error) {
	if len(data) > frameKeptMost {
		return decode(data)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if m, ok := f.known[string(data)]; ok {
		return m, nil
	}
	m, err := decode(data)
	if err != nil {
		return nil, err
	}
	delete(f.known, f.order[f.next])
	f.order[f.next] = string(data)
	f.known[f.order[f.next]] = m
	f.next = (f.next + 1) % framesKept
	return m, nil
}

// doFrame is one command on its way.
type doFrame struct {
	T    string          `json:"t"` // "do"
	ID   board.CommandID `json:"id"`
	Do   string          `json:"do"`
	With any             `json:"with"`
}

type resumeFrame struct {
	T     string    `json:"t"` // "resume"
	Epoch string    `json:"epoch"`
	Rev   board.Rev `json:"rev"`
}

type echoFrame struct {
	T    string `json:"t"` // "echo"
	Sent int64  `json:"sent"`
}
