package forecast_test

import (
	"maps"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/forecast"
)

func TestAnEmptyBoardForetellsNothingAndSaysWhatItLacks(t *testing.T) {
	f := forecast.Make(board.State{}, noon, 1, budget)
	require.Equal(t, []board.Key{"first/event"}, slices.Collect(maps.Keys(f.Entries())))
}

func TestTheOverheadsShrinkAsTheStripIsAnswered(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	p.place("watch table", board.PlaceWatch)
	r := p.light("Sprat", 1, ada)
	inside, spare := p.pack("P1", r), p.pack("P2", r)
	p.charged(inside)
	p.charged(spare)
	p.captain(board.PackMove{Pack: inside, Robot: r, Found: true})
	p.fought(r)
	p.calledAt(r, p.now.Add(40*time.Minute))
	steps := []struct {
		name    string
		do      func()
		handsOn int // minutes of the 40
	}{
		{"back from the arena: 9 before, 5 after", func() {}, 26},
		{"made safe and verified: 4 before", func() { p.walk(r, board.ListMakeSafe, ada) }, 31},
		{"pack out: 2 before", func() { p.by(ada, board.TagOn{Robot: r}); p.walk(r, board.ListFirstIn, ada) }, 33},
		{"inspected: none before", func() { p.walk(r, board.ListInspect, ada) }, 35},
		{"closed up: 4 after", func() {
			p.by(ada, board.RobotCloseUp{Robot: r})
			p.walk(r, board.ListCloseUp, ada)
		}, 36},
		{"failsafe shown and weighed: 1 after", func() {
			sheet, _ := p.s.Sheet(r, board.ListReady)
			for _, l := range sheet.Lines[:2] {
				p.by(ada, boardtest.AnswerTo(p.s, sheet, l, ada))
			}
		}, 39},
		{"signed: none after", func() {
			for _, tag := range p.s.Tags {
				p.by(ada, board.TagOff{Tag: tag.ID})
			}
			p.walk(r, board.ListReady, ada)
		}, 40},
	}
	for _, step := range steps {
		step.do()
		require.Equal(t, step.handsOn*60, p.call(r).HandsOnSec, step.name)
	}
	require.Equal(t, board.Ready, p.s.Powers[r].State)
}

