package copies

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const testCode = "4W8ZK-1QHNM-7T2VX-C05RJ-PE93B"

func sealed(t testing.TB, plain []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Seal(&out, bytes.NewReader(plain), testCode, "a"))
	return out.Bytes()
}

func unsealed(b []byte, code, about string) ([]byte, error) {
	var out bytes.Buffer
	err := Unseal(&out, bytes.NewReader(b), code, about)
	return out.Bytes(), err
}

func TestWhatIsSealedComesOutWhole(t *testing.T) {
	for _, n := range []int{0, 1, pieceBytes - 1, pieceBytes, pieceBytes + 1, 3 * pieceBytes, 3*pieceBytes + 7} {
		plain := noise(n)
		copy(plain, "pin pin")
		b := sealed(t, plain)
		for _, code := range []string{testCode, strings.ToLower(testCode), "4W8ZK 1QHNM 7T2VX CO5RJ PE93B", strings.ReplaceAll(testCode, "-", "")} {
			out, err := unsealed(b, code, "a")
			require.NoError(t, err, n)
			require.True(t, bytes.Equal(plain, out), n)
		}
		require.NotContains(t, string(b), "pin pin")
		require.NotEqual(t, b, sealed(t, plain), "no two alike")
	}
}

// noise is bytes that cannot be made smaller.
func noise(n int) []byte {
	b := make([]byte, n)
	rand.NewChaCha8([32]byte{1}).Read(b)
	return b
}

func TestWhatRepeatsTakesLittleRoomOnTheWay(t *testing.T) {
	require.Less(t, len(sealed(t, bytes.Repeat([]byte("tight screws "), 100_000))), 100_000)
}

func TestWhatWasChangedOrCutOffOnTheWayIsNoticed(t *testing.T) {
	plain := noise(3*pieceBytes - 1000)
	b := sealed(t, plain)
	piece := pieceBytes + 16
	cut := func(from, to int) []byte { return append(append([]byte{}, b[:from]...), b[to:]...) }
	swapped := append([]byte{}, b[:saltBytes]...)
	swapped = append(append(append(swapped, b[saltBytes+piece:saltBytes+2*piece]...), b[saltBytes:saltBytes+piece]...), b[saltBytes+2*piece:]...)
	flipped := append([]byte{}, b...)
	flipped[len(flipped)/2] ^= 1
	for name, bad := range map[string][]byte{
		"a bit":               flipped,
		"the end cut off":     b[:len(b)-1],
		"the last piece gone": b[:saltBytes+2*piece],
		"a middle piece gone": cut(saltBytes+piece, saltBytes+2*piece),
		"two pieces swapped":  swapped,
		"more behind":         append(append([]byte{}, b...), 0),
		"nothing":             nil,
		"the salt alone":      b[:saltBytes],
	} {
		_, err := unsealed(bad, testCode, "a")
		require.ErrorIs(t, err, ErrSeal, name)
	}
	_, err := unsealed(b, "5"+testCode[1:], "a")
	require.ErrorIs(t, err, ErrSeal)
	_, err = unsealed(b, testCode, "b")
	require.ErrorIs(t, err, ErrSeal, "one copy passed off as another")
	out, err := unsealed(b, testCode, "a")
	require.NoError(t, err)
	require.True(t, bytes.Equal(plain, out))
}
