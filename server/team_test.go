package server

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"maps"
	"mime/multipart"
	"net/http"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
)

// sends a team folder as the captain's page does: a file's path, or a setting's name and
// "", with what is in it.
func (d device) sends(files map[string]string, said map[string]string) answer {
	d.p.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(said)) {
		require.NoError(d.p.t, w.WriteField(name, said[name]))
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		part, err := w.CreateFormFile(name, name)
		require.NoError(d.p.t, err)
		_, err = io.WriteString(part, files[name])
		require.NoError(d.p.t, err)
	}
	require.NoError(d.p.t, w.Close())
	return d.ask("POST", "/api/team", b.Bytes(), header("Content-Type", w.FormDataContentType()))
}

func packed(t testing.TB, files map[string]string) []byte {
	t.Helper()
	all := map[string][]byte{}
	for name, text := range files {
		all[name] = []byte(text)
	}
	b, err := zipped(all)
	require.NoError(t, err)
	return b
}

func unpacked(t testing.TB, b []byte) map[string][]byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	require.NoError(t, err)
	files := map[string][]byte{}
	for _, f := range z.File {
		open, err := f.Open()
		require.NoError(t, err)
		files[f.Name], err = io.ReadAll(open)
		require.NoError(t, err)
	}
	return files
}

var smallTeam = map[string]string{
	"our/event.csv":    "setting,value\nname,Small Open\n",
	"our/robots.csv":   "name,lead\nTin Moth,Ada\n",
	"our/crew.csv":     "name,role\nAda,captain\nBen,crew\n",
	"our/.DS_Store":    "x",
	"our/picture.jpeg": "x",
}

func TestTheCaptainLoadsATeamFolderAndStaysOnItsRoster(t *testing.T) {
	p := newEmptyPit(t)
	ada := p.captain()
	was := p.d.View().State.People

	a := decode[teamAnswer](t, ada.sends(smallTeam, nil).ok().body)

	require.True(t, a.Loaded)
	require.Equal(t, []int{2, 1}, []int{a.People, a.Robots})
	require.Equal(t, []string{"our/.DS_Store", "our/picture.jpeg"}, a.Skipped)
	s := p.d.View().State
	require.Len(t, s.People, 2)
	for _, robot := range s.Robots {
		require.Contains(t, was, robot.Lead, "the robot's lead is she who had joined")
		require.Equal(t, board.Unknown, s.Powers[robot.ID].State)
	}
	ada.get("/api/codes").ok()

	bad := ada.sends(smallTeam, nil).ask422(t)
	require.Contains(t, bad.Faults[0].Want, "holds a team already")
}

func (a answer) ask422(t testing.TB) teamAnswer {
	t.Helper()
	require.Equal(t, http.StatusUnprocessableEntity, a.status, string(a.body))
	return decode[teamAnswer](t, a.body)
}

func TestOneBadCellIsNamedAndNothingIsLoaded(t *testing.T) {
	p := newEmptyPit(t)
	ada := p.captain()
	files := maps.Clone(smallTeam)
	files["our/robots.csv"] = "name,hands\nTin Moth,two\n"
	rev := p.d.View().State.Rev

	a := ada.sends(files, nil).ask422(t)

	require.False(t, a.Loaded)
	require.Equal(t, []team.RowError{{File: "robots.csv", Line: 2, Column: "hands", Number: 2, Value: "two", Want: "a whole number such as 12"}}, a.Faults)
	require.Equal(t, rev, p.d.View().State.Rev)
}

func TestWhatIsSaidBesideTheFolderStandsWhereItLeavesThatOpen(t *testing.T) {
	p := newEmptyPit(t)
	ada := p.captain()
	files := map[string]string{"robots.csv": "name\nTin Moth\n"}
	require.Equal(t, "name", ada.sends(files, nil).ask422(t).Faults[0].Ask)
	ada.sends(files, map[string]string{"name": "Small Open"}).ok()
	require.Equal(t, "Small Open", p.d.View().State.Event().Name)
}

