package board

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestEachRuleStandsAlone puts nouns past every command, so that each entry of
// numbered is the only one that could speak: no command's own check stands before
// it. Constructed by us.
func TestEachRuleStandsAlone(t *testing.T) {
	const now = Moment(1_778_320_800_000) // 2026-05-09T10:00:00Z
	robot := Robot{ID: "r", RobotFields: RobotFields{Name: "Tin Moth"}}
	at := func(s PowerState, place PlaceID) Power {
		return Power{Robot: "r", State: s, Place: place, Day: now.Day(0), By: "ben"}
	}
	box, arena, bench := Place{ID: "box", PlaceFields: PlaceFields{Kind: PlaceTestBox}}, Place{ID: "arena", PlaceFields: PlaceFields{Kind: PlaceArena}}, Place{ID: "bench", PlaceFields: PlaceFields{Kind: PlaceBench}}
	entered := Event{Entered: Entered{ActivationOrder: 1, SpinDown: 1, ChargingPlaces: 1, EmergencyContact: 1}}
	safe := Sheet{ID: "safe", Number: 1, List: ListMakeSafe, Robot: "r", State: SheetComplete}
	asked := Sheet{ID: "asked", Number: 2, List: ListReady, Robot: "r", State: SheetOpen, Lines: []Line{{ID: "mass", Covers: []System{SysWeapon}}},
		Answers: []Answer{{Line: "mass", Said: SaidDone, By: "ben", At: now - hour}}}
	signed := asked
	signed.State = SheetComplete
	looked, closed := Sheet{ID: "looked", Number: 3, List: ListInspect, Robot: "r", State: SheetComplete}, Sheet{ID: "closed", Number: 4, List: ListCloseUp, Robot: "r", State: SheetComplete}
	twice := asked
	twice.Answers = append(twice.Answers[:1:1], Answer{Line: "a", By: "ben", At: now}, Answer{Line: "b", By: "ben", At: now})
	none := asked
	none.Answers = nil
	job := func(s JobState, fix Fix) Job {
		return Job{ID: "j", JobFields: JobFields{Robot: "r", Fixes: []Fix{fix}}, State: s, Stints: []Stint{{Span: Span{From: now - 2*minute, To: now - minute}}}}
	}
	tested := at(Test, "box")
	tested.Test.Until = now + minute
	moved, past := tested, tested
	moved.Place, past.Test.Until = "bench", now
	yesterday := at(Isolated, "bench")
	yesterday.Day = "2026-05-08"
	notice := Notice{ID: "n", Person: "ada", Override: Override{Reason: "gone"}}
	edited := notice
	edited.Reason = "no reason"
	tag := Tag{ID: "t", Robot: "r", Person: "ada"}

	for name, c := range map[string]struct {
		rule   int
		before []Noun
		after  []Noun
		path   []PowerState
	}{
		"1: declared yesterday":            {1, []Noun{at(Isolated, "bench")}, []Noun{yesterday}, nil},
		"2: live somewhere else":           {2, []Noun{at(Live, "arena")}, []Noun{at(Live, "box")}, nil},
		"moves: ready from nowhere":        {18, []Noun{at(Unknown, "")}, []Noun{at(Ready, "")}, nil},
		"3: powered-down without a sheet":  {3, []Noun{at(Unknown, "")}, []Noun{at(PoweredDown, "")}, []PowerState{PoweredDown}},
		"3: ready on an open sheet":        {3, []Noun{entered, safe, looked, closed, asked, at(ClosingUp, "")}, []Noun{at(Ready, "")}, []PowerState{Ready}},
		"5: a tag in another's name":       {5, nil, []Noun{tag}, nil},
		"6: a notice rewritten":            {6, []Noun{notice}, []Noun{edited}, nil},
		"7: ready with a tag on":           {7, []Noun{entered, safe, looked, closed, signed, tag, at(ClosingUp, "")}, []Noun{at(Ready, "")}, []PowerState{Ready}},
		"8: closed, worked uncovered":      {8, []Noun{at(Verified, ""), job(JobFinished, Fix{Lockout: true})}, []Noun{job(JobClosed, Fix{Lockout: true})}, nil},
		"9: closed, worked with a pack in": {9, []Noun{at(Verified, ""), job(JobFinished, Fix{PackOut: true})}, []Noun{job(JobClosed, Fix{PackOut: true})}, nil},
		"10: closed on an unknown robot":   {10, []Noun{at(Unknown, ""), job(JobFinished, Fix{})}, []Noun{job(JobClosed, Fix{})}, nil},
		"11: ready on an overtaken answer": {11, []Noun{entered, safe, looked, closed, signed, at(ClosingUp, ""), job(JobClosed, Fix{Touches: []System{SysWeapon}})}, []Noun{at(Ready, "")}, []PowerState{Ready}},
		"13: a suspect pack waits":         {13, []Noun{Pack{ID: "p", State: PackSuspect}}, []Noun{Pack{ID: "p", State: PackWaiting}}, nil},
		"14: a charge nobody attends":      {14, []Noun{entered, Pack{ID: "p", State: PackWaiting}}, []Noun{Pack{ID: "p", State: PackCharging}}, nil},
		"16: a test at the bench":          {16, []Noun{tested}, []Noun{moved}, nil},
		"17: a test past its end":          {17, []Noun{tested}, []Noun{past}, nil},
		"20: live with no settings":        {20, []Noun{safe, at(Ready, "arena")}, []Noun{at(Live, "arena")}, []PowerState{Live}},
		"21: an answer taken away":         {21, []Noun{asked}, []Noun{none}, nil},
		"job moves: finished, not started": {0, []Noun{job(JobOpen, Fix{})}, []Noun{job(JobFinished, Fix{})}, nil},
		"22: two lines at once":            {22, []Noun{asked}, []Noun{twice}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			ask := func(put func(Noun) []Noun) *Refusal {
				var nouns []Noun
				for _, n := range append([]Noun{robot, box, arena, bench, Person{ID: "ben"}, Person{ID: "ada"}}, c.before...) {
					nouns = append(nouns, put(n)...)
				}
				before := FromNouns(1, nouns, nil)
				path := map[RobotID][]PowerState{"r": c.path, "r twin": c.path}
				turn := &turn{by: Actor{Person: "ben", Role: RoleCrew}, now: now, when: now, before: before, draft: newDraft(before), did: map[Key]bool{}, path: path}
				require.Nil(t, turn.rules(), "nothing is wrong before")
				for _, n := range c.after {
					for _, n := range put(n) {
						turn.put(n)
					}
				}
				return turn.rules()
			}
			bad := ask(func(n Noun) []Noun { return []Noun{n} })
			require.NotNil(t, bad)
			require.Equal(t, c.rule, bad.Rule, bad.Sentence)

			twice := func(n Noun) []Noun { return []Noun{n, twin(n)} }
			bad = ask(twice)
			for range 20 {
				require.Equal(t, bad, ask(twice), "of two that break it the same one is named each time")
			}
		})
	}
}

