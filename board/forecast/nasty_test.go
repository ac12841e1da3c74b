package forecast_test

import (
	"fmt"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// opened is an event that grants a postponement of 10 minutes, with two mechanics,
// two benches and a heavy robot that is safe, open and inspected. All the boards here
// are constructed by us.
func opened(t testing.TB) (p *pit, r board.RobotID) {
	p = newPit(t)
	e := p.s.Event().EventFields
	e.PostponeSec = 10 * 60
	p.captain(board.EventSet{EventFields: e})
	p.station("bench 1", board.StationBench, 2)
	p.place("watch table", board.PlaceWatch)
	ada := p.person("Ada", board.SkillMechanical)
	p.person("Ben", board.SkillMechanical, board.SkillElectrical)
	r = p.heavy("Bramble", 1, ada)
	p.open(r, ada)
	return p, r
}

// in is so many minutes from now.
func (p *pit) in(minutes int) board.Moment { return p.now.Add(time.Duration(minutes) * time.Minute) }

func (p *pit) work(r board.RobotID, name string, triage board.Triage, fixes ...board.Fix) board.JobID {
	p.t.Helper()
	return p.job(board.JobFields{Robot: r, Name: name, Triage: triage, Fixes: fixes})
}

// nasty are boards that a hard day may bring.
var nasty = map[string]func(t testing.TB) *pit{
	"the one who could do it is at a fight": func(t testing.TB) *pit {
		p, r := opened(t)
		ada := p.s.Robots[r].Lead
		small := p.light("Sprat", 2, ada)
		p.work(r, "Swap the rail", board.Must, fix(20, 40, board.SkillMechanical))
		p.calledAt(r, p.in(60))
		p.fight(board.FightFields{Robot: small, Arena: "Q", Number: 5})
		p.captain(board.FightNow{Arena: "Q", Number: 5})
		return p
	},
	"no jobs": func(t testing.TB) *pit {
		p, r := opened(t)
		p.calledAt(r, p.in(60))
		return p
	},
	"a skill nobody has": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Weld the frame", board.Must, fix(20, 40, board.SkillWeld))
		p.work(r, "Weld the skid", board.Should, fix(20, 40, board.SkillWeld))
		p.calledAt(r, p.in(90))
		return p
	},
	"a part out of stock": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Swap the blade", board.Must, using(fix(20, 40, board.SkillMechanical), p.stock("blade", 0)))
		p.work(r, "Grease", board.Could, fix(5, 9, board.SkillMechanical))
		p.calledAt(r, p.in(120))
		return p
	},
	"a call in the past": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Swap the rail", board.Must, fix(20, 40, board.SkillMechanical))
		p.calledAt(r, p.in(10))
		p.wait(25 * time.Minute)
		return p
	},
	"two fights of one robot twenty minutes apart": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
		p.captain(board.FightNow{Arena: "A", Number: 1})
		p.fight(board.FightFields{Robot: r, Arena: "A", Number: 10, NotBefore: p.in(60)})
		p.fight(board.FightFields{Robot: r, Arena: "A", Number: 13, NotBefore: p.in(80)})
		return p
	},
	"a job that runs past its bad case": func(t testing.TB) *pit {
		p, r := opened(t)
		job := p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
		p.calledAt(r, p.in(150))
		p.by(p.s.Robots[r].Lead, board.JobStart{Job: job})
		p.wait(110 * time.Minute)
		return p
	},
	"eighty jobs": func(t testing.TB) *pit {
		p, r := opened(t)
		for i := range 80 {
			triage := []board.Triage{board.Must, board.Should, board.Could}[i%3]
			p.work(r, fmt.Sprintf("Work %d", i), triage, fix(3+i%9, 12+i%20, board.SkillMechanical))
		}
		p.calledAt(r, p.in(90))
		return p
	},
	"everything optional": optional,
	"all packs suspect": func(t testing.TB) *pit {
		p, r := opened(t)
		for _, name := range []string{"P1", "P2"} {
			p.captain(board.PackSet{Pack: p.pack(name, r), State: board.PackSuspect, Why: "swollen"})
		}
		p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
		p.calledAt(r, p.in(60))
		return p
	},
	"nobody there": nobody,
	"more hands than the robot has room for": func(t testing.TB) *pit {
		p, _ := opened(t)
		small := p.light("Sprat", 2, "")
		p.work(small, "Press it straight", board.Must, fix(5, 9, board.SkillAny, board.SkillAny))
		p.calledAt(small, p.in(60))
		return p
	},
	"more hands than people": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Lift the shell", board.Must, fix(5, 9, board.SkillAny, board.SkillAny, board.SkillAny))
		p.calledAt(r, p.in(60))
		return p
	},
	"a bench that was carried off": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
		for id := range p.s.Stations {
			p.captain(board.StationRetire{Station: id})
		}
		p.calledAt(r, p.in(60))
		return p
	},
	"a bad case of a working day": func(t testing.TB) *pit {
		p, r := opened(t)
		f := fix(1, 1, board.SkillMechanical)
		f.LikelySec, f.BadSec = 60, 8*60*60
		p.work(r, "Find the fault", board.Must, f)
		p.calledAt(r, p.in(60))
		return p
	},
	"a call tomorrow": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
		p.made("", board.FightNow{Arena: "A", Number: 1}, captain)
		p.fight(board.FightFields{Robot: r, Arena: "A", Number: 4, NotBefore: p.in(20 * 60)})
		return p
	},
	"a robot withdrawn with work open": func(t testing.TB) *pit {
		p, r := opened(t)
		p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
		p.calledAt(r, p.in(60))
		p.captain(board.RobotWithdraw{Robot: r})
		return p
	},
}

