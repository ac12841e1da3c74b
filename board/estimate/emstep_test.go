package estimate

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// 5, 8, 12 done and 20 open, minutes; computed independently.
func TestFirstStepsOfTheCensoredFit(t *testing.T) {
	jobs := []Worked{{Sec: 5}, {Sec: 8}, {Sec: 12}, {Sec: 20, Open: true}}
	l := fitAsIfDone(jobs)
	for _, want := range []Lognormal{{2.35083, 0.60315}, {2.36953, 0.63612}} {
		l = emStep(jobs, l)
		require.InDelta(t, want.Mu, l.Mu, 5.1e-6)
		require.InDelta(t, want.Sigma, l.Sigma, 5.1e-6)
	}
}
