package team

import (
	"slices"

	"mendline/board"
)

// files are those of a team folder, in the order in which they are read.
var files = []struct {
	*layout
	about string
	rows  func(*printing) [][]string
}{
	{eventFile, "the event and how it runs: a setting a row", (*printing).event},
	{placesFile.layout, "places in and around the pit", (*printing).places},
	{crewFile.layout, "the people", (*printing).crew},
	{robotsFile.layout, "the robots", (*printing).robots},
	{energiesFile.layout, "every way in which a robot can hurt", (*printing).energies},
	{stationsFile.layout, "where work is done", (*printing).stations},
	{sparesFile.layout, "what lies ready", (*printing).spares},
	{circuitsFile.layout, "the mains", (*printing).circuits},
	{chargersFile.layout, "the outputs of the chargers", (*printing).chargers},
	{packsFile.layout, "the batteries", (*printing).packs},
	{jobsFile.layout, "kinds of job and how long they take", (*printing).jobs},
	{partsFile.layout, "what a robot is made of", (*printing).parts},
	{jointsFile.layout, "what holds its parts together", (*printing).joints},
	{modulesFile.layout, "what is bolted on by choice", (*printing).modules},
	{setupsFile.layout, "choices of modules", (*printing).setups},
	{constructionsFile.layout, "ways to build it, to compare by the damage of the day", (*printing).constructions},
	{orderFile.layout, "our fights in the running order", (*printing).order},
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
	errs    []fault
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

func (d *reading) fault(e RowError) { d.errs = append(d.errs, fault{e, ""}) }

func (d *reading) faulty(l *layout) bool {
	return slices.ContainsFunc(d.errs, func(e fault) bool { return e.File == l.file })
}

// sort puts the faults in the order of files and lines.
func (d *reading) sort() {
	slices.SortStableFunc(d.errs, func(a, b fault) int {
		if a.File != b.File {
			return placeOfFile(a.File) - placeOfFile(b.File)
		}
		return a.Line - b.Line
	})
}

func (d *reading) add(n board.Noun, w *row) {
	d.entries = append(d.entries, entry{noun: n, row: w})
}
