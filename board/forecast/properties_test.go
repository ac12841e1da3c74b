package forecast_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/forecast"
	"mendline/board/plan"
)

// day is a team with chance deciding what it does.
type day struct {
	*pit
	rt     *rapid.T
	people []board.PersonID
	robots []board.RobotID
	places []board.PlaceID
	stocks []board.StockID
	packs  []board.PackID
	supply
}

func newDay(t *testing.T, rt *rapid.T) *day {
	d := &day{pit: newPit(t), rt: rt}
	d.station("bench", board.StationBench, 2)
	d.station("grinder", board.StationGrind, 1)
	for _, k := range []board.PlaceKind{board.PlaceArena, board.PlaceTestBox, board.PlaceWatch} {
		d.places = append(d.places, d.place(string(k), k))
	}
	d.people = []board.PersonID{
		d.person("Ada", board.SkillMechanical), d.person("Ben", board.SkillElectrical, board.SkillMechanical),
		board.PersonID(d.made(board.KindPerson, board.PersonAdd{PersonFields: board.PersonFields{Name: "Kim", Role: board.RoleCrew, Minor: true}}, captain)),
	}
	d.robots = []board.RobotID{d.heavy("Bramble", 1, d.people[0]), d.light("Sprat", 2, d.people[1])}
	d.stocks = []board.StockID{d.stock("belt", 1), d.stock("blade", 0)}
	for i, r := range d.robots {
		d.packs = append(d.packs, d.pack(fmt.Sprintf("P%d", 2*i), r), d.pack(fmt.Sprintf("P%d", 2*i+1), r))
	}
	d.supplied()
	return d
}

func pick[T any](d *day, what string, list []T) T { return rapid.SampledFrom(list).Draw(d.rt, what) }

func some[ID ~string, N any](d *day, what string, table map[ID]N) ID {
	ids := []ID{""}
	for id := range table {
		ids = append(ids, id)
	}
	return pick(d, what, sortedIDs(ids))
}

func sortedIDs[ID ~string](ids []ID) []ID {
	for i := range ids {
		for k := i; k > 0 && ids[k] < ids[k-1]; k-- {
			ids[k], ids[k-1] = ids[k-1], ids[k]
		}
	}
	return ids
}

// once gives one command, which the board may refuse.
func (d *day) once() {
	d.wait(time.Duration(pick(d, "seconds", []int{0, 3, 60, 400})) * time.Second)
	who, r := pick(d, "person", d.people), pick(d, "robot", d.robots)
	by := pick(d, "actor", []board.Actor{as(who), as(who), captain})
	switch pick(d, "do", []string{"line", "line", "tag", "off", "job", "job", "begin", "finish", "hold", "fight", "now", "end", "power", "pack", "event", "hands", "packs", "packs", "supply", "follow", "damage"}) {
	case "damage":
		d.try(board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "hub", Grade: pick(d, "grade", []board.Grade{board.G1, board.G3, board.GX})}}, by)
	case "line":
		for _, list := range []board.SheetList{board.ListMakeSafe, board.ListFirstIn, board.ListInspect, board.ListCloseUp, board.ListReady, board.ListReopen} {
			if sheet, ok := d.s.Sheet(r, list); ok && sheet.State == board.SheetOpen {
				l, _ := sheet.OpenLine()
				a := boardtest.AnswerTo(d.s, sheet, l, who)
				a.Said = pick(d, "said", []board.Said{board.SaidDone, board.SaidDone, board.SaidDone, board.SaidNo, board.SaidSuspect})
				d.try(a, by)
			}
		}
	case "tag":
		d.try(board.TagOn{Robot: r}, as(who))
	case "hands":
		d.try(board.HandsOn{Robot: r}, as(who))
	case "off":
		for _, tag := range d.s.Tags {
			if tag.Person == who {
				d.try(board.TagOff{Tag: tag.ID}, as(who))
				break
			}
		}
	case "job":
		d.try(board.JobAdd{JobFields: d.work(r)}, by)
	case "begin":
		j := some(d, "job", d.s.Jobs)
		d.try(board.JobAssign{Job: j, People: []board.PersonID{who}}, by)
		d.try(board.JobStart{Job: j}, as(who))
		d.try(board.JobResume{Job: j}, as(who))
	case "finish":
		d.try(board.JobFinish{Job: some(d, "job", d.s.Jobs)}, as(who))
	case "hold":
		d.try(board.JobHold{Job: some(d, "job", d.s.Jobs), Why: pick(d, "why", []board.HoldWhy{board.HoldPart, board.HoldClock})}, as(who))
	case "fight":
		f := board.FightFields{Robot: r, Arena: pick(d, "arena", []string{"A", "B"}), Number: rapid.IntRange(1, 30).Draw(d.rt, "number")}
		if after := some(d, "after", d.s.Fights); after != "" {
			f.After, f.If = after, pick(d, "if", []board.Result{board.Won, board.Lost})
		} else if rapid.Bool().Draw(d.rt, "timetable") {
			f.NotBefore = d.now.Add(time.Duration(rapid.IntRange(-60, 200).Draw(d.rt, "minutes")) * time.Minute)
		}
		d.try(board.FightAdd{FightFields: f}, captain)
	case "now":
		d.try(board.FightNow{Arena: pick(d, "arena", []string{"A", "B", "C"}), Number: rapid.IntRange(1, 30).Draw(d.rt, "number")}, captain)
	case "end":
		d.try(board.FightEnd{Fight: some(d, "fight", d.s.Fights), Result: pick(d, "result", []board.Result{board.Won, board.Lost, board.Drawn, board.Forfeited})}, captain)
	case "power":
		d.power(r)
	case "packs":
		d.onPacks(who, r)
	case "supply":
		d.onSupply(r)
	case "follow":
		d.follow(forecast.Make(d.s, d.now, 7, 40))
	case "pack":
		p := pick(d, "pack", d.packs)
		d.try(board.PackRead{Pack: p, CellVolts: []float64{4.2, 4.2, 4.2, 4.2}, Charged: rapid.Bool().Draw(d.rt, "charged")}, captain)
		d.try(board.PackMove{Pack: p, Robot: pick(d, "in", []board.RobotID{r, ""}), Place: "", Found: true}, captain)
	case "event":
		e := d.s.Event().EventFields
		e.RestSec, e.RestTo = 600*rapid.IntRange(0, 4).Draw(d.rt, "rest"), pick(d, "to", []board.RestEnd{board.RestCall, board.RestStart})
		e.FightMeanSec = 100 * rapid.IntRange(0, 6).Draw(d.rt, "mean")
		e.Breaks = []board.Break{{From: d.now, To: d.now.Add(30 * time.Minute)}}
		d.try(board.EventSet{EventFields: e}, captain)
	}
}

