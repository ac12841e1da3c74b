package demo_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/board/plan"
	"mendline/board/team"
	"mendline/board/view"
	"mendline/cmd/mendline/demo"
)

const minute = board.Moment(60_000)

func now(t require.TestingT) board.Moment {
	at, err := time.Parse(time.RFC3339, "2026-05-09T14:00:00Z")
	require.NoError(t, err)
	return board.MomentOf(at)
}

// played is the board after the whole day until now. See is shown each step with
// the board it led to.
func played(t require.TestingT, now board.Moment, offsetMin int, see func(demo.Step, board.State)) board.State {
	var s board.State
	last := board.Moment(0)
	steps, err := demo.Day(now, offsetMin)
	require.NoError(t, err)
	for _, p := range steps {
		require.GreaterOrEqual(t, p.At, last)
		require.LessOrEqual(t, p.At, now)
		last = p.At
		change, refusal := board.Apply(s, p.Command, p.Ask(s), p.By, p.At)
		require.Nil(t, refusal, "%s", board.Name(p.Command))
		s = s.With(change)
		see(p, s)
	}
	return s
}

// shared is the day until now in its place's zone, and the board it leads to, for all
// tests that look at them and change nothing.
var shared struct {
	day, board sync.Once
	steps      []demo.Step
	state      board.State
}

func theDay(t *testing.T) []demo.Step {
	t.Helper()
	shared.day.Do(func() {
		var err error
		shared.steps, err = demo.Day(now(t), 60)
		require.NoError(t, err)
	})
	return shared.steps
}

func atNow(t *testing.T) board.State {
	t.Helper()
	shared.board.Do(func() { shared.state = played(t, now(t), 60, func(demo.Step, board.State) {}) })
	return shared.state
}

func TestNoStepOfTheDayIsRefused(t *testing.T) {
	require.Greater(t, int(atNow(t).Rev), 300)
}

// The day must play at any hour: robots turn unknown when a board's day begins.
func TestTheDayPlaysAtAnyHourInAnyZone(t *testing.T) {
	zones := []int{0, -840, 345, 840, -300}
	for hour := range 25 {
		at := now(t) + board.Moment(hour)*61*minute
		steps, err := demo.Day(at, zones[hour%len(zones)])
		require.NoError(t, err)
		set, ok := steps[1].Command.(board.EventSet)
		require.True(t, ok)
		shown := set.OffsetMin
		require.Zero(t, (shown-zones[hour%len(zones)])%15)
		require.Equal(t, at.Day(shown), steps[0].At.Day(shown), "the day began before the script")
		require.Equal(t, at.Day(shown), (at + 5*60*minute).Day(shown), "and goes on for some hours")
	}
}

func TestTheClockIsThePlacesOwnAtMidday(t *testing.T) {
	require.Equal(t, 60, atNow(t).Event().OffsetMin)
}

func TestTheSameMomentGivesTheSameDay(t *testing.T) {
	again, err := demo.Day(now(t), 60)
	require.NoError(t, err)
	require.Equal(t, theDay(t), again)
}

func TestCommandIdsAreOnesThatADeviceCouldMake(t *testing.T) {
	seen := map[board.CommandID]bool{}
	for _, p := range theDay(t) {
		id, ok := board.ParseCommandID(p.ID.String())
		require.True(t, ok)
		require.False(t, seen[id])
		require.Equal(t, p.At, id.Moment())
		seen[id] = true
	}
}

func TestNobodyHasClaimedAName(t *testing.T) {
	for _, person := range atNow(t).People {
		require.Zero(t, person.Claimed, "%s: whoever tries the demo takes the name and sets the PIN", person.Name)
	}
}

