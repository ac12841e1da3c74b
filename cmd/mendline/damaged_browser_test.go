package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/cmd/mendline/demo"
)

func TestBrowserTheCaptainSeesWhatADamagedFileConcerned(t *testing.T) {
	inBrowser(t)
	folder, team := filepath.Join(t.TempDir(), "event"), filepath.Join(t.TempDir(), "team")
	require.NoError(t, demo.WriteTo(team))
	startProcess(t, folder, "-team", team).stop()
	flipNouns(t, dataDir(folder).board(), board.KindRobot, `"v":`)

	p := startProcess(t, folder)
	captain := newDevice(t, "captain", 1280, 800, false)
	captain.joins(p.note.URL, board.RoleCaptain, "Ottoline")
	captain.open(p.note.URL + "/#/captain/robots")
	captain.sees("LOOK: its file was damaged and rebuilt, 3 robots from the journal")
	captain.sees("Rebuilt from the journal, as they were: robot ")
	captain.shot("damaged-captain")
	captain.press("seen")
	captain.seesNot("LOOK: ")
	captain.open(p.note.URL + "/#/captain/access")
	captain.sees("how the board is")
	captain.sees("LOOK: its file was damaged and rebuilt")
	captain.shot("damaged-access")
}
