package random_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/random"
)

// The first five numbers for seed 1234567, computed independently with Python from the
// algorithm that random.go names.
func TestTheGeneratorGivesTheNumbersOfItsAlgorithm(t *testing.T) {
	r := random.Source(1234567)
	for _, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821} {
		require.Equal(t, want, r.Next())
	}
}
