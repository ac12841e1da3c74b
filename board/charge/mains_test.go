package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Eighty percent in VA, and the output at a power factor of 0.98 and of 0.6 with an
// efficiency of 0.88: computed independently, to 0.05. Plugs and ratings: North
// America, Japan, Australia from memory; the fused plug and continental Europe from
// forum posts. Who answers for the wiring says what holds.
func TestCircuitsGiveEightyPercent(t *testing.T) {
	for _, c := range []struct {
		name                         string
		volts, amps, va, good, plain float64
	}{
		{"N. America 15 A", 120, 15, 1440, 1241.9, 760.3}, {"N. America 20 A", 120, 20, 1920, 1655.8, 1013.8},
		{"Japan", 100, 15, 1200, 1034.9, 633.6}, {"Australia, NZ", 230, 10, 1840, 1586.8, 971.5},
		{"UK, Ireland", 230, 13, 2392, 2062.9, 1263.0}, {"continental Europe", 230, 16, 2944, 2538.9, 1554.4},
	} {
		m := Mains{Volts: c.volts, Amps: c.amps, Share: 0.8, PowerFactor: 0.98, Efficiency: 0.88}
		va, err := m.BudgetVA()
		require.NoError(t, err)
		require.InDelta(t, c.va, va, 1e-9, c.name)
		watts, err := m.OutputWatts()
		require.NoError(t, err)
		require.InDelta(t, c.good, watts, 0.06, c.name)
		m.PowerFactor = 0 // nobody knows
		watts, err = m.OutputWatts()
		require.NoError(t, err)
		require.InDelta(t, c.plain, watts, 0.06, c.name)
	}
}

// NEC 210.20(A), as a data bulletin of Schneider Electric quotes it: 125 % of the
// continuous load. Its inverse is 0.8.
func TestEightyPercentIsTheInverseOf125(t *testing.T) {
	m := Mains{Volts: 120, Amps: 15, Share: 0.8, Efficiency: 0.88}
	va, err := m.BudgetVA()
	require.NoError(t, err)
	require.InDelta(t, m.Amps, 1.25*va/m.Volts, 1e-9)
}

func TestOthersAndStandbyComeOffFirst(t *testing.T) {
	m := Mains{Volts: 230, Amps: 10, Share: 0.8, OthersVA: 840, PowerFactor: 1, Efficiency: 0.9, StandbyWatts: 100}
	watts, err := m.OutputWatts()
	require.NoError(t, err)
	require.InDelta(t, 810, watts, 1e-9)
}

func TestInputFollowsFromOutput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Mains{
			Volts: rapid.Float64Range(100, 240).Draw(t, "V"), Amps: rapid.Float64Range(5, 32).Draw(t, "A"), Share: 0.8,
			PowerFactor: rapid.Float64Range(0.5, 1).Draw(t, "factor"), Efficiency: rapid.Float64Range(0.7, 0.95).Draw(t, "η"),
			StandbyWatts: rapid.Float64Range(0, 20).Draw(t, "standby"),
		}
		va, err := m.BudgetVA()
		require.NoError(t, err)
		watts, err := m.OutputWatts()
		require.NoError(t, err)
		require.InEpsilon(t, va, InputVA(watts, m.Efficiency, m.PowerFactor, m.StandbyWatts), 1e-9)
	})
	require.InDelta(t, 100/0.6, InputVA(90, 0.9, 0, 0), 1e-9)
	require.True(t, math.IsNaN(InputVA(90, 0, 1, 0)))
}

func TestCircuitsThatCannotBeAreRefused(t *testing.T) {
	for says, spoil := range map[string]func(*Mains){
		"supply of 12 V": func(m *Mains) { m.Volts = 12 }, "give its rating": func(m *Mains) { m.Amps = 0 },
		"share of 0": func(m *Mains) { m.Share = 0 }, "of others": func(m *Mains) { m.OthersVA = math.NaN() },
		"nothing is left": func(m *Mains) { m.OthersVA = 5000 }, "efficiency 0": func(m *Mains) { m.Efficiency = 0 },
		"power factor 2": func(m *Mains) { m.PowerFactor = 2 }, "takes all": func(m *Mains) { m.StandbyWatts = 5000 },
	} {
		m := Mains{Volts: 230, Amps: 10, Share: 0.8, PowerFactor: 0.98, Efficiency: 0.88}
		spoil(&m)
		_, err := m.OutputWatts()
		require.ErrorContains(t, err, says)
	}
}
