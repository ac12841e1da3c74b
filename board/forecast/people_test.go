package forecast_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/forecast"
	"mendline/board/view"
)

func TestTheNextMoveLeadsOnePersonFromCartToCall(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	p.place("watch table", board.PlaceWatch)
	ada := p.person("Ada", board.SkillMechanical)
	neighbour := board.PersonID(p.made(board.KindPerson, board.PersonAdd{PersonFields: board.PersonFields{
		Name: "Zoe", Role: board.RoleCrew, Signer: true, From: "the next table",
	}}, captain))
	r := p.light("Sprat", 1, ada)
	inside, spare := p.pack("P1", r), p.pack("P2", r)
	p.charged(inside)
	p.charged(spare)
	p.captain(board.PackMove{Pack: inside, Robot: r, Found: true})
	p.captain(board.PackMove{Pack: spare, Place: p.s.Event().ChargingPlaces[0]})
	p.fought(r)
	p.now = noon.Add(time.Minute)
	p.calledAt(r, noon.Add(40*time.Minute))
	job := p.job(board.JobFields{Robot: r, Name: "Swap the belt", Fixes: []board.Fix{using(fix(10, 20, board.SkillMechanical), p.stock("belt", 2))}})

	// Do what the board says, one thing at a time, and write the acts down.
	var acts []forecast.Act
	for range 60 {
		next := p.todo(ada)
		if n := len(acts); n == 0 || acts[n-1] != next.Act {
			acts = append(acts, next.Act)
		}
		switch next.Act {
		case forecast.ActSheet, forecast.ActFirstIn:
			sheet := p.s.Sheets[next.Sheet]
			l, open := sheet.OpenLine()
			require.True(t, open)
			require.Equal(t, l.ID, next.Line)
			p.by(ada, boardtest.AnswerTo(p.s, sheet, l, ada))
		case forecast.ActTag:
			p.by(ada, board.TagOn{Robot: next.Robot})
		case forecast.ActTagOff:
			for _, tag := range p.s.Tags {
				p.by(ada, board.TagOff{Tag: tag.ID})
			}
		case forecast.ActStart:
			require.Equal(t, job, next.Job)
			require.Equal(t, 10*60, next.LikelySec)
			require.Contains(t, next.Why, "drawer 3")
			require.Equal(t, noon.Add(35*time.Minute), next.Until)
			p.by(ada, board.JobStart{Job: next.Job, Fix: next.Fix})
		case forecast.ActFinish:
			p.by(ada, board.JobFinish{Job: next.Job})
		case forecast.ActCloseUp:
			p.by(ada, board.RobotCloseUp{Robot: next.Robot})
		case forecast.ActRead:
			require.Equal(t, inside, next.Pack, "the one that came out")
			p.by(ada, board.PackRead{Pack: next.Pack, CellVolts: []float64{3.8, 3.8, 3.8, 3.8}})
		}
	}

	require.Equal(t, []forecast.Act{
		forecast.ActSheet, forecast.ActTag, forecast.ActFirstIn, forecast.ActSheet, forecast.ActStart, forecast.ActFinish,
		forecast.ActCloseUp, forecast.ActSheet, forecast.ActTagOff, forecast.ActRead, forecast.ActNone,
	}, acts)
	// Ada made the last repair, so the neighbour signs.
	next := p.todo(neighbour)
	require.Equal(t, forecast.ActSheet, next.Act)
	require.Equal(t, "sign", next.Line)
	sheet := p.s.Sheets[next.Sheet]
	l, _ := sheet.OpenLine()
	p.by(neighbour, boardtest.AnswerTo(p.s, sheet, l, neighbour))
	require.Equal(t, board.Ready, p.s.Powers[r].State)
	require.Equal(t, forecast.ActNone, p.todo(neighbour).Act)
	require.Equal(t, "Take Sprat to staging", p.todo(ada).Title)
	require.Contains(t, p.todo(ada).Why, "expected at 12:40")
}

