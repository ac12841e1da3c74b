package forecast_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/charge"
	"mendline/board/forecast"
)

// crew are people who do what their phones say, one thing at a time, each in its time.
type crew struct {
	*pit
	people []board.PersonID
	busy   map[board.PersonID]doing
	// idle is since when each could do something and was sent to nothing.
	idle map[board.PersonID]board.Moment
	did  map[board.PersonID][]string
	free map[board.PersonID]time.Duration
}

// doing is what someone is on, and what they give when it is done.
type doing struct {
	thing string
	until board.Moment
	give  board.Command
}

const tick = 30 * time.Second

// run lets the crew work until a moment.
func (c *crew) run(until board.Moment) {
	c.t.Helper()
	for ; c.now < until; c.wait(tick) {
		for _, who := range c.people {
			if d, ok := c.busy[who]; ok && d.until <= c.now {
				delete(c.busy, who)
				if d.give != nil {
					_, refusal := c.try(d.give, c.as(who))
					require.Nil(c.t, refusal, "%s at %s: %+v %+v", c.s.People[who].Name, c.s.Clock(c.now), d.give, refusal)
				}
			}
		}
		f := c.make()
		if f.Replace != nil {
			c.try(*f.Replace, board.Itself())
			f = c.make()
		}
		c.nobodyTwice(f)
		for _, who := range c.people {
			if _, ok := c.busy[who]; !ok {
				t := find(c.t, f.Todos, func(t forecast.Todo) bool { return t.Person == who })
				c.begin(who, t)
			}
		}
		c.notIdle(f)
	}
}

func (c *crew) as(who board.PersonID) board.Actor {
	return board.Actor{Person: who, Role: c.s.People[who].Role}
}

// nobodyTwice looks that nobody is sent to what another is on.
func (c *crew) nobodyTwice(f forecast.Forecast) {
	c.t.Helper()
	had := map[string]board.PersonID{}
	for who, d := range c.busy {
		had[d.thing] = who
	}
	for _, t := range f.Todos {
		what := thing(t)
		if other, is := had[what]; what != "" && is {
			require.Equal(c.t, other, t.Person, "two at %s: %s, %s and %s", c.s.Clock(c.now), what, c.s.People[other].Name, c.s.People[t.Person].Name)
		}
		had[what] = t.Person
	}
}

// begin has someone do the next move of their phone.
func (c *crew) begin(who board.PersonID, t forecast.Todo) {
	c.t.Helper()
	if n := len(c.did[who]); n == 0 || !strings.Contains(c.did[who][n-1], t.Title+" "+t.Why) {
		c.did[who] = append(c.did[who], fmt.Sprintf("%s %s: %s", c.s.Clock(c.now), t.Act, t.Title+" "+t.Why))
	}
	takes := tick
	if t.Work != "" && !t.Taken {
		c.by(who, board.WorkTake{Work: t.Work})
		takes = max(tick, time.Duration(t.LikelySec)*time.Second)
	}
	d := doing{thing: thing(t), until: c.now.Add(takes), give: command(c.s, t)}
	switch t.Act {
	case forecast.ActSheet, forecast.ActFirstIn:
		sheet := c.s.Sheets[t.Sheet]
		l, _ := sheet.OpenLine()
		d.give = boardtest.AnswerTo(c.s, sheet, l, who)
		if at := c.s.RestsAt(sheet.Robot, l); at > d.until {
			d.until = at
		}
	case forecast.ActStart, forecast.ActResume:
		c.by(who, d.give)
		d.until, d.give = c.now.Add(time.Duration(t.LikelySec)*time.Second), board.JobFinish{Job: t.Job}
	case forecast.ActMove:
		d.give = board.PackMove{Pack: t.Pack, Place: c.s.Event().ChargingPlaces[0]}
	case forecast.ActCharge:
		ch := find(c.t, c.make().Channels, func(v forecast.ChannelView) bool {
			return slices.ContainsFunc(v.Bars, func(b forecast.ChargeBar) bool { return b.Pack == t.Pack })
		})
		bar := find(c.t, ch.Bars, func(b forecast.ChargeBar) bool { return b.Pack == t.Pack })
		d.give = board.PackCharge{Pack: t.Pack, Channel: ch.Channel, Attendant: who, Cells: c.s.Packs[t.Pack].Cells, Amps: bar.Amps, Contained: true}
	case forecast.ActDecide:
		if d.give == nil {
			damage := c.s.Damages[t.Damage]
			d.give = board.JobAdd{JobFields: board.JobFields{Robot: t.Robot, Name: "mend " + damage.Part, Triage: board.Must, Damages: []board.DamageID{t.Damage}, Fixes: []board.Fix{fix(8, 15, board.SkillAny)}}}
		}
	case forecast.ActFetch:
		d.until, d.give = c.now.Add(10*time.Minute), board.JobResume{Job: t.Job}
	case forecast.ActWait, forecast.ActNone, forecast.ActCarry, forecast.ActFight:
		return
	}
	c.busy[who] = d
}

