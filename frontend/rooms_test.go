package frontend

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// floors are the folders from the lowest up. A module imports from its own folder
// and from lower floors; app.js and join.js stand in the root, on top.
var floors = [][]string{
	{"vendor"},
	{"core"},
	{"pack", "sheet"},
	{"phone", "captain", "wall"},
	{"."},
}

func floorOf(module string) int {
	return slices.IndexFunc(floors, func(rooms []string) bool { return slices.Contains(rooms, path.Dir(module)) })
}

// A type that a comment names is no import: no browser fetches it.
var importLine = regexp.MustCompile(`(?m)^(?:import|export)\b[^;]*? from "(\.[^"]+)"|^[^*\n]*[^{\w]import\("(\.[^"]+)"\)`)

// imports gives what each module fetches, at once or later.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	for name, text := range own(t) {
		if !strings.HasSuffix(name, ".js") {
			continue
		}
		found[name] = nil
		for _, m := range importLine.FindAllStringSubmatch(text, -1) {
			found[name] = append(found[name], path.Join(path.Dir(name), m[1]+m[2]))
		}
	}
	require.Contains(t, found["core/tags.js"], "vendor/preact.mjs", "an import at the head is read")
	require.Contains(t, found["phone/phone.js"], "pack/pack.js", "an import for later is read")
	return found
}

func TestModulesImportFromTheirOwnFolderOrFromBelow(t *testing.T) {
	for name, deps := range imports(t) {
		require.NotEqual(t, -1, floorOf(name), "%s lies in no folder that is known here", name)
		for _, dep := range deps {
			inside := path.Dir(dep) == path.Dir(name)
			assert.True(t, inside || floorOf(dep) < floorOf(name), "%s imports %s", name, dep)
		}
	}
}

func TestNoModuleImportsItselfInACircle(t *testing.T) {
	all := imports(t)
	done := map[string]bool{}
	var walk func(name string, way []string)
	walk = func(name string, way []string) {
		if at := slices.Index(way, name); at >= 0 {
			require.Fail(t, "a circle", "%s", strings.Join(append(way[at:], name), " imports "))
		}
		if done[name] {
			return
		}
		for _, dep := range all[name] {
			walk(dep, append(slices.Clone(way), name))
		}
		done[name] = true
	}
	for name := range all {
		walk(name, nil)
	}
}

// A line that is read whole fits beside another file on a laptop's screen.
const widest = 140

func TestNoLineIsTooWideToRead(t *testing.T) {
	var wide []string
	for name, text := range own(t) {
		for i, line := range strings.Split(text, "\n") {
			if n := utf8.RuneCountInString(line); n > widest {
				wide = append(wide, fmt.Sprintf("%s:%d has %d columns", name, i+1, n))
			}
		}
	}
	require.Empty(t, wide)
}
