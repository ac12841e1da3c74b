package board

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Wording is what the event or the team made of one list of lines: other words,
// another order, lines of its own. Sheets keep the lines that they began with.
type Wording struct {
	List SheetList `json:"list"`
	V    Rev       `json:"v"`
	// Version counts up with every change.
	Version int          `json:"version"`
	Lines   []WordedLine `json:"lines,omitempty"`
	// Out lists the lines that it leaves out of those the list had when it was worded:
	// one that came later stands on the sheets. It is nil on a wording from before
	// this was kept, which leaves out whatever it does not name and may.
	Out []string `json:"out,omitzero"`
	By  PersonID `json:"by,omitzero"`
	At  Moment   `json:"at"`
}

// WordedLine stands for a line of the board's own, under its id, in other words;
// or is a line of the team's own, whose id begins with "own-".
type WordedLine struct {
	ID string `json:"id"`
	// Ask, Touch, Say and Not replace the words where they are given. {name} in Ask
	// is the pack, the isolator or the robot that the line is about.
	Ask   string `json:"ask,omitzero"`
	Touch string `json:"touch,omitzero"`
	Say   string `json:"say,omitzero"`
	Not   string `json:"not,omitzero"`
	// The rest is for a team's own line.
	Part      string   `json:"part,omitzero"`
	Kind      LineKind `json:"kind,omitzero"`
	NotFitted bool     `json:"notFitted,omitzero"`
	Covers    []System `json:"covers,omitempty"`
	Unit      string   `json:"unit,omitzero"`
	Least     float64  `json:"least,omitzero"`
	Most      float64  `json:"most,omitzero"`
	Choices   []string `json:"choices,omitempty"`
}

func (wording Wording) Key() Key         { return KeyOf(KindWording, wording.List) }
func (wording Wording) Rev() Rev         { return wording.V }
func (wording Wording) stamp(r Rev) Noun { wording.V = r; return wording }

// slot is a line of the board's own, or a family of them: one for each link, pack
// or energy. One that is kept carries a rule and cannot be taken out.
type slot struct {
	id, part string
	kept     bool
}

const (
	partFirstIn = "first-in"
	partInspect = "inspect"
	partCloseUp = "close-up"
	partReady   = "ready"
	partLoadIn  = "load-in"
)

// slots lists the lines of a list in the board's own order, each family once.
func slots(list SheetList) []slot {
	s, r := patternRobot(list)
	var all []slot
	for _, l := range s.ownLinesOf(r, list) {
		if k := (slot{slotID(l), l.Part, !mayLeaveOut(list, slotID(l))}); !slices.Contains(all, k) {
			all = append(all, k)
		}
	}
	return all
}

// mayLeaveOut tells whether a line carries no rule. The inspection keeps the weapon,
// which is looked at for cracks before every fight, and the lock; what else is
// looked at is for those who know the robot.
func mayLeaveOut(list SheetList, id string) bool {
	return list.ofTheEvent() || list == ListInspect && slices.Contains([]string{"frame", "drive", "electrics"}, id)
}

var numberedID = regexp.MustCompile(`-[0-9]+$`)

// slotID is the slot that a line of the board's own belongs to.
func slotID(l Line) string {
	if l.Pack != "" {
		id, _, _ := strings.Cut(l.ID, "-")
		return id
	}
	return numberedID.ReplaceAllString(l.ID, "")
}

// manyOf tells whether a slot of a list may have several lines, so that each must
// say which it is about.
func manyOf(list SheetList, id string) bool {
	return !list.ofTheEvent() && slices.Contains([]string{"link", "look", "out", string(EnergyWeapon), string(EnergyDrive)}, id)
}

const ownLine = "own-"

var ownForm = regexp.MustCompile(`^own-[a-z0-9-]{1,40}$`)

// worded is a robot's lines as the event or the team has them.
func (s State) worded(r Robot, list SheetList, lines []Line) []Line {
	wording := s.Wordings[list]
	if len(wording.Lines) == 0 || len(lines) == 0 {
		return lines
	}
	var out []Line
	for _, worded := range wording.Lines {
		if strings.HasPrefix(worded.ID, ownLine) {
			out = append(out, worded.own(list))
		}
		for _, l := range lines {
			switch {
			case slotID(l) != worded.ID:
			case l.Kind == LinePlace && s.Packs[l.Pack].State.setAside():
				out = append(out, l) // in the board's words and no others
			case l.ofLock() && !r.wordedLock():
				out = append(out, l)
			default:
				out = append(out, worded.reword(l, s.lineName(r, l)))
			}
		}
	}
	for i, l := range lines {
		if id := slotID(l); !wording.names(id) && !wording.leavesOut(id) {
			out = slices.Insert(out, behind(out, lines[:i]), l)
		}
	}
	order := parts(list)
	slices.SortStableFunc(out, func(a, b Line) int { return slices.Index(order, a.Part) - slices.Index(order, b.Part) })
	return waitingLast(out)
}

