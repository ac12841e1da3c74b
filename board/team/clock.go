package team

import (
	"regexp"
	"strings"
	"time"

	"mendline/board"
)

// Settings that say how the folder's own dates and times are read. The board keeps
// none of them: a dump writes every date in full, year first.
const (
	dateOrder = "date_order"
	theDate   = "date"
)

const (
	dayMonth = "day-month"
	monthDay = "month-day"
)

// clock is a column of a date and time of day at the event.
func (w *row) clock(name string) board.Moment {
	text := w.text(name)
	if text == "" {
		return 0
	}
	date, clock := splitClock(text)
	return w.moment(name, date, clock, clockWant)
}

const orderWant = "day or month first? Say it once, in event.csv: " + dateOrder + "," + dayMonth + " or " + dateOrder + "," + monthDay

const clockWant = "a date and time at the event such as 2026-05-09 14:30"

// splitClock parts a date from a time of day; either may be missing.
func splitClock(text string) (date, clock string) {
	if at := strings.IndexAny(text, " T"); at > 0 && !strings.Contains(text[:at], ":") {
		return text[:at], strings.TrimSpace(text[at+1:])
	}
	if strings.Contains(text, ":") {
		return "", text
	}
	return text, ""
}

// day is a date.
type day struct {
	year, month, day int
}

// moment reads a date, or else the day that the folder is about, with a time of day.
func (w *row) moment(name, date, clock, want string) board.Moment {
	d := w.reading
	at, known := d.day, d.day != day{}
	if date != "" {
		var doubt bool
		if at, known, doubt = readDay(date, d.order); doubt {
			w.ask(name, dateOrder, orderWant)
			return 0
		}
	}
	since, ok := readTime(clock)
	switch {
	case !ok, date != "" && !known:
		w.wrong(name, want)
		return 0
	case !known:
		w.ask(name, theDate, "the day too; or say it once, in event.csv: "+theDate+",2026-05-09")
		return 0
	}
	zone := time.FixedZone("event", 60*d.offsetMin)
	return board.MomentOf(time.Date(at.year, time.Month(at.month), at.day, 0, 0, 0, 0, zone).Add(since))
}

// ask reports the first cell that hangs on a setting which nobody has said.
func (w *row) ask(name, setting, want string) {
	w.bad = true
	if !w.reading.asked[setting] {
		w.reading.asked[setting] = true
		w.fault(RowError{Column: name, Want: want, Ask: setting}, "")
	}
}

// readDay reads a date. Before points a day comes first, as nobody writes it
// otherwise; before strokes it may be the month (common practice, no source).
func readDay(text, order string) (is day, ok, doubt bool) {
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == '-' || r == '/' || r == '.' })
	if len(parts) != 3 || !allDigits(parts) {
		return day{}, false, false
	}
	a, b, c := atoi(parts[0]), atoi(parts[1]), atoi(parts[2])
	switch {
	case len(parts[0]) == 4:
		is = day{a, b, c}
	case strings.Contains(text, "."), a > 12, order == dayMonth && b <= 12, a == b:
		is = day{c, b, a}
	case b > 12, order == monthDay:
		is = day{c, a, b}
	default:
		return day{}, false, true
	}
	if is.year < 100 && len(parts[2]) == 2 {
		is.year += 2000
	}
	t := time.Date(is.year, time.Month(is.month), is.day, 0, 0, 0, 0, time.UTC)
	return is, t.Day() == is.day && int(t.Month()) == is.month && is.year >= 2000 && is.year < 2200, false
}

func allDigits(parts []string) bool {
	for _, part := range parts {
		if len(part) > 4 || strings.Trim(part, "0123456789") != "" {
			return false
		}
	}
	return true
}

var timeText = regexp.MustCompile(`^(\d{1,2}):(\d{2})(?::(\d{2})(?:\.(\d{3}))?)? ?(?:([AaPp])\.?[Mm]\.?)?$`)

// readTime reads a time of day, by 24 hours or by twice 12.
func readTime(text string) (time.Duration, bool) {
	m := timeText.FindStringSubmatch(strings.NewReplacer("\u202f", " ", "\u00a0", " ").Replace(text))
	if m == nil {
		return 0, false
	}
	hour, min, sec, ms := atoi(m[1]), atoi(m[2]), atoi(m[3]), atoi(m[4])
	if half := strings.ToLower(m[5]); half != "" {
		if hour < 1 || hour > 12 {
			return 0, false
		}
		hour %= 12
		if half == "p" {
			hour += 12
		}
	}
	if hour > 23 || min > 59 || sec > 59 {
		return 0, false
	}
	return time.Duration(hour)*time.Hour + time.Duration(min)*time.Minute + time.Duration(sec)*time.Second + time.Duration(ms)*time.Millisecond, true
}

var clockForms = []string{"2006-01-02 15:04", "2006-01-02 15:04:05", "2006-01-02 15:04:05.000"}

func clockText(m board.Moment, offsetMin int) string {
	if m == 0 {
		return ""
	}
	form := clockForms[0]
	switch {
	case m%1000 != 0:
		form = clockForms[2]
	case m%60000 != 0:
		form = clockForms[1]
	}
	return m.Time().In(time.FixedZone("event", 60*offsetMin)).Format(form)
}
