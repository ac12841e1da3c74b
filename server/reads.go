package server

import (
	"compress/gzip"
	"net/http"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

func (s *Server) board(w http.ResponseWriter, r *http.Request, _ caller) {
	writeFrame(w, r, s.desk.View().Snapshot())
}

// forecast answers with the newest forecast: seq 0 and nothing in it while there
// is none.
func (s *Server) forecast(w http.ResponseWriter, r *http.Request, _ caller) {
	f := s.desk.Forecast()
	if f == nil {
		v := s.desk.View()
		f = frame(desk.ForecastMessage{T: "forecast", Epoch: v.Epoch, Of: v.State.Rev, At: s.desk.Now(), Whole: true})
	}
	writeFrame(w, r, f)
}

// writeFrame answers with a message of the wire, compressed where the client
// reads that.
func writeFrame(w http.ResponseWriter, r *http.Request, f *desk.Frame) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Vary", "Accept-Encoding")
	if !takesGzip(r) {
		w.Write(f.Data)
		return
	}
	w.Header().Set("Content-Encoding", "gzip")
	z := gzip.NewWriter(w)
	z.Write(f.Data)
	z.Close()
}

// takesGzip reads Accept-Encoding (RFC 9110 §12.5.3).
func takesGzip(r *http.Request) bool {
	for part := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		name, weight, _ := strings.Cut(strings.ReplaceAll(part, " ", ""), ";")
		if strings.EqualFold(name, "gzip") {
			q, err := strconv.ParseFloat(strings.TrimPrefix(weight, "q="), 64)
			return weight == "" || (err == nil && q > 0)
		}
	}
	return false
}

// journalAnswer is a page of the journal. Ask again after the last line's
// revision, until there is none.
type journalAnswer struct {
	Lines []jsontext.Value `json:"lines"` // board.JournalLine each
}

func (s *Server) journal(w http.ResponseWriter, r *http.Request, _ caller) {
	after := uint64(0)
	if text := r.URL.Query().Get("after"); text != "" {
		var err error
		if after, err = strconv.ParseUint(text, 10, 63); err != nil {
			refuse(w, &board.Refusal{Code: board.CodeBadField, Field: "after", Sentence: "Say after which revision: a whole number."})
			return
		}
	}
	lines, err := s.desk.Store().Journal(after, store.LinesMost)
	if err != nil {
		s.log.Error("journal", "error", err)
		refuse(w, cannotRead())
		return
	}
	a := journalAnswer{Lines: make([]jsontext.Value, len(lines))}
	for i, l := range lines {
		a.Lines[i] = l.Data
	}
	writeJSON(w, http.StatusOK, a)
}

// cannotRead answers for a store that is not read any more after a write failed.
func cannotRead() *board.Refusal {
	return &board.Refusal{Code: board.CodeReadOnly, Sentence: "The board's file is not read until the captain has tried again."}
}

// commandsAnswer describes what may be asked and how it may be refused.
type commandsAnswer struct {
	Commands []board.Described `json:"commands"`
	Refusals []Meaning         `json:"refusals"`
}

func (s *Server) listCommands(w http.ResponseWriter, _ *http.Request, _ caller) {
	writeJSON(w, http.StatusOK, commandsAnswer{Commands: board.Commands(), Refusals: meanings})
}

// listsAnswer gives the lines of the sheets in the board's own words.
type listsAnswer struct {
	Lists []board.Listed `json:"lists"`
}

func (s *Server) listLists(w http.ResponseWriter, _ *http.Request, _ caller) {
	writeJSON(w, http.StatusOK, listsAnswer{Lists: board.Lists()})
}