func optional(t testing.TB) *pit {
	p, r := opened(t)
	for i := range 14 {
		triage := []board.Triage{board.Should, board.Could}[i%2]
		p.work(r, fmt.Sprintf("Work %d", i), triage, fix(10+i%9, 20+i%20, board.SkillMechanical))
	}
	p.calledAt(r, p.in(60))
	return p
}

func nobody(t testing.TB) *pit {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 2)
	r := p.heavy("Bramble", 1, "")
	p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
	p.work(r, "Tighten it", board.Must, fix(10, 20, board.SkillAny))
	p.work(r, "Polish it", board.Could, fix(10, 20, board.SkillAny))
	p.calledAt(r, p.in(90))
	return p
}

// below0 finds a negative number in a noun on the wire; the fix of a job that is left
// off is -1, and so is what is longer without a spare where nothing else does it.
var below0 = regexp.MustCompile(`"(\w+)":-\d`)

func TestANastyBoardIsAnsweredInWordsAndWholeNumbers(t *testing.T) {
	for name, board := range nasty {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := board(t)
			f := p.make()
			entries := f.Entries()
			require.Equal(t, entries, p.make().Entries(), "the same board is answered twice alike")
			for key, noun := range entries {
				for _, found := range below0.FindAllStringSubmatch(string(noun), -1) {
					require.Contains(t, []string{"fix", "longerSec"}, found[1], "%s is below 0 in %s", found[1], key)
				}
			}
			for _, c := range f.Calls {
				if c.Flag != forecast.FlagNone {
					requireSentence(t, c.Cause.Text)
				}
				require.False(t, c.ReadyAt != 0 && c.ReadyAt < p.now, "ready in the past")
				require.LessOrEqual(t, c.ReadyAt, c.ReadyBadAt)
			}
			for _, j := range f.Plans {
				if j.Flag != forecast.FlagNone {
					requireSentence(t, j.Cause.Text)
				}
				require.LessOrEqual(t, j.EndAt, j.BadAt)
			}
		})
	}
}

// requireSentence holds that a cause is a sentence a person can read.
func requireSentence(t *testing.T, text string) {
	t.Helper()
	require.Regexp(t, `^[A-Z].*\.$`, text)
	require.NotRegexp(t, `NaN|%!|\b-\d|\d{5}|  `, text)
}

func TestWhatIsOfferedOnANastyBoardIsAcceptedAndDoesWhatItSays(t *testing.T) {
	for name, made := range nasty {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, list := range made(t).make().LeaveOff {
				for _, r := range list.List {
					p := made(t)
					for _, w := range r.Do {
						command, refusal := board.Decode(w.Do, w.With)
						require.Nil(t, refusal, r.Text)
						require.True(t, board.OfPlan(command), w.Do)
						p.captain(command)
					}
					require.InDelta(t, r.Then, p.ready(p.s.Robots[list.Robot].Name), 1, r.Text)
				}
			}
		})
	}
}

func TestASkillThatNobodyHasIsAskedFor(t *testing.T) {
	list := onlyList(t, nasty["a skill nobody has"](t))
	require.Equal(t, 0, list.Ready)
	require.Equal(t, "Ask one more person over for the weld work", list.List[0].Text)
	require.GreaterOrEqual(t, list.List[0].Then, 8)
}

