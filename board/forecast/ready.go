package forecast

import (
	"slices"

	"mendline/board"
	"mendline/board/plan"
)

// calls writes each robot's call with the planned moment at which it is ready.
func (c *schedule) calls() []Call {
	list := make([]Call, len(c.robots))
	for g, o := range c.robots {
		call := o.call()
		call.HandsOnSec = o.handsOnSec(c.at)
		call.Uninspected = uninspected(c.s, o.robot.ID)
		if o.called() && !call.OnNow {
			c.readiness(g, &call)
		}
		for k, b := range call.Branches {
			call.Branches[k] = c.branch(g, b)
		}
		call.Postpone = postponement(c.s, o.fight, c.at)
		list[g] = call.rounded()
	}
	return list
}

func (o outlook) call() Call {
	c := Call{Robot: o.robot.ID, Flag: FlagNoCall, Branches: o.branches}
	switch {
	case o.robot.Withdrawn:
		c.Cause = Cause{Kind: CauseClock, Text: o.robot.Name + " is withdrawn: no more calls."}
	case !o.has:
		c.Cause = Cause{Kind: CauseClock, Text: "No fight of " + o.robot.Name + " is in the running order."}
	case !o.times.known:
		c.Cause = Cause{Kind: CauseClock, Text: o.times.why}
	default:
		c.Flag = FlagNone
	}
	f := o.fight
	c.Fight, c.Arena, c.Number, c.Opponent, c.If = f.ID, f.Arena, f.Number, f.Opponent, f.If
	c.StartAt, c.CallAt, c.CallNow = o.times.start, o.times.call, o.times.callNow
	c.OnNow = f.State == board.FightOn
	return c
}

// handsOnSec is the time to the call less the overheads; 0 when the robot is in
// the arena, and when there is no call.
func (o outlook) handsOnSec(at board.Moment) int {
	switch {
	case !o.called() || o.fight.State == board.FightOn:
		return 0
	case o.gone:
		return max(secUntil(at, o.times.call.Median)-o.leftSec, 0)
	}
	return max(secUntil(o.workFrom, o.workBy), 0)
}

// readiness fills in when the robot of group g is ready for its call, and the
// flag with its cause.
func (c *schedule) readiness(g int, call *Call) {
	o := c.robots[g]
	if o.gone {
		call.ReadyAt = c.at
		if i := lastSheets(c, c.sheets.groups[g]); i >= 0 {
			call.ReadyAt = c.moment(c.wholePlan.Tasks[i].FinishSec)
		}
		call.ReadyBadAt = max(call.ReadyAt, c.readyBad(g))
		c.judge(g, call)
		return
	}
	end, _ := c.workEnds(g)
	call.NeedSec = secUntil(o.workFrom, end)
	if c.never(g) == (Cause{}) {
		call.ReadyAt = c.moment(c.plan.Groups[g].ReadySec)
		call.ReadyBadAt = max(call.ReadyAt, c.readyBad(g))
	}
	c.judge(g, call)
}

func (c *schedule) judge(g int, call *Call) {
	o := c.robots[g]
	tightBelow, wontBelow := c.s.Event().Thresholds()
	call.ShortSec = max(secUntil(call.CallAt.Median, call.ReadyAt), 0)
	switch {
	case !o.gone && c.never(g) != (Cause{}):
		call.Flag, call.Cause, call.ShortSec = FlagWontFinish, c.never(g), 0
	case call.ShortSec > 0:
		call.Flag, call.Cause = FlagWontFinish, c.lateCause(g, *call)
		if i := c.heldMust(g); i >= 0 && call.Cause.Kind == CauseClock {
			call.Cause = c.about(i, Cause{Kind: CausePart, Text: held(c.jobs[i])})
		}
	case c.readyOf(g) < wontBelow:
		call.Flag, call.Cause = FlagWontFinish, c.why(g)
	case c.heldMust(g) >= 0:
		i := c.heldMust(g)
		call.Flag, call.Cause = FlagTight, c.about(i, Cause{Kind: CausePart, Text: held(c.jobs[i])})
	default:
		call.Flag, call.Cause = c.doubts(g, call.Uninspected)
	}
	if call.Flag == FlagNone && c.readyOf(g) < tightBelow {
		call.Flag, call.Cause = FlagTight, c.why(g)
		if call.Uninspected && !o.gone && call.Cause.Kind == CauseClock && call.Cause.Job == 0 {
			call.Cause.Text = "It is not inspected yet. " + call.Cause.Text
		}
	}
}

// never is why a must of group g cannot be done, or why there is no pack to fight with;
// empty where it may yet be ready.
func (c *schedule) never(g int) Cause {
	if lacks := c.packs.noSet(c.sets, c.robots[g].robot.ID); lacks != "" {
		return Cause{Kind: CauseOfCharge, Text: lacks}
	}
	if !c.plan.Groups[g].Never {
		return Cause{}
	}
	if never := sheetsNever(c, g); never != (Cause{}) {
		return never
	}
	for i, t := range c.plan.Tasks {
		if c.problem.Tasks[i].Group == g && t.State == plan.Blocked {
			return c.blocked(i)
		}
	}
	if c.lastCharge(g) >= 0 {
		return c.chargeCause(g)
	}
	return Cause{}
}

// heldMust is a must of group g that waits for a part, -1 for none.
func (c *schedule) heldMust(g int) int {
	return slices.IndexFunc(c.jobs, func(j board.Job) bool {
		i := c.taskOf(j.ID)
		_, waits := partOf(j, c.at)
		return c.problem.Tasks[i].Group == g && !c.robots[g].gone && j.Blocking() && waits
	})
}

// doubts flags a robot whose plan fits but that nobody should be sure of: hit
// hard and not inspected, or with no pack to fight with and none that can be charged.
func (c *schedule) doubts(g int, uninspected bool) (Flag, Cause) {
	o := c.robots[g]
	if uninspected && hitHard(c.s, o.robot.ID) {
		return FlagTight, Cause{Kind: CauseClock, Text: o.robot.Name + " was hit hard and is not inspected: what it broke is not known yet."}
	}
	if barred := c.barred(); barred != (Cause{}) {
		return FlagTight, barred
	}
	if lacks := c.packless(g); lacks != "" {
		return FlagTight, Cause{Kind: CauseOfCharge, Text: lacks}
	}
	return FlagNone, Cause{}
}
