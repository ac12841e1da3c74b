package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// A refusal names a next step, and the same rules accept it: whoever is refused, does as
// the sentence says and asks again is not refused again.
func TestWhatARefusalNamesLeadsOn(t *testing.T) {
	sign := func(who func(p *pit) PersonID) func(p *pit) (Actor, Command) {
		return func(p *pit) (Actor, Command) {
			sheet, _ := p.s.Sheet(p.moth, ListReady)
			return p.as(who(p)), SheetAnswer{Sheet: sheet.ID, Line: "sign", Said: SaidDone}
		}
	}
	dee := func(p *pit) PersonID { return p.dee }
	ada := func(p *pit) PersonID { return p.ada }
	for name, c := range map[string]struct {
		stands func(p *pit)
		asks   func(p *pit) (Actor, Command)
		rule   int
		says   string
		does   map[string]func(p *pit)
	}{
		"a must is open": {
			func(p *pit) { p.open(); p.job() },
			func(p *pit) (Actor, Command) { return p.as(p.ada), RobotCloseUp{Robot: p.moth} }, 11, "do it, or Ada or Dee leaves it off",
			map[string]func(p *pit){
				"done":     func(p *pit) { j := p.theJob(); p.ok(p.as(p.ben), JobStart{Job: j}); p.ok(p.as(p.ben), JobFinish{j}) },
				"left off": func(p *pit) { p.ok(p.as(p.dee), JobDefer{p.theJob(), p.ada, "no time"}) },
			},
		},
		"a job is begun as one's own and only tag has just come off": {
			func(p *pit) { p.open(); p.job(); p.tagOff(p.as(p.ben), p.ben) },
			func(p *pit) (Actor, Command) { return p.as(p.ben), JobStart{Job: p.theJob()} }, 3, "Put your own tag on Tin Moth first, again where it has just come off",
			map[string]func(p *pit){"put on again": func(p *pit) { p.ok(p.as(p.ben), TagOn{Robot: p.moth}) }},
		},
		"a job is begun as one's own tag has just come off": {
			func(p *pit) {
				p.open()
				p.job()
				p.ok(p.as(p.dee), TagOn{Robot: p.moth})
				p.tagOff(p.as(p.ben), p.ben)
			},
			func(p *pit) (Actor, Command) { return p.as(p.ben), JobStart{Job: p.theJob()} }, 3, "Put your own tag on Tin Moth first, again where it has just come off",
			map[string]func(p *pit){"put on again": func(p *pit) { p.ok(p.as(p.ben), TagOn{Robot: p.moth}) }},
		},
		"a job is running": {
			func(p *pit) { p.open(); p.ok(p.as(p.ben), JobStart{Job: p.job()}) },
			func(p *pit) (Actor, Command) { return p.as(p.ada), RobotCloseUp{Robot: p.moth} }, 11, "finish it. Or hold it",
			map[string]func(p *pit){
				"finished": func(p *pit) { p.ok(p.as(p.ben), JobFinish{p.theJob()}) },
				"held, and left off": func(p *pit) {
					p.ok(p.as(p.ben), JobHold{Job: p.theJob(), Why: HoldClock})
					p.ok(p.as(p.ada), JobDefer{p.theJob(), p.ada, "no time"})
				},
			},
		},
		"a job is finished, and its pack came back in a test": {
			func(p *pit) { p.closedUp(); p.testedWithAJob(); p.closesUpAgain() },
			sign(dee), 11, "answer its line of closing up again",
			map[string]func(p *pit){
				"answered for, the covers on": func(p *pit) { p.pays(p.theJob(), p.s.Owes(p.s.Jobs[p.theJob()], p.now)[0]) },
				"opened, and taken out": func(p *pit) {
					p.ok(p.as(p.ada), RobotReopen{p.moth})
					p.walk(p.as(p.ben), ListReopen)
					p.ok(p.as(p.ben), TagOn{Robot: p.moth})
					p.walk(p.as(p.ben), ListFirstIn)
					require.Equal(p.t, JobClosed, p.jobState(p.theJob()))
					_, bad := p.tagOff(p.as(p.ben), p.ben)
					require.Nil(p.t, bad)
					p.ok(p.as(p.ada), RobotCloseUp{p.moth})
					p.walk(p.as(p.ben), ListCloseUp)
					p.toTheSignature()
				},
			},
		},
		"another is on it too": {
			func(p *pit) {
				p.open()
				p.ok(p.as(p.dee), TagOn{Robot: p.moth})
				p.ok(p.as(p.ben), JobStart{Job: p.job()})
				p.ok(p.as(p.dee), JobJoin{Job: p.theJob()})
			},
			func(p *pit) (Actor, Command) { return p.as(p.ben), JobFinish{p.theJob()} }, 7, "Dee leaves it first",
			map[string]func(p *pit){"they leave": func(p *pit) { p.ok(p.as(p.dee), JobLeave{p.theJob()}) }},
		},
		"three tags, and a try whether it starts": {
			gasOverdue, tries, 7, "Ada, Ben and Dee are still on Tin Moth",
			map[string]func(p *pit){
				"their owners, one in the arena on her own phone, one by PIN": func(p *pit) {
					p.ok(p.as(p.ada), TagOff{p.tagOf(p.ada)})
					p.ok(p.as(p.dee), TagOff{p.tagOf(p.dee)})
					p.ok(Actor{Person: p.dee, Role: RoleSafety, Proved: []PersonID{p.ben}}, TagOff{p.tagOf(p.ben)})
				},
				"one cannot be reached": func(p *pit) {
					p.ok(p.as(p.ada), TagOff{p.tagOf(p.ada)})
					p.ok(p.as(p.dee), TagOff{p.tagOf(p.dee)})
					p.now += minute
					p.ok(Actor{Person: p.dee, Role: RoleSafety, Proved: []PersonID{p.ada}}, TagOverride{Tag: p.tagOf(p.ben), Second: p.ada, Override: Override{
						LookedWhere: "at the arena", CalledHow: "by phone", CalledAt: p.now - 60_000, CheckedBy: p.dee, Reason: "he is in the arena", Asked: true,
					}})
				},
			},
		},
		"whoever mended it is alone": {
			alone, sign(ada), 12, "Two ways out",
			map[string]func(p *pit){
				"the event lets a repairer sign": func(p *pit) {
					f := p.s.Event().EventFields
					f.RepairerMaySign = true
					p.captain(EventSet{EventFields: f, Reason: "the event says so"})
				},
			},
		},
		"event safety stopped it": {
			func(p *pit) {
				p.open()
				p.job()
				p.ok(p.as(p.dee), RobotStop{p.moth, "another lock"})
				p.makeSafeAgain()
			},
			func(p *pit) (Actor, Command) { return p.as(p.ben), JobStart{Job: p.theJob()} }, 0, "when event safety lifts it",
			map[string]func(p *pit){"lifted": func(p *pit) { p.ok(p.as(p.dee), RobotGoOn{p.moth}) }},
		},
		"it is withdrawn": {
			func(p *pit) { p.open(); p.ready(); p.captain(RobotWithdraw{p.moth}) },
			func(p *pit) (Actor, Command) { return p.as(p.ada), RobotLive{p.moth, p.arena} }, 0, "The captain enters it again first",
			map[string]func(p *pit){"entered again": func(p *pit) { p.captain(RobotBackIn{p.moth}) }},
		},
		"a result on the wrong robot was taken back": {
			wrongRobot, sign(dee), 11, "Read it, or fit another",
			map[string]func(p *pit){"read": func(p *pit) {
				p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: []float64{4.17, 4.17, 4.18, 4.17}})
			}},
		},
		"an attendant works where the charge is not seen": {
			func(p *pit) {
				p.makeSafe()
				p.ok(p.as(p.ben), p.charges(p.ben))
				p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
			},
			func(p *pit) (Actor, Command) { return p.as(p.ben), TagOn{Robot: p.moth} }, 14, "Someone else takes it over",
			map[string]func(p *pit){
				"another stays":   func(p *pit) { p.ok(p.as(p.nia), PackAttend{Pack: p.p2}) },
				"the charge ends": func(p *pit) { p.ok(p.as(p.ben), PackOff{p.p2}) },
				"it is in sight": func(p *pit) {
					f := p.s.Places[p.bench].PlaceFields
					f.InSight = []PlaceID{p.shelf}
					p.captain(PlaceChange{Place: p.bench, PlaceFields: f, Reason: "an arm's length"})
				},
			},
		},
	} {
		for way, do := range c.does {
			t.Run(name+"/"+way, func(t *testing.T) {
				p := newPit(t)
				c.stands(p)
				by, cmd := c.asks(p)
				require.Contains(t, p.refused(by, cmd, c.rule).Sentence, c.says)
				do(p)
				p.ok(c.asks(p))
			})
		}
	}
}

