package forecast

import (
	"cmp"
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
)

// ChannelView is a charger's channel on the captain's time line
// (channelview/<channelID>): the charge that is on it and those planned for it.
type ChannelView struct {
	Channel board.ChannelID `json:"channel"`
	Bars    []ChargeBar     `json:"bars"`
}

// ChargeBar is one charge: solid to EndAt, broken to BadAt.
type ChargeBar struct {
	Pack    board.PackID  `json:"pack"`
	For     board.RobotID `json:"for,omitzero"`
	Running bool          `json:"running"`
	StartAt board.Moment  `json:"startAt"`
	EndAt   board.Moment  `json:"endAt"`
	BadAt   board.Moment  `json:"badAt"`
	Amps    float64       `json:"amps"`
	// VA is what it draws at most.
	VA int `json:"va"`
	// NeededAt is when its robot must have it; Late says that BadAt is past that.
	NeededAt board.Moment `json:"neededAt,omitzero"`
	Late     bool         `json:"late"`
}

// CircuitView is a mains circuit's load line (circuitview/<circuitID>) beside what
// may be drawn by the figures that someone entered.
type CircuitView struct {
	Circuit  board.CircuitID `json:"circuit"`
	BudgetVA int             `json:"budgetVA"`
	// Load holds the draw of the charges, from each moment to the next.
	Load []LoadStep `json:"load"`
	Over bool       `json:"over"`
	Off  bool       `json:"off"`
}

// LoadStep is a draw from a moment on.
type LoadStep struct {
	At board.Moment `json:"at"`
	VA int          `json:"va"`
}

// placed is a charge that has its time: on a channel of a kind, from second to second.
type placed struct {
	charging
	way            chargeWay
	startSec, stop int32
}

// chargeViews lays out by channel and by circuit what is on charge and planned: the
// charges that robots wait for, and in what is left beside them all other packs.
func (c *schedule) chargeViews(all []placed) ([]ChannelView, []CircuitView) {
	bars := map[board.ChannelID][]ChargeBar{}
	load := map[board.CircuitID][]ChargeBar{}
	busy := map[board.ChannelID]int32{}
	for _, k := range all {
		ch := c.channelFor(k, busy)
		busy[ch.ID] = k.stop
		bar := c.bar(k)
		bars[ch.ID] = append(bars[ch.ID], bar)
		load[ch.Circuit] = append(load[ch.Circuit], bar)
	}
	var channels []ChannelView
	for _, ch := range liveChannels(c.s) {
		list := append([]ChargeBar{}, bars[ch.ID]...)
		slices.SortFunc(list, func(a, b ChargeBar) int { return cmp.Compare(a.StartAt, b.StartAt) })
		channels = append(channels, ChannelView{ch.ID, list})
	}
	var circuits []CircuitView
	for _, k := range board.Sorted(c.s.Circuits, func(k board.Circuit) string { return k.Name }) {
		if !k.Retired {
			circuits = append(circuits, circuitView(k, load[k.ID]))
		}
	}
	return channels, circuits
}

// allCharges lists the charges that robots wait for, and beside them those for later
// fights and of all other packs.
func (c *schedule) allCharges(later []lateSet, seed uint64) []placed {
	all := c.placed(c.charges, c.charged)
	all = append(all, c.others(all, later, seed)...)
	slices.SortStableFunc(all, inTurn)
	return all
}

func runningFirst(k placed) int {
	if k.running() {
		return 0
	}
	return 1
}

// placed are the charges that a plan keeps.
func (c *schedule) placed(charges []charging, tasks []plan.TaskPlan) []placed {
	var list []placed
	for k, t := range tasks {
		if t.State == plan.Kept {
			list = append(list, placed{charges[k], charges[k].ways[t.Way], t.StartSec, t.FinishSec})
		}
	}
	return list
}

// others plans the packs that no next fight waits for, beside the charges that have
// their time: those for later fights first.
func (c *schedule) others(taken []placed, later []lateSet, seed uint64) []placed {
	var problem plan.Problem
	if len(liveChannels(c.s)) == 0 {
		return nil
	}
	supply := c.packs.supply(&problem, c.attendantsAway())
	problem.Groups = []plan.Group{{Room: 1, DeadlineSec: plan.NoDeadline}}
	planned := map[board.PackID]bool{}
	for _, k := range taken {
		planned[k.pack.ID] = true
		for _, n := range supply.way(k.way).Needs {
			pool := &problem.Pools[n.Pool]
			pool.Taken = append(slices.Clone(pool.Taken), plan.Taken{Window: plan.Window{FromSec: k.startSec, ToSec: k.stop}, Count: n.Count})
		}
	}
	charges := c.lateTasks(&problem, &supply, later, planned)
	for _, p := range packsByName(c.s) {
		if planned[p.ID] || !chargeable(p) {
			continue
		}
		if k, task, ok := supply.task(p, need{}); ok {
			problem.Tasks = append(problem.Tasks, task)
			charges = append(charges, k)
		}
	}
	if len(charges) == 0 {
		return nil
	}
	return c.placed(charges, plan.Solve(problem, chargeBudget, seed).Tasks)
}

