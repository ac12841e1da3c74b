package board_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// withoutRule names, for a child of this test, the rule that is taken out.
const withoutRule = "MENDLINE_WITHOUT_RULE"

func TestMain(m *testing.M) {
	if number, err := strconv.Atoi(os.Getenv(withoutRule)); err == nil {
		TakeOut(number)
	}
	os.Exit(m.Run())
}

const noRule = -1

// TestEveryRuleTakenOutIsMissed takes each rule that the board keeps out, one by one,
// in a process of its own, and prints which table tests and which invariants then
// fail.
func TestEveryRuleTakenOutIsMissed(t *testing.T) {
	if os.Getenv("MENDLINE_RULES_OUT") != "1" {
		t.Skip("takes minutes: MENDLINE_RULES_OUT=1 go test ./board -run TakenOut -v")
	}
	const invariants = "TestNothingForged|TestNoSequence"
	var out strings.Builder
	require.Empty(t, failing(t, noRule, "-test.skip=TakenOut|WalkedAtRandom", "-rapid.checks=100", "-rapid.nofailfile"), "with every rule in nothing fails")
	for _, number := range Kept() {
		tables := failing(t, number, "-test.skip="+invariants+"|WalkedAtRandom|TakenOut|TestStories")
		walks := failing(t, number, "-test.run="+invariants, "-rapid.checks=200", "-rapid.nofailfile")
		require.NotEmpty(t, tables, "rule %d is taken out and no table test fails", number)
		require.NotEmpty(t, walks, "rule %d is taken out and no invariant fails", number)
		fmt.Fprintf(&out, "rule %2d  tables: %s\n         invariants: %s\n", number, strings.Join(tables, ", "), strings.Join(walks, ", "))
	}
	t.Log("\n" + out.String())
}

var failed = regexp.MustCompile(`(?m)^ *--- FAIL: (\S+)`)

// failing lists the tests that fail in a child that has a rule taken out; of a
// test with subtests, the subtests.
func failing(t *testing.T, number int, args ...string) []string {
	t.Helper()
	child := exec.Command(os.Args[0], append(args, "-test.v")...)
	child.Env = append(os.Environ(), fmt.Sprintf("%s=%d", withoutRule, number), "MENDLINE_RULES_OUT=")
	said, err := child.CombinedOutput()
	require.True(t, err == nil || bytes.Contains(said, []byte("--- FAIL")), "%v\n%s", err, said)
	require.NotContains(t, string(said), "panic:", "a test that stops is no test that tells")
	var names []string
	for _, m := range failed.FindAllSubmatch(said, -1) {
		names = append(names, string(m[1]))
	}
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool {
		return slices.ContainsFunc(names, func(o string) bool { return strings.HasPrefix(o, n+"/") })
	})
}
