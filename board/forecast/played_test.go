package forecast_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/estimate"
	"mendline/board/forecast"
)

// world says how long work takes in minutes that was said to take likely, bad in the
// bad case. tired is the day's normal number.
type world func(r *rand.Rand, tired, likely, bad float64) float64

const (
	z90       = 1.2815515655446004 // normal quantile of 0.9, handbook tables
	sameHands = 0.2                // correlation within a day that the forecast takes
)

func parameters(likely, bad float64) (mu, sigma float64) {
	return math.Log(likely), math.Log(bad/likely) / z90
}

func luck(r *rand.Rand, tired float64) float64 {
	return math.Sqrt(sameHands)*tired + math.Sqrt(1-sameHands)*r.NormFloat64()
}

func lognormalWorld(r *rand.Rand, tired, likely, bad float64) float64 {
	mu, sigma := parameters(likely, bad)
	return math.Exp(mu + sigma*luck(r, tired))
}

// gammaWorld has the same mean and variance as lognormalWorld.
func gammaWorld(r *rand.Rand, tired, likely, bad float64) float64 {
	mu, sigma := parameters(likely, bad)
	shape := 1 / math.Expm1(sigma*sigma)
	mean := math.Exp(mu + sigma*sigma/2)
	return mean / shape * gammaOf(r, shape, func() float64 { return luck(r, tired) })
}

// heldUpWorld is lognormalWorld where something comes in between one time in 12.5,
// for a quarter of an hour on average.
func heldUpWorld(r *rand.Rand, tired, likely, bad float64) float64 {
	min := lognormalWorld(r, tired, likely, bad)
	if r.Float64() < 0.08 {
		min += 15 * r.ExpFloat64()
	}
	return min
}

