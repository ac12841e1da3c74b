package forecast

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/plan"
)

// followed is what people were told of a charge, as the planner takes it: nil where it
// is no way of it any more, and where they were told to wait, so that what comes free
// sooner is not left empty.
func (p *posed) followedCharge(c charging, earliestSec int32) *plan.Followed {
	told, ok := p.s.Follow().Charge(c.pack.ID)
	if !ok || told.Robot != c.need.robot || c.pack.State == board.PackCharging {
		return nil
	}
	if p.sec(told.StartAt) > earliestSec+toldAheadSec {
		return nil
	}
	ch := p.s.Channels[told.Channel]
	way := slices.IndexFunc(c.ways, func(w chargeWay) bool { return kindOf(w.channel) == kindOf(ch) && w.amps == told.Amps })
	if way < 0 {
		return nil
	}
	return &plan.Followed{Way: way, StartSec: max(p.sec(told.StartAt), earliestSec)}
}

// toldCharges is what the schedule says of the packs that robots wait for. A channel
// that charges another pack is not free for them either.
func (c *schedule) toldCharges() []board.PlanCharge {
	all := c.placed(c.charges, c.charged)
	slices.SortStableFunc(all, inTurn)
	busy := map[board.ChannelID]int32{}
	var list []board.PlanCharge
	for _, k := range all {
		ch := c.channelFor(k, busy)
		busy[ch.ID] = k.stop
		if k.need.robot == "" {
			continue
		}
		bar := c.bar(k)
		list = append(list, board.PlanCharge{
			Pack: k.pack.ID, EndAt: max(bar.EndAt, bar.StartAt),
			ToldCharge: board.ToldCharge{Robot: k.need.robot, Channel: ch.ID, Amps: k.way.amps, StartAt: bar.StartAt},
		})
	}
	return list
}

// sameCharges tells whether people were told so before of every charge that is not
// under way, and of none to wait that can begin now.
func (c *schedule) sameCharges(told []board.PlanCharge) bool {
	return !slices.ContainsFunc(told, func(k board.PlanCharge) bool {
		was, had := c.s.Follow().Charge(k.Pack)
		sooner := k.StartAt < plusSec(was.StartAt, -toldAheadSec)
		return !had || (sooner || !was.Same(k.ToldCharge)) && c.s.Packs[k.Pack].State != board.PackCharging
	})
}

// inTurn puts what is on a channel already first, then the earliest.
func inTurn(a, b placed) int {
	return cmp.Or(cmp.Compare(runningFirst(a), runningFirst(b)), cmp.Compare(a.startSec, b.startSec))
}