func (d *day) power(r board.RobotID) {
	switch pick(d, "power", []string{"close", "reopen", "live", "test", "doubt", "start"}) {
	case "close":
		d.try(board.RobotCloseUp{Robot: r}, captain)
	case "reopen":
		d.try(board.RobotReopen{Robot: r}, captain)
	case "live":
		d.try(board.RobotLive{Robot: r, Place: d.places[0]}, captain)
	case "test":
		d.try(board.RobotTest{Robot: r, What: "drive", Place: d.places[1], Minutes: 5}, captain)
	case "doubt":
		d.try(board.RobotDoubt{Robot: r, Why: "smoke"}, captain)
	case "start":
		d.try(board.BoardStart{Why: "started again"}, board.Itself())
	}
}

func (d *day) work(r board.RobotID) board.JobFields {
	f := board.JobFields{Robot: r, Name: "work", Triage: pick(d, "triage", []board.Triage{board.Must, board.Should, board.Could})}
	for range rapid.IntRange(1, 3).Draw(d.rt, "fixes") {
		likely := rapid.IntRange(1, 40).Draw(d.rt, "likely")
		x := fix(likely, likely*rapid.IntRange(1, 4).Draw(d.rt, "bad"), pick(d, "skill", []board.Skill{board.SkillMechanical, board.SkillElectrical, board.SkillWeld, board.SkillAny}))
		if rapid.Bool().Draw(d.rt, "two") {
			x.Hands = append(x.Hands, board.SkillAny)
		}
		x.Where = pick(d, "where", []board.Where{board.AtRobot, board.OffRobot, board.AllRobot})
		x.Station = pick(d, "station", []board.StationKind{board.StationBench, board.StationGrind, board.StationWeld, board.StationNone})
		x.Lockout, x.PackOut = rapid.Bool().Draw(d.rt, "lockout"), rapid.Bool().Draw(d.rt, "packOut")
		if rapid.Bool().Draw(d.rt, "spare") {
			x = using(x, pick(d, "stock", d.stocks))
		}
		f.Fixes = append(f.Fixes, x)
	}
	for id, j := range d.s.Jobs {
		if j.Robot == r && j.Number == len(d.s.Jobs) {
			f.After = []board.JobID{id}
		}
	}
	return f
}

func TestWhateverHappensTheForecastKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := newDay(t, rt)
		for range rapid.IntRange(5, 60).Draw(rt, "commands") {
			d.once()
		}
		f := forecast.Make(d.s, d.now, 7, 40)
		require.Equal(rt, f.Entries(), forecast.Make(d.s, d.now, 7, 40).Entries(), "the same board, moment and seed")
		d.allAreCounted(f)
		d.packsGoTogether(f)
		d.chargesKeepTheirLimits(f)
		d.remediesAreTaken(f)
		d.follow(f)
		d.toldAnew()
		d.noLockoutJobBeforeTheOverheads(f)
		d.movesAreTaken(forecast.Make(d.s, d.now, 7, 40))
		minutesAreWhole(rt, f)
		for _, a := range f.Alarms {
			require.NotEmpty(rt, a.Act)
			require.NotEmpty(rt, a.Slug)
		}
		for _, c := range f.Calls {
			require.Equal(rt, c.Flag == forecast.FlagNone, c.Cause.Kind == forecast.NoCause, "%+v", c)
			require.GreaterOrEqual(rt, c.HandsOnSec, 0)
			require.True(rt, c.CallAt.Early <= c.CallAt.Median && c.CallAt.Median <= c.CallAt.Late, "%+v", c)
		}
		for _, p := range f.Plans {
			require.Equal(rt, p.Flag == forecast.FlagNone, p.Cause.Kind == forecast.NoCause, "%+v", p)
			require.LessOrEqual(rt, p.EndAt, p.BadAt)
		}
	})
}

// allAreCounted asks for one of everything: a move a person, a call, lane and
// strip a robot, a plan a job that is to be done, a word a pack.
func (d *day) allAreCounted(f forecast.Forecast) {
	jobs := 0
	for _, j := range d.s.Jobs {
		if d.s.Robots[j.Robot].Retired {
			continue
		}
		if j.State == board.JobOpen || j.State == board.JobRunning || j.State == board.JobHeld || j.State == board.JobFinished {
			jobs++
		}
	}
	robots, packs, channels, circuits := d.live()
	require.Len(d.rt, f.Todos, len(d.people))
	require.Len(d.rt, f.Calls, robots)
	require.Len(d.rt, f.Lanes, robots)
	require.Len(d.rt, f.Strips, robots)
	require.Len(d.rt, f.Plans, jobs)
	require.Len(d.rt, f.Packs, packs)
	require.Len(d.rt, f.Channels, channels)
	require.Len(d.rt, f.Circuits, circuits)
	first := 0
	if f.First != nil {
		first = 1
	}
	require.Len(d.rt, f.Entries(), first+len(d.people)+4*robots+jobs+2*packs+channels+circuits+len(f.Alarms)+len(f.Learned)+len(f.Scarce)+len(f.Absent)+len(f.Chances)+len(f.LeaveOff)+len(f.FightPacks)+len(f.Works)+min(1, len(f.Owed.List))+min(1, len(f.Relaxed.List)), "no two under one key")
}

// splitMinutes is a time with its seconds that calls itself minutes.
var splitMinutes = regexp.MustCompile(`\d:\d\d min|\d\.\d+ min`)

// noWord is a word that was left out of a text.
var noWord = regexp.MustCompile(`%!`)

// minutesAreWhole looks that what people read as minutes is whole minutes, and that no
// text says minutes and seconds as minutes.
func minutesAreWhole(rt *rapid.T, f forecast.Forecast) {
	for key, noun := range f.Entries() {
		require.NotRegexp(rt, splitMinutes, string(noun), "%s", key)
		require.NotRegexp(rt, noWord, string(noun), "%s", key)
	}
	for _, c := range f.Calls {
		for _, sec := range []int{c.HandsOnSec, c.NeedSec, c.ShortSec} {
			require.Zero(rt, sec%60, "%+v", c)
		}
	}
}

func (d *day) noLockoutJobBeforeTheOverheads(f forecast.Forecast) {
	for _, lane := range f.Lanes {
		for _, bar := range lane.Bars {
			j := d.s.Jobs[bar.Job]
			away := d.s.Powers[lane.Robot].State == board.Unknown
			sheet, _ := d.s.Sheet(lane.Robot, board.ListMakeSafe)
			if bar.State == board.JobRunning || !away || len(sheet.Answers) > 0 || !j.Fix().Lockout && !j.Fix().PackOut {
				continue
			}
			before := time.Duration(d.s.Robots[lane.Robot].BeforeSec) * time.Second
			require.GreaterOrEqual(d.rt, bar.StartAt, d.now.Add(before-10*time.Second), "%+v", bar)
		}
	}
}