// behind is where a line goes that the wording does not name: after the nearest of the
// lines that come before it in the board's own order.
func behind(out, before []Line) int {
	for _, l := range slices.Backward(before) {
		if i := slices.IndexFunc(out, func(o Line) bool { return o.ID == l.ID }); i >= 0 {
			return i + 1
		}
	}
	return 0
}

func (wording Wording) names(id string) bool {
	return slices.ContainsFunc(wording.Lines, func(worded WordedLine) bool { return worded.ID == id })
}

// leavesOut tells whether the wording takes a line off its sheets.
func (wording Wording) leavesOut(id string) bool {
	return len(wording.Lines) > 0 && !wording.names(id) && mayLeaveOut(wording.List, id) && (wording.Out == nil || slices.Contains(wording.Out, id))
}

// parts lists the parts of a list in their order.
func parts(list SheetList) []string {
	var all []string
	for _, k := range slots(list) {
		if !slices.Contains(all, k.part) {
			all = append(all, k.part)
		}
	}
	return all
}

func (worded WordedLine) own(list SheetList) Line {
	part := worded.Part
	if part == "" {
		part = parts(list)[0]
	}
	return Line{
		ID: worded.ID, Part: part, Kind: worded.Kind, Ask: worded.Ask, Touch: worded.Touch, Say: worded.Say, Not: worded.Not,
		NotFitted: worded.NotFitted, Verifies: part == partVerify, Covers: worded.Covers,
		Unit: worded.Unit, Least: worded.Least, Most: worded.Most, Choices: worded.Choices,
	}
}

func (worded WordedLine) reword(l Line, name string) Line {
	for _, word := range []struct {
		to   *string
		from string
	}{{&l.Ask, worded.Ask}, {&l.Touch, worded.Touch}, {&l.Say, worded.Say}, {&l.Not, worded.Not}} {
		if word.from != "" {
			*word.to = strings.ReplaceAll(word.from, "{name}", name)
		}
	}
	return l
}

// lineName is what a line is about: its pack, its isolator, or the robot.
func (s State) lineName(r Robot, l Line) string {
	if p, ok := s.Packs[l.Pack]; ok {
		return p.Name
	}
	at := numberedID.FindString(l.ID)
	switch {
	case at == "":
		return r.Name
	case slotID(l) == "link":
		return r.links()[atoi(at[1:])-1].Isolator
	}
	return r.Energies[atoi(at[1:])-1].Isolator
}

const wordedMost = 40

func (wording Wording) valid(State) *Refusal {
	all := slots(wording.List)
	if all == nil {
		return badField("list", "There is no list %q of lines.", wording.List)
	}
	if len(wording.Lines) > wordedMost {
		return badField("lines", "A sheet of more than %d lines is not read. Take some out.", wordedMost)
	}
	named := map[string]bool{}
	for _, worded := range wording.Lines {
		if named[worded.ID] {
			return badField("lines", "The line %s is there twice.", worded.ID)
		}
		named[worded.ID] = true
		i := slices.IndexFunc(all, func(k slot) bool { return k.id == worded.ID })
		switch {
		case i < 0 && !ownForm.MatchString(worded.ID):
			return badField("lines", "%q is no line of this list. A line of your own begins with own-, in small letters, figures and dashes.", worded.ID)
		case i < 0:
			if bad := worded.validOwn(wording.List); bad != nil {
				return bad
			}
		default:
			if bad := worded.validWords(wording.List); bad != nil {
				return bad
			}
		}
	}
	for _, k := range all {
		if k.kept && len(wording.Lines) > 0 && !named[k.id] {
			return badField("lines", "The line %s carries a safety rule and cannot be taken out. Give it other words, or another place in its part.", k.id)
		}
	}
	return nil
}

const askMost = 160

func (worded WordedLine) texts() *Refusal {
	if worded.Ask != strings.TrimSpace(worded.Ask) {
		return badField("lines", "The question begins or ends with a space. Take it off.")
	}
	seen := func(text string) *Refusal { return checkSeen("lines", "text", text) }
	return first(
		checkText("lines", worded.Ask, askMost), checkShort("lines", worded.Touch), checkShort("lines", worded.Say), checkShort("lines", worded.Not),
		each([]string{worded.Ask, worded.Touch, worded.Say, worded.Not, worded.Unit}, seen), each(worded.Choices, seen),
	)
}

