package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/view"
)

// todos gives each person on the roster their next move.
func (c *schedule) todos() []Todo {
	var list []Todo
	seen := lastSeen(c.s)
	for _, who := range board.Sorted(c.s.People, personKey) {
		if !who.Retired {
			t := c.todo(who)
			t.Person, t.Told = who.ID, c.endedFor(who.ID, seen[who.ID])
			list = append(list, t)
		}
	}
	return list
}

// toldSec is how long someone is told that another ended their work.
const toldSec = 15 * 60

// endedFor says who ended a person's work, where another did and the person has done
// nothing on the board since they were last seen.
func (c *schedule) endedFor(who board.PersonID, seen board.Moment) string {
	for _, j := range board.Sorted(c.s.Jobs, jobKey) {
		for _, st := range slices.Backward(j.Stints) {
			if st.By != who || st.EndedBy == "" || j.IsAtWork(who) || st.To < seen || plusSec(st.To, toldSec) < c.at {
				continue
			}
			did := "finished"
			if st.Held != "" {
				did = "held"
			}
			return fmt.Sprintf("%s %s %s at %s: hands off it.", c.s.People[st.EndedBy].Name, did, jobName(j), c.s.Clock(st.To))
		}
	}
	return ""
}

// soonSec is how near a planned start must be for the job to be started now.
const soonSec = 60

// todo is the person's one next thing: their tag off before a try, an answer that others wait for, the job
// they are on, the next job of the plan, what their robots need of them as lead,
// their tag off; else what they wait for.
func (c *schedule) todo(who board.Person) Todo {
	ask := asker{schedule: c, who: who}
	var wait Todo
	for _, next := range []func() (Todo, bool){ask.away, ask.sheet, ask.running, ask.join, ask.goFirst, ask.inspection, ask.job, ask.closeUp, ask.tagOff, ask.staging} {
		t, ok := next()
		if ok && t.Act != ActWait {
			return t
		}
		if ok && wait.Act == "" {
			wait = t
		}
	}
	if wait.Act == "" {
		wait = Todo{Act: ActNone, Title: "Nothing for you just now"}
	}
	return wait
}

// asker finds one person's next move.
type asker struct {
	*schedule
	who board.Person
}

// tied tells whether the robot is the person's business: they lead or drive it,
// are on it, or the plan or someone has put them on one of its jobs or its sheets.
func (a asker) tied(r board.Robot) bool {
	if r.Lead == a.who.ID || r.Driver == a.who.ID || a.tagged(r.ID) || a.near(r.ID) || onSheetsNow(a.schedule, a.who.ID, r.ID) {
		return true
	}
	return slices.ContainsFunc(a.jobs, func(j board.Job) bool {
		return j.Robot == r.ID && (slices.Contains(j.Assigned, a.who.ID) || a.plannedOn(a.taskOf(j.ID)))
	})
}

func (a asker) plannedOn(i int) bool {
	return slices.ContainsFunc(a.schedule.who(i), func(person board.Person) bool { return person.ID == a.who.ID })
}

func (a asker) tagged(robot board.RobotID) bool {
	_, ok := a.s.TagOf(robot, a.who.ID)
	return ok
}

func (a asker) near(robot board.RobotID) bool {
	_, ok := a.s.HandsOf(robot, a.who.ID)
	return ok
}

// runningJob is the job that the person is at work on, if any.
func (a asker) runningJob() (board.Job, bool) {
	i := slices.IndexFunc(a.jobs, func(j board.Job) bool { return j.IsAtWork(a.who.ID) })
	if i < 0 {
		return board.Job{}, false
	}
	return a.jobs[i], true
}

// away is for someone whose tag or hands near is on a robot that is tried next: nobody
// tries whether it starts before that is off.
func (a asker) away() (Todo, bool) {
	for _, o := range a.robots {
		r := o.robot
		if what, next := a.s.VerifiesNext(r.ID); next && (a.tagged(r.ID) || a.near(r.ID)) {
			t := a.offTag(r)
			t.Why = "Next someone " + what + ": nobody is on it then."
			return t, true
		}
	}
	return Todo{}, false
}

