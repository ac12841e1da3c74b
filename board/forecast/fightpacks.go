package forecast

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/plan"
	"mendline/board/work"
)

// FightPacks is what packs a robot has for one of its fights to come
// (fightpacks/<fightID>): for the next as it is planned, for later ones as it looks
// now.
type FightPacks struct {
	Fight board.FightID `json:"fight"`
	Robot board.RobotID `json:"robot"`
	// If says that the fight exists only if another ends so.
	If board.Result `json:"if,omitzero"`
	// CallAt is the likely call, By when the packs must be in.
	CallAt board.Moment `json:"callAt"`
	By     board.Moment `json:"by"`
	Packs  []FightPack  `json:"packs"`
	// Lacks says what the set lacks that nothing is planned for.
	Lacks string `json:"lacks,omitzero"`
	// Late: in the bad case one of them is ready too late.
	Late bool `json:"late"`
}

// FightPack is a pack of a set.
type FightPack struct {
	Pack board.PackID `json:"pack"`
	// ReadyAt is when it is charged by the plan, BadAt in the bad case; none where it
	// is ready. A forecast: only a reading makes it charged.
	ReadyAt board.Moment `json:"readyAt,omitzero"`
	BadAt   board.Moment `json:"badAt,omitzero"`
	// After is the fight that it comes back from first.
	After board.FightID `json:"after,omitzero"`
}

// A pack that comes back from a fight was never measured: it is warm and partly
// empty. Our own guesses, until the pack has cooled and the robot has fought often
// enough for its own figures.
var (
	coolGuess = span{10 * 60, 20 * 60, 40 * 60}
	usedGuess = span{0.4, 0.6, 0.8} // of what it holds
)

// Where a pack comes out of a fight, and has been read to have cooled so far.
const outC, roomC = 50.0, 22.0

// lateSet is a set of packs for a fight after the next.
type lateSet struct {
	fight board.Fight
	out   outlook
	set   packSet
	// from is the fight that each comes back from, "" for those at hand.
	from []board.FightID
}

