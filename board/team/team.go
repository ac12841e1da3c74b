package team

import (
	"errors"
	"io/fs"
	"slices"
	"strings"

	"mendline/board"
)

// files are those of a team folder, in the order in which they are read.
var files = []struct {
	*layout
	rows func(*printing) [][]string
}{
	{eventFile, (*printing).event}, {placesFile.layout, (*printing).places}, {crewFile.layout, (*printing).crew},
	{robotsFile.layout, (*printing).robots}, {energiesFile.layout, (*printing).energies}, {stationsFile.layout, (*printing).stations},
	{sparesFile.layout, (*printing).spares}, {circuitsFile.layout, (*printing).circuits}, {chargersFile.layout, (*printing).chargers},
	{packsFile.layout, (*printing).packs}, {jobsFile.layout, (*printing).jobs}, {partsFile.layout, (*printing).parts},
	{jointsFile.layout, (*printing).joints}, {modulesFile.layout, (*printing).modules}, {setupsFile.layout, (*printing).setups},
	{constructionsFile.layout, (*printing).constructions}, {orderFile.layout, (*printing).order},
}

// placeOfFile is a file's place among them.
func placeOfFile(name string) int {
	for i, f := range files {
		if f.file == name {
			return i
		}
	}
	return -1
}

// reading is one folder being read.
type reading struct {
	fsys    fs.FS
	cmd     board.CommandID
	errs    []RowError
	entries []entry

	offsetMin int
	eventRows []*row
	places    *index
	people    *index
	robots    *index
	stocks    *index
	circuits  *index
	parts     robotNames
	modules   robotNames
}

// entry is a noun with the row it came from.
type entry struct {
	noun board.Noun
	row  *row
	// parts are rows of the noun's own that make up the field of that wire name;
	// only gives the noun with the i-th of them alone, or with those before it where
	// they are judged together.
	field string
	parts []*row
	only  func(i int) board.Noun
}

// Read reads the team folder fsys into the command that loads it. The ids it
// makes are those of [board.NewID] from cmd, the kind and the name, as if each
// noun were added by its own command of that id. When anything is wrong, all
// that is wrong is listed, in the order of the files, and the command is empty.
// A command that comes without faults is one that an empty board takes.
func Read(fsys fs.FS, cmd board.CommandID) (board.TeamLoad, []RowError) {
	d := &reading{fsys: fsys, cmd: cmd}
	d.folder()
	if len(d.errs) > 0 {
		return board.TeamLoad{}, d.errs
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
		return board.TeamLoad{}, d.errs
	}
	return loadOf(d.entries), nil
}

// folder refuses a folder that holds no team, and tables that nobody would read.
func (d *reading) folder() {
	there, err := fs.ReadDir(d.fsys, ".")
	if err != nil {
		d.fault(RowError{Want: "a folder that can be read: " + err.Error()})
		return
	}
	var known []string
	for _, f := range files {
		known = append(known, f.file)
	}
	for _, f := range there {
		name := f.Name()
		if strings.HasPrefix(name, ".") || !strings.HasSuffix(strings.ToLower(name), ".csv") {
			continue
		}
		if !slices.Contains(known, name) {
			d.fault(RowError{File: name, Want: "a file of a team folder" + didYouMean(name, known) + "; its files are " + strings.Join(known, ", ")})
		}
	}
	if _, err := fs.Stat(d.fsys, eventFile.file); errors.Is(err, fs.ErrNotExist) {
		d.fault(RowError{File: eventFile.file, Want: "this file, which is missing: a team folder names its event in it, with the lines setting,value and name,…"})
	}
}

func (d *reading) fault(e RowError) { d.errs = append(d.errs, e) }

func (d *reading) faulty(l *layout) bool {
	return slices.ContainsFunc(d.errs, func(e RowError) bool { return e.File == l.file })
}

// sort puts the faults in the order of files and lines.
func (d *reading) sort() {
	slices.SortStableFunc(d.errs, func(a, b RowError) int {
		if a.File != b.File {
			return placeOfFile(a.File) - placeOfFile(b.File)
		}
		return a.Line - b.Line
	})
}

func (d *reading) add(n board.Noun, w *row) {
	d.entries = append(d.entries, entry{noun: n, row: w})
}

func (d *reading) id(k board.Kind, name string) string { return board.NewID(d.cmd, k, name) }
