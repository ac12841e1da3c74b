package review

import (
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board"
	"mendline/board/boardtest"
)

// 300 words a minute are 5 a second: the make-safe lines after the first have
// about 70 words, and so take some 14 s to read.
func TestASheetTappedThroughIsShownAndOneThatWasReadIsNot(t *testing.T) {
	for name, c := range map[string]struct {
		every board.Moment
		fast  bool
	}{"a line a second": {1000, true}, "a line in ten seconds": {10_000, false}} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.now += 30 * minute // nobody begins at once
			p.walks(board.ListMakeSafe, c.every)
			r := p.review()
			if !c.fast {
				require.Empty(t, r.Fast)
				return
			}
			require.Len(t, r.Fast, 1)
			f := r.Fast[0]
			require.Equal(t, []string{"Ben"}, f.By)
			require.Equal(t, board.ListMakeSafe, f.List)
			require.Equal(t, float64(f.Lines), f.Sec, "a second a line after the first")
			sheet, _ := p.s.Sheet(p.Moth, board.ListMakeSafe)
			require.Equal(t, len(sheet.Lines)-2, f.Lines, "the rotor was waited for")
			require.Equal(t, 1, r.Turnarounds[0].Fast)
		})
	}
}

func TestAnOverrideIsShownWithItsTag(t *testing.T) {
	p := newPit(t)
	p.walks(board.ListMakeSafe, 10_000)
	p.does(p.as(p.Ben), board.TagOn{Robot: p.Moth})
	p.now += 10 * minute
	var tag board.TagID
	for id := range p.s.Tags {
		tag = id
	}
	by := p.as(p.Ada)
	by.Proved = []board.PersonID{p.Dee}
	p.does(by, board.TagOverride{Tag: tag, Second: p.Dee, Override: board.Override{
		LookedWhere: "the hall", CalledHow: "phone", CalledAt: p.now - minute, CheckedBy: p.Dee, Reason: "gone home", Asked: true,
	}})
	r := p.review()
	require.Len(t, r.Overrides, 1)
	require.Equal(t, Override{
		Robot: p.Moth, Name: "Tin Moth", Owner: "Ben", By: "Ada", Second: "Dee", Reason: "gone home", At: p.now,
	}, r.Overrides[0])
	require.Len(t, r.Tags, 1)
	require.True(t, r.Tags[0].Override)
	require.Equal(t, 600, r.Tags[0].QuietSec)
	require.Equal(t, Counts{Overrides: 1, Tags: 1}, r.Whole)
}

func TestAnOverrideSaysWhoseDeviceTheSecondsPINWasSetOn(t *testing.T) {
	p := newPit(t)
	p.walks(board.ListMakeSafe, 10_000)
	p.does(p.as(p.Ben), board.TagOn{Robot: p.Moth})
	p.does(board.Itself(), board.PersonClaim{Person: p.Nia, Role: board.RoleCrew, On: p.Ada})
	p.now += 10 * minute
	by := p.as(p.Ada)
	by.Proved = []board.PersonID{p.Nia}
	for id := range p.s.Tags {
		p.does(by, board.TagOverride{Tag: id, Second: p.Nia, Override: board.Override{
			LookedWhere: "the hall", CalledHow: "phone", CalledAt: p.now - minute, CheckedBy: p.Nia, Reason: "gone home",
		}})
	}
	require.Len(t, p.review().Overrides, 1)
	require.Equal(t, "Ada", p.review().Overrides[0].On)
}

func TestATagLeftOnIsOneWhoseOwnerWasQuietFor45Minutes(t *testing.T) {
	for name, c := range map[string]struct {
		quiet board.Moment
		off   bool
		left  int
	}{
		"off after 44 minutes":    {44 * minute, true, 0},
		"off after 45 minutes":    {45 * minute, true, 1},
		"still on, 44 minutes":    {44 * minute, false, 0},
		"still on for 46 minutes": {46 * minute, false, 1},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.walks(board.ListMakeSafe, 10_000)
			p.does(p.as(p.Ben), board.TagOn{Robot: p.Moth})
			p.now += c.quiet
			if c.off {
				for id := range p.s.Tags {
					p.does(p.as(p.Ben), board.TagOff{Tag: id})
				}
			}
			require.Len(t, p.review().Tags, c.left)
		})
	}
}

