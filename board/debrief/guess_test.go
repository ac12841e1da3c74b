package debrief_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/debrief"
)

func TestAGuessIsASparesNameAndANumberAFight(t *testing.T) {
	for text, want := range map[string]float64{"blade=0.5": 0.5, "blade = 2": 2, "blade=0": 0, "blade=20": 20} {
		spare, perFight, err := debrief.ParseGuess(text)
		require.NoError(t, err, text)
		require.Equal(t, "blade", spare)
		require.Equal(t, want, perFight)
	}
	spare, _, err := debrief.ParseGuess("fork=left=1")
	require.NoError(t, err)
	require.Equal(t, "fork=left", spare)
	for _, text := range []string{"", "blade", "=1", "blade=", "blade=many", "blade=-1", "blade=21", "blade=NaN"} {
		_, _, err := debrief.ParseGuess(text)
		require.ErrorContains(t, err, "give", text)
	}
}

func TestAGuessStandsForWhatTheRecordDoesNotHave(t *testing.T) {
	p := newPit(t)
	p.do(p.Ada, StockAdd{StockFields: StockFields{Name: "weapon motor", Count: 1, MassGrams: 900}})
	asked := debrief.Usual()
	asked.Next.Guesses = map[string]float64{"weapon motor": 0.5}

	row := func() debrief.BringRow {
		a, err := p.record().Account(asked)
		require.NoError(t, err)
		require.Len(t, a.Bring.Rows, 1)
		return a.Bring.Rows[0]
	}

	require.Equal(t, "weapon motor", row().Name)
	require.Equal(t, 0.5, *row().Guess)
	require.InDelta(t, 0.5, row().PerFight, 1e-9)
	require.Positive(t, row().Exact)

	asked.Next.Guesses = map[string]float64{"weapon moter": 0.5}
	_, err := p.record().Account(asked)
	require.ErrorContains(t, err, `no spare is called "weapon moter"`)
}
