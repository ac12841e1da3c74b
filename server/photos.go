package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"time"

	"github.com/google/uuid"

	"mendline/board"
	"mendline/server/photo"
)

const photoWait = 60 * time.Second

// photoAnswer names a photo that is on disk.
type photoAnswer struct {
	Photo board.PhotoID `json:"photo"`
}

func (s *Server) addPhoto(w http.ResponseWriter, r *http.Request, by caller) {
	switch {
	case by.actor.Role == board.RoleViewer:
		refuse(w, forbidden("This screen only shows the board. Join with another code to send photos."))
		return
	case !by.session.speed.AllowN(s.o.Now(), 1):
		refuse(w, tooFast())
		return
	case s.desk.Store().Healthy() != nil:
		refuse(w, notWritten())
		return
	}
	at := s.o.Now()
	if !s.photosOf.take(by.actor.Person, at) {
		refuse(w, &board.Refusal{Code: board.CodeState, Field: "photo", Sentence: fmt.Sprintf("%s has sent %d photos within a day, and the board takes no more of one person's. Somebody else can send it.", by.name, photosPerDay)})
		return
	}
	patience(w, photoWait)
	id := uuid.NewString()
	_, err := s.o.Photos.Add(r.Context(), id, r.Body)
	if err != nil {
		if cutOff(err) {
			s.photosOf.giveBack(by.actor.Person, at)
		}
		s.refusePhoto(w, err)
		return
	}
	writeJSON(w, http.StatusOK, photoAnswer{Photo: board.PhotoID(id)})
}

// patience gives a slow request longer than the server's own limits.
func patience(w http.ResponseWriter, wait time.Duration) {
	c := http.NewResponseController(w)
	c.SetReadDeadline(time.Now().Add(wait))
	c.SetWriteDeadline(time.Now().Add(wait + answerWait))
}

func (s *Server) refusePhoto(w http.ResponseWriter, err error) {
	var refused *photo.Refused
	switch {
	case errors.As(err, &refused):
		refuse(w, &board.Refusal{Code: board.Code(refused.Code), Field: "photo", Sentence: refused.Sentence})
	case tooBig(err):
		refuse(w, &board.Refusal{Code: codeTooBig, Field: "photo", Sentence: "This photo is over 12 MiB. Send a screenshot of it, or take it again at a lower resolution."})
	case errors.Is(err, fs.ErrNotExist):
		refuse(w, &board.Refusal{Code: board.CodeUnknown, Field: "photo", Sentence: "There is no such photo."})
	case cutOff(err):
		refuse(w, slowDown("The photo did not arrive whole. It has to be sent again."))
	default:
		s.log.Error("photo", "error", err)
		refuse(w, notWritten())
	}
}

// cutOff tells that an upload ended before its end, by the phone, the network or our
// own limit. A picture that is itself cut short arrived whole.
func cutOff(err error) bool {
	var network *net.OpError
	return !errors.As(err, new(*photo.Refused)) && (errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, context.Canceled) || errors.As(err, &network))
}

func (s *Server) photo(w http.ResponseWriter, r *http.Request, _ caller) {
	s.sendPhoto(w, r, photo.Full)
}

func (s *Server) thumb(w http.ResponseWriter, r *http.Request, _ caller) {
	s.sendPhoto(w, r, photo.Thumb)
}

// sendPhoto answers with a kept picture. A photo never changes.
func (s *Server) sendPhoto(w http.ResponseWriter, r *http.Request, size photo.Size) {
	file, err := s.o.Photos.Open(r.PathValue("id"), size)
	if err != nil {
		s.refusePhoto(w, err)
		return
	}
	defer file.Close()
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=57600, immutable")
	http.ServeContent(w, r, "", time.Time{}, file)
}
