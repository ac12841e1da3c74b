package forecast

import (
	"math"
	"slices"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/charge"
	"mendline/board/estimate"
	"mendline/board/plan"
)

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
	overdueSec     = 60 // what a charge past its time is said to need yet
)

// charging is a charge as a task of the plan.
type charging struct {
	pack board.Pack
	need need
	ways []chargeWay
	// from is the fight that it comes back from first, "" where it is at hand.
	from board.FightID
}

// running tells whether it is on a channel now.
func (c charging) running() bool { return c.pack.State == board.PackCharging && c.from == "" }

// chargeWay is a charge on a channel of one kind at one current.
type chargeWay struct {
	channel board.Channel // the first of its kind
	amps    float64
	watts   float64
	takes   span
}

// need is what a pack is wanted for.
type need struct {
	robot board.RobotID
	use   board.PackUse
	by    board.Moment
	fight board.FightID
}

// supplies are the pools that charges take from: channels of one kind, the power of
// each charger and circuit, and those who attend.
type supplies struct {
	packing
	first    int // of the problem's pools
	channels map[channelKind]int
	circuits map[board.CircuitID]int
	chargers map[string]int
	crew     int
}

// channelKind is what makes channels alike.
type channelKind struct {
	charger                        string
	circuit                        board.CircuitID
	place                          board.PlaceID
	amps, watts, supply, powerFact float64
	cells                          int
}

func kindOf(ch board.Channel) channelKind {
	return channelKind{ch.Charger, ch.Circuit, ch.Place, ch.AmpsMost, ch.WattsMost, ch.ChargerWatts, ch.PowerFactor, ch.CellsMost}
}

// poseCharges makes a task of each charge that a robot waits for, as work of that
// robot, and of each that is under way. They stand behind the jobs.
func (p *posed) poseCharges() {
	p.packs = packingOf(p.s, p.at)
	p.sets = p.packs.sets(p.robots)
	if len(liveChannels(p.s)) == 0 {
		return
	}
	p.supply = p.packs.supply(&p.problem, nil)
	wanted := p.wanted()
	idle := -1
	for _, pack := range packsByName(p.s) {
		n, needed := wanted[pack.ID]
		if !needed && pack.State != board.PackCharging {
			continue
		}
		c, task, ok := p.supply.task(pack, n)
		if !ok {
			continue
		}
		if task.Group = p.groupOf(n.robot); !needed {
			if idle < 0 {
				idle = len(p.problem.Groups)
				p.problem.Groups = append(p.problem.Groups, plan.Group{Room: 1, DeadlineSec: plan.NoDeadline})
			}
			task.Group = idle
		}
		task.Follow = p.followedCharge(c, task.EarliestSec)
		p.problem.Tasks = append(p.problem.Tasks, task)
		p.charges = append(p.charges, c)
	}
}

// attendantsAway takes the charges of everybody who may attend off while they are at
// a fight.
func (p *posed) attendantsAway() []plan.Taken {
	var taken []plan.Taken
	for i, who := range p.people {
		if who.Minor || who.Guest {
			continue
		}
		for _, w := range p.problem.People[i].Away {
			if w.ToSec > w.FromSec {
				taken = append(taken, plan.Taken{Window: w, Count: p.s.Event().AttendantMost})
			}
		}
	}
	return taken
}