func TestARelaxedSettingIsShownFromWhenToWhen(t *testing.T) {
	p := newPit(t)
	e := p.Settings()
	e.RepairerMaySign = true
	p.now += minute
	on := p.now
	p.does(p.as(p.Ada), board.EventSet{EventFields: e, Reason: "the event says so"})
	require.Equal(t, []Relaxed{{Text: "The person who finished the last repair may sign.", From: on}}, p.review().Relaxed)
	p.now += minute
	p.does(p.as(p.Ada), board.EventSet{EventFields: p.Settings()})
	require.Equal(t, []Relaxed{{Text: "The person who finished the last repair may sign.", From: on, To: p.now}}, p.review().Relaxed)
}

// A backup from before the captain set the time twice is dated by both.
func TestARestoreMovesWhatWasNotedByAllThatTheTimeWasSetMeanwhile(t *testing.T) {
	for _, sec := range []int{-5400, 5400} {
		p := newPit(t)
		e := p.Settings()
		e.RepairerMaySign = true
		on := p.now + minute
		p.now = on
		p.does(p.as(p.Ada), board.EventSet{EventFields: e, Reason: "the event says so"})
		by := board.Moment(sec) * 1000
		p.now += by + minute
		p.does(board.Itself(), board.BoardRestore{Why: "restored", Clock: &board.Clock{ShiftSec: sec, BySec: sec / 3, By: p.Ada, At: p.now}})
		require.Equal(t, []Relaxed{{Text: "The person who finished the last repair may sign.", From: on + by}}, p.review().Relaxed)
	}
}

func TestLateAnswersAndPaperAreShownApart(t *testing.T) {
	p := newPit(t)
	p.now += 20 * minute
	sheet, _ := p.s.Sheet(p.Moth, board.ListMakeSafe)
	_, bad := p.try(p.as(p.Ben), board.SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: board.SaidDone}, p.now-5*minute)
	require.Nil(t, bad)
	_, bad = p.try(p.as(p.Ben), board.SheetAnswer{Sheet: sheet.ID, Line: "link-1", Said: board.SaidDone}, p.now-5000)
	require.Nil(t, bad)
	p.does(p.as(p.Ben), board.SheetAnswer{Sheet: sheet.ID, Line: "radio", Said: board.SaidDone, Paper: true, At: p.now - 10*minute})
	got := p.review()
	require.Len(t, got.Late, 2)
	require.Equal(t, []bool{false, true}, []bool{got.Late[0].Paper, got.Late[1].Paper})
	require.Equal(t, p.now-10*minute, got.Late[1].At)
	require.Equal(t, p.now, got.Late[1].Heard)
	require.Equal(t, Counts{Late: 1, Paper: 1}, got.Whole)
}

func TestWhatCameLateAboutAChargeIsShownAsLate(t *testing.T) {
	p := newPit(t)
	p.now += 20 * minute
	p.does(p.as(p.Ben), board.PackRead{Pack: p.P2, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}})
	p.does(p.as(p.Ben), board.PackCharge{Pack: p.P2, Channel: p.A1, Attendant: p.Ben, Cells: 4, Amps: 0.6, Contained: true})
	for _, ago := range []board.Moment{15 * minute, 0} {
		p.now++
		_, bad := p.try(p.as(p.Dee), board.PackOff{Pack: p.P2}, p.now-ago)
		require.Nil(t, bad)
	}
	got := p.review()
	require.Len(t, got.Late, 1)
	require.Equal(t, []string{"pack P2", "off the charger"}, []string{got.Late[0].Name, got.Late[0].Ask})
	require.Equal(t, "Dee", got.Late[0].By)
	require.Equal(t, p.now-1-15*minute, got.Late[0].At)
	require.Equal(t, 1, got.Whole.Late)
}