// twin is a noun of another robot, or another pack or notice, that is as n is.
func twin(n Noun) Noun {
	const of = " twin"
	switch n := n.(type) {
	case Robot:
		n.ID, n.Name = n.ID+of, n.Name+of
		return n
	case Power:
		n.Robot += of
		return n
	case Sheet:
		n.ID, n.Robot = n.ID+of, n.Robot+of
		return n
	case Job:
		n.ID, n.Robot, n.Number = n.ID+of, n.Robot+of, n.Number+1
		return n
	case Tag:
		n.ID, n.Robot = n.ID+of, n.Robot+of
		return n
	case Pack:
		n.ID, n.Name = n.ID+of, n.Name+of
		return n
	case Notice:
		n.ID, n.Robot = n.ID+of, n.Robot+of
		return n
	}
	return n
}

func TestOfTwoJobsFinishedAtOnceBothBarWhoWorked(t *testing.T) {
	s := FromNouns(1, []Noun{
		Job{ID: "a", Number: 1, JobFields: JobFields{Robot: "r"}, FinishedAt: hour, FinishedBy: "ada", Stints: []Stint{{By: "cy"}}},
		Job{ID: "b", Number: 2, JobFields: JobFields{Robot: "r"}, FinishedAt: hour, FinishedBy: "ben"},
		Job{ID: "c", Number: 3, JobFields: JobFields{Robot: "r"}, FinishedAt: hour - 1, FinishedBy: "dee"},
	}, nil)
	require.ElementsMatch(t, []PersonID{"ada", "cy", "ben"}, s.barred("r"))
}