// notIdle looks that nobody is sent to nothing for more than 60 s while there is something
// that nobody is on and that the board lets them do.
func (c *crew) notIdle(f forecast.Forecast) {
	c.t.Helper()
	onIt := map[string]bool{}
	for _, t := range f.Todos {
		onIt[thing(t)] = true
	}
	for _, t := range f.Todos {
		_, busy := c.busy[t.Person]
		could := c.could(t.Person, onIt)
		if busy || t.Act != forecast.ActWait && t.Act != forecast.ActNone || could == "" {
			delete(c.idle, t.Person)
			continue
		}
		if c.idle[t.Person] == 0 {
			c.idle[t.Person] = c.now
		}
		c.free[t.Person] += tick
		require.LessOrEqual(c.t, c.now.Sub(c.idle[t.Person]), time.Minute, "%s at %s is told %q (%s) and could %s",
			c.s.People[t.Person].Name, c.s.Clock(c.now), t.Title, t.Why, could)
	}
}

// could is something that a person may do at once and that nobody is on, by asking the board for
// all of it; "" for nothing.
func (c *crew) could(who board.PersonID, onIt map[string]bool) string {
	takes := func(cmd board.Command) bool { return c.s.Refuses(cmd, c.as(who), c.now) == nil }
	for _, r := range board.Sorted(c.s.Robots, func(r board.Robot) string { return r.Name }) {
		if onIt["sheet of "+string(r.ID)] {
			continue
		}
		for _, list := range []board.SheetList{board.ListMakeSafe, board.ListFirstIn, board.ListInspect, board.ListCloseUp, board.ListReady} {
			sheet, ok := c.s.Sheet(r.ID, list)
			l, open := sheet.OpenLine()
			if ok && open && takes(boardtest.AnswerTo(c.s, sheet, l, who)) {
				return fmt.Sprintf("answer %q on %s", l.Ask, r.Name)
			}
			if ok && open {
				break // the ones behind it wait
			}
		}
	}
	for _, p := range board.Sorted(c.s.Packs, func(p board.Pack) string { return p.Name }) {
		if p.State == board.PackUnread && p.Place != "" && !onIt["read-"+string(p.ID)] {
			return "read pack " + p.Name
		}
	}
	for _, j := range board.Sorted(c.s.Jobs, func(j board.Job) string { return j.Name }) {
		onJob := func(t forecast.Todo) bool { return t.Job == j.ID }
		if j.State == board.JobOpen && !slices.ContainsFunc(c.make().Todos, onJob) && c.skilled(who, j) && (takes(board.JobStart{Job: j.ID}) && c.room(j)) {
			return "start " + j.Name
		}
	}
	for _, d := range board.Sorted(c.s.Damages, func(d board.Damage) string { return d.Part }) {
		if asks := c.s.DamageAsks(d); asks == board.AsksJob && c.s.Robots[d.Robot].Lead == who && !onIt["decide-"+string(d.ID)] {
			return "decide on " + d.Part
		}
	}
	return ""
}

func (c *crew) skilled(who board.PersonID, j board.Job) bool {
	need := j.Fix().Hands[0]
	return need == board.SkillAny || slices.Contains(c.s.People[who].Skills, need)
}

// room tells whether the station of a job has room for one more.
func (c *crew) room(j board.Job) bool {
	room := 0
	for _, station := range c.s.Stations {
		if station.Kind == j.Fix().Station {
			room += station.Count
		}
	}
	for _, o := range c.s.Jobs {
		if o.State == board.JobRunning && o.Fix().Station == j.Fix().Station {
			room--
		}
	}
	return room > 0
}

