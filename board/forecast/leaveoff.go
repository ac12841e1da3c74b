package forecast

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/plan"
)

// Settings of the list. The budgets are work, not time.
const (
	remediesMost   = 12   // remedies tried in one forecast
	remedyBudget   = 150  // schedules tried for one
	remedyDays     = 6144 // days played in all rounds
	listedMost     = 5
	listedDoubtful = 2 // of these, that may be without a clear gain
	joinedLeast    = 3 // points that two remedies together gain over one of them
)

// LeaveOff is what would help a robot that is flagged, the best first
// (leaveoff/<robotID>).
type LeaveOff struct {
	Robot board.RobotID `json:"robot"`
	Fight board.FightID `json:"fight"`
	// Ready is on how many of 10 days it is ready as things stand.
	Ready int      `json:"ready"`
	List  []Remedy `json:"list"`
}

// Remedy is one thing to do about it.
type Remedy struct {
	Rank int    `json:"rank"`
	Text string `json:"text"`
	// Then is on how many of 10 days the robot is ready with it. Gain is the
	// difference in points of 100, with its standard error; Clear is false where it
	// may as well be none.
	Then  int       `json:"then"`
	Gain  int       `json:"gain"`
	Err   int       `json:"err"`
	Clear bool      `json:"clear"`
	Do    []Written `json:"do"`
}

// Written is a command as it is sent.
type Written struct {
	Do   string         `json:"do"`
	With jsontext.Value `json:"with"`
}

// tried is a remedy with what it does to the plan, played beside the board as it is.
type tried struct {
	meant
	made *schedule
	won  []chance.Paired // by group
}

// leaveOff tries what may help the robots that are flagged: each remedy is given to
// a copy of the board, planned briefly from the plan at hand and played on the same
// days, in rounds of which the worse half falls out.
func (c *schedule) leaveOff(calls []Call, seed uint64) []LeaveOff {
	flagged := c.inTrouble(calls)
	list := []LeaveOff{}
	if len(flagged) == 0 {
		return list
	}
	trials := c.tryAll(c.candidates(flagged), seed)
	chance.Halve(len(trials), remedyDays, days, func(i, from, to int) chance.Paired {
		return c.trial(&trials[i], flagged, from, to)
	})
	for _, g := range flagged {
		list = append(list, c.listFor(g, calls[g], trials))
	}
	return list
}

// inTrouble lists the groups whose robots are flagged and inspected.
func (c *schedule) inTrouble(calls []Call) []int {
	var list []int
	tightBelow, _ := c.s.Event().Thresholds()
	for g, call := range calls {
		o := c.robots[g]
		if o.called() && o.power.State != board.Live && !call.OnNow && !call.Uninspected && c.readyOf(g) < tightBelow {
			list = append(list, g)
		}
	}
	return list
}

// candidates takes the remedies of the groups in turn, each only once.
func (c *schedule) candidates(flagged []int) []meant {
	var per [][]remedy
	longest := 0
	for _, g := range flagged {
		per = append(per, c.remedies(g))
		longest = max(longest, len(per[len(per)-1]))
	}
	var list []meant
	known := map[string]int{}
	for k := range longest {
		for i, remedies := range per {
			if k >= len(remedies) {
				continue
			}
			at, again := known[remedies[k].text]
			switch {
			case again:
				list[at].of = append(list[at].of, flagged[i])
			case len(list) < remediesMost:
				known[remedies[k].text] = len(list)
				list = append(list, meant{remedies[k], []int{flagged[i]}})
			}
		}
	}
	return list
}

// meant is a remedy with the groups whose robots it is meant for.
type meant struct {
	remedy
	of []int
}

// tryAll gives each remedy to a copy of the board and plans again. What the board
// refuses is no remedy.
func (c *schedule) tryAll(remedies []meant, seed uint64) []tried {
	var list []tried
	for _, r := range remedies {
		if s, ok := c.with(r.remedy); ok {
			made := c.again(s, r.remedy, seed)
			list = append(list, tried{meant: r, made: &made, won: make([]chance.Paired, len(c.robots))})
		}
	}
	return list
}

// with is the board after a remedy.
func (c *schedule) with(r remedy) (board.State, bool) {
	s := c.s
	for k, command := range r.do {
		var ask board.Ask
		ask.ID[15] = byte(k + 1)
		change, refusal := board.Apply(s, command, ask, board.Actor{Role: board.RoleCaptain}, c.at)
		if refusal != nil {
			return s, false
		}
		s = s.With(change)
	}
	return s, true
}

