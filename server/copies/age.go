package copies

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"time"

	"mendline/board"
)

// Copies are kept by age: all that are younger than allFor, the last of each hour as
// long as hourlyFor, then the last of each day, hours and days by UTC.
const (
	allFor    = time.Hour
	hourlyFor = 24 * time.Hour
)

const stampForm = "20060102T150405Z"

// name says when the copy was made, of which revision and of which line.
func (c Copy) name() string {
	return fmt.Sprintf("mendline-%s-r%d-%s.db", c.At.Time().Format(stampForm), c.Rev, c.Line)
}

var nameForm = regexp.MustCompile(`^mendline-(\d{8}T\d{6}Z)-r(\d{1,18})-([0-9a-f]{8})\.db$`)

func parseName(text string) (Copy, bool) {
	m := nameForm.FindStringSubmatch(text)
	if m == nil {
		return Copy{}, false
	}
	at, err := time.Parse(stampForm, m[1])
	rev, err2 := strconv.ParseUint(m[2], 10, 63)
	if err != nil || err2 != nil {
		return Copy{}, false
	}
	return Copy{At: board.MomentOf(at), Rev: board.Rev(rev), Line: m[3]}, true
}

// surplus lists the copies of one line that are kept no longer at now, never the newest.
func surplus(all []Copy, now board.Moment) []Copy {
	slices.SortFunc(all, func(a, b Copy) int {
		return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Rev, b.Rev))
	})
	var list []Copy
	for i := range len(all) - 1 {
		if in := span(all[i].At, now); in != "" && in == span(all[i+1].At, now) {
			list = append(list, all[i])
		}
	}
	return list
}

// span is the hour or the day of which one copy is kept, "" where all are.
func span(at, now board.Moment) string {
	switch age := now.Sub(at); {
	case age < allFor:
		return ""
	case age < hourlyFor:
		return at.Time().Format("2006-01-02T15")
	}
	return at.Time().Format("2006-01-02")
}
