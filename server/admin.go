package server

import (
	"crypto/sha256"
	"crypto/subtle"
	"net/http"
	"time"

	"mendline/board"
	"mendline/server/desk"
)

// adminWait bounds what the administrator asks for: a copy of a large board.
const adminWait = 5 * time.Minute

// admin lets in who has the administrator's token, from this machine only.
func (s *Server) admin(h http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		switch {
		case !isLoopback(r):
			refuse(w, forbidden("This can only be done on the board's own machine."))
		case !s.isAdmin(r):
			refuse(w, noSession())
		default:
			patience(w, adminWait)
			h(w, r)
		}
	}
}

func (s *Server) isAdmin(r *http.Request) bool {
	given, own := sha256.Sum256([]byte(bearer(r))), sha256.Sum256([]byte(s.o.AdminToken))
	return s.o.AdminToken != "" && subtle.ConstantTimeCompare(given[:], own[:]) == 1
}

// adminLoad fills an empty board: a team.load, as the captain, of any size.
func (s *Server) adminLoad(w http.ResponseWriter, r *http.Request) {
	var ask Ask
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	id, ok := board.ParseCommandID(ask.ID)
	switch load := board.Name(board.TeamLoad{}); {
	case !ok:
		refuse(w, badCommandID())
	case ask.Do != load:
		refuse(w, &board.Refusal{Code: board.CodeBadField, Field: "do", Sentence: "Here a team is loaded: " + load + " and nothing else."})
	default:
		s.answer(w, r, desk.Request{ID: id, Do: ask.Do, With: ask.With, Actor: board.Actor{Role: board.RoleCaptain}})
	}
}

// CheckAnswer is what an examination of the board's file found.
type CheckAnswer struct {
	OK    bool      `json:"ok"`
	Rev   board.Rev `json:"rev"`
	Bytes int64     `json:"bytes"`
	Nouns int       `json:"nouns"`
	Lines int       `json:"lines"` // of the journal
	// Damage: the file's structure does not hold. Faults: journal and nouns
	// disagree.
	Damage []string `json:"damage"`
	Faults []string `json:"faults"`
}

func (s *Server) adminCheck(w http.ResponseWriter, _ *http.Request) {
	r, err := s.desk.Store().Check()
	if err != nil {
		s.log.Error("check", "error", err)
		refuse(w, cannotRead())
		return
	}
	writeJSON(w, http.StatusOK, CheckAnswer{
		OK: r.Err() == nil, Rev: board.Rev(r.Rev), Bytes: r.Bytes, Nouns: r.Nouns, Lines: r.Lines, Damage: r.Damage, Faults: r.Faults,
	})
}
