package server

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/google/uuid"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

// JoinAsk is what a device says to join: first the code alone, then with a name
// and that name's PIN.
type JoinAsk struct {
	Code string `json:"code"`
	Name string `json:"name,omitzero"`
	PIN  string `json:"pin,omitzero"`
}

// rosterAnswer follows a code without a name: who may join with it.
type rosterAnswer struct {
	Role   board.Role    `json:"role"`
	People []rosterEntry `json:"people"`
}

type rosterEntry struct {
	ID      board.PersonID `json:"id"`
	Name    string         `json:"name"`
	Claimed bool           `json:"claimed"`
}

// JoinedAnswer is a session: its token for scripts, and who it is.
type JoinedAnswer struct {
	Token string `json:"token"`
	WhoAnswer
}

func (s *Server) join(w http.ResponseWriter, r *http.Request) {
	var ask JoinAsk
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	role, refusal := s.roleFor(r, ask.Code)
	ask.Name = strings.TrimSpace(ask.Name)
	switch {
	case refusal != nil:
		refuse(w, refusal)
	case role != board.RoleViewer && ask.Name == "":
		writeJSON(w, http.StatusOK, s.roster(role))
	default:
		s.enter(w, r, role, ask)
	}
}

func (s *Server) roleFor(r *http.Request, code string) (board.Role, *board.Refusal) {
	if s.closing() {
		return "", desk.Restarting()
	}
	var role board.Role
	right, refusal := s.joins.guess(addressOf(r.RemoteAddr), s.o.Now(), func() (ok bool) {
		role, ok = s.codes.role(code)
		return ok
	})
	if refusal == nil && !right {
		s.log.Warn("join refused: wrong code", "address", r.RemoteAddr)
		refusal = forbidden("This is no join code of this board. Read it again from the start screen.")
		refusal.Field = "code"
	}
	return role, refusal
}

// roster lists the people whose role on the roster is role.
func (s *Server) roster(role board.Role) rosterAnswer {
	a := rosterAnswer{Role: role, People: []rosterEntry{}}
	for _, person := range s.desk.View().State.People {
		if !person.Retired && person.Role == role {
			a.People = append(a.People, rosterEntry{ID: person.ID, Name: person.Name, Claimed: person.Claimed != 0 && s.pins.has(person.ID)})
		}
	}
	slices.SortFunc(a.People, func(x, y rosterEntry) int {
		return cmp.Or(strings.Compare(x.Name, y.Name), strings.Compare(string(x.ID), string(y.ID)))
	})
	return a
}

// enter gives a device a session, as the person it names.
func (s *Server) enter(w http.ResponseWriter, r *http.Request, role board.Role, ask JoinAsk) {
	joined, refusal := s.admit(r, role, ask)
	if refusal != nil {
		s.log.Warn("join refused", "role", role, "code", refusal.Code, "address", r.RemoteAddr)
		refuse(w, refusal)
		return
	}
	s.log.Info("joined", "role", joined.Role, "person", joined.Person, "address", r.RemoteAddr)
	s.setCookie(w, joined.Token)
	writeJSON(w, http.StatusOK, joined)
}

func (s *Server) admit(r *http.Request, role board.Role, ask JoinAsk) (JoinedAnswer, *board.Refusal) {
	if role == board.RoleViewer {
		return s.open(r, role, board.Person{})
	}
	for {
		person, refusal := s.named(role, ask)
		if refusal != nil {
			return JoinedAnswer{}, refusal
		}
		joined, refusal, overtaken := s.enterAs(r, role, person, ask)
		if !overtaken {
			return joined, refusal
		}
	}
}

// named is the person that a device wants to join as, without an id where nobody on the
// roster has the name.
func (s *Server) named(role board.Role, ask JoinAsk) (board.Person, *board.Refusal) {
	person, known := s.personCalled(ask.Name)
	switch {
	case known && person.Role != role:
		return person, forbidden("%s is %s on the roster. Use that code, or ask the captain.", person.Name, person.Role)
	case !known && !s.door.open(s.o.Now()):
		return person, forbidden("The captain has locked the door: nobody new can join. Ask the captain to let you in.")
	case ask.PIN == "":
		return person, needPIN("Type a PIN of six digits for %s: the first device to take a name sets it.", ask.Name)
	case !isPIN(ask.PIN):
		return person, needPIN("A PIN has six digits. Type it again.")
	}
	return person, nil
}

