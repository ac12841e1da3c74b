package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/go-json-experiment/json"

	"mendline/board"
)

const (
	joinTries = 6
	joinPause = time.Second // before a board that is busy is asked again, times the try
	bodyMost  = 64 << 20    // bytes of an answer
)

// join takes the device's name with its PIN and keeps the session. A board that
// is busy is asked again a few times.
func (d *device) join(ctx context.Context, code string) error {
	ask := map[string]string{"code": code, "name": d.name, "pin": d.pin}
	var got struct {
		Token  string         `json:"token"`
		Person board.PersonID `json:"person"`
	}
	for try := 1; ; try++ {
		err := d.call(ctx, http.MethodPost, "/api/join", ask, &got)
		if err == nil {
			d.token, d.person = got.Token, got.Person
			return nil
		}
		if !isBusy(err) || try == joinTries {
			return fmt.Errorf("join as %q: %w", d.name, err)
		}
		select {
		case <-time.After(time.Duration(try) * joinPause):
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
}

// leave ends the session.
func (d *device) leave(ctx context.Context) error {
	return d.call(ctx, http.MethodPost, "/api/leave", struct{}{}, nil)
}

// board asks for the whole board.
func (d *device) board(ctx context.Context) (*message, error) {
	m := &message{}
	return m, d.call(ctx, http.MethodGet, "/api/board", nil, m)
}

// status is an answer other than 200.
type status struct {
	code     int
	sentence string
}

func (s *status) Error() string { return fmt.Sprintf("status %d: %s", s.code, s.sentence) }

func isBusy(err error) bool {
	var s *status
	return errors.As(err, &s) && (s.code == http.StatusTooManyRequests || s.code == http.StatusServiceUnavailable)
}

// call asks the board over HTTP from the device's address.
func (d *device) call(ctx context.Context, method, path string, ask, answer any) error {
	var body io.Reader
	if ask != nil {
		b, err := json.Marshal(ask)
		if err != nil {
			return fmt.Errorf("write a request: %w", err)
		}
		body = bytes.NewReader(b)
	}
	r, err := http.NewRequestWithContext(ctx, method, d.base+path, body)
	if err != nil {
		return fmt.Errorf("make a request: %w", err)
	}
	r.Header.Set("Content-Type", "application/json")
	if d.token != "" {
		r.Header.Set("Authorization", "Bearer "+d.token)
	}
	w, err := d.client.Do(r)
	if err != nil {
		return err
	}
	defer w.Body.Close()
	b, err := io.ReadAll(io.LimitReader(w.Body, bodyMost))
	if err != nil {
		return fmt.Errorf("%s %s: %w", method, path, err)
	}
	if w.StatusCode != http.StatusOK {
		return refused(w.StatusCode, b)
	}
	if answer == nil {
		return nil
	}
	if err := json.Unmarshal(b, answer); err != nil {
		return fmt.Errorf("%s %s: %w", method, path, err)
	}
	return nil
}

func refused(code int, body []byte) error {
	var m struct {
		Refusal board.Refusal `json:"refusal"`
	}
	if json.Unmarshal(body, &m) != nil || m.Refusal.Sentence == "" {
		m.Refusal.Sentence = http.StatusText(code)
	}
	return &status{code: code, sentence: m.Refusal.Sentence}
}