func (p *pit) theJob() JobID {
	for id := range p.s.Jobs {
		return id
	}
	return ""
}

// testedWithAJob brings a robot that is closed up out of a test, and has a job finished
// off it then.
func (p *pit) testedWithAJob() {
	p.tests()
	p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
	p.burrs()
}

// gasOverdue has Ada, Ben and Dee on a robot whose gas, bled inside, nobody looked at in
// time; it is isolated again, and their tags are on.
func gasOverdue(p *pit) {
	p.captain(RobotChange{Robot: p.moth, RobotFields: p.cast.Gassed(Inside)})
	p.walk(p.as(p.ben), ListMakeSafe)
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.walk(p.as(p.ben), ListFirstIn)
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	p.now += 15 * 60_000
	p.ok(Itself(), BoardTick{})
	require.Equal(p.t, Unknown, p.state())
	p.walkUntil(ListMakeSafe, "try")
}

func tries(p *pit) (Actor, Command) { return p.as(p.dee), p.said(ListMakeSafe, "try", SaidDone) }

// alone is Ada with nobody else, after a repair of hers.
func alone(p *pit) {
	p.makeSafe()
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	p.walk(p.as(p.ada), ListFirstIn)
	j := p.job()
	for _, id := range []PersonID{p.dee, p.nia} {
		p.captain(PersonRetire{Person: id})
	}
	p.ok(p.as(p.ada), JobStart{Job: j})
	p.ok(p.as(p.ada), JobFinish{Job: j})
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ada), p.ada)
	require.Nil(p.t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ada), ListCloseUp)
	p.toTheSignature()
}

// wrongRobot is a signed robot for which the result of another's fight was entered and
// taken back, walked to its signature again.
func wrongRobot(p *pit) {
	fight := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	p.ready()
	p.ok(p.as(p.ben), FightEnd{Fight: fight, Result: Won})
	p.ok(p.as(p.ben), Undo{Command: newID(p.now, p.n)})
	p.closesUpAgain()
}
