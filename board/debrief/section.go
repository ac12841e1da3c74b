package debrief

import (
	"cmp"
	"math"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
)

// Section is the account of one robot, or of all of them together.
type Section struct {
	Robot board.RobotID `json:"robot,omitzero"`
	Name  string        `json:"name"`
	// Headline says what it comes to.
	Headline string   `json:"headline"`
	Bill     Bill     `json:"bill"`
	Figures  []Figure `json:"figures"`
	// The rankings of what was hit: by minutes of work and waiting, by list price of
	// what it took, by how many fights it was damaged in; and joints by the last. Of
	// a name that several robots have, each says whose it is.
	ByMinutes []Share `json:"byMinutes"`
	ByMoney   []Share `json:"byMoney"`
	ByRepeat  []Share `json:"byRepeat"`
	ByJoint   []Share `json:"byJoint,omitempty"`
	// Creeps are the parts that were measured for straightness more than once.
	Creeps []Creep `json:"creeps,omitempty"`
	Jobs   []Timed `json:"jobs"`
	// Called says how many calls were met, by the chance that was given.
	Called string `json:"called"`
}

// Timed is one job against its estimate.
type Timed struct {
	Job       board.JobID `json:"job"`
	Number    int         `json:"number"`
	Name      string      `json:"name"`
	LikelySec int         `json:"likelySec"`
	BadSec    int         `json:"badSec"`
	ActualSec int         `json:"actualSec"`
	// Open tells that it was broken off or still runs: it would have taken longer.
	Open bool `json:"open,omitzero"`
}

// timed lists the jobs that were worked on, by number.
func (r Record) timed(robot board.RobotID) []Timed {
	var list []Timed
	for _, j := range r.jobs() {
		if robot != "" && j.Robot != robot || len(j.Stints) == 0 {
			continue
		}
		fix := j.Fix()
		list = append(list, Timed{
			Job: j.ID, Number: j.Number, Name: j.Name, LikelySec: fix.LikelySec, BadSec: fix.BadSec,
			ActualSec: j.WorkedSec(r.To), Open: !handsDone(j.State),
		})
	}
	return list
}

func worked(list []Timed) []estimate.Worked {
	var all []estimate.Worked
	for _, t := range list {
		if t.ActualSec > 0 {
			all = append(all, estimate.Worked{Sec: float64(t.ActualSec), Open: t.Open})
		}
	}
	return all
}

// ratios are actual over likely, an open job's as a lower bound.
func ratios(list []Timed) []estimate.Worked {
	var all []estimate.Worked
	for _, t := range list {
		if t.ActualSec > 0 && t.LikelySec > 0 {
			all = append(all, estimate.Worked{Sec: float64(t.ActualSec) / float64(t.LikelySec), Open: t.Open})
		}
	}
	return all
}

// section accounts for one robot, or for all of them with "".
func (r Record) section(entries []Entry, robot board.RobotID, alt Alternative) Section {
	want := func(p place) bool { return robot == "" || p.robot == robot }
	s := Section{Robot: robot, Name: "All robots", Jobs: r.timed(robot)}
	if robot != "" {
		s.Name = r.robotName(robot)
	}
	own := slices.DeleteFunc(slices.Clone(entries), func(e Entry) bool { return !want(place{e.Robot, e.Hit}) })
	s.Bill = r.bill(own, s.Name, alt, want)
	s.Figures = r.figures(own, robot, s)
	s.ByMinutes = Pareto(r.total(own, func(e Entry) float64 { return float64(e.Sec) }))
	s.ByMoney = Pareto(r.total(own, func(e Entry) float64 { return float64(e.Cost.List()) }))
	s.ByRepeat = Pareto(r.damagedIn(robot, r.partOf))
	s.ByJoint = Pareto(r.damagedIn(robot, func(d board.Damage) string { return r.State.Joints[d.OnJoint].Name }))
	s.Creeps = r.creeps(robot)
	s.Called = calledSaid(slices.DeleteFunc(r.calls(), func(c Called) bool { return robot != "" && c.Robot != robot }))
	return s
}

// owned is a part or joint of one robot.
type owned struct {
	robot board.RobotID
	name  string
}

// tally adds amounts up by what they belong to.
type tally struct {
	keys   []owned
	shares map[owned]*Share
}

func (t *tally) of(k owned) *Share {
	if t.shares == nil {
		t.shares = map[owned]*Share{}
	}
	if t.shares[k] == nil {
		t.keys = append(t.keys, k)
		t.shares[k] = &Share{Name: k.name}
	}
	return t.shares[k]
}