// sheet is a line that holds up others. Who runs a job is asked only about a
// robot they lead or drive.
func (a asker) sheet() (Todo, bool) {
	_, busy := a.runningJob()
	for _, o := range a.robots {
		r := o.robot
		sheet, due := view.DueSheet(a.s, r.ID)
		if !due || sheet.List == board.ListInspect || o.fight.State == board.FightOn || busy && r.Lead != a.who.ID && r.Driver != a.who.ID {
			continue
		}
		l, open := sheet.OpenLine()
		if open && (a.tied(r) || a.who.Signer && l.Kind == board.LineSign) && a.mayAnswer(sheet, l) {
			return a.line(r, sheet, l), true
		}
	}
	return Todo{}, false
}

// goFirst asks one person to go in first where nobody is on a robot whose first-in
// lines are open: its lead, or else anyone who may.
func (a asker) goFirst() (Todo, bool) {
	for _, o := range a.robots {
		sheet, due := view.DueSheet(a.s, o.robot.ID)
		if !due || sheet.List != board.ListFirstIn || len(peopleOn(a.s, o.robot.ID)) > 0 || !a.tied(o.robot) || !a.who.AuthorisedFor(o.robot) || a.staysClosed(o.robot.ID) {
			continue
		}
		lead, ok := a.s.People[o.robot.Lead]
		if ok && lead.ID != a.who.ID && lead.AuthorisedFor(o.robot) {
			continue
		}
		return a.tag(o, "You go in first."), true
	}
	return Todo{}, false
}

// inspection is a line of the inspection: it holds nobody else up.
func (a asker) inspection() (Todo, bool) {
	for _, o := range a.robots {
		sheet, due := view.DueSheet(a.s, o.robot.ID)
		l, open := sheet.OpenLine()
		inside := o.power.State == board.Work || o.power.State == board.Verified
		if due && open && sheet.List == board.ListInspect && inside && a.tied(o.robot) && a.mayAnswer(sheet, l) {
			if !a.tagged(o.robot.ID) && a.who.AuthorisedFor(o.robot) {
				return a.tag(o, "Put your tag on, then inspect it."), true
			}
			return a.line(o.robot, sheet, l), true
		}
	}
	return Todo{}, false
}

func (a asker) line(r board.Robot, sheet board.Sheet, l board.Line) Todo {
	t := Todo{Act: ActSheet, Robot: r.ID, Sheet: sheet.ID, Line: l.ID, Title: l.Ask, Where: a.place(r.ID), Why: lineWhy(sheet, l)}
	if sheet.List == board.ListFirstIn {
		t.Act = ActFirstIn
	}
	if l.Kind != board.LineSign {
		return t
	}
	if on := peopleOn(a.s, r.ID); len(on) > 0 {
		if a.tagged(r.ID) || a.near(r.ID) {
			return a.offTag(r)
		}
		return Todo{Act: ActWait, Robot: r.ID, Title: "Sign " + r.Name, Why: isAre(namesOf(on)) + " still on it."}
	}
	return t
}

func lineWhy(sheet board.Sheet, l board.Line) string {
	n := 1 + slices.IndexFunc(sheet.Lines, func(o board.Line) bool { return o.ID == l.ID })
	return fmt.Sprintf("%s, line %d of %d", sheet.List, n, len(sheet.Lines))
}

func namesOf(list []on) []string {
	var names []string
	for _, o := range list {
		if !slices.Contains(names, o.person.Name) {
			names = append(names, o.person.Name)
		}
	}
	return names
}

// place is where the robot is, by name.
func (a asker) place(robot board.RobotID) string {
	return a.s.Places[a.s.Powers[robot].Place].Name
}

// mayAnswer tells whether a line is the person's to answer, on a device of their own.
func (a asker) mayAnswer(sheet board.Sheet, l board.Line) bool {
	return a.s.MayAnswer(board.Actor{Person: a.who.ID, Role: a.who.Role}, a.who, sheet, l) == nil
}

func (a asker) running() (Todo, bool) {
	j, ok := a.runningJob()
	if !ok {
		return Todo{}, false
	}
	return a.about(a.taskOf(j.ID), ActFinish), true
}

// join is a job that others are at work on and that the plan has the person on too.
func (a asker) join() (Todo, bool) {
	for i, j := range a.jobs {
		if j.State == board.JobRunning && a.kept(i) && a.plannedOn(i) && !j.IsAtWork(a.who.ID) {
			return a.begin(i), true
		}
	}
	return Todo{}, false
}

