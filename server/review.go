package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/board/review"
	"mendline/server/store"
)

// review answers with the look back at the day.
func (s *Server) review(w http.ResponseWriter, r *http.Request, _ caller) {
	made, err := s.makeReview(r.Context())
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			s.log.Error("review", "error", err)
		}
		refuse(w, cannotRead())
		return
	}
	writeJSON(w, http.StatusOK, made)
}

// printReview answers with the same on paper.
func (s *Server) printReview(w http.ResponseWriter, r *http.Request, _ caller) {
	made, err := s.makeReview(r.Context())
	var b bytes.Buffer
	if err == nil {
		err = s.printer().Review(&b, made)
	}
	s.writePage(w, b.Bytes(), err)
}

// dayRead is the journal as far as the review has read it, of one epoch.
type dayRead struct {
	sync.Mutex // one review at a time
	epoch      string
	day        *review.Day
}

// makeReview reads on in the journal and looks back. It stops between two lines,
// to go on from there another time, when nobody waits for it any more or the
// server ends.
func (s *Server) makeReview(ctx context.Context) (review.Review, error) {
	d := &s.reviewed
	d.Lock()
	defer d.Unlock()
	if epoch := s.desk.View().Epoch; d.day == nil || d.epoch != epoch {
		d.epoch, d.day = epoch, review.NewDay(alarmsAt)
	}
	for {
		page, err := s.desk.Store().Journal(uint64(d.day.Of()), store.LinesMost)
		if err != nil {
			return review.Review{}, fmt.Errorf("review: %w", err)
		}
		if len(page) == 0 {
			return d.day.Review(s.desk.Now()), nil
		}
		for _, kept := range page {
			if err := errors.Join(ctx.Err(), s.life.Err()); err != nil {
				return review.Review{}, fmt.Errorf("review: stopped after line %d: %w", d.day.Of(), err)
			}
			if err := d.read(kept.Data); err != nil {
				d.day = nil // start over: it may have stopped inside a line
				return review.Review{}, err
			}
		}
	}
}

func (d *dayRead) read(data []byte) error {
	var l board.JournalLine
	if err := json.Unmarshal(data, &l); err != nil {
		return fmt.Errorf("review: read the line after %d: %w", d.day.Of(), err)
	}
	return d.day.Read(l)
}

// alarmsAt is what the board would have shown at a moment.
func alarmsAt(s board.State, at board.Moment) []review.Alarm {
	var list []review.Alarm
	for _, a := range forecast.AlarmsAt(s, at) {
		list = append(list, review.Alarm{ID: a.Slug, Class: string(a.Class), Robot: a.Robot, Who: named(s, a)})
	}
	return list
}

// named is who is to act: an alarm's act begins with the name, but an emergency's.
func named(s board.State, a forecast.Alarm) string {
	who, _, _ := strings.Cut(a.Act, ":")
	for _, person := range s.People {
		if person.Name == who {
			return who
		}
	}
	if roles := []string{"The captain", "The safety", "The crew"}; slices.Contains(roles, who) {
		return who
	}
	return ""
}
