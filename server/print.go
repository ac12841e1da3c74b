package server

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/server/paper"
)

// printed answers with a page of paper, printed of the board as it is now.
func (s *Server) printed(print func(*paper.Printer, io.Writer) error) http.HandlerFunc {
	return s.member(func(w http.ResponseWriter, _ *http.Request, _ caller) {
		var b bytes.Buffer
		err := print(s.printer(), &b)
		s.writePage(w, b.Bytes(), err)
	})
}

// printStrip answers with one robot's sheets.
func (s *Server) printStrip(w http.ResponseWriter, r *http.Request, by caller) {
	var b bytes.Buffer
	ok, err := s.printer().Strip(&b, board.RobotID(r.PathValue("id")))
	if !ok {
		noPage(w, r, by)
		return
	}
	s.writePage(w, b.Bytes(), err)
}

func (s *Server) printer() *paper.Printer {
	return paper.New(s.desk.View().State, s.desk.Now(), s.calls())
}

// writePage answers with a whole page or with none.
func (s *Server) writePage(w http.ResponseWriter, page []byte, err error) {
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			s.log.Error("print", "error", err)
		}
		if errors.Is(err, context.DeadlineExceeded) {
			http.Error(w, notRead(err).Sentence, http.StatusServiceUnavailable)
			return
		}
		http.Error(w, "The page could not be printed. The board's log says why.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write(page)
}

func (s *Server) printStyle(w http.ResponseWriter, _ *http.Request, _ caller) {
	w.Header().Set("Content-Type", "text/css; charset=utf-8")
	w.Write(paper.Style())
}

// calls reads each robot's next fight out of the newest forecast.
func (s *Server) calls() map[board.RobotID]forecast.Call {
	all := map[board.RobotID]forecast.Call{}
	f := s.desk.Forecast()
	if f == nil {
		return all
	}
	var m struct {
		Put map[string]jsontext.Value `json:"put"`
	}
	if err := json.Unmarshal(f.Data, &m); err != nil {
		s.log.Error("read the forecast", "error", err)
		return all
	}
	for key, v := range m.Put {
		var c forecast.Call
		if strings.HasPrefix(key, "call/") && json.Unmarshal(v, &c) == nil {
			all[c.Robot] = c
		}
	}
	return all
}