func TestAFolderMayNameWhoHasJoinedWithoutARowForThem(t *testing.T) {
	p := newEmptyPit(t)
	ada := p.captain()
	ada.sends(map[string]string{"event.csv": smallTeam["our/event.csv"], "robots.csv": "name,lead\nTin Moth,ada\n"}, nil).ok()
	for _, robot := range p.d.View().State.Robots {
		require.Equal(t, "Ada", p.d.View().State.People[robot.Lead].Name)
	}
}

func TestAZipIsLoadedAndTheTeamComesOutAsItWentIn(t *testing.T) {
	p := newEmptyPit(t)
	load, errs := team.Read(os.DirFS("../board/team/testdata/full"), p.newID())
	require.Empty(t, errs)
	p.told(load)
	ada := p.join(board.RoleCaptain, "Odo")
	first := ada.get("/api/team").ok()
	require.Equal(t, "application/zip", first.header.Get("Content-Type"))
	require.Contains(t, string(unpacked(t, first.body)[team.ReadMe]), "robots.csv: the robots")

	other := newEmptyPit(t)
	odo := other.join(board.RoleCaptain, "Odo")
	odo.ask("POST", "/api/team", first.body, header("Content-Type", "application/zip")).ok()
	require.Equal(t, unpacked(t, first.body), unpacked(t, odo.get("/api/team").ok().body))
	for _, pack := range other.d.View().State.Packs {
		require.NotEqual(t, board.PackCharged, pack.State)
	}
}

func TestABlankFolderIsGiven(t *testing.T) {
	p := newEmptyPit(t)
	ada := p.captain()
	ada.get("/api/team").refused(http.StatusConflict, board.CodeState)
	blank, err := team.Blank()
	require.NoError(t, err)
	require.Equal(t, blank, unpacked(t, ada.get("/api/team/blank").ok().body))
}

func TestOnlyTheCaptainsPageLoadsAFolder(t *testing.T) {
	p := newEmptyPit(t)
	ben := p.crew()
	ben.sends(smallTeam, nil).refused(http.StatusForbidden, board.CodeForbidden)
	ben.get("/api/team").refused(http.StatusForbidden, board.CodeForbidden)
	p.nobody().sends(smallTeam, nil).refused(http.StatusUnauthorized, codeNoSession)
	ada := p.captain()
	ada.ask("POST", "/api/team", packed(t, smallTeam), header("Content-Type", "application/zip"), ada.page("http://elsewhere.example")).
		refused(http.StatusForbidden, board.CodeForbidden)
	ada.ask("POST", "/api/team", []byte("{}"), header("Content-Type", "application/json")).refused(http.StatusUnsupportedMediaType, board.CodeMalformed)
	require.Empty(t, p.d.View().State.Robots)
}

func TestAnUploadThatIsNoFolderIsRefused(t *testing.T) {
	p := newEmptyPit(t)
	ada := p.captain()
	zip := header("Content-Type", "application/zip")
	many := map[string]string{}
	for i := range uploadFilesMost + 1 {
		many[fmt.Sprintf("%d.csv", i)] = "name\n"
	}
	// A MiB of blanks packs to a kilobyte: 17 of them are a bomb of this board's size.
	bomb := map[string]string{}
	for i := range 17 {
		bomb[fmt.Sprintf("%d.csv", i)] = string(bytes.Repeat([]byte(" "), 1<<20))
	}
	require.Less(t, len(packed(t, bomb)), 1<<18)
	for name, c := range map[string]struct {
		body   []byte
		status int
		code   board.Code
	}{
		"no zip":            {[]byte("PK nothing"), http.StatusBadRequest, board.CodeMalformed},
		"many files":        {packed(t, many), http.StatusRequestEntityTooLarge, codeTooBig},
		"a bomb":            {packed(t, bomb), http.StatusRequestEntityTooLarge, codeTooBig},
		"cut off in a file": {packed(t, smallTeam)[:200], http.StatusBadRequest, board.CodeMalformed},
	} {
		t.Run(name, func(t *testing.T) {
			ada.ask("POST", "/api/team", c.body, zip).refused(c.status, c.code)
		})
		p.clock.pass(60e9)
	}
	path := ada.ask("POST", "/api/team", packed(t, map[string]string{"../../event.csv": "setting,value\nname,Small Open\n"}), zip)
	path.ok() // a path leads nowhere: no file is written
	require.Equal(t, "Small Open", p.d.View().State.Event().Name)
}
