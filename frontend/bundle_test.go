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
func TestAPageAsksAtOnceForAllThatItsFirstScreenNeeds(t *testing.T) {
	for page, needs := range map[string]struct {
		module string
		later  []string
		board  bool
	}{
		"index.html":        {"phone/phone.js", []string{"wall/wall.js", "captain/captain.js", "sheet/sheet.js"}, false},
		"home/crew.html":    {"phone/phone.js", []string{"phone/more.js", "sheet/sheet.js", "captain/captain.js", "wall/wall.js"}, true},
		"home/safety.html":  {"phone/phone.js", []string{"phone/more.js", "sheet/sheet.js", "captain/captain.js", "wall/wall.js"}, true},
		"home/viewer.html":  {"wall/wall.js", []string{"phone/phone.js", "captain/captain.js"}, true},
		"home/captain.html": {"captain/captain.js", []string{"phone/phone.js", "wall/wall.js"}, true},
	} {
		files, walk := bundled(t, "app.js", needs.module)
		_, later := bundled(t, needs.later...)
		text := string(files[page])
		imports := regexp.MustCompile(`(?:import|export|from)\s?"\./([^"]+)"`)
		seen := map[string]bool{}
		for len(walk) > 0 {
			name := walk[0]
			walk = walk[1:]
			if seen[name] {
				continue
			}
			seen[name] = true
			require.Contains(t, text, `modulepreload" href="/`+name+`"`, page)
			for _, m := range imports.FindAllStringSubmatch(string(files[name]), -1) {
				walk = append(walk, path.Join(path.Dir(name), m[1]))
			}
		}
		require.Equal(t, len(seen), strings.Count(text, "modulepreload"), "%s asks for nothing else", page)
		require.LessOrEqual(t, len(seen), 5, page)
		require.GreaterOrEqual(t, len(seen), 3, "the walk reaches what the screen imports")
		for _, name := range later {
			require.NotContains(t, text, name, page)
		}
		_, own := files[path.Dir(needs.module)+"/"+path.Base(path.Dir(needs.module))+".css"]
		require.Equal(t, own, strings.Contains(text, "/"+path.Dir(needs.module)+".css"), page)
		for _, of := range []string{"/api/board", "/api/forecast"} {
			require.Equal(t, needs.board, strings.Contains(text, `as="fetch" href="`+of+`" crossorigin`), page)
		}
	}
}

// app.js says where each role begins; the page that the server gives it asks for that screen.
func TestEveryRoleHasAPageOfItsOwn(t *testing.T) {
	app, err := Files.ReadFile(appName)
	require.NoError(t, err)
	home := regexp.MustCompile(`home = \{ (.*) \};`).FindSubmatch(app)
	require.NotNil(t, home)
	roles := regexp.MustCompile(`(\w+): "#/(\w+)"`).FindAllStringSubmatch(string(home[1]), -1)
	require.Len(t, roles, len(firsts)-1)
	for _, role := range roles {
		load := regexp.MustCompile(role[2] + `: \{ load: \(\) => import\("\./([^"]+)"\), sheets: \["?([a-z]*)"?\]`).FindSubmatch(app)
		require.NotNil(t, load, role[2])
		require.Equal(t, first{module: string(load[1]), sheet: string(load[2]), board: true}, firsts["home/"+role[1]+".html"])
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
		require.Regexp(t, `^(made/[a-z]+-[A-Z0-9]+\.js|[a-z]+/[a-z]+\.css|index\.html|home/[a-z]+\.html|icon\.svg|vendor/LICENSE)$`, name)
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
