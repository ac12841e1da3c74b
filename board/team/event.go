package team

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"mendline/board"
)

var eventFile = &layout{file: "event.csv", most: rowsMost, heads: []head{{name: "setting", need: true}, {name: "value"}}}

// setting is one line of event.csv. A setting that may stand on several lines
// keeps their order.
type setting struct {
	name  string
	field string
	many  bool
	first bool
	kind  string
	means string
	like  string
	read  func(w *row, e *board.EventFields)
	write func(p *printing, e board.EventFields) []string
}

const value = "value"

var (
	restFroms = []board.RestEnd{board.RestMatchEnd, board.RestLeftArena, board.RestAtBench}
	restTos   = []board.RestEnd{board.RestCall, board.RestStart}

	postponeFors = []board.PostponeFor{board.PostponeTeam, board.PostponeRobot}
	failsafeAt   = []board.FailsafePlace{board.FailsafeTestBox, board.FailsafeArena, board.FailsafeOfficials}
)

// settings lists the lines of event.csv in the order in which they are written.
func settings() []setting {
	return []setting{
		one("name", "name", asText, func(e *board.EventFields) *string { return &e.Name }).
			says("what the event is called", "Small Open"),
		one("utc_offset_min", "offsetMin", asWhole, func(e *board.EventFields) *int { return &e.OffsetMin }).
			says("minutes that its clocks are ahead of UTC; 60 for UTC+1, -300 for UTC-5", "60"),
		told(dateOrder, asWord([]string{dayMonth, monthDay}), func(d *reading) *string { return &d.order }).
			says("which comes first in dates such as 11/12/2026", "day-month"),
		told(theDate, asDay, func(d *reading) *day { return &d.day }).
			says("the day of times that have none", "2026-05-09"),
		one("currency", "currency", asText, func(e *board.EventFields) *string { return &e.Currency }).
			says("what money is in", "crowns"),
		several("activation_step", "activationOrder", asText, func(e *board.EventFields) *[]string { return &e.ActivationOrder }).
			says("a line for each step to switch a robot on, in the event's order", "Place it"),
		several("deactivation_step", "deactivationOrder", asText, func(e *board.EventFields) *[]string { return &e.DeactivationOrder }).
			says("a line for each step to switch it off", "Weapon power off"),
		one("spin_down_min", "spinDownSec", asMinutes, func(e *board.EventFields) *int { return &e.SpinDownSec }).
			says("the longest a weapon may take to stop", "1"),
		one("lead_fights", "leadFights", asWhole, func(e *board.EventFields) *int { return &e.LeadFights }).
			says("how many fights before its own a robot must be at staging", "2"),
		one("lead_min", "leadSec", asMinutes, func(e *board.EventFields) *int { return &e.LeadSec }).
			says("and how long before that", "3"),
		one("rest_min", "restSec", asMinutes, func(e *board.EventFields) *int { return &e.RestSec }).
			says("the rest that the event promises between two fights of one robot", "20"),
		one("rest_from", "restFrom", asWord(restFroms), func(e *board.EventFields) *board.RestEnd { return &e.RestFrom }).
			says("from when that counts", "match-end"),
		one("rest_to", "restTo", asWord(restTos), func(e *board.EventFields) *board.RestEnd { return &e.RestTo }).
			says("till when that counts", "call"),
		one("postpone_min", "postponeSec", asMinutes, func(e *board.EventFields) *int { return &e.PostponeSec }).
			says("how long the one postponement a day is", "10"),
		one("postpone_for", "postponeFor", asWord(postponeFors), func(e *board.EventFields) *board.PostponeFor { return &e.PostponeFor }).
			says("who shares it; blank is the team", "team"),
		one("fight_interval_min", "fightMeanSec", asMinutes, func(e *board.EventFields) *int { return &e.FightMeanSec }).
			says("a guess of the time from one fight's start to the next", "6"),
		one("fight_interval_worth", "fightMeanWorth", asWhole, func(e *board.EventFields) *int { return &e.FightMeanWorth }).
			says("how many fights seen that guess is worth", "4"),
		several("break", "breaks", asBreak, func(e *board.EventFields) *[]board.Break { return &e.Breaks }).
			says("a line for each break of the running order", "2026-05-09 12:00 to 2026-05-09 12:45"),
		several("failsafe_at", "failsafeAt", asWord(failsafeAt), func(e *board.EventFields) *[]board.FailsafePlace { return &e.FailsafeAt }).
			says("a line for each place where the failsafe may be proven", "test-box"),
		one("emergency_contact", "emergencyContact", asText, func(e *board.EventFields) *string { return &e.EmergencyContact }).
			says("whom to reach, as the event says", "Hall steward, green sash"),
		several("charging_place", "chargingPlaces", asPlace, func(e *board.EventFields) *[]board.PlaceID { return &e.ChargingPlaces }).
			says("a line for each place where packs may be charged", "Charging table"),
		one("attendant_most", "attendantMost", asWhole, func(e *board.EventFields) *int { return &e.AttendantMost }).
			says("how many charges one person may attend", "4"),
		one("tight_below", "tightBelow", asWhole, func(e *board.EventFields) *int { return &e.TightBelow }).
			says("a call met on fewer than so many of 10 days is tight; blank is 9", "9"),
		one("wont_below", "wontBelow", asWhole, func(e *board.EventFields) *int { return &e.WontBelow }).
			says("and on fewer than so many it won't finish; blank is 5", "5"),
		one("repairer_may_sign", "repairerMaySign", asYes, func(e *board.EventFields) *bool { return &e.RepairerMaySign }).
			says("who repaired may sign too; blank is no", "no"),
		one("minors_drive", "minorsDrive", asYes, func(e *board.EventFields) *bool { return &e.MinorsDrive }).
			says("the event lets minors drive; blank is no", "no"),
		one("recheck_min", "recheckSec", asMinutes, func(e *board.EventFields) *int { return &e.RecheckSec }).
			says("how long an answer about gas or capacitors holds while people work; blank is the usual", "10"),
		one("load_in_inspection", "loadIn", asYes, func(e *board.EventFields) *bool { return &e.LoadIn }).
			says("the event looks at robots as they arrive; blank is no", "yes"),
		one("hot_work_permit_needed", "hotWork", asYes, func(e *board.EventFields) *bool { return &e.HotWork.Needed }).
			says("the venue asks for a permit to grind or weld; blank is no", "yes"),
		one("hot_work_permit", "hotWork", asRaw, func(e *board.EventFields) *string { return &e.HotWork.Text }).
			says("what the permit says", "Behind the hall, with a fire watch"),
		one("hot_work_permit_by", "hotWork", asText, func(e *board.EventFields) *string { return &e.HotWork.By }).
			says("who gave it", "hall keeper"),
		one("hot_work_permit_until", "hotWork", asClock, func(e *board.EventFields) *board.Moment { return &e.HotWork.Until }).
			says("when it ends", "2026-05-09 18:00"),
		one("card_text", "card", asRaw, func(e *board.EventFields) *string { return &e.Card.Text }).
			says("what to do in an emergency, as the officials approved it", "Shout and step back."),
		one("card_approved_by", "card", asText, func(e *board.EventFields) *string { return &e.Card.ApprovedBy }).
			says("the official who approved it", "A. Steward"),
	}
}

