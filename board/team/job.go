package team

import (
	"regexp"
	"slices"
	"strconv"

	"mendline/board"
)

// A row of jobs.csv is one way to do a kind of job; the rows of one job and size
// belong together.
var jobsFile = newTable("jobs.csv",
	col("job", asText, func(n *fixRow) *string { return &n.Name }).needed().as("name").
		says("the kind of job; rows of one job and size are ways to do it", "Weapon belt"),
	col("size", asWord(sizes), func(n *fixRow) *board.Size { return &n.Size }).needed().
		says("of the robots it is for", "light"),
	col("triage", asWord(triages), func(n *fixRow) *board.Triage { return &n.Triage }).needed().
		says("must: not safe or legal without it; should: will cost the fight; could: nice to have", "must"),
	col("fix", asText, func(n *fixRow) *string { return &n.fix.Name }).needed().as("fixes").
		says("the way to do it", "new belt"),
	col("way", asWord(ways), func(n *fixRow) *board.Way { return &n.fix.Way }).needed().
		says("what kind of way; a patch leaves something weak", "patch"),
	col("likely_min", asMinutes, func(n *fixRow) *int { return &n.fix.LikelySec }).needed().
		says("half of such jobs are done by then", "3"),
	col("bad_min", asMinutes, func(n *fixRow) *int { return &n.fix.BadSec }).needed().
		says("nine in ten are done by then", "8"),
	col("hands", asWords(skills), func(n *fixRow) *[]board.Skill { return &n.fix.Hands }).needed().
		says("a skill for each pair of hands", "mechanical; any"),
	col("station", asWord(stationKinds), func(n *fixRow) *board.StationKind { return &n.fix.Station }).needed().
		says("where it is done", "bench"),
	col("where", asWord(wheres), func(n *fixRow) *board.Where { return &n.fix.Where }).needed().
		says("in: on the robot; off: on a part beside it; whole: it takes the whole robot", "in"),
	col("spares", asNeeds, func(n *fixRow) *[]board.Need { return &n.fix.Stock }).
		says("what it uses up", "belt B2 x1"),
	col("touches", asWords(systems), func(n *fixRow) *[]board.System { return &n.fix.Touches }).
		says("what is to be checked again after it", "weapon; lock"),
	col("lockout", asYes, func(n *fixRow) *bool { return &n.fix.Lockout }).
		says("the robot is locked out while it lasts; blank is no", "yes"),
	col("pack_out", asYes, func(n *fixRow) *bool { return &n.fix.PackOut }).
		says("the packs are out while it lasts; blank is no", "yes"),
	col("limits", asText, func(n *fixRow) *string { return &n.fix.Limits }).
		says("what a patch leaves weak", "one fight at half speed"),
	col("works_pct", asSome, func(n *fixRow) *int { return &n.fix.WorksPct }).
		says("of 100 such patches, how many hold", "60"),
)

type fixRow struct {
	board.TemplateFields
	fix board.Fix
}

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
	for _, w := range d.rows(jobsFile.layout) {
		n := jobsFile.read(w)
		checkFix(w, n.fix)
		f, fix := n.TemplateFields, n.fix
		key := string(f.Size) + " " + board.Folded(f.Name)
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

// checkFix refuses a row whose cells do not go together.
func checkFix(w *row, fix board.Fix) {
	switch {
	case w.bad:
	case fix.LikelySec == 0:
		w.wrong("likely_min", "more than 0 minutes: half of such jobs are done by then")
	case fix.BadSec < fix.LikelySec:
		w.wrong("bad_min", "no less than likely_min, "+minutesText(fix.LikelySec)+": nine in ten of such jobs are done by then")
	case fix.Way == board.WayPatch && fix.Limits == "":
		w.wrong("limits", "what the patch leaves weak")
	}
}

var asNeeds = form[[]board.Need]{"spares with how many of each, a semicolon between them", needs, (*printing).needs}

var needText = regexp.MustCompile(`^(.+?)\s+[xX×]\s?(\d{1,4})$`)

// needs reads spares with how many pieces: "belt B2 x1; bolt M5 x12".
func needs(w *row, column string) []board.Need {
	var all []board.Need
	for _, text := range w.list(column) {
		m := needText.FindStringSubmatch(text)
		if m == nil {
			w.wrong(column, "spares with how many of each, such as belt B2 x1; bolt M5 x12")
			continue
		}
		all = append(all, board.Need{Stock: board.StockID(w.reading.stocks.id(w, column, m[1])), Count: atoi(m[2])})
	}
	return all
}

func (p *printing) jobs() [][]string {
	var all []fixRow
	for _, n := range live(p.state.Templates, func(n board.Template) (string, bool) { return n.Name + " " + string(n.Size), n.Retired }) {
		for _, fix := range n.Fixes {
			all = append(all, fixRow{n.TemplateFields, fix})
		}
	}
	return jobsFile.rows(p, all)
}

func (p *printing) needs(all []board.Need) string {
	var parts []string
	for _, need := range all {
		parts = append(parts, p.state.Stocks[need.Stock].Name+" x"+strconv.Itoa(need.Count))
	}
	return listText(parts)
}
