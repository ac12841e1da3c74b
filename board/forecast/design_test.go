package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// The figures of these tests are invented; they are the acceptance list by which
// a user would judge a forecast. The overheads are common practice, no source.

func TestAnUndamagedBeetleHasSixHandsOnMinutesInATwentyMinuteGap(t *testing.T) {
	p := newPit(t)
	ada, ben := p.person("Ada"), p.person("Ben")
	_ = ben
	r := p.light("Sprat", 1, ada)
	p.charged(p.pack("P1", r))
	p.fought(r)
	p.calledAt(r, p.now.Add(20*time.Minute))

	c := p.call(r)

	require.Equal(t, 6*60, c.HandsOnSec)
	require.Equal(t, forecast.FlagTight, c.Flag, "its sheets alone take more than 20 minutes on 2 days of 10")
	require.Contains(t, c.Cause.Text, "not inspected")
	require.Zero(t, c.NeedSec)
	require.True(t, c.Uninspected)
	require.Nil(t, p.chance("Sprat").Ready, "nobody has looked yet")
	require.Empty(t, p.make().LeaveOff)

	p.wait(9 * time.Minute)
	p.open(r, ada)
	require.Equal(t, 6*60, p.call(r).HandsOnSec)
	require.Equal(t, forecast.FlagNone, p.call(r).Flag)
	require.Equal(t, 10, p.ready("Sprat"))
}

func TestAHardHitShowsNoOptimismUntilItIsInspected(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.heavy("Bramble", 1, ada)
	fight := p.fought(r)
	p.calledAt(r, p.now.Add(80*time.Minute))
	require.Equal(t, forecast.FlagNone, p.call(r).Flag)

	p.by(ada, board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "left rail", Grade: board.G2, Fight: fight, Severity: board.Hard}})

	c := p.call(r)
	require.Equal(t, 30*60, c.HandsOnSec)
	require.True(t, c.Uninspected)
	require.Equal(t, forecast.FlagTight, c.Flag)
	require.Contains(t, c.Cause.Text, "not inspected")
	chance := p.chance("Bramble")
	require.Nil(t, chance.Ready)
	require.Less(t, chance.NeedLowSec, chance.NeedHighSec)
	require.Empty(t, p.make().LeaveOff, "nothing to leave off is known yet")
}

func TestWhatTheInspectionFoundHasAChanceAndABestRemedy(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 2)
	m := board.SkillMechanical
	ada := p.person("Ada", m, board.SkillFabricate)
	p.person("Ben", m)
	r := p.heavy("Bramble", 1, ada)
	fight := p.fought(r)
	p.calledAt(r, p.now.Add(60*time.Minute))
	e := p.s.Event().EventFields
	e.PostponeSec = 30 * 60
	p.captain(board.EventSet{EventFields: e})
	p.by(ada, board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "left rail", Grade: board.G3, Fight: fight, Severity: board.Hard, Stuck: true}})
	p.wait(30 * time.Minute)
	p.open(r, ada)
	stuck := p.job(board.JobFields{Robot: r, Name: "Free the stuck member", Fixes: []board.Fix{fix(15, 60, m, board.SkillFabricate)}})
	p.job(board.JobFields{Robot: r, Name: "Swap the rail", Fixes: []board.Fix{fix(20, 55, m, m)}, After: []board.JobID{stuck}})
	p.job(board.JobFields{Robot: r, Name: "Polish the shell", Triage: board.Could, Fixes: []board.Fix{fix(4, 6, m)}})

	c := p.call(r)

	require.False(t, c.Uninspected)
	require.Equal(t, 10*60, c.HandsOnSec)
	require.Equal(t, forecast.FlagWontFinish, c.Flag)
	require.Less(t, p.ready("Bramble"), 5)
	require.NotNil(t, p.chance("Bramble").Cause)
	list := onlyList(t, p)
	require.Equal(t, p.ready("Bramble"), list.Ready)
	require.NotEmpty(t, list.List)
	best := list.List[0]
	require.Contains(t, best.Text, "postponement", "%+v", list.List)
	require.GreaterOrEqual(t, best.Then, list.Ready+2)
}

func TestAStuckMemberAndARailSwapWontFinishInAnHoursGap(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 2)
	ada := p.person("Ada", board.SkillMechanical, board.SkillFabricate)
	for _, name := range []string{"Ben", "Di", "Eli", "Flo"} {
		p.person(name, board.SkillMechanical, board.SkillFabricate)
	}
	r := p.heavy("Bramble", 1, ada)
	fight := p.fought(r)
	p.calledAt(r, p.now.Add(60*time.Minute))
	p.by(ada, board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "left rail", Grade: board.G3, Fight: fight, Severity: board.Hard, Stuck: true}})
	m := board.SkillMechanical
	stuck := p.job(board.JobFields{Robot: r, Name: "Free the stuck member", Fixes: []board.Fix{fix(15, 60, m, board.SkillFabricate)}})
	rail := p.job(board.JobFields{Robot: r, Name: "Swap the rail", Fixes: []board.Fix{fix(20, 55, m, m)}, After: []board.JobID{stuck}})

	c := p.call(r)

	require.Equal(t, 10*60, c.HandsOnSec)
	require.Equal(t, 35*60, c.NeedSec)
	require.Equal(t, 25*60, c.ShortSec)
	require.Equal(t, forecast.FlagWontFinish, c.Flag)
	require.Equal(t, forecast.CauseClock, c.Cause.Kind, c.Cause.Text)
	require.Equal(t, forecast.FlagWontFinish, p.plan(rail).Flag)
	require.Equal(t, forecast.FlagWontFinish, p.plan(stuck).Flag)
}

