package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write notices.txt from what is linked in")

// part is something that others made.
type part struct {
	name string
	// files are its licence and notices, whole.
	files []string
}

// vendored are the parts that no module brings: what they are, and their terms, from
// the top of the repository.
var vendored = []part{
	{"Preact, in the pages", []string{"frontend/vendor/LICENSE"}},
	{"Curves of rest voltage in board/charge: PyBaMM", []string{"testdata/battery/LICENCE-pybamm.txt"}},
	{"Curve of rest voltage and resistances in board/charge: PyBOP", []string{"testdata/battery/LICENCE-pybop.txt"}},
}

// terms matches the names of files that a licence asks to keep with the program.
var terms = regexp.MustCompile(`^(LICEN[CS]E|COPYING|NOTICE|PATENTS|AUTHORS)(\.txt|\.md)?$`)

func TestNoticesNameAllThatIsLinkedIn(t *testing.T) {
	text := noticesOf(t, slices.Concat(linked(t), vendored))
	if *update {
		require.NoError(t, os.WriteFile("notices.txt", []byte(text), 0o644))
		return
	}
	require.True(t, text == noticesText, "notices.txt is stale: go test ./cmd/mendline -run TestNotices -update")
}

func noticesOf(t *testing.T, parts []part) string {
	t.Helper()
	var text strings.Builder
	text.WriteString("What others made and Mendline has in it, each with its terms.\n")
	for _, p := range parts {
		require.NotEmpty(t, p.files, "%s has no licence", p.name)
		fmt.Fprintf(&text, "\n%s\n%s\n\n", strings.Repeat("=", 80), p.name)
		for i, path := range p.files {
			if i > 0 {
				text.WriteString("\n" + strings.Repeat("-", 80) + "\n\n")
			}
			if !filepath.IsAbs(path) {
				path = filepath.Join("..", "..", path)
			}
			said, err := os.ReadFile(path)
			require.NoError(t, err)
			text.WriteString(strings.TrimRight(strings.ReplaceAll(string(said), "\r\n", "\n"), "\n") + "\n")
		}
	}
	return text.String()
}

// linked are the modules with a package in the program.
func linked(t *testing.T) []part {
	t.Helper()
	type module struct {
		Path, Version, Dir string
		Main               bool
	}
	list := exec.Command("go", "list", "-deps", "-json=Dir,Module", ".")
	list.Env = append(os.Environ(), "GOOS=linux", "GOARCH=amd64") // as the image has it, wherever the test runs
	list.Stderr = os.Stderr
	out, err := list.Output()
	require.NoError(t, err)
	files := map[module][]string{}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p struct {
			Dir    string
			Module *module
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else {
			require.NoError(t, err)
		}
		if p.Module == nil || p.Module.Main {
			continue
		}
		// The terms of a package within the module may be others than the module's.
		for dir := p.Dir; len(dir) >= len(p.Module.Dir); dir = filepath.Dir(dir) {
			files[*p.Module] = append(files[*p.Module], termsIn(t, dir)...)
		}
	}
	var parts []part
	for m, f := range files {
		slices.Sort(f)
		name := m.Path + " " + m.Version
		if m.Path == "golang.org/x/sys" {
			name += ", and Go's standard library, which has the same terms" // not every installed Go has them beside it
		}
		parts = append(parts, part{name, slices.Compact(f)})
	}
	slices.SortFunc(parts, func(a, b part) int { return cmp.Compare(a.name, b.name) })
	require.NotEmpty(t, parts)
	return parts
}

func termsIn(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var files []string
	for _, e := range entries {
		if !e.IsDir() && terms.MatchString(e.Name()) {
			files = append(files, filepath.Join(dir, e.Name()))
		}
	}
	return files
}