// wanted are the packs of the sets that are not ready yet.
func (p *posed) wanted() map[board.PackID]need {
	wanted := map[board.PackID]need{}
	for _, set := range p.sets {
		for _, pack := range set.packs {
			if !set.ready(pack) {
				o := p.robots[p.groupOf(set.robot.ID)]
				wanted[pack.ID] = need{set.robot.ID, set.use, o.workBy, o.workCall.ID}
			}
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

// supply adds the pools that charges take from to a problem. away are those who
// attend while they are at fights.
func (c packing) supply(problem *plan.Problem, away []plan.Taken) supplies {
	s := supplies{packing: c, first: len(problem.Pools), channels: map[channelKind]int{}, circuits: map[board.CircuitID]int{}, chargers: map[string]int{}}
	pool := func(capacity int) int {
		problem.Pools = append(problem.Pools, plan.Pool{Capacity: min(max(capacity, 0), plan.CapacityMost)})
		return len(problem.Pools) - 1
	}
	for _, k := range board.Sorted(c.s.Circuits, func(k board.Circuit) string { return k.Name }) {
		if !k.Retired {
			s.circuits[k.ID] = pool(budgetVA(k) / unitVA)
		}
	}
	for _, ch := range liveChannels(c.s) {
		if k, ok := s.channels[kindOf(ch)]; ok {
			problem.Pools[k].Capacity++
			continue
		}
		s.channels[kindOf(ch)] = pool(1)
		if _, ok := s.chargers[ch.Charger]; !ok {
			s.chargers[ch.Charger] = pool(int(ch.ChargerWatts) / unitVA)
		}
	}
	c.unforeseen(problem, s)
	s.crew = pool(attendable(c.s))
	problem.Pools[s.crew].Taken = away
	return s
}

// unforeseen takes the channels that charge packs whose time nobody can foretell off
// their pools: they come free when somebody says so.
func (c packing) unforeseen(problem *plan.Problem, s supplies) {
	for _, p := range packsByName(c.s) {
		ch := c.s.Channels[p.Channel]
		pool, ok := s.channels[kindOf(ch)]
		if p.State != board.PackCharging || !ok {
			continue
		}
		if _, foretold := c.takes(p, ch, p.Amps); !foretold {
			problem.Pools[pool].Capacity = max(problem.Pools[pool].Capacity-1, 0)
		}
	}
}

func liveChannels(s board.State) []board.Channel {
	all := board.Sorted(s.Channels, func(ch board.Channel) string { return ch.Name })
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

// task is the charge of a pack; not ok where no channel takes it or nobody can say how
// long it is.
func (s *supplies) task(p board.Pack, n need) (charging, plan.Task, bool) {
	c := charging{pack: p, need: n}
	task := plan.Task{EarliestSec: int32(s.releaseSec(p))}
	if p.State == board.PackCharging {
		ch := s.s.Channels[p.Channel]
		takes, ok := s.takes(p, ch, p.Amps)
		if !ok || ch.Retired {
			return c, task, false
		}
		c.ways = []chargeWay{{ch, p.Amps, wattsOf(p, ch, p.Amps), takes}}
		left := max(int32(takes.likely)-int32(secUntil(p.UsedAt, s.at)), overdueSec)
		task.EarliestSec, task.Running = 0, &plan.Running{LeftSec: left}
	} else {
		c.ways = s.waysOf(p)
	}
	for _, w := range c.ways {
		task.Ways = append(task.Ways, s.way(w))
	}
	return c, task, len(c.ways) > 0
}

// waysOf are the kinds of channels that take p, each at full current and at two
// thirds.
func (s *supplies) waysOf(p board.Pack) []chargeWay {
	return s.waysBy(p, func(ch board.Channel, amps float64) (span, bool) { return s.takes(p, ch, amps) })
}

func (s *supplies) waysBy(p board.Pack, takes func(board.Channel, float64) (span, bool)) []chargeWay {
	var ways []chargeWay
	seen := map[channelKind]bool{}
	for _, ch := range channelsFor(s.s, p) {
		if s.s.Circuits[ch.Circuit].OffAt != 0 || seen[kindOf(ch)] {
			continue
		}
		seen[kindOf(ch)] = true
		for _, part := range []float64{1, 2.0 / 3} {
			amps := math.Floor(100*part*mostAmps(p, ch)+1e-9) / 100 // never above the limit
			if lasts, ok := takes(ch, amps); ok {
				ways = append(ways, chargeWay{ch, amps, wattsOf(p, ch, amps), lasts})
			}
		}
	}
	return ways
}

// wattsOf is the most a charge puts into p.
func wattsOf(p board.Pack, ch board.Channel, amps float64) float64 {
	return min(amps*float64(p.Cells)*charge.LimitsOf(p.Chemistry).ChargeVolts, ch.WattsMost)
}

func (w chargeWay) va() int {
	return int(charge.InputVA(w.watts, chargerShare, w.channel.PowerFactor) + 0.5)
}

func (s *supplies) way(w chargeWay) plan.Way {
	needs := []plan.Need{{Pool: s.channels[kindOf(w.channel)], Count: 1}, {Pool: s.crew, Count: 1}}
	if pool, ok := s.chargers[w.channel.Charger]; ok {
		needs = append(needs, plan.Need{Pool: pool, Count: max(int(min(w.watts, w.channel.ChargerWatts))/unitVA, 1)})
	}
	if pool, ok := s.circuits[w.channel.Circuit]; ok {
		needs = append(needs, plan.Need{Pool: pool, Count: (w.va() + unitVA - 1) / unitVA})
	}
	return plan.Way{DurationSec: max(int32(w.takes.likely), 1), Place: plan.Off, Needs: needs}
}

// work is how long the charge takes on the days that are played.
func (c charging) work(w chargeWay, at board.Moment) chance.Work {
	likely := max(w.takes.likely, 1)
	work := chance.Work{Time: lognormal(estimate.TwoPoint{LikelySec: likely, BadSec: max(w.takes.high, likely)})}
	if c.running() {
		work.SpentSec = float64(max(secUntil(c.pack.UsedAt, at), 0))
	}
	return work
}