// newCrew is a pit of two benches and two channels.
func newCrew(t *testing.T, names ...string) *crew {
	c := &crew{pit: newPit(t), busy: map[board.PersonID]doing{}, idle: map[board.PersonID]board.Moment{}, did: map[board.PersonID][]string{}, free: map[board.PersonID]time.Duration{}}
	c.station("benches", board.StationBench, 2)
	c.place("watch table", board.PlaceWatch)
	bench := c.place("bench", board.PlaceBench)
	e := c.s.Event().EventFields
	e.AttendantMost = 4
	c.captain(board.EventSet{EventFields: e, Reason: "the table is in sight"})
	shelf := c.s.Event().ChargingPlaces[0]
	c.captain(board.PlaceChange{Place: bench, PlaceFields: board.PlaceFields{Name: "bench", Kind: board.PlaceBench, InSight: []board.PlaceID{shelf}}})
	circuit := board.CircuitID(c.made(board.KindCircuit, board.CircuitAdd{CircuitFields: board.CircuitFields{Name: "hall", Volts: 230, RatingAmps: 10, SaidBy: "the keeper"}}, captain))
	for _, name := range []string{"C1", "C2"} {
		c.made(board.KindChannel, board.ChannelAdd{ChannelFields: board.ChannelFields{
			Name: name, Charger: "charger", AmpsMost: 5, WattsMost: 100, ChargerWatts: 150, CellsMost: 6, Circuit: circuit, Place: shelf,
		}}, captain)
	}
	for _, name := range names {
		c.people = append(c.people, c.person(name, board.SkillMechanical, board.SkillElectrical))
	}
	return c
}

// back is a beetle that has just come back to the bench, its pack in it, another charged.
func (c *crew) back(name string, number int, lead board.PersonID, called time.Duration) board.RobotID {
	r := c.light(name, number, lead)
	packs := []board.PackID{}
	for k := range 2 {
		packs = append(packs, board.PackID(c.made(board.KindPack, board.PackAdd{PackFields: board.PackFields{
			Name: fmt.Sprintf("%s %d", name, k+1), Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.85, ChargeAmpsMost: 0.85, Use: board.UseMain, Fits: []board.RobotID{r},
		}}, captain)))
		c.charged(packs[k])
	}
	c.captain(board.PackMove{Pack: packs[0], Robot: r, Found: true})
	c.captain(board.PackMove{Pack: packs[1], Place: c.s.Event().ChargingPlaces[0]})
	c.fought(r)
	for id, p := range c.s.Places {
		if p.Kind == board.PlaceBench {
			c.captain(board.RobotPlace{Robot: r, Place: id})
		}
	}
	c.calledAt(r, c.now.Add(called))
	return r
}

func TestFourPeopleWithTwoRobotsAreNeverIdleWhileTheyCouldDoSomething(t *testing.T) {
	c := newCrew(t, "Ada", "Ben", "Cy", "Dee")
	sprat, hob := c.back("Sprat", 1, c.people[0], 40*time.Minute), c.back("Hob", 2, c.people[1], 55*time.Minute)
	for i, r := range []board.RobotID{sprat, hob} {
		c.job(board.JobFields{Robot: r, Name: fmt.Sprintf("belt %d", i), Fixes: []board.Fix{fix(8, 15, board.SkillMechanical)}})
		c.job(board.JobFields{Robot: r, Name: fmt.Sprintf("wheel %d", i), Triage: board.Should, Fixes: []board.Fix{fix(6, 12, board.SkillAny)}})
		c.captain(board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: fmt.Sprintf("wedge %d", i), Grade: board.G3}})
	}

	c.run(noon.Add(40 * time.Minute))

	for _, who := range c.people {
		t.Logf("%s\n  %s", c.s.People[who].Name, strings.Join(c.did[who], "\n  "))
	}
	require.Equal(t, board.Ready, c.s.Powers[sprat].State)
	c.run(noon.Add(60 * time.Minute))
	require.Equal(t, board.Ready, c.s.Powers[hob].State)
}

func TestALoneCaptainBringsTwoBeetlesToTheirCallsByTheirPhone(t *testing.T) {
	c := newCrew(t, "Ada")
	sprat, hob := c.back("Sprat", 1, c.people[0], 30*time.Minute), c.back("Hob", 2, c.people[0], 50*time.Minute)

	c.run(noon.Add(50 * time.Minute))

	t.Logf("%s", strings.Join(c.did[c.people[0]], "\n"))
	require.Equal(t, board.Ready, c.s.Powers[sprat].State)
	require.Equal(t, board.Ready, c.s.Powers[hob].State)
}