// enterAs lets a device in as a person. The PIN is hashed with no lock held, so that
// nobody waits for another's; where the name was taken or its PIN changed meanwhile, the
// device was overtaken.
func (s *Server) enterAs(r *http.Request, role board.Role, person board.Person, ask JoinAsk) (JoinedAnswer, *board.Refusal, bool) {
	by := s.guesser(r)
	first := person.Claimed == 0 || !s.pins.has(person.ID)
	var rec pinRecord
	var refusal *board.Refusal
	if first {
		rec, refusal = s.newPIN(r, ask.PIN)
	} else if rec, refusal = s.pins.verify(r.Context(), person, ask.PIN, by, s.o.Now()); refusal != nil {
		s.joins.failed(addressOf(r.RemoteAddr), s.o.Now())
	}
	if refusal != nil {
		return JoinedAnswer{}, refusal, false
	}
	s.claiming.Lock()
	defer s.claiming.Unlock()
	now, refusal := s.named(role, ask)
	switch taken := now.Claimed != 0 && s.pins.has(now.ID); {
	case refusal != nil:
		return JoinedAnswer{}, refusal, false
	case now.ID != person.ID, first && taken, !first && !s.pins.is(person.ID, rec):
		return JoinedAnswer{}, nil, true
	case first:
		joined, refusal := s.claim(r, role, now, ask.Name, rec)
		return joined, refusal, false
	}
	joined, refusal := s.open(r, role, now)
	return joined, refusal, false
}

func (s *Server) newPIN(r *http.Request, pin string) (pinRecord, *board.Refusal) {
	rec, err := s.pins.make(r.Context(), pin)
	if err != nil {
		return rec, desk.Restarting()
	}
	return rec, nil
}

// guesser is who sends a request, as wrong PINs are counted.
func (s *Server) guesser(r *http.Request) guesser {
	network := networkOf(addressOf(r.RemoteAddr))
	token, _ := s.tokenOf(r)
	if n, ok := s.sessions.find(token, s.o.Now()); ok {
		return guesser{n.ID, network}
	}
	return guesser{network.String(), network}
}

// personCalled finds who is on the roster under a name, letter for letter or else as
// the board compares names. A board of an earlier program may hold two that look alike:
// then it is the first by id, whose PIN the name needs.
func (s *Server) personCalled(name string) (board.Person, bool) {
	var found board.Person
	folded := board.FoldedPerson(name)
	for _, person := range s.desk.View().State.People {
		switch {
		case person.Retired:
		case person.Name == name:
			return person, true
		case board.FoldedPerson(person.Name) == folded && (found.ID == "" || person.ID < found.ID):
			found = person
		}
	}
	return found, found.ID != ""
}

// open gives a device a session and keeps it.
func (s *Server) open(r *http.Request, role board.Role, person board.Person) (JoinedAnswer, *board.Refusal) {
	n, token := issue(role, person.ID, networkOf(addressOf(r.RemoteAddr)), s.o.Now())
	refusal := s.letIn(n, func(sessions []store.KV) *board.Refusal {
		if err := s.desk.Store().SetSessions(sessions...); err != nil {
			s.log.Error("keep session", "error", err)
			return notWritten()
		}
		return nil
	})
	if refusal != nil {
		return JoinedAnswer{}, refusal
	}
	if person.ID != "" {
		s.pins.knows(person.ID, n.ID)
	}
	return JoinedAnswer{Token: token, WhoAnswer: WhoAnswer{Role: role, Person: person.ID, Name: person.Name}}, nil
}

// claim takes a name for the first time: the claim, the PIN and the session are
// one transaction. A name that the captain had the PIN forgotten of is claimed on
// the board already and only gets a new PIN. The caller has the lock on claims.
func (s *Server) claim(r *http.Request, role board.Role, person board.Person, name string, rec pinRecord) (JoinedAnswer, *board.Refusal) {
	forgotten := person.Claimed != 0
	if person.ID == "" {
		person = board.Person{ID: board.PersonID(uuid.NewString()), PersonFields: board.PersonFields{Name: name}}
	}
	n, token := issue(role, person.ID, networkOf(addressOf(r.RemoteAddr)), s.o.Now())
	refusal := s.letIn(n, func(sessions []store.KV) *board.Refusal {
		return s.keepClaim(board.PersonClaim{Person: person.ID, Name: person.Name, Role: role}, rec, sessions, forgotten)
	})
	if refusal != nil {
		return JoinedAnswer{}, refusal
	}
	s.pins.set(person.ID, rec)
	s.pins.knows(person.ID, n.ID, s.guesser(r).device)
	return JoinedAnswer{Token: token, WhoAnswer: WhoAnswer{Role: role, Person: person.ID, Name: person.Name}}, nil
}

// keepClaim keeps a claim with its PIN and, where a device joins with it, its session.
func (s *Server) keepClaim(claim board.PersonClaim, rec pinRecord, sessions []store.KV, forgotten bool) *board.Refusal {
	if forgotten {
		if err := s.keepSecrets(rec.pair(claim.Person)); err != nil {
			s.log.Error("keep PIN", "error", err)
			return notWritten()
		}
		if err := s.desk.Store().SetSessions(sessions...); err != nil {
			s.log.Error("keep session", "error", err)
			return notWritten()
		}
		return nil
	}
	with, err := json.Marshal(claim)
	if err != nil {
		panic("server: encode claim: " + err.Error())
	}
	a, err := s.give(s.life, desk.Request{
		ID: s.desk.NewCommandID(), Do: board.Name(board.PersonClaim{}), With: with, Actor: board.Itself(),
		Secrets: []store.KV{rec.pair(claim.Person)}, Sessions: sessions,
	})
	if err != nil {
		return desk.Restarting()
	}
	return a.Refusal
}
