package forecast

import (
	"math"

	"mendline/board"
	"mendline/board/estimate"
)

// Chance says on how many of 10 such days a robot is ready for its next call
// (chance/<robotID>). There is none without a call, and none in the arena.
type Chance struct {
	Robot board.RobotID `json:"robot"`
	Fight board.FightID `json:"fight"`
	// Ready of Of, rounded: 0 is fewer than one, 10 is more than nine. None while
	// Uninspected.
	Ready *int `json:"ready,omitzero"`
	Of    int  `json:"of"`
	// Cause is the one thing that matters most, where the robot is flagged.
	Cause *Cause `json:"cause,omitzero"`
	// Uninspected: nobody knows yet what there is to do, so that there is no chance
	// to give. The work will take from NeedLowSec to NeedHighSec, 8 of 10 times: what
	// is known of, and what a fight that hit so hard leaves to be found.
	Uninspected bool `json:"uninspected"`
	NeedLowSec  int  `json:"needLowSec,omitzero"`
	NeedHighSec int  `json:"needHighSec,omitzero"`
}

// chances writes the chance of every robot with a call to make.
func (c *schedule) chances(calls []Call) []Chance {
	list := []Chance{}
	for g, call := range calls {
		o := c.robots[g]
		if !o.called() || call.OnNow {
			continue
		}
		k := Chance{Robot: call.Robot, Fight: call.Fight, Of: 10, Uninspected: call.Uninspected && !o.gone}
		if k.Uninspected {
			low, high := c.undiscovered(o.robot)
			k.NeedLowSec = workMinutes(call.NeedSec + low)
			k.NeedHighSec = workMinutes(call.NeedSec + high)
		} else {
			ready := c.readyOf(g)
			k.Ready = &ready
		}
		if call.Flag == FlagTight || call.Flag == FlagWontFinish {
			k.Cause = &call.Cause
		}
		list = append(list, k)
	}
	return list
}

// found is what an inspection finds to do after a fight, likely and in the bad case,
// by the hardest hit seen. Our own guess, in minutes.
var found = map[board.Size]map[board.Severity]estimate.TwoPoint{
	board.Heavy: {
		"": {LikelySec: 5 * 60, BadSec: 25 * 60}, board.Glancing: {LikelySec: 8 * 60, BadSec: 30 * 60},
		board.Solid: {LikelySec: 15 * 60, BadSec: 50 * 60}, board.Hard: {LikelySec: 35 * 60, BadSec: 90 * 60},
	},
	board.Light: {
		"": {LikelySec: 2 * 60, BadSec: 8 * 60}, board.Glancing: {LikelySec: 3 * 60, BadSec: 10 * 60},
		board.Solid: {LikelySec: 6 * 60, BadSec: 20 * 60}, board.Hard: {LikelySec: 12 * 60, BadSec: 40 * 60},
	},
}

// leastFoundSec is added to what a fight left to do, so that none is a time too.
const leastFoundSec = 60

// undiscovered is the range, 1 in 10 to 9 in 10, of what the inspection of a robot
// will find to do in seconds: by the hardest hit of its last fight, corrected by
// what its inspections found after the fights before.
func (c *schedule) undiscovered(r board.Robot) (lowSec, highSec int) {
	last, _ := lastFight(c.s, r.ID)
	var record []estimate.Done
	for _, f := range board.Sorted(c.s.Fights, func(f board.Fight) string { return f.EndAt.String() }) {
		fought := f.State == board.FightDone && (f.Result == board.Won || f.Result == board.Lost || f.Result == board.Drawn)
		if f.Robot == r.ID && fought && f.ID != last.ID {
			said := found[r.Size][hardestHit(c.s, f)].LikelySec
			record = append(record, estimate.Done{LikelySec: said + leastFoundSec, ActualSec: float64(leftToDoSec(c.s, f) + leastFoundSec)})
		}
	}
	said := found[r.Size][hardestHit(c.s, last)]
	said.LikelySec, said.BadSec = said.LikelySec+leastFoundSec, said.BadSec+leastFoundSec
	learned, err := estimate.Learn(said, record)
	if err != nil {
		panic("forecast: what a fight leaves to do: " + err.Error())
	}
	find := func(p float64) int { return int(math.Max(learned.QuantileSec(p)-leastFoundSec, 0)) }
	return find(0.1), find(0.9)
}

// hardestHit is the hardest hit of a fight that anyone has reported.
func hardestHit(s board.State, f board.Fight) board.Severity {
	order := []board.Severity{"", board.Glancing, board.Solid, board.Hard}
	worst := 0
	for _, d := range s.Damages {
		for k, severity := range order {
			if d.Fight == f.ID && !d.Dropped && d.Severity == severity {
				worst = max(worst, k)
			}
		}
	}
	return order[worst]
}

// leftToDoSec is what a fight left to do: the likely times of the jobs for its
// damages.
func leftToDoSec(s board.State, f board.Fight) int {
	sum := 0
	for _, j := range s.Jobs {
		for _, id := range j.Damages {
			if d := s.Damages[id]; d.Fight == f.ID && !d.Dropped {
				sum += j.Fix().LikelySec
				break
			}
		}
	}
	return sum
}
