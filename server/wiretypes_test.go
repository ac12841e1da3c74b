package server

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/board/view"
	"mendline/server/photo"
)

const typesFile = "../frontend/core/wire.d.ts"

const typesHead = `// What goes over the wire. "go test ./server -run TestWire -update" writes this file
// from the Go structs and their comments; change those. A field that may be left out
// has a question mark; it is then zero, "" or none.

/** RFC 3339 in UTC with milliseconds, "" where there is none. */
export type Time = string;
export type Id = string;
`

// renamed are types whose name in Go is another's too.
var renamed = map[reflect.Type]string{
	reflect.TypeFor[forecast.Class](): "AlarmClass",
	reflect.TypeFor[view.Reading]():   "WeightRead",
	reflect.TypeFor[view.Way]():       "WayIn",
	reflect.TypeFor[board.Access]():   "AccessSet",
}

// neverSent are words of a type that no message has.
var neverSent = []string{`"` + string(board.RoleSystem) + `"`}

// offline is the one refusal that no Go package has: a device with no connection
// refuses by itself.
const offline = `"offline"`

// TestWireTypes fails when the types that the pages are checked against are not
// those of the structs.
func TestWireTypes(t *testing.T) {
	upToDate(t, typesFile, newTypist(t).file(wireValues(t)))
}

// typist writes types as TypeScript.
type typist struct {
	t        *testing.T
	packages map[string][]*ast.File
	says     map[reflect.Type]string // "t" of the messages
	names    map[reflect.Type]string // what it has written or is about to
	taken    map[string]reflect.Type
	out      strings.Builder
	later    []reflect.Type
}

func newTypist(t *testing.T) *typist {
	return &typist{t: t, packages: map[string][]*ast.File{}, says: map[reflect.Type]string{}, names: map[reflect.Type]string{}, taken: map[string]reflect.Type{}}
}

func (w *typist) file(values []wireValue) []byte {
	nouns, commands := &strings.Builder{}, &strings.Builder{}
	var from, to []string
	for _, v := range values {
		name := w.name(v.value.Type(), v.typ)
		if v.kind == fromServer || v.kind == toServer {
			w.says[v.value.Type()] = v.key
		}
		for len(w.later) > 0 {
			next := w.later[0]
			rest := w.later[1:]
			w.later = nil
			w.write(next)
			w.later = append(w.later, rest...)
		}
		switch v.kind {
		case fromServer:
			from = append(from, name)
		case toServer:
			to = append(to, name)
		case aNoun:
			fmt.Fprintf(nouns, "  %s: %s;\n", v.key, name)
		case aCommand:
			fmt.Fprintf(commands, "  %q: %s;\n", v.key, name)
		}
	}
	union := func(list []string) string { return strings.Join(list, " | ") }
	return []byte(typesHead + w.out.String() +
		"\n/** Every noun by the kind in its key. */\nexport interface Nouns {\n" + nouns.String() + "}\n" +
		"export type Kind = keyof Nouns;\nexport type Noun = Nouns[Kind];\n" +
		"\n/** The fields of `with`, by the name in `do`. */\nexport interface Commands {\n" + commands.String() + "}\n" +
		"export type Do = keyof Commands;\n\n" +
		"export type FromServer = " + union(from) + ";\nexport type ToServer = " + union(to) + ";\n")
}

// tsName is what a type is called; those that account for a day begin
// with their package's name.
func tsName(typ reflect.Type, wanted string) string {
	if wanted = cmp.Or(wanted, renamed[typ]); wanted != "" {
		return wanted
	}
	name := capital(typ.Name())
	if in := path.Base(typ.PkgPath()); in == "debrief" || in == "review" {
		name = capital(in) + strings.TrimPrefix(name, capital(in))
	}
	return name
}

func capital(name string) string { return string(unicode.ToUpper(rune(name[0]))) + name[1:] }

// name is what a type is called; one that is new here is written next.
func (w *typist) name(typ reflect.Type, wanted string) string {
	if name, ok := w.names[typ]; ok {
		return name
	}
	name := tsName(typ, wanted)
	require.Nil(w.t, w.taken[name], "%s is a name already, and %s needs another in renamed", name, typ)
	w.names[typ], w.taken[name] = name, typ
	w.later = append(w.later, typ)
	return name
}

