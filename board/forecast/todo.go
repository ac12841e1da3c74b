package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/view"
	"mendline/board/work"
)

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

// own is what is the person's alone, or what they were told: a notice to read, their tag off
// before a try, a robot to bring back, an answer that others wait for, the job they are on,
// the next job of the plan, what their robots need of them as lead, their tag off, their
// fight; else what they wait for.
func (a asker) own() Todo {
	wait := Todo{Act: ActNone}
	for _, next := range []func() (Todo, bool){
		a.notice, a.away, a.bringBack, a.sheet, a.running, a.join, a.goFirst, a.inspection, a.job, a.closeUp, a.tagOff, a.staging, a.toCome,
	} {
		t, ok := next()
		if ok && t.Act != ActWait {
			return t
		}
		if ok && wait.Act == ActNone {
			wait = t
		}
	}
	return wait
}

// asker finds one person's next move.
type asker struct {
	*schedule
	who board.Person
	// answers is who answers the sheet that is due on a robot.
	answers map[board.RobotID]board.PersonID
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

// notice is what the person has to read before they put a tag on again.
func (a asker) notice() (Todo, bool) {
	for _, i := range a.beside {
		if i.Step == work.Notice && i.Allows(a.s, a.who, a.at) {
			return Todo{Act: ActNotice, Robot: i.Robot, Title: "Read this first: you were taken off " + a.s.Robots[i.Robot].Name}, true
		}
	}
	return Todo{}, false
}

// dueSheet is the sheet that is due on a robot, none while it fights.
func (c *schedule) dueSheet(o outlook) (board.Sheet, board.Line, bool) {
	sheet, due := view.DueSheet(c.s, o.robot.ID)
	l, open := sheet.OpenLine()
	return sheet, l, due && open && o.fight.State != board.FightOn
}

// sheet is a line that holds up others, for the one who answers it.
func (a asker) sheet() (Todo, bool) {
	for _, o := range a.robots {
		sheet, l, due := a.dueSheet(o)
		if due && sheet.List != board.ListInspect && a.answers[o.robot.ID] == a.who.ID && a.mayAnswer(sheet, l) {
			return a.line(o.robot, sheet, l), true
		}
	}
	return Todo{}, false
}

// goFirst asks the one who answers the first-in lines of a robot to go in, where nobody is
// on it.
func (a asker) goFirst() (Todo, bool) {
	for _, o := range a.robots {
		sheet, _, due := a.dueSheet(o)
		if due && sheet.List == board.ListFirstIn && a.answers[o.robot.ID] == a.who.ID && len(peopleOn(a.s, o.robot.ID)) == 0 && !a.staysClosed(o.robot.ID) {
			t := a.tag(o, "You go in first.")
			return t, a.refuses(t) == nil
		}
	}
	return Todo{}, false
}

// inspection is a line of the inspection: it holds nobody else up.
func (a asker) inspection() (Todo, bool) {
	for _, o := range a.robots {
		sheet, l, due := a.dueSheet(o)
		if due && sheet.List == board.ListInspect && a.answers[o.robot.ID] == a.who.ID {
			return a.inspect(o, sheet, l)
		}
	}
	return Todo{}, false
}

func (a asker) inspect(o outlook, sheet board.Sheet, l board.Line) (Todo, bool) {
	inside := o.power.State == board.Work || o.power.State == board.Verified
	switch {
	case !inside || !a.mayAnswer(sheet, l):
		return Todo{}, false
	case !a.tagged(o.robot.ID) && a.who.AuthorisedFor(o.robot):
		t := a.tag(o, "Put your tag on, then inspect it.")
		return t, a.refuses(t) == nil
	}
	return a.line(o.robot, sheet, l), true
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
	if a.kept(i) {
		t.Where = a.station(i)
	}
	fix, times := a.fix(i), a.learnt.Times(j, a.fixOf(i))
	if act == ActStart {
		t.Fix = a.fixOf(i)
	}
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
func (c *schedule) staysClosed(robot board.RobotID) bool {
	inspect, _ := c.s.Sheet(robot, board.ListInspect)
	return inspect.State == board.SheetComplete && len(peopleOn(c.s, robot)) == 0 && !c.workLeft(c.groupOf(robot))
}

// closeUp is for the lead of a robot whose work is done.
func (a asker) closeUp() (Todo, bool) {
	for g, o := range a.robots {
		if o.robot.Lead == a.who.ID && a.closes(g) {
			return a.closing(o), true
		}
	}
	return Todo{}, false
}

// closes tells whether robot g may be closed up: its work is done.
func (c *schedule) closes(g int) bool {
	o := c.robots[g]
	open := o.power.State == board.Verified || o.power.State == board.Work
	sheet, due := view.DueSheet(c.s, o.robot.ID)
	due = due && (sheet.List != board.ListFirstIn || !c.staysClosed(o.robot.ID))
	return open && !due && o.called() && !c.workLeft(g)
}

func (a asker) closing(o outlook) Todo {
	return Todo{
		Act: ActCloseUp, Robot: o.robot.ID, Title: "Close " + o.robot.Name + " up", Where: a.place(o.robot.ID),
		Why: "All its work is done.", Until: nearest(o.workBy),
	}
}

func (c *schedule) workLeft(g int) bool {
	if len(work.Undecided(c.s, c.robots[g].robot.ID)) > 0 {
		return true
	}
	for i, j := range c.jobs {
		if c.problem.Tasks[i].Group == g && (c.kept(i) || j.Blocking()) {
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
