package board_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// rawWords are stored words of states that nobody says aloud; "held" is one of a job.
var rawWords = regexp.MustCompile(`\b(deferred|powered-down|in-robot|quarantined|suspect|shelved|wont-finish|no-call)\b|\b([Jj]obs?|[Ww]ork|it|is|are) (is |are )?held (for|on|until)\b`)

// What the board says is in sentences that a person reads out; a stored word is for the wire.
func TestNoSentenceHasTheStoredWordOfAState(t *testing.T) {
	seen := 0
	for _, dir := range []string{".", "../server"} {
		require.NoError(t, filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.Contains(path, "boardtest") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			require.NoError(t, err)
			ast.Inspect(file, func(n ast.Node) bool {
				if field, ok := n.(*ast.Field); ok && field.Tag != nil {
					return false
				}
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					text, err := strconv.Unquote(lit.Value)
					require.NoError(t, err)
					if strings.Contains(text, " ") {
						seen++
						require.False(t, rawWords.MatchString(text), "%s: %q", path, text)
					}
				}
				return true
			})
			return nil
		}))
	}
	require.Greater(t, seen, 1000)
}

func TestAStateIsSaidAsPeopleSayIt(t *testing.T) {
	for raw, said := range map[string]string{
		string(board.JobDeferred): board.JobDeferred.String(), string(board.JobHeld): board.JobHeld.String(),
		string(board.PoweredDown): board.PoweredDown.String(), string(board.ClosingUp): board.ClosingUp.String(),
		string(board.PackInRobot): board.PackInRobot.String(), string(board.PackSuspect): board.PackSuspect.String(),
		string(board.PackQuarantined): board.PackQuarantined.String(), string(board.FightDone): board.FightDone.String(),
	} {
		require.NotEqual(t, raw, said)
		require.NotContains(t, said, "-")
	}
}
