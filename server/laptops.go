package server

import (
	"crypto/sha256"
	"crypto/subtle"
	"io"
	"net/http"
	"os"
	"strings"

	"mendline/board"
	"mendline/server/copies"
)

// copiesCodeAnswer is what another laptop needs to keep copies: "" while none may.
type copiesCodeAnswer struct {
	Code string `json:"code"`
}

func (s *Server) copiesCode(w http.ResponseWriter, _ *http.Request, _ caller) {
	writeJSON(w, http.StatusOK, copiesCodeAnswer{s.o.Copies.Code()})
}

// copiesCodeAsk wants another code for laptops, or with Off none.
type copiesCodeAsk struct {
	Off bool `json:"off,omitzero"`
}

func (s *Server) changeCopiesCode(w http.ResponseWriter, r *http.Request, by caller) {
	var ask copiesCodeAsk
	if refusal := readJSON(r, &ask); refusal != nil {
		refuse(w, refusal)
		return
	}
	var err error
	if ask.Off {
		err = s.o.Copies.NoCode()
	} else {
		_, err = s.o.Copies.NewCode()
	}
	if err != nil {
		s.log.Error("change the code for copies", "error", err)
		refuse(w, notWritten())
		return
	}
	s.log.Info("code for copies changed", "off", ask.Off, "by", by.actor.Person)
	s.copiesCode(w, r, by)
}

// laptop lets in who can show the code for copies without saying it. What they get is
// sealed with it.
func (s *Server) laptop(h func(w http.ResponseWriter, r *http.Request, code string)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		code := s.o.Copies.Code()
		given, own := sha256.Sum256([]byte(bearer(r))), sha256.Sum256([]byte(copies.AskWith(code)))
		if code == "" || subtle.ConstantTimeCompare(given[:], own[:]) != 1 {
			refuse(w, noSession())
			return
		}
		patience(w, adminWait)
		h(w, r, code)
	}
}

func (s *Server) copyForLaptop(w http.ResponseWriter, r *http.Request, code string) {
	has := strings.Trim(r.Header.Get("If-None-Match"), `"`)
	c, in, err := s.o.Copies.Asked(addressOf(r.RemoteAddr), has)
	if err != nil {
		s.log.Error("copy for a laptop", "error", err)
		refuse(w, cannotRead())
		return
	}
	w.Header().Set("ETag", `"`+c.Tag()+`"`)
	if in == nil {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	defer in.Close()
	s.sealed(w, in, code, c.Tag())
}

// photosForLaptop lists the photos by file name.
func (s *Server) photosForLaptop(w http.ResponseWriter, _ *http.Request, code string) {
	names, err := s.o.Copies.Photos()
	if err != nil {
		s.log.Error("photos for a laptop", "error", err)
		refuse(w, cannotRead())
		return
	}
	s.sealed(w, strings.NewReader(strings.Join(names, "\n")), code, copies.PhotoList)
}

func (s *Server) photoForLaptop(w http.ResponseWriter, r *http.Request, code string) {
	name := r.PathValue("name")
	in, err := s.o.Copies.Photo(name)
	if err != nil {
		if !os.IsNotExist(err) {
			s.log.Error("photo for a laptop", "error", err)
		}
		refuse(w, &board.Refusal{Code: board.CodeUnknown, Sentence: "There is no such photo."})
		return
	}
	defer in.Close()
	s.sealed(w, in, code, name)
}

func (s *Server) sealed(w http.ResponseWriter, in io.Reader, code, about string) {
	w.Header().Set("Content-Type", "application/octet-stream")
	if err := copies.Seal(w, in, code, about); err != nil {
		s.log.Warn("a laptop did not get all of it", "error", err)
	}
}
