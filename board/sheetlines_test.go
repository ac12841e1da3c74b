package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// everyEnergy is a robot that can hurt in every way, each way reached from outside and,
// once more, from inside.
func everyEnergy() Robot {
	r := Robot{ID: "all"}
	for _, reach := range []Reach{Outside, Inside} {
		for _, k := range []EnergyKind{EnergyWeapon, EnergyDrive, EnergyGas, EnergyHydraulic, EnergySpring, EnergySpin, EnergyArm, EnergyCapacitor, EnergyHeat} {
			r.Energies = append(r.Energies, Energy{Kind: k, Isolator: string(k) + " " + string(reach), Reach: reach})
		}
	}
	return r
}

func verifying(lines []Line) []string {
	ids := []string{}
	for _, l := range lines {
		if l.Verifies {
			ids = append(ids, l.ID)
		}
	}
	return ids
}

// To verify is to look whether an energy is really away, after 29 CFR 1910.147(d)(6): a
// start is tried, the light is dark, a gauge reads zero, a rotor is seen at rest. To do
// something about an energy, or to look a robot over, is not.
func TestTheLinesThatVerifyAreThese(t *testing.T) {
	verify := map[SheetList][]string{
		ListMakeSafe: {"gas-3", "hydraulic-4", "spinning-mass-6", "try", "light"},
		ListFirstIn:  {"gas-12", "hydraulic-13", "spinning-mass-15"},
		ListReopen:   {"gas-3"},
		ListInspect:  {}, ListCloseUp: {}, ListReady: {}, ListLoadIn: {}, ListOvernight: {}, ListPackUp: {},
	}
	require.Len(t, verify, len(Lists()), "every list")
	for _, of := range Lists() {
		require.Equal(t, verify[of.List], verifying(State{}.LinesOf(everyEnergy(), of.List)), of.List)
	}
}

func TestALineThatVerifiesDoesSoInAnyWords(t *testing.T) {
	p := newPit(t)
	all := p.s.LinesOf(p.s.Robots[p.moth], ListMakeSafe)
	require.Equal(t, []string{"spinning-mass-3", "try", "light"}, verifying(all))
	var lines []WordedLine
	for _, of := range Lists() {
		for _, l := range of.Lines {
			if of.List == ListMakeSafe {
				lines = append(lines, WordedLine{ID: l.ID, Say: "YES"})
			}
		}
	}
	lines = append(lines,
		WordedLine{ID: "own-hum", Part: "verify", Kind: LineDo, Ask: "Listened to it: no hum?", Say: "NO HUM", Not: "it hums"},
		WordedLine{ID: "own-lamp", Part: "isolate", Kind: LineDo, Ask: "Bench lamp on?", Say: "LAMP ON", Not: "off"})
	p.captain(WordingSet{List: ListMakeSafe, Lines: lines})
	require.Equal(t, []string{"spinning-mass-3", "try", "light", "own-hum"}, verifying(p.s.LinesOf(p.s.Robots[p.moth], ListMakeSafe)))
}
