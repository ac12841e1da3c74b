package server

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"mendline/board"
	"mendline/board/debrief"
	"mendline/board/debrief/print"
)

// pagePolicy lets the printed debrief carry its own style and nothing else.
const pagePolicy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// debrief answers with the account of the board as it stands: JSON, or with
// as=page a page to read and print.
func (s *Server) debrief(w http.ResponseWriter, r *http.Request, _ caller) {
	asked, refusal := askedOf(r)
	if refusal != nil {
		refuse(w, refusal)
		return
	}
	rec, err := s.record(r.Context())
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			s.log.Error("debrief", "error", err)
		}
		refuse(w, notRead(err))
		return
	}
	a, err := rec.Account(asked)
	if err != nil {
		refuse(w, &board.Refusal{Code: board.CodeBadField, Sentence: "The account cannot be made: " + err.Error() + "."})
		return
	}
	if r.URL.Query().Get("as") != "page" {
		writeJSON(w, http.StatusOK, a)
		return
	}
	page, err := print.HTML([]debrief.Account{a})
	if err != nil {
		s.log.Error("debrief", "error", err)
		refuse(w, cannotRead())
		return
	}
	w.Header().Set("Content-Security-Policy", pagePolicy)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write(page)
}

// workRead is the work and damage of a journal as far as it was read.
type workRead struct {
	tail
	reading *debrief.Reading
}

// record reads on in the journal and gives what it says.
func (s *Server) record(ctx context.Context) (debrief.Record, error) {
	ctx, cancel := context.WithTimeout(ctx, readWithin)
	defer cancel()
	d := &s.debriefed
	if err := d.lock(ctx); err != nil {
		return debrief.Record{}, fmt.Errorf("debrief: %w", err)
	}
	defer d.unlock()
	err := s.readOn(ctx, &d.tail, func() func([]byte) error {
		d.reading = debrief.NewReading()
		return d.reading.Read
	})
	if err != nil {
		return debrief.Record{}, fmt.Errorf("debrief: %w", err)
	}
	return d.reading.Record()
}

// askedOf reads what is asked: moves, 0 to 2; fights to come, grams and cents; stated
// demands, each as guess=NAME=0.5.
func askedOf(r *http.Request) (debrief.Asked, *board.Refusal) {
	asked, q := debrief.Usual(), r.URL.Query()
	if text := q.Get("moves"); text != "" {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(v >= 0 && v <= 2) {
			return asked, &board.Refusal{Code: board.CodeBadField, Field: "moves", Sentence: "Say how much of the damage moves: 0 to 2, 1 is all of it."}
		}
		asked.Moves = v
	}
	for _, f := range []struct {
		name        string
		to          *int
		least, most int
	}{
		{"fights", &asked.Next.Fights, 1, 30}, {"grams", &asked.Next.Budget.Grams, 1, 1_000_000}, {"cents", &asked.Next.Budget.Cents, 0, 100_000_000},
	} {
		text := q.Get(f.name)
		if text == "" {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < f.least || n > f.most {
			return asked, &board.Refusal{Code: board.CodeBadField, Field: f.name, Sentence: "Give " + f.name + " as a whole number from " + strconv.Itoa(f.least) + " to " + strconv.Itoa(f.most) + "."}
		}
		*f.to = n
	}
	asked.Next.Guesses = map[string]float64{}
	for _, text := range q["guess"] {
		spare, perFight, err := debrief.ParseGuess(text)
		if err != nil {
			return asked, &board.Refusal{Code: board.CodeBadField, Field: "guess", Sentence: "Not understood: " + err.Error() + "."}
		}
		asked.Next.Guesses[spare] = perFight
	}
	return asked, nil
}
