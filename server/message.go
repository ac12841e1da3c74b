package server

import (
	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/server/desk"
)

// proto is the subprotocol.
const proto = "mendline.v1"

// HelloMessage is a socket's first. From is the oldest revision whose patch is
// kept.
type HelloMessage struct {
	T        string         `json:"t"` // "hello"
	Proto    string         `json:"proto"`
	Epoch    string         `json:"epoch"`
	Rev      board.Rev      `json:"rev"`
	From     board.Rev      `json:"from"`
	Now      board.Moment   `json:"now"`
	Role     board.Role     `json:"role"`
	Person   board.PersonID `json:"person,omitzero"`
	Name     string         `json:"name,omitzero"`
	ReadOnly string         `json:"readOnly,omitzero"`
	Clock    string         `json:"clock,omitzero"` // how far the laptop's is off the board's time
	Version  string         `json:"version"`
}

// ResumeMessage is a client's first: the epoch and revision it has, "" and 0 for
// none.
type ResumeMessage struct {
	T     string    `json:"t"` // "resume"
	Epoch string    `json:"epoch"`
	Rev   board.Rev `json:"rev"`
}

// DoMessage is a command.
type DoMessage struct {
	T string `json:"t"` // "do"
	Ask
}

// AskEchoMessage asks for the time. Sent is the client's own clock, in any unit,
// and comes back.
type AskEchoMessage struct {
	T    string  `json:"t"` // "echo"
	Sent float64 `json:"sent"`
}

// EchoMessage answers AskEchoMessage: when it came and when this left.
type EchoMessage struct {
	T    string       `json:"t"` // "echo"
	Sent float64      `json:"sent"`
	Got  board.Moment `json:"got"`
	Now  board.Moment `json:"now"`
}

// refusedMessage is desk.RefusedMessage for an id that may be none.
type refusedMessage struct {
	T       string         `json:"t"` // "refused"
	ID      string         `json:"id"`
	Refusal *board.Refusal `json:"refusal"`
}

func refusedFrame(id string, bad *board.Refusal) *desk.Frame {
	return frame(refusedMessage{T: "refused", ID: id, Refusal: bad})
}

func frame(message any) *desk.Frame {
	b, err := json.Marshal(message, json.Deterministic(true))
	if err != nil {
		panic("server: encode message: " + err.Error())
	}
	return &desk.Frame{Data: b}
}

// heard is a client's message, one of its members set, or the refusal of what is
// none. ID is the command's where one could be found.
type heard struct {
	resume  *ResumeMessage
	echo    *AskEchoMessage
	ask     *Ask
	id      string
	refusal *board.Refusal
}

func hear(b []byte) heard {
	var head struct {
		T  string `json:"t"`
		ID string `json:"id"`
	}
	// What is odd beside t and id is found below, by the message's own reading.
	if err := json.Unmarshal(b, &head); err != nil {
		return heard{id: head.ID, refusal: unreadable(err)}
	}
	h := heard{id: head.ID}
	switch head.T {
	case "resume":
		h.resume = &ResumeMessage{}
		h.refusal = parse(b, h.resume)
	case "echo":
		h.echo = &AskEchoMessage{}
		h.refusal = parse(b, h.echo)
	case "do":
		var m DoMessage
		h.refusal = parse(b, &m)
		h.ask = &m.Ask
	default:
		h.refusal = &board.Refusal{Code: board.CodeMalformed, Field: "t", Sentence: "There is no message of this kind. The page may be older than the board: refresh it."}
	}
	return h
}
