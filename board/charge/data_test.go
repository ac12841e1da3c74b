package charge

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// sheet is a table of testdata/battery: its notices and licences stand beside it.
type sheet struct {
	names map[string]int
	rows  [][]string
}

func readSheet(t testing.TB, name string) sheet {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "battery", name))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	s := sheet{map[string]int{}, rows[1:]}
	for k, n := range rows[0] {
		s.names[n] = k
	}
	return s
}

func (s sheet) text(t testing.TB, row int, column string) string {
	t.Helper()
	k, ok := s.names[column]
	require.True(t, ok, "no column %s", column)
	return s.rows[row][k]
}

func (s sheet) number(t testing.TB, row int, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s.text(t, row, column), 64)
	require.NoError(t, err)
	return x
}

func (s sheet) column(t testing.TB, name string) []float64 {
	t.Helper()
	xs := make([]float64, len(s.rows))
	for k := range s.rows {
		xs[k] = s.number(t, k, name)
	}
	return xs
}

func curveFile(t testing.TB, file, column string) Curve {
	t.Helper()
	s := readSheet(t, file)
	c, err := NewCurve(s.column(t, "soc"), s.column(t, column))
	require.NoError(t, err)
	return c
}

func curveOf(t testing.TB, c Chemistry) Curve {
	t.Helper()
	curve, err := CurveOf(c)
	require.NoError(t, err)
	return curve
}

func chargeOf(t testing.TB, j Job) Result {
	t.Helper()
	r, err := j.Charge()
	require.NoError(t, err)
	return r
}

// line is the curve E = e0Volts + e1Volts·z.
func line(e0Volts, e1Volts float64) Curve { return tableCurve([]float64{e0Volts, e0Volts + e1Volts}) }
