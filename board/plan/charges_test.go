package plan_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// Charges as tasks: a channel is a pool of one, a circuit a pool of watts, whoever
// attends a pool that is taken while they are at a fight. Best values computed
// independently by brute force over all orders and modes, the second also by an
// integer program. Times in minutes.

func chargeTask(group int, release int32, ways ...plan.Way) plan.Task {
	return plan.Task{Group: group, EarliestSec: release * 60, Ways: ways}
}

func chargeWay(minutes int32, needs ...plan.Need) plan.Way {
	return plan.Way{DurationSec: minutes * 60, Place: plan.Off, Needs: needs}
}

func by(minutes int32) plan.Group { return plan.Group{Room: 1, DeadlineSec: minutes * 60} }

// One channel; never idle by deadline would start A at 0 and B at 40, 30 min late.
func oneChannel(endBy int32) plan.Problem {
	channel := plan.Need{Pool: 0, Count: 1}
	last := chargeTask(3, 0, plan.Way{DurationSec: 0, Place: plan.Off})
	last.After = []int{0, 1, 2}
	return plan.Problem{
		Pools:  []plan.Pool{{Capacity: 1}},
		Groups: []plan.Group{by(100), by(30), by(95), by(endBy)},
		Tasks:  []plan.Task{chargeTask(0, 0, chargeWay(40, channel)), chargeTask(1, 5, chargeWay(20, channel)), chargeTask(2, 30, chargeWay(25, channel)), last},
	}
}

func TestAChannelWaitsOnPurpose(t *testing.T) {
	got := plan.Solve(oneChannel(90), 1000, 1)
	require.Zero(t, got.Score.NotReady)
	require.Zero(t, got.Score.LateSec)
	for k, minutes := range []int32{25, 5, 65} {
		require.Equal(t, minutes*60, got.Tasks[k].StartSec, "charge %d: the only plan that is never late and ends by 90", k)
	}
	for _, p := range []plan.Problem{oneChannel(90), oneChannel(89)} {
		require.Equal(t, optimum(p).NotReady, plan.Solve(p, 1000, 1).Score.NotReady)
	}
	require.Equal(t, 1, plan.Solve(oneChannel(89), 1000, 1).Score.NotReady, "none ends before 90")
}

// A from 0 to 40, B from 40 to 60, 30 min late: computed independently.
func TestAChannelThatNeverIdlesIsLate(t *testing.T) {
	p := oneChannel(90)
	p.Tasks[1].After, p.Tasks[2].After = []int{0}, []int{1}
	got := plan.Solve(p, 1000, 1)
	require.Equal(t, []int32{0, 40 * 60, 60 * 60}, []int32{got.Tasks[0].StartSec, got.Tasks[1].StartSec, got.Tasks[2].StartSec})
	require.Equal(t, 1, got.Score.NotReady)
	require.Equal(t, int64(30*60), got.Score.LateSec)
}

// Two channels under a budget of watts at the wall; each charge takes 34 min at 570 W
// or 52 min at 330 W.
func twoChannels(watts int) plan.Problem {
	charge := func(group int, release int32) plan.Task {
		channel := plan.Need{Pool: 0, Count: 1}
		return chargeTask(group, release, chargeWay(34, channel, plan.Need{Pool: 1, Count: 57}), chargeWay(52, channel, plan.Need{Pool: 1, Count: 33}))
	}
	return plan.Problem{
		Pools:  []plan.Pool{{Capacity: 2}, {Capacity: watts / 10}},
		Groups: []plan.Group{by(60), by(115)},
		Tasks:  []plan.Task{charge(0, 0), charge(0, 0), charge(1, 20), charge(1, 20)},
	}
}

func lastEnd(p plan.Plan) int32 { return max(p.Groups[0].ReadySec, p.Groups[1].ReadySec) / 60 }

func TestPowerDecidesHowManyFightsHaveTheirPacks(t *testing.T) {
	for _, c := range []struct{ watts, missed, late, end int }{{1200, 0, 0, 68}, {900, 0, 0, 86}, {600, 1, 76, 136}} {
		p := twoChannels(c.watts)
		for seed := range uint64(3) {
			got := plan.Solve(p, 1000, seed)
			require.NoError(t, plan.Check(p, got))
			require.Equal(t, c.missed, got.Score.NotReady, "%d W", c.watts)
			require.Equal(t, int64(c.late)*60, got.Score.LateSec, "%d W", c.watts)
			require.Equal(t, int32(c.end), lastEnd(got), "%d W", c.watts)
		}
	}
}

