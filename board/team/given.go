package team

import (
	"cmp"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"mendline/board"
)

// Given is a team folder as it comes from a disk, a zip or a browser.
type Given struct {
	// Files are the files by their path, of which those alone are looked into that
	// end in .csv. They may all be in one folder.
	Files map[string][]byte
	// Said are settings of the event that stand where event.csv has none.
	Said map[string]string
	// On is the board that the team is for. Its event stands where there is no event.csv,
	// and who is on its roster under a name in crew.csv is that person.
	On board.State
}

// Open reads the top of a folder.
func Open(fsys fs.FS) (Given, error) {
	there, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return Given{}, err
	}
	g := Given{Files: map[string][]byte{}}
	for _, f := range there {
		if f.IsDir() {
			continue
		}
		g.Files[f.Name()] = nil
		if !Looked(f.Name()) {
			continue
		}
		if g.Files[f.Name()], err = readMost(fsys, f.Name()); err != nil {
			return Given{}, err
		}
	}
	return g, nil
}

func readMost(fsys fs.FS, name string) ([]byte, error) {
	file, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, FileMost+1))
}

// Looked tells whether a file of this path is looked into.
func Looked(name string) bool {
	return strings.EqualFold(path.Ext(name), ".csv") && !litter(name)
}

// litter tells what systems and spreadsheets leave in a folder.
func litter(name string) bool {
	base := path.Base(name)
	return slices.Contains(strings.Split(name, "/"), "__MACOSX") || strings.HasPrefix(base, ".") || strings.HasPrefix(base, "~$")
}

// sorted are the files of a folder: what is read, by the names that files have here,
// and what is passed over.
type sorted struct {
	tables  map[string][]byte
	called  map[string]string // the path by that name
	skipped []string
	faults  []RowError
}

var sheetEnds = []string{".xlsx", ".xls", ".ods", ".numbers"}

func (g Given) sorted() sorted {
	out := sorted{tables: map[string][]byte{}, called: map[string]string{}}
	var sheets []string
	for _, name := range slices.Sorted(maps.Keys(g.Files)) {
		switch {
		case Looked(name):
			out.enter(name, g.Files[name])
		case path.Base(name) == ReadMe && !litter(name):
		case slices.Contains(sheetEnds, strings.ToLower(path.Ext(name))) && !litter(name):
			sheets = append(sheets, name)
		default:
			out.skipped = append(out.skipped, name)
		}
	}
	for _, name := range sheets {
		table, known := tableOf(strings.TrimSuffix(name, path.Ext(name)) + ".csv")
		if _, there := out.tables[table]; there || !known && len(out.tables) > 0 {
			out.skipped = append(out.skipped, name)
			continue
		}
		out.faults = append(out.faults, RowError{File: path.Base(name), Want: `a table as "CSV UTF-8": save each sheet of this one so, under the name of its file`})
	}
	return out
}

func (out *sorted) enter(name string, data []byte) {
	table, known := tableOf(name)
	was, there := out.called[table]
	switch {
	case !known:
		all := tableNames()
		out.faults = append(out.faults, RowError{File: path.Base(name), Want: "a file of a team folder" + didYouMean(table, all) + "; its files are " + strings.Join(all, ", ")})
	case there:
		out.faults = append(out.faults, RowError{File: table, Want: fmt.Sprintf("one file of this name; there are two, %s and %s", was, name)})
	default:
		out.tables[table], out.called[table] = data, name
	}
}

var copyNumber = regexp.MustCompile(` ?\(\d+\)$`)

// tableOf is the file's name here: a spreadsheet puts that of the whole before it, a browser
// a number behind it.
func tableOf(name string) (table string, known bool) {
	base := strings.ToLower(path.Base(name))
	stem := copyNumber.ReplaceAllString(strings.TrimSuffix(base, ".csv"), "")
	stem = strings.TrimSpace(stem[strings.LastIndex(stem, " - ")+1:])
	stem = strings.TrimSpace(strings.TrimPrefix(stem, "- "))
	for _, f := range files {
		if stem+".csv" == f.file || stem+".csv" == f.also {
			return f.file, true
		}
	}
	return base, false
}

func tableNames() []string {
	all := make([]string, len(files))
	for i, f := range files {
		all[i] = f.file
	}
	return all
}

// Skipped lists the files that are passed over.
func (g Given) Skipped() []string { return g.sorted().skipped }

// Read reads a team into the command that loads it. The ids it
// makes are those of [board.NewID] from cmd, the kind and the name, as if each
// noun were added by its own command of that id. When anything is wrong, all
// that is wrong is listed, in the order of the files, and the command is empty.
// A command that comes without faults is one that the board takes.
func (g Given) Read(cmd board.CommandID) (board.TeamLoad, []RowError) {
	in := g.sorted()
	d := &reading{tables: in.tables, said: g.Said, on: g.On, cmd: cmd, asked: map[string]bool{}}
	for _, e := range in.faults {
		d.fault(e)
	}
	if len(d.errs) == 0 && len(d.tables) == 0 {
		d.fault(RowError{Want: "a team folder: there is no file in it that ends in .csv"})
	}
	if bad := d.refused(nil); bad != nil && len(d.errs) == 0 {
		d.fault(RowError{Want: bad.Sentence})
	}
	if len(d.errs) > 0 {
		return board.TeamLoad{}, gathered(d.errs)
	}
	event := d.readEvent()
	d.readPlaces()
	d.readCrew()
	d.readRobots()
	d.readStations()
	d.readSpares()
	d.readCharging()
	d.readJobs()
	d.readParts()
	d.readJoints()
	d.readSetups()
	d.readConstructions()
	d.readOrder()
	event()
	d.judge()
	if len(d.errs) > 0 {
		d.sort()
		return board.TeamLoad{}, gathered(d.errs)
	}
	return d.loadOf(d.entries), nil
}

// Read reads the team folder fsys for an empty board.
func Read(fsys fs.FS, cmd board.CommandID) (board.TeamLoad, []RowError) {
	g, err := Open(fsys)
	if err != nil {
		return board.TeamLoad{}, []RowError{{Want: "a folder that can be read: " + err.Error()}}
	}
	return g.Read(cmd)
}

// id makes the id of a noun, or finds that of a person who is on the board.
func (d *reading) id(k board.Kind, name string) string {
	if k == board.KindPerson {
		if person, there := d.onRoster(name); there {
			return string(person.ID)
		}
	}
	return board.NewID(d.cmd, k, name)
}

func (d *reading) onRoster(name string) (board.Person, bool) {
	for _, person := range d.on.People {
		if !person.Retired && board.FoldedPerson(person.Name) == board.FoldedPerson(name) {
			return person, true
		}
	}
	return board.Person{}, false
}

// eventName is what the event is called, where no table says so.
func (d *reading) eventName() string { return cmp.Or(d.on.Event().Name, "event") }