// channelFor is the channel that a charge is on, or of those of its kind that are free
// when it begins the one that people were told, or else the first.
func (c *schedule) channelFor(k placed, busy map[board.ChannelID]int32) board.Channel {
	if k.running() {
		return k.way.channel
	}
	told, _ := c.s.Follow().Charge(k.pack.ID)
	best := k.way.channel
	for _, ch := range slices.Backward(liveChannels(c.s)) {
		free := kindOf(ch) == kindOf(k.way.channel) && busy[ch.ID] <= k.startSec
		if free && ch.ID == told.Channel {
			return ch
		}
		if free {
			best = ch
		}
	}
	return best
}

// bar draws a charge. Its ends are cut up to a minute where its start is, so that the
// next on the channel begins at its end or later. One that is past its time ends soon.
func (c *schedule) bar(k placed) ChargeBar {
	from := plusSec(c.at, int(k.startSec))
	end := plusSec(c.at, int(k.stop))
	if k.running() {
		from = k.pack.UsedAt
		end = max(plusSec(from, int(k.way.takes.likely)), plusSec(c.at, overdueSec))
	}
	b := ChargeBar{
		Pack: k.pack.ID, For: k.need.robot, Running: k.running(), StartAt: wholeMinute(from), EndAt: wholeMinute(end),
		Amps: k.way.amps, VA: k.way.va(), NeededAt: k.need.by,
	}
	b.BadAt = max(wholeMinute(plusSec(from, int(k.way.takes.high))), b.EndAt)
	b.Late = k.need.by != 0 && b.BadAt > k.need.by
	return b
}

// chargesOf lists the charges that the robot of group g waits for.
func (c *schedule) chargesOf(g int) []int {
	var list []int
	for k := range c.charges {
		if c.charges[k].need.robot == c.robots[g].robot.ID {
			list = append(list, k)
		}
	}
	return list
}

// lastCharge is the charge that the robot of group g waits for longest, -1 for none.
func (c *schedule) lastCharge(g int) int {
	last := -1
	for _, k := range c.chargesOf(g) {
		if last < 0 || c.charged[last].State == plan.Kept && (c.charged[k].State != plan.Kept || c.charged[k].FinishSec > c.charged[last].FinishSec) {
			last = k
		}
	}
	return last
}

// chargedBy is when the packs that the robot of group g waits for are charged by the
// plan, 0 where it waits for none.
func (c *schedule) chargedBy(g int) board.Moment {
	k := c.lastCharge(g)
	if k < 0 {
		return 0
	}
	return c.moment(c.charged[k].FinishSec)
}

// chargeCause names the pack that keeps the robot of group g.
func (c *schedule) chargeCause(g int) Cause {
	k := c.lastCharge(g)
	name, t := c.charges[k].pack.Name, c.charged[k]
	if t.State != plan.Kept {
		return Cause{Kind: CauseOfCharge, Text: fmt.Sprintf("No channel can charge pack %s.", name)}
	}
	text := fmt.Sprintf("Pack %s is charged at %s, and must go in by %s.", name, c.s.Clock(c.moment(t.FinishSec)), c.s.Clock(c.robots[g].workBy))
	if start := c.moment(t.StartSec); t.StartSec > c.whole.Tasks[len(c.jobs)+k].EarliestSec+60 {
		text += fmt.Sprintf(" Until %s it waits for a channel, for power or for someone to attend.", c.s.Clock(start))
	}
	return Cause{Kind: CauseOfCharge, Text: text}
}

// packless says what the robot of group g lacks that is neither ready nor planned to
// be charged, or "".
func (c *schedule) packless(g int) string {
	for _, set := range c.sets {
		if set.robot.ID != c.robots[g].robot.ID {
			continue
		}
		there := 0
		for _, p := range set.packs {
			planned := slices.ContainsFunc(c.chargesOf(g), func(k int) bool { return c.charges[k].pack.ID == p.ID })
			if set.ready(p) || planned {
				there++
			}
		}
		if there < set.robot.Takes(set.use) {
			return c.packs.lacks(set)
		}
	}
	return ""
}

func circuitView(k board.Circuit, bars []ChargeBar) CircuitView {
	v := CircuitView{Circuit: k.ID, BudgetVA: budgetVA(k), Load: []LoadStep{}, Off: k.OffAt != 0}
	var edges []board.Moment
	for _, b := range bars {
		edges = append(edges, b.StartAt, b.EndAt)
	}
	slices.Sort(edges)
	for _, at := range slices.Compact(edges) {
		step := LoadStep{At: at}
		for _, b := range bars {
			if b.StartAt <= at && at < b.EndAt {
				step.VA += b.VA
			}
		}
		v.Load = append(v.Load, step)
		v.Over = v.Over || step.VA > v.BudgetVA
	}
	return v
}

// wholeMinute is m cut up to a minute, so that few views change between minutes.
func wholeMinute(m board.Moment) board.Moment {
	const minute = 60_000
	return (m + minute - 1) / minute * minute
}
