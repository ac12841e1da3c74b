package forecast

import (
	"fmt"

	"mendline/board"
)

// job is the next job that the plan has the person on.
func (a asker) job() (Todo, bool) {
	for _, i := range byStart(a.plan) {
		if a.kept(i) && a.problem.Tasks[i].Running == nil && a.plannedOn(i) {
			return a.begin(i), true
		}
	}
	return Todo{}, false
}

// begin is what stands between the person and task i, or its start.
func (a asker) begin(i int) Todo {
	o, fix := a.robots[a.problem.Tasks[i].Group], a.fix(i)
	if why := a.notYet(i, o, fix); why != "" {
		t := a.about(i, ActWait)
		t.Why = why
		return t
	}
	t := a.ready(i)
	if bad := a.refuses(t); bad != nil && bad.Rule == ruleCharge {
		t = a.about(i, ActWait)
		t.Why = "The charge that you stay with is not in sight from there: someone else takes it over first."
	}
	return t
}

// ruleCharge keeps whoever stays with a charge in sight of it.
const ruleCharge = 14

// refuses says why the board does not take from someone now what begins their work.
func (a asker) refuses(t Todo) *board.Refusal {
	var c board.Command
	switch t.Act {
	case ActTag:
		c = board.TagOn{Robot: t.Robot}
	case ActHandsNear:
		c = board.HandsOn{Robot: t.Robot}
	case ActStart:
		c = board.JobStart{Job: t.Job, Fix: t.Fix}
	case ActResume:
		c = board.JobResume{Job: t.Job}
	case ActJoin:
		c = board.JobJoin{Job: t.Job}
	}
	return a.s.Refuses(c, board.Actor{Person: a.who.ID, Role: a.who.Role}, a.at)
}

// ready is what the person does first to be on task i: their tag on, or hands near, or its
// start.
func (a asker) ready(i int) Todo {
	j, o := a.jobs[i], a.robots[a.problem.Tasks[i].Group]
	fix := a.fix(i)
	if fix.Lockout && !a.tagged(o.robot.ID) {
		if a.who.AuthorisedFor(o.robot) {
			t := a.tag(o, "Then "+jobName(j)+".")
			t.Job = j.ID
			return t
		}
		if !a.near(o.robot.ID) {
			t := a.about(i, ActHandsNear)
			t.Title, t.Why = "Say that your hands are near "+o.robot.Name, "Then "+jobName(j)+"."
			return t
		}
	}
	switch j.State {
	case board.JobHeld:
		return a.about(i, ActResume)
	case board.JobRunning:
		return a.about(i, ActJoin)
	}
	return a.about(i, ActStart)
}

// notYet says what task i waits for, or "".
func (a asker) notYet(i int, o outlook, fix board.Fix) string {
	if after := a.problem.Tasks[i].After; len(after) > 0 {
		k := after[0]
		if a.kept(k) {
			return fmt.Sprintf("It comes after %s.", jobName(a.jobs[k]))
		}
		return fmt.Sprintf("It comes after %s, which the plan leaves off: its lead or the captain says so first.", jobName(a.jobs[k]))
	}
	if why := a.barred(i, o, fix); why != "" {
		return why
	}
	if start := a.plan.Tasks[i].StartSec; start > soonSec && start > a.problem.Tasks[i].EarliestSec {
		return fmt.Sprintf("Planned for %s. %s", a.startTime(i), a.tightFor(i))
	}
	return ""
}

// barred says why task i cannot begin now, whoever does it, or "".
func (a asker) barred(i int, o outlook, fix board.Fix) string {
	p := o.power.State
	switch {
	case o.gone:
		return o.robot.Name + " fights first."
	case fix.Where != board.OffRobot && p.Energised():
		return fmt.Sprintf("%s is %s: hands out.", o.robot.Name, p)
	case fix.Lockout && p != board.Verified && p != board.Work:
		return fmt.Sprintf("%s is %s: it is made safe and verified first.", o.robot.Name, p)
	case fix.Lockout && a.firstInOf(o.robot.ID) != "":
		return a.firstInOf(o.robot.ID)
	case fix.PackOut && len(a.s.PacksToPlace(o.robot.ID)) > 0 && setAside(a.s.PacksToPlace(o.robot.ID)[0].State):
		return fmt.Sprintf("Pack %s of %s is set aside: event safety says what becomes of it.", a.s.PacksToPlace(o.robot.ID)[0].Name, o.robot.Name)
	case fix.PackOut && len(a.s.PacksToPlace(o.robot.ID)) > 0:
		return fmt.Sprintf("Pack %s must be out of %s: say where it is now.", a.s.PacksToPlace(o.robot.ID)[0].Name, o.robot.Name)
	case a.jobs[i].HeldFor == board.HoldPart:
		return held(a.jobs[i])
	}
	return ""
}

// tightFor is what holds task i back, where that is a person or a station.
func (a asker) tightFor(i int) string {
	if why := a.tight(i); why.Kind != CauseClock {
		return why.Text
	}
	return ""
}

// firstInOf says whose the open first-in lines of a robot are, or "".
func (a asker) firstInOf(robot board.RobotID) string {
	sheet, ok := a.s.Sheet(robot, board.ListFirstIn)
	if !ok || sheet.State != board.SheetOpen {
		return ""
	}
	l, _ := sheet.OpenLine()
	for _, h := range a.s.HandsOn(robot) {
		if h.Tag != "" && h.Person != a.who.ID {
			return fmt.Sprintf("First in is %s's: %s", a.s.People[h.Person].Name, l.Ask)
		}
	}
	if a.who.AuthorisedFor(a.s.Robots[robot]) {
		return ""
	}
	return "First in comes before anything else: " + l.Ask
}
