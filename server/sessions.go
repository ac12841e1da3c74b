package server

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"net/netip"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/google/uuid"
	"golang.org/x/time/rate"

	"mendline/board"
	"mendline/server/store"
)

const (
	sessionFor        = 16 * time.Hour
	socketsPerSession = 8

	commandsPerSec = 20
	commandsBurst  = 40
)

// sessionRecord is a session as it is kept, under the hash of its token.
type sessionRecord struct {
	ID     string         `json:"id"`
	Role   board.Role     `json:"role"` // of the code it joined with
	Person board.PersonID `json:"person,omitzero"`
	Since  board.Moment   `json:"since"`
	// Network is where it joined from.
	Network netip.Addr `json:"network,omitzero"`
}

// session is one device that has joined. Its record never changes.
type session struct {
	sessionRecord
	key   string       // hash of the token, hex
	seen  atomic.Int64 // board.Moment of the last request
	speed *rate.Limiter

	sockets map[*socket]bool // under sessions.mu
}

func newSession(key string, rec sessionRecord) *session {
	n := &session{sessionRecord: rec, key: key, speed: rate.NewLimiter(commandsPerSec, commandsBurst), sockets: map[*socket]bool{}}
	n.seen.Store(int64(rec.Since))
	return n
}

func (n *session) over(now time.Time) bool { return !now.Before(n.Since.Time().Add(sessionFor)) }

// pair is the session as the store keeps it.
func (n *session) pair() store.KV {
	b, err := json.Marshal(n.sessionRecord)
	if err != nil {
		panic("server: encode session: " + err.Error())
	}
	return store.KV{Key: n.key, Value: b}
}

// sessions are all devices that have joined, by the hash of their tokens. What is
// in here counts; the store's copy is for the next start.
type sessions struct {
	mu    sync.Mutex
	byKey map[string]*session
}

// loadSessions takes what the store kept, except what is over or unreadable.
func loadSessions(kept map[string][]byte, now time.Time) *sessions {
	l := &sessions{byKey: map[string]*session{}}
	for key, b := range kept {
		var rec sessionRecord
		if err := json.Unmarshal(b, &rec); err != nil {
			continue
		}
		if n := newSession(key, rec); !n.over(now) {
			l.byKey[key] = n
		}
	}
	return l
}

// newToken makes a token of 256 random bits.
func newToken() string {
	var b [32]byte
	rand.Read(b[:])
	return base64.RawURLEncoding.EncodeToString(b[:])
}

// keyOf is the hash under which a token's session is kept.
func keyOf(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

func issue(role board.Role, person board.PersonID, from netip.Addr, now time.Time) (*session, string) {
	token := newToken()
	rec := sessionRecord{ID: uuid.NewString(), Role: role, Person: person, Since: board.MomentOf(now), Network: from}
	return newSession(keyOf(token), rec), token
}

func (l *sessions) find(token string, now time.Time) (*session, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	n, ok := l.byKey[keyOf(token)]
	if !ok || n.over(now) {
		return nil, false
	}
	n.seen.Store(now.UnixMilli())
	return n, true
}

// stands tells whether the session has not ended since it was found.
func (l *sessions) stands(n *session, now time.Time) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.byKey[n.key] == n && !n.over(now)
}

// remove takes a session out and gives the sockets it had.
func (l *sessions) remove(n *session) []*socket {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.byKey[n.key] == n {
		delete(l.byKey, n.key)
	}
	return keys(n.sockets)
}

// where lists the sessions that match, oldest first.
func (l *sessions) where(match func(*session) bool) []*session {
	l.mu.Lock()
	defer l.mu.Unlock()
	var list []*session
	for _, n := range l.byKey {
		if match(n) {
			list = append(list, n)
		}
	}
	slices.SortFunc(list, func(a, b *session) int {
		return cmp.Or(cmp.Compare(a.Since, b.Since), cmp.Compare(a.ID, b.ID))
	})
	return list
}

// attach adds a socket to its session. It does not where the session has ended,
// or has as many as it may.
func (l *sessions) attach(k *socket) closeCode {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch {
	case l.byKey[k.session.key] != k.session:
		return closeEnded
	case len(k.session.sockets) >= socketsPerSession:
		return closeFull
	}
	k.session.sockets[k] = true
	return 0
}

func (l *sessions) detach(k *socket) {
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(k.session.sockets, k)
}

func (l *sessions) socketsOf(n *session) int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(n.sockets)
}

func (l *sessions) allSockets() []*socket {
	l.mu.Lock()
	defer l.mu.Unlock()
	var all []*socket
	for _, n := range l.byKey {
		all = append(all, keys(n.sockets)...)
	}
	return all
}

// keptElsewhere lists what takes out of the store's sessions those that are not
// in here.
func (l *sessions) keptElsewhere(kept map[string][]byte) []store.KV {
	l.mu.Lock()
	defer l.mu.Unlock()
	var pairs []store.KV
	for key := range kept {
		if l.byKey[key] == nil {
			pairs = append(pairs, store.KV{Key: key})
		}
	}
	for key, n := range l.byKey {
		if kept[key] == nil {
			pairs = append(pairs, n.pair())
		}
	}
	return pairs
}

func keys[K comparable, V any](m map[K]V) []K {
	list := make([]K, 0, len(m))
	for k := range m {
		list = append(list, k)
	}
	return list
}

// end ends sessions at once: here, in the store, on their sockets. The error is the
// store's; here they have ended all the same.
func (s *Server) end(list ...*session) error {
	if len(list) == 0 {
		return nil
	}
	s.dismiss(list)
	if err := s.desk.Store().SetSessions(without(list)...); err != nil {
		return fmt.Errorf("end %d sessions: %w", len(list), err)
	}
	return nil
}

// dismiss ends sessions everywhere but in the store.
func (s *Server) dismiss(list []*session) {
	for _, n := range list {
		for _, k := range s.sessions.remove(n) {
			k.hangUp(closeEnded)
		}
		s.pins.ended(n.ID)
		s.log.Info("session ended", "session", n.ID, "person", n.Person, "role", n.Role)
	}
}

// without takes sessions out of the store.
func without(list []*session) []store.KV {
	var pairs []store.KV
	for _, n := range list {
		pairs = append(pairs, store.KV{Key: n.key})
	}
	return pairs
}

func (s *Server) keepSecrets(pairs ...store.KV) error { return s.desk.Store().SetSecrets(pairs...) }

// reconcile makes the store's sessions those that count, after it was opened
// again.
func (s *Server) reconcile() error {
	held, err := s.desk.Store().Load(0)
	if err != nil {
		return err
	}
	return s.desk.Store().SetSessions(s.sessions.keptElsewhere(held.Sessions)...)
}