func TestATurnaroundLastsFromFightToFight(t *testing.T) {
	p := newPit(t)
	p.now += minute
	p.does(p.as(p.Ada), board.RobotPlace{Robot: p.Moth, Place: p.Arena})
	r := p.review()
	require.Len(t, r.Turnarounds, 2)
	require.Equal(t, p.now, r.Turnarounds[0].To)
	require.Equal(t, p.now, r.Turnarounds[1].From)
	require.Zero(t, r.Turnarounds[1].To)
	require.Equal(t, "Tin Moth", r.Turnarounds[1].Name)

	p.now += minute // its result is the same fight's
	fight := board.FightID(p.does(p.as(p.Ada), board.FightAdd{FightFields: board.FightFields{Robot: p.Moth, Arena: "main", Number: 3}}).Done.Made[0][len("fight/"):])
	p.does(p.as(p.Ada), board.FightEnd{Fight: fight, Result: board.Won})
	r = p.review()
	require.Len(t, r.Turnarounds, 2)
	require.Equal(t, p.now, r.Turnarounds[1].From)
}

func TestWorkOutsideTheLockoutIsUncovered(t *testing.T) {
	span := func(from, to board.Moment) board.Span { return board.Span{From: from, To: to} }
	for name, c := range map[string]struct {
		work    board.Span
		covered []board.Span
		want    board.Moment
	}{
		"all covered":         {span(10, 20), []board.Span{span(5, 30)}, 0},
		"none":                {span(10, 20), nil, 10},
		"the middle":          {span(10, 20), []board.Span{span(12, 15)}, 7},
		"two spans":           {span(10, 20), []board.Span{span(0, 12), span(18, 40)}, 6},
		"still on, still off": {span(10, 0), []board.Span{span(90, 0)}, 80},
	} {
		require.Equal(t, c.want, outside(c.work.From, until(c.work.To, 100), c.covered, 100), name)
	}
	s := board.FromNouns(1, []board.Noun{
		board.Robot{ID: "r", RobotFields: board.RobotFields{Name: "Tin Moth"}},
		board.Person{ID: "a", PersonFields: board.PersonFields{Name: "Ada"}},
		board.Power{Robot: "r", Covered: []board.Span{span(1, 60_000)}},
		board.Job{
			ID: "j", Number: 4, JobFields: board.JobFields{Robot: "r", Name: "belt", Fixes: []board.Fix{{Lockout: true}}},
			Stints: []board.Stint{{Span: span(30_000, 90_000)}}, Reinspected: board.Reinspection{By: "a", At: 100_000},
		},
	}, nil)
	require.Equal(t, []Uncovered{{Robot: "r", Name: "Tin Moth", Number: 4, Job: "belt", Sec: 30, At: 30_000, By: "Ada", When: 100_000}}, uncovered(s, 200_000))
}

func TestAlarmsAreCountedByPersonInTenMinutes(t *testing.T) {
	p := newPit(t)
	began := p.now
	p.now += 60 * minute
	p.does(p.as(p.Ada), board.NoteAdd{Text: "an hour later"})
	standing := func(_ board.State, at board.Moment) []Alarm {
		m := (at - began) / minute
		var list []Alarm
		if m >= 5 && m < 30 { // one that stands for long is one
			list = append(list, Alarm{ID: "B-x", Class: "B", Robot: p.Moth, Who: "Ada"})
		}
		if m >= 10 && m < 20 && m%3 == 0 { // one that comes and goes by more than a minute counts each time
			list = append(list, Alarm{ID: "C-y", Class: "C", Who: "Ada"})
		}
		if m == 40 {
			list = append(list, Alarm{ID: "A-z", Class: "A"})
		}
		return list
	}
	a := reviewOf(t, p.lines, p.now, standing).Alarms
	require.Len(t, a.People, 2)
	ada, everyone := a.People[0], a.People[1]
	require.Equal(t, "Ada", ada.Who)
	require.Equal(t, 4, ada.Total, "B once, C at 12, 15 and 18 minutes")
	require.Equal(t, 3, ada.Most)
	require.InDelta(t, 4.0/6, ada.Mean, 0.02)
	require.Equal(t, "everyone", everyone.Who)
	require.Equal(t, []ClassShare{{"A", 1, 20, 5}, {"B", 1, 20, 15}, {"C", 3, 60, 80}}, a.Classes)
}

