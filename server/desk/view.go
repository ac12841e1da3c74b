package desk

import (
	"sync"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

// View is the board as last acknowledged. It never changes; any goroutine may
// read it.
type View struct {
	State board.State
	// At is the moment of the last change, 0 on an empty board.
	At board.Moment
	// Epoch is a new UUID at every start and every Again.
	Epoch string
	// From is the oldest revision whose patch is kept: who has From−1 or later of
	// this epoch gets patches, who has less a snapshot. With none kept it is the
	// next revision.
	From board.Rev
	// ReadOnly says why the board takes no commands, or is "".
	ReadOnly string
	// Rescued is the copy that was written when the board's file had gone from its
	// place, or "".
	Rescued string

	snapshot *snapshot // shared by the views of one revision
}

// Snapshot is the board message: encoded when first asked for, then kept with
// the view.
func (v *View) Snapshot() *Frame { return v.snapshot.frame(v) }

type snapshot struct {
	once sync.Once
	made *Frame
}

func (s *snapshot) frame(v *View) *Frame {
	s.once.Do(func() { s.made = boardFrame(v) })
	return s.made
}

func boardFrame(v *View) *Frame {
	nouns := v.State.Nouns()
	put := make(map[board.Key]jsontext.Value, len(nouns))
	for _, n := range nouns {
		put[n.Key()] = board.Encode(n)
	}
	return frame(BoardMessage{T: "board", Epoch: v.Epoch, Rev: v.State.Rev, At: v.At, Put: put})
}

// frame encodes a message of the wire. A message that has no encoding is the
// program's own fault.
func frame(message any) *Frame {
	b, err := json.Marshal(message, json.Deterministic(true))
	if err != nil {
		panic("desk: encode message: " + err.Error())
	}
	return &Frame{Data: b}
}
