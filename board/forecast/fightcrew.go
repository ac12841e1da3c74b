package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/work"
)

// overThere tells whether a robot is to be brought back before anything else is done on it.
func (o outlook) overThere() bool { return len(o.work) > 0 && o.work[0].Step == work.CarryBack }

// bringBack sends those who went to a fight back with its robot, unless they are on a job.
func (a asker) bringBack() (Todo, bool) {
	if _, busy := a.runningJob(); busy {
		return Todo{}, false
	}
	for _, o := range a.robots {
		if o.overThere() && slices.Contains(o.work[0].May, a.who.ID) {
			return a.back(o), true
		}
	}
	return Todo{}, false
}

func (a asker) back(o outlook) Todo {
	t := Todo{Act: ActCarry, Robot: o.robot.ID, Title: "Bring " + o.robot.Name + " back", Where: a.place(o.robot.ID), Why: "Its fight is over."}
	if _, l, due := a.dueSheet(o); due && l.ID == "lock" {
		t.Why += " Its weapon lock goes in before it leaves."
	}
	return t
}

// staging sends those who go to a fight with a robot on their way: to staging when the way
// there is all the time that is left, and back when the fight is over. Before that they
// are told when to go.
func (a asker) staging() (Todo, bool) {
	for _, o := range a.robots {
		i := slices.IndexFunc(o.work, func(i work.Item) bool { return !i.Step.OnSheets() && i.Step != work.Job })
		ready := o.power.State == board.Ready || o.power.State == board.Live
		switch {
		case i < 0 || !slices.Contains(o.work[i].May, a.who.ID):
		case o.work[i].Step == work.CarryBack && !o.power.State.Energised():
			return a.back(o), true
		case o.work[i].Step == work.Fight && ready && o.has:
			return Todo{Act: ActFight, Robot: o.robot.ID, Title: upper(fightName(o.fight)) + ": " + o.robot.Name, Where: a.place(o.robot.ID)}, true
		case o.work[i].Step == work.Carry && o.power.State == board.Ready && o.called():
			return a.toStaging(o, o.work[i]), true
		}
	}
	return Todo{}, false
}

func (a asker) toStaging(o outlook, carry work.Item) Todo {
	t := Todo{Act: ActWait, Robot: o.robot.ID, Title: "Take " + o.robot.Name + " to staging", Where: a.place(o.robot.ID)}
	t.Why = fmt.Sprintf("Called for %s.", fightName(o.fight))
	if !o.times.callNow {
		t.Why = fmt.Sprintf("Its call for %s is expected at %s.", fightName(o.fight), a.s.Clock(nearest(o.times.call.Median)))
	}
	if plusSec(a.at, int(carry.Times.BadSec)) >= o.times.call.Median {
		t.Act = ActCarry
	}
	return t
}

// likelySoonSec is how far ahead someone who is free is told what they wait for.
const likelySoonSec = 15 * 60

// stepWords say what is done on a robot in a step of its sheets.
var stepWords = map[work.Step]string{
	work.MakeSafe: "make %s safe", work.Verify: "verify %s", work.FirstIn: "go in first on %s", work.Inspect: "inspect %s",
	work.CloseUp: "close %s up", work.Test: "test %s", work.Weigh: "weigh %s", work.Sign: "sign %s ready",
}

func stepOn(step work.Step, r board.Robot) string { return fmt.Sprintf(stepWords[step], r.Name) }

// toCome is what the plan has the person on next, where that is sheets: soon, or else they
// are free until then. Of damage without a job nobody is told: there is no job to begin.
func (a asker) toCome() (Todo, bool) {
	next := -1
	for i := a.sheets.from; i < len(a.wholePlan.Tasks); i++ {
		sheets, _ := a.sheets.at(i)
		if sheets.damage() == "" && a.onLater(i) && (next < 0 || a.wholePlan.Tasks[i].StartSec < a.wholePlan.Tasks[next].StartSec) {
			next = i
		}
	}
	if next < 0 {
		return Todo{}, false
	}
	sheets, _ := a.sheets.at(next)
	r, at := a.robots[sheets.robot].robot, a.s.Clock(nearest(a.moment(a.wholePlan.Tasks[next].StartSec)))
	does := stepOn(sheets.items[0].Step, r)
	if a.wholePlan.Tasks[next].StartSec > likelySoonSec {
		return Todo{Act: ActNone, Title: free, Why: fmt.Sprintf("Next likely: %s, about %s.", does, at)}, true
	}
	return Todo{Act: ActWait, Robot: r.ID, Title: upper(does), Where: a.place(r.ID), Why: fmt.Sprintf("Planned for %s.", at)}, true
}

// free is what someone is told for whom there is nothing yet.
const free = "You’re free."
