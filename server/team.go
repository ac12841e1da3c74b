package server

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"mime"
	"net/http"
	"path"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/board/team"
	"mendline/server/desk"
)

// teamAnswer says what became of a team folder: what was loaded of it, or all that is
// wrong with it, and then nothing was.
type teamAnswer struct {
	Loaded bool            `json:"loaded"`
	People int             `json:"people"`
	Robots int             `json:"robots"`
	Packs  int             `json:"packs"`
	Jobs   int             `json:"jobs"`
	Fights int             `json:"fights"`
	Faults []team.RowError `json:"faults"`
	// Skipped are the files that were passed over.
	Skipped []string `json:"skipped"`
}

// loadTeam loads a team folder from the captain's page: as its files, each under its
// path, or as a zip. What the folder leaves open may be said beside it.
func (s *Server) loadTeam(w http.ResponseWriter, r *http.Request, by caller) {
	if !by.session.speed.AllowN(s.o.Now(), 1) {
		refuse(w, tooFast())
		return
	}
	patience(w, photoWait)
	given, err := upload(r)
	if err != nil {
		refuse(w, badUpload(err))
		return
	}
	given.On = s.desk.View().State
	id := s.desk.NewCommandID()
	cmd, faults := given.Read(id)
	a := teamAnswer{Faults: append([]team.RowError{}, faults...), Skipped: append([]string{}, given.Skipped()...)}
	if len(faults) > 0 {
		writeJSON(w, http.StatusUnprocessableEntity, a)
		return
	}
	with, err := json.Marshal(cmd, json.Deterministic(true))
	if err != nil {
		panic("server: encode team: " + err.Error())
	}
	done, err := s.give(r.Context(), desk.Request{ID: id, Do: board.Name(cmd), With: with, Actor: by.actor})
	switch {
	case err != nil:
		refuse(w, desk.Restarting())
	case done.Refusal != nil:
		refuse(w, done.Refusal)
	default:
		s.log.Info("team loaded", "by", by.actor.Person)
		a.Loaded, a.People, a.Robots, a.Packs, a.Jobs, a.Fights = true, len(cmd.People), len(cmd.Robots), len(cmd.Packs), len(cmd.Templates), len(cmd.Fights)
		writeJSON(w, http.StatusOK, a)
	}
}

// giveTeam answers with the board's team as a zip.
func (s *Server) giveTeam(w http.ResponseWriter, _ *http.Request, _ caller) {
	state := s.desk.View().State
	if state.Event().Name == "" {
		refuse(w, &board.Refusal{Code: board.CodeState, Sentence: "The board holds no team yet. Load one, or name the event, first."})
		return
	}
	s.sendTeam(w, "team", func() (map[string][]byte, error) { return team.Write(state) })
}

// giveBlank answers with a folder to fill in.
func (s *Server) giveBlank(w http.ResponseWriter, _ *http.Request, _ caller) {
	s.sendTeam(w, "blank-team", team.Blank)
}

func (s *Server) sendTeam(w http.ResponseWriter, name string, write func() (map[string][]byte, error)) {
	files, err := write()
	var packed []byte
	if err == nil {
		packed, err = zipped(files)
	}
	if err != nil {
		s.log.Error("write team", "error", err)
		refuse(w, cannotRead())
		return
	}
	w.Header().Set("Content-Type", zipType)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+s.o.Now().Format("-2006-01-02-1504")+`.zip"`)
	w.Write(packed)
}

func zipped(files map[string][]byte) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		f, err := z.Create(name)
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(files[name]); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

const (
	zipType   = "application/zip"
	filesType = "multipart/form-data"
)

// Of an upload: how many files, how large all that is looked into may be once unpacked,
// and how long what is said beside it.
const (
	uploadFilesMost = 500
	unpackedMost    = 16 << 20
	saidMost        = 300
)

var (
	errManyFiles = fmt.Errorf("more than %d files", uploadFilesMost)
	errUnpacked  = fmt.Errorf("more than %d MiB unpacked", unpackedMost>>20)
	errTwice     = errors.New("two files of one path")
)

func badUpload(err error) *board.Refusal {
	switch {
	case tooBig(err):
		return tooLarge()
	case errors.Is(err, errManyFiles), errors.Is(err, errUnpacked):
		return &board.Refusal{Code: codeTooBig, Sentence: "This is no team folder: it holds " + err.Error() + ". Choose the folder of the tables alone."}
	case errors.Is(err, errTwice):
		return &board.Refusal{Code: board.CodeMalformed, Sentence: "The folder holds two files of one path. Leave one of them out."}
	}
	return &board.Refusal{Code: board.CodeMalformed, Sentence: "The folder did not arrive whole, or its zip cannot be read. Choose the files themselves."}
}

// unpacking is a folder on its way in, with what it may still grow by.
type unpacking struct {
	team.Given
	left int64
}

// upload reads a request's folder. No file of it is written anywhere.
func upload(r *http.Request) (team.Given, error) {
	u := &unpacking{team.Given{Files: map[string][]byte{}, Said: map[string]string{}}, unpackedMost}
	if typ, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); typ == zipType {
		return u.Given, u.unzip(r.Body)
	}
	parts, err := r.MultipartReader()
	if err != nil {
		return u.Given, err
	}
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return u.Given, nil
		}
		if err != nil {
			return u.Given, err
		}
		switch name := part.FormName(); {
		case part.FileName() == "":
			text, err := io.ReadAll(io.LimitReader(part, saidMost))
			if err != nil {
				return u.Given, err
			}
			u.Said[name] = string(text)
		case strings.EqualFold(path.Ext(name), ".zip"):
			err = u.unzip(part)
		default:
			err = u.enter(name, part)
		}
		if err != nil {
			return u.Given, err
		}
	}
}

func (u *unpacking) unzip(from io.Reader) error {
	packed, err := io.ReadAll(from)
	if err != nil {
		return err
	}
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return err
	}
	for _, f := range z.File {
		if strings.HasSuffix(f.Name, "/") {
			continue
		}
		if err := u.unzipOne(f); err != nil {
			return err
		}
	}
	return nil
}

func (u *unpacking) unzipOne(f *zip.File) error {
	if !team.Looked(f.Name) {
		return u.enter(f.Name, strings.NewReader(""))
	}
	open, err := f.Open()
	if err != nil {
		return err
	}
	defer open.Close()
	return u.enter(f.Name, open)
}

// enter reads a file if it is looked into, whatever size it says it has.
func (u *unpacking) enter(name string, from io.Reader) error {
	if _, there := u.Files[name]; there {
		return errTwice
	}
	if len(u.Files) == uploadFilesMost {
		return errManyFiles
	}
	u.Files[name] = nil
	if !team.Looked(name) {
		return nil
	}
	data, err := io.ReadAll(io.LimitReader(from, min(team.FileMost+1, u.left+1)))
	if err != nil {
		return err
	}
	if u.left -= int64(len(data)); u.left < 0 {
		return errUnpacked
	}
	u.Files[name] = data
	return nil
}