// says tells people what its value is, with an example.
func (s setting) says(means, like string) setting { s.means, s.like = means, like; return s }

// one is a setting that stands on one line at most.
func one[T any](name, field string, in form[T], at func(*board.EventFields) *T) setting {
	return setting{name: name, field: field, kind: in.kind,
		read: func(w *row, e *board.EventFields) { *at(e) = in.read(w, value) },
		write: func(p *printing, e board.EventFields) []string {
			if text := in.write(p, *at(&e)); text != "" {
				return []string{text}
			}
			return nil
		},
	}
}

// told is a setting that says how the rest of the folder is read, and is read before it.
func told[T any](name string, in form[T], at func(*reading) *T) setting {
	return setting{name: name, first: true, kind: in.kind,
		read:  func(w *row, _ *board.EventFields) { *at(w.reading) = in.read(w, value) },
		write: func(*printing, board.EventFields) []string { return nil },
	}
}

// several is a setting with a line for each of its values.
func several[T comparable](name, field string, in form[T], at func(*board.EventFields) *[]T) setting {
	return setting{name: name, field: field, many: true, kind: in.kind,
		read: func(w *row, e *board.EventFields) {
			var none T
			if v := in.read(w, value); v != none {
				*at(e) = append(*at(e), v)
			}
		},
		write: func(p *printing, e board.EventFields) []string {
			var all []string
			for _, v := range *at(&e) {
				if text := in.write(p, v); text != "" {
					all = append(all, text)
				}
			}
			return all
		},
	}
}

const breakMiddle = " to "

