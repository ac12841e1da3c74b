package server

import (
	"net/http"
	"slices"
	"strings"

	"mendline/board"
)

// caller is who asks, as the server knows it now.
type caller struct {
	session *session
	actor   board.Actor
	name    string
}

// caller finds the session of a request.
func (s *Server) caller(r *http.Request) (caller, *board.Refusal) {
	token, byCookie := s.tokenOf(r)
	n, ok := s.sessions.find(token, s.o.Now())
	if !ok {
		return caller{}, noSession()
	}
	by, ok := s.standing(n)
	if !ok {
		return caller{}, noSession()
	}
	if byCookie && !safe(r.Method) && !sameOrigin(r) {
		return caller{}, foreignPage()
	}
	return by, nil
}

// standing is what a session may do now: its person's role is the one that the
// roster gives, and a person who is off the roster has none.
func (s *Server) standing(n *session) (caller, bool) {
	if !s.sessions.stands(n, s.o.Now()) {
		return caller{}, false
	}
	if n.Role == board.RoleViewer {
		return caller{session: n, actor: board.Actor{Role: board.RoleViewer}}, true
	}
	person, ok := s.desk.View().State.People[n.Person]
	if !ok || person.Retired {
		return caller{}, false
	}
	return caller{session: n, actor: board.Actor{Person: person.ID, Role: person.Role}, name: person.Name}, true
}

// tokenOf reads the token of a request: a script's, which no page can send, or
// else the cookie's.
func (s *Server) tokenOf(r *http.Request) (token string, byCookie bool) {
	if t := bearer(r); t != "" {
		return t, false
	}
	if c, err := r.Cookie(s.cookieName()); err == nil {
		return c.Value, true
	}
	return "", false
}

func bearer(r *http.Request) string {
	scheme, token, _ := strings.Cut(r.Header.Get("Authorization"), " ")
	if !strings.EqualFold(scheme, "Bearer") {
		return ""
	}
	return strings.TrimSpace(token)
}

func (s *Server) cookieName() string {
	if s.o.TLS {
		return "__Host-mendline"
	}
	return "mendline"
}

func (s *Server) setCookie(w http.ResponseWriter, token string) {
	c := &http.Cookie{
		Name: s.cookieName(), Value: token, Path: "/", MaxAge: int(sessionFor.Seconds()),
		HttpOnly: true, Secure: s.o.TLS, SameSite: http.SameSiteStrictMode,
	}
	if token == "" {
		c.MaxAge = -1
	}
	http.SetCookie(w, c)
}

// member lets in who has a session.
func (s *Server) member(h func(http.ResponseWriter, *http.Request, caller)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		by, refusal := s.caller(r)
		if refusal != nil {
			refuse(w, refusal)
			return
		}
		h(w, r, by)
	}
}

// only lets in who has one of the roles now.
func (s *Server) only(h func(http.ResponseWriter, *http.Request, caller), roles ...board.Role) http.HandlerFunc {
	return s.member(func(w http.ResponseWriter, r *http.Request, by caller) {
		if !slices.Contains(roles, by.actor.Role) {
			refuse(w, forbidden("This is for the %s. Ask there.", words(roles)))
			return
		}
		h(w, r, by)
	})
}

func words(roles []board.Role) string {
	list := make([]string, len(roles))
	for i, r := range roles {
		list[i] = string(r)
	}
	return strings.Join(list, " or ")
}

func (s *Server) me(w http.ResponseWriter, _ *http.Request, by caller) {
	writeJSON(w, http.StatusOK, WhoAnswer{Role: by.actor.Role, Person: by.actor.Person, Name: by.name})
}

// WhoAnswer says who the device is.
type WhoAnswer struct {
	Role   board.Role     `json:"role"`
	Person board.PersonID `json:"person"`
	Name   string         `json:"name"`
}

func (s *Server) leave(w http.ResponseWriter, _ *http.Request, by caller) {
	s.setCookie(w, "")
	if err := s.end(by.session); err != nil {
		s.log.Error("leave", "error", err)
	}
	writeJSON(w, http.StatusOK, struct{}{})
}
