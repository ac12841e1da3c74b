package forecast

import (
	"math"
	"slices"

	"mendline/board"
	"mendline/board/charge"
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

// What counts where nobody entered better: the part of a circuit's rating that is
// used (the inverse of the rule of 125 % for continuous loads, elsewhere a habit), the
// chargers' efficiency (common practice), and how long reading the cells takes.
const (
	circuitShare   = 0.8
	chargerShare   = 0.85
	readCellsSec   = 120
	unitVA         = 10
	chargeBudget   = 60
	chargePlanHour = 3600
)

// chargePlanning turns the packs that wait into tasks of the planner: one task a
// charge, ways by channel and power, circuits and chargers as pools.
type chargePlanning struct {
	packing
	problem  plan.Problem
	packs    []board.Pack // by task
	needs    []need       // by task
	ways     [][]chargeWay
	channels map[board.ChannelID]int
	circuits map[board.CircuitID]int
	chargers map[string]int
	crew     int
}

type chargeWay struct {
	channel board.Channel
	amps    float64
	watts   float64
	takes   span
}

// need is what a pack is wanted for.
type need struct {
	robot board.RobotID
	by    board.Moment
}

func (c packing) chargePlan(robots []outlook, seed uint64) ([]ChannelView, []CircuitView) {
	g := &chargePlanning{packing: c, channels: map[board.ChannelID]int{}, circuits: map[board.CircuitID]int{}, chargers: map[string]int{}}
	g.pools(robots)
	wanted := c.wanted(robots)
	for _, p := range packsByName(c.s) {
		g.pose(p, wanted[p.ID])
	}
	var answer plan.Plan
	if len(g.problem.Tasks) > 0 {
		answer = plan.Solve(g.problem, chargeBudget, seed)
	}
	return g.views(answer)
}

// wanted gives each robot without a pack that is ready the one of its packs that
// could be ready soonest.
func (c packing) wanted(robots []outlook) map[board.PackID]need {
	wanted := map[board.PackID]need{}
	for _, o := range robots {
		if !o.called() || packless(c.s, o.robot) == "" {
			continue
		}
		best, soonest := board.PackID(""), 0.0
		for _, p := range packsByName(c.s) {
			takes, ok := c.soonest(p)
			if _, taken := wanted[p.ID]; !ok || taken || !chargeable(p) || p.Use != board.UseMain || !slices.Contains(p.Fits, o.robot.ID) {
				continue
			}
			if from := takes.likely + c.releaseSec(p); best == "" || from < soonest {
				best, soonest = p.ID, from
			}
		}
		if best != "" {
			wanted[best] = need{o.robot.ID, o.workBy}
		}
	}
	return wanted
}

func chargeable(p board.Pack) bool {
	return p.State == board.PackWaiting || p.State == board.PackCooling || p.State == board.PackCharging
}

// releaseSec is when p may go on a channel: cooled at the bad case, and its cells
// read.
func (c packing) releaseSec(p board.Pack) float64 {
	if p.State != board.PackCooling {
		return 0
	}
	if cool, err := c.cooling(p); err == nil {
		return cool.high + readCellsSec
	}
	return chargePlanHour
}

// pools are the channels, the chargers' and circuits' power, and those who attend.
func (g *chargePlanning) pools(robots []outlook) {
	pool := func(capacity int) int {
		g.problem.Pools = append(g.problem.Pools, plan.Pool{Capacity: min(max(capacity, 0), plan.MaxCapacity)})
		return len(g.problem.Pools) - 1
	}
	for _, k := range sorted(g.s.Circuits, func(k board.Circuit) string { return k.Name }) {
		if !k.Retired {
			g.circuits[k.ID] = pool(budgetVA(k) / unitVA)
		}
	}
	for _, ch := range liveChannels(g.s) {
		g.channels[ch.ID] = pool(1)
		if _, ok := g.chargers[ch.Charger]; !ok {
			g.chargers[ch.Charger] = pool(int(ch.ChargerWatts) / unitVA)
		}
	}
	g.crew = pool(attendable(g.s))
	g.problem.Pools[g.crew].Taken = g.awayAtFights(robots)
	g.problem.Groups = []plan.Group{{Room: 1, DeadlineSec: plan.NoDeadline}}
}

func liveChannels(s board.State) []board.Channel {
	all := sorted(s.Channels, func(ch board.Channel) string { return ch.Name })
	return slices.DeleteFunc(all, func(ch board.Channel) bool { return ch.Retired })
}

// budgetVA is what the chargers may draw of a circuit as it was entered, 0 where it is
// off or nothing is left.
func budgetVA(k board.Circuit) int {
	if k.OffAt != 0 {
		return 0
	}
	va, err := charge.Mains{Volts: k.Volts, Amps: k.RatingAmps, Share: circuitShare, OthersVA: k.OtherAmps * k.Volts}.BudgetVA()
	if err != nil {
		return 0
	}
	return int(va)
}

// attendable is how many charges all who may attend can attend.
func attendable(s board.State) int {
	n := 0
	for _, who := range s.People {
		if !who.Retired && !who.Minor && !who.Guest {
			n += s.Event().AttendantMost
		}
	}
	return n
}

// awayAtFights takes each driver's charges off while their robot is at its fight.
func (g *chargePlanning) awayAtFights(robots []outlook) []plan.Taken {
	var taken []plan.Taken
	for _, o := range robots {
		who, ok := g.s.People[o.robot.Driver]
		if !ok || !o.called() || who.Minor || who.Guest {
			continue
		}
		from := min(max(int32(secUntil(g.at, o.times.call.Median)), 0), plan.HorizonSec)
		to := min(max(int32(secUntil(g.at, o.times.start.Median))+matchSec+returnSec, from), plan.HorizonSec)
		if to > from {
			taken = append(taken, plan.Taken{Window: plan.Window{FromSec: from, ToSec: to}, Count: g.s.Event().AttendantMost})
		}
	}
	return taken
}

// pose makes a task of p if it charges or waits to.
func (g *chargePlanning) pose(p board.Pack, n need) {
	if !chargeable(p) {
		return
	}
	task := plan.Task{EarliestSec: int32(g.releaseSec(p))}
	var ways []chargeWay
	if p.State == board.PackCharging {
		takes, ok := g.takes(p, g.s.Channels[p.Channel], p.Amps)
		if !ok {
			return
		}
		ch := g.s.Channels[p.Channel]
		ways = []chargeWay{{ch, p.Amps, g.wattsOf(p, ch, p.Amps), takes}}
		left := max(int32(takes.likely)-int32(secUntil(p.UsedAt, g.at)), 60)
		task.EarliestSec, task.Running = 0, &plan.Running{LeftSec: left}
	} else {
		ways = g.waysOf(p)
	}
	if len(ways) == 0 {
		return
	}
	for _, w := range ways {
		task.Ways = append(task.Ways, g.way(w))
	}
	if n.robot != "" {
		deadline := min(max(int32(secUntil(g.at, n.by)), 0), plan.NoDeadline)
		g.problem.Groups = append(g.problem.Groups, plan.Group{Room: 1, DeadlineSec: deadline, Weight: max(g.s.Robots[n.robot].Weight, 1)})
		task.Group = len(g.problem.Groups) - 1
	}
	g.problem.Tasks = append(g.problem.Tasks, task)
	g.packs, g.needs, g.ways = append(g.packs, p), append(g.needs, n), append(g.ways, ways)
}

// waysOf are the channels that take p, each at full current and at two thirds.
func (g *chargePlanning) waysOf(p board.Pack) []chargeWay {
	var ways []chargeWay
	for _, ch := range channelsFor(g.s, p) {
		if g.s.Circuits[ch.Circuit].OffAt != 0 {
			continue
		}
		for _, part := range []float64{1, 2.0 / 3} {
			amps := math.Floor(100*part*mostAmps(p, ch)+1e-9) / 100 // never above the limit
			if takes, ok := g.takes(p, ch, amps); ok {
				ways = append(ways, chargeWay{ch, amps, g.wattsOf(p, ch, amps), takes})
			}
		}
	}
	return ways
}

// wattsOf is the most a charge puts into p.
func (g *chargePlanning) wattsOf(p board.Pack, ch board.Channel, amps float64) float64 {
	return min(amps*float64(p.Cells)*charge.LimitsOf(charge.Chemistry(p.Chemistry)).ChargeVolts, ch.MaxWatts)
}

func (w chargeWay) va() int {
	return int(charge.InputVA(w.watts, chargerShare, w.channel.PowerFactor, 0) + 0.5)
}

func (g *chargePlanning) way(w chargeWay) plan.Way {
	needs := []plan.Need{{Pool: g.channels[w.channel.ID], Count: 1}, {Pool: g.crew, Count: 1}}
	if pool, ok := g.chargers[w.channel.Charger]; ok {
		needs = append(needs, plan.Need{Pool: pool, Count: min(int(w.watts)/unitVA, g.problem.Pools[pool].Capacity)})
	}
	if pool, ok := g.circuits[w.channel.Circuit]; ok {
		needs = append(needs, plan.Need{Pool: pool, Count: (w.va() + unitVA - 1) / unitVA})
	}
	return plan.Way{DurationSec: int32(w.takes.likely), Place: plan.Off, Needs: needs}
}

// views lays the answer out by channel and by circuit.
func (g *chargePlanning) views(answer plan.Plan) ([]ChannelView, []CircuitView) {
	bars := map[board.ChannelID][]ChargeBar{}
	load := map[board.CircuitID][]ChargeBar{}
	for k, task := range answer.Tasks {
		if task.State != plan.Kept {
			continue
		}
		w := g.ways[k][task.Way]
		bar := g.bar(k, w, task)
		bars[w.channel.ID] = append(bars[w.channel.ID], bar)
		load[w.channel.Circuit] = append(load[w.channel.Circuit], bar)
	}
	var channels []ChannelView
	for _, ch := range liveChannels(g.s) {
		list := append([]ChargeBar{}, bars[ch.ID]...)
		slices.SortFunc(list, func(a, b ChargeBar) int { return int(a.StartAt - b.StartAt) })
		channels = append(channels, ChannelView{ch.ID, list})
	}
	var circuits []CircuitView
	for _, k := range sorted(g.s.Circuits, func(k board.Circuit) string { return k.Name }) {
		if !k.Retired {
			circuits = append(circuits, circuitView(k, load[k.ID]))
		}
	}
	return channels, circuits
}

func (g *chargePlanning) bar(k int, w chargeWay, task plan.TaskPlan) ChargeBar {
	p, n := g.packs[k], g.needs[k]
	start := wholeMinute(plusSec(g.at, int(task.StartSec)))
	if p.State == board.PackCharging {
		start = wholeMinute(p.UsedAt)
	}
	b := ChargeBar{
		Pack: p.ID, For: n.robot, Running: p.State == board.PackCharging, StartAt: start,
		EndAt: wholeMinute(plusSec(start, int(w.takes.likely))), BadAt: wholeMinute(plusSec(start, int(w.takes.high))),
		Amps: w.amps, VA: w.va(), NeededAt: n.by,
	}
	b.Late = n.by != 0 && b.BadAt > n.by
	return b
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
