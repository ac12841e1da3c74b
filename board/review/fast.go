package review

import (
	"cmp"
	"slices"
	"strings"

	"mendline/board"
)

// readWordsMin is how fast people read at most, in words a minute: the upper end
// of the range of most adults who read English non-fiction silently, 175 to 300.
// Source: Brysbaert, "How many words do we read per minute? A review and
// meta-analysis of reading rate", Journal of Memory and Language 109 (2019)
// 104047, abstract. That a safety line should take no less is our decision.
const readWordsMin = 300

// Fast is a sheet that was answered in less time than it takes to read.
type Fast struct {
	Robot board.RobotID   `json:"robot"`
	Name  string          `json:"name"`
	List  board.SheetList `json:"list"`
	// Lines were answered after the first one, in Sec seconds; to read them takes
	// ReadSec seconds at 300 words a minute.
	Lines   int      `json:"lines"`
	Sec     float64  `json:"sec"`
	ReadSec float64  `json:"readSec"`
	By      []string `json:"by"`
	// At is when the last of them was answered.
	At board.Moment `json:"at"`
}

func fastSheets(s board.State) []Fast {
	list := []Fast{}
	for _, sheet := range s.Sheets {
		if f, fast := tooFast(sheet); fast {
			f.Name = s.Robots[sheet.Robot].Name
			for i, id := range f.By {
				f.By[i] = s.People[board.PersonID(id)].Name
			}
			list = append(list, f)
		}
	}
	slices.SortFunc(list, func(a, b Fast) int {
		return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Robot, b.Robot), cmp.Compare(a.List, b.List))
	})
	return list
}

// tooFast measures from the first answer given on the board to the last. What
// stands from an earlier sheet or was given on paper was read elsewhere, and what has to
// come to rest first is waited for: neither that line nor the wait is counted.
func tooFast(sheet board.Sheet) (Fast, bool) {
	f := Fast{List: sheet.List, Robot: sheet.Robot}
	var first, last, waited board.Moment
	words := 0
	for _, a := range sheet.Answers {
		if a.Standing || a.Paper {
			continue
		}
		if !slices.Contains(f.By, string(a.By)) {
			f.By = append(f.By, string(a.By))
		}
		if first == 0 {
			first, last = a.At, a.At
			continue
		}
		gap := max(0, a.At-last)
		last = max(last, a.At)
		if comesToRest(sheet, a.Line) {
			waited += gap
			continue
		}
		f.Lines++
		f.At = max(f.At, a.At)
		words += wordsOf(sheet, a.Line)
	}
	f.Sec = float64(f.At-first-waited) / 1000
	f.ReadSec = float64(words) * 60 / readWordsMin
	return f, f.Lines > 0 && f.Sec < f.ReadSec
}

// comesToRest tells whether a line is about what takes its time to go by itself.
func comesToRest(sheet board.Sheet, id string) bool {
	return slices.ContainsFunc(sheet.Lines, func(l board.Line) bool {
		return l.ID == id && (l.Energy == board.EnergySpin || l.Energy == board.EnergyCapacitor)
	})
}

// wordsOf counts the words of a line's question and of what to touch.
func wordsOf(sheet board.Sheet, id string) int {
	for _, l := range sheet.Lines {
		if l.ID == id {
			return len(strings.Fields(l.Ask)) + len(strings.Fields(l.Touch))
		}
	}
	return 0
}
