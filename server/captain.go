package server

import (
	"errors"
	"net/http"
	"slices"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

// sessionsAnswer lists the devices that have joined.
type sessionsAnswer struct {
	Sessions []sessionEntry `json:"sessions"`
}

type sessionEntry struct {
	ID     string         `json:"id"`
	Role   board.Role     `json:"role"` // now, on the roster
	Code   board.Role     `json:"code"` // of the code it joined with
	Person board.PersonID `json:"person,omitzero"`
	Name   string         `json:"name,omitzero"`
	Since  board.Moment   `json:"since"`
	// Seen is when it last asked or connected, Sockets how many it has open.
	Seen    board.Moment `json:"seen"`
	Sockets int          `json:"sockets"`
	// Mine is the session that asks.
	Mine bool `json:"mine"`
}

func (s *Server) listSessions(w http.ResponseWriter, _ *http.Request, by caller) {
	now := s.o.Now()
	a := sessionsAnswer{Sessions: []sessionEntry{}}
	for _, n := range s.sessions.where(func(n *session) bool { return !n.over(now) }) {
		e := sessionEntry{
			ID: n.ID, Role: n.Role, Code: n.Role, Person: n.Person, Since: n.Since, Seen: board.Moment(n.seen.Load()),
			Sockets: s.sessions.socketsOf(n), Mine: n == by.session,
		}
		if person, ok := s.desk.View().State.People[n.Person]; ok {
			e.Role, e.Name = person.Role, person.Name
		}
		a.Sessions = append(a.Sessions, e)
	}
	writeJSON(w, http.StatusOK, a)
}

// endedAnswer says how many sessions were ended.
type endedAnswer struct {
	Ended int `json:"ended"`
}

// endSessions ends one session, or all that joined with a role's code, or all that are
// not connected; of many, never the one that asks.
func (s *Server) endSessions(w http.ResponseWriter, r *http.Request, by caller) {
	var ask struct {
		Session string     `json:"session"`
		Role    board.Role `json:"role"`
		Unused  bool       `json:"unused"`
	}
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	var found []*session
	switch {
	case ask.Role != "":
		found = s.sessions.where(func(n *session) bool { return n.Role == ask.Role && n != by.session })
	case ask.Unused:
		found = s.sessions.where(func(n *session) bool { return len(n.sockets) == 0 && n != by.session })
	default:
		found = s.sessions.where(func(n *session) bool { return n.ID == ask.Session })
		if len(found) == 0 {
			refuse(w, &board.Refusal{Code: board.CodeUnknown, Field: "session", Sentence: "There is no such session: it may have ended. Look again."})
			return
		}
	}
	if err := s.end(found...); err != nil {
		s.log.Error("end sessions", "error", err)
		refuse(w, notWritten())
		return
	}
	writeJSON(w, http.StatusOK, endedAnswer{len(found)})
}

// codesAnswer lists the join codes.
type codesAnswer struct {
	Codes []codeEntry `json:"codes"`
}

type codeEntry struct {
	Role board.Role `json:"role"`
	Code string     `json:"code"`
}

func (s *Server) listCodes(w http.ResponseWriter, _ *http.Request, _ caller) {
	all := s.codes.all()
	a := codesAnswer{}
	for _, role := range joinRoles {
		a.Codes = append(a.Codes, codeEntry{Role: role, Code: all[role]})
	}
	writeJSON(w, http.StatusOK, a)
}

// changeCode gives a role another code. Whoever has joined stays.
func (s *Server) changeCode(w http.ResponseWriter, r *http.Request, by caller) {
	var ask struct {
		Role board.Role `json:"role"`
	}
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	if !slices.Contains(joinRoles[:], ask.Role) {
		refuse(w, &board.Refusal{Code: board.CodeBadField, Field: "role", Sentence: "Say whose code: one of captain, safety, crew, viewer."})
		return
	}
	code, err := s.codes.change(ask.Role)
	if err != nil {
		s.log.Error("change code", "error", err)
		refuse(w, notWritten())
		return
	}
	s.log.Info("join code changed", "role", ask.Role, "by", by.actor.Person)
	writeJSON(w, http.StatusOK, codeEntry{Role: ask.Role, Code: code})
}

// firstPIN lets a signer without a device set their PIN on the captain's. The board keeps
// whose device it was. A PIN that was forgotten is set anew in the same way.
func (s *Server) firstPIN(w http.ResponseWriter, r *http.Request, by caller) {
	var ask struct {
		Person board.PersonID `json:"person"`
		PIN    string         `json:"pin"`
	}
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	if !isPIN(ask.PIN) {
		refuse(w, needPIN("A PIN has six digits. Type it again."))
		return
	}
	person, refusal := s.mayHaveFirst(ask.Person)
	var rec pinRecord
	if refusal == nil {
		rec, refusal = s.newPIN(r, ask.PIN)
	}
	if refusal == nil {
		refusal = s.keepFirst(person.ID, rec, by)
	}
	if refusal != nil {
		refuse(w, refusal)
		return
	}
	s.log.Info("PIN set on the captain's device", "person", person.ID, "by", by.actor.Person)
	writeJSON(w, http.StatusOK, struct{}{})
}

func (s *Server) mayHaveFirst(id board.PersonID) (board.Person, *board.Refusal) {
	person, ok := s.desk.View().State.People[id]
	switch {
	case !ok || person.Retired:
		return person, &board.Refusal{Code: board.CodeUnknown, Field: "person", Sentence: "There is no such person on the roster. Look again."}
	case person.Claimed != 0 && (person.ClaimedOn == "" || s.pins.has(person.ID)):
		return person, &board.Refusal{Code: board.CodeTaken, Field: "person", Sentence: person.Name + " has a PIN already, or sets another on the phone they joined with."}
	}
	return person, nil
}

// keepFirst keeps a first PIN, which was hashed with no lock held.
func (s *Server) keepFirst(id board.PersonID, rec pinRecord, by caller) *board.Refusal {
	s.claiming.Lock()
	defer s.claiming.Unlock()
	person, refusal := s.mayHaveFirst(id)
	if refusal != nil {
		return refusal
	}
	claim := board.PersonClaim{Person: person.ID, Role: person.Role, On: by.actor.Person}
	if refusal := s.keepClaim(claim, rec, nil, person.Claimed != 0); refusal != nil {
		return refusal
	}
	s.pins.set(person.ID, rec)
	s.pins.knows(person.ID, by.session.ID)
	return nil
}

// forgetPIN lets a person set a new PIN at the next join, and ends the person's
// sessions. It stands in the journal, and the board tells everyone.
func (s *Server) forgetPIN(w http.ResponseWriter, r *http.Request, by caller) {
	var ask struct {
		Person board.PersonID `json:"person"`
	}
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	s.claiming.Lock()
	defer s.claiming.Unlock()
	state := s.desk.View().State
	keep, has := s.pins.outgoing(ask.Person, state.Rev, state.OldestOn(ask.Person))
	if !has {
		refuse(w, &board.Refusal{Code: board.CodeUnknown, Field: "person", Sentence: "This person has set no PIN. There is nothing to forget."})
		return
	}
	with, err := json.Marshal(board.PersonForget{Person: ask.Person, By: by.actor.Person})
	if err != nil {
		panic("server: encode: " + err.Error())
	}
	a, err := s.give(s.life, desk.Request{
		ID: s.desk.NewCommandID(), Do: board.Name(board.PersonForget{}), With: with, Actor: board.Itself(),
		Secrets: []store.KV{{Key: pinKey(ask.Person)}, keep.pair(ask.Person)},
	})
	switch {
	case err != nil:
		refuse(w, desk.Restarting())
		return
	case a.Refusal != nil:
		refuse(w, a.Refusal)
		return
	}
	s.pins.forget(ask.Person, keep)
	if err := s.end(s.sessions.where(func(n *session) bool { return n.Person == ask.Person && n != by.session })...); err != nil {
		s.log.Error("forget PIN", "error", err)
	}
	s.log.Info("PIN forgotten", "person", ask.Person, "by", by.actor.Person)
	writeJSON(w, http.StatusOK, struct{}{})
}

// again leaves read-only.
func (s *Server) again(w http.ResponseWriter, r *http.Request, _ caller) {
	err := s.desk.Again(r.Context())
	if err == nil {
		err = s.reconcile()
	}
	if err != nil {
		s.log.Error("try again", "error", err)
		if errors.Is(err, store.ErrMoved) {
			refuse(w, &board.Refusal{Code: board.CodeReadOnly, Sentence: "The board's file is not where it was. Put it back. Or stop the program, and restore the rescue copy."})
			return
		}
		refuse(w, &board.Refusal{Code: board.CodeReadOnly, Sentence: "The board still cannot write to its disk. Make room or put the disk right, then try again."})
		return
	}
	writeJSON(w, http.StatusOK, struct{}{})
}
