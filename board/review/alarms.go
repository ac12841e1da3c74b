package review

import (
	"cmp"
	"maps"
	"slices"

	"mendline/board"
)

// Alarm is one that the board shows.
type Alarm struct {
	// ID is its name as long as it lasts, Class A, B or C.
	ID    string
	Class string
	Robot board.RobotID
	// Who is to act, by name; "" for everyone.
	Who string
}

// Alarms says how often alarms rose, as one who looks at the board every StepSec
// seconds would have counted: one that comes and goes between
// two looks is not in it, and one that comes back within a minute is the same.
type Alarms struct {
	StepSec int          `json:"stepSec"`
	People  []AlarmsOf   `json:"people"`
	Classes []ClassShare `json:"classes"`
	// Targets are what EEMUA 191 asks, to compare with.
	Targets Targets `json:"targets"`
}

// AlarmsOf is one person's share.
type AlarmsOf struct {
	Who   string `json:"who"`
	Total int    `json:"total"`
	// Most is the greatest number in any 10 minutes, MostAt when they began; Mean is
	// per 10 minutes over the time that the journal covers.
	Most   int          `json:"most"`
	MostAt board.Moment `json:"mostAt"`
	Mean   float64      `json:"mean"`
}

// ClassShare is how many alarms were of a class.
type ClassShare struct {
	Class string `json:"class"`
	Count int    `json:"count"`
	// Percent is its share, Target what is aimed at.
	Percent int `json:"percent"`
	Target  int `json:"target"`
}

// Targets of alarm rates. Source: EEMUA Publication 191, Alarm systems: a guide to
// design, management and procurement (from memory), for one operator: about 1 alarm in
// 10 minutes is very likely acceptable, 10 in 10 minutes are a flood; about 5 % high, 15 %
// medium, 80 % low.
type Targets struct {
	Mean  float64 `json:"mean"`
	Flood int     `json:"flood"`
}

var (
	targets = Targets{Mean: 1, Flood: 10}
	shares  = []ClassShare{{Class: "A", Target: 5}, {Class: "B", Target: 15}, {Class: "C", Target: 80}}
)

const (
	windowMs = 10 * 60_000
	// offMs is how long an alarm must be gone before it counts again: the off-delay
	// of 60 s that the board's alarms have (our decision).
	offMs = 60_000
	// lookMs is how far apart looks are.
	lookMs = 60_000
	// idleMs is how long after a change time alone is still looked at.
	idleMs = 60 * 60_000
)

type rise struct {
	at    board.Moment
	who   string
	class string
	robot board.RobotID
}

type alarmCount struct {
	alarmsAt func(board.State, board.Moment) []Alarm
	// from is the first line's moment, to the last look's, next the next look's.
	from, to, next board.Moment
	seen           map[string]board.Moment
	rises          []rise
}

func newAlarmCount(alarmsAt func(board.State, board.Moment) []Alarm) *alarmCount {
	return &alarmCount{alarmsAt: alarmsAt, seen: map[string]board.Moment{}}
}

// until looks at the board again and again up to a moment, as the journal's last
// line left it, but not for longer than an hour in which nothing changes.
func (c *alarmCount) until(w *walk, at board.Moment) {
	if c.from == 0 {
		c.from, c.to, c.next = at, at, at
	}
	for idle := c.next + idleMs; c.next < at; c.next += lookMs {
		if c.next >= idle {
			c.next = at
			return
		}
		c.look(w.latest(), c.next)
	}
}

func (c *alarmCount) look(s board.State, at board.Moment) {
	c.to = at
	for _, a := range c.alarmsAt(s, at) {
		last, known := c.seen[a.ID]
		c.seen[a.ID] = at
		if !known || at-last > max(offMs, lookMs) {
			c.rises = append(c.rises, rise{at: at, who: a.Who, class: a.Class, robot: a.Robot})
		}
	}
}

func (c *alarmCount) measured() Alarms {
	m := Alarms{StepSec: lookMs / 1000, People: []AlarmsOf{}, Classes: slices.Clone(shares), Targets: targets}
	of := map[string][]board.Moment{}
	for _, r := range c.rises {
		who := cmp.Or(r.who, "everyone")
		of[who] = append(of[who], r.at)
		for i := range m.Classes {
			if m.Classes[i].Class == r.class {
				m.Classes[i].Count++
			}
		}
	}
	for i := range m.Classes {
		if len(c.rises) > 0 {
			m.Classes[i].Percent = (100*m.Classes[i].Count + len(c.rises)/2) / len(c.rises)
		}
	}
	windows := max(1, float64(c.to-c.from)/windowMs)
	for _, who := range slices.Sorted(maps.Keys(of)) {
		most, when := busiest(of[who])
		m.People = append(m.People, AlarmsOf{Who: who, Total: len(of[who]), Most: most, MostAt: when, Mean: float64(len(of[who])) / windows})
	}
	return m
}

// busiest finds the 10 minutes with the most moments, which are in order, and
// when they began.
func busiest(at []board.Moment) (most int, when board.Moment) {
	first := 0
	for i, m := range at {
		for m-at[first] >= windowMs {
			first++
		}
		if n := i - first + 1; n > most {
			most, when = n, at[first]
		}
	}
	return most, when
}
