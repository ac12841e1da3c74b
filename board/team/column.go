package team

import (
	"strconv"
	"strings"

	"mendline/board"
)

// table is a file whose rows are Ns: its columns in the order in which they are
// written, each with how it is read and written.
type table[N any] struct {
	*layout
	columns []column[N]
}

type column[N any] struct {
	head
	read  func(w *row, n *N)
	write func(p *printing, n *N) string
}

func newTable[N any](file string, columns ...column[N]) *table[N] {
	l := &layout{file: file, most: rowsMost}
	for _, c := range columns {
		l.heads = append(l.heads, c.head)
	}
	return &table[N]{l, columns}
}

// known gives the file another name that people use for it.
func (t *table[N]) known(also string) *table[N] { t.also = also; return t }

// atMost bounds the rows.
func (t *table[N]) atMost(rows int) *table[N] { t.most = rows; return t }

// without names a column that folders of an earlier program have and nothing reads.
func (t *table[N]) without(gone string) *table[N] { t.gone = append(t.gone, gone); return t }

// col is a column of one field, whose wire name is its own unless "as" says
// otherwise.
func col[N, T any](name string, in form[T], at func(*N) *T) column[N] {
	return column[N]{
		head:  head{name: name, kind: in.kind},
		read:  func(w *row, n *N) { *at(n) = in.read(w, name) },
		write: func(p *printing, n *N) string { return in.write(p, *at(n)) },
	}
}

// needed has no blank cells.
func (c column[N]) needed() column[N] { c.need = true; return c }

// says tells people what stands in it, with an example.
func (c column[N]) says(means, like string) column[N] { c.means, c.like = means, like; return c }

// as gives the wire name under which the board refuses what stands there.
func (c column[N]) as(field string) column[N] { c.field = field; return c }

// once gives the name that folders of an earlier program have above it.
func (c column[N]) once(was string) column[N] { c.was = was; return c }

// because says what the name of an earlier program may be taken for.
func (c column[N]) because(why string) column[N] { c.why = "; " + why; return c }

func (t *table[N]) read(w *row) N {
	var n N
	for _, c := range t.columns {
		c.read(w, &n)
	}
	return n
}

func (t *table[N]) rows(p *printing, all []N) [][]string {
	var rows [][]string
	for _, n := range all {
		cells := make([]string, len(t.columns))
		for i, c := range t.columns {
			cells[i] = c.write(p, &n)
		}
		rows = append(rows, cells)
	}
	return rows
}

// readNamed reads the nouns of a file whose first column is their name. It gives
// what finds them by it.
func readNamed[N board.Noun, ID ~string](d *reading, what string, t *table[N], of func(*N) (*ID, string)) *index {
	known := newIndex(what, t.layout)
	for _, w := range d.rows(t.layout) {
		n := t.read(w)
		id, name := of(&n)
		*id = ID(d.id(kindOf(n), name))
		if name != "" && known.enter(w, t.heads[0].name, name, string(*id)) {
			d.add(n, w)
		}
	}
	return known
}

// readOnRobots reads the nouns of a file whose first columns are their robot and
// their name on it.
func readOnRobots[N board.Noun, ID ~string](d *reading, what string, t *table[N], of func(*N) (*ID, board.RobotID, string)) robotNames {
	names := d.namesOn(what, t.layout)
	for _, w := range d.rows(t.layout) {
		n := t.read(w)
		id, robot, name := of(&n)
		if made, ok := names.enter(w, kindOf(n), robot, name); ok {
			*id = ID(made)
			d.add(n, w)
		}
	}
	return names
}

func kindOf(n board.Noun) board.Kind {
	kind, _ := n.Key().Split()
	return kind
}

// form is how a value stands in a cell; kind says so to people.
type form[T any] struct {
	kind  string
	read  func(w *row, column string) T
	write func(p *printing, v T) string
}

func plain[T any](kind string, read func(*row, string) T, write func(T) string) form[T] {
	return form[T]{kind, read, func(_ *printing, v T) string { return write(v) }}
}

var (
	asText    = plain("text", (*row).text, func(text string) string { return text })
	asRaw     = plain("text, of several lines if need be", (*row).raw, func(text string) string { return text }) // may have line ends
	asNumber  = plain("number", (*row).number, numberText)
	asLimit   = plain("number", (*row).number, blankNone)
	asWhole   = plain("whole number", (*row).whole, strconv.Itoa)
	asSome    = plain("whole number", (*row).whole, blankZero)
	asMinutes = plain("minutes, or seconds as 45 s", (*row).minutes, minutesText)
	asMoney   = plain("money", (*row).money, moneyTextOf)
	asYes     = plain("yes or no", (*row).yes, yesText)
	asList    = plain("texts, a semicolon between them", (*row).list, listText[string])

	asClock = form[board.Moment]{
		"date and time at the event",
		func(w *row, column string) board.Moment { return w.clock(column) },
		func(p *printing, at board.Moment) string { return clockText(at, p.state.Event().OffsetMin) },
	}

	asPlace   = asName("places.csv", func(d *reading) *index { return d.places }, (*printing).place)
	asPerson  = asName("crew.csv", func(d *reading) *index { return d.people }, (*printing).person)
	asRobot   = asName("robots.csv", func(d *reading) *index { return d.robots }, (*printing).robot)
	asSpare   = asName("spares.csv", func(d *reading) *index { return d.stocks }, (*printing).spare)
	asCircuit = asName("circuits.csv", func(d *reading) *index { return d.circuits }, (*printing).circuit)
)

func wordsOf[W ~string](list []W) string {
	all := make([]string, len(list))
	for i, one := range list {
		all[i] = string(one)
	}
	return strings.Join(all, ", ")
}

func asWord[W ~string](list []W) form[W] {
	return plain("one of "+wordsOf(list), func(w *row, column string) W { return word(w, column, list) }, func(one W) string { return string(one) })
}

func asWords[W ~string](list []W) form[[]W] {
	return plain("some of "+wordsOf(list)+", a semicolon between them", func(w *row, column string) []W { return words(w, column, list) }, listText[W])
}

// asName is the name of a noun of another file.
func asName[ID ~string](file string, in func(*reading) *index, name func(*printing, ID) string) form[ID] {
	return form[ID]{"a name in " + file, func(w *row, column string) ID { return ID(in(w.reading).id(w, column, w.text(column))) }, name}
}

// asNames are the names of several; those that are off the board are left out.
func asNames[ID ~string](file string, in func(*reading) *index, name func(*printing, ID) string) form[[]ID] {
	return form[[]ID]{
		"names in " + file + ", a semicolon between them",
		func(w *row, column string) []ID { return idsOf[ID](w, column, in(w.reading), w.list(column)) },
		func(p *printing, ids []ID) string { return namesText(ids, func(id ID) string { return name(p, id) }) },
	}
}

func idsOf[ID ~string](w *row, column string, in *index, names []string) []ID {
	var ids []ID
	for _, name := range names {
		ids = append(ids, ID(in.id(w, column, name)))
	}
	return ids
}

func namesText[ID ~string](ids []ID, name func(ID) string) string {
	var names []string
	for _, id := range ids {
		if text := name(id); text != "" {
			names = append(names, text)
		}
	}
	return listText(names)
}
