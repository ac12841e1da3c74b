package charge

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestTheTimeOfAChargeTeachesItsResistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := Job{
			Cells: 4, CapacityAh: 1.3, MilliOhm: rapid.Float64Range(8, 90).Draw(t, "mΩ"), Curve: tableCurve(lcoPouch),
			LimitVolts: 4.20, Amps: rapid.Float64Range(0.7, 2.6).Draw(t, "amps"), EndAmps: 0.065, From: rapid.Float64Range(0, 0.6).Draw(t, "from"), To: 1,
		}
		r, err := j.Charge()
		require.NoError(t, err)
		learned, err := j.LearnFromSec(r.TotalSec())
		require.NoError(t, err)
		require.InEpsilon(t, j.MilliOhm, learned, 0.01)
	})
	j := workedJob(t, "W2")
	_, err := j.LearnFromSec(60)
	require.ErrorContains(t, err, "fit no resistance")
	j.EndAmps = j.Amps / 2
	_, err = j.LearnFromSec(3000)
	require.ErrorContains(t, err, "says little")
	j = workedJob(t, "W2")
	j.Amps = 0
	_, err = j.LearnFromSec(3000)
	require.Error(t, err)
}