func TestTheTeamIsThreeRobotsAndEightPeople(t *testing.T) {
	s := atNow(t)
	require.Len(t, s.Robots, 3)
	require.Len(t, s.People, 8)
	require.Len(t, s.Packs, 12)
	require.GreaterOrEqual(t, len(s.Templates), 60)
	limits := map[float64]board.MassUnit{}
	for _, r := range s.Robots {
		limits[r.Class.Limit] = r.Class.Unit
	}
	require.Equal(t, map[float64]board.MassUnit{250: board.Pound, 3: board.Pound, 1: board.Pound}, limits)
	has := func(which string, is func(board.Person) bool) {
		n := 0
		for _, person := range s.People {
			if is(person) {
				n++
			}
		}
		require.NotZero(t, n, which)
	}
	has("minor", func(person board.Person) bool { return person.Minor })
	has("guest", func(person board.Person) bool { return person.Guest })
	has("neighbour who signs", func(person board.Person) bool { return person.Signer && person.Role == board.RoleCrew })
	has("safety lead", func(person board.Person) bool { return person.Role == board.RoleSafety })
	e := s.Event()
	require.NotEmpty(t, e.ActivationOrder)
	require.NotEmpty(t, e.DeactivationOrder)
	require.Contains(t, e.Card.Text, "EXAMPLE")
	require.Len(t, e.ChargingPlaces, 2)
	require.Len(t, e.Breaks, 3)
}

// powerOf finds a robot's power by the robot's name.
func powerOf(t *testing.T, s board.State, name string) board.Power {
	t.Helper()
	for id, r := range s.Robots {
		if r.Name == name {
			return s.Powers[id]
		}
	}
	require.Fail(t, "no robot "+name)
	return board.Power{}
}

func TestEachRobotIsInAnotherPartOfItsDay(t *testing.T) {
	s := atNow(t)
	require.Equal(t, board.Work, powerOf(t, s, "Grobblequill").State)
	require.Equal(t, board.ClosingUp, powerOf(t, s, "Nettlepip").State)

	ant := powerOf(t, s, "Tumsy Vole")
	require.Equal(t, board.Unknown, ant.State)
	require.True(t, ant.Conflict, "a visitor's hands were near while the board said live")
	sheet, ok := s.Sheet(ant.Robot, board.ListMakeSafe)
	require.True(t, ok)
	require.Equal(t, board.SheetOpen, sheet.State)
	require.Len(t, sheet.Answers, 2)
	ready, _ := s.Sheet(powerOf(t, s, "Nettlepip").Robot, board.ListReady)
	require.Equal(t, board.SheetOpen, ready.State)
	require.Len(t, s.Tags, 2)
	require.Len(t, s.Hands, 2)
}

// Whoever opens the demo finds people at work and has some minutes before the gas
// must be looked at again.
func TestTheGasWasLookedAtJustBefore(t *testing.T) {
	s := atNow(t)
	due := s.Rechecks(powerOf(t, s, "Grobblequill").Robot)
	require.Len(t, due, 1)
	require.GreaterOrEqual(t, due[0].Due, now(t)+13*minute)
}

func TestAllButTheVisitorWereBriefedAndHotWorkIsPermitted(t *testing.T) {
	s := atNow(t)
	for _, person := range s.People {
		require.Equal(t, person.Name != "Gus", person.BriefedAt != 0, person.Name)
	}
	require.Greater(t, s.Event().HotWork.Until, now(t)+60*minute)
	require.Contains(t, s.Event().Card.ApprovedBy, "invented")
}

func TestEveryStateOfAJobOccurs(t *testing.T) {
	s := atNow(t)
	states, holds := map[board.JobState]bool{}, map[board.HoldWhy]bool{}
	ways, owes, follow, accepted := map[board.Way]bool{}, 0, 0, 0
	for _, j := range s.Jobs {
		states[j.State] = true
		if j.State == board.JobHeld {
			holds[j.HeldFor] = true
		}
		if j.State == board.JobClosed {
			ways[j.Fix().Way] = true
		}
		if j.State == board.JobFinished {
			owes += len(s.Owes(j, now(t)))
		}
		if j.FollowUpOf != "" {
			follow++
		}
		if j.State == board.JobDeferred && j.Acceptor != "" {
			accepted++
		}
	}
	for _, state := range []board.JobState{board.JobOpen, board.JobRunning, board.JobHeld, board.JobFinished, board.JobClosed, board.JobDropped, board.JobDeferred} {
		require.True(t, states[state], state)
	}
	for _, why := range []board.HoldWhy{board.HoldPart, board.HoldPerson, board.HoldStation, board.HoldLockout} {
		require.True(t, holds[why], why)
	}
	require.True(t, ways[board.WaySwap] && ways[board.WayPatch])
	require.NotZero(t, owes, "a finished job owes a check")
	require.NotZero(t, follow, "a patch has its follow-up")
	require.NotZero(t, accepted, "a deferred job has its acceptor")
}

