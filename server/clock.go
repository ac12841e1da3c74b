package server

import (
	"net/http"
	"time"

	"mendline/board"
)

// clockAnswer says how the board's time stands to the laptop's clock, and what the command
// time.set would move that brings it to a time.
type clockAnswer struct {
	Now    board.Moment `json:"now"`
	Laptop board.Moment `json:"laptop"`
	// BySec is what time.set takes, 0 where the board has that time.
	BySec int      `json:"bySec"`
	Moves []string `json:"moves"`
}

// clock answers for the time that the query names as to, or for the laptop's.
func (s *Server) clock(w http.ResponseWriter, r *http.Request, by caller) {
	a := clockAnswer{Now: s.desk.Now(), Laptop: s.desk.Laptop(), Moves: []string{}}
	to := a.Laptop
	if text := r.URL.Query().Get("to"); text != "" {
		if err := to.UnmarshalText([]byte(text)); err != nil {
			refuse(w, &board.Refusal{Code: board.CodeBadField, Field: "to", Sentence: "Say a date and a time."})
			return
		}
	}
	a.BySec = int(to.Sub(a.Now).Round(time.Second) / time.Second)
	if a.BySec != 0 {
		moves, refusal := board.TimeSet{BySec: a.BySec}.Moves(s.desk.View().State, by.actor, a.Now)
		if refusal != nil {
			refuse(w, refusal)
			return
		}
		a.Moves = moves
	}
	writeJSON(w, http.StatusOK, a)
}