// lateSets chooses packs for the fights after the next, in the order of their calls:
// of those at hand what the next fights leave, and those that come back from a fight.
// Of fights that depend on an open result each is chosen for as if it came.
func (c *schedule) lateSets() []lateSet {
	type coming struct {
		fight board.Fight
		out   outlook
	}
	var list []coming
	back := map[board.PackID]board.FightID{}
	ready := c.packs.readyIn()
	for _, o := range c.robots {
		next := o.fight
		for _, set := range c.sets {
			for _, p := range set.packs {
				if set.robot.ID == o.robot.ID && o.called() && set.use != board.UseTransmitter {
					back[p.ID] = next.ID
				}
			}
		}
		for _, f := range work.OpenFights(c.s, o.robot) {
			if f.ID != next.ID && o.clock[f.ID].known {
				list = append(list, coming{f, o})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b coming) int {
		return cmp.Compare(a.out.clock[a.fight.ID].call.Median, b.out.clock[b.fight.ID].call.Median)
	})
	var sets []lateSet
	for _, k := range list {
		for _, use := range fightUses {
			set, ok := c.lateSet(k.fight, k.out, use, ready, back)
			if !ok {
				continue
			}
			sets = append(sets, set)
			if !pending(c.s, k.fight) {
				for _, p := range set.set.packs {
					back[p.ID] = k.fight.ID
				}
			}
		}
	}
	return sets
}

// lateSet takes the packs that are soonest ready, of one kind.
func (c *schedule) lateSet(f board.Fight, o outlook, use board.PackUse, ready map[board.PackID]float64, back map[board.PackID]board.FightID) (lateSet, bool) {
	fit := c.packs.fitting(o.robot.ID, use)
	if len(fit) == 0 {
		return lateSet{}, false
	}
	soon := map[board.PackID]float64{}
	for _, p := range fit {
		from, used := back[p.ID]
		at, known := ready[p.ID]
		switch {
		case setAside(p.State):
		case used && use != board.UseTransmitter:
			if takes, ok := c.backIn(p, from); ok {
				soon[p.ID] = takes.likely
			}
		case known:
			soon[p.ID] = at
		}
	}
	set := lateSet{fight: f, out: o, set: packSet{o.robot, use, soonestOf(o.robot.Takes(use), fit, soon)}}
	for _, p := range set.set.packs {
		from := back[p.ID]
		if use == board.UseTransmitter {
			from = ""
		}
		set.from = append(set.from, from)
	}
	return set, true
}

// backIn is in how many seconds p is charged again if it goes into the fight and is
// cooled, read and put on the quickest channel at once.
func (c *schedule) backIn(p board.Pack, from board.FightID) (span, bool) {
	release := c.released(p, from)
	var best span
	ok := false
	for _, w := range c.waysBack(p) {
		if !ok || w.takes.likely < best.likely {
			best, ok = w.takes, true
		}
	}
	return span{release.likely + best.low, release.likely + best.likely, release.high + best.high}, ok
}

// released is in how many seconds p may be charged after a fight: back, cooled and
// read.
func (c *schedule) released(p board.Pack, from board.FightID) span {
	o := c.robots[c.groupOf(c.s.Fights[from].Robot)]
	back := math.Max(secFrom(c.at, plusSec(o.clock[from].start.Median, matchSec+returnSec)), 0)
	cool := coolGuess
	if tau, n := c.packs.learnedTau(p); n > 0 {
		sec := charge.CoolSec(outC, charge.ReadyC, roomC, tau)
		cool = span{0.8 * sec, sec, 1.3 * sec}
	}
	return span{back + cool.low + readCellsSec, back + cool.likely + readCellsSec, back + cool.high + readCellsSec}
}

// waysBack are the ways to charge p after a fight, by what its fights have taken.
func (c *schedule) waysBack(p board.Pack) []chargeWay {
	used := c.packs.usedInFight(p)
	soc := charge.SoCRange{Low: 1 - used.high, Likely: 1 - used.likely, High: 1 - used.low}
	supply := c.supply
	return supply.waysBy(p, func(ch board.Channel, amps float64) (span, bool) { return c.packs.chargeSpan(p, ch, amps, soc) })
}

// usedInFight is what part of what it holds a fight takes out of a pack: the least,
// the median and the most of what went back into it.
func (c packing) usedInFight(p board.Pack) span {
	var list []float64
	for _, r := range c.s.PackLogs[p.ID].Readings {
		if r.Fought != "" && r.ReturnedAh > 0 {
			list = append(list, min(r.ReturnedAh/p.CapacityAh, 1))
		}
	}
	if len(list) == 0 {
		return usedGuess
	}
	return span{slices.Min(list), medianOf(slices.Clone(list)), slices.Max(list)}
}

// fightPacks lists the packs of every fight to come, by call.
func (c *schedule) fightPacks(later []lateSet, charges []placed) []FightPacks {
	var list []FightPacks
	index := map[board.FightID]int{}
	view := func(f board.Fight, o outlook) *FightPacks {
		k, ok := index[f.ID]
		if !ok {
			k = len(list)
			index[f.ID] = k
			call := o.clock[f.ID].call.Median
			list = append(list, FightPacks{Fight: f.ID, Robot: o.robot.ID, If: f.If, CallAt: nearest(call), By: nearest(plusSec(call, -o.robot.AfterSec)), Packs: []FightPack{}})
		}
		return &list[k]
	}
	for _, o := range c.robots {
		for _, set := range c.sets {
			if set.robot.ID == o.robot.ID && o.called() && o.fight.State != board.FightOn {
				c.fill(view(o.fight, o), lateSet{fight: o.fight, out: o, set: set, from: make([]board.FightID, len(set.packs))}, charges)
			}
		}
	}
	for _, set := range later {
		c.fill(view(set.fight, set.out), set, charges)
	}
	slices.SortStableFunc(list, func(a, b FightPacks) int { return cmp.Compare(a.CallAt, b.CallAt) })
	return list
}

// fill adds a set of packs to what a fight has.
func (c *schedule) fill(v *FightPacks, set lateSet, charges []placed) {
	have := 0
	for k, p := range set.set.packs {
		one := FightPack{Pack: p.ID, After: set.from[k]}
		at := slices.IndexFunc(charges, func(k placed) bool {
			return k.pack.ID == p.ID && k.from == one.After
		})
		switch {
		case at >= 0:
			bar := c.bar(charges[at])
			one.ReadyAt, one.BadAt = bar.EndAt, bar.BadAt
			have++
		case one.After == "" && set.set.ready(p):
			have++
		}
		v.Late = v.Late || one.BadAt > v.By
		v.Packs = append(v.Packs, one)
	}
	if have < set.set.robot.Takes(set.set.use) && v.Lacks == "" {
		v.Lacks = c.lacks(set)
	}
}

// lacks says what a set lacks: of a fight after the next, which packs are used before.
func (c *schedule) lacks(set lateSet) string {
	said := c.packs.lacks(set.set)
	if said != "" && set.fight.ID == set.out.fight.ID {
		return said
	}
	var others []string
	for _, p := range c.packs.fitting(set.set.robot.ID, set.set.use) {
		word := packWords[p.State]
		if set.set.ready(p) {
			word = "used before"
		}
		others = append(others, p.Name+" is "+word)
	}
	return fmt.Sprintf("No channel or no %s is left for it: %s.", useWords[set.set.use], strings.Join(others, ", "))
}

// comeback is a pack that comes back from a fight.
type comeback struct {
	pack board.PackID
	from board.FightID
}

// lateTasks adds to a problem the charges for fights after the next, a group a fight. Of
// fights that exclude each other the earlier one charges a pack for both.
func (c *schedule) lateTasks(problem *plan.Problem, supply *supplies, later []lateSet, planned map[board.PackID]bool) []charging {
	var charges []charging
	groups := map[board.FightID]int{}
	back := map[comeback]bool{}
	for _, set := range later {
		g, ok := groups[set.fight.ID]
		if !ok {
			g = len(problem.Groups)
			groups[set.fight.ID] = g
			call := set.out.clock[set.fight.ID].call.Median
			problem.Groups = append(problem.Groups, plan.Group{Room: 1, Weight: set.out.robot.Weight, DeadlineSec: c.sec(plusSec(call, -set.out.robot.AfterSec))})
		}
		for k, p := range set.set.packs {
			n := need{robot: set.set.robot.ID, use: set.set.use, by: plusSec(set.out.clock[set.fight.ID].call.Median, -set.out.robot.AfterSec), fight: set.fight.ID}
			key := comeback{p.ID, set.from[k]}
			if one, task, ok := c.lateTask(supply, p, n, set.from[k], planned); ok && !back[key] {
				back[key] = true
				task.Group = g
				problem.Tasks, charges = append(problem.Tasks, task), append(charges, one)
			}
		}
	}
	return charges
}

func (c *schedule) lateTask(supply *supplies, p board.Pack, n need, from board.FightID, planned map[board.PackID]bool) (charging, plan.Task, bool) {
	if from == "" {
		if planned[p.ID] || !chargeable(p) {
			return charging{}, plan.Task{}, false
		}
		planned[p.ID] = true
		return supply.task(p, n)
	}
	one := charging{pack: p, need: n, from: from, ways: c.waysBack(p)}
	task := plan.Task{EarliestSec: int32(min(c.released(p, from).high, float64(plan.HorizonSec)))}
	for _, w := range one.ways {
		task.Ways = append(task.Ways, supply.way(w))
	}
	return one, task, len(one.ways) > 0
}