var asBreak = form[board.Break]{
	"two times at the event",
	func(w *row, column string) board.Break {
		text := w.text(column)
		if text == "" {
			return board.Break{}
		}
		const want = "two times at the event such as 2026-05-09 12:00 to 2026-05-09 12:45"
		from, to, _ := strings.Cut(text, breakMiddle)
		date, starts := splitClock(strings.TrimSpace(from))
		till, ends := splitClock(strings.TrimSpace(to))
		start := w.moment(column, date, starts, want)
		if start == 0 {
			return board.Break{}
		}
		return board.Break{From: start, To: w.moment(column, cmp.Or(till, date), ends, want)}
	},
	func(p *printing, b board.Break) string {
		return asClock.write(p, b.From) + breakMiddle + asClock.write(p, b.To)
	},
}

// readEvent reads the offset of the event's time, which other files need, and
// gives what reads the rest once the places are known.
func (d *reading) readEvent() func() {
	rows := d.rows(eventFile)
	all := settings()
	lines := map[string]*row{}
	var names []string
	for _, s := range all {
		names = append(names, s.name)
	}
	var known []*row
	for _, w := range rows {
		name := columnName(w.text("setting"))
		i := slices.Index(names, name)
		switch first := lines[name]; {
		case name == "":
		case i < 0:
			w.wrong("setting", "a setting of the event"+didYouMean(name, names)+"; they are "+strings.Join(names, ", "))
		case first != nil && !all[i].many:
			w.wrong("setting", "each setting once; line "+strconv.Itoa(first.line)+" has it already")
		default:
			lines[name] = w
			known = append(known, w)
		}
	}
	for _, s := range all {
		if lines[s.name] == nil && (s.first || !d.ownEvent()) && d.said[s.name] != "" {
			w := &row{reading: d, layout: eventFile, cells: map[string]cell{"setting": {text: s.name}, value: {text: d.said[s.name]}}}
			lines[s.name] = w
			known = append(known, w)
		}
		if w := lines[s.name]; w != nil && s.first {
			s.read(w, nil)
		}
	}
	if d.ownEvent() {
		d.offsetMin = d.on.Event().OffsetMin
	}
	if w := lines["utc_offset_min"]; w != nil {
		d.offsetMin = atoi(strings.TrimSpace(w.cells[value].text))
		if !validOffset(d.offsetMin) {
			d.offsetMin = 0
		}
	}
	return func() { d.addEvent(known, lines) }
}

var asDay = form[day]{
	kind: "date",
	read: func(w *row, column string) day {
		text := w.text(column)
		if text == "" {
			return day{}
		}
		is, ok, doubt := readDay(text, w.reading.order)
		switch {
		case doubt:
			w.ask(column, dateOrder, orderWant)
		case !ok:
			w.wrong(column, "a date such as 2026-05-09")
		}
		return is
	},
}

func validOffset(min int) bool { return min >= -840 && min <= 840 }

// ownEvent tells that the board's event stands, as the folder tells of none.
func (d *reading) ownEvent() bool {
	_, there := d.tables[eventFile.file]
	return !there && d.on.Event().Name != ""
}

func (d *reading) addEvent(rows []*row, lines map[string]*row) {
	if d.ownEvent() {
		return
	}
	var e board.EventFields
	all := settings()
	top := &row{reading: d, layout: eventFile, line: 1}
	for _, w := range rows {
		name := columnName(w.text("setting"))
		i := slices.IndexFunc(all, func(s setting) bool { return s.name == name })
		if !all[i].first {
			all[i].read(w, &e)
		}
		top.bad = top.bad || w.bad
	}
	if w := lines["name"]; w == nil || w.said(value) == "" {
		if !d.faulty(eventFile) {
			want := "a line that names the event: name,…"
			if _, there := d.tables[eventFile.file]; !there {
				want = "this file, which is missing: a team folder names its event in it, with the lines setting,value and name,…"
			}
			d.fault(RowError{File: eventFile.file, Ask: "name", Want: want})
		}
		top.bad = true
	}
	d.eventRows = rows
	d.add(board.Event{EventFields: e}, top)
}

// eventRow is the row of event.csv that the board's refusal of a field is about.
func (d *reading) eventRow(field string) *row {
	for _, s := range settings() {
		if s.field != field {
			continue
		}
		for _, w := range d.eventRows {
			if columnName(w.text("setting")) == s.name {
				return w
			}
		}
	}
	return nil
}

func (p *printing) event() [][]string {
	e := p.state.Event().EventFields
	var rows [][]string
	for _, s := range settings() {
		for _, text := range s.write(p, e) {
			rows = append(rows, []string{s.name, text})
		}
	}
	return rows
}
