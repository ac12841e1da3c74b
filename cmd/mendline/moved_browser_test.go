package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/cmd/mendline/demo"
)

func TestBrowserTheCaptainSeesWhereTheBoardWasAndWhereItsCopyIs(t *testing.T) {
	inBrowser(t)
	folder, team := filepath.Join(t.TempDir(), "event"), filepath.Join(t.TempDir(), "team")
	require.NoError(t, demo.WriteTo(team))
	p := startProcess(t, folder, "-team", team)
	captain := newDevice(t, "captain", 1280, 800, false)
	phone := newDevice(t, "phone", 390, 844, true)
	captain.joins(p.note.URL, board.RoleCaptain, "Ottoline")
	phone.joins(p.note.URL, board.RoleCrew, "Pia")
	for _, d := range []*device{captain, phone} {
		d.forgive("503 (Service Unavailable)") // pages ask how the board is
	}
	captain.open(p.note.URL + "/#/captain/access")
	captain.sees("PINs can be worked out from it")
	captain.sees("download a copy of the board")
	captain.seesNot("Put it back there")
	captain.shot("copy-captain")

	require.NoError(t, os.Rename(folder, folder+" 2"))
	captain.sees("moved, deleted or replaced")
	captain.sees("A copy of the board is in " + filepath.Dir(folder))
	captain.sees(filepath.Join(folder, "board.db"))
	captain.shot("moved-captain")
	phone.sees("moved, deleted or replaced")
	phone.seesNot(folder)
	phone.shot("moved-phone")

	require.NoError(t, os.Rename(folder+" 2", folder))
	captain.seesNot("moved, deleted or replaced")
	captain.seesNot("Put it back there")
	phone.seesNot("moved, deleted or replaced")
}