// list names the robot beside each name that several robots have.
func (t *tally) list(r Record) []Share {
	var all []Share
	for _, k := range t.keys {
		s := *t.shares[k]
		if slices.ContainsFunc(t.keys, func(o owned) bool { return o.name == k.name && o.robot != k.robot }) {
			s.Name += " (" + r.robotName(k.robot) + ")"
		}
		all = append(all, s)
	}
	return all
}

// total adds entries up by the part that was hit or worked on; n counts them.
func (r Record) total(entries []Entry, amount func(Entry) float64) []Share {
	var t tally
	for _, e := range entries {
		if of := amount(e); e.Part != "" && of != 0 {
			s := t.of(owned{e.Robot, e.Part})
			s.Amount += of
			s.N++
		}
	}
	return t.list(r)
}

// damagedIn counts in how many fights each named thing was damaged; n counts the
// damages.
func (r Record) damagedIn(robot board.RobotID, name func(board.Damage) string) []Share {
	type seen struct {
		owned
		fight board.FightID
	}
	var t tally
	once := map[seen]bool{}
	for _, d := range r.damages() {
		key := seen{owned{d.Robot, name(d)}, d.Fight}
		if robot != "" && d.Robot != robot || !damaging(d) || key.name == "" {
			continue
		}
		s := t.of(key.owned)
		s.N++
		if !once[key] {
			s.Amount++
		}
		once[key] = true
	}
	return t.list(r)
}

// figures are the measures of repairability and cost, each with its n.
func (r Record) figures(own []Entry, robot board.RobotID, s Section) []Figure {
	fights := r.fightCosts(own, robot)
	list := slices.Concat(r.repairFigures(s.Jobs), costFigures(fights), r.robotFigures(robot, s))
	return append(list, r.missFigure(robot), r.readyFigure(robot), r.repeatFigure(robot))
}

func (r Record) repairFigures(jobs []Timed) []Figure {
	m := MeanRepair(worked(jobs))
	of := "finished jobs, hands on, from the journal"
	open := Figure{
		Name: "mean time to repair, unfinished counted", Unit: "s", N: m.Finished + m.Open, Value: m.Censored,
		Of: "jobs, from the journal; right if jobs end at a constant rate",
	}
	if m.Finished < RateLeast {
		open.Value, open.Trap = nil, "no figure from under 3 finished"
	}
	fit, err := estimate.FitCensored(worked(jobs))
	within := func(p float64) Figure {
		return rate(map[float64]string{.5: "half of repairs done by", .9: "nine in ten done by"}[p], "s", m.Finished, "finished jobs; "+plural(m.Open, "unfinished one")+" counted as longer", func() float64 {
			if err != nil {
				return 0
			}
			return fit.QuantileSec(p)
		})
	}
	ratio := rate("actual over likely, median", "×", m.Finished, "finished jobs; unfinished counted as longer", func() float64 {
		f, err := estimate.FitCensored(ratios(jobs))
		if err != nil {
			return 0
		}
		return f.QuantileSec(.5)
	})
	dropped := rate("mean time to repair, finished only", "s", m.Finished, of, func() float64 { return *m.Dropped })
	if m.Open > 0 {
		dropped.Trap = "too short: " + plural(m.Open, "unfinished job") + " left out"
	}
	done := slices.DeleteFunc(slices.Clone(jobs), func(t Timed) bool { return t.Open })
	bad := rate("done by their bad case", "share", len(done), "finished jobs; 9 of 10 is what a bad case says", func() float64 {
		n := 0
		for _, t := range done {
			if t.ActualSec <= t.BadSec {
				n++
			}
		}
		return float64(n) / float64(len(done))
	})
	return []Figure{dropped, open, within(.5), within(.9), ratio, bad}
}

func (r Record) fightCosts(own []Entry, robot board.RobotID) []FightCost {
	cents := map[board.FightID]int{}
	for _, e := range own {
		cents[e.Hit.Fight] += e.Cost.List()
	}
	var list []FightCost
	for _, f := range r.fought(robot) {
		list = append(list, FightCost{Cents: float64(cents[f.ID]), Hits: r.hits(f.ID)})
	}
	return list
}

func costFigures(fights []FightCost) []Figure {
	hits := 0
	for _, f := range fights {
		hits += f.Hits
	}
	mean, median := PerFight(fights)
	of := "fights fought; list prices"
	list := []Figure{
		rate("cost per fight", "cents", len(fights), of, func() float64 { return *mean }),
		rate("median fight", "cents", len(fights), of, func() float64 { return *median }),
		rate("cost per damaging hit", "cents", hits, "damaging hits; list prices", func() float64 { return *PerHit(fights) }),
	}
	if hits == 0 {
		list[2].Trap = "there were no hits: no value, not 0"
	}
	return list
}

