package forecast_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// shortDay is a pit with more to do than there is time for: one to three robots, one to
// four people, few benches and spares, an event that grants a postponement. Constructed
// by us.
func shortDay(t testing.TB, n uint64) *pit {
	r := rand.New(rand.NewPCG(n, 5))
	p := newPit(t)
	p.station("bench", board.StationBench, 1+r.IntN(3))
	m, e := board.SkillMechanical, board.SkillElectrical
	crew := 1 + r.IntN(4)
	var people []board.PersonID
	for k := range crew {
		skills := []board.Skill{m}
		if k == 0 || r.IntN(2) == 0 {
			skills = append(skills, e)
		}
		people = append(people, p.person(fmt.Sprintf("Person %d", k), skills...))
	}
	belt := p.stock("belt", r.IntN(3))
	triage := []board.Triage{board.Must, board.Must, board.Should, board.Could}
	for k := range 1 + r.IntN(3) {
		enter := p.light
		if r.IntN(3) == 0 {
			enter = p.heavy
		}
		lead := people[r.IntN(crew)]
		id := enter(fmt.Sprintf("Robot %d", k), k+1, lead)
		if r.IntN(3) > 0 {
			p.open(id, lead)
		}
		var work float64
		for w := range 2 + r.IntN(4) {
			likely := 4 + r.IntN(14)
			hand := m
			if r.IntN(3) == 0 {
				hand = e
			}
			f := board.JobFields{Robot: id, Name: fmt.Sprintf("Work %d", w), Triage: triage[r.IntN(4)], Fixes: []board.Fix{fix(likely, 2*likely, hand)}}
			if r.IntN(3) == 0 {
				f.Fixes = []board.Fix{using(f.Fixes[0], belt), fix(2*likely, 4*likely, hand)}
			}
			job := p.job(f)
			if r.IntN(4) == 0 {
				p.captain(board.JobAssign{Job: job, People: []board.PersonID{people[r.IntN(crew)]}})
			}
			work += float64(likely)
		}
		p.calledAt(id, p.now.Add(time.Duration((10+work*(0.5+r.Float64()))*60)*time.Second))
	}
	ev := p.s.Event().EventFields
	if r.IntN(2) == 0 {
		ev.PostponeSec = 10 * 60
	}
	p.captain(board.EventSet{EventFields: ev})
	for k := 0; r.IntN(2) == 0 && k < 3; k++ { // the plan is given, as often as a better one is found
		p.takesThePlan()
	}
	return p
}

func TestTheBestRemedyIsAmongTheFirstTwo(t *testing.T) {
	t.Parallel()
	boards := 40
	if os.Getenv(nightly) == "1" {
		boards = 200
	}
	found, helped := 0, 0
	for n := range boards {
		p := shortDay(t, uint64(n))
		is, any := forecast.AmongTheFirstTwo(p.s, p.now, 1, budget)
		if any {
			helped++
		}
		if is {
			found++
		}
	}
	t.Logf("%d of %d", found, helped)
	require.GreaterOrEqual(t, 2*helped, boards, "on half of the boards something helps")
	require.GreaterOrEqual(t, float64(found), 0.9*float64(helped))
}

// What a remedy is said to do is what the forecast says once it is done, for every robot.
func TestARemedyDoesWhatItSaysToEveryRobot(t *testing.T) {
	t.Parallel()
	boards := 40
	if os.Getenv(nightly) == "1" {
		boards = 200
	}
	listed, worst := 0, 0.0
	off := 0
	for n := range boards {
		p := shortDay(t, uint64(n))
		for _, x := range forecast.Listed(p.s, p.now, 1, budget) {
			s := p.s
			if next := p.make().Replace; next != nil && s.Follow().At != 0 {
				q := &pit{t: t, s: s, now: p.now, n: 1 << 21}
				q.made("", *next, board.Itself())
				s = q.s
			}
			for _, w := range x.Do {
				command, refusal := board.Decode(w.Do, w.With)
				require.Nil(t, refusal)
				q := &pit{t: t, s: s, now: p.now, n: 1 << 20}
				q.captain(command)
				s = q.s
			}
			real := forecast.ReadyShares(s, p.now, 1, budget)
			listed++
			bad := 0.0
			for r, then := range x.Shares {
				bad = max(bad, math.Abs(real[r]-then))
			}
			if bad > 0.05 {
				off++
				t.Logf("board %d: %s: %v, and is %v", n, x.Text, x.Shares, real)
			}
			worst = max(worst, bad)
		}
	}
	t.Logf("%d remedies listed, %d off by more than .05, worst %.3f", listed, off, worst)
	require.GreaterOrEqual(t, listed, boards, "one to a board in the mean")
	require.Zero(t, off)
}