func TestFromFightNineToOursTheCallIsInEighteenMinutesAndATapMakesItNow(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.fight(board.FightFields{Robot: r, Number: 14})
	p.made("", board.FightNow{Arena: "A", Number: 9}, captain)

	c := p.call(r)
	// Three intervals of 6 minutes. That any of them may be held up makes their median
	// 50 s more; the screens show whole minutes.
	require.Equal(t, 18, int(c.CallAt.Median.Sub(p.now).Minutes()))
	require.Less(t, c.CallAt.Early, c.CallAt.Median)
	require.Less(t, c.CallAt.Median, c.CallAt.Late)
	require.False(t, c.CallNow)

	p.made("", board.FightNow{Arena: "A", Number: 12}, captain)

	require.True(t, p.call(r).CallNow)
	var calls []forecast.Alarm
	for _, a := range p.make().Alarms {
		if a.Class == forecast.ClassB {
			calls = append(calls, a)
		}
	}
	require.Len(t, calls, 1)
	require.Contains(t, calls[0].Act, "Ada")
}

func TestThePromisedGapHoldsTheStartBack(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	e := p.s.Event().EventFields
	e.LeadFights, e.LeadSec, e.RestSec, e.RestFrom, e.RestTo = 0, 300, 20*60, board.RestMatchEnd, board.RestStart
	p.captain(board.EventSet{EventFields: e})
	p.now = clock(t, "14:00")
	last := p.fought(r)
	p.made("", board.FightNow{Arena: "A", Number: 1}, captain)
	p.fight(board.FightFields{Robot: r, Number: 2})

	require.Equal(t, clock(t, "14:20"), p.call(r).StartAt.Median)
	require.Equal(t, clock(t, "14:15"), p.call(r).CallAt.Median)

	// The officials do not count a re-weigh from 14:01 to 14:05.
	p.now = clock(t, "14:05")
	p.captain(board.FightPause{Fight: last, Span: board.Span{From: clock(t, "14:01"), To: clock(t, "14:05")}})
	require.Equal(t, clock(t, "14:24"), p.call(r).StartAt.Median)
}

func TestAFightThatTakesFiveOfSixShowsTheOtherRobotsShortfallBefore(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 4)
	m := board.SkillMechanical
	crew := []board.PersonID{p.person("Ada", m), p.person("Ben", m), p.person("Di", m), p.person("Eli", m), p.person("Flo", m)}
	gus := p.person("Gus", m)
	big := p.heavy("Bramble", 1, crew[0])
	small := p.light("Sprat", 2, gus)
	armour := p.job(board.JobFields{Robot: big, Name: "Armour for the opponent", Fixes: []board.Fix{fix(5, 6, m)}})
	p.captain(board.JobAssign{Job: armour, People: crew[1:]})
	p.captain(board.JobDefer{Job: armour, Acceptor: crew[0], Reason: "no time"})
	p.now = clock(t, "14:40")
	// Both stand open and inspected.
	p.open(big, crew[0])
	p.open(small, gus)
	other := p.fight(board.FightFields{Robot: small, Arena: "C", Number: 2, NotBefore: clock(t, "15:30")})
	p.made("", board.FightNow{Arena: "C", Number: 1}, captain)
	e := p.s.Event().EventFields
	e.LeadFights = 0
	p.captain(board.EventSet{EventFields: e})
	// Two hands for 20 minutes after a job that Gus does alone until 15:10.
	first := p.job(board.JobFields{Robot: small, Name: "Re-solder", Fixes: []board.Fix{fix(30, 35, m)}})
	two := fix(12, 15, m, m)
	two.Where = board.OffRobot
	p.job(board.JobFields{Robot: small, Name: "Press the hub", Fixes: []board.Fix{two}, After: []board.JobID{first}})
	require.NotEqual(t, forecast.FlagWontFinish, p.call(small).Flag, p.call(small).Cause.Text)

	// The big robot's call is at 15:05 and its match ends 15:25.
	p.fight(board.FightFields{Robot: big, Arena: "B", Number: 2, NotBefore: clock(t, "15:22")})
	p.made("", board.FightNow{Arena: "B", Number: 1}, captain)
	e.LeadSec = 17 * 60
	p.captain(board.EventSet{EventFields: e})
	// The lead time is the small robot's too: its fight moves so that its call stays.
	p.captain(board.FightMove{Fight: other, Arena: "C", Number: 2, NotBefore: clock(t, "15:47")})

	c := p.call(small)
	require.Equal(t, clock(t, "15:05"), p.call(big).CallAt.Median)
	require.Equal(t, clock(t, "15:30"), c.CallAt.Median)
	require.Equal(t, forecast.FlagWontFinish, c.Flag)
	// The five are back at 15:30: a match of 3 minutes and 5 to the bench. The hub
	// is pressed until 15:42, and 5 minutes after that the robot is ready.
	require.Equal(t, 17*60, c.ShortSec)
	require.Equal(t, forecast.CausePerson, c.Cause.Kind, c.Cause.Text)
	require.Less(t, p.ready("Sprat"), 5, "seen at 14:40")
	require.Equal(t, forecast.CausePerson, p.chance("Sprat").Cause.Kind)
	require.NotEmpty(t, p.make().LeaveOff)
}