// about is an act on a task, with its times.
func (a asker) about(i int, act Act) Todo {
	j := a.jobs[i]
	t := Todo{Act: act, Robot: j.Robot, Job: j.ID, Title: j.Name}
	chosen := j.Chosen
	if a.kept(i) {
		chosen = a.fixes[i][a.plan.Tasks[i].Way]
		t.Where = a.station(i)
	}
	fix, times := j.Fixes[chosen], a.learnt.Times(j, chosen)
	t.LikelySec, t.BadSec = int(times.LikelySec), int(times.BadSec)
	for _, need := range fix.Stock {
		stock := a.s.Stocks[need.Stock]
		t.Why = stock.Name
		if stock.Where != "" {
			t.Why += ", " + stock.Where
		}
	}
	t.Until = nearest(a.latest[i])
	return t
}

func (a asker) tag(o outlook, why string) Todo {
	return Todo{Act: ActTag, Robot: o.robot.ID, Title: "Put your tag on " + o.robot.Name, Where: a.place(o.robot.ID), Why: why}
}

// staysClosed tells whether nobody has to go under a robot's covers any more: it
// was inspected since its last fight, nobody is on it, and no work is left, as
// after a test.
func (a asker) staysClosed(robot board.RobotID) bool {
	inspect, _ := a.s.Sheet(robot, board.ListInspect)
	g := slices.IndexFunc(a.robots, func(o outlook) bool { return o.robot.ID == robot })
	return inspect.State == board.SheetComplete && len(peopleOn(a.s, robot)) == 0 && !a.workLeft(g)
}

// closeUp is for the lead of a robot whose work is done.
func (a asker) closeUp() (Todo, bool) {
	for g, o := range a.robots {
		open := o.power.State == board.Verified || o.power.State == board.Work
		sheet, due := view.DueSheet(a.s, o.robot.ID)
		due = due && (sheet.List != board.ListFirstIn || !a.staysClosed(o.robot.ID))
		if !open || due || !o.called() || o.robot.Lead != a.who.ID || a.workLeft(g) {
			continue
		}
		return Todo{
			Act: ActCloseUp, Robot: o.robot.ID, Title: "Close " + o.robot.Name + " up", Where: a.place(o.robot.ID),
			Why: "All its work is done.", Until: nearest(o.workBy),
		}, true
	}
	return Todo{}, false
}

func (a asker) workLeft(g int) bool {
	for i, j := range a.jobs {
		if a.problem.Tasks[i].Group == g && (a.kept(i) || j.Blocking()) {
			return true
		}
	}
	return false
}

// tagOff is for someone with a tag on, or hands near, where nothing is left for
// them to do: no line is due, or only the signature, which no tag may outlast.
func (a asker) tagOff() (Todo, bool) {
	for g, o := range a.robots {
		if !a.tagged(o.robot.ID) && !a.near(o.robot.ID) {
			continue
		}
		mine := false
		for i := range a.jobs {
			mine = mine || a.problem.Tasks[i].Group == g && !o.gone && a.kept(i) && a.plannedOn(i)
		}
		sheet, due := view.DueSheet(a.s, o.robot.ID)
		l, _ := sheet.OpenLine()
		if !mine && (!due || l.Kind == board.LineSign) {
			return a.offTag(o.robot), true
		}
	}
	return Todo{}, false
}

func (a asker) offTag(r board.Robot) Todo {
	title := "Take your tag off " + r.Name
	if !a.tagged(r.ID) {
		title = "Hands away from " + r.Name + ": say so"
	}
	return Todo{Act: ActTagOff, Robot: r.ID, Title: title, Where: a.place(r.ID), Why: "Nothing is left for you to do on it."}
}

// staging tells driver and lead of a robot that is ready when to go.
func (a asker) staging() (Todo, bool) {
	for _, o := range a.robots {
		mine := o.robot.Lead == a.who.ID || o.robot.Driver == a.who.ID
		if !mine || o.power.State != board.Ready || !o.called() {
			continue
		}
		t := Todo{Act: ActWait, Robot: o.robot.ID, Title: "Take " + o.robot.Name + " to staging", Where: a.place(o.robot.ID)}
		t.Why = fmt.Sprintf("Called for %s.", fightName(o.fight))
		if !o.times.callNow {
			t.Why = fmt.Sprintf("Its call for %s is expected at %s.", fightName(o.fight), a.s.Clock(nearest(o.times.call.Median)))
		}
		return t, true
	}
	return Todo{}, false
}