// The windows slide: 10 in 10 minutes is a flood wherever the 10
// minutes begin. Computed by hand.
func TestTheBusiestTenMinutesSlide(t *testing.T) {
	at := func(minutes ...board.Moment) []board.Moment {
		for i := range minutes {
			minutes[i] *= minute
		}
		return minutes
	}
	for _, c := range []struct {
		at   []board.Moment
		most int
		when board.Moment
	}{
		{at(8, 9, 11, 12), 4, 8 * minute},
		{at(0, 10), 1, 0},
		{at(0, 5, 9, 20, 22, 24, 29, 40), 4, 20 * minute},
	} {
		most, when := busiest(c.at)
		require.Equal(t, c.most, most)
		require.Equal(t, c.when, when)
	}
}

func TestALineOutOfOrderIsNamed(t *testing.T) {
	p := newPit(t)
	day := NewDay(noAlarms)
	require.NoError(t, day.Read(p.lines[0]))
	require.NoError(t, day.Read(p.lines[3]), "a damaged file may have lost those between")
	require.ErrorContains(t, day.Read(p.lines[2]), "review line 3: it follows 4")
}

func TestWhateverHappensEachOverrideIsShownOnceAndReadingOnChangesNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := newPit(t)
		w := &boardtest.Walker{Cast: p.Cast, RT: rt}
		p.walks(board.ListMakeSafe, 10_000)
		p.does(p.as(p.Ben), board.TagOn{Robot: p.Moth})
		broken := rapid.IntRange(1, 60).Draw(rt, "look back in between")
		day := NewDay(noAlarms)
		overrides := 0
		for i := range rapid.IntRange(20, 120).Draw(rt, "commands") {
			p.now += board.Moment(rapid.IntRange(0, 120_000).Draw(rt, "ms"))
			c, by := w.Next(p.s)
			if i%7 == 0 {
				c, by = p.overriding(), p.both()
			}
			if _, bad := p.try(by, c, 0); bad != nil {
				continue
			}
			switch c.(type) {
			case board.TagOverride, board.HandsOverride:
				overrides++
			}
			if i == broken {
				for _, l := range p.lines {
					require.NoError(rt, day.Read(l))
				}
				day.Review(p.now)
			}
		}
		for _, l := range p.lines[int(day.Of()):] {
			require.NoError(rt, day.Read(l))
		}
		whole := p.review()
		require.Equal(rt, whole, day.Review(p.now))
		require.Positive(rt, overrides)
		require.Len(rt, whole.Overrides, overrides)
		require.Equal(rt, overrides, whole.Whole.Overrides)
		require.True(rt, slices.IsSortedFunc(whole.Turnarounds, func(a, b Turnaround) int { return int(a.From - b.From) }))
		var sum Counts
		for _, n := range whole.Turnarounds {
			sum.Overrides, sum.Late, sum.Paper, sum.Fast = sum.Overrides+n.Overrides, sum.Late+n.Late, sum.Paper+n.Paper, sum.Fast+n.Fast
		}
		require.Equal(rt, Counts{Overrides: whole.Whole.Overrides, Late: whole.Whole.Late, Fast: whole.Whole.Fast, Paper: whole.Whole.Paper},
			Counts{Overrides: sum.Overrides, Late: sum.Late, Fast: sum.Fast, Paper: whole.Whole.Paper})
	})
}

// overriding takes any tag or hands near off over its owner's head; with nobody
// on, hands come near.
func (p *pit) overriding() board.Command {
	p.now += minute
	o := board.Override{LookedWhere: "the hall", CalledHow: "phone", CalledAt: p.now, CheckedBy: p.Dee, Reason: "gone", Asked: true}
	for _, id := range slices.Sorted(maps.Keys(p.s.Tags)) {
		if tag := p.s.Tags[id]; tag.Person != p.Ada && tag.Person != p.Dee {
			return board.TagOverride{Tag: id, Second: p.Dee, Override: o}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(p.s.Hands)) {
		if hands := p.s.Hands[id]; hands.Person != p.Ada && hands.Person != p.Dee {
			return board.HandsOverride{Hands: id, Second: p.Dee, Override: o}
		}
	}
	return board.HandsOn{Robot: p.Moth, Person: p.Kit}
}

// both is the captain with the safety lead and the minor beside her, by PIN.
func (p *pit) both() board.Actor {
	by := p.as(p.Ada)
	by.Proved = []board.PersonID{p.Dee, p.Kit}
	return by
}
