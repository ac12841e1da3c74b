package server

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
	"mendline/server/store"
)

func (p *pit) administrator() device { return device{p: p, token: adminToken} }

func TestABackupOfTheRunningBoardOpensAndChecks(t *testing.T) {
	p := newPit(t)
	p.crew().do(note("kept")).ok()
	a := p.administrator().get("/admin/backup").ok()
	require.Equal(t, "application/octet-stream", a.header.Get("Content-Type"))
	path := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, os.WriteFile(path, a.body, 0o600))
	report, err := store.Check(path)
	require.NoError(t, err)
	require.NoError(t, report.Err())
	require.Equal(t, uint64(p.d.View().State.Rev), report.Rev)
}

func TestTheCaptainAloneDownloadsACopy(t *testing.T) {
	p := newPit(t)
	p.crew().do(note("kept")).ok()
	for _, other := range []device{p.crew(), p.join(board.RoleSafety, "Dee"), p.wall()} {
		other.get("/api/copy").refused(http.StatusForbidden, board.CodeForbidden)
		other.get("/api/file").refused(http.StatusForbidden, board.CodeForbidden)
	}
	p.nobody().get("/api/copy").refused(http.StatusUnauthorized, codeNoSession)

	a := p.captain().get("/api/copy").ok()
	require.Equal(t, `attachment; filename="mendline-2026-05-09-0900.db"`, a.header.Get("Content-Disposition"))
	path := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, os.WriteFile(path, a.body, 0o600))
	report, err := store.Check(path)
	require.NoError(t, err)
	require.NoError(t, report.Err())
	require.Equal(t, uint64(p.d.View().State.Rev), report.Rev)
	where := decode[fileAnswer](t, p.captain().get("/api/file").ok().body)
	require.Equal(t, fileAnswer{Path: p.path}, where)
}

func TestTheRunningBoardIsChecked(t *testing.T) {
	p := newPit(t)
	a := decode[CheckAnswer](t, p.administrator().post("/admin/check", "{}").ok().body)
	require.True(t, a.OK)
	require.Equal(t, p.d.View().State.Rev, a.Rev)
	require.Equal(t, int(a.Rev), a.Lines)
	require.Equal(t, len(p.d.View().State.Nouns()), a.Nouns)
	require.Empty(t, a.Faults)
}

// A team of some hundred packs is larger than what a device may send at once.
func TestALargeTeamIsLoadedByTheAdministratorAlone(t *testing.T) {
	p := newPit(t)
	load := board.TeamLoad{Event: board.EventFields{Name: "spring meeting"}}
	for range 600 {
		id := board.PackID(uuid.NewString())
		load.Packs = append(load.Packs, board.Pack{ID: id, PackFields: board.PackFields{
			Name: "pack " + string(id), Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.65, ChargeAmpsMost: 0.65, Use: board.UseMain,
		}})
	}
	ask := p.command(load)
	require.Greater(t, len(encode(t, ask)), bodyMost)
	admin := p.administrator()
	waits := header("Expect", "100-continue") // or the refusal may meet a sender who still sends
	p.captain().post("/admin/load", ask, waits).refused(http.StatusUnauthorized, codeNoSession)
	p.captain().post("/api/do", ask, waits).refused(http.StatusRequestEntityTooLarge, codeTooBig)
	bad := admin.post("/admin/load", ask).refused(http.StatusConflict, board.CodeState)
	require.Contains(t, bad.Sentence, "empty board", "the pit holds a team already")
	admin.post("/admin/load", p.command(note("no load"))).refused(http.StatusUnprocessableEntity, board.CodeBadField)
	admin.post("/admin/load", strings.Repeat(" ", 1000)+"{").refused(http.StatusBadRequest, board.CodeMalformed)

	empty := newEmptyPit(t)
	ask = empty.command(load)
	empty.administrator().post("/admin/load", ask).ok()
	require.Len(t, empty.d.View().State.Packs, 600)
	empty.administrator().post("/admin/load", ask).ok() // the same id: the same answer
}
