package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/board/review"
)

// review answers with the look back at the day.
func (s *Server) review(w http.ResponseWriter, r *http.Request, _ caller) {
	made, err := s.makeReview(r.Context())
	if err != nil {
		if !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded) {
			s.log.Error("review", "error", err)
		}
		refuse(w, notRead(err))
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

// dayRead is the day as far as its journal was read.
type dayRead struct {
	tail
	day *review.Day
}

// makeReview reads on in the journal and looks back.
func (s *Server) makeReview(ctx context.Context) (review.Review, error) {
	ctx, cancel := context.WithTimeout(ctx, readWithin)
	defer cancel()
	d := &s.reviewed
	if err := d.lock(ctx); err != nil {
		return review.Review{}, fmt.Errorf("review: %w", err)
	}
	defer d.unlock()
	err := s.readOn(ctx, &d.tail, func() func([]byte) error {
		d.day = review.NewDay(alarmsAt)
		return d.read
	})
	if err != nil {
		return review.Review{}, fmt.Errorf("review: %w", err)
	}
	return d.day.Review(s.desk.Now()), nil
}

func (d *dayRead) read(data []byte) error {
	var l board.JournalLine
	if err := json.Unmarshal(data, &l); err != nil {
		return fmt.Errorf("read the line after %d: %w", d.day.Of(), err)
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
