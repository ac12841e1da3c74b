package desk

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/server/store"
)

// Request is one command as it came from a device. The desk keeps With, Seen and
// the pairs; nobody may change them afterwards.
type Request struct {
	ID   board.CommandID
	Do   string
	With []byte // the fields, JSON; empty for none
	Seen map[board.Key]board.Rev
	At   board.Moment // when the person did it, 0 for now
	// ShiftSec goes with At, see board.Ask.
	ShiftSec int
	// Actor is who asks, as the server knows it.
	Actor board.Actor
	// Follower, where there is one, gets an ack or refused frame too: an ack
	// stands behind the patch of the same revision.
	Follower *Follower
	// Secrets and Sessions are written in the command's transaction, if it is
	// accepted; a nil Value deletes.
	Secrets  []store.KV
	Sessions []store.KV
}

// Answer is what became of a request: Rev, or Refusal.
type Answer struct {
	Rev     board.Rev
	Refusal *board.Refusal
	// Entity is the noun as it stands, where the refusal is board.CodeStale.
	Entity board.Noun
}

// request is a Request that could be read.
type request struct {
	Request
	command board.Command
	body    [sha256.Size]byte
	own     bool        // the desk itself asks, once
	answer  chan Answer // one slot
}

// Do gives the board a command and waits for the answer. A command id that was
// done before gets its first answer again.
//
// The error is ctx's own: then nobody knows whether the command was done, and it
// may be sent again under the same id.
func (d *Desk) Do(ctx context.Context, r Request) (Answer, error) {
	q, refusal := read(r)
	if refusal != nil {
		return d.refuse(r, refusal), nil
	}
	select {
	case d.requests <- q:
	case <-d.stopping:
		return d.refuse(r, Restarting()), nil
	case <-ctx.Done():
		return Answer{}, ctx.Err()
	}
	select {
	case a := <-q.answer:
		return a, nil
	case <-ctx.Done():
		return Answer{}, ctx.Err()
	}
}

// refuse answers a request that never reached the desk.
func (d *Desk) refuse(r Request, refusal *board.Refusal) Answer {
	a := Answer{Refusal: refusal}
	do := r.Do
	if refusal.Code == board.CodeUnknown {
		do = "unknown"
	}
	d.o.Metrics.Command(do, string(refusal.Code))
	if r.Follower != nil {
		r.Follower.reply(answerFrame(r.ID, a))
	}
	return a
}

func read(r Request) (*request, *board.Refusal) {
	if len(bytes.TrimSpace(r.With)) == 0 {
		r.With = nil
	}
	c, refusal := board.Decode(r.Do, r.With)
	if refusal != nil {
		return nil, refusal
	}
	body, err := bodyOf(r)
	if err != nil {
		return nil, &board.Refusal{Code: board.CodeMalformed, Field: "with", Sentence: "The command could not be read: " + err.Error() + "."}
	}
	return &request{Request: r, command: c, body: body, answer: make(chan Answer, 1)}, nil
}

// bodyOf hashes what was asked, however its JSON was spaced and ordered.
func bodyOf(r Request) ([sha256.Size]byte, error) {
	with := jsontext.Value(append([]byte(nil), r.With...))
	if len(with) == 0 {
		with = jsontext.Value("{}")
	}
	if err := with.Canonicalize(); err != nil {
		return [sha256.Size]byte{}, err
	}
	b, err := json.Marshal(struct {
		Do   string
		With jsontext.Value
		At   board.Moment
		Seen map[board.Key]board.Rev
	}{r.Do, with, r.At, r.Seen}, json.Deterministic(true))
	return sha256.Sum256(b), err
}

// actorOf names who may ask again under the same id: the person, or on a screen
// that nobody has claimed the role.
func actorOf(a board.Actor) string {
	if a.Person != "" {
		return "person/" + string(a.Person)
	}
	return "role/" + string(a.Role)
}

// ErrRestarting is the end of a follower, and the answer to who joins, when the
// desk stops.
var ErrRestarting = errors.New("the board is restarting")

// Restarting is the answer to those who ask while the board stops.
func Restarting() *board.Refusal {
	return &board.Refusal{Code: board.CodeRestarting, Sentence: "The board is restarting. Nothing is lost: send it again in a moment."}
}

func tooLate() *board.Refusal {
	return &board.Refusal{Code: board.CodeTooLate, Field: "id",
		Sentence: "This waited longer than the board remembers, so nobody can say whether it was done. Look at the board, and do it again if it is still needed."}
}

func idReused() *board.Refusal {
	return &board.Refusal{Code: board.CodeIDReused, Field: "id",
		Sentence: "This command id was used for something else. Refresh the page, then do it once more."}
}

func ownFault() *board.Refusal {
	return &board.Refusal{Code: board.CodeState,
		Sentence: "The board made a mistake of its own here. Nothing was changed. Do it another way and tell the person who looks after the board."}
}
