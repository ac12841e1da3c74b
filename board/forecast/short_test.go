package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// oneBlade is a worked instance: one blade for two robots that need it, three
// mechanics, 30 minutes for A and 35 for B. Constructed by us; the best plan was
// proved by a constraint model: A ready at 28, B at 48.
func oneBlade(t *testing.T) (p *pit, a, b board.RobotID, blade board.StockID, solder board.JobID) {
	p = newPit(t)
	p.station("bench", board.StationBench, 2)
	one := p.person("Ada", board.SkillMechanical)
	p.person("Bo", board.SkillMechanical, board.SkillElectrical)
	p.person("Cy", board.SkillMechanical)
	blade = p.stock("blade", 1)
	enter := func(name string, number, callMin int) board.RobotID {
		r := p.robot(board.RobotFields{
			Name: name, Number: number, Size: board.Light, Hands: 2, Weight: 1, Lead: one,
			Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules"},
		})
		p.calledAt(r, p.now.Add(time.Duration(callMin)*time.Minute))
		return r
	}
	work := func(r board.RobotID, name string, triage board.Triage, after []board.JobID, fixes ...board.Fix) board.JobID {
		return p.job(board.JobFields{Robot: r, Name: name, Triage: triage, After: after, Fixes: fixes})
	}
	const m, e = board.SkillMechanical, board.SkillElectrical
	swap, mend, close := using(fix(20, 20, m, m), blade), fix(40, 40, m), fix(8, 8, m)
	a, b = enter("Alder", 1, 30), enter("Birch", 2, 35)
	a1 := work(a, "blade", board.Must, nil, swap, mend)
	work(a, "close", board.Must, []board.JobID{a1}, close)
	b1 := work(b, "blade", board.Must, nil, swap, mend)
	solder = work(b, "solder", board.Should, nil, fix(12, 12, e))
	work(b, "close", board.Must, []board.JobID{b1, solder}, close)
	return p, a, b, blade, solder
}

func TestTheOneBladeIsSaidToLeaveBirchThirteenMinutesShort(t *testing.T) {
	p, a, b, _, _ := oneBlade(t)
	require.Equal(t, forecast.FlagNone, p.call(a).Flag, p.call(a).Cause.Text)
	c := p.call(b)
	require.Equal(t, forecast.FlagWontFinish, c.Flag)
	require.Equal(t, 13*60, c.ShortSec)
	require.Equal(t, forecast.Cause{Kind: forecast.CausePart,
		Text: "No plan has Alder and Birch ready in time: at least 13 min short in all. Only 1 spare blade left."}, c.Cause)
}

// Neither a blade nor a person helps alone, nor does leaving the solder off; both
// together do, and so does a call 13 minutes later.
func TestWhatHelpsBirch(t *testing.T) {
	blade := func(p *pit, id board.StockID) { p.captain(board.StockCount{Stock: id, Count: 2}) }
	fourth := func(p *pit) { p.person("Di", board.SkillMechanical) }
	for name, c := range map[string]struct {
		change func(p *pit, b board.RobotID, id board.StockID, solder board.JobID)
		short  int
	}{
		"another blade":  {func(p *pit, _ board.RobotID, id board.StockID, _ board.JobID) { blade(p, id) }, 13 * 60},
		"another person": {func(p *pit, _ board.RobotID, _ board.StockID, _ board.JobID) { fourth(p) }, 13 * 60},
		"no solder": {func(p *pit, _ board.RobotID, _ board.StockID, j board.JobID) {
			p.captain(board.JobDrop{Job: j, Reason: "no time"})
		}, 13 * 60},
		"a blade and a hand": {func(p *pit, _ board.RobotID, id board.StockID, _ board.JobID) { blade(p, id); fourth(p) }, 0},
		"13 minutes more": {func(p *pit, b board.RobotID, _ board.StockID, _ board.JobID) {
			for id, f := range p.s.Fights {
				if f.Robot == b {
					p.captain(board.FightMove{Fight: id, Arena: f.Arena, Number: f.Number, NotBefore: f.NotBefore.Add(13 * time.Minute)})
				}
			}
		}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			p, _, b, id, solder := oneBlade(t)
			c.change(p, b, id, solder)
			require.Equal(t, c.short, p.call(b).ShortSec, p.call(b).Cause.Text)
		})
	}
}