// gammaOf draws from a gamma distribution of shape 1 or more and scale 1, from normal
// numbers. Source: G. Marsaglia, W. W. Tsang, "A simple method for generating gamma
// variables", ACM Transactions on Mathematical Software 26, 2000, 363-372 (from memory).
func gammaOf(r *rand.Rand, shape float64, normal func() float64) float64 {
	d := shape - 1.0/3
	for {
		x := normal()
		v := 1 + x/math.Sqrt(9*d)
		v = v * v * v
		if v > 0 && math.Log(1-r.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// callMin is how many minutes it takes until k fights have begun: intervals of a
// gamma distribution of shape 8 whose mean is about 6 and as uncertain as after 20
// of them; one in 12.5 carries a hold-up of a quarter of an hour on average.
func callMin(r *rand.Rand, k int) (min float64) {
	const shape, before = 8, 1 + 8*20
	rate := gammaOf(r, before, r.NormFloat64) / (6 * (before - 1) / shape)
	for range k {
		min += gammaOf(r, shape, r.NormFloat64) / rate
		if r.Float64() < 0.08 {
			min += 15 * r.ExpFloat64()
		}
	}
	return min
}

// plannedDay is a board with what its forecast says.
type plannedDay struct {
	robots  []plannedRobot
	works   []plannedWork // as the plan starts them
	benches int
}

type plannedRobot struct {
	said, hands, callIn int
	sheetsMin           float64
}

type plannedWork struct {
	id          board.JobID
	robot       int
	people      []board.PersonID
	after       []board.JobID
	likely, bad float64
	at          board.Moment
}

// dayOf is a pit of two robots that stand open, inspected, with work to do and a
// call some fights away. Constructed by us.
func dayOf(t testing.TB, n uint64) plannedDay {
	r := rand.New(rand.NewPCG(n, 1))
	p := newPit(t)
	d := plannedDay{benches: 3}
	p.station("benches", board.StationBench, d.benches)
	m, e := board.SkillMechanical, board.SkillElectrical
	p.person("Ada", m)
	p.person("Ben", m, e)
	p.person("Cid", m, e)
	p.person("Eve", m)
	var ids []board.RobotID
	for k, enter := range []func(string, int, board.PersonID) board.RobotID{p.heavy, p.light} {
		name := fmt.Sprintf("Robot %d", k+1)
		lead := p.person("Lead of " + name)
		id := enter(name, k+1, lead)
		ids = append(ids, id)
		p.open(id, lead)
		robot := plannedRobot{callIn: 5 + r.IntN(13), sheetsMin: float64(p.s.Robots[id].AfterSec) / 60, hands: p.s.Robots[id].Hands}
		p.fight(board.FightFields{Robot: id, Arena: name, Number: 9 + 2 + robot.callIn})
		p.made("", board.FightNow{Arena: name, Number: 9}, captain)
		d.robots = append(d.robots, robot)
		var last board.JobID
		for w := range 2 + r.IntN(4) {
			last = p.someWork(r, id, fmt.Sprintf("Work %d", w+1), last)
		}
	}
	d.read(p, ids)
	return d
}

func (p *pit) someWork(r *rand.Rand, robot board.RobotID, name string, last board.JobID) board.JobID {
	likely := 5 + r.IntN(15)
	hands := []board.Skill{board.SkillMechanical}
	switch {
	case r.IntN(3) == 0:
		hands[0] = board.SkillElectrical
	case r.IntN(3) == 0 && p.s.Robots[robot].Hands > 1:
		hands = append(hands, board.SkillMechanical)
	}
	f := board.JobFields{Robot: robot, Name: name, Fixes: []board.Fix{fix(likely, int(float64(likely)*(1.6+r.Float64())), hands...)}}
	if last != "" && r.IntN(5) < 2 {
		f.After = []board.JobID{last}
	}
	return p.job(f)
}

// read takes down what the forecast of a board says.
func (d *plannedDay) read(p *pit, ids []board.RobotID) {
	made := p.make()
	for k, id := range ids {
		c := find(p.t, made.Chances, func(c forecast.Chance) bool { return c.Robot == id })
		require.NotNil(p.t, c.Ready)
		d.robots[k].said = *c.Ready
	}
	for _, j := range made.Plans {
		require.GreaterOrEqual(p.t, j.Fix, 0)
		job := p.s.Jobs[j.Job]
		d.works = append(d.works, plannedWork{
			id: j.Job, robot: slices.Index(ids, job.Robot), people: j.People, after: job.After, at: j.StartAt,
			likely: float64(job.Fixes[j.Fix].LikelySec) / 60, bad: float64(job.Fixes[j.Fix].BadSec) / 60,
		})
	}
	slices.SortStableFunc(d.works, func(a, b plannedWork) int { return cmp.Compare(a.at, b.at) })
}

// played works the plan off in its order and tells which robots make their calls:
// whoever and whatever comes free first goes to the work that is next.
func (d *plannedDay) played(r *rand.Rand, takes world) []bool {
	tired := r.NormFloat64()
	benches := make([]float64, d.benches)
	free, done := map[board.PersonID]float64{}, map[board.JobID]float64{}
	rooms, ready, met := make([][]float64, len(d.robots)), make([]float64, len(d.robots)), make([]bool, len(d.robots))
	for k, robot := range d.robots {
		rooms[k] = make([]float64, robot.hands)
	}
	for _, w := range d.works {
		room := rooms[w.robot]
		slices.Sort(benches)
		slices.Sort(room)
		start := max(benches[0], room[len(w.people)-1])
		for _, who := range w.people {
			start = max(start, free[who])
		}
		for _, before := range w.after {
			start = max(start, done[before])
		}
		end := start + takes(r, tired, w.likely, w.bad)
		benches[0], done[w.id] = end, end
		for k, who := range w.people {
			room[k], free[who] = end, end
		}
		ready[w.robot] = max(ready[w.robot], end)
	}
	// The steps of the sheets, each twice as long in the bad case and correlated like all
	// work, come to that: computed independently.
	for k, robot := range d.robots {
		met[k] = ready[k]+takes(r, tired, 1.07*robot.sheetsMin, 1.72*robot.sheetsMin) <= callMin(r, robot.callIn)
	}
	return met
}

// nightly asks for the long run.
const nightly = "MENDLINE_NIGHTLY"

// The board's chances against what becomes of its own plans in a simulation of our
// own, which shares neither numbers nor code with the board's. In the first world
// durations are as the board takes them to be; the others show how far off it is
// where they are not.
func TestOfCallsGivenEightOfTenEightOfTenAreMet(t *testing.T) {
	t.Parallel()
	days, plays := 200, 20
	if os.Getenv(nightly) == "1" {
		days = 2000
	}
	worlds := []struct {
		name  string
		takes world
	}{{"lognormal, as the board takes it", lognormalWorld}, {"gamma, same mean and variance", gammaWorld}, {"lognormal with hold-ups", heldUpWorld}}
	series := make([][]estimate.Said, len(worlds))
	for n := range days {
		d := dayOf(t, uint64(n))
		for k, w := range worlds {
			r := rand.New(rand.NewPCG(uint64(n), uint64(k+2)))
			for range plays {
				for i, met := range d.played(r, w.takes) {
					series[k] = append(series[k], estimate.Said{Chance: float64(d.robots[i].said) / 10, Met: met})
				}
			}
		}
	}
	for k, w := range worlds {
		shares := reliability(t, fmt.Sprintf("%s: %d days, each played %d times", w.name, days, plays), series[k], plays)
		if k == 0 {
			require.InDelta(t, 0.80, shares[8], 0.08, "calls given 8 of 10 and met")
		}
	}
}

// reliability prints the table and returns the share met by n of 10. Each call was
// played so many times and counts once for the interval.
func reliability(t *testing.T, title string, series []estimate.Said, plays int) (shares [11]float64) {
	var given, met [11]int
	for _, s := range series {
		n := int(math.Round(10 * s.Chance))
		given[n]++
		if s.Met {
			met[n]++
		}
	}
	c, err := estimate.Calibrate(series)
	require.NoError(t, err)
	t.Logf("%s\nBrier %.4f, and %.4f with the same chance for all", title, c.Brier, c.Always)
	for n := range given {
		shares[n] = math.NaN()
		if given[n] == 0 {
			continue
		}
		shares[n] = float64(met[n]) / float64(given[n])
		low, high := wilson(shares[n], float64(given[n]/plays))
		t.Logf("%2d of 10: calls %5d, met %.3f (%.3f to %.3f)", n, given[n]/plays, shares[n], low, high)
	}
	return shares
}

// wilson is the 95 % interval of a share seen n times. Source: E. B. Wilson,
// "Probable inference, the law of succession, and statistical inference", Journal of
// the American Statistical Association 22, 1927, 209-212 (from memory).
func wilson(share, n float64) (low, high float64) {
	const z = 1.959963984540054
	mid := (share + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(share*(1-share)/n+z*z/(4*n*n))
	return mid - half, mid + half
}

// Computed independently with Python/scipy.
func TestTheIntervalOfAShare(t *testing.T) {
	for _, c := range []struct{ met, n, low, high float64 }{{180, 200, .8506, .9343}, {900, 1000, .8798, .9171}, {200, 200, .9812, 1}} {
		low, high := wilson(c.met/c.n, c.n)
		require.InDelta(t, c.low, low, 5e-5, "%v", c)
		require.InDelta(t, c.high, high, 5e-5, "%v", c)
	}
}
