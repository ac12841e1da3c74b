package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWrongFlagsAreRefusedWithAHintAndTheirTwinsAreNot(t *testing.T) {
	for _, c := range []struct{ wrong, want, right string }{
		{"-devices 501", "-devices 501: choose 1 to 500", "-devices 500"},
		{"-devices 0", "-devices 0: choose 1 to 500", "-devices 1 -rate 10"},
		{"-devices 2 -rate 21", "-rate 21: choose more than 0 and at most 20", "-devices 2 -rate 20"},
		{"-rate 0", "-rate 0: choose more than 0", "-rate 0.1"},
		{"-rate NaN", "-rate NaN: choose more than 0", "-rate 1"},
		{"-seconds 0", "-seconds 0: choose 1 to 600", "-seconds 1"},
		{"-url http://127.0.0.1:1", "-url needs -code", "-url http://127.0.0.1:1 -code ABCD2345"},
		{"-code ABCD2345", "-code needs -url", "-code ABCD2345 -url http://127.0.0.1:1"},
		{"-url http://127.0.0.1:1 -code ABCD2345 -team x", "leave -bin, -team, -dir", "-team x"},
		{"-url http://127.0.0.1:1 -code ABCD2345 -restart", "-restart ends the board", "-restart"},
		{"-device 5", "there is no flag -device: did you mean -devices?", "-devices 5"},
		{"-clients 5", "there is no flag -clients", "-devices 5"},
		{"-seconds ten", `invalid value "ten" for flag -seconds`, "-seconds 10"},
		{"serve", `"serve" is not a flag`, "-- -host pit.example"},
	} {
		t.Run(c.wrong, func(t *testing.T) {
			_, err := parse(strings.Fields(c.wrong))
			require.ErrorContains(t, err, c.want)
			_, err = parse(strings.Fields(c.right))
			require.NoError(t, err)
		})
	}
}

func TestHelpIsPrintedAndMistakesEndWithStatusTwo(t *testing.T) {
	var out, errs bytes.Buffer
	require.Equal(t, 0, run(t.Context(), []string{"-h"}, &out, &errs))
	require.Equal(t, usage, out.String())
	require.Empty(t, errs.String())
	require.Equal(t, 2, run(t.Context(), []string{"-devices", "0"}, &out, &errs))
	require.Contains(t, errs.String(), "crowd -h shows the flags")
}