// ts is how a type is written where it is used.
func (w *typist) ts(typ reflect.Type) string {
	switch typ {
	case reflect.TypeFor[board.Moment](), reflect.TypeFor[time.Time]():
		return "Time"
	case reflect.TypeFor[board.CommandID]():
		return "Id"
	case reflect.TypeFor[jsontext.Value]():
		return "unknown"
	}
	switch typ.Kind() {
	case reflect.String:
		switch {
		case len(w.words(typ)) > 0:
			return w.name(typ, "")
		case strings.HasSuffix(typ.Name(), "ID") && typ != reflect.TypeFor[board.AlarmID]():
			return "Id"
		}
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Int64, reflect.Uint64, reflect.Float64:
		return "number"
	case reflect.Pointer:
		return w.ts(typ.Elem())
	case reflect.Interface:
		return "unknown"
	case reflect.Slice:
		if of := w.ts(typ.Elem()); !strings.Contains(of, " ") {
			return of + "[]"
		}
		return "(" + w.ts(typ.Elem()) + ")[]"
	case reflect.Map:
		record := fmt.Sprintf("Record<%s, %s>", w.ts(typ.Key()), w.ts(typ.Elem()))
		if len(w.words(typ.Key())) > 0 {
			return "Partial<" + record + ">"
		}
		return record
	case reflect.Struct:
		require.NotEmpty(w.t, typ.Name(), "give %s a name: it goes over the wire", typ)
		return w.name(typ, "")
	}
	require.Fail(w.t, "no TypeScript", "for %s", typ)
	return ""
}

// write writes a named type with what its comment says.
func (w *typist) write(typ reflect.Type) {
	name := w.names[typ]
	docs := w.docsOf(typ)
	about := docs[""]
	if rest, ok := strings.CutPrefix(about, typ.Name()+" "); ok {
		about = name + " " + rest
	}
	if typ.Kind() == reflect.String {
		w.out.WriteString("\n" + comment("", about, nil) + wrapped("export type "+name+" =", w.words(typ)))
		return
	}
	wire := map[string]string{}
	for i := range typ.NumField() {
		f := typ.Field(i)
		wire[f.Name], _, _ = strings.Cut(f.Tag.Get("json"), ",")
	}
	var embeds, fields, lines []string
	explained := false
	for i := range typ.NumField() {
		f := typ.Field(i)
		if f.Anonymous {
			embeds = append(embeds, w.ts(f.Type))
			continue
		}
		if wire[f.Name] == "-" {
			continue
		}
		require.NotEmpty(w.t, wire[f.Name], "%s.%s has no name on the wire", typ, f.Name)
		is := w.ts(f.Type)
		if t := w.says[typ]; t != "" && f.Name == "T" {
			is, docs["T"] = strconv.Quote(t), ""
		}
		mark := ""
		if _, rest, _ := strings.Cut(f.Tag.Get("json"), ","); strings.Contains(rest, "omit") {
			mark = "?"
		}
		explained = explained || docs[f.Name] != ""
		fields = append(fields, wire[f.Name]+mark+": "+is)
		lines = append(lines, comment("  ", docs[f.Name], wire)+"  "+wire[f.Name]+mark+": "+is+";\n")
	}
	if len(embeds) > 0 {
		name += " extends " + strings.Join(embeds, ", ")
	}
	w.out.WriteString("\n" + comment("", about, wire) + "export interface " + name + " ")
	one := "{ " + strings.Join(fields, "; ") + " }\n"
	switch {
	case len(fields) == 0:
		w.out.WriteString("{}\n")
	case !explained && len(name)+len(one) < 100:
		w.out.WriteString(one)
	default:
		w.out.WriteString("{\n" + strings.Join(lines, "") + "}\n")
	}
}

// parsed is the source of a package of this module, without its tests.
func (w *typist) parsed(pkg string) []*ast.File {
	if files, ok := w.packages[pkg]; ok {
		return files
	}
	dir := "../" + strings.TrimPrefix(pkg, "mendline/")
	entries, err := os.ReadDir(dir)
	require.NoError(w.t, err)
	var files []*ast.File
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".go") && !strings.HasSuffix(e.Name(), "_test.go") {
			file, err := parser.ParseFile(token.NewFileSet(), path.Join(dir, e.Name()), nil, parser.ParseComments|parser.SkipObjectResolution)
			require.NoError(w.t, err)
			files = append(files, file)
		}
	}
	w.packages[pkg] = files
	return files
}

