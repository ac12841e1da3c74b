package board

// TakeOut lets the rule of a number pass everything, for the tests that show what then
// fails. It stays written in the rulebook.
func TakeOut(number int) {
	for i, r := range rulebook {
		if r.Number == number {
			rulebook[i].ask = asks(func(*turn) *Refusal { return nil })
		}
	}
}

// Kept lists the numbers of the rules that the board itself asks of a change.
func Kept() []int {
	var numbers []int
	for _, r := range rulebook {
		if r.Number != 0 && len(r.ask) > 0 {
			numbers = append(numbers, r.Number)
		}
	}
	return numbers
}

// CommandNames lists every command, those of the board's own too.
func CommandNames() []string {
	var names []string
	for _, r := range table {
		names = append(names, r.name)
	}
	return names
}

// LinesOf writes a robot's sheet of a list.
func (s State) LinesOf(r Robot, list SheetList) []Line { return s.linesOf(r, list) }

// Forged is a change of nouns that goes past every command, so that the numbered
// rules alone speak.
type Forged struct {
	Put  []Noun
	Del  []Key
	Path map[RobotID][]PowerState
	// Command and Seen are what the change says it came from.
	Command Command
	Seen    map[Key]Rev
}

// Force asks the numbered rules, and nothing else, about a forged change.
func Force(s State, f Forged, by Actor, now Moment) (State, *Refusal) {
	t := &turn{
		command: f.Command, ask: Ask{Seen: f.Seen}, by: by, now: now, when: now,
		before: s, draft: newDraft(s), did: map[Key]bool{}, path: map[RobotID][]PowerState{},
	}
	for _, n := range f.Put {
		t.put(n)
	}
	for _, key := range f.Del {
		t.del(key)
	}
	for robot, path := range f.Path {
		t.path[robot] = path
	}
	return t.s(), t.rules()
}

// Ignorable tells whether a character shows nothing by itself.
func Ignorable(r rune) bool { return ignorable(r) }

// NamesWith asks of the names on a board that n is put on.
func NamesWith(s State, n Noun) *Refusal {
	t := &turn{before: s, draft: newDraft(s), did: map[Key]bool{}}
	t.put(n)
	return t.names()
}

// RelaxedFields lists, by noun, the settings that say where they ask for less.
func RelaxedFields() map[string][]string {
	return map[string][]string{
		"event": fieldsOf(eventRelaxes), "robot": fieldsOf(robotRelaxes), "place": fieldsOf(placeRelaxes), "template": fieldsOf(templateRelaxes),
	}
}

func fieldsOf[N any](table []relaxes[N]) []string {
	var names []string
	for _, relax := range table {
		names = append(names, relax.field)
	}
	return names
}
