package server

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

// The board's file may not grow beyond what bbolt is told: the full disk of a
// test. A copy of it has room again.
func TestABoardThatCannotWriteShowsAndRefusesUntilTriedAgain(t *testing.T) {
	p := newPitWith(t, with{store: store.Options{BytesMost: 400 << 10}})
	ada, ben, wall := p.captain(), p.crew(), p.wall()
	k := p.dial(ben)
	epoch := k.resume("", 0).Epoch
	text := strings.Repeat("\U0001F527", 2000)
	var a answer
	for a = ada.do(note(text)); a.status == http.StatusOK; a = ada.do(note(text)) {
	}
	a.refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	require.Equal(t, "2", a.header.Get("Retry-After"))
	rev := p.d.View().State.Rev

	require.NotEmpty(t, k.await("beat").ReadOnly)
	require.Equal(t, board.CodeReadOnly, k.do(p.command(note("no"))).Refusal.Code)
	require.NotEmpty(t, p.dial(ben).await("hello").ReadOnly)
	ben.get("/api/board").ok()
	p.nobody().get("/healthz").refusedBy(http.StatusServiceUnavailable)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleViewer]}).refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Vera", PIN: somePIN}).refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	ben.send(picture(t, 40, 30, asJPEG), "image/jpeg").refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	ada.get("/api/journal").refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	p.administrator().post("/admin/check", "{}").refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	p.administrator().get("/admin/backup").refusedBy(http.StatusInternalServerError)
	changeCode(ada, "crew")().refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew]}).ok() // the old code holds

	wallSession := p.sessionOf(ada, wall)
	endSession(ada, wallSession)().refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	wall.get("/api/me").refused(http.StatusUnauthorized, codeNoSession)

	ada.post("/api/again", "{}").ok()
	require.Equal(t, 1012, k.closed(), "what the devices have is of an epoch that is over")
	p.nobody().get("/healthz").ok()
	ben.get("/api/me").ok()
	m := p.dial(ben).resume(epoch, rev)
	require.Equal(t, "board", m.T)
	require.NotEqual(t, epoch, m.Epoch)
	held, err := p.d.Store().Load(0)
	require.NoError(t, err)
	require.NotContains(t, held.Sessions, keyOf(wall.token), "what ended while nothing could be written has ended")
	require.Contains(t, held.Sessions, keyOf(ben.token))
}

func TestTheCaptainHearsWhereTheFileWasAndWhereTheCopyIs(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "data")
	require.NoError(t, os.Mkdir(folder, 0o700))
	p := newPitWith(t, with{path: filepath.Join(folder, "board.db")})
	ada, ben := p.captain(), p.crew()
	ben.do(note("kept")).ok()
	require.NoError(t, os.Rename(folder, folder+" 2"))
	bad := ben.do(note("lost")).refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	require.Contains(t, bad.Sentence, "moved, deleted or replaced")
	require.NotContains(t, bad.Sentence, folder, "only the captain is told where")
	p.nobody().get("/healthz").refusedBy(http.StatusServiceUnavailable)

	where := decode[fileAnswer](t, ada.get("/api/file").ok().body)
	require.True(t, where.Moved)
	require.Equal(t, p.path, where.Path)
	require.Contains(t, p.log.String(), where.Rescued)
	report, err := store.Check(where.Rescued)
	require.NoError(t, err)
	require.NoError(t, report.Err())
	require.Equal(t, uint64(p.d.View().State.Rev), report.Rev)
	bad = ada.post("/api/again", "{}").refused(http.StatusServiceUnavailable, board.CodeReadOnly)
	require.Contains(t, bad.Sentence, "not where it was")
	ada.get("/api/copy").ok()

	require.NoError(t, os.Rename(folder+" 2", folder))
	ben.do(note("it writes")).ok()
	require.Equal(t, fileAnswer{Path: p.path}, decode[fileAnswer](t, ada.get("/api/file").ok().body))
}
