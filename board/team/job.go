package team

import (
	"regexp"
	"slices"
	"strconv"

	"mendline/board"
)

// A row of jobs.csv is one way to do a kind of job; the rows of one job and size
// belong together.
var jobsFile = &layout{"jobs.csv", []column{
	{name: "job", need: true, field: "name"}, {name: "size", need: true}, {name: "triage", need: true},
	{name: "fix", need: true, field: "fixes"}, {name: "way", need: true}, {name: "likely_min", need: true}, {name: "bad_min", need: true},
	{name: "hands", need: true}, {name: "station", need: true}, {name: "where", need: true},
	{name: "spares"}, {name: "touches"}, {name: "lockout"}, {name: "pack_out"}, {name: "limits"}, {name: "works_pct"},
}}

var (
	triages = []board.Triage{board.Must, board.Should, board.Could}
	ways    = []board.Way{board.WaySwap, board.WayMend, board.WayPatch, board.WayCheck}
	wheres  = []board.Where{board.AtRobot, board.OffRobot, board.AllRobot}
	systems = []board.System{
		board.SysLock, board.SysLink, board.SysLight, board.SysRadio, board.SysWeapon,
		board.SysDrive, board.SysPack, board.SysStructure, board.SysMass,
	}
)

func (d *reading) readJobs() {
	places := map[string]int{}
	for _, w := range d.rows(jobsFile) {
		f := board.TemplateFields{Name: w.text("job"), Size: word(w, "size", sizes), Triage: word(w, "triage", triages)}
		fix := d.fix(w)
		key := string(f.Size) + " " + fold(f.Name)
		at, there := places[key]
		if !there {
			places[key] = len(d.entries)
			f.Fixes = []board.Fix{fix}
			d.addJob(f, []*row{w})
			continue
		}
		first := d.entries[at]
		m := first.noun.(board.Template).TemplateFields
		if f.Triage != m.Triage && f.Triage != "" && m.Triage != "" {
			w.wrong("triage", string(m.Triage)+", as line "+strconv.Itoa(first.row.line)+" has it for the same job and size")
		}
		m.Fixes = append(slices.Clone(m.Fixes), fix)
		d.entries[at] = templateEntry(first.noun.(board.Template).ID, m, append(slices.Clone(first.parts), w))
	}
}

func (d *reading) addJob(f board.TemplateFields, rows []*row) {
	id := board.TemplateID(d.id(board.KindTemplate, string(f.Size)+" "+f.Name))
	d.entries = append(d.entries, templateEntry(id, f, rows))
}

func templateEntry(id board.TemplateID, f board.TemplateFields, rows []*row) entry {
	return entry{
		noun: board.Template{ID: id, TemplateFields: f}, row: rows[0], field: "fixes", parts: rows,
		only: func(k int) board.Noun {
			one := f
			one.Fixes = f.Fixes[k : k+1]
			return board.Template{ID: id, TemplateFields: one}
		},
	}
}

func (d *reading) fix(w *row) board.Fix {
	fix := board.Fix{
		Name: w.text("fix"), Way: word(w, "way", ways), LikelySec: w.minutes("likely_min"), BadSec: w.minutes("bad_min"),
		Hands: words(w, "hands", skills), Station: word(w, "station", stationKinds), Where: word(w, "where", wheres),
		Stock: d.needs(w), Touches: words(w, "touches", systems), Lockout: w.yes("lockout"), PackOut: w.yes("pack_out"), Limits: w.text("limits"), WorksPct: w.whole("works_pct"),
	}
	switch {
	case w.bad:
	case fix.LikelySec == 0:
		w.wrong("likely_min", "more than 0 minutes: half of such jobs are done by then")
	case fix.BadSec < fix.LikelySec:
		w.wrong("bad_min", "no less than likely_min, "+minutesText(fix.LikelySec)+": nine in ten of such jobs are done by then")
	case fix.Way == board.WayPatch && fix.Limits == "":
		w.wrong("limits", "what the patch leaves weak")
	}
	return fix
}

var needText = regexp.MustCompile(`^(.+?)\s+[xX×]\s?(\d{1,4})$`)

// needs reads spares with how many pieces: "belt B2 x1; bolt M5 x12".
func (d *reading) needs(w *row) []board.Need {
	var all []board.Need
	for _, text := range w.list("spares") {
		m := needText.FindStringSubmatch(text)
		if m == nil {
			w.wrong("spares", "spares with how many of each, such as belt B2 x1; bolt M5 x12")
			continue
		}
		all = append(all, board.Need{Stock: board.StockID(d.stocks.id(w, "spares", m[1])), Count: atoi(m[2])})
	}
	return all
}

func (p *printing) jobs() [][]string {
	order := func(n board.Template) (string, bool) { return n.Name + " " + string(n.Size), n.Retired }
	var rows [][]string
	for _, n := range live(p.state.Templates, order) {
		for _, fix := range n.Fixes {
			rows = append(rows, []string{
				n.Name, string(n.Size), string(n.Triage), fix.Name, string(fix.Way), minutesText(fix.LikelySec), minutesText(fix.BadSec),
				listText(fix.Hands), string(fix.Station), string(fix.Where), p.needs(fix.Stock), listText(fix.Touches),
				yesText(fix.Lockout), yesText(fix.PackOut), fix.Limits, blankZero(fix.WorksPct),
			})
		}
	}
	return rows
}

func (p *printing) needs(all []board.Need) string {
	var parts []string
	for _, need := range all {
		parts = append(parts, p.state.Stocks[need.Stock].Name+" x"+strconv.Itoa(need.Count))
	}
	return listText(parts)
}
