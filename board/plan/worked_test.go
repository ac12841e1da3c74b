package plan_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// Six instances constructed by us. Their best values were computed
// independently by complete enumeration and proved by a constraint model.
const (
	w1 = `group A 40/2
group B 60/2
person P1 M
person P2 M,E
person P3 M
pool bench 2
a1 A must: swap 20 M,M bench
a2 A should after a1: armour 15 M,A bench
a3 A could: dress 12 A off
a4 A must after a1,a2: close 10 M bench
b1 B must: controller 25 E bench
b2 B should after b1: wheel 10 M bench
b3 B must after b1,b2: close 10 M bench`
	w2 = `group A 40/2
group B 70/2
person P1 M
person P2 M,E
person P3 E
pool bench 2
stock motor 1
a1 A must: swap 15 M,E bench motor | mend 45 M bench
a2 A must after a1: close 10 M bench
b1 B must: swap 15 M,E bench motor | mend 45 M bench
b2 B must after b1: close 10 M bench`
	w3 = `group A 50/3
group B 75/3
person P1 M
person P2 M,E
person P3 M,R
pool bench 2
pool box 1
a1 A must: receiver 10 R bench
a2 A must: wheel 12 M bench
a3 A must after a1,a2: test 15 R box whole
a4 A must after a3: covers 8 M bench
b1 B must: belt 20 M bench
b2 B must after b1: test 15 R box whole
b3 B should: armour 25 M bench`
	w4 = `group A 40/2
group B 55/2
person P1 M
person P2 M,E
person P3 M
pool bench 2
a1 A must: solder 20 E bench
a2 A must after a1: close 10 M bench
a3 A should: switch 15 E bench
b1 B must: solder 20 E bench
b2 B must after b1: close 10 M bench
b3 B must: belt 10 M bench`
	w5 = `group A 60/2
group B 70/2
person P1 M
person P2 M,E
person P3 M
pool bench 2
pool channel 1
a0 A must running P1,P3 18: straighten 30 M,M bench
a1 A must not-before 10: charge 25 - channel off
a2 A must after a0,a1: pack-in 10 M bench
b1 B must: charge 25 - channel off
b2 B must: blade 20 M,M bench
b3 B must after b1,b2: pack-in 10 M bench`
	w6 = `group A 30/2
group B 35/2
person P1 M
person P2 M,E
person P3 M
pool bench 2
stock blade 1
a1 A must: swap 20 M,M bench blade | mend 40 M bench
a2 A must after a1: close 8 M bench
b1 B must: swap 20 M,M bench blade | mend 40 M bench
b2 B should: solder 12 E bench
b3 B must after b1,b2: close 8 M bench`
)

// minuteScore is a score in minutes.
func minuteScore(notReady int, late int64, shouldOff, couldOff int, ready int64) plan.Score {
	return plan.Score{NotReady: notReady, LateSec: late * 60, ShouldOff: shouldOff, CouldOff: couldOff, ReadySec: ready * 60}
}

func TestWorkedInstancesReachTheirBestPlan(t *testing.T) {
	t.Parallel()
	motors := func(n int) func(*notation) { return func(w *notation) { w.Stocks[0].Count = n } }
	blades := motors
	fourth := func(w *notation) { w.People = append(w.People, plan.Person{Skills: skills("M")}) }
	both := func(w *notation) { blades(2)(w); fourth(w) }
	for name, c := range map[string]struct {
		text   string
		change func(*notation)
		best   plan.Score
		ready  []int32 // minutes, where only one plan has the best score
	}{
		"W1 the armour is left off":                {w1, nil, minuteScore(0, 0, 1, 0, 77), []int32{32, 45}},
		"W2 A swaps and B mends":                   {w2, nil, minuteScore(0, 0, 0, 0, 80), []int32{25, 55}},
		"W2 with two motors":                       {w2, motors(2), minuteScore(0, 0, 0, 0, 65), nil},
		"W2 without a motor":                       {w2, motors(0), minuteScore(1, 15, 0, 0, 110), nil},
		"W3 nobody's hands in a live robot":        {w3, nil, minuteScore(0, 0, 0, 0, 90), nil},
		"W3 if hands were allowed in":              {w3, notWhole, minuteScore(0, 0, 0, 0, 83), nil},
		"W4 the switch is left off":                {w4, nil, minuteScore(0, 0, 1, 0, 80), []int32{30, 50}},
		"W4 when P1 has learnt to solder":          {w4, learns, minuteScore(0, 0, 0, 0, 75), nil},
		"W5 B charges first":                       {w5, nil, minuteScore(0, 0, 0, 0, 108), []int32{60, 48}},
		"W6 B is 13 minutes short":                 {w6, nil, minuteScore(1, 13, 0, 0, 76), []int32{28, 48}},
		"W6 a second blade alone is no help":       {w6, blades(2), minuteScore(1, 13, 0, 0, 76), nil},
		"W6 a fourth person alone is no help":      {w6, fourth, minuteScore(1, 13, 0, 0, 76), nil},
		"W6 blade and person together are":         {w6, both, minuteScore(0, 0, 1, 0, 56), []int32{28, 28}},
		"W6 leaving off the solder is no help":     {w6, solderOff, minuteScore(1, 13, 1, 0, 76), nil},
		"W6 a call 13 minutes later is one":        {w6, postponed(13), minuteScore(0, 0, 0, 0, 76), nil},
		"W6 a call 12 minutes later is not enough": {w6, postponed(12), minuteScore(1, 1, 0, 0, 76), nil},
	} {
		t.Run(name, func(t *testing.T) {
			w := read(t, c.text)
			if c.change != nil {
				c.change(w)
			}
			require.Equal(t, c.best, optimum(w.Problem), "enumeration")
			for seed := range uint64(3) {
				got := plan.Solve(w.Problem, 1000, seed)
				require.NoError(t, plan.Check(w.Problem, got))
				require.Equal(t, c.best, got.Score, "seed %d", seed)
				for g, ready := range c.ready {
					require.Equal(t, ready*60, got.Groups[g].ReadySec, "group %d", g)
				}
			}
		})
	}
}

func notWhole(w *notation) {
	for i := range w.Tasks {
		if ways := w.Tasks[i].Ways; ways[0].Place == plan.Whole {
			ways[0].Place = plan.Off
		}
	}
}

func learns(w *notation) { w.People[0].Skills |= skills("E") }

// solderOff makes the solder something nobody here can do.
func solderOff(w *notation) { w.Tasks[w.tasks["b2"]].Ways[0].Team = []plan.SkillSet{skills("X")} }

func postponed(minutes int32) func(*notation) {
	return func(w *notation) { w.Groups[w.groups["B"]].DeadlineSec += minutes * 60 }
}

func TestTheMissingBladeIsWhatMakesBLate(t *testing.T) {
	w := read(t, w6)
	got := plan.Solve(w.Problem, 3000, 1)
	b := got.Groups[w.groups["B"]]
	require.Equal(t, plan.Cause{Kind: plan.ByStock, Index: w.stocks["blade"], WaitSec: 20 * 60}, b.Cause)
	require.Equal(t, plan.NoCause, got.Groups[w.groups["A"]].Cause.Kind)
	require.Less(t, b.BoundSec, w.Groups[1].DeadlineSec, "B alone could be ready: only the search has failed")
}
