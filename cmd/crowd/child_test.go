package main

import (
	"io"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// childDoes tells the test binary, started as if it were mendline, what to do.
const childDoes = "CROWD_TEST_CHILD"

func TestMain(m *testing.M) {
	switch os.Getenv(childDoes) {
	case "":
		os.Exit(m.Run())
	case "fail":
		println("no board for", os.Args[1], "today")
		os.Exit(1)
	default:
		serveArguments()
	}
}

// serveArguments answers every request with the arguments and the crew's code,
// until the process is told to end.
func serveArguments() {
	says := strings.Join(append(os.Args[1:], os.Getenv("MENDLINE_CREW_CODE")), " ")
	err := http.ListenAndServe(os.Args[3], http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		_, _ = io.WriteString(w, says)
	}))
	println(err.Error())
	os.Exit(1)
}

func TestABoardOfItsOwnIsStartedAndStoppedByTheCrowd(t *testing.T) {
	t.Setenv(childDoes, "serve")
	o := options{bin: os.Args[0], team: "team", serveArgs: []string{"-host", "pit.example"}}
	c, err := o.start(t.Context(), t.TempDir(), io.Discard)
	require.NoError(t, err)
	w, err := http.Get(c.base)
	require.NoError(t, err)
	says, err := io.ReadAll(w.Body)
	require.NoError(t, err)
	require.NoError(t, w.Body.Close())
	require.Regexp(t, `^serve -addr 127\.0\.0\.1:\d+ -data \S+/data -team \S+/team -host pit.example `+c.code+`$`, string(says))
	c.stop()
	_, err = http.Get(c.base)
	require.Error(t, err, "it is gone")
}

func TestABoardThatDoesNotStartSaysWhy(t *testing.T) {
	t.Setenv(childDoes, "fail")
	_, err := options{bin: os.Args[0], team: "team"}.start(t.Context(), t.TempDir(), io.Discard)
	require.ErrorContains(t, err, "the board ended at once")
	require.ErrorContains(t, err, "no board for serve today")
}
