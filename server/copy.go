package server

import (
	"net/http"
	"os"
	"path/filepath"

	"mendline/board"
	"mendline/server/desk"
)

// fileAnswer says where the board's file is.
type fileAnswer struct {
	Path string `json:"path"`
	// Moved says that it is not there any more, Rescued where a copy was written then.
	Moved   bool   `json:"moved"`
	Rescued string `json:"rescued,omitzero"`
}

// file asks the desk, which answers when it has written the copy that it is at.
func (s *Server) file(w http.ResponseWriter, r *http.Request, _ caller) {
	v, err := s.desk.State(r.Context())
	if err != nil {
		refuse(w, desk.Restarting())
		return
	}
	own := s.desk.Store()
	a := fileAnswer{Path: own.Path(), Moved: own.InPlace() != nil}
	if a.Moved {
		a.Rescued = v.Rescued
	}
	writeJSON(w, http.StatusOK, a)
}

// copy gives the captain a copy of the board to keep.
func (s *Server) copy(w http.ResponseWriter, r *http.Request, by caller) {
	patience(w, adminWait)
	s.log.Info("copy of the board", "by", by.actor.Person)
	s.sendCopy(w, r)
}

// adminBackup answers with a copy of the board's file.
func (s *Server) adminBackup(w http.ResponseWriter, r *http.Request) { s.sendCopy(w, r) }

// sendCopy answers with a copy of the board's file, examined before it is sent. It
// holds sessions and secrets.
func (s *Server) sendCopy(w http.ResponseWriter, r *http.Request) {
	dir, err := os.MkdirTemp("", "mendline-backup-")
	if err == nil {
		defer os.RemoveAll(dir)
		path := filepath.Join(dir, "board.db")
		if _, err = s.desk.Store().Backup(path); err == nil {
			w.Header().Set("Content-Type", "application/octet-stream")
			w.Header().Set("Content-Disposition", s.o.Now().Format(`attachment; filename="mendline-2006-01-02-1504.db"`))
			http.ServeFile(w, r, path)
			return
		}
	}
	s.log.Error("backup", "error", err)
	refuseWith(w, http.StatusInternalServerError, &board.Refusal{Code: board.CodeReadOnly, Sentence: "The copy could not be made: " + err.Error() + "."})
}
