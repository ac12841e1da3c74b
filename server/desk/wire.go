package desk

import (
	"sync"

	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

// Frame is one message of the wire, JSON, ready to be sent. One Frame may go to
// many followers, so that it is prepared for a socket only once.
type Frame struct {
	Data []byte

	once     sync.Once
	prepared any
}

// Prepared is what make makes of the frame's data, made when first asked for and
// then kept with the frame. All callers must ask for the same thing.
func (f *Frame) Prepared(make func(data []byte) any) any {
	f.once.Do(func() { f.prepared = make(f.Data) })
	return f.prepared
}

// BoardMessage is the whole board at one revision.
type BoardMessage struct {
	T     string                       `json:"t"` // "board"
	Epoch string                       `json:"epoch"`
	Rev   board.Rev                    `json:"rev"`
	At    board.Moment                 `json:"at"`
	Put   map[board.Key]jsontext.Value `json:"put"`
}

// PatchesMessage is what commands changed, in the order of revisions, gapless.
type PatchesMessage struct {
	T    string  `json:"t"` // "patches"
	List []Patch `json:"list"`
}

// Patch is what one command changed.
type Patch struct {
	Rev board.Rev                    `json:"rev"`
	At  board.Moment                 `json:"at"`
	By  board.PersonID               `json:"by,omitzero"`
	Do  string                       `json:"do"`
	Put map[board.Key]jsontext.Value `json:"put,omitempty"`
	Del []board.Key                  `json:"del,omitempty"`
}

// AckMessage says that a command is done and on disk.
type AckMessage struct {
	T   string          `json:"t"` // "ack"
	ID  board.CommandID `json:"id"`
	Rev board.Rev       `json:"rev"`
}

// RefusedMessage says that a command may not happen. Entity is the noun as it
// stands where the command saw an older one.
type RefusedMessage struct {
	T       string          `json:"t"` // "refused"
	ID      board.CommandID `json:"id"`
	Refusal *board.Refusal  `json:"refusal"`
	Entity  jsontext.Value  `json:"entity,omitzero"`
}

// BeatMessage says that the board is there, what time it has, why it takes no
// commands, if it takes none, and how far the laptop's clock is off its time.
type BeatMessage struct {
	T        string       `json:"t"` // "beat"
	Now      board.Moment `json:"now"`
	ReadOnly string       `json:"readOnly,omitzero"`
	Clock    string       `json:"clock,omitzero"`
}

// ForecastMessage is the derived nouns: all of them, or those that changed since
// sequence number Seq−1. Seq counts from 1 in each epoch. Of is the revision they
// were computed from.
type ForecastMessage struct {
	T     string                       `json:"t"` // "forecast"
	Epoch string                       `json:"epoch"`
	Seq   uint64                       `json:"seq"`
	Of    board.Rev                    `json:"of"`
	At    board.Moment                 `json:"at"`
	Whole bool                         `json:"whole"`
	Put   map[board.Key]jsontext.Value `json:"put,omitempty"`
	Del   []board.Key                  `json:"del,omitempty"`
}

func answerFrame(id board.CommandID, a Answer) *Frame {
	if a.Refusal == nil {
		return frame(AckMessage{T: "ack", ID: id, Rev: a.Rev})
	}
	m := RefusedMessage{T: "refused", ID: id, Refusal: a.Refusal}
	if a.Entity != nil {
		m.Entity = board.Encode(a.Entity)
	}
	return frame(m)
}

// patchesFrame joins patches that are encoded already.
func patchesFrame(patches []patch) *Frame {
	b := []byte(`{"t":"patches","list":[`)
	for i, p := range patches {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, p.json...)
	}
	return &Frame{Data: append(b, "]}"...)}
}
