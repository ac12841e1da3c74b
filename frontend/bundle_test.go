package frontend

import (
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// bundled gives what browsers get, and of it the modules that stand for some of ours.
func bundled(t *testing.T, names ...string) (files map[string][]byte, made []string) {
	t.Helper()
	files, err := Bundled()
	require.NoError(t, err)
	for _, name := range names {
		pattern := regexp.MustCompile("^" + madeFolder + "/" + strings.TrimSuffix(path.Base(name), ".js") + "-[A-Z0-9]{8}\\.js$")
		for file := range files {
			if pattern.MatchString(file) {
				made = append(made, file)
			}
		}
	}
	require.Len(t, made, len(names), "%v", names)
	return files, made
}

// A phone on a poor network waits for each request in turn that it did not know of.
func TestThePageAsksAtOnceForAllThatAPhoneShowsFirst(t *testing.T) {
	files, first := bundled(t, "app.js", "phone/phone.js")
	_, later := bundled(t, "phone/more.js", "sheet/sheet.js", "captain/captain.js", "wall/wall.js")
	page := string(files["index.html"])
	imports := regexp.MustCompile(`(?:import|export|from)\s?"\./([^"]+)"`)
	seen := map[string]bool{}
	for len(first) > 0 {
		name := first[0]
		first = first[1:]
		if seen[name] {
			continue
		}
		seen[name] = true
		require.Contains(t, page, `modulepreload" href="/`+name+`"`)
		for _, m := range imports.FindAllStringSubmatch(string(files[name]), -1) {
			first = append(first, path.Join(path.Dir(name), m[1]))
		}
	}
	require.Equal(t, len(seen), strings.Count(page, "modulepreload"), "and for nothing else")
	require.LessOrEqual(t, len(seen), 5)
	require.GreaterOrEqual(t, len(seen), 3, "the walk reaches what the phone imports")
	for _, name := range later {
		require.NotContains(t, page, name, "what stands behind the next move is fetched later")
	}
}

func TestWhatCoreSaysIsOnceInAllThatIsServed(t *testing.T) {
	files, _ := bundled(t)
	for _, said := range []string{"mendline.v1", "function commandId("} {
		holds := 0
		for _, data := range files {
			holds += strings.Count(string(data), said)
		}
		require.Equal(t, 1, holds, said)
	}
}

func TestNoSourceIsServedBesideWhatWasMadeOfIt(t *testing.T) {
	files, _ := bundled(t)
	for name := range files {
		require.Regexp(t, `^(made/[a-z]+-[A-Z0-9]+\.js|[a-z]+/[a-z]+\.css|index\.html|icon\.svg|vendor/LICENSE)$`, name)
	}
	again, err := Bundled()
	require.NoError(t, err)
	require.Equal(t, files, again, "the same names each time")
	require.NotContains(t, string(files["core/base.css"]), "/*")
	styles := 0
	for name := range files {
		styles += strings.Count(name, ".css")
	}
	require.Equal(t, 3, styles)
}