func TestEveryGradeOfDamageOccurs(t *testing.T) {
	grades, severities, stuck := map[board.Grade]bool{}, map[board.Severity]bool{}, 0
	for _, d := range atNow(t).Damages {
		grades[d.Grade], severities[d.Severity] = true, true
		if d.Stuck {
			stuck++
		}
	}
	require.Len(t, grades, 6)
	require.Len(t, severities, 3)
	require.NotZero(t, stuck)
}

func TestPacksAreInEveryStateThatTheDayBrings(t *testing.T) {
	states := map[board.PackState]int{}
	read := 0
	for _, p := range atNow(t).Packs {
		states[p.State]++
		if len(p.Reading.CellVolts) > 0 && p.Reading.TempC != nil {
			read++
		}
	}
	for _, state := range []board.PackState{
		board.PackUnread, board.PackCharged, board.PackInRobot, board.PackCooling, board.PackWaiting, board.PackCharging, board.PackStorage, board.PackSuspect,
	} {
		require.NotZero(t, states[state], state)
	}
	require.Equal(t, 11, read)
}

func TestTheRunningOrderHasBranchesInBothArenas(t *testing.T) {
	s := atNow(t)
	states, branches, seen := map[board.FightState]int{}, map[string]map[board.Result]bool{}, map[string]int{}
	for _, f := range s.Fights {
		states[f.State]++
		if f.If != "" {
			if branches[f.Arena] == nil {
				branches[f.Arena] = map[board.Result]bool{}
			}
			branches[f.Arena][f.If] = true
		}
	}
	for _, sighting := range s.Sightings {
		seen[sighting.Arena]++
	}
	require.GreaterOrEqual(t, len(s.Fights), 10)
	require.NotZero(t, states[board.FightDone])
	require.NotZero(t, states[board.FightPlanned])
	for _, arena := range []string{"Big Box", "Little Box"} {
		require.Len(t, branches[arena], 2, arena)
		require.Greater(t, seen[arena], 5, arena)
	}
}

func TestHandsNearAReadyRobotMadeItUnknownEarlierInTheDay(t *testing.T) {
	var was board.State
	conflicts := map[board.PowerState]int{}
	tested := 0
	played(t, now(t), 0, func(p demo.Step, s board.State) {
		if c, ok := p.Command.(board.HandsOn); ok && s.Powers[c.Robot].Conflict {
			conflicts[was.Powers[c.Robot].State]++
		}
		if c, ok := p.Command.(board.RobotTest); ok && s.Powers[c.Robot].State == board.Test {
			tested++
		}
		was = s
	})
	require.Equal(t, map[board.PowerState]int{board.Ready: 1, board.Live: 1}, conflicts)
	require.Equal(t, 1, tested)
}

func TestNotesAreAboutRobotsPacksAndTheDay(t *testing.T) {
	about := map[board.Kind]bool{}
	for _, n := range atNow(t).Notes {
		kind, _ := n.About.Split()
		about[kind] = true
	}
	require.True(t, about[board.KindRobot] && about[board.KindPack] && about[""])
}

func TestTheForecastHasEveryFlagAndClassOfAlarm(t *testing.T) {
	s := atNow(t)
	f := forecast.Make(s, now(t), 1, plan.Budget(2000))
	calls, jobs := map[string]forecast.Flag{}, map[forecast.Flag]bool{}
	uninspected := false
	for _, c := range f.Calls {
		calls[s.Robots[c.Robot].Name] = c.Flag
		uninspected = uninspected || c.Uninspected
	}
	for _, p := range f.Plans {
		jobs[p.Flag] = true
	}
	classes := map[forecast.Class]bool{}
	for _, a := range f.Alarms {
		classes[a.Class] = true
	}
	require.Equal(t, forecast.FlagWontFinish, calls["Grobblequill"])
	require.Equal(t, forecast.FlagTight, calls["Nettlepip"])
	require.Equal(t, forecast.FlagNoCall, calls["Tumsy Vole"])
	require.True(t, uninspected)
	require.True(t, jobs[forecast.FlagNone] && jobs[forecast.FlagTight] && jobs[forecast.FlagWontFinish])
	require.True(t, classes[forecast.ClassA] && classes[forecast.ClassB] && classes[forecast.ClassC])
}