func TestAFewSecondsLaterMostOfTheForecastIsTheSameBytes(t *testing.T) {
	p := busy(t, 3, 20, 5)
	p.now = p.now.Add(time.Second) // not on the edge of ten seconds
	first := p.make().Entries()
	changed := func() int {
		now, n := p.make().Entries(), 0
		for key, was := range first {
			require.Contains(t, now, key)
			if !bytes.Equal(was, now[key]) {
				n++
			}
		}
		return n
	}
	p.wait(3 * time.Second)
	require.Less(t, changed()*10, len(first))
	p.wait(20 * time.Minute)
	require.NotZero(t, changed(), "and twenty minutes later it is not")
}

func TestAnEntryIsOneJSONObjectWithTheWiresNames(t *testing.T) {
	p := busy(t, 1, 2, 2)
	for key, data := range p.make().Entries() {
		var object map[string]any
		require.NoError(t, json.Unmarshal(data, &object), key)
		kind, _ := key.Split()
		want := map[board.Kind][]string{
			"call":   {"robot", "fight", "arena", "number", "startAt", "callAt", "callNow", "onNow", "handsOnSec", "needSec", "readyAt", "readyBadAt", "flag", "cause", "uninspected", "shortSec", "branches"},
			"lane":   {"robot", "bars"},
			"plan":   {"job", "startAt", "endAt", "badAt", "people", "station", "flag", "cause", "owes"},
			"todo":   {"person", "act", "title"},
			"strip":  {"robot", "phase", "sheet", "line", "lines", "ask", "who", "said"},
			"alarm":  {"class", "what", "act"},
			"absent": {"person", "at"},
			"scarce": {"stock", "name", "left", "jobs", "fights", "used", "fought", "text"},

			"packview":    {"pack", "word"},
			"packhealth":  {"pack", "ratedAh", "capacity", "ohms", "spread", "share", "chargeOhm", "coolMin"},
			"fightenergy": {"robot", "n", "guessLowWh", "guessHighWh"},
			"channelview": {"channel", "bars"},
			"circuitview": {"circuit", "budgetVA", "load", "over", "off"},
			"chance":      {"robot", "fight", "ready", "of", "uninspected"}, "leaveoff": {"robot", "fight", "ready", "list"},
		}[kind]
		require.NotEmpty(t, want, key)
		for _, name := range want {
			require.Contains(t, object, name, "%s: %s", key, data)
		}
	}
}

// busy is a board of a day at full swing: every robot has a call, jobs of all
// sorts and a crew.
func busy(t testing.TB, robots, jobs, people int) *pit {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 3)
	p.station("bench 2", board.StationBench, 3)
	p.station("grinder", board.StationGrind, 1)
	kinds := [][]board.Skill{{board.SkillMechanical}, {board.SkillElectrical}, {board.SkillMechanical, board.SkillFabricate}, {board.SkillElectrical, board.SkillRadio}}
	var crew []board.PersonID
	for i := range people {
		crew = append(crew, p.person(fmt.Sprintf("Person %d", i), kinds[i%len(kinds)]...))
	}
	belt := p.stock("belt", jobs/8)
	var all []board.RobotID
	for i := range robots {
		enter := p.light
		if i%2 == 0 {
			enter = p.heavy
		}
		r := enter(fmt.Sprintf("Robot %d", i), i+1, crew[i%people])
		all = append(all, r)
		p.fight(board.FightFields{Robot: r, Number: 20 + 5*i, Opponent: "another"})
	}
	p.made("", board.FightNow{Arena: "A", Number: 3}, captain)
	triage := []board.Triage{board.Must, board.Should, board.Could}
	for i := range jobs {
		skill := kinds[i%len(kinds)][0]
		quick := using(fix(4+i%7, 10+i%13, skill), belt)
		slow := fix(10+i%11, 30+i%17, skill)
		f := board.JobFields{Robot: all[i%robots], Name: fmt.Sprintf("Work %d", i), Triage: triage[i%3], Fixes: []board.Fix{quick, slow}}
		if i%5 == 0 {
			off := fix(8, 20, board.SkillAny)
			off.Station, off.Where, off.Lockout, off.PackOut = board.StationGrind, board.OffRobot, false, false
			f.Fixes = []board.Fix{off}
		}
		p.job(f)
	}
	return p
}

func BenchmarkMake6Robots60Jobs10People(b *testing.B) {
	p := busy(b, 6, 60, 10)
	for _, schedules := range []int{200, 1000, 5000} {
		b.Run(fmt.Sprintf("schedules=%d", schedules), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				forecast.Make(p.s, p.now, 1, plan.Budget(schedules))
			}
		})
	}
}
