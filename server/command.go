package server

import (
	"context"
	"fmt"
	"net/http"

	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/server/desk"
)

// pinsMost is how many people can sign one command besides its sender.
const pinsMost = 4

// Ask is one command as a device sends it, by POST /api/do or over the socket.
type Ask struct {
	ID   string                  `json:"id"` // UUID, version 7
	Do   string                  `json:"do"`
	With jsontext.Value          `json:"with,omitzero"`
	Seen map[board.Key]board.Rev `json:"seen,omitempty"`
	// At is when the person did it, by the device's corrected clock.
	At board.Moment `json:"at,omitzero"`
	// ShiftSec is what the device had of the board's noun clock/clock when it read At.
	ShiftSec int   `json:"shiftSec,omitzero"`
	Pins     []Pin `json:"pins,omitempty"`
}

// Pin is a person's PIN, typed on a device that may be another's.
type Pin struct {
	Person board.PersonID `json:"person"`
	PIN    string         `json:"pin"`
}

// DoneAnswer says that a command is done and on disk.
type DoneAnswer struct {
	ID  board.CommandID `json:"id"`
	Rev board.Rev       `json:"rev"`
}

func (s *Server) do(w http.ResponseWriter, r *http.Request, by caller) {
	var ask Ask
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	q, refusal := s.request(r.Context(), by, ask)
	if refusal != nil {
		refuse(w, refusal)
		return
	}
	s.answer(w, r, q)
}

func (s *Server) answer(w http.ResponseWriter, r *http.Request, q desk.Request) {
	a, err := s.give(r.Context(), q)
	switch {
	case err != nil:
		refuse(w, desk.Restarting())
	case a.Refusal != nil:
		answer := RefusedAnswer{Refusal: a.Refusal}
		if a.Entity != nil {
			answer.Entity = board.Encode(a.Entity)
		}
		writeRefused(w, statusOf(a.Refusal.Code), answer)
	default:
		writeJSON(w, http.StatusOK, DoneAnswer{ID: q.ID, Rev: a.Rev})
	}
}

// request makes what the desk is asked of what a device asks: the actor is the
// session's, and who signed with a PIN has been checked. PINs end here.
func (s *Server) request(ctx context.Context, by caller, ask Ask) (desk.Request, *board.Refusal) {
	id, ok := board.ParseCommandID(ask.ID)
	switch {
	case by.actor.Role == board.RoleViewer:
		return desk.Request{}, forbidden("This screen only shows the board. Join with another code to change something.")
	case !ok:
		return desk.Request{}, badCommandID()
	case !by.session.speed.AllowN(s.o.Now(), 1):
		return desk.Request{}, tooFast()
	}
	proved, before, refusal := s.proved(ctx, by.session, ask.Pins)
	if refusal != nil {
		return desk.Request{}, refusal
	}
	by.actor.Proved, by.actor.Before = proved, before
	return desk.Request{ID: id, Do: ask.Do, With: ask.With, Seen: ask.Seen, At: ask.At, ShiftSec: ask.ShiftSec, Actor: by.actor}, nil
}

// tooFast says how many at once, so that a script can send that many.
func tooFast() *board.Refusal {
	return slowDown(fmt.Sprintf("One device may send %d things at once, and then %d a second. Wait a moment, then send this again.", commandsBurst, commandsPerSec))
}

func badCommandID() *board.Refusal {
	return &board.Refusal{Code: board.CodeBadField, Field: "id", Sentence: "The id of a command is a version 7 UUID in lower case."}
}

// proved lists the people whose PINs are right, and those who typed one that was
// forgotten. One wrong one refuses all.
func (s *Server) proved(ctx context.Context, on *session, list []Pin) ([]board.PersonID, []board.BeforePIN, *board.Refusal) {
	if len(list) > pinsMost {
		return nil, nil, &board.Refusal{Code: board.CodeBadField, Field: "pins", Sentence: "Four people at most sign one command."}
	}
	var people []board.PersonID
	var before []board.BeforePIN
	for _, given := range list {
		person, ok := s.desk.View().State.People[given.Person]
		if !ok || person.Retired {
			return nil, nil, &board.Refusal{Code: board.CodeUnknown, Field: "pins", Sentence: "There is no such person on the roster. Look again."}
		}
		_, until, refusal := s.pins.prove(ctx, person, given.PIN, guesser{on.ID, on.Network}, s.o.Now())
		switch {
		case refusal != nil:
			refusal.Field = "pins"
			return nil, nil, refusal
		case until != 0:
			before = append(before, board.BeforePIN{Person: person.ID, Until: until})
		default:
			people = append(people, person.ID)
		}
	}
	return people, before, nil
}

// give asks the desk, unless the server is closing: then its answer is as the
// desk's own would be.
func (s *Server) give(ctx context.Context, q desk.Request) (desk.Answer, error) {
	if !s.commands.enter() {
		a := desk.Answer{Refusal: desk.Restarting()}
		if q.Follower != nil {
			q.Follower.Reply(refusedFrame(q.ID.String(), a.Refusal))
		}
		return a, nil
	}
	defer s.commands.leave()
	return s.desk.Do(ctx, q)
}
