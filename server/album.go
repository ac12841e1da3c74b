package server

import (
	"bytes"
	"context"
	"fmt"
	"sync"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

const (
	photosPerDay = 200 // of one person
	day          = 24 * time.Hour

	// unnamedFor is how long a photo is kept that nothing on the board names.
	unnamedFor   = day
	collectEvery = time.Hour
)

// quota counts the photos that each person sent within a day.
type quota struct {
	mu   sync.Mutex
	sent map[board.PersonID][]time.Time
}

// take counts one more, unless that is too many.
func (q *quota) take(person board.PersonID, at time.Time) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.sent == nil {
		q.sent = map[board.PersonID][]time.Time{}
	}
	var sent []time.Time
	for _, t := range q.sent[person] {
		if at.Sub(t) < day {
			sent = append(sent, t)
		}
	}
	room := len(sent) < photosPerDay
	if room {
		sent = append(sent, at)
	}
	q.sent[person] = sent
	return room
}

// giveBack is for one that did not arrive.
func (q *quota) giveBack(person board.PersonID, at time.Time) {
	q.mu.Lock()
	defer q.mu.Unlock()
	for i, t := range q.sent[person] {
		if t.Equal(at) {
			q.sent[person] = append(q.sent[person][:i:i], q.sent[person][i+1:]...)
			return
		}
	}
}

// albumRead is what the journal, as far as it was read, says of photos.
type albumRead struct {
	tail
	named    map[board.PhotoID]bool
	restored board.Moment // the last time, 0 for never
}

func (a *albumRead) read(data []byte) error {
	if !bytes.Contains(data, []byte(`"photos":`)) && !bytes.Contains(data, []byte(`"board.restore"`)) {
		return nil
	}
	var l board.JournalLine
	if err := json.Unmarshal(data, &l); err != nil {
		return fmt.Errorf("read the line after %d: %w", a.of, err)
	}
	if l.Do == board.Name(board.BoardRestore{}) {
		a.restored = l.At
	}
	for _, nouns := range []map[board.Key]jsontext.Value{l.Put, l.Was} {
		for key, noun := range nouns {
			var names struct {
				Photos []board.PhotoID `json:"photos"`
			}
			if kind, _ := key.Split(); kind != board.KindDamage {
				continue
			}
			if err := json.Unmarshal(noun, &names); err != nil {
				return fmt.Errorf("read %s of line %d: %w", key, l.Rev, err)
			}
			for _, id := range names.Photos {
				a.named[id] = true
			}
		}
	}
	return nil
}

// tidies collects photos that nothing names, until the server ends.
func (s *Server) tidies() {
	defer close(s.tidied)
	every := time.NewTicker(collectEvery)
	defer every.Stop()
	for {
		if err := s.collect(s.life); err != nil && s.life.Err() == nil {
			s.log.Error("collect photos", "error", err)
		}
		select {
		case <-every.C:
		case <-s.life.Done():
			return
		}
	}
}

// collect removes the photos that were kept a day ago or longer and that no line of the
// journal names. Those from before a restore stay: the board that was replaced may name
// them.
func (s *Server) collect(ctx context.Context) error {
	old, err := s.o.Photos.KeptBefore(s.o.Now().Add(-unnamedFor))
	if err != nil || len(old) == 0 || s.desk.Store().Healthy() != nil {
		return err
	}
	a := &s.album
	if err := a.lock(ctx); err != nil {
		return err
	}
	defer a.unlock()
	err = s.readOn(ctx, &a.tail, func() func([]byte) error {
		a.named, a.restored = map[board.PhotoID]bool{}, 0
		return a.read
	})
	if err != nil {
		return err
	}
	for id, at := range old {
		if a.named[board.PhotoID(id)] || board.MomentOf(at) <= a.restored {
			continue
		}
		if err := s.o.Photos.Remove(id); err != nil {
			return err
		}
		s.log.Info("photo collected: nothing names it", "photo", id)
	}
	return nil
}
