package forecast

import (
	"math"
	"slices"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/estimate"
	"mendline/board/plan"
	"mendline/board/view"
	"mendline/board/work"
)

// posed is a board as a planning problem, with what its indices stand for.
type posed struct {
	s       board.State
	at      board.Moment
	learnt  view.Learnt
	problem plan.Problem
	people  []board.Person
	pools   []board.StationKind
	stocks  []board.Stock
	robots  []outlook       // by group
	beside  []work.Item     // what is to do beside sheets and jobs
	jobs    []board.Job     // by task
	fixes   [][]int         // by task and way, the index of the fix
	works   [][]chance.Work // by task and way, the time left
	// awayFor says why of each absence, by person.
	awayFor [][]absence
	// charges are the tasks behind those of the jobs.
	packs   packing
	sets    []packSet
	supply  supplies
	charges []charging
	// sheets are the tasks behind those of the charges. alone are the jobs' tasks as if
	// there were nothing else.
	sheets sheetPlan
	// stays are the fights whose crews stay at their robots.
	stays map[board.FightID]bool
	alone []plan.Task
}

// pose writes the planning problem of a board: each job still to be done is a
// task of its robot's group, with its fixes as ways; so is the charge that a robot
// waits for, with its channels and currents as ways; so are the sheets, by those who
// may answer them.
func pose(s board.State, at board.Moment, robots []outlook, on view.Learnt) posed {
	p := poseWork(s, at, robots, on)
	p.poseAbsences()
	p.beside = work.Beside(s, at)
	return p
}

// poseWork poses all work, with nobody away.
func poseWork(s board.State, at board.Moment, robots []outlook, on view.Learnt) posed {
	p := posed{s: s, at: at, robots: robots, learnt: on}
	p.people = hands(s)
	p.poseStations()
	p.poseStocks()
	for _, o := range robots {
		p.problem.Groups = append(p.problem.Groups, p.group(o))
	}
	for _, j := range board.Sorted(s.Jobs, jobKey) {
		if work.ToDo(j) && p.groupOf(j.Robot) >= 0 {
			p.jobs = append(p.jobs, j)
		}
	}
	for _, j := range p.jobs {
		p.poseJob(j)
	}
	p.poseFollow()
	for _, who := range p.people {
		p.problem.People = append(p.problem.People, plan.Person{Skills: skills(who)})
	}
	p.alone = slices.Clone(p.problem.Tasks)
	p.poseCharges()
	poseSheets(&p)
	return p
}

// hands lists who can be put to work: everyone on the roster but signers of
// another team.
func hands(s board.State) []board.Person {
	var list []board.Person
	for _, who := range board.Sorted(s.People, personKey) {
		if !who.Retired && (!who.Signer || who.From == "") {
			list = append(list, who)
		}
	}
	return list[:min(len(list), plan.PeopleMost)]
}

// skillOrder gives each skill its bit; any hand needs none.
var skillOrder = []board.Skill{
	board.SkillMechanical, board.SkillElectrical, board.SkillRadio, board.SkillWeld,
	board.SkillPressure, board.SkillFabricate, board.SkillDrive,
}

// skills of a minor or guest count for nothing: they are any hands.
func skills(who board.Person) plan.SkillSet {
	if who.Minor || who.Guest {
		return 0
	}
	var set plan.SkillSet
	for _, k := range who.Skills {
		set |= skillBit(k)
	}
	return set
}

func skillBit(k board.Skill) plan.SkillSet {
	i := slices.Index(skillOrder, k)
	if i < 0 {
		return 0
	}
	return 1 << i
}

// poseStations makes a pool of each kind of station; a kind the team has none of
// is a pool of 0.
func (p *posed) poseStations() {
	room := map[board.StationKind]int{}
	for _, station := range p.s.Stations {
		if !station.Retired {
			room[station.Kind] += station.Count
		}
	}
	p.pools = []board.StationKind{
		board.StationBench, board.StationPlate, board.StationGrind, board.StationWeld, board.StationCharge,
		board.StationScale, board.StationTest, board.StationGas, board.StationPress,
	}
	for _, k := range p.pools {
		p.problem.Pools = append(p.problem.Pools, plan.Pool{Capacity: min(room[k], plan.CapacityMost)})
	}
}

// poseStocks counts the spares, less those that running jobs hold in their hands.
func (p *posed) poseStocks() {
	held := map[board.StockID]int{}
	for _, j := range p.s.Jobs {
		if j.State == board.JobRunning {
			for _, need := range j.Fix().Stock {
				held[need.Stock] += need.Count
			}
		}
	}
	for _, stock := range board.Sorted(p.s.Stocks, func(stock board.Stock) string { return stock.Name }) {
		count := max(0, stock.Count-held[stock.ID])
		if stock.Retired {
			count = 0
		}
		p.stocks = append(p.stocks, stock)
		p.problem.Stocks = append(p.problem.Stocks, plan.Stock{Count: count})
	}
}

