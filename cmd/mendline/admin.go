package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/server"
	"mendline/server/store"
)

// runningBoard is how the owner of a data folder reaches the board that runs on
// it. The note lies in the folder, readable by its owner alone.
type runningBoard struct {
	URL   string `json:"url"`
	Token string `json:"token"`
	PID   int    `json:"pid"`
	// Folder is the data folder, in full: a copy of one holds a note about another.
	Folder string `json:"folder"`
}

// running reads the note and asks whether the board it names answers. A note is stale
// where its process does not hold this folder's board any more: whoever answers at the
// address then is not to be sent the token.
func (d dataDir) running() (runningBoard, bool) {
	b, err := os.ReadFile(d.note())
	if err != nil {
		return runningBoard{}, false
	}
	var r runningBoard
	if err := json.Unmarshal(b, &r); err != nil {
		return runningBoard{}, false
	}
	if r.Folder != d.full() || r.PID != store.HeldBy(d.board()) {
		return runningBoard{}, false
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	res, err := r.ask(ctx, http.MethodGet, "/healthz", nil)
	if err != nil {
		return runningBoard{}, false
	}
	res.Body.Close()
	return r, true
}

// leaveNote writes the note for as long as the board runs.
func (d dataDir) leaveNote(url, token string) (remove func(), err error) {
	b, err := json.Marshal(runningBoard{URL: url, Token: token, PID: os.Getpid(), Folder: d.full()})
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(d.note(), b, 0o600); err != nil {
		return nil, fmt.Errorf("leave the note for the other commands: %w", err)
	}
	return func() {
		if left, err := os.ReadFile(d.note()); err == nil && bytes.Equal(left, b) { // not of a board in a folder put here since
			os.Remove(d.note())
		}
	}, nil
}

func (r runningBoard) ask(ctx context.Context, method, path string, body []byte) (*http.Response, error) {
	q, err := http.NewRequestWithContext(ctx, method, r.URL+path, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	q.Header.Set("Authorization", "Bearer "+r.Token)
	if body != nil {
		q.Header.Set("Content-Type", "application/json")
	}
	return http.DefaultClient.Do(q)
}

func encodeTeam(cmd board.TeamLoad) ([]byte, error) {
	with, err := json.Marshal(cmd, json.Deterministic(true))
	if err != nil {
		return nil, fmt.Errorf("encode the team: %w", err)
	}
	return with, nil
}

func (r runningBoard) load(ctx context.Context, id board.CommandID, cmd board.TeamLoad) error {
	with, err := encodeTeam(cmd)
	if err != nil {
		return err
	}
	body, err := json.Marshal(struct {
		ID   board.CommandID `json:"id"`
		Do   string          `json:"do"`
		With jsontext.Value  `json:"with"`
	}{id, board.Name(cmd), with})
	if err != nil {
		return fmt.Errorf("encode the team: %w", err)
	}
	res, err := r.ask(ctx, http.MethodPost, "/admin/load", body)
	if err != nil {
		return fmt.Errorf("ask the running board: %w", err)
	}
	defer res.Body.Close()
	return refusalOf(res)
}

// backup asks the running board for a copy of itself and writes it to path.
func (r runningBoard) backup(ctx context.Context, path string) error {
	res, err := r.ask(ctx, http.MethodGet, "/admin/backup", nil)
	if err != nil {
		return fmt.Errorf("ask the running board: %w", err)
	}
	defer res.Body.Close()
	if err := refusalOf(res); err != nil {
		return err
	}
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("write the copy: %w", err)
	}
	_, err = io.Copy(out, res.Body)
	if err := errors.Join(err, out.Sync(), out.Close()); err != nil {
		os.Remove(path)
		return fmt.Errorf("write the copy: %w", err)
	}
	return nil
}

// check asks the running board to examine a copy of itself.
func (r runningBoard) check(ctx context.Context) (store.Report, error) {
	res, err := r.ask(ctx, http.MethodPost, "/admin/check", []byte("{}"))
	if err != nil {
		return store.Report{}, fmt.Errorf("ask the running board: %w", err)
	}
	defer res.Body.Close()
	if err := refusalOf(res); err != nil {
		return store.Report{}, err
	}
	var a server.CheckAnswer
	if err := json.UnmarshalRead(res.Body, &a); err != nil {
		return store.Report{}, fmt.Errorf("read what the running board found: %w", err)
	}
	return store.Report{Rev: uint64(a.Rev), Bytes: a.Bytes, Nouns: a.Nouns, Lines: a.Lines, Damage: a.Damage, Faults: a.Faults}, nil
}

// refusalOf turns an answer that is not a success into an error in the board's words.
func refusalOf(res *http.Response) error {
	if res.StatusCode == http.StatusOK {
		return nil
	}
	var said struct {
		Refusal board.Refusal `json:"refusal"`
	}
	body, _ := io.ReadAll(io.LimitReader(res.Body, 64<<10))
	if err := json.Unmarshal(body, &said); err == nil && said.Refusal.Sentence != "" {
		return errors.New("the board says: " + said.Refusal.Sentence)
	}
	return fmt.Errorf("the board answered %s", res.Status)
}
