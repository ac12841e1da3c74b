package team

import (
	"slices"
	"strconv"
	"strings"

	"mendline/board"
)

var eventFile = &layout{"event.csv", []column{{name: "setting", need: true}, {name: "value"}}}

// setting is one line of event.csv. A setting that may stand on several lines
// keeps their order.
type setting struct {
	name  string
	field string
	many  bool
	read  func(d *reading, w *row, e *board.EventFields)
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
	return slices.Concat(
		[]setting{
			textSetting("name", "name", func(e *board.EventFields) *string { return &e.Name }),
			wholeSetting("utc_offset_min", "offsetMin", func(e *board.EventFields) *int { return &e.OffsetMin }),
			stepSetting("activation_step", "activationOrder", func(e *board.EventFields) *[]string { return &e.ActivationOrder }),
			stepSetting("deactivation_step", "deactivationOrder", func(e *board.EventFields) *[]string { return &e.DeactivationOrder }),
			minutesSetting("spin_down_min", "spinDownSec", func(e *board.EventFields) *int { return &e.SpinDownSec }),
			wholeSetting("lead_fights", "leadFights", func(e *board.EventFields) *int { return &e.LeadFights }),
			minutesSetting("lead_min", "leadSec", func(e *board.EventFields) *int { return &e.LeadSec }),
			minutesSetting("rest_min", "restSec", func(e *board.EventFields) *int { return &e.RestSec }),
			wordSetting("rest_from", "restFrom", restFroms, func(e *board.EventFields) *board.RestEnd { return &e.RestFrom }),
			wordSetting("rest_to", "restTo", restTos, func(e *board.EventFields) *board.RestEnd { return &e.RestTo }),
			minutesSetting("postpone_min", "postponeSec", func(e *board.EventFields) *int { return &e.PostponeSec }),
			wordSetting("postpone_for", "postponeFor", postponeFors, func(e *board.EventFields) *board.PostponeFor { return &e.PostponeFor }),
			minutesSetting("fight_interval_min", "fightMeanSec", func(e *board.EventFields) *int { return &e.FightMeanSec }),
			wholeSetting("fight_interval_worth", "fightMeanWorth", func(e *board.EventFields) *int { return &e.FightMeanWorth }),
			breakSetting(),
			failsafeSetting(),
			textSetting("emergency_contact", "emergencyContact", func(e *board.EventFields) *string { return &e.EmergencyContact }),
			chargingSetting(),
			wholeSetting("attendant_most", "attendantMost", func(e *board.EventFields) *int { return &e.AttendantMost }),
			wholeSetting("tight_below", "tightBelow", func(e *board.EventFields) *int { return &e.TightBelow }),
			wholeSetting("wont_below", "wontBelow", func(e *board.EventFields) *int { return &e.WontBelow }),
			yesSetting("repairer_may_sign", "repairerMaySign", func(e *board.EventFields) *bool { return &e.RepairerMaySign }),
			minutesSetting("recheck_min", "recheckSec", func(e *board.EventFields) *int { return &e.RecheckSec }),
			yesSetting("load_in_inspection", "loadIn", func(e *board.EventFields) *bool { return &e.LoadIn }),
			yesSetting("hot_work_permit_needed", "hotWork", func(e *board.EventFields) *bool { return &e.HotWork.Needed }),
			rawSetting("hot_work_permit", "hotWork", func(e *board.EventFields) *string { return &e.HotWork.Text }),
			textSetting("hot_work_permit_by", "hotWork", func(e *board.EventFields) *string { return &e.HotWork.By }),
			permitEndSetting(),
		},
		cardSettings(),
	)
}

func textSetting(name, field string, at func(*board.EventFields) *string) setting {
	return setting{name: name, field: field,
		read:  func(_ *reading, w *row, e *board.EventFields) { *at(e) = w.text(value) },
		write: func(_ *printing, e board.EventFields) []string { return some(*at(&e)) },
	}
}

func wholeSetting(name, field string, at func(*board.EventFields) *int) setting {
	return setting{name: name, field: field,
		read:  func(_ *reading, w *row, e *board.EventFields) { *at(e) = w.whole(value) },
		write: func(_ *printing, e board.EventFields) []string { return some(strconv.Itoa(*at(&e))) },
	}
}

func minutesSetting(name, field string, at func(*board.EventFields) *int) setting {
	return setting{name: name, field: field,
		read:  func(_ *reading, w *row, e *board.EventFields) { *at(e) = w.minutes(value) },
		write: func(_ *printing, e board.EventFields) []string { return some(minutesText(*at(&e))) },
	}
}

func wordSetting[W ~string](name, field string, list []W, at func(*board.EventFields) *W) setting {
	return setting{name: name, field: field,
		read:  func(_ *reading, w *row, e *board.EventFields) { *at(e) = word(w, value, list) },
		write: func(_ *printing, e board.EventFields) []string { return some(string(*at(&e))) },
	}
}