func (p *posed) group(o outlook) plan.Group {
	g := plan.Group{Room: o.robot.Hands, Weight: o.robot.Weight, DeadlineSec: plan.NoDeadline}
	if o.workBy != 0 {
		g.DeadlineSec = p.sec(plusSec(o.workBy, o.afterSec))
	}
	return g
}

// jobsBySec is when the last job of group g must be done.
func (p *posed) jobsBySec(g int) int32 {
	if o := p.robots[g]; o.workBy != 0 {
		return p.sec(o.workBy)
	}
	return plan.NoDeadline
}

// sec counts a moment from now as the planner does.
func (p *posed) sec(m board.Moment) int32 {
	return int32(min(max(secUntil(p.at, m), 0), int(plan.HorizonSec)))
}

func (p *posed) groupOf(robot board.RobotID) int {
	return slices.IndexFunc(p.robots, func(o outlook) bool { return o.robot.ID == robot })
}

func (p *posed) personOf(id board.PersonID) int {
	return slices.IndexFunc(p.people, func(who board.Person) bool { return who.ID == id })
}

func (p *posed) peopleOf(ids []board.PersonID) []int {
	var list []int
	for _, id := range ids {
		if i := p.personOf(id); i >= 0 && !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	return list
}

func (p *posed) taskOf(id board.JobID) int {
	return slices.IndexFunc(p.jobs, func(j board.Job) bool { return j.ID == id })
}

func (p *posed) poseJob(j board.Job) {
	t := plan.Task{Group: p.groupOf(j.Robot), Grade: grade(j), Assigned: p.peopleOf(j.Assigned)}
	for _, id := range j.After {
		if i := p.taskOf(id); i >= 0 {
			t.After = append(t.After, i)
		}
	}
	fixes := work.Fixes(p.s, j)
	var works []chance.Work
	for _, f := range fixes {
		w := chance.Work{Time: lognormal(p.learnt.Times(j, f)), SpentSec: j.SpentSec(f, p.at)}
		works = append(works, w)
		t.Ways = append(t.Ways, p.way(j.Fixes[f], w))
	}
	t.EarliestSec = p.sec(p.earliest(j))
	if part, waits := partOf(j, p.at); waits {
		t.EarliestSec = max(t.EarliestSec, int32(math.Round(part.Time.After(part.SpentSec).LeftSec(0.5))))
		for k := range t.Ways { // what comes is for this job
			t.Ways[k].Uses = nil
		}
	}
	if j.State == board.JobRunning {
		t.Running = &plan.Running{People: p.runners(j), LeftSec: t.Ways[0].DurationSec}
	}
	p.problem.Tasks = append(p.problem.Tasks, t)
	p.fixes, p.works = append(p.fixes, fixes), append(p.works, works)
}

func grade(j board.Job) plan.Grade {
	switch {
	case j.Blocking():
		return plan.Must
	case j.Triage == board.Should:
		return plan.Should
	}
	return plan.Could
}

func lognormal(e estimate.TwoPoint) estimate.Lognormal {
	l, err := e.Lognormal()
	if err != nil {
		panic("forecast: a fix with impossible times: " + err.Error())
	}
	return l
}

func (p *posed) way(fix board.Fix, left chance.Work) plan.Way {
	likelySec := math.Max(left.Time.After(left.SpentSec).LeftSec(0.5), 1)
	w := plan.Way{
		DurationSec: int32(min(math.Round(likelySec), float64(plan.HorizonSec))),
		Place:       map[board.Where]plan.Place{board.AtRobot: plan.In, board.OffRobot: plan.Off, board.AllRobot: plan.Whole}[fix.Where],
	}
	for _, k := range fix.Hands {
		w.Team = append(w.Team, skillBit(k))
	}
	if i := slices.Index(p.pools, fix.Station); i >= 0 {
		w.Needs = []plan.Need{{Pool: i, Count: 1}}
	}
	for _, need := range fix.Stock {
		i := slices.IndexFunc(p.stocks, func(stock board.Stock) bool { return stock.ID == need.Stock })
		w.Uses = append(w.Uses, plan.Use{Stock: i, Count: need.Count})
	}
	return w
}

// earliest is when hands may be on the job: not before the sheets are over that it waits
// for.
func (p *posed) earliest(j board.Job) board.Moment {
	if o := p.robots[p.groupOf(j.Robot)]; work.Waits(p.s, j, o.gone) {
		return o.workFrom
	}
	return p.at
}

// runners are the people on a running job: all who are at work on it now, then those
// assigned, as many as the fix has hands.
func (p *posed) runners(j board.Job) []int {
	var ids []board.PersonID
	for _, st := range j.AtWork() {
		ids = append(ids, st.By)
	}
	at := len(p.peopleOf(ids))
	on := p.peopleOf(append(ids, j.Assigned...))
	return on[:min(len(on), max(at, len(j.Fix().Hands)))]
}
