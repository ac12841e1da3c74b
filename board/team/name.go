package team

import (
	"strconv"

	"mendline/board"
)

// index finds the id of what a file names, as the board compares names.
type index struct {
	// what the names are of, and the file they stand in.
	what, file string
	ids        map[string]string
	lines      map[string]int
	names      []string
}

func newIndex(what string, l *layout) *index {
	return &index{what: what, file: l.file, ids: map[string]string{}, lines: map[string]int{}}
}

// enter takes a name, unless it is there already.
func (x *index) enter(w *row, column, name, id string) bool {
	key := board.Folded(name)
	if line, there := x.lines[key]; there {
		w.wrong(column, "a name of its own; line "+strconv.Itoa(line)+" has it already")
		return false
	}
	x.ids[key], x.lines[key] = id, w.line
	x.names = append(x.names, name)
	return true
}

// id finds a name that stands in a column of another file; "" where the cell is
// blank.
func (x *index) id(w *row, column, name string) string {
	if name == "" {
		return ""
	}
	id, ok := x.ids[board.Folded(name)]
	if !ok {
		w.wrongBut(column, "the name of a "+x.what+" in "+x.file, didYouMean(name, x.names))
	}
	return id
}

// didYouMean names the nearest of known when it is near enough.
func didYouMean(text string, known []string) string {
	best, least := "", nearMost(text)+1
	for _, k := range known {
		if n := distance(board.Folded(text), board.Folded(k)); n < least {
			best, least = k, n
		}
	}
	if best == "" {
		return ""
	}
	return "; did you mean " + best + "?"
}

// nearMost is how many letters a name may be off to be taken for another: one
// in three, three at most.
func nearMost(text string) int { return min(3, len([]rune(text))/3) }

// distance counts the letters to put in, take out, change or turn round between
// a and b (optimal string alignment).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > valueMost || len(t) > valueMost {
		return valueMost
	}
	var older, last []int
	for i := range len(s) + 1 {
		next := make([]int, len(t)+1)
		for j := range next {
			switch {
			case i == 0:
				next[j] = j
			case j == 0:
				next[j] = i
			case s[i-1] == t[j-1]:
				next[j] = last[j-1]
			default:
				next[j] = 1 + min(last[j-1], last[j], next[j-1])
				if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
					next[j] = min(next[j], 1+older[j-2])
				}
			}
		}
		older, last = last, next
	}
	return last[len(t)]
}