func stepSetting(name, field string, at func(*board.EventFields) *[]string) setting {
	return setting{name: name, field: field, many: true,
		read: func(_ *reading, w *row, e *board.EventFields) {
			if step := w.text(value); step != "" {
				*at(e) = append(*at(e), step)
			}
		},
		write: func(_ *printing, e board.EventFields) []string { return *at(&e) },
	}
}

const breakMiddle = " to "

func breakSetting() setting {
	return setting{name: "break", field: "breaks", many: true,
		read: func(d *reading, w *row, e *board.EventFields) {
			text := w.text(value)
			if text == "" {
				return
			}
			from, to, _ := strings.Cut(text, breakMiddle)
			start, good := parseClock(strings.TrimSpace(from), d.offsetMin)
			end, fine := parseClock(strings.TrimSpace(to), d.offsetMin)
			if !good || !fine {
				w.wrong(value, "two times at the event such as 2026-05-09 12:00 to 2026-05-09 12:45")
				return
			}
			e.Breaks = append(e.Breaks, board.Break{From: start, To: end})
		},
		write: func(_ *printing, e board.EventFields) []string {
			var all []string
			for _, b := range e.Breaks {
				all = append(all, clockText(b.From, e.OffsetMin)+breakMiddle+clockText(b.To, e.OffsetMin))
			}
			return all
		},
	}
}

func failsafeSetting() setting {
	return setting{name: "failsafe_at", field: "failsafeAt", many: true,
		read: func(_ *reading, w *row, e *board.EventFields) {
			if at := word(w, value, failsafeAt); at != "" {
				e.FailsafeAt = append(e.FailsafeAt, at)
			}
		},
		write: func(_ *printing, e board.EventFields) []string {
			var all []string
			for _, at := range e.FailsafeAt {
				all = append(all, string(at))
			}
			return all
		},
	}
}

func chargingSetting() setting {
	return setting{name: "charging_place", field: "chargingPlaces", many: true,
		read: func(d *reading, w *row, e *board.EventFields) {
			if id := d.places.id(w, value, w.text(value)); id != "" {
				e.ChargingPlaces = append(e.ChargingPlaces, board.PlaceID(id))
			}
		},
		write: func(p *printing, e board.EventFields) []string {
			var all []string
			for _, id := range e.ChargingPlaces {
				if name := p.place(id); name != "" {
					all = append(all, name)
				}
			}
			return all
		},
	}
}

func yesSetting(name, field string, at func(*board.EventFields) *bool) setting {
	return setting{name: name, field: field,
		read:  func(_ *reading, w *row, e *board.EventFields) { *at(e) = w.yes(value) },
		write: func(_ *printing, e board.EventFields) []string { return some(yesText(*at(&e))) },
	}
}

// rawSetting is a text that may have line ends.
func rawSetting(name, field string, at func(*board.EventFields) *string) setting {
	return setting{name: name, field: field,
		read:  func(_ *reading, w *row, e *board.EventFields) { *at(e) = w.raw(value) },
		write: func(_ *printing, e board.EventFields) []string { return some(*at(&e)) },
	}
}

func permitEndSetting() setting {
	return setting{name: "hot_work_permit_until", field: "hotWork",
		read:  func(d *reading, w *row, e *board.EventFields) { e.HotWork.Until = w.clock(value, d.offsetMin) },
		write: func(_ *printing, e board.EventFields) []string { return some(clockText(e.HotWork.Until, e.OffsetMin)) },
	}
}

func cardSettings() []setting {
	return []setting{
		rawSetting("card_text", "card", func(e *board.EventFields) *string { return &e.Card.Text }),
		textSetting("card_approved_by", "card", func(e *board.EventFields) *string { return &e.Card.ApprovedBy }),
	}
}

// some is the one value of a setting, or none.
func some(text string) []string {
	if text == "" {
		return nil
	}
	return []string{text}
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
	if w := lines["utc_offset_min"]; w != nil {
		d.offsetMin = atoi(strings.TrimSpace(w.cells[value].text))
		if !validOffset(d.offsetMin) {
			d.offsetMin = 0
		}
	}
	return func() { d.addEvent(known, lines) }
}

func validOffset(min int) bool { return min >= -840 && min <= 840 }

func (d *reading) addEvent(rows []*row, lines map[string]*row) {
	var e board.EventFields
	all := settings()
	top := &row{reading: d, layout: eventFile, line: 1}
	for _, w := range rows {
		name := columnName(w.text("setting"))
		i := slices.IndexFunc(all, func(s setting) bool { return s.name == name })
		all[i].read(d, w, &e)
		top.bad = top.bad || w.bad
	}
	if lines["name"] == nil {
		if !d.faulty(eventFile) {
			d.fault(RowError{File: eventFile.file, Want: "a line that names the event: name,…"})
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
