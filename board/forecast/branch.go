package forecast

import (
	"mendline/board"
	"mendline/board/plan"
)

// branch says what fight b, which depends on a result that is still out or comes after
// the next, leaves to work in, and whether the work that is known now makes its call.
func (c *schedule) branch(g int, b Branch) Branch {
	b.Flag = FlagNoCall
	if b.CallAt == (Spread{}) {
		return b
	}
	x := c.afterHinge(g, c.s.Fights[b.Fight])
	b.HandsOnSec = max(secUntil(x.from, b.CallAt.Median)-x.afterSec, 0)
	b.ReadyAt = plusSec(x.ready, x.afterSec)
	b.ShortSec = max(secUntil(b.CallAt.Median, b.ReadyAt), 0)
	switch {
	case b.ShortSec > 0:
		b.Flag = FlagWontFinish
	case plusSec(x.bad, x.afterSec) > b.CallAt.Median:
		b.Flag = FlagTight
	default:
		b.Flag = FlagNone
	}
	return b
}

// turnaround is the stretch between two fights: from when there can be hands in
// the robot, when the last work is done by the plan and in the bad case, and what
// the sheets take after that.
type turnaround struct {
	from, ready, bad board.Moment
	afterSec         int
}

// afterHinge is the turnaround before a branch. While the fight before it is still to
// come, nothing is known of what that leaves to do.
func (c *schedule) afterHinge(g int, b board.Fight) turnaround {
	o := c.robots[g]
	if !o.gone && (b.After == o.fight.ID || !pending(c.s, b)) {
		from := plusSec(o.times.start.Median, matchSec+o.robot.BeforeSec)
		return turnaround{from, from, from, o.robot.AfterSec}
	}
	end, bad := c.workEnds(g)
	return turnaround{o.workFrom, end, bad, o.afterSec}
}

// workEnds is when the last work on the robot of group g is done, by the plan and
// in the bad case.
func (c *schedule) workEnds(g int) (end, bad board.Moment) {
	end, bad = c.robots[g].workFrom, c.robots[g].workFrom
	for i := range c.jobs {
		if c.problem.Tasks[i].Group == g && c.kept(i) {
			end = max(end, c.moment(c.plan.Tasks[i].FinishSec))
			bad = max(bad, c.moment(c.badSec[i]))
		}
	}
	for i := c.sheets.from; i < len(c.wholePlan.Tasks); i++ {
		if t, _ := c.sheets.at(i); t.robot == g && t.damage() != "" && c.wholePlan.Tasks[i].State == plan.Kept {
			end = max(end, c.moment(c.wholePlan.Tasks[i].FinishSec))
			bad = max(bad, c.moment(c.badEnd(i)))
		}
	}
	return end, bad
}

// postponement says whether fight f, if it is to come, may be postponed.
func postponement(s board.State, f board.Fight, at board.Moment) *Postpone {
	sec := s.Event().PostponeSec
	if sec == 0 || f.State != board.FightPlanned {
		return nil
	}
	may, why := s.MayPostpone(f, at)
	return &Postpone{Sec: sec, May: may, Why: why, Granted: f.Postponed.At}
}