func TestEveryFlagNamesItsOneCause(t *testing.T) {
	m, e := board.SkillMechanical, board.SkillElectrical
	cases := []struct {
		name  string
		jobs  func(p *pit, r board.RobotID) board.JobID // the last one is looked at
		flag  forecast.Flag
		kind  forecast.CauseKind
		words string
	}{
		{"half an hour is enough", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{fix(10, 20, m)}})
		}, forecast.FlagNone, forecast.NoCause, ""},
		{"the bad case is too long", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{fix(10, 60, m)}})
		}, forecast.FlagTight, forecast.CauseClock, "may take until"},
		{"the work is too long", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Hub", Fixes: []board.Fix{fix(45, 90, m)}})
		}, forecast.FlagWontFinish, forecast.CauseClock, "needs 45 min"},
		{"no spare", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(10, 20, m), p.stock("belt", 0))}})
		}, forecast.FlagWontFinish, forecast.CausePart, "No spare belt left."},
		{"no spare for a job that may be left off", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Belt", Triage: board.Could, Fixes: []board.Fix{using(fix(10, 20, m), p.stock("belt", 0))}})
		}, forecast.FlagWontFinish, forecast.CausePart, "No spare belt left."},
		{"another fix where the spare is missing", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(5, 10, m), p.stock("belt", 0)), fix(12, 20, m)}})
		}, forecast.FlagNone, forecast.NoCause, ""},
		{"the last spare goes to a must", func(p *pit, r board.RobotID) board.JobID {
			belt := p.stock("belt", 1)
			p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(10, 20, m), belt)}})
			return p.job(board.JobFields{Robot: r, Name: "Other belt", Triage: board.Could, Fixes: []board.Fix{using(fix(2, 3, m), belt)}})
		}, forecast.FlagWontFinish, forecast.CausePart, "The last spare belt goes to job 1, Belt."},
		{"nobody has the skill", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Weld", Fixes: []board.Fix{fix(10, 20, board.SkillWeld)}})
		}, forecast.FlagWontFinish, forecast.CausePerson, "weld"},
		{"a minor's skill counts for nothing", func(p *pit, r board.RobotID) board.JobID {
			p.captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Kim", Role: board.RoleCrew, Minor: true, Skills: []board.Skill{board.SkillWeld}}})
			return p.job(board.JobFields{Robot: r, Name: "Weld", Fixes: []board.Fix{fix(10, 20, board.SkillWeld)}})
		}, forecast.FlagWontFinish, forecast.CausePerson, "weld"},
		{"a minor's hands count", func(p *pit, r board.RobotID) board.JobID {
			p.captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Kim", Role: board.RoleCrew, Minor: true}})
			return p.job(board.JobFields{Robot: r, Name: "Rail", Fixes: []board.Fix{fix(10, 20, m, board.SkillAny, board.SkillAny)}})
		}, forecast.FlagNone, forecast.NoCause, ""},
		{"no such station", func(p *pit, r board.RobotID) board.JobID {
			f := fix(10, 20, m)
			f.Station = board.StationGrind
			return p.job(board.JobFields{Robot: r, Name: "Burrs", Fixes: []board.Fix{f}})
		}, forecast.FlagWontFinish, forecast.CauseStation, "There is no grinder on the board."},
		{"one person for two jobs", func(p *pit, r board.RobotID) board.JobID {
			p.job(board.JobFields{Robot: r, Name: "Wire", Fixes: []board.Fix{fix(20, 21, e)}})
			second := p.job(board.JobFields{Robot: r, Name: "Solder", Fixes: []board.Fix{fix(20, 21, e)}, Triage: board.Must})
			return second
		}, forecast.FlagWontFinish, forecast.CausePerson, "Ben is on job 1 until 12:39."},
		{"no time for a nicety", func(p *pit, r board.RobotID) board.JobID {
			return p.job(board.JobFields{Robot: r, Name: "Paint", Triage: board.Could, Fixes: []board.Fix{fix(45, 90, m)}})
		}, forecast.FlagWontFinish, forecast.CauseClock, "no time"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := newPit(t)
			p.station("bench 1", board.StationBench, 4)
			ada := p.person("Ada", m)
			p.person("Ben", m, e)
			f := board.RobotFields{Name: "Sprat", Number: 1, Size: board.Light, Hands: 3, BeforeSec: 9 * 60, AfterSec: 5 * 60, Weight: 1, Lead: ada,
				Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules"}}
			r := p.robot(f)
			p.now = p.now.Add(-10 * time.Minute)
			p.fought(r)
			p.now = p.now.Add(20 * time.Minute)
			p.calledAt(r, p.now.Add(40*time.Minute))
			job := c.jobs(p, r)

			got := p.plan(job)

			require.Equal(t, c.flag, got.Flag, got.Cause.Text)
			require.Equal(t, c.kind, got.Cause.Kind, got.Cause.Text)
			require.Contains(t, got.Cause.Text, c.words)
			if c.flag == forecast.FlagNone {
				require.NotEmpty(t, got.People)
				require.Less(t, got.EndAt, got.BadAt)
			}
		})
	}
}

