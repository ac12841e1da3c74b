package forecast_test

import (
	"encoding/binary"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/charge"
	"mendline/board/forecast"
	"mendline/board/plan"
)

// budget is enough schedules for the small boards of these tests.
const budget plan.Budget = 300

// noon is the hour from which the tests' clocks run: 12:00 UTC on a day of our own.
var noon = board.MomentOf(time.Date(2026, 5, 9, 12, 0, 0, 0, time.UTC))

// clock is a time of that day, "14:05".
func clock(t testing.TB, text string) board.Moment {
	t.Helper()
	at, err := time.Parse("15:04", text)
	require.NoError(t, err)
	return noon.Add(time.Duration(at.Hour()-12)*time.Hour + time.Duration(at.Minute())*time.Minute)
}

// pit is a board with people giving it commands.
type pit struct {
	t   testing.TB
	s   board.State
	now board.Moment
	n   uint64
}

func newPit(t testing.TB) *pit {
	p := &pit{t: t, now: noon}
	shelf := p.made(board.KindPlace, board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "charging shelf", Kind: board.PlaceCharging}}, captain)
	p.captain(board.EventSet{EventFields: board.EventFields{
		Name: "Harbour Hall Open", LeadFights: 2, FightMeanSec: 360, FightMeanWorth: 20,
		SpinDownSec: 60, EmergencyContact: "the desk", ChargingPlaces: []board.PlaceID{board.PlaceID(shelf)},
		ActivationOrder: []string{"link in", "radio on"}, DeactivationOrder: []string{"radio off", "link out"},
	}})
	return p
}

var captain = board.Actor{Role: board.RoleCaptain}

func (p *pit) id() board.CommandID {
	p.n++
	var id board.CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(p.now)<<16|7<<12)
	binary.BigEndian.PutUint64(id[8:], 1<<63|p.n)
	return id
}

// try gives a command and adopts what it changes.
func (p *pit) try(c board.Command, by board.Actor) (board.Change, *board.Refusal) {
	ask := board.Ask{ID: p.id(), Seen: boardtest.Seen(p.s, c)}
	change, refusal := board.Apply(p.s, c, ask, by, p.now)
	if refusal == nil {
		p.s = p.s.With(change)
	}
	return change, refusal
}

// made gives a command and returns the id of the first noun of kind it made.
func (p *pit) made(kind board.Kind, c board.Command, by board.Actor) string {
	p.t.Helper()
	change, refusal := p.try(c, by)
	require.Nil(p.t, refusal, "%+v", refusal)
	for _, key := range change.Done.Made {
		if k, id := key.Split(); k == kind {
			return id
		}
	}
	return ""
}

func (p *pit) captain(c board.Command) { p.t.Helper(); p.made("", c, captain) }

func (p *pit) by(who board.PersonID, c board.Command) {
	p.t.Helper()
	p.made("", c, as(who))
}

func as(who board.PersonID) board.Actor { return board.Actor{Person: who, Role: board.RoleCrew} }

func (p *pit) wait(d time.Duration) { p.now = p.now.Add(d) }

var everyEnergy = []board.EnergyKind{board.EnergyWeapon, board.EnergyDrive}

func (p *pit) person(name string, skills ...board.Skill) board.PersonID {
	p.t.Helper()
	return board.PersonID(p.made(board.KindPerson, board.PersonAdd{PersonFields: board.PersonFields{
		Name: name, Role: board.RoleCrew, Skills: skills, Authorised: everyEnergy,
	}}, captain))
}

func (p *pit) place(name string, kind board.PlaceKind) board.PlaceID {
	p.t.Helper()
	return board.PlaceID(p.made(board.KindPlace, board.PlaceAdd{PlaceFields: board.PlaceFields{Name: name, Kind: kind}}, captain))
}

func (p *pit) station(name string, kind board.StationKind, count int) {
	p.t.Helper()
	p.captain(board.StationAdd{StationFields: board.StationFields{Name: name, Kind: kind, Count: count}})
}

func (p *pit) stock(name string, count int) board.StockID {
	p.t.Helper()
	return board.StockID(p.made(board.KindStock, board.StockAdd{StockFields: board.StockFields{Name: name, Count: count, Where: "drawer 3"}}, captain))
}

func (p *pit) pack(name string, fits board.RobotID) board.PackID {
	p.t.Helper()
	return board.PackID(p.made(board.KindPack, board.PackAdd{PackFields: board.PackFields{
		Name: name, Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.85, ChargeAmpsMost: 4, Use: board.UseMain, Fits: []board.RobotID{fits},
	}}, captain))
}

func (p *pit) charged(pack board.PackID) {
	p.t.Helper()
	p.captain(board.PackRead{Pack: pack, CellVolts: []float64{4.2, 4.2, 4.2, 4.2}, Charged: true})
}

