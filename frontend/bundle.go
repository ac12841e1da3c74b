package frontend

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

const (
	madeFolder = "made" // of the files whose names change with what is in them
	pageName   = "index.html"
	appName    = "app.js"
	appTag     = `<script type="module" src="/app.js"></script>`
	coreName   = "core" // all modules of core as one
)

// first is what a page asks for at once, as its first screen needs it.
type first struct {
	module string
	sheet  string // of the screen alone, or ""
	board  bool   // who opens it has a session
}

// firsts are the pages: of a device without a session, most of which are phones, and of
// each role, by where it begins.
var firsts = map[string]first{
	pageName:            {module: "phone/phone.js"},
	"home/crew.html":    {module: "phone/phone.js", board: true},
	"home/safety.html":  {module: "phone/phone.js", board: true},
	"home/viewer.html":  {module: "wall/wall.js", sheet: "wall", board: true},
	"home/captain.html": {module: "captain/captain.js", sheet: "captain", board: true},
}

// Bundled gives the files as browsers get them, by their paths from the root: the modules
// that a screen needs joined and without comments, in a folder of their own, so that a page
// never mixes two programs; a page for each role, in the folder home.
func Bundled() (map[string][]byte, error) {
	files, err := plain()
	if err != nil {
		return nil, fmt.Errorf("read the pages: %w", err)
	}
	made, outputs, err := bundle()
	if err != nil {
		return nil, fmt.Errorf("bundle the pages: %w", err)
	}
	maps.Copy(files, made)
	page := string(files[pageName])
	if strings.Count(page, appTag) != 1 {
		return nil, fmt.Errorf("bundle the pages: %s does not start %s once", pageName, appName)
	}
	for name, first := range firsts {
		files[name] = []byte(strings.Replace(page, appTag, outputs.tags(first), 1))
	}
	return files, nil
}

// plain gives all files but the modules, style sheets without comments.
func plain() (map[string][]byte, error) {
	files := map[string][]byte{}
	return files, fs.WalkDir(Files, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || isModule(name) {
			return err
		}
		data, err := Files.ReadFile(name)
		if err == nil && path.Ext(name) == ".css" {
			data, err = small(data)
		}
		files[name] = data
		return err
	})
}

func isModule(name string) bool { return path.Ext(name) == ".js" || path.Ext(name) == ".mjs" }

func small(css []byte) ([]byte, error) {
	r := api.Transform(string(css), api.TransformOptions{Loader: api.LoaderCSS, MinifyWhitespace: true, Engines: readers()})
	return r.Code, asError(r.Errors)
}

// readers are the browsers of five years ago: what the sources say they read as it is.
func readers() []api.Engine {
	return []api.Engine{{Name: api.EngineChrome, Version: "90"}, {Name: api.EngineFirefox, Version: "90"}, {Name: api.EngineSafari, Version: "15"}}
}

// outputs are the modules made, by their paths: what each imports at once, and the
// module of ours that it stands for.
type outputs map[string]struct {
	Imports []struct {
		Path, Kind string
	}
	EntryPoint string
}

func bundle() (map[string][]byte, outputs, error) {
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{appName}, Bundle: true, Splitting: true, Format: api.FormatESModule, Engines: readers(),
		// Names stay: what goes wrong on a phone can be read.
		MinifyWhitespace: true, MinifySyntax: true, Charset: api.CharsetUTF8,
		AbsWorkingDir: "/", Outdir: "/", EntryNames: madeFolder + "/[name]-[hash]", ChunkNames: madeFolder + "/[name]-[hash]", Metafile: true,
		Plugins: []api.Plugin{{Name: "embedded", Setup: embedded}},
	})
	if err := asError(r.Errors); err != nil {
		return nil, nil, err
	}
	files := map[string][]byte{}
	for _, f := range r.OutputFiles {
		files[strings.TrimPrefix(f.Path, "/")] = f.Contents
	}
	var meta struct {
		Outputs outputs
	}
	return files, meta.Outputs, json.Unmarshal([]byte(r.Metafile), &meta)
}

// embedded finds modules in Files. Each screen takes all of core along, which so
// becomes one file for all of them.
func embedded(b api.PluginBuild) {
	const space = "embedded"
	b.OnResolve(api.OnResolveOptions{Filter: ".*"}, func(a api.OnResolveArgs) (api.OnResolveResult, error) {
		name := a.Path
		if strings.HasPrefix(name, ".") {
			name = path.Join(path.Dir(a.Importer), name)
		}
		return api.OnResolveResult{Path: name, Namespace: space}, nil
	})
	b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: space}, func(a api.OnLoadArgs) (api.OnLoadResult, error) {
		text, err := module(a.Path)
		return api.OnLoadResult{Contents: &text, Loader: api.LoaderJS}, err
	})
}

func module(name string) (string, error) {
	if name == coreName {
		parts, err := fs.Glob(Files, "core/*.js")
		for i, part := range parts {
			parts[i] = fmt.Sprintf("export * from %q;", "./"+part)
		}
		return strings.Join(parts, "\n"), err
	}
	text, err := Files.ReadFile(name)
	if folder := path.Dir(name); err == nil && folder != "core" && folder != "vendor" {
		text = append([]byte(fmt.Sprintf("import %q;", coreName)), text...)
	}
	return string(text), err
}

// tags start the page: what its first screen imports, however deep, and the board are asked
// for at once, and not each when what needs it has come.
func (o outputs) tags(f first) string {
	var all []string
	var follow func(string)
	follow = func(name string) {
		if slices.Contains(all, name) {
			return
		}
		all = append(all, name)
		for _, i := range o[name].Imports {
			if i.Kind == "import-statement" {
				follow(i.Path)
			}
		}
	}
	app := o.of(appName)
	follow(app)
	follow(o.of(f.module))
	var tags strings.Builder
	if f.sheet != "" {
		fmt.Fprintf(&tags, "<link rel=\"stylesheet\" id=\"css-%[1]s\" href=\"/%[1]s/%[1]s.css\">\n  ", f.sheet)
	}
	for _, name := range all {
		fmt.Fprintf(&tags, "<link rel=\"modulepreload\" href=\"/%s\">\n  ", name)
	}
	if f.board {
		for _, path := range []string{"/api/board", "/api/forecast"} {
			fmt.Fprintf(&tags, "<link rel=\"preload\" as=\"fetch\" href=\"%s\" crossorigin>\n  ", path)
		}
	}
	fmt.Fprintf(&tags, `<script type="module" src="/%s"></script>`, app)
	return tags.String()
}

// of is the module made of one of ours.
func (o outputs) of(name string) string {
	for made, of := range o {
		if strings.HasSuffix(of.EntryPoint, ":"+name) {
			return made
		}
	}
	return ""
}

func asError(messages []api.Message) error {
	var all []error
	for _, m := range messages {
		if m.Location != nil {
			m.Text = fmt.Sprintf("%s, line %d: %s", m.Location.File, m.Location.Line, m.Text)
		}
		all = append(all, errors.New(m.Text))
	}
	return errors.Join(all...)
}