func TestOnlyThePersonOnTheRobotGoesInFirst(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 2)
	p.place("watch table", board.PlaceWatch)
	ada, ben := p.person("Ada", board.SkillMechanical), p.person("Ben", board.SkillMechanical)
	r := p.heavy("Bramble", 1, ada)
	pack := p.pack("P1", r)
	p.charged(pack)
	p.captain(board.PackMove{Pack: pack, Robot: r, Found: true})
	p.walk(r, board.ListMakeSafe, ada)
	job := p.job(board.JobFields{Robot: r, Name: "Rail", Fixes: []board.Fix{fix(20, 55, board.SkillMechanical)}})
	p.captain(board.JobAssign{Job: job, People: []board.PersonID{ben}})
	require.Equal(t, forecast.ActTag, p.todo(ada).Act, "the lead goes in first")
	require.Equal(t, forecast.ActWait, p.todo(ben).Act)

	p.by(ada, board.TagOn{Robot: r})

	require.Equal(t, forecast.ActFirstIn, p.todo(ada).Act)
	require.Equal(t, forecast.ActWait, p.todo(ben).Act)
	require.Contains(t, p.todo(ben).Why, "First in is Ada's: Pack P1")
}

func TestAJobHeldForAPartSaysWhichAndItsPersonFetchesIt(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	ada := p.person("Ada", board.SkillMechanical)
	r := p.light("Sprat", 1, ada)
	p.fought(r)
	p.open(r, ada)
	p.calledAt(r, p.now.Add(60*time.Minute))
	job := p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{fix(10, 12, board.SkillMechanical)}})
	p.by(ada, board.JobStart{Job: job})
	p.wait(time.Minute)
	require.Equal(t, forecast.FlagNone, p.call(r).Flag)

	p.by(ada, board.JobHold{Job: job, Why: board.HoldPart, Text: "belt from the van"})

	c := p.call(r)
	require.Equal(t, forecast.FlagTight, c.Flag)
	require.Equal(t, forecast.Cause{Kind: forecast.CausePart, Text: "Job 1, Belt is on hold for a part: belt from the van.", Job: 1}, c.Cause)
	require.Equal(t, forecast.ActFetch, p.todo(ada).Act)
	require.Equal(t, "belt from the van", p.todo(ada).Why)
}

// The board refuses power while anyone is on a robot, so this one was built by
// hand: the forecast does not rely on it.
func TestHandsOnARobotDeclaredLiveAreAnAlarmForEachPerson(t *testing.T) {
	nouns := []board.Noun{
		board.Robot{ID: "r", RobotFields: board.RobotFields{Name: "Sprat", Number: 1, Size: board.Light, Hands: 1}},
		board.Person{ID: "ada", PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCrew}},
		board.Tag{ID: "g", Robot: "r", Person: "ada", At: noon},
		board.Hands{ID: "h", Robot: "r", Person: "ada", At: noon},
		board.Person{ID: "kit", PersonFields: board.PersonFields{Name: "Kit", Role: board.RoleCrew}},
		board.Job{ID: "j", Number: 4, State: board.JobRunning, Stints: []board.Stint{{Span: board.Span{From: noon}, By: "kit"}},
			JobFields: board.JobFields{Robot: "r", Name: "Wheel", Triage: board.Could, Fixes: []board.Fix{fix(5, 10, board.SkillAny)}}},
	}
	for _, state := range []board.PowerState{board.Live, board.Test, board.Work} {
		s := board.FromNouns(1, append(nouns, board.Power{Robot: "r", State: state, Since: noon}), nil)
		alarms := forecast.Make(s, noon, 1, budget).Alarms
		if state == board.Work {
			require.Empty(t, alarms)
			continue
		}
		require.Len(t, alarms, 2, state)
		require.Equal(t, forecast.ClassA, alarms[0].Class)
		require.Equal(t, "Ada: away from Sprat, now", alarms[0].Act)
		require.Equal(t, fmt.Sprintf("Sprat is declared %s, and Kit is on job 4", state), alarms[1].What)
	}
}

func TestAMinorIsAskedForHandsNearAndForNoSheet(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	ada := p.person("Ada", board.SkillElectrical)
	kim := board.PersonID(p.made(board.KindPerson, board.PersonAdd{PersonFields: board.PersonFields{Name: "Kim", Role: board.RoleCrew, Minor: true}}, captain))
	r := p.light("Sprat", 1, ada)
	job := p.job(board.JobFields{Robot: r, Name: "Wheel", Fixes: []board.Fix{fix(5, 10, board.SkillAny)}})
	p.captain(board.JobAssign{Job: job, People: []board.PersonID{kim}})
	require.Equal(t, forecast.ActWait, p.todo(kim).Act)
	require.Contains(t, p.todo(kim).Why, "made safe and verified first")

	p.open(r, ada)
	require.Equal(t, forecast.ActHandsNear, p.todo(kim).Act)
	p.by(kim, board.HandsOn{Robot: r})
	require.Equal(t, forecast.ActStart, p.todo(kim).Act)
	p.by(kim, board.JobStart{Job: job})
	p.by(kim, board.JobHold{Job: job, Why: board.HoldPerson})
	require.Equal(t, forecast.ActResume, p.todo(kim).Act)
}