// validWords refuses more than other words for a line of the board's own.
func (worded WordedLine) validWords(list SheetList) *Refusal {
	if bad := worded.texts(); bad != nil {
		return bad
	}
	if worded.Part != "" || worded.Kind != "" || worded.NotFitted || len(worded.Covers)+len(worded.Choices) > 0 || worded.Unit != "" || worded.Least != 0 || worded.Most != 0 {
		return badField("lines", "The line %s is the board's: only its words and its place can be changed.", worded.ID)
	}
	if bad := worded.turnedRound(list); bad != nil {
		return bad
	}
	if worded.Ask != "" && manyOf(list, worded.ID) && !strings.Contains(worded.Ask, "{name}") {
		return badField("lines", "There may be several lines %s: the question needs {name}, so that people know which one it is about.", worded.ID)
	}
	return nil
}

// turnedRound refuses to put on one button of a line what the other says.
func (worded WordedLine) turnedRound(list SheetList) *Refusal {
	s, r := patternRobot(list)
	for _, l := range s.ownLinesOf(r, list) {
		if slotID(l) != worded.ID {
			continue
		}
		is := worded.reword(l, "")
		if other := otherUnit(l.Unit, worded.Ask+" "+worded.Say+" "+worded.Touch); other != "" {
			return badField("lines", "The line %s is read in %s, and its words say %q. Ask for it in %[2]s.", worded.ID, l.Unit, other)
		}
		if Folded(is.Say) == Folded(is.Not) || Folded(is.Say) == Folded(l.Not) || Folded(is.Not) == Folded(l.Say) {
			return &Refusal{Code: CodeSafety, Rule: 23, Field: "lines", Sentence: "The buttons of the line " + worded.ID + " say \"" + l.Say + "\" and \"" + l.Not + "\", and are not turned round or made one. Word each in its own sense."}
		}
	}
	return nil
}

// unitWords are what people call the units of the board's own figures, and those that one
// could take for them.
var unitWords = map[string]string{
	"g": "g", "gram": "g", "grams": "g", "gramme": "g", "grammes": "g",
	"kg": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg", "kilogrammes": "kg",
	"lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "oz": "oz", "ounce": "oz", "ounces": "oz", "stone": "stone",
	"bar": "bar", "bars": "bar", "mbar": "mbar", "psi": "psi", "kpa": "kPa", "mpa": "MPa", "pascal": "Pa", "pascals": "Pa",
}

// otherUnit is a word for another unit than a line is read in, "" for none.
func otherUnit(unit, text string) string {
	if unit == "" {
		return ""
	}
	for _, word := range strings.FieldsFunc(Folded(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if other, ok := unitWords[word]; ok && other != unit {
			return word
		}
	}
	return ""
}

func (worded WordedLine) validOwn(list SheetList) *Refusal {
	bad := first(
		worded.texts(),
		checkName("lines", worded.Say),
		oneOf("lines", worded.Kind, LineDo, LineNumber, LineChoice, LineTold),
		each(worded.Covers, func(y System) *Refusal { return knownSystem("lines", y) }),
		each(worded.Choices, func(c string) *Refusal { return checkName("lines", c) }),
		checkShort("lines", worded.Unit),
	)
	switch {
	case bad != nil:
		return bad
	case Folded(worded.Say) == Folded(worded.Not):
		return badField("lines", "Both buttons of the line %s say the same. Give the one for no other words.", worded.ID)
	case worded.Ask == "":
		return badField("lines", "The line %s asks nothing. Give it a question.", worded.ID)
	case worded.Part != "" && (!slices.Contains(parts(list), worded.Part) || worded.Part == partSign):
		return badField("lines", "%q is no part of this list for a line of your own.", worded.Part)
	case worded.Kind == LineNumber && (worded.Unit == "" || worded.Most <= 0 || worded.Least < 0 || worded.Least > worded.Most):
		return badField("lines", "The line %s asks for a figure: it needs a unit, and limits from least to most.", worded.ID)
	case worded.Kind == LineChoice && (len(worded.Choices) < 2 || len(worded.Choices) > 6):
		return badField("lines", "The line %s asks for a choice: give two to six.", worded.ID)
	}
	return nil
}

// WordingSet gives a list other words, another order and lines of its own. With
// no lines it is the board's own again.
type WordingSet struct {
	List  SheetList    `json:"list"`
	Lines []WordedLine `json:"lines"`
}

func (c WordingSet) do(t *turn) *Refusal {
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	was := t.s().Wordings[c.List]
	wording := Wording{List: c.List, Version: max(was.Version, sheetVersion) + 1, Lines: c.Lines, By: person.ID, At: t.now}
	wording.Out = append([]string{}, wording.leftOut()...)
	t.put(wording)
	return nil
}

// version is that of the lines a sheet of the list begins with.
func (s State) version(list SheetList) int { return max(s.Wordings[list].Version, sheetVersion) }

// leftOut lists the lines that a wording leaves out.
func (wording Wording) leftOut() []string {
	var out []string
	for _, k := range slots(wording.List) {
		if wording.leavesOut(k.id) {
			out = append(out, k.id)
		}
	}
	return out
}