// heavy and light enter a robot with the overheads of its size: 30 and 20
// minutes, 9 and 5.
func (p *pit) heavy(name string, number int, lead board.PersonID) board.RobotID {
	p.t.Helper()
	return p.robot(board.RobotFields{
		Name: name, Number: number, Size: board.Heavy, Hands: 3, BeforeSec: 30 * 60, AfterSec: 20 * 60, Weight: 1, Lead: lead, Driver: lead,
		Class: board.Class{Name: "heavyweight", Limit: 250, Unit: board.Pound, RuleSet: "house rules"},
	})
}

func (p *pit) light(name string, number int, lead board.PersonID) board.RobotID {
	p.t.Helper()
	return p.robot(board.RobotFields{
		Name: name, Number: number, Size: board.Light, Hands: 1, BeforeSec: 9 * 60, AfterSec: 5 * 60, Weight: 1, Lead: lead, Driver: lead,
		Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules"},
	})
}

func (p *pit) robot(f board.RobotFields) board.RobotID {
	p.t.Helper()
	f.Energies = []board.Energy{
		{Kind: board.EnergyWeapon, Isolator: "removable link", Reach: board.Outside},
		{Kind: board.EnergyDrive, Isolator: "removable link", Reach: board.Outside},
	}
	return board.RobotID(p.made(board.KindRobot, board.RobotAdd{RobotFields: f}, captain))
}

func (p *pit) fight(f board.FightFields) board.FightID {
	p.t.Helper()
	if f.Arena == "" {
		f.Arena = "A"
	}
	return board.FightID(p.made(board.KindFight, board.FightAdd{FightFields: f}, captain))
}

// calledAt enters a fight in an arena of the robot's own and a not-before, so
// that its call is at exactly that time.
func (p *pit) calledAt(r board.RobotID, at board.Moment) board.FightID {
	p.t.Helper()
	e := p.s.Event().EventFields
	e.LeadFights, e.RestSec = 0, int(at.Sub(p.now)/time.Second)
	e.RestTo = board.RestCall
	p.captain(board.EventSet{EventFields: e})
	arena := "B" + p.s.Robots[r].Name
	p.made("", board.FightNow{Arena: arena, Number: 1}, captain)
	return p.fight(board.FightFields{Robot: r, Arena: arena, Number: 2, NotBefore: at})
}

// fought lets the robot come back from a fight that ends now.
func (p *pit) fought(r board.RobotID) board.FightID {
	p.t.Helper()
	f := p.fight(board.FightFields{Robot: r, Arena: "Z" + p.s.Robots[r].Name, Number: 1})
	p.captain(board.FightEnd{Fight: f, Result: board.Won})
	return f
}

func (p *pit) job(f board.JobFields) board.JobID {
	p.t.Helper()
	if f.Triage == "" {
		f.Triage = board.Must
	}
	return board.JobID(p.made(board.KindJob, board.JobAdd{JobFields: f}, captain))
}

// fix is a way of doing a job at the bench, in the robot, under lockout with the
// packs out; times in minutes.
func fix(likely, bad int, hands ...board.Skill) board.Fix {
	return board.Fix{
		Name: "swap it", Way: board.WaySwap, LikelySec: likely * 60, BadSec: bad * 60, Hands: hands,
		Station: board.StationBench, Where: board.AtRobot, Lockout: true, PackOut: true,
	}
}

func using(fix board.Fix, stock board.StockID) board.Fix {
	fix.Stock = []board.Need{{Stock: stock, Count: 1}}
	return fix
}

// walk answers every line of the robot's open sheet of a list.
func (p *pit) walk(r board.RobotID, list board.SheetList, who board.PersonID) {
	p.t.Helper()
	for {
		answer, open := boardtest.NextAnswer(p.s, r, list, who)
		if !open {
			return
		}
		p.by(who, answer)
	}
}

// open makes the robot safe, puts who's tag on, takes the packs out and inspects.
func (p *pit) open(r board.RobotID, who board.PersonID) {
	p.t.Helper()
	p.walk(r, board.ListMakeSafe, who)
	p.by(who, board.TagOn{Robot: r})
	p.walk(r, board.ListFirstIn, who)
	p.walk(r, board.ListInspect, who)
}

func (p *pit) make() forecast.Forecast { return forecast.Make(p.s, p.now, 1, budget) }

func (p *pit) call(r board.RobotID) forecast.Call {
	p.t.Helper()
	return find(p.t, p.make().Calls, func(c forecast.Call) bool { return c.Robot == r })
}

func (p *pit) plan(j board.JobID) forecast.JobPlan {
	p.t.Helper()
	return find(p.t, p.make().Plans, func(c forecast.JobPlan) bool { return c.Job == j })
}

func (p *pit) todo(who board.PersonID) forecast.Todo {
	p.t.Helper()
	return find(p.t, p.make().Todos, func(c forecast.Todo) bool { return c.Person == who })
}

func find[T any](t testing.TB, list []T, is func(T) bool) T {
	t.Helper()
	i := slices.IndexFunc(list, is)
	require.GreaterOrEqual(t, i, 0, "not in %+v", list)
	return list[i]
}
