package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Eighty percent of these plugs and ratings, in VA, by hand. The plugs themselves are
// from memory: who answers for the wiring says what holds.
func TestCircuitsGiveEightyPercent(t *testing.T) {
	for _, c := range []struct {
		name            string
		volts, amps, va float64
	}{
		{"N. America 15 A", 120, 15, 1440}, {"N. America 20 A", 120, 20, 1920}, {"Japan", 100, 15, 1200},
		{"Australia, NZ", 230, 10, 1840}, {"UK, Ireland", 230, 13, 2392}, {"continental Europe", 230, 16, 2944},
	} {
		va, err := Mains{Volts: c.volts, Amps: c.amps, Share: 0.8}.BudgetVA()
		require.NoError(t, err)
		require.InDelta(t, c.va, va, 1e-9, c.name)
		require.InDelta(t, c.amps, 1.25*va/c.volts, 1e-9, "the inverse of 125 %%")
		va, err = Mains{Volts: c.volts, Amps: c.amps, Share: 0.8, OthersVA: 840}.BudgetVA()
		require.NoError(t, err)
		require.InDelta(t, c.va-840, va, 1e-9, "others come off first")
	}
}

// A charger of 90 % that gives 90 W takes 100; by hand.
func TestInputFollowsFromOutput(t *testing.T) {
	require.InDelta(t, 100, InputVA(90, 0.9, 1), 1e-9)
	require.InDelta(t, 100/0.95, InputVA(90, 0.9, 0.95), 1e-9)
	require.InDelta(t, 100/0.6, InputVA(90, 0.9, 0), 1e-9, "nobody knows the power factor")
	require.True(t, math.IsNaN(InputVA(90, 0, 1)))
}

func TestCircuitsThatCannotBeAreRefused(t *testing.T) {
	for says, spoil := range map[string]func(*Mains){
		"supply of 12 V": func(m *Mains) { m.Volts = 12 }, "give its rating": func(m *Mains) { m.Amps = 0 },
		"share of 0": func(m *Mains) { m.Share = 0 }, "of others": func(m *Mains) { m.OthersVA = math.NaN() },
		"nothing is left": func(m *Mains) { m.OthersVA = 5000 },
	} {
		m := Mains{Volts: 230, Amps: 10, Share: 0.8}
		spoil(&m)
		_, err := m.BudgetVA()
		require.ErrorContains(t, err, says)
	}
}