// The schedules named beside the best values, pinned by ways, order and earliest start:
// all fast two by two; at 900 W the first fast, two slow, the last fast; at 600 W one
// after the other. Computed independently.
func TestTheNamedSchedulesComeToTheirFigures(t *testing.T) {
	const fast, slow = 0, 1
	for _, c := range []struct {
		name              string
		watts             int
		ways              [4]int
		after             [4][]int
		starts            [4]int32
		missed, late, end int
	}{
		{"1200 W, all fast", 1200, [4]int{fast, fast, fast, fast}, [4][]int{2: {0}, 3: {1}}, [4]int32{0, 0, 34, 34}, 0, 0, 68},
		{"900 W, two slow", 900, [4]int{fast, slow, slow, fast}, [4][]int{2: {0}, 3: {1}}, [4]int32{0, 0, 34, 52}, 0, 0, 86},
		{"600 W, 1 3 4 2", 600, [4]int{}, [4][]int{1: {3}, 2: {0}, 3: {2}}, [4]int32{0, 102, 34, 68}, 1, 76, 136},
		{"600 W, 1 2 3 4", 600, [4]int{}, [4][]int{1: {0}, 2: {1}, 3: {2}}, [4]int32{0, 34, 68, 102}, 2, 29, 136},
	} {
		p := twoChannels(c.watts)
		for k := range p.Tasks {
			p.Tasks[k].Ways = p.Tasks[k].Ways[c.ways[k] : c.ways[k]+1]
			p.Tasks[k].After = c.after[k]
		}
		got := plan.Solve(p, 1000, 1)
		require.NoError(t, plan.Check(p, got))
		for k, minutes := range c.starts {
			require.Equal(t, minutes*60, got.Tasks[k].StartSec, "%s: charge %d", c.name, k+1)
		}
		require.Equal(t, []int{c.missed, c.late * 60, c.end}, []int{got.Score.NotReady, int(got.Score.LateSec), int(lastEnd(got))}, c.name)
		require.LessOrEqual(t, plan.Solve(twoChannels(c.watts), 1000, 1).Score.Compare(got.Score), 0, "%s: fights come before minutes", c.name)
	}
}

// Packs A and B full, C at storage, calls at 30, 70, 110, 150; full ten minutes before
// the call, back ten after it, twenty to cool. Whoever attends alone is at the fight
// from the call for ten minutes, and no charge runs then.
func fourFights(packs [4]int, chargeMin int32, alone bool) plan.Problem {
	calls := [4]int32{30, 70, 110, 150}
	attendant := plan.Pool{Capacity: 1}
	for _, call := range calls {
		if alone {
			attendant.Taken = append(attendant.Taken, plan.Taken{Window: plan.Window{FromSec: call * 60, ToSec: (call + 10) * 60}, Count: 1})
		}
	}
	p := plan.Problem{Pools: []plan.Pool{{Capacity: 1}, attendant}}
	way := func(minutes int32) plan.Way {
		return chargeWay(minutes, plan.Need{Pool: 0, Count: 1}, plan.Need{Pool: 1, Count: 1})
	}
	used := map[int]int32{}
	for k, pack := range packs {
		release, again := used[pack]
		used[pack] = calls[k] + 30
		switch {
		case again:
			p.Tasks = append(p.Tasks, chargeTask(len(p.Groups), release, way(chargeMin)))
		case pack == 2:
			p.Tasks = append(p.Tasks, chargeTask(len(p.Groups), 0, way(25)))
		default:
			continue
		}
		p.Groups = append(p.Groups, by(calls[k]-10))
	}
	return p
}

func fightsMissed(packs [4]int, chargeMin int32, alone bool) int {
	return plan.Solve(fourFights(packs, chargeMin, alone), 300, 1).Score.NotReady
}

func fewestMissed(chargeMin int32, alone bool) int {
	fewest := 4
	for n := range 81 {
		packs := [4]int{n % 3, n / 3 % 3, n / 9 % 3, n / 27}
		fewest = min(fewest, fightsMissed(packs, chargeMin, alone))
	}
	return fewest
}

func TestAnAttendantWhoFightsCostsAFight(t *testing.T) {
	const a, b, c = 0, 1, 2
	require.Equal(t, 1, fewestMissed(40, true), "one attendant: at most 3 of 4")
	require.Zero(t, fewestMissed(40, false), "a second attendant: 4 of 4")
	require.Zero(t, fightsMissed([4]int{a, b, c, a}, 40, false))
	require.Zero(t, fightsMissed([4]int{b, a, c, b}, 40, false))
	require.Zero(t, fightsMissed([4]int{a, b, c, a}, 23, true), "one attendant and 23 minutes at 2C")
}

// C from 0 to 25, A from 60 to 100 and 40 min left; alone at 2C from 80, when the fight
// at 70 is over, to 103 and 37 left. Computed independently.
func TestTheChargesBetweenFourFightsHaveTheirMargins(t *testing.T) {
	const a, b, c = 0, 1, 2
	for _, r := range []struct {
		chargeMin       int32
		alone           bool
		from, to, least int32
	}{{40, false, 60, 100, 40}, {23, true, 80, 103, 37}} {
		p := fourFights([4]int{a, b, c, a}, r.chargeMin, r.alone)
		require.Len(t, p.Tasks, 2, "C is charged up, A is charged again")
		got := plan.Solve(p, 300, 1)
		require.NoError(t, plan.Check(p, got))
		least := int32(1 << 30)
		for k, g := range got.Groups {
			least = min(least, p.Groups[k].DeadlineSec-g.ReadySec)
		}
		require.Equal(t, []int32{0, 25}, []int32{got.Tasks[0].StartSec / 60, got.Groups[0].ReadySec / 60})
		require.Equal(t, []int32{r.from, r.to, r.least}, []int32{got.Tasks[1].StartSec / 60, got.Groups[1].ReadySec / 60, least / 60})
	}
}
