package server

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/server/photo"
)

// Codes of the server's own.
const (
	codeNoSession board.Code = "no-session" // the device has not joined, or its session has ended
	codeTooBig    board.Code = "too-big"    // the body is larger than the route takes
)

// Meaning is one code of refusal as /api/commands lists it.
type Meaning struct {
	Code   board.Code `json:"code"`
	Status int        `json:"status"`
	What   string     `json:"what"`
}

// meanings lists every code with its HTTP status.
var meanings = []Meaning{
	{board.CodeMalformed, http.StatusBadRequest, "could not be read"},
	{board.CodeUnknown, http.StatusNotFound, "no such command, or no such noun"},
	{board.CodeForbidden, http.StatusForbidden, "not for this role or person"},
	{board.CodeBadField, http.StatusUnprocessableEntity, "a field's value cannot be"},
	{board.CodeUnlikely, http.StatusUnprocessableEntity, "it can be, but is hardly so: say it again with sure"},
	{board.CodeTaken, http.StatusConflict, "a name, number or place is in use"},
	{board.CodeState, http.StatusConflict, "not from the state it is in"},
	{board.CodeStale, http.StatusConflict, "the noun has changed since it was seen"},
	{board.CodeSafety, http.StatusConflict, "a numbered safety rule forbids it"},
	{board.CodeTooLate, http.StatusGone, "the time for it is over"},
	{board.CodeIDReused, http.StatusConflict, "the command id was used for something else"},
	{board.CodeReadOnly, http.StatusServiceUnavailable, "the board cannot write to its disk"},
	{board.CodeTooMany, http.StatusTooManyRequests, "slow down"},
	{board.CodeRestarting, http.StatusServiceUnavailable, "the board is shutting down"},
	{board.CodeNeedProof, http.StatusForbidden, "the person must give their PIN"},
	{board.CodeNotYet, http.StatusConflict, "something else comes first"},
	{board.CodeNothingToDo, http.StatusConflict, "it is so already"},
	{codeNoSession, http.StatusUnauthorized, "the device has not joined, or its session has ended"},
	{codeTooBig, http.StatusRequestEntityTooLarge, "the body is larger than the route takes"},
	{board.Code(photo.NotAPicture), http.StatusUnsupportedMediaType, "neither JPEG nor PNG"},
	{board.Code(photo.TooManyPixels), http.StatusRequestEntityTooLarge, "a picture of too many pixels"},
	{board.Code(photo.CannotRead), http.StatusUnprocessableEntity, "a picture that cannot be decoded"},
	{board.Code(photo.BadID), http.StatusNotFound, "no id of a photo"},
}

// statusOf is the HTTP status of a code. A code without one is a fault of ours.
func statusOf(code board.Code) int {
	i := slices.IndexFunc(meanings, func(m Meaning) bool { return m.Code == code })
	if i < 0 {
		return http.StatusInternalServerError
	}
	return meanings[i].Status
}

// RefusedAnswer is the body of every answer that is not a success.
type RefusedAnswer struct {
	Refusal *board.Refusal `json:"refusal"`
	// Entity is the noun as it stands, where the code is "stale".
	Entity jsontext.Value `json:"entity,omitzero"`
}

func refuse(w http.ResponseWriter, bad *board.Refusal) { refuseWith(w, statusOf(bad.Code), bad) }

func refuseWith(w http.ResponseWriter, status int, bad *board.Refusal) {
	writeRefused(w, status, RefusedAnswer{Refusal: bad})
}

func writeRefused(w http.ResponseWriter, status int, a RefusedAnswer) {
	if status == http.StatusTooManyRequests || status == http.StatusServiceUnavailable {
		w.Header().Set("Retry-After", "2")
	}
	writeJSON(w, status, a)
}

func forbidden(sentence string, args ...any) *board.Refusal {
	return &board.Refusal{Code: board.CodeForbidden, Sentence: fmt.Sprintf(sentence, args...)}
}

func noSession() *board.Refusal {
	return &board.Refusal{Code: codeNoSession, Sentence: "This device has not joined, or its session has ended. Join with a code."}
}

func notWritten() *board.Refusal {
	return &board.Refusal{Code: board.CodeReadOnly, Sentence: "The board could not write this to its disk. The captain can try again."}
}

// writeJSON answers with a message. The connection's end is not our fault, so an
// error of writing has nobody to hear it.
func writeJSON(w http.ResponseWriter, status int, message any) {
	b, err := json.Marshal(message, json.Deterministic(true))
	if err != nil {
		panic("server: encode answer: " + err.Error())
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(append(b, '\n'))
}

// readJSON reads a body that is one object with known fields, each once.
func readJSON(r *http.Request, into any) *board.Refusal {
	b, err := io.ReadAll(r.Body)
	switch {
	case tooBig(err):
		return tooLarge()
	case err != nil:
		return &board.Refusal{Code: board.CodeMalformed, Sentence: "The body did not arrive whole. Send it again."}
	}
	return parse(b, into)
}

func parse(b []byte, into any) *board.Refusal {
	if err := json.Unmarshal(b, into, json.RejectUnknownMembers(true)); err != nil {
		return unreadable(err)
	}
	return nil
}

// unreadable names the field at fault and never repeats its value, which may be a
// secret.
func unreadable(err error) *board.Refusal {
	bad := &board.Refusal{Code: board.CodeMalformed, Sentence: "This is not one JSON object. Send one."}
	var semantic *json.SemanticError
	var syntax *jsontext.SyntacticError
	switch {
	case errors.As(err, &semantic):
		bad.Field = strings.TrimPrefix(string(semantic.JSONPointer), "/")
		bad.Sentence = fmt.Sprintf("The field %q does not take this value.", bad.Field)
		if errors.Is(err, json.ErrUnknownName) {
			bad.Sentence = fmt.Sprintf("There is no field %q here. Take it out.", bad.Field)
		}
	case errors.As(err, &syntax):
		bad.Field = strings.TrimPrefix(string(syntax.JSONPointer), "/")
		if errors.Is(err, jsontext.ErrDuplicateName) {
			bad.Sentence = fmt.Sprintf("The field %q is there twice. Send it once.", bad.Field)
		}
	}
	return bad
}
