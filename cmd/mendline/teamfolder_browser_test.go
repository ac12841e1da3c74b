package main

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
	"mendline/cmd/mendline/demo"
)

// dropped lets files or folders of this machine go over what a selector finds.
func (d *device) dropped(selector string, paths ...string) {
	d.t.Helper()
	d.waits(`!!document.querySelector("`+selector+`")`, "where to drop")
	at := gets[point](d, `(({x, y, width, height}) => ({X: x + width / 2, Y: y + height / 2}))(document.querySelector("`+selector+`").getBoundingClientRect())`)
	data := &input.DragData{Items: []*input.DragDataItem{}, Files: paths, DragOperationsMask: 1}
	for _, kind := range []input.DispatchDragEventType{input.DispatchDragEventTypeDragEnter, input.DispatchDragEventTypeDragOver, input.DispatchDragEventTypeDrop} {
		_, err := chromedp.Call(d.ctx, input.DispatchDragEvent, input.DispatchDragEventParams{Type: kind, X: at.X, Y: at.Y, Data: data})
		require.NoError(d.t, err)
	}
}

// joinsEmpty takes a device as captain through the join page of a board without people.
func (s *served) joinsEmpty(d *device, name string) {
	d.t.Helper()
	s.joined = append(s.joined, d)
	d.open(s.url + "/j#" + testCodes[board.RoleCaptain])
	d.types("name", name)
	d.types("pin", "135790")
	d.press("join as " + name)
	d.seesNot("join the board")
}

// teamFolder is the demo's team as a board writes it.
func teamFolder(t testing.TB) map[string][]byte {
	t.Helper()
	id := board.CommandID(uuid.Must(uuid.NewV7()))
	load, faults := team.Read(demo.Files(), id)
	require.Empty(t, faults)
	change, refusal := board.Apply(board.State{}, load, board.Ask{ID: id}, board.Actor{Role: board.RoleCaptain}, id.Moment())
	require.Nil(t, refusal)
	files, err := team.Write(board.State{}.With(change))
	require.NoError(t, err)
	return files
}

func TestBrowserTheCaptainDropsATeamFolderMendsItsCellAndHasItBack(t *testing.T) {
	inBrowser(t)
	s := serveBoard(t, settings{now: time.Now}, nil)
	captain := newDevice(t, "captain", 1280, 800, false)
	captain.forgive("422 (Unprocessable Entity)") // the answer that names cells
	s.joinsEmpty(captain, "Ottoline")
	captain.open(s.url + "/#/captain")
	captain.press("load our team’s folder")
	captain.sees("Drop the folder")
	captain.shot("team-empty")

	files := teamFolder(t)
	dir := filepath.Join(t.TempDir(), "our team")
	require.NoError(t, os.Mkdir(dir, 0o755))
	write := func(name string, data []byte) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	}
	for name, data := range files {
		write(name, data)
	}
	write(".DS_Store", []byte{0})
	write("robots.csv", bytes.Replace(files["robots.csv"], []byte(",Beetleweight,3,lb,"), []byte(",Beetleweight,three,lb,"), 1))

	captain.dropped(".drop-here", dir)
	captain.sees("Nothing was loaded: one thing has to be put right first.")
	require.Equal(t, []string{"robots.csv\nline 3\nlimit", "three", "a number such as 12 or 1.5, without its unit"},
		gets[[]string](captain, `[...document.querySelectorAll(".faults tbody td")].map((e) => e.innerText)`))
	captain.sees("Passed over: our team/.DS_Store")
	captain.shot("team-fault")
	require.Empty(t, s.desk.View().State.Robots)
	require.Empty(t, captain.accessible("team folder with a fault"))
	require.Empty(t, captain.fits("team folder with a fault"))

	write("robots.csv", files["robots.csv"])
	captain.dropped(".drop-here", dir)
	captain.sees("3 robots")
	captain.sees("This board holds")
	captain.shot("team-loaded")
	require.Len(t, s.desk.View().State.Robots, 3)

	packed, err := base64.StdEncoding.DecodeString(gets[string](captain, `fetch(document.querySelector("a[href='/api/team']").href)
		.then((r) => r.arrayBuffer()).then((b) => btoa(Array.from(new Uint8Array(b), (x) => String.fromCharCode(x)).join("")))`))
	require.NoError(t, err)
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	require.NoError(t, err)
	back := map[string]string{}
	for _, f := range z.File {
		open, err := f.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(open)
		require.NoError(t, err)
		back[f.Name] = string(data)
	}
	require.Len(t, back, len(files))
	for name, data := range files {
		require.Equal(t, string(data), back[name], name)
	}
}

// What the folder leaves open is asked, by keys alone, and read again with the answer.
func TestBrowserWhatATeamFolderLeavesOpenIsAskedOnce(t *testing.T) {
	inBrowser(t)
	s := serveBoard(t, settings{now: time.Now}, nil)
	captain := newDevice(t, "captain", 390, 844, true)
	captain.forgive("422 (Unprocessable Entity)")
	s.joinsEmpty(captain, "Ottoline")
	captain.open(s.url + "/#/captain/team")
	dir := t.TempDir()
	for name, text := range map[string]string{
		"robots.csv": "name;lead\r\nGrobblequill;Ottoline\r\nNettlepip;\r\n",
		"order.csv":  "arena;number;robot;not_before\r\nBox;4;Nettlepip;11/12/2026 9:05 AM\r\nBox;7;Grobblequill;12/12/2026 9:40 AM\r\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	captain.shot("team-phone")
	captain.do(chromedp.SetUploadFiles(chromedp.ID("team-files"), []string{filepath.Join(dir, "robots.csv"), filepath.Join(dir, "order.csv")}))
	captain.sees("which comes first in dates such as 11/12/2026")
	captain.waits(`document.querySelector(".team-folder .form-wrong").getBoundingClientRect().top < innerHeight / 2`, "what came of it, in sight")
	captain.shot("team-asked")
	require.Empty(t, captain.accessible("questions of a team folder"))
	require.Empty(t, captain.fits("questions of a team folder"))
	captain.types("say-name", "Small Open")
	captain.press("the month: November 12")
	captain.press("read it again with this")
	captain.sees("Loaded: 2 robots, 2 fights.")
	state := s.desk.View().State
	require.Equal(t, "Small Open", state.Event().Name)
	require.Len(t, state.Fights, 2)
	for _, fight := range state.Fights {
		at := fight.NotBefore.Time().UTC()
		require.True(t, strings.Contains("2026-11-12 2026-12-12", at.Format("2006-01-02")), at)
	}
}
