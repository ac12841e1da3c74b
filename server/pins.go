package server

import (
	"context"
	"crypto/pbkdf2"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"slices"
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

	// pinErrors within pinWindow lock a person's PIN on the device that typed them,
	// and nowhere else; pinErrorsInAll on devices that never typed it right lock it on
	// all of those: twenty guesses a quarter of an hour find one of a million in 12
	// hours with a probability of 1e-3 at most.
	pinErrors      = 5
	pinErrorsInAll = 20
	pinWindow      = 15 * time.Minute
)

// pinDevice is the device that a PIN was typed on: its session, or its address where it
// has none.
type pinDevice string

// pinTry is a person's PIN typed on a device.
type pinTry struct {
	person board.PersonID
	on     pinDevice
}

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
	// before holds the PINs that were forgotten, as long as something stands that was
	// put on with them.
	before map[board.PersonID]oldPIN
	errors map[board.PersonID]map[pinDevice][]time.Time
	// known holds on which devices a person's PIN was right before.
	known map[pinTry]bool
}

// oldPIN is a PIN that was forgotten: it proves who put on what stands from before a
// revision, and nothing else.
type oldPIN struct {
	pinRecord
	Until board.Rev `json:"until"`
}

func loadPins(kept map[string][]byte, rounds int) *pins {
	p := &pins{rounds: rounds, oneHash: make(chan struct{}, 1), byPerson: map[board.PersonID]pinRecord{}, before: map[board.PersonID]oldPIN{},
		errors: map[board.PersonID]map[pinDevice][]time.Time{}, known: map[pinTry]bool{}}
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
	delete(p.errors, person)
	p.before[person] = keep
	for try := range p.known {
		if try.person == person {
			delete(p.known, try)
		}
	}
}

func (p *pins) has(person board.PersonID) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	_, ok := p.byPerson[person]
	return ok
}

// knows notes that a person's PIN was set on a device.
func (p *pins) knows(person board.PersonID, on pinDevice) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.known[pinTry{person, on}] = true
}

// verify checks a person's PIN.
func (p *pins) verify(ctx context.Context, who board.Person, pin string, on pinDevice, now time.Time) *board.Refusal {
	old, refusal := p.prove(ctx, who, pin, on, now)
	if refusal == nil && old != 0 {
		return needPIN("This PIN of %s was forgotten. Type the new one.", who.Name)
	}
	return refusal
}

// prove checks a person's PIN; one that was forgotten gives the revision up to which it
// counts. An error is counted before the check and taken back after a right one, so
// that many guesses at once are no way round.
func (p *pins) prove(ctx context.Context, who board.Person, pin string, on pinDevice, now time.Time) (board.Rev, *board.Refusal) {
	if !isPIN(pin) {
		return 0, needPIN("The PIN of %s has six digits. Type it again.", who.Name)
	}
	rec, old, refusal := p.begin(who, on, now)
	if refusal != nil {
		return 0, refusal
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
		p.takeBack(who.ID, on, now, false)
		return 0, desk.Restarting()
	case !right:
		return 0, needPIN("This is not the PIN of %s. Type it again; after five wrong ones it is locked on this device for a while.", who.Name)
	}
	p.takeBack(who.ID, on, now, until == 0)
	return until, nil
}

func (p *pins) matches(ctx context.Context, pin string, rec pinRecord) (bool, error) {
	if rec.Rounds == 0 {
		return false, nil
	}
	got, err := p.hash(ctx, pin, rec)
	return err == nil && subtle.ConstantTimeCompare(got, rec.Hash) == 1, err
}

// begin counts an error and gives the person's records, unless the PIN is locked on the
// device.
func (p *pins) begin(who board.Person, on pinDevice, now time.Time) (pinRecord, oldPIN, *board.Refusal) {
	p.mu.Lock()
	defer p.mu.Unlock()
	rec, ok := p.byPerson[who.ID]
	old, had := p.before[who.ID]
	if !ok && !had {
		return rec, old, needPIN("%s has set no PIN yet: they join on a phone first, and set one there. A signer without one sets it on the captain's device.", who.Name)
	}
	if p.errors[who.ID] == nil {
		p.errors[who.ID] = map[pinDevice][]time.Time{}
	}
	byDevice := p.errors[who.ID]
	var strange []time.Time
	for device, times := range byDevice {
		if byDevice[device] = since(times, now.Add(-pinWindow)); len(byDevice[device]) == 0 {
			delete(byDevice, device)
		}
		if !p.known[pinTry{who.ID, device}] {
			strange = append(strange, byDevice[device]...)
		}
	}
	slices.SortFunc(strange, time.Time.Compare)
	lock := func(times []time.Time, most int) *board.Refusal {
		wait := times[len(times)-most].Add(pinWindow).Sub(now)
		return &board.Refusal{Code: board.CodeTooMany, Field: "pin",
			Sentence: fmt.Sprintf("Too many wrong PINs were typed for %s here. It is locked on this device for %d min more; a phone on which %s typed it before still takes it.", who.Name, int(wait.Minutes())+1, who.Name)}
	}
	switch own := byDevice[on]; {
	case len(own) >= pinErrors:
		return rec, old, lock(own, pinErrors)
	case len(strange) >= pinErrorsInAll && !p.known[pinTry{who.ID, on}]:
		return rec, old, lock(strange, pinErrorsInAll)
	}
	byDevice[on] = append(byDevice[on], now)
	return rec, old, nil
}

func (p *pins) takeBack(person board.PersonID, on pinDevice, at time.Time, right bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if right {
		p.known[pinTry{person, on}] = true
	}
	list := p.errors[person][on]
	for i := range list {
		if list[i].Equal(at) {
			p.errors[person][on] = append(list[:i:i], list[i+1:]...)
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
