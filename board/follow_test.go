package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

// planned is a plan of one job, from minute from to minute to of the morning.
func planned(job JobID, from, to int, who ...PersonID) PlanTask {
	return PlanTask{Job: job, Told: Told{People: who, StartAt: minutesIn(from)}, EndAt: minutesIn(to)}
}

func minutesIn(n int) Moment { return morning + Moment(n)*60_000 }

func (p *pit) newJob(name string) JobID {
	p.t.Helper()
	return JobID(p.made(p.captain(JobAdd{JobFields: JobFields{Robot: p.moth, Name: name, Triage: Should, Fixes: []Fix{swapBlade(p.blade), boardtest.DressBurrs()}}})))
}

func TestThePlanPeopleFollowIsReplacedAsAWholeByTheBoardOrTheCaptain(t *testing.T) {
	p := newPit(t)
	a, b := p.newJob("a"), p.newJob("b")
	require.Zero(t, p.s.Follow().At, "nobody follows a plan yet")

	p.ok(Itself(), PlanReplace{Tasks: []PlanTask{planned(a, 10, 20, p.ben)}})
	follow := p.s.Follow()
	require.Equal(t, FollowBoard, follow.By)
	require.Equal(t, p.now, follow.At)
	require.Empty(t, follow.Moved)
	task, ok := follow.Task(a)
	require.True(t, ok)
	require.Equal(t, FollowTask{Job: a, Robot: p.moth, Told: Told{People: []PersonID{p.ben}, StartAt: minutesIn(10)}, EndAt: minutesIn(20)}, task)

	p.captain(PlanReplace{Tasks: []PlanTask{planned(b, 10, 20, p.ada)}})
	require.Equal(t, FollowPerson, p.s.Follow().By)
	require.Equal(t, p.ada, p.s.Follow().Person)
	_, ok = p.s.Follow().Task(a)
	require.False(t, ok)

	p.refused(p.as(p.ben), PlanReplace{}, 0)
	require.Equal(t, "follow/plan", string(p.s.Follow().Key()))
}

func TestAPlanNamesOnlyWorkThatCanBeDoneSo(t *testing.T) {
	p := newPit(t)
	job, gone := p.newJob("a"), p.newJob("b")
	p.captain(JobDrop{Job: gone, Reason: "not needed"})
	for name, c := range map[string]struct {
		tasks []PlanTask
		says  string
	}{
		"an unknown job":        {[]PlanTask{planned("none", 1, 2, p.ben)}, "There is no"},
		"a job that is off":     {[]PlanTask{planned(gone, 1, 2, p.ben)}, "is dropped"},
		"a job twice":           {[]PlanTask{planned(job, 1, 2, p.ben), planned(job, 3, 4, p.ben)}, "twice"},
		"an end before a start": {[]PlanTask{planned(job, 2, 1, p.ben)}, "a start and an end"},
		"no times":              {[]PlanTask{{Job: job, Told: Told{People: []PersonID{p.ben}}}}, "a start and an end"},
		"an unknown person":     {[]PlanTask{planned(job, 1, 2, "none")}, "There is no"},
		"a fix it has not":      {[]PlanTask{{Job: job, Told: Told{Fix: 2, StartAt: morning}, EndAt: morning}}, "2 fixes"},
	} {
		t.Run(name, func(t *testing.T) {
			_, bad := p.try(Itself(), PlanReplace{Tasks: c.tasks})
			require.NotNil(t, bad)
			sentenceHas(t, bad, c.says)
		})
	}
	p.ok(Itself(), PlanReplace{Tasks: []PlanTask{{Job: job, Told: Told{Off: true}}}})
}

func TestTheNewPlanSaysWhatItMoved(t *testing.T) {
	first := planned("", 10, 20)
	for name, c := range map[string]struct {
		change func(p *pit, k *PlanTask)
		moved  bool
	}{
		"nothing":             {func(*pit, *PlanTask) {}, false},
		"four minutes later":  {func(_ *pit, k *PlanTask) { k.StartAt += 4 * 60_000 }, false},
		"six minutes later":   {func(_ *pit, k *PlanTask) { k.StartAt += 6 * 60_000 }, true},
		"six minutes earlier": {func(_ *pit, k *PlanTask) { k.StartAt -= 6 * 60_000 }, true},
		"another person":      {func(p *pit, k *PlanTask) { k.People = []PersonID{p.ada, p.kit} }, true},
		"the same two people": {func(p *pit, k *PlanTask) { k.People = []PersonID{p.kit, p.ben} }, false},
		"another fix":         {func(_ *pit, k *PlanTask) { k.Fix = 1 }, true},
		"left off":            {func(_ *pit, k *PlanTask) { *k = PlanTask{Job: k.Job, Told: Told{Off: true}} }, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			other, k := planned(p.newJob("other"), 0, 5, p.dee), first
			k.Job, k.People, k.EndAt = p.newJob("a"), []PersonID{p.ben, p.kit}, minutesIn(40)
			was := k.Told
			p.ok(Itself(), PlanReplace{Tasks: []PlanTask{other, k}})
			c.change(p, &k)
			p.ok(Itself(), PlanReplace{Tasks: []PlanTask{other, k}})
			task, _ := p.s.Follow().Task(k.Job)
			if !c.moved {
				require.Empty(t, p.s.Follow().Moved)
				require.Nil(t, task.Was)
				return
			}
			require.Equal(t, []JobID{k.Job}, p.s.Follow().Moved)
			require.Equal(t, was, *task.Was)
		})
	}
}

func TestADayThatSlipsMovesNobody(t *testing.T) {
	p := newPit(t)
	a, b := planned(p.newJob("a"), 0, 5, p.ben), planned(p.newJob("b"), 5, 10, p.ben)
	p.ok(Itself(), PlanReplace{Tasks: []PlanTask{a, b}})
	for _, k := range []*PlanTask{&a, &b} {
		k.StartAt, k.EndAt = k.StartAt+20*60_000, k.EndAt+20*60_000
	}
	b.StartAt += 60_000
	p.ok(Itself(), PlanReplace{Tasks: []PlanTask{a, b}})
	require.Empty(t, p.s.Follow().Moved)
}

func TestAJobInThePlanMayStillBeTakenBack(t *testing.T) {
	p := newPit(t)
	job := JobFields{Robot: p.moth, Name: "a", Triage: Should, Fixes: []Fix{boardtest.DressBurrs()}}
	added := p.captain(JobAdd{JobFields: job})
	p.ok(Itself(), PlanReplace{Tasks: []PlanTask{planned(JobID(p.made(added)), 1, 2, p.ben)}})
	p.captain(Undo{Command: added.Done.ID})
	require.Empty(t, p.s.Jobs)
}

func TestARestartLeavesThePlanAsItIs(t *testing.T) {
	p := newPit(t)
	p.ok(Itself(), PlanReplace{Tasks: []PlanTask{planned(p.newJob("a"), 1, 2, p.ben)}})
	was := p.s.Follow()
	p.ok(Itself(), BoardStart{Why: "the program has started"})
	require.Equal(t, was, p.s.Follow())
	again, err := DecodeNoun(was.Key(), Encode(was))
	require.NoError(t, err)
	require.Equal(t, was, again)
}
