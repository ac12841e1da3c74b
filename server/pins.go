package server

import (
	"bytes"
	"context"
	"crypto/pbkdf2"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"runtime"
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
)

// pinRecord is a PIN as it is kept.
type pinRecord struct {
	Salt   []byte `json:"salt"`
	Hash   []byte `json:"hash"`
	Rounds int    `json:"rounds"`
}

// pins checks the PINs of people.
type pins struct {
	rounds int
	// A hash takes all of a processor for a moment, so few are computed at once: new PINs
	// in one lane, and proofs in another, so that who signs waits for no crowd of guests.
	making, proving chan struct{}

	mu       sync.Mutex
	byPerson map[board.PersonID]pinRecord
	// before holds the PINs that were forgotten, as long as something stands that was
	// put on with them.
	before map[board.PersonID]oldPIN
	wrong  guesses
}

// oldPIN is a PIN that was forgotten: it proves who put on what stands from before a
// revision, and nothing else.
type oldPIN struct {
	pinRecord
	Until board.Rev `json:"until"`
}

func loadPins(kept map[string][]byte, rounds int) *pins {
	p := &pins{rounds: rounds, making: make(chan struct{}, max(2, runtime.GOMAXPROCS(0)-1)), proving: make(chan struct{}, 2),
		byPerson: map[board.PersonID]pinRecord{}, before: map[board.PersonID]oldPIN{}, wrong: newGuesses()}
	for key, b := range kept {
		var old oldPIN
		if person, ok := strings.CutPrefix(key, "pin-before/"); ok && json.Unmarshal(b, &old) == nil && old.Rounds > 0 {
			p.before[board.PersonID(person)] = old
		}
		person, ok := strings.CutPrefix(key, "pin/")
		var rec pinRecord
		if ok && json.Unmarshal(b, &rec) == nil && rec.Rounds > 0 {
			p.byPerson[board.PersonID(person)] = rec
		}
	}
	return p
}

func pinKey(person board.PersonID) string { return "pin/" + string(person) }

func (o oldPIN) pair(person board.PersonID) store.KV {
	b, err := json.Marshal(o)
	if err != nil {
		panic("server: encode PIN: " + err.Error())
	}
	return store.KV{Key: "pin-before/" + string(person), Value: b}
}

// isPIN tells whether text has the form of a PIN.
func isPIN(text string) bool {
	return len(text) == pinDigits && strings.Trim(text, "0123456789") == ""
}

// make hashes a new PIN. The error is ctx's own.
func (p *pins) make(ctx context.Context, pin string) (pinRecord, error) {
	rec := pinRecord{Salt: make([]byte, pinSalt), Rounds: p.rounds}
	rand.Read(rec.Salt)
	var err error
	rec.Hash, err = hash(ctx, p.making, pin, rec)
	return rec, err
}

func hash(ctx context.Context, lane chan struct{}, pin string, rec pinRecord) ([]byte, error) {
	select {
	case lane <- struct{}{}:
		defer func() { <-lane }()
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
	delete(p.wrong.of, person)
}

// outgoing is what would be kept of a person's PIN if it were forgotten at a revision:
// the one kept already, as long as something stands that was put on with it.
func (p *pins) outgoing(person board.PersonID, now board.Rev, oldest board.Rev) (oldPIN, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	rec, ok := p.byPerson[person]
	if kept, has := p.before[person]; has && oldest != 0 && oldest < kept.Until {
		return kept, ok
	}
	return oldPIN{rec, now + 1}, ok
}

func (p *pins) forget(person board.PersonID, keep oldPIN) {
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.byPerson, person)
	p.before[person] = keep
	p.wrong.forget(person)
}

func (p *pins) has(person board.PersonID) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	_, ok := p.byPerson[person]
	return ok
}

// is tells whether a record is still the person's PIN.
func (p *pins) is(person board.PersonID, rec pinRecord) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	now, ok := p.byPerson[person]
	return ok && bytes.Equal(now.Hash, rec.Hash)
}

// knows notes that a person's PIN was typed right on a device, or set there.
func (p *pins) knows(person board.PersonID, devices ...string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, device := range devices {
		p.wrong.knows(device, person)
	}
}

// ended forgets what a session knew.
func (p *pins) ended(session string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.wrong.known, session)
}

// verify checks a person's PIN and gives its record.
func (p *pins) verify(ctx context.Context, who board.Person, pin string, by guesser, now time.Time) (pinRecord, *board.Refusal) {
	rec, old, refusal := p.prove(ctx, who, pin, by, now)
	if refusal == nil && old != 0 {
		refusal = needPIN("This PIN of %s was forgotten. Type the new one.", who.Name)
	}
	return rec, refusal
}

// prove checks a person's PIN and gives its record; one that was forgotten gives the
// revision up to which it counts. An error is counted before the check and taken back
// after a right one, so that many guesses at once are no way round.
func (p *pins) prove(ctx context.Context, who board.Person, pin string, by guesser, now time.Time) (pinRecord, board.Rev, *board.Refusal) {
	if !isPIN(pin) {
		return pinRecord{}, 0, needPIN("The PIN of %s has six digits. Type it again.", who.Name)
	}
	typed := guess{by, now}
	rec, old, refusal := p.begin(who, typed)
	if refusal != nil {
		return rec, 0, refusal
	}
	right, err := p.matches(ctx, pin, rec)
	until := board.Rev(0)
	if !right && err == nil {
		if right, err = p.matches(ctx, pin, old.pinRecord); right {
			until = old.Until
		}
	}
	switch {
	case err != nil:
		p.takeBack(who.ID, typed, false)
		return rec, 0, desk.Restarting()
	case !right:
		return rec, 0, needPIN("This is not the PIN of %s. Type it again; after five wrong ones it is locked on this device for a while.", who.Name)
	}
	p.takeBack(who.ID, typed, until == 0)
	return rec, until, nil
}

func (p *pins) matches(ctx context.Context, pin string, rec pinRecord) (bool, error) {
	if rec.Rounds == 0 {
		return false, nil
	}
	got, err := hash(ctx, p.proving, pin, rec)
	return err == nil && subtle.ConstantTimeCompare(got, rec.Hash) == 1, err
}

// begin counts an error and gives the person's records, unless the PIN is locked for
// who types it.
func (p *pins) begin(who board.Person, typed guess) (pinRecord, oldPIN, *board.Refusal) {
	p.mu.Lock()
	defer p.mu.Unlock()
	rec, ok := p.byPerson[who.ID]
	old, had := p.before[who.ID]
	if !ok && !had {
		return rec, old, needPIN("%s has set no PIN yet: they join on a phone first, and set one there. A signer without one sets it on the captain's device.", who.Name)
	}
	if wait := p.wrong.locked(who.ID, typed.guesser, typed.at); wait > 0 {
		return rec, old, &board.Refusal{Code: board.CodeTooMany, Field: "pin",
			Sentence: fmt.Sprintf("Too many wrong PINs were typed for %s here. It is locked on this device for %d min more; a phone on which %s typed it before still takes it.", who.Name, int(wait.Minutes())+1, who.Name)}
	}
	p.wrong.add(who.ID, typed)
	return rec, old, nil
}

func (p *pins) takeBack(person board.PersonID, typed guess, right bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if right {
		p.wrong.knows(typed.device, person)
	}
	p.wrong.takeBack(person, typed)
}

func needPIN(sentence string, args ...any) *board.Refusal {
	return &board.Refusal{Code: board.CodeNeedProof, Field: "pin", Sentence: fmt.Sprintf(sentence, args...)}
}