func TestTheStripSaysWhichLineIsDueAndWhoSaidWhat(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	strip := func() view.Strip { return p.make().Strips[0] }

	require.Equal(t, view.PhaseMakeSafe, strip().Phase)
	require.Equal(t, 1, strip().Line)
	require.Contains(t, strip().Said, "unknown since 12:00")
	sheet, _ := p.s.Sheet(r, board.ListMakeSafe)
	l, _ := sheet.OpenLine()
	p.by(ada, boardtest.AnswerTo(p.s, sheet, l, ada))
	require.Equal(t, 2, strip().Line)
	require.Equal(t, "Ada", strip().Who)

	p.wait(5 * time.Minute)
	p.walk(r, board.ListMakeSafe, ada)
	require.Equal(t, view.PhaseInspect, strip().Phase)
	require.Equal(t, "verified by Ada 12:05", strip().Said)
	p.walk(r, board.ListInspect, ada)
	require.Equal(t, view.PhaseWork, strip().Phase)
	require.Zero(t, strip().Line)
}

func TestEveryAlarmNamesOnePersonsAct(t *testing.T) {
	cases := []struct {
		name  string
		class forecast.Class
		act   string
		set   func(p *pit, ada board.PersonID, r board.RobotID)
	}{
		{"a conflict in the arena", forecast.ClassA, "Ada: everyone away", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.open(r, ada)
			p.fight(board.FightFields{Robot: r, Number: 3})
			p.made("", board.FightNow{Arena: "A", Number: 3}, captain)
		}},
		{"a suspect pack with no watch place", forecast.ClassA, "Raise the alarm", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.place("watch table", board.PlaceWatch)
			p.captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Sam", Role: board.RoleSafety}})
			p.captain(board.PackSet{Pack: p.pack("P1", r), State: board.PackSuspect})
		}},
		{"a call that will not be made", forecast.ClassB, "The captain: ask for time", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.fought(r)
			p.calledAt(r, p.now.Add(12*time.Minute))
		}},
		{"called and not ready", forecast.ClassB, "Ada: tell the officials", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.fight(board.FightFields{Robot: r, Number: 3})
			p.made("", board.FightNow{Arena: "A", Number: 1}, captain)
		}},
		{"no lockout three minutes after return", forecast.ClassC, "Ada: make it safe", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.fought(r)
			p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{fix(10, 20, board.SkillAny)}})
			p.wait(3*time.Minute - 10*time.Second)
			require.Empty(p.t, p.make().Alarms)
			p.wait(10 * time.Second)
		}},
		{"a must without its spare", forecast.ClassC, "Ada: find one", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(10, 20, board.SkillAny), p.stock("belt", 0))}})
		}},
		{"a tag quiet for 45 minutes", forecast.ClassC, "Ada: still on it?", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.open(r, ada)
			p.wait(45 * time.Minute)
		}},
		{"a fight that seems to be over", forecast.ClassC, "Ada: say how it ended", func(p *pit, ada board.PersonID, r board.RobotID) {
			p.fight(board.FightFields{Robot: r, Number: 3})
			p.made("", board.FightNow{Arena: "A", Number: 5}, captain)
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := newPit(t)
			ada := p.person("Ada")
			r := p.light("Sprat", 1, ada)
			require.Empty(t, p.make().Alarms)
			c.set(p, ada, r)

			alarms := p.make().Alarms

			require.Len(t, alarms, 1, "%+v", alarms)
			require.Equal(t, c.class, alarms[0].Class)
			require.Contains(t, alarms[0].Act, c.act)
		})
	}
}

func TestWhoIsolatedIsNotAskedToVerifyWhereTheRobotWantsASecond(t *testing.T) {
	p := newPit(t)
	ada, ben := p.person("Ada"), p.person("Ben")
	r := p.light("Sprat", 1, ada)
	f := p.s.Robots[r].RobotFields
	f.SecondVerifier, f.Driver = true, ben
	p.captain(board.RobotChange{Robot: r, RobotFields: f})
	for p.s.Powers[r].State != board.Isolated {
		sheet, _ := p.s.Sheet(r, board.ListMakeSafe)
		l, _ := sheet.OpenLine()
		p.by(ada, boardtest.AnswerTo(p.s, sheet, l, ada))
	}

	require.NotEqual(t, forecast.ActSheet, p.todo(ada).Act)
	require.Equal(t, forecast.ActSheet, p.todo(ben).Act)
}