func TestOneMoreIsAskedForWhereThereAreTooFewHands(t *testing.T) {
	list := onlyList(t, nasty["more hands than people"](t))
	require.Equal(t, "Ask one more person over to help", list.List[0].Text)
	require.Equal(t, 10, list.List[0].Then)
}

func TestThePostponementIsNotOfferedForWhatCannotBeDone(t *testing.T) {
	require.Empty(t, onlyList(t, nasty["a bench that was carried off"](t)).List)
}

func TestOnePersonIsAskedForWhereNobodyIsThere(t *testing.T) {
	list := onlyList(t, nobody(t))
	require.Equal(t, "Ask one more person over for the mechanical work", list.List[0].Text)
	require.Greater(t, list.List[0].Then, 4)
}

// One job that is left off only makes room for one that there was no time for.
func TestAllThatCanBeLeftOffIsOfferedAtOnce(t *testing.T) {
	list := onlyList(t, optional(t))
	require.Less(t, list.Ready, 5)
	require.Equal(t, "Leave off every should and could of Bramble, 14 jobs", list.List[0].Text)
	require.Equal(t, 10, list.List[0].Then)
	for _, r := range list.List[1:] {
		require.Less(t, r.Then, 6, "one job alone")
	}
}

func TestThePostponementIsNotSpentWhereTheSpareAloneDoes(t *testing.T) {
	list := onlyList(t, nasty["a part out of stock"](t))
	require.Equal(t, "Borrow a spare blade for job 1, Swap the blade", list.List[0].Text)
	require.Equal(t, 10, list.List[0].Then)
	for _, r := range list.List {
		require.NotContains(t, r.Text, "postponement", "it gains nothing more")
	}
}

func TestACrewThatWouldFollowTheRobotIsNotSaidToHoldItsWorkUp(t *testing.T) {
	p := nasty["a job that runs past its bad case"](t)
	c := find(t, p.make().Calls, func(c forecast.Call) bool { return p.s.Robots[c.Robot].Name == "Bramble" })
	require.Equal(t, forecast.FlagTight, c.Flag)
	require.Equal(t, forecast.Cause{Kind: forecast.CauseClock, Job: 1,
		Text: "Job 1, Swap the rail may take until 14:22, and must be done by 14:10."}, c.Cause)
}

func TestAFightThatInterruptsTheWorkIsSaid(t *testing.T) {
	p, r := opened(t)
	ada := p.s.Robots[r].Lead
	small := p.light("Sprat", 2, ada)
	f := p.s.Robots[small].RobotFields
	f.BeforeSec, f.AfterSec = 0, 0
	p.captain(board.RobotChange{Robot: small, RobotFields: f})
	job := p.work(r, "Swap the rail", board.Must, fix(20, 40, board.SkillMechanical))
	p.calledAt(r, p.in(60))
	p.calledAt(small, p.in(22))
	p.by(ada, board.JobStart{Job: job})
	c := find(t, p.make().Calls, func(c forecast.Call) bool { return c.Robot == r })
	require.Equal(t, forecast.Cause{Kind: forecast.CausePerson, Job: 1,
		Text: "Ada is at a fight from 12:22, and job 1, Swap the rail may not be done by then."}, c.Cause)
}

func TestTheAlarmSaysWhatHelpsFirst(t *testing.T) {
	sheetsAlone := func(t testing.TB) *pit {
		p, r := opened(t)
		p.calledAt(r, p.in(5))
		return p
	}
	for act, made := range map[string]func(t testing.TB) *pit{
		"find someone who can do it":              nasty["a skill nobody has"],
		"find the part, or another way":           nasty["a part out of stock"],
		"make room for it, or choose another fix": nasty["a bench that was carried off"],
		"choose what to leave off":                optional,
		"ask for time, or tell the officials":     sheetsAlone,
	} {
		t.Run(act, func(t *testing.T) {
			a := find(t, made(t).make().Alarms, func(a forecast.Alarm) bool { return a.Class == forecast.ClassB })
			require.Equal(t, "The captain: "+act, a.Act)
		})
	}
}

func TestWorkThatIsLeftOffForWantOfPeopleSaysSo(t *testing.T) {
	p := nobody(t)
	polish := find(t, p.make().Plans, func(j forecast.JobPlan) bool { return p.s.Jobs[j.Job].Name == "Polish it" })
	require.Equal(t, "There is nobody for job 3, Polish it.", polish.Cause.Text)
}