func TestTheDayBeginsWithTheTeamOfTheFolder(t *testing.T) {
	steps := theDay(t)
	load, errs := team.Read(demo.Files(), steps[0].ID)
	require.Empty(t, errs)
	require.Equal(t, load, steps[0].Command)
}

// Starting values in minutes for a heavyweight and a beetle: common practice, no
// source.
func TestKindsOfJobStartFromTheTradesTimes(t *testing.T) {
	times := map[string][2]int{}
	for _, template := range atNow(t).Templates {
		times[string(template.Size)+" "+template.Name] = [2]int{template.Fixes[0].LikelySec / 60, template.Fixes[0].BadSec / 60}
	}
	for name, want := range map[string][2]int{
		"heavy Free a stuck interlocking member": {15, 60}, "light Free a stuck interlocking member": {6, 20},
		"heavy Swap modular rail or corner": {20, 55}, "light Swap modular rail or corner": {6, 18},
		"heavy Swap weapon hub or bearings": {35, 90}, "light Swap weapon belt": {3, 8},
		"heavy Wire chafe: find and fix": {15, 60}, "light Swap wheel": {2, 5},
	} {
		require.Equal(t, want, times[name], name)
	}
	require.NotContains(t, times, "light Gas refill")
}

func TestTheFolderIsWrittenOutAndReadsBack(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "team")
	require.NoError(t, demo.WriteTo(dir))

	names, err := fs.Glob(demo.Files(), "*.csv")
	require.NoError(t, err)
	require.Len(t, names, 17)
	for _, name := range names {
		want, err := fs.ReadFile(demo.Files(), name)
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	steps := theDay(t)
	_, errs := team.Read(os.DirFS(dir), steps[0].ID)
	require.Empty(t, errs)
}

func TestTheTeamIsDumpedInTheMiddleOfTheDay(t *testing.T) {
	s := atNow(t)
	files, err := team.Write(s)
	require.NoError(t, err)
	folder := fstest.MapFS{}
	for name, data := range files {
		folder[name] = &fstest.MapFile{Data: data}
	}
	steps := theDay(t)
	load, errs := team.Read(folder, steps[0].ID)
	require.Empty(t, errs)
	require.Len(t, load.Fights, len(s.Fights))
	require.Len(t, load.Templates, len(s.Templates))
	require.Equal(t, s.Event().Breaks, load.Event.Breaks)
}

func TestAFileThatIsThereIsNotWrittenOver(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "crew.csv"), []byte("ours"), 0o600))

	require.ErrorContains(t, demo.WriteTo(dir), "crew.csv is there already")

	found, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, found, 1, "nothing else was written")
}

func TestThePartMapAndTheSetupsAreThere(t *testing.T) {
	s := atNow(t)
	f := forecast.Make(s, now(t), 1, plan.Budget(50))
	require.Len(t, f.Access, 3)
	require.Len(t, f.Setups, 3)
	heavy := slices.IndexFunc(f.Setups, func(u view.Setups) bool { return s.Robots[u.Robot].Name == "Grobblequill" })
	wedge := slices.IndexFunc(f.Setups[heavy].List, func(u view.SetupNow) bool { return u.Name == "Wedge plate" })
	require.Equal(t, "over by 0.20 kg (0.45 lb)", f.Setups[heavy].List[wedge].Weight.Text)
	works := map[string]board.Working{}
	for _, w := range f.Works {
		for _, n := range w.Functions {
			works[s.Robots[w.Robot].Name+" "+n.Name] = n.Word
		}
	}
	require.Equal(t, board.WorksDegraded, works["Grobblequill self-righting"])
	require.Equal(t, board.WorksFull, works["Grobblequill drive right"], "what was broken in the first fight was swapped")
	for _, a := range f.Access {
		require.NotEmpty(t, a.Alone)
		for _, p := range a.Parts {
			require.False(t, p.Way.Rough)
		}
	}
	damaged := 0
	for _, d := range s.Damages {
		if d.OnPart != "" {
			damaged++
		}
	}
	require.GreaterOrEqual(t, damaged, 8)
}