func TestAJobMustEndInTimeForWhatComesAfterIt(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	ada := p.person("Ada", board.SkillMechanical)
	r := p.light("Sprat", 1, ada)
	p.fought(r)
	p.open(r, ada)
	p.calledAt(r, p.now.Add(60*time.Minute))
	first := p.job(board.JobFields{Robot: r, Name: "Hub", Fixes: []board.Fix{fix(10, 20, board.SkillMechanical)}})
	p.job(board.JobFields{Robot: r, Name: "Blade", Fixes: []board.Fix{fix(15, 30, board.SkillMechanical)}, After: []board.JobID{first}})

	next := p.todo(ada)

	require.Equal(t, first, next.Job)
	// The call less 5 minutes of closing up and 15 of the blade.
	require.Equal(t, p.now.Add(40*time.Minute), next.Until)
}

func TestAJobWithoutAnybodyOnTheBoardSaysSo(t *testing.T) {
	p := newPit(t)
	r := p.heavy("Alder", 1, "")
	p.captain(board.JobAdd{JobFields: board.JobFields{Robot: r, Name: "sweep", Triage: board.Must, Fixes: []board.Fix{{
		Name: "sweep", Way: board.WayMend, LikelySec: 600, BadSec: 900, Hands: []board.Skill{board.SkillAny}, Station: board.StationBench, Where: board.AtRobot, Lockout: true,
	}}}})
	require.Equal(t, forecast.CausePerson, p.make().Plans[0].Cause.Kind)
	require.Contains(t, p.make().Plans[0].Cause.Text, "nobody")
}

func TestASecondPairOfHandsIsAskedToJoinAndToldWhenAnotherEndsIt(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 1)
	ada, kim, lee := p.person("Ada", board.SkillElectrical), p.person("Kim"), p.person("Lee")
	r := p.light("Sprat", 1, ada)
	job := p.job(board.JobFields{Robot: r, Name: "Wheel", Fixes: []board.Fix{fix(20, 30, board.SkillAny, board.SkillAny)}})
	p.captain(board.JobAssign{Job: job, People: []board.PersonID{kim, lee}})
	p.open(r, kim)
	p.by(kim, board.JobStart{Job: job})
	require.Equal(t, forecast.ActFinish, p.todo(kim).Act)
	require.NotEqual(t, forecast.ActFinish, p.todo(lee).Act, "only who is at work is asked to finish it")
	p.by(lee, board.TagOn{Robot: r})
	require.Equal(t, forecast.ActJoin, p.todo(lee).Act)
	p.by(lee, board.JobJoin{Job: job})
	require.Equal(t, forecast.ActFinish, p.todo(lee).Act)
	require.Empty(t, p.todo(lee).Told)

	p.by(ada, board.JobHold{Job: job, Why: board.HoldPart})
	for _, who := range []board.PersonID{kim, lee} {
		require.Contains(t, p.todo(who).Told, "Ada held job 1, Wheel at")
	}
	require.Empty(t, p.todo(ada).Told)
	p.by(kim, board.JobResume{Job: job})
	require.Empty(t, p.todo(kim).Told, "Kim goes on")
}

func TestWhoseTagIsOnTakesItOffBeforeATry(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada", board.SkillMechanical)
	r := p.light("Sprat", 1, ada)
	p.open(r, ada)
	p.made("", board.BoardStart{Why: "restart"}, board.Itself())
	for _, next := p.s.VerifiesNext(r); !next; _, next = p.s.VerifiesNext(r) {
		require.Equal(t, forecast.ActSheet, p.todo(ada).Act)
		answer, open := boardtest.NextAnswer(p.s, r, board.ListMakeSafe, ada)
		require.True(t, open)
		p.by(ada, answer)
	}
	require.Equal(t, forecast.ActTagOff, p.todo(ada).Act)
	for id := range p.s.Tags {
		p.by(ada, board.TagOff{Tag: id})
	}
	require.Equal(t, "try", p.todo(ada).Line)
}