func TestTheCaptainsThresholdsSayWhatIsTightAndWhatWontFinish(t *testing.T) {
	for _, c := range []struct {
		tight, wont int
		flag        forecast.Flag
	}{{0, 0, forecast.FlagTight}, {1, 1, forecast.FlagNone}, {10, 10, forecast.FlagWontFinish}} {
		p := newPit(t)
		p.station("bench 1", board.StationBench, 4)
		r := p.light("Sprat", 1, p.person("Ada", board.SkillMechanical))
		p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{fix(10, 40, board.SkillMechanical)}})
		p.calledAt(r, p.now.Add(40*time.Minute))
		e := p.s.Event().EventFields
		e.TightBelow, e.WontBelow = c.tight, c.wont
		p.captain(board.EventSet{EventFields: e})

		require.Equal(t, c.flag, p.call(r).Flag, "tight below %d, not below %d", c.tight, c.wont)
	}
}

func TestOfTwoBranchesTheEarlierIsPlannedForUntilTheResultIsIn(t *testing.T) {
	p := newPit(t)
	r := p.light("Sprat", 1, p.person("Ada"))
	first := p.fight(board.FightFields{Robot: r, Number: 5})
	lost := p.fight(board.FightFields{Robot: r, Number: 12, After: first, If: board.Lost})
	won := p.fight(board.FightFields{Robot: r, Number: 20, After: first, If: board.Won})
	p.made("", board.FightNow{Arena: "A", Number: 5}, captain)
	require.True(t, p.call(r).OnNow)
	require.Len(t, p.call(r).Branches, 2)

	p.wait(4 * time.Minute)
	on := p.call(r)
	require.Equal(t, first, on.Fight)
	require.Less(t, on.Branches[0].CallAt.Median, on.Branches[1].CallAt.Median)

	p.captain(board.FightEnd{Fight: first, Result: board.Won})
	c := p.call(r)
	require.Equal(t, won, c.Fight)
	require.Empty(t, c.Branches)
	require.NotEqual(t, lost, c.Fight)
}

func TestAJobOfARobotInTheArenaIsPlannedBehindItsFightForTheEarlierBranch(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	r := p.light("Sprat", 1, p.person("Ada", board.SkillMechanical))
	first := p.fight(board.FightFields{Robot: r, Number: 5})
	p.fight(board.FightFields{Robot: r, Number: 8, After: first, If: board.Lost})
	p.fight(board.FightFields{Robot: r, Number: 20, After: first, If: board.Won})
	job := p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{fix(10, 20, board.SkillMechanical)}})
	p.made("", board.FightNow{Arena: "A", Number: 5}, captain)

	got := p.plan(job)

	// A match of 3 minutes, then 9 before hands are in.
	require.Equal(t, p.now.Add(12*time.Minute), got.StartAt)
	require.Equal(t, forecast.FlagWontFinish, got.Flag, "fight 8 is called one fight from now")
}

func TestTwoRobotsThatNeedOnePersonAreServedByTheirCalls(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 4)
	ada := p.person("Ada", board.SkillElectrical)
	early, late := p.light("Sprat", 1, ""), p.light("Minnow", 2, "")
	e := p.s.Event().EventFields
	e.LeadFights = 0
	p.captain(board.EventSet{EventFields: e})
	for arena, r := range map[string]board.RobotID{"E": early, "L": late} {
		p.made("", board.FightNow{Arena: arena, Number: 1}, captain)
		p.fight(board.FightFields{Robot: r, Arena: arena, Number: 2, NotBefore: p.now.Add(map[string]time.Duration{"E": 55 * time.Minute, "L": 95 * time.Minute}[arena])})
	}
	second := p.job(board.JobFields{Robot: late, Name: "Solder", Fixes: []board.Fix{fix(25, 26, board.SkillElectrical)}})
	first := p.job(board.JobFields{Robot: early, Name: "Wire", Fixes: []board.Fix{fix(25, 26, board.SkillElectrical)}})

	a, b := p.plan(first), p.plan(second)

	require.Equal(t, p.now.Add(9*time.Minute), a.StartAt)
	require.Equal(t, []board.PersonID{ada}, a.People)
	require.Equal(t, []board.PersonID{ada}, b.People)
	require.GreaterOrEqual(t, b.StartAt, a.EndAt)
	require.Equal(t, forecast.FlagNone, a.Flag, a.Cause.Text)
	require.Equal(t, forecast.FlagNone, b.Flag, b.Cause.Text)
	require.Equal(t, early, p.make().Calls[0].Robot)
}

