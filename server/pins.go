package server

import (
	"context"
	"crypto/pbkdf2"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

const (
	pinDigits = 6
	pinSalt   = 16 // bytes

	// pinRounds of PBKDF2 with HMAC-SHA256: what OWASP's Password Storage Cheat
	// Sheet asks for (2023; from memory).
	pinRounds = 600_000

	// pinErrors within pinWindow lock a person's PIN: five guesses a quarter of an
	// hour find one of a million in 12 hours with a probability of 2.4e-4 at most.
	pinErrors = 5
	pinWindow = 15 * time.Minute
)

// pinRecord is a PIN as it is kept.
type pinRecord struct {
	Salt   []byte `json:"salt"`
	Hash   []byte `json:"hash"`
	Rounds int    `json:"rounds"`
}

// pins checks the PINs of people.
type pins struct {
	rounds  int
	oneHash chan struct{} // holds a token while a hash is computed: one at a time

	mu       sync.Mutex
	byPerson map[board.PersonID]pinRecord
	errors   map[board.PersonID][]time.Time
}

func loadPins(kept map[string][]byte, rounds int) *pins {
	p := &pins{rounds: rounds, oneHash: make(chan struct{}, 1), byPerson: map[board.PersonID]pinRecord{}, errors: map[board.PersonID][]time.Time{}}
	for key, b := range kept {
		person, ok := strings.CutPrefix(key, "pin/")
		var rec pinRecord
		if ok && json.Unmarshal(b, &rec) == nil && rec.Rounds > 0 {
			p.byPerson[board.PersonID(person)] = rec
		}
	}
	return p
}

func pinKey(person board.PersonID) string { return "pin/" + string(person) }

// isPIN tells whether text has the form of a PIN.
func isPIN(text string) bool {
	return len(text) == pinDigits && strings.Trim(text, "0123456789") == ""
}

// make hashes a new PIN. The error is ctx's own.
func (p *pins) make(ctx context.Context, pin string) (pinRecord, error) {
	rec := pinRecord{Salt: make([]byte, pinSalt), Rounds: p.rounds}
	rand.Read(rec.Salt)
	var err error
	rec.Hash, err = p.hash(ctx, pin, rec)
	return rec, err
}

func (p *pins) hash(ctx context.Context, pin string, rec pinRecord) ([]byte, error) {
	select {
	case p.oneHash <- struct{}{}:
		defer func() { <-p.oneHash }()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	return pbkdf2.Key(sha256.New, pin, rec.Salt, rec.Rounds, sha256.Size)
}

func (r pinRecord) pair(person board.PersonID) store.KV {
	b, err := json.Marshal(r)
	if err != nil {
		panic("server: encode PIN: " + err.Error())
	}
	return store.KV{Key: pinKey(person), Value: b}
}

// set makes rec the person's PIN here; the store has it from elsewhere.
func (p *pins) set(person board.PersonID, rec pinRecord) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.byPerson[person] = rec
	delete(p.errors, person)
}

func (p *pins) forget(person board.PersonID) {
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.byPerson, person)
	delete(p.errors, person)
}

func (p *pins) has(person board.PersonID) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	_, ok := p.byPerson[person]
	return ok
}

// verify checks a person's PIN. An error is counted before the check and taken
// back after a right one, so that many guesses at once gain nothing.
func (p *pins) verify(ctx context.Context, who board.Person, pin string, now time.Time) *board.Refusal {
	if !isPIN(pin) {
		return needPIN("The PIN of %s has six digits. Type it again.", who.Name)
	}
	rec, refusal := p.begin(who, now)
	if refusal != nil {
		return refusal
	}
	got, err := p.hash(ctx, pin, rec)
	right := err == nil && subtle.ConstantTimeCompare(got, rec.Hash) == 1
	if right || err != nil {
		p.takeBack(who.ID, now)
	}
	switch {
	case err != nil:
		return desk.Restarting()
	case !right:
		return needPIN("This is not the PIN of %s. Type it again; after five wrong ones it is locked for a while.", who.Name)
	}
	return nil
}

// begin counts an error and gives the person's record, unless the PIN is locked.
func (p *pins) begin(who board.Person, now time.Time) (pinRecord, *board.Refusal) {
	p.mu.Lock()
	defer p.mu.Unlock()
	rec, ok := p.byPerson[who.ID]
	if !ok {
		return rec, needPIN("%s has set no PIN yet: that is done by joining with a phone.", who.Name)
	}
	recent := since(p.errors[who.ID], now.Add(-pinWindow))
	if len(recent) >= pinErrors {
		p.errors[who.ID] = recent
		wait := recent[len(recent)-pinErrors].Add(pinWindow).Sub(now)
		return rec, &board.Refusal{Code: board.CodeTooMany, Field: "pin",
			Sentence: fmt.Sprintf("Five wrong PINs were typed for %s. It is locked for %d min more.", who.Name, int(wait.Minutes())+1)}
	}
	p.errors[who.ID] = append(recent, now)
	return rec, nil
}

func (p *pins) takeBack(person board.PersonID, at time.Time) {
	p.mu.Lock()
	defer p.mu.Unlock()
	list := p.errors[person]
	for i := range list {
		if list[i].Equal(at) {
			p.errors[person] = append(list[:i:i], list[i+1:]...)
			return
		}
	}
}

// since is the times not before from, in a list of its own.
func since(times []time.Time, from time.Time) []time.Time {
	var kept []time.Time
	for _, t := range times {
		if t.After(from) {
			kept = append(kept, t)
		}
	}
	return kept
}

func needPIN(sentence string, args ...any) *board.Refusal {
	return &board.Refusal{Code: board.CodeNeedProof, Field: "pin", Sentence: fmt.Sprintf(sentence, args...)}
}
