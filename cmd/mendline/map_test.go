package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// source is a package as its files are written, tests left out.
type source struct {
	files   []*ast.File
	imports map[string]bool // packages of this repository by folder, others by path
}

// sources are the repository's packages by folder.
func sources(t *testing.T) map[string]source {
	t.Helper()
	all := map[string]source{}
	root := os.DirFS("../..")
	require.NoError(t, fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		base := path.Base(name)
		if entry.IsDir() && name != "." && (base == "testdata" || base == "node_modules" || strings.HasPrefix(base, ".")) {
			return fs.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, 0)
		if err != nil {
			return err
		}
		room := all[path.Dir(name)]
		if room.imports == nil {
			room.imports = map[string]bool{}
		}
		room.files = append(room.files, file)
		for _, spec := range file.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			room.imports[strings.TrimPrefix(imported, "mendline/")] = true
		}
		all[path.Dir(name)] = room
		return nil
	}))
	return all
}

// onTheMap lists the folders that DEVELOPERS.md maps, from the top down.
func onTheMap(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(text), "## The map\n\n```\n")
	require.True(t, ok)
	block, _, ok := strings.Cut(rest, "\n```\n")
	require.True(t, ok)
	var list []string
	for _, m := range regexp.MustCompile(`(?m)^[a-z][a-z/]*`).FindAllString(block, -1) {
		require.NotContains(t, list, m)
		list = append(list, m)
	}
	return list
}

// without lists what of a is not in b.
func without(a, b []string) []string {
	return slices.DeleteFunc(slices.Clone(a), func(name string) bool { return slices.Contains(b, name) })
}

func TestTheMapNamesEveryRoomAndNoOther(t *testing.T) {
	rooms := []string{"testdata"}
	for folder := range sources(t) {
		rooms = append(rooms, folder)
	}
	pages, err := os.ReadDir("../../frontend")
	require.NoError(t, err)
	for _, entry := range pages {
		if entry.IsDir() && entry.Name() != "node_modules" {
			rooms = append(rooms, "frontend/"+entry.Name())
		}
	}
	mapped := onTheMap(t)
	require.Empty(t, without(rooms, mapped), "not on the map in DEVELOPERS.md")
	require.Empty(t, without(mapped, rooms), "on the map in DEVELOPERS.md and not here")
}

func TestEachRoomImportsOnlyWhatIsBelowItOnTheMap(t *testing.T) {
	list := onTheMap(t)
	for folder, room := range sources(t) {
		for imported := range room.imports {
			if at := slices.Index(list, imported); at >= 0 {
				require.Greater(t, at, slices.Index(list, folder), "%s imports %s", folder, imported)
			}
		}
	}
}

func TestTheBoardReadsNoClockAndStartsNothing(t *testing.T) {
	outside := []string{"os", "os/exec", "net", "net/http", "crypto/rand", "log", "log/slog", "sync", "context", "math/rand"}
	for folder, room := range sources(t) {
		if folder != "board" && !strings.HasPrefix(folder, "board/") {
			continue
		}
		for _, name := range outside {
			require.False(t, room.imports[name], "%s imports %s", folder, name)
		}
		for _, file := range room.files {
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.GoStmt:
					require.Fail(t, "a goroutine", folder)
				case *ast.SelectorExpr:
					if x, ok := n.X.(*ast.Ident); ok && x.Name == "time" {
						require.NotContains(t, []string{"Now", "Since", "Until", "After", "Sleep", "NewTimer", "NewTicker"}, n.Sel.Name, folder)
					}
				}
				return true
			})
		}
	}
}

func TestTheGlossaryNamesWhatIsInTheCode(t *testing.T) {
	known := map[string]bool{}
	for _, room := range sources(t) {
		for _, file := range room.files {
			ast.Inspect(file, func(n ast.Node) bool {
				if id, ok := n.(*ast.Ident); ok {
					known[id.Name] = true
				}
				return true
			})
		}
	}
	text, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(text), "## Words\n")
	require.True(t, ok)
	table, _, _ := strings.Cut(rest, "\n## ")
	names := regexp.MustCompile("`([A-Za-z0-9.]+)`").FindAllStringSubmatch(table, -1)
	require.NotEmpty(t, names)
	for _, m := range names {
		for name := range strings.SplitSeq(m[1], ".") {
			require.True(t, known[name], m[1])
		}
	}
}

func TestEachPromiseNamesATestThatIsThere(t *testing.T) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(text), "## What we promise")
	require.True(t, ok)
	page, _, _ := strings.Cut(rest, "\n## ")
	named := regexp.MustCompile("`(Test[A-Za-z0-9]+)`").FindAllStringSubmatch(page, -1)
	require.NotEmpty(t, named)
	var all strings.Builder
	require.NoError(t, filepath.WalkDir("../..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		code, err := os.ReadFile(path)
		all.Write(code)
		return err
	}))
	for _, m := range named {
		require.Contains(t, all.String(), "func "+m[1]+"(t *testing.T)")
	}
}
