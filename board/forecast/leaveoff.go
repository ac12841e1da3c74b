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
	"mendline/board/plan"
)

const (
	listedMost  = 5
	joinedLeast = 0.03 // that two remedies together gain over one of them
)

// LeaveOff is what would help a robot that is flagged, what helps all robots together
// most first (leaveoff/<robotID>).
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
	// difference in points of 100, with its standard error.
	Then int `json:"then"`
	Gain int `json:"gain"`
	Err  int `json:"err"`
	// Others are the other robots that it changes.
	Others []Changed `json:"others"`
	Do     []Written `json:"do"`
}

// Changed is on how many of 10 days a robot is ready as things stand, and then.
type Changed struct {
	Robot board.RobotID `json:"robot"`
	Ready int           `json:"ready"`
	Then  int           `json:"then"`
}

// Written is a command as it is sent.
type Written struct {
	Do   string         `json:"do"`
	With jsontext.Value `json:"with"`
}

// leaveOff tries what may help the robots that are flagged and lists for each what
// clearly does.
func (c *schedule) leaveOff(calls []Call, seed uint64, budget plan.Budget) []LeaveOff {
	list := []LeaveOff{}
	flagged := c.inTrouble(calls)
	if len(flagged) == 0 {
		return list
	}
	trials := c.finalists(c.tryAll(c.candidates(flagged), seed), flagged)
	for i := range trials {
		c.judgeTrial(&trials[i], seed, budget)
	}
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

// listFor writes the list of group g: what clearly helps it, and all robots together.
func (c *schedule) listFor(g int, call Call, trials []tried) LeaveOff {
	l := LeaveOff{Robot: call.Robot, Fight: call.Fight, Ready: c.readyOf(g), List: []Remedy{}}
	trials = slices.Clone(trials)
	slices.SortStableFunc(trials, func(a, b tried) int { return cmp.Compare(b.sum(c), a.sum(c)) })
	for _, t := range trials {
		w := t.won[g]
		if !w.Clear() || points(w.Gain()) <= 0 || t.sum(c) <= 0 || t.needless(g, trials) || len(l.List) == listedMost {
			continue
		}
		r := Remedy{
			Rank: len(l.List) + 1, Text: upper(t.text), Then: c.then(g, t),
			Gain: points(w.Gain()), Err: points(w.ErrorOf()), Others: []Changed{}, Do: written(t.do),
		}
		for o := range c.robots {
			if was, is := c.readyOf(o), c.then(o, t); o != g && c.robots[o].called() && was != is {
				r.Others = append(r.Others, Changed{c.robots[o].robot.ID, was, is})
			}
		}
		l.List = append(l.List, r)
	}
	return l
}

// then is on how many of 10 days the robot of group g is ready after a remedy.
func (c *schedule) then(g int, t tried) int {
	return ofTen(min(max(c.played.Chance(c.days.ready[g])+t.won[g].Gain(), 0), 1))
}

// needless tells whether one of the parts of a joined remedy does about as much for
// group g.
func (t tried) needless(g int, trials []tried) bool {
	return slices.ContainsFunc(trials, func(o tried) bool {
		return slices.Contains(t.parts, o.text) && t.won[g].Gain()-o.won[g].Gain() < joinedLeast
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
