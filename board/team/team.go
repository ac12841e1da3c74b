package team

import (
	"slices"

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
	tables  map[string][]byte
	said    map[string]string
	on      board.State
	asked   map[string]bool
	cmd     board.CommandID
	errs    []RowError
	entries []entry

	offsetMin int
	order     string // of day and month in its dates
	day       day    // of its times without a date
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
	noun   board.Noun
	row    *row
	stands bool // for one that was refused
	// parts are rows of the noun's own that make up the field of that wire name;
	// only gives the noun with the i-th of them alone, or with those before it where
	// they are judged together.
	field string
	parts []*row
	only  func(i int) board.Noun
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