// again plans the board after a remedy, from the plan at hand. Who stays at a robot by
// that stays.
func (c *schedule) again(s board.State, r remedy, seed uint64) schedule {
	var clock map[board.FightID]times
	if len(c.robots) > 0 && !r.clock {
		clock = c.robots[0].clock
	} else {
		clock = fightTimes(s, c.at)
	}
	p := poseWork(s, c.at, outlooksBy(s, clock, c.at, c.learnt), c.learnt)
	p.stays = c.stays
	p.takeAllAway()
	for i, j := range p.jobs {
		p.problem.Tasks[i].Follow = nil
		was := c.taskOf(j.ID)
		if was < 0 || j.State == board.JobRunning || slices.Contains(r.moved, j.ID) {
			continue
		}
		p.problem.Tasks[i].Follow = c.followed(was, &p)
	}
	for k, charge := range p.charges {
		p.problem.Tasks[len(p.jobs)+k].Follow = c.followedOn(charge)
	}
	followSheets(&p, c)
	return p.scheduled(plan.Solve(p.problem, remedyBudget, seed), c.draws)
}

// followed is what the plan at hand says of task i, to be followed in p.
func (c *schedule) followed(i int, p *posed) *plan.Followed {
	t := c.plan.Tasks[i]
	switch t.State {
	case plan.Kept:
		way := slices.Index(p.fixes[p.taskOf(c.jobs[i].ID)], c.fixes[i][t.Way])
		if way < 0 {
			return nil
		}
		return &plan.Followed{Way: way, People: p.peopleOf(c.idsOf(t.People)), StartSec: t.StartSec}
	case plan.Skipped:
		return &plan.Followed{Skipped: true}
	}
	return nil
}

// followedOn is what the plan at hand says of a charge, to be followed.
func (c *schedule) followedOn(k charging) *plan.Followed {
	for i, own := range c.charges {
		t := c.charged[i]
		if own.pack.ID != k.pack.ID || t.State != plan.Kept || k.pack.State == board.PackCharging {
			continue
		}
		way := slices.IndexFunc(k.ways, func(w chargeWay) bool {
			return kindOf(w.channel) == kindOf(own.ways[t.Way].channel) && w.amps == own.ways[t.Way].amps
		})
		if way >= 0 {
			return &plan.Followed{Way: way, StartSec: t.StartSec}
		}
	}
	return nil
}

// trial plays a remedy on some days and compares the groups that are flagged.
func (c *schedule) trial(t *tried, flagged []int, from, to int) chance.Paired {
	played := chance.Play(&t.made.days.net, c.draws, from, to)
	sum := chance.Paired{Days: to - from}
	for _, g := range flagged {
		h := t.made.groupOf(c.robots[g].robot.ID)
		p := chance.Compare(c.played, played, c.days.ready[g], t.made.days.ready[h])
		t.won[g] = t.won[g].Add(p)
		sum.Won, sum.Lost = sum.Won+p.Won, sum.Lost+p.Lost
	}
	return sum
}

// listFor writes the list of group g: the remedies with a clear gain, and where there are
// fewer than two the best of its others, which say that they have none.
func (c *schedule) listFor(g int, call Call, trials []tried) LeaveOff {
	l := LeaveOff{Robot: call.Robot, Fight: call.Fight, Ready: c.readyOf(g), List: []Remedy{}}
	slices.SortStableFunc(trials, func(a, b tried) int { return cmp.Compare(b.won[g].Gain(), a.won[g].Gain()) })
	for _, t := range trials {
		if t.needless(g, trials) {
			continue
		}
		w := t.won[g]
		r := Remedy{
			Rank: len(l.List) + 1, Text: upper(t.text),
			Then: ofTen(min(max(c.played.Chance(c.days.ready[g])+w.Gain(), 0), 1)),
			Gain: points(w.Gain()), Err: points(w.ErrorOf()), Clear: w.Clear() && points(w.Gain()) > 0, Do: written(t.do),
		}
		doubtful := r.Rank <= listedDoubtful && slices.Contains(t.of, g)
		if r.Gain >= 0 && (r.Clear && r.Rank <= listedMost || doubtful) {
			l.List = append(l.List, r)
		}
	}
	return l
}

// needless tells whether one of the parts of a joined remedy does about as much for
// group g.
func (t tried) needless(g int, trials []tried) bool {
	return slices.ContainsFunc(trials, func(o tried) bool {
		return slices.Contains(t.parts, o.text) && points(t.won[g].Gain()-o.won[g].Gain()) < joinedLeast
	})
}

func points(p float64) int { return int(math.Round(100 * p)) }

func written(do []board.Command) []Written {
	list := make([]Written, len(do))
	for k, command := range do {
		if !board.OfPlan(command) {
			panic("forecast: " + board.Name(command) + " is no change of plan, so it is never offered")
		}
		var with bytes.Buffer
		if err := json.MarshalWrite(&with, command); err != nil {
			panic(fmt.Sprintf("forecast: encode %s: %v", board.Name(command), err))
		}
		list[k] = Written{board.Name(command), with.Bytes()}
	}
	return list
}

func lower(text string) string {
	if text == "" {
		return text
	}
	return strings.ToLower(text[:1]) + text[1:]
}