// words are the constants of a type of words, in the order of the source: of its
// own package, and of this one. There are none where a type is any text.
func (w *typist) words(typ reflect.Type) []string {
	if typ.Kind() != reflect.String || typ.Name() == "string" || typ.PkgPath() == "" {
		return nil
	}
	const here = "mendline/server"
	var words []string
	read := func(pkg, name string) {
		for _, file := range w.parsed(pkg) {
			ast.Inspect(file, func(n ast.Node) bool {
				if _, body := n.(*ast.BlockStmt); body {
					return false
				}
				spec, ok := n.(*ast.ValueSpec)
				if !ok || spec.Type == nil || typeName(spec.Type) != name {
					return true
				}
				for _, v := range spec.Values {
					lit, ok := v.(*ast.BasicLit)
					if ok && lit.Kind == token.STRING && !slices.Contains(neverSent, lit.Value) && !slices.Contains(words, lit.Value) {
						words = append(words, lit.Value)
					}
				}
				return true
			})
		}
	}
	read(typ.PkgPath(), typ.Name())
	if typ.PkgPath() != here {
		read(here, path.Base(typ.PkgPath())+"."+typ.Name())
	}
	if typ == reflect.TypeFor[board.Code]() {
		read(reflect.TypeFor[photo.Code]().PkgPath(), "Code") // goes out as one of the board's
		words = append(words, offline)
	}
	return words
}

// typeName is Role, or board.Role.
func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return typeName(e.X) + "." + e.Sel.Name
	}
	return ""
}

// docsOf gives what the source says of a type, under "", and of its fields.
func (w *typist) docsOf(typ reflect.Type) map[string]string {
	docs := map[string]string{}
	for _, file := range w.parsed(typ.PkgPath()) {
		for _, d := range file.Decls {
			gen, ok := d.(*ast.GenDecl)
			if !ok || gen.Tok != token.TYPE {
				continue
			}
			for _, s := range gen.Specs {
				spec := s.(*ast.TypeSpec)
				if spec.Name.Name != typ.Name() {
					continue
				}
				docs[""] = said(spec.Doc)
				if docs[""] == "" && len(gen.Specs) == 1 {
					docs[""] = said(gen.Doc)
				}
				if str, ok := spec.Type.(*ast.StructType); ok {
					for _, f := range str.Fields.List {
						for _, n := range f.Names {
							docs[n.Name] = said(f.Doc) + said(f.Comment)
						}
					}
				}
			}
		}
	}
	return docs
}

func said(c *ast.CommentGroup) string { return strings.Join(strings.Fields(c.Text()), " ") }

var goName = regexp.MustCompile(`\b[A-Z][A-Za-z0-9]+\b`)

// comment writes a comment; the names that the source uses become those of the
// wire.
func comment(indent, text string, names map[string]string) string {
	if text == "" {
		return ""
	}
	text = goName.ReplaceAllStringFunc(text, func(word string) string {
		if name, ok := names[word]; ok && name != "" {
			return "`" + name + "`"
		}
		return word
	})
	if one := indent + "/** " + text + " */\n"; utf8.RuneCountInString(one) < 100 {
		return one
	}
	var b strings.Builder
	b.WriteString(indent + "/**\n")
	line := indent + " *"
	for word := range strings.SplitSeq(text, " ") {
		if utf8.RuneCountInString(line+" "+word) > 92 {
			b.WriteString(line + "\n")
			line = indent + " *"
		}
		line += " " + word
	}
	b.WriteString(line + "\n" + indent + " */\n")
	return b.String()
}

// wrapped writes a union of words.
func wrapped(head string, words []string) string {
	if one := head + " " + strings.Join(words, " | ") + ";\n"; len(one) <= 120 {
		return one
	}
	var b strings.Builder
	b.WriteString(head)
	line := "\n "
	for _, word := range words {
		if len(line)+len(word) > 108 {
			b.WriteString(line)
			line = "\n "
		}
		line += " | " + word
	}
	return b.String() + line + ";\n"
}