func TestWhatIsProvedIsKeptApartFromWhatWasNotFound(t *testing.T) {
	m := board.SkillMechanical
	for name, c := range map[string]struct {
		jobs []board.Fix
		says string
		kind forecast.CauseKind
		job  int
		min  int
	}{
		"one long job":      {[]board.Fix{fix(45, 60, m)}, "No plan meets this call: at least 15 min short. Job 1, a needs 45 min of hands-on time, and Alder has 30 min.", forecast.CauseClock, 1, 15},
		"one pair of hands": {[]board.Fix{fix(20, 30, m), fix(20, 30, m)}, "No plan meets this call: at least 10 min short. Too much of the work is for Ada alone.", forecast.CausePerson, 0, 10},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.station("bench", board.StationBench, 2)
			ada := p.person("Ada", m)
			p.person("Bo", board.SkillElectrical)
			r := p.robot(board.RobotFields{Name: "Alder", Number: 1, Size: board.Light, Hands: 2, Weight: 1, Lead: ada,
				Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules"}})
			p.calledAt(r, clock(t, "12:30"))
			for i, fix := range c.jobs {
				p.job(board.JobFields{Robot: r, Name: string(rune('a' + i)), Fixes: []board.Fix{fix}})
			}
			call := p.call(r)
			require.Equal(t, forecast.Cause{Kind: c.kind, Text: c.says, Job: c.job}, call.Cause)
			require.Equal(t, 60*c.min, call.ShortSec, "its lead stays: without the robot nobody goes to the arena")
		})
	}
}

// Ada is needed for b, and is on a until 12:25; c, which Bo does, comes after b.
func TestWhoHoldsUpWhatComesFirstIsNamedWithIt(t *testing.T) {
	p := newPit(t)
	m, e := board.SkillMechanical, board.SkillElectrical
	p.station("bench", board.StationBench, 3)
	ada := p.person("Ada", m)
	p.person("Bo", e)
	p.person("Cy", e)
	r := p.heavy("Bramble", 1, p.person("Di"))
	p.open(r, ada)
	other := p.light("Sprat", 2, ada)
	p.open(other, ada)
	a := p.job(board.JobFields{Robot: other, Name: "a", Fixes: []board.Fix{fix(25, 25, m)}})
	p.by(ada, board.JobStart{Job: a})
	b := p.job(board.JobFields{Robot: r, Name: "b", Fixes: []board.Fix{fix(10, 10, m)}})
	c := p.job(board.JobFields{Robot: r, Name: "c", After: []board.JobID{b}, Fixes: []board.Fix{fix(10, 10, e)}})
	p.calledAt(r, p.now.Add(50*time.Minute))

	require.Equal(t, "Job 2, b comes first. Ada is on job 1 until 12:25.", p.plan(c).Cause.Text)
	require.Equal(t, "Ada is on job 1 until 12:25.", p.plan(b).Cause.Text)
}

// Three jobs of 25 minutes for two people who both go to the fight: 50 minutes, which is
// late, and no bound says so. Nobody leaves in the middle of it.
func TestNobodyLeavesForAFightThatThePlanMisses(t *testing.T) {
	p := newPit(t)
	m := board.SkillMechanical
	p.station("bench", board.StationBench, 2)
	ada, ben := p.person("Ada", m), p.person("Ben", m)
	r := p.robot(board.RobotFields{Name: "Alder", Number: 1, Size: board.Light, Hands: 2, Weight: 1, Lead: ada, Driver: ben, AfterSec: 5 * 60,
		Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules"}})
	p.open(r, ada)
	for _, name := range []string{"a", "b", "c"} {
		p.job(board.JobFields{Robot: r, Name: name, Fixes: []board.Fix{fix(25, 25, m)}})
	}
	p.calledAt(r, p.now.Add(45*time.Minute))
	require.Equal(t, 10*60, p.call(r).ShortSec)

	p.made("", *p.make().Replace, board.Itself())
	require.Equal(t, 10*60, p.call(r).ShortSec, p.call(r).Cause.Text)
	if again := p.make().Replace; again != nil {
		p.made("", *again, board.Itself())
	}
	require.Nil(t, p.make().Replace)
	require.Equal(t, 10*60, p.call(r).ShortSec)
	require.Contains(t, p.call(r).Cause.Text, "The best plan found is 10 min late.")
}