func TestTheBadCaseOfAChainIsThatOfItsSum(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	m := board.SkillMechanical
	p.person("Ada", m)
	r := p.light("Sprat", 1, "")
	a := p.job(board.JobFields{Robot: r, Name: "one", Fixes: []board.Fix{fix(10, 25, m)}})
	b := p.job(board.JobFields{Robot: r, Name: "two", Fixes: []board.Fix{fix(5, 12, m)}, After: []board.JobID{a}})
	c := p.job(board.JobFields{Robot: r, Name: "three", Fixes: []board.Fix{fix(20, 50, m)}, After: []board.JobID{b}})

	got := p.plan(c)
	begin := p.now.Add(9 * time.Minute)

	require.Equal(t, begin.Add(35*time.Minute), got.EndAt)
	// P90 of the sheets, 9/15.5, and 10/25 + 5/12 + 20/50 at correlation 0.2, less 9, is
	// 80.2 minutes by 300,000 draws, that of the sheets and the first job 28.3: computed
	// independently.
	require.InDelta(t, 80.2, got.BadAt.Sub(begin).Minutes(), 80.2*0.025)
	require.InDelta(t, 28.3, p.plan(a).BadAt.Sub(begin).Minutes(), 1)
}

func TestARunningJobCountsWithTheTimeLeftGivenTheTimeSpent(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	ada := p.person("Ada", board.SkillMechanical)
	r := p.light("Sprat", 1, ada)
	p.open(r, ada)
	job := p.job(board.JobFields{Robot: r, Name: "Blade", Fixes: []board.Fix{fix(20, 50, board.SkillMechanical)}})
	p.by(ada, board.JobStart{Job: job})
	started := p.now

	// Time left of a 20/50 job after 10, 30 and 80 minutes, computed independently.
	for _, row := range []struct{ spent, likely, bad float64 }{{10, 13.236, 43.749}, {30, 12.933, 47.962}, {80, 17.976, 67.143}} {
		p.now = started.Add(time.Duration(row.spent) * time.Minute)
		got := p.plan(job)
		require.Equal(t, started, got.StartAt)
		require.InDelta(t, row.likely, got.EndAt.Sub(p.now).Minutes(), 0.1)
		require.InDelta(t, row.bad, got.BadAt.Sub(p.now).Minutes(), 0.1)
	}
}

func TestALaneNeverBeginsALockoutJobBeforeTheOverheadsAreOver(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 3)
	m := board.SkillMechanical
	ada := p.person("Ada", m)
	p.person("Ben", m)
	r := p.heavy("Bramble", 1, ada)
	p.fought(r)
	for range 5 {
		p.job(board.JobFields{Robot: r, Name: "Swap", Fixes: []board.Fix{fix(10, 20, m)}})
	}
	off := fix(10, 20, m)
	off.Where, off.Lockout, off.PackOut = board.OffRobot, false, false
	bench := p.job(board.JobFields{Robot: r, Name: "Dress the blade", Fixes: []board.Fix{off}})

	lane := find(t, p.make().Lanes, func(l forecast.Lane) bool { return l.Robot == r })

	require.Len(t, lane.Bars, 6)
	for _, bar := range lane.Bars {
		if bar.Job == bench {
			require.Equal(t, p.now, bar.StartAt)
			continue
		}
		require.GreaterOrEqual(t, bar.StartAt, p.now.Add(30*time.Minute))
	}
}

