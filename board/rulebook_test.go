package board_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestTheRulebookCountsFromOneAndSaysEachRuleInASentence(t *testing.T) {
	for i, r := range Rules() {
		require.Equal(t, i+1, r.Number)
		for name, text := range map[string]string{"says": r.Says, "after": r.After} {
			require.True(t, strings.HasSuffix(text, "."), "rule %d, %s: %q", r.Number, name, text)
		}
		require.True(t, slices.Contains(Kept(), r.Number) || r.Elsewhere != "", "rule %d: nobody keeps it", r.Number)
	}
}

// TestEachRuleHasATestThatNamesIt holds every rule that the board keeps to a table
// test of its own and to a forgery that it alone stops; one that is kept elsewhere
// to a test there. That these tests miss the rule when it is gone, TakenOut shows.
func TestEachRuleHasATestThatNamesIt(t *testing.T) {
	here, anywhere := ruleTests(t, "."), ruleTests(t, "..")
	var forged []int
	for _, f := range forgeries {
		forged = append(forged, f.rule)
	}
	for _, r := range Rules() {
		if !slices.Contains(Kept(), r.Number) {
			require.NotEmpty(t, anywhere[r.Number], "no test is called TestRule%d…", r.Number)
			continue
		}
		require.NotEmpty(t, here[r.Number], "no test of package board is called TestRule%d…", r.Number)
		require.Contains(t, forged, r.Number, "nothing is forged that rule %d alone stops", r.Number)
	}
	for number := range anywhere {
		require.True(t, slices.ContainsFunc(Rules(), func(r Rule) bool { return r.Number == number }), "%v: there is no rule %d", anywhere[number], number)
	}
}

var ofRules = regexp.MustCompile(`(?m)^func (TestRule([0-9]+)(?:And([0-9]+))?[A-Z]\w*)\(t \*testing\.T`)

// ruleTests finds the tests under a folder by the numbers of the rules in their
// names; in the folder "." those of this package alone.
func ruleTests(t *testing.T, folder string) map[int][]string {
	t.Helper()
	tests := map[int][]string{}
	require.NoError(t, filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != folder && (folder == "." || d.Name() == "node_modules"):
			return filepath.SkipDir
		case !strings.HasSuffix(path, "_test.go"):
			return nil
		}
		text, err := os.ReadFile(path)
		for _, m := range ofRules.FindAllStringSubmatch(string(text), -1) {
			for _, n := range m[2:] {
				if number, err := strconv.Atoi(n); err == nil {
					tests[number] = append(tests[number], fmt.Sprint(path, ": ", m[1]))
				}
			}
		}
		return err
	}))
	return tests
}

func TestARefusalSaysItsRuleInFull(t *testing.T) {
	p := newPit(t)
	r := p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 3)
	require.Equal(t, Rules()[2].Says, r.RuleSays)
	_, r = p.try(p.as(p.ben), NoteAdd{})
	require.Empty(t, r.RuleSays, "no rule speaks")
}
