package server

import (
	"net/http"
	"sync"
	"time"

	"mendline/board"
	"mendline/server/store"
)

// liftedFor is how long a locked door lets new names in when the captain lifts the lock.
const liftedFor = time.Minute

const doorKey = "door"

// door is open or locked: a locked one lets in who is on the roster and no new name.
type door struct {
	mu     sync.Mutex
	locked bool
	until  time.Time // new names come in although it is locked
}

func loadDoor(kept map[string][]byte) *door { return &door{locked: kept[doorKey] != nil} }

func (d *door) open(now time.Time) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return !d.locked || now.Before(d.until)
}

// doorAnswer is how the door is.
type doorAnswer struct {
	Locked bool `json:"locked"`
	// LiftedUntil is until when new names can join all the same.
	LiftedUntil board.Moment `json:"liftedUntil,omitzero"`
}

func (d *door) answer(now time.Time) doorAnswer {
	d.mu.Lock()
	defer d.mu.Unlock()
	a := doorAnswer{Locked: d.locked}
	if d.locked && now.Before(d.until) {
		a.LiftedUntil = board.MomentOf(d.until)
	}
	return a
}

func (s *Server) showDoor(w http.ResponseWriter, _ *http.Request, _ caller) {
	writeJSON(w, http.StatusOK, s.door.answer(s.o.Now()))
}

// turnDoor locks the door, lifts the lock for a minute, or unlocks it.
func (s *Server) turnDoor(w http.ResponseWriter, r *http.Request, by caller) {
	var ask struct {
		Do string `json:"do"`
	}
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	if refusal := s.door.turn(ask.Do, s.o.Now(), s.keepSecrets); refusal != nil {
		refuse(w, refusal)
		return
	}
	s.log.Info("door", "do", ask.Do, "by", by.actor.Person)
	s.showDoor(w, r, by)
}

func (d *door) turn(do string, now time.Time, keep func(...store.KV) error) *board.Refusal {
	d.mu.Lock()
	defer d.mu.Unlock()
	kept := store.KV{Key: doorKey}
	switch do {
	case "lift":
		d.until = now.Add(liftedFor)
		return nil
	case "lock":
		kept.Value = []byte("locked")
	case "unlock":
	default:
		return &board.Refusal{Code: board.CodeBadField, Field: "do", Sentence: "Say what to do with the door: lock, lift or unlock."}
	}
	if err := keep(kept); err != nil {
		return notWritten()
	}
	d.locked, d.until = do == "lock", time.Time{}
	return nil
}