// robotFigures sets the cost against that of the whole robot, as its map has it.
func (r Record) robotFigures(robot board.RobotID, s Section) []Figure {
	whole, parts := 0, 0
	for _, part := range r.State.Parts {
		if !part.Retired && (robot == "" || part.Robot == robot) {
			whole += part.ListCents()
			parts++
		}
	}
	f := Figure{Name: "rebuild ratio", Unit: "share", N: parts, Of: "parts on the map; list price used up over list price of all"}
	if whole > 0 {
		v := float64(s.Bill.ListCents) / float64(whole)
		f.Value = &v
	} else {
		f.Trap = "no prices on the part map"
	}
	return []Figure{f}
}

// missFigure counts the jobs that were held for a part.
func (r Record) missFigure(robot board.RobotID) Figure {
	waited := map[board.JobID]bool{}
	for _, w := range r.waits {
		waited[w.job] = waited[w.job] || w.why == board.HoldPart
	}
	n, held := 0, 0
	for _, j := range r.jobs() {
		if robot != "" && j.Robot != robot || j.Started == 0 && !waited[j.ID] {
			continue
		}
		n++
		if waited[j.ID] {
			held++
		}
	}
	return rate("jobs that waited for a part", "share", n, "jobs started", func() float64 { return float64(held) / float64(n) })
}

// readyFigure counts the calls that were met: signed before the fight began, not
// forfeited, not postponed.
func (r Record) readyFigure(robot board.RobotID) Figure {
	n, met := 0, 0
	for _, f := range r.State.Fights {
		called := f.State == board.FightDone && f.Result != board.WonForfeit || f.State == board.FightOn
		if robot != "" && f.Robot != robot || !called {
			continue
		}
		n++
		if f.Result != board.Forfeited && f.Postponed.At == 0 && r.signedFor(f) {
			met++
		}
	}
	return rate("calls met without postponement", "share", n, "calls; met is signed before the fight began", func() float64 { return float64(met) / float64(n) })
}

// signedFor tells whether the robot's ready sheet was completed between its last
// fight and f.
func (r Record) signedFor(f board.Fight) bool {
	after := r.State.Fights[r.fightBefore(f.Robot, f.OnAt)].EndAt
	for _, sheet := range r.State.Sheets {
		if sheet.Robot == f.Robot && sheet.List == board.ListReady && sheet.State == board.SheetComplete && sheet.EndedAt > after && sheet.EndedAt <= f.OnAt {
			return true
		}
	}
	return false
}

// repeatFigure counts the fixes after which the same part was damaged again within
// the robot's next two fights.
func (r Record) repeatFigure(robot board.RobotID) Figure {
	n, again := 0, 0
	for _, j := range r.jobs() {
		list := r.damagesOf(j)
		if robot != "" && j.Robot != robot || !handsDone(j.State) || len(list) == 0 {
			continue
		}
		next := r.nextFights(j.Robot, j.FinishedAt, 2)
		if len(next) == 0 {
			continue
		}
		n++
		for _, d := range r.damages() {
			if d.Robot == j.Robot && damaging(d) && slices.Contains(next, d.Fight) && r.partOf(d) == r.partOf(list[0]) {
				again++
				break
			}
		}
	}
	f := rate("same part again within 2 fights", "share", n, "fixes followed by a fight", func() float64 { return float64(again) / float64(n) })
	f.Trap = cmp.Or(f.Trap, "patches inflate it")
	return f
}

func (r Record) nextFights(robot board.RobotID, after board.Moment, most int) []board.FightID {
	var ids []board.FightID
	for _, f := range r.fought(robot) {
		if f.OnAt >= after && len(ids) < most {
			ids = append(ids, f.ID)
		}
	}
	return ids
}

// availableSec is the hands-on time between a fight and the robot's next: from its
// end to the start of the next, less the lead the event asks for in seconds and the
// robot's overheads. +Inf where no later fight began.
func (r Record) availableSec(f board.Fight) float64 {
	robot, e := r.State.Robots[f.Robot], r.State.Event()
	for _, next := range r.fought("") {
		if next.Robot == f.Robot && next.OnAt > f.EndAt && next.ID != f.ID {
			left := float64(next.OnAt-f.EndAt) / 1000
			return math.Max(0, left-float64(e.LeadSec+e.LeadFights*e.FightMeanSec+robot.BeforeSec+robot.AfterSec))
		}
	}
	return math.Inf(1)
}
