package board

import (
	"fmt"
	"time"
)

// Moment is a time in milliseconds since 1970-01-01 UTC; 0 means none. On the
// wire it is RFC 3339 in UTC with milliseconds.
type Moment int64

const (
	second = Moment(1000)
	minute = 60 * second
	hour   = 60 * minute
)

// wireTime is RFC 3339 in UTC with milliseconds, always of one length.
const wireTime = "2006-01-02T15:04:05.000Z"

// MomentOf cuts t to whole milliseconds.
func MomentOf(t time.Time) Moment { return Moment(t.UnixMilli()) }

// Time is m as a time in UTC.
func (m Moment) Time() time.Time { return time.UnixMilli(int64(m)).UTC() }

// Add is m plus d, cut to whole milliseconds.
func (m Moment) Add(d time.Duration) Moment { return m + Moment(d.Milliseconds()) }

// Sub is the time from earlier to m.
func (m Moment) Sub(earlier Moment) time.Duration {
	return time.Duration(m-earlier) * time.Millisecond
}

// Long is a length of time as people say it: 40 s, 20 min, 3 h 20 min, 2 days 4 h.
func (m Moment) Long() string {
	two := func(n Moment, unit string, rest Moment, of string) string {
		if rest == 0 {
			return itoa(int(n)) + unit
		}
		return itoa(int(n)) + unit + " " + itoa(int(rest)) + of
	}
	switch {
	case m < 2*minute:
		return itoa(int(m/second)) + " s"
	case m < 2*hour:
		return itoa(int(m/minute)) + " min"
	case m < 48*hour:
		return two(m/hour, " h", m%hour/minute, " min")
	}
	return two(m/(24*hour), " days", m%(24*hour)/hour, " h")
}

// String is the wire form, or "" for none.
func (m Moment) String() string {
	if m == 0 {
		return ""
	}
	return m.Time().Format(wireTime)
}

// MarshalText gives the wire form, or nothing for 0.
func (m Moment) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads RFC 3339; the year must lie in 2000–2199.
func (m *Moment) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*m = 0
		return nil
	}
	t, err := time.Parse(time.RFC3339, string(text))
	if err != nil {
		return fmt.Errorf("time %q: want the form 2026-05-09T14:02:31.000Z", text)
	}
	if t.UTC().Year() < 2000 || t.UTC().Year() > 2199 {
		return fmt.Errorf("time %q: year out of range", text)
	}
	*m = MomentOf(t)
	return nil
}

// Span is a stretch of time; To is 0 while it lasts.
type Span struct {
	From Moment `json:"from"`
	To   Moment `json:"to,omitzero"`
}

// within tells whether a lies wholly inside b. A span that still lasts is taken
// to end at now.
func (span Span) within(b Span, now Moment) bool {
	return span.From >= b.From && span.end(now) <= b.end(now)
}

func (span Span) end(now Moment) Moment {
	if span.To == 0 {
		return now
	}
	return span.To
}

// coveredBy tells whether a lies inside one of spans.
func (span Span) coveredBy(spans []Span, now Moment) bool {
	for _, b := range spans {
		if span.within(b, now) {
			return true
		}
	}
	return false
}

// dayStart is the hour at which an event's day begins, in the event's own time.
const dayStart = 4

// Day names the event day that m belongs to, as 2026-05-09. A day begins at
// 04:00 in the event's time, offsetMin minutes east of UTC.
func (m Moment) Day(offsetMin int) string {
	local := m + Moment(offsetMin)*minute - dayStart*hour
	return local.Time().Format("2006-01-02")
}

// nextDay is the moment at which the event day after m's begins.
func (m Moment) nextDay(offsetMin int) Moment {
	shift := Moment(offsetMin)*minute - dayStart*hour
	day := 24 * hour
	return ((m+shift)/day+1)*day - shift
}

// Clock is a moment as people in the pit say it: 14:20, in the event's time.
func (s State) Clock(m Moment) string {
	return (m + Moment(s.Event().OffsetMin)*minute).Time().Format("15:04")
}