func TestPacksAreSaidInAWord(t *testing.T) {
	p := newPit(t)
	watch := p.place("watch table", board.PlaceWatch)
	r := p.light("Sprat", 1, "")
	names := map[string]forecast.PackView{}
	ready, in, unread, bad := p.pack("P1", r), p.pack("P2", r), p.pack("P3", r), p.pack("P4", r)
	p.charged(ready)
	p.charged(in)
	p.captain(board.PackMove{Pack: in, Robot: r, Found: true})
	p.captain(board.PackMove{Pack: bad, Place: watch})
	p.captain(board.PackSet{Pack: bad, State: board.PackSuspect})
	for _, v := range p.make().Packs {
		v.ReadAt, v.Again = 0, ""
		names[p.s.Packs[v.Pack].Name] = v
	}
	require.Equal(t, map[string]forecast.PackView{
		"P1": {Pack: ready, Word: "ready", For: r},
		"P2": {Pack: in, Word: "in robot", For: r},
		"P3": {Pack: unread, Word: "unread", For: r},
		"P4": {Pack: bad, Word: "SET ASIDE"},
	}, names)
}

func TestARobotWithNoPackReadyIsTightForItsCharge(t *testing.T) {
	p := newPit(t)
	r := p.light("Sprat", 1, p.person("Ada"))
	pack := p.pack("P1", r)
	p.fought(r)
	p.calledAt(r, p.now.Add(30*time.Minute))

	c := p.call(r)
	require.Equal(t, forecast.FlagTight, c.Flag)
	require.Equal(t, forecast.CauseOfCharge, c.Cause.Kind)
	require.Contains(t, c.Cause.Text, "P1 is unread")

	p.charged(pack)
	require.Equal(t, forecast.FlagNone, p.call(r).Flag)
}

func TestASpareInTheHandsOfARunningJobIsNotPlannedAgain(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 2)
	ada := p.person("Ada", board.SkillMechanical)
	p.person("Ben", board.SkillMechanical)
	r := p.heavy("Bramble", 1, ada)
	p.open(r, ada)
	belt := p.stock("belt", 1)
	first := p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(10, 20, board.SkillMechanical), belt)}})
	second := p.job(board.JobFields{Robot: r, Name: "Other belt", Triage: board.Could, Fixes: []board.Fix{using(fix(10, 20, board.SkillMechanical), belt)}})
	p.by(ada, board.JobStart{Job: first})

	require.Equal(t, forecast.FlagNone, p.plan(first).Flag)
	require.Equal(t, "No spare belt left.", p.plan(second).Cause.Text)
}

func TestAResultThatComesLateDoesNotTurnTheClockBack(t *testing.T) {
	p := newPit(t)
	r := p.light("Sprat", 1, p.person("Ada"))
	first := p.fight(board.FightFields{Robot: r, Number: 9})
	p.fight(board.FightFields{Robot: r, Number: 16})
	p.made("", board.FightNow{Arena: "A", Number: 11}, captain)
	p.wait(6 * time.Minute)
	before := p.call(r).CallAt
	require.Equal(t, 9, p.call(r).Number)

	p.captain(board.FightEnd{Fight: first, Result: board.Lost})

	after := p.call(r)
	require.Equal(t, 16, after.Number)
	require.Greater(t, after.CallAt.Median, before.Median)
	// From 11, seen 6 minutes ago, to 14: three intervals less what has gone by.
	require.InDelta(t, 12, after.CallAt.Median.Sub(p.now).Minutes(), 3)
}

func TestAFightNobodySawBeginBeganAMatchBeforeItsEnd(t *testing.T) {
	p := newPit(t)
	r := p.light("Sprat", 1, p.person("Ada"))
	first := p.fight(board.FightFields{Robot: r, Number: 9})
	p.fight(board.FightFields{Robot: r, Number: 16})
	require.Equal(t, forecast.FlagNoCall, p.call(r).Flag)
	require.Contains(t, p.call(r).Cause.Text, "No fight was seen")

	p.captain(board.FightEnd{Fight: first, Result: board.Lost})

	require.InDelta(t, 5*6-3, p.call(r).CallAt.Median.Sub(p.now).Minutes(), 3)
}
