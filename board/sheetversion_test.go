package board_test

import (
	"crypto/sha256"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// TestTheNumberOfTheWordingRisesWithItsWords holds the wording of every sheet to its
// number: sheets keep the lines they were begun with, and the number says which.
func TestTheNumberOfTheWordingRisesWithItsWords(t *testing.T) {
	const version, words = 5, "8ebf4047"
	p := newPit(t)
	hash := sha256.New()
	write := func(list SheetList, l Line) {
		fmt.Fprintln(hash, list, l.ID, l.Part, l.Kind, l.Ask, l.Touch, l.Say, l.Not, l.Verifies)
	}
	for i, energies := range [][]Energy{
		p.s.Robots[p.moth].Energies,
		{{Kind: EnergyGas, Isolator: "valve", Reach: Outside}, {Kind: EnergyHydraulic, Isolator: "tap", Reach: Inside}, {Kind: EnergySpring, Isolator: "pin", Reach: Outside}},
		{{Kind: EnergyArm, Isolator: "prop", Reach: Outside}, {Kind: EnergyCapacitor, Isolator: "switch", Reach: Inside, RestSec: 60}, {Kind: EnergyDrive, Isolator: "link", Reach: Outside}},
	} {
		f := p.s.Robots[p.moth].RobotFields
		f.Name, f.Number, f.Energies = fmt.Sprint("Wasp ", i), 10+i, energies
		robot := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: f})))
		p.captain(RobotLoadIn{Robot: robot})
		p.captain(RobotList{Robot: robot, List: ListOvernight})
		p.captain(RobotList{Robot: robot, List: ListPackUp})
		for _, list := range []SheetList{ListLoadIn, ListOvernight, ListPackUp} {
			sheet, ok := p.s.Sheet(robot, list)
			require.True(t, ok)
			require.Equal(t, version, sheet.Version)
			for _, l := range sheet.Lines {
				write(list, l)
			}
		}
		for _, sheet := range p.s.Printed(robot) {
			require.Equal(t, version, sheet.Version)
			for _, l := range sheet.Lines {
				write(sheet.List, l.Line)
			}
		}
	}
	require.Equal(t, words, fmt.Sprintf("%.4x", hash.Sum(nil)), "the words changed: raise sheetVersion, and put the new figure here")
}
