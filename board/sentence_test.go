package board_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// makers make refusals, each with the argument that is the sentence.
var makers = map[string]int{"refuse": 1, "badField": 1, "breaks": 1}

// sentences are the texts of all refusals of the board by where they are written,
// names not yet put in.
func sentences(t *testing.T) map[string]string {
	t.Helper()
	found := map[string]string{}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, 0)
		require.NoError(t, err)
		note := func(x ast.Expr) {
			if text, ok := x.(*ast.BasicLit); ok && text.Kind == token.STRING {
				sentence, err := strconv.Unquote(text.Value)
				require.NoError(t, err)
				found[set.Position(text.Pos()).String()] = sentence
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if maker, ok := n.Fun.(*ast.Ident); ok {
					if at, ok := makers[maker.Name]; ok {
						note(n.Args[at])
					}
				}
			case *ast.KeyValueExpr:
				if key, ok := n.Key.(*ast.Ident); ok && key.Name == "Sentence" {
					note(n.Value)
				}
			}
			return true
		})
	}
	return found
}

// A refusal that names a job says which: where that job is finished, the board then
// adds what it owes, and a phone shows a button to it.
func TestEveryRefusalThatNamesAJobCarriesIt(t *testing.T) {
	named := regexp.MustCompile(`\b[Jj]ob %d`)
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	found := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, 0)
		require.NoError(t, err)
		carried := map[ast.Expr]bool{}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if of, ok := call.Fun.(*ast.SelectorExpr); ok && of.Sel.Name == "of" {
				carried[of.X] = true
			}
			maker, ok := call.Fun.(*ast.Ident)
			if !ok {
				return true
			}
			if at, makes := makers[maker.Name]; makes {
				if text, ok := call.Args[at].(*ast.BasicLit); ok && named.MatchString(text.Value) {
					found++
					assert.True(t, carried[call], "%s: %s", set.Position(call.Pos()), text.Value)
				}
			}
			return true
		})
	}
	require.Greater(t, found, 30)
}

func TestEveryRefusalIsAShortSentenceThatNamesNoRuleAndBlamesNobody(t *testing.T) {
	const longest = 200 // letters before names go in: our decision
	begins := regexp.MustCompile(`^([A-Z]|%)`)
	ends := regexp.MustCompile(`([.?]|%s)$`) // a name at the end carries its own full stop
	never := regexp.MustCompile(`(?i)\b(invalid|illegal|error|failed|fail|forgot|please|sorry|oops|must not|not allowed|rule \d+|anew|whoever)\b`)
	alone := regexp.MustCompile(`(?i)\b(safe|clear)\b`)
	taken := regexp.MustCompile(`(?i)\b(ma(k|d)e( it| %s)? safe|make-safe|clear of)\b`)
	all := sentences(t)
	require.Greater(t, len(all), 200)
	for at, text := range all {
		assert.Regexp(t, begins, text, at)
		assert.Regexp(t, ends, text, at)
		assert.LessOrEqual(t, utf8.RuneCountInString(text), longest, "%s: %s", at, text)
		assert.NotRegexp(t, never, text, at)
		assert.NotRegexp(t, alone, taken.ReplaceAllString(text, ""), at)
	}
}
