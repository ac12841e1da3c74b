package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/view"
)

// swaps is a robot and a kind of job of 20 minutes likely and 50 in the bad case,
// done off the robot.
func swaps(t *testing.T) (p *pit, ada board.PersonID, r board.RobotID, kind board.TemplateID) {
	p = newPit(t)
	p.station("bench", board.StationBench, 2)
	ada = p.person("Ada", board.SkillMechanical)
	r = p.heavy("Alder", 1, ada)
	swap := fix(20, 50, board.SkillMechanical)
	swap.Lockout, swap.PackOut, swap.Where = false, false, board.OffRobot
	kind = board.TemplateID(p.made(board.KindTemplate, board.TemplateAdd{TemplateFields: board.TemplateFields{
		Name: "Swap blade", Size: board.Heavy, Triage: board.Must, Fixes: []board.Fix{swap},
	}}, captain))
	return p, ada, r, kind
}

// took is a job of the kind that was worked on for so many minutes; hold leaves it
// held.
func (p *pit) took(r board.RobotID, kind board.TemplateID, who board.PersonID, minutes int, hold bool) board.JobID {
	p.t.Helper()
	job := p.job(board.JobFields{Robot: r, Template: kind})
	p.by(who, board.JobStart{Job: job})
	p.wait(time.Duration(minutes) * time.Minute)
	if hold {
		p.by(who, board.JobHold{Job: job, Why: board.HoldPart})
	} else {
		p.by(who, board.JobFinish{Job: job})
	}
	return job
}

func (p *pit) learned(kind board.LearnKind) view.Learned {
	p.t.Helper()
	return find(p.t, p.make().Learned, func(l view.Learned) bool { return l.Kind == kind })
}

// Said 20/50, taken 30, 26, 45, 22 and 38 minutes: likely 25.583, bad case 52.214;
// computed independently.
func TestOldAndNewStandBesideEachOtherAndCountOnlyOnceSwitchedOn(t *testing.T) {
	p, ada, r, kind := swaps(t)
	for _, minutes := range []int{30, 26, 45, 22, 38} {
		p.took(r, kind, ada, minutes, false)
	}
	next := p.job(board.JobFields{Robot: r, Template: kind})
	other := p.job(board.JobFields{Robot: r, Name: "of no kind", Fixes: []board.Fix{fix(20, 50, board.SkillMechanical)}})
	takes := func(j board.JobID) time.Duration { pl := p.plan(j); return pl.EndAt.Sub(pl.StartAt) }

	require.Equal(t, view.Learned{
		Kind: board.LearnKind(kind), Name: "Swap blade (heavy)", N: 5, LikelySec: 1200, BadSec: 3000, LearnedLikelySec: 1540, LearnedBadSec: 3130,
	}, p.learned(board.LearnKind(kind)))
	require.Equal(t, 20*time.Minute, takes(next), "never silently")

	p.captain(board.LearnSet{Kind: board.LearnKind(kind), On: true})
	require.True(t, p.learned(board.LearnKind(kind)).On)
	require.InDelta(t, 25.583*60, takes(next).Seconds(), 10)
	require.Equal(t, 20*time.Minute, takes(other))
	p.captain(board.LearnSet{Kind: board.LearnKind(kind)})
	require.Equal(t, 20*time.Minute, takes(next))
}

func TestAJobBrokenOffIsNoShortJob(t *testing.T) {
	p, ada, r, kind := swaps(t)
	for range 3 {
		p.took(r, kind, ada, 20, false)
	}
	likely := func() int { return p.learned(board.LearnKind(kind)).LearnedLikelySec }
	was := likely()
	require.Equal(t, 1200, was)
	held := p.took(r, kind, ada, 10, true)
	require.Equal(t, 1, p.learned(board.LearnKind(kind)).Open)
	require.GreaterOrEqual(t, likely(), was, "ten minutes and not done are no ten minutes")
	p.by(ada, board.JobResume{Job: held})
	p.by(ada, board.JobFinish{Job: held})
	require.Less(t, likely(), was, "ten minutes and done are")
}

// back is a fight that ends now, and a turnaround of so many minutes until the
// inspection is over; the last of them with a job of its own where one is asked for.
func (p *pit) back(r board.RobotID, who board.PersonID, minutes, jobMin int) {
	p.t.Helper()
	f := p.fight(board.FightFields{Robot: r, Arena: "Z", Number: len(p.s.Fights) + 1})
	p.captain(board.FightEnd{Fight: f, Result: board.Won})
	p.wait(time.Duration(minutes-jobMin) * time.Minute)
	if jobMin > 0 {
		off := fix(jobMin, 2*jobMin, board.SkillMechanical)
		off.Lockout, off.PackOut, off.Where = false, false, board.OffRobot
		job := p.job(board.JobFields{Robot: r, Name: "off the robot", Fixes: []board.Fix{off}})
		p.by(who, board.JobStart{Job: job})
		p.wait(time.Duration(jobMin) * time.Minute)
		p.by(who, board.JobFinish{Job: job})
	}
	p.open(r, who)
	for id := range p.s.Tags {
		p.by(who, board.TagOff{Tag: id})
	}
	p.wait(time.Hour)
}

// Nine minutes are said. The sheets take twelve of their own each time; a job of
// four minutes in between is the job's, and counts once.
func TestTheSheetsOwnTimesAreLearnedAndCountedOnce(t *testing.T) {
	p := newPit(t)
	p.place("bench", board.PlaceBench)
	p.station("bench", board.StationBench, 2)
	ada := p.person("Ada", board.SkillMechanical)
	r := p.light("Alder", 1, ada)
	kind := board.BeforeKind(r)
	p.back(r, ada, 16, 4)
	one := p.learned(kind)
	require.Equal(t, 1, one.N)
	require.Equal(t, 540, one.LikelySec)
	for range 4 {
		p.back(r, ada, 12, 0)
	}
	p.back(r, ada, 40, 0)
	five := p.learned(kind)
	require.Equal(t, 5, five.N, "40 minutes were a wait")
	require.Greater(t, five.LearnedLikelySec, one.LearnedLikelySec)
	require.Less(t, five.LearnedLikelySec, 720, "drawn towards what is said")

	p.captain(board.RobotDoubt{Robot: r, Why: "it fought"})
	p.calledAt(r, p.now.Add(40*time.Minute))
	said := p.call(r).HandsOnSec
	require.Equal(t, 26*60, said, "40 less 9 and 5")
	p.captain(board.LearnSet{Kind: kind, On: true})
	require.Equal(t, 24*60, p.call(r).HandsOnSec, "the learned time rounded to the minute")
}
