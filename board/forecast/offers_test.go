package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// Sprat is closed up and not yet tested: 5 minutes of its sheets are left before its fight,
// and as much again after it.
func TestWhatIsLeftOfAClosedUpRobotIsForItsNextCall(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	sprat, hob := p.light("Sprat", 1, ada), p.light("Hob", 2, ada)
	p.charged(p.pack("P1", sprat))
	p.calledAt(hob, p.now.Add(60*time.Minute))
	p.calledAt(sprat, p.now.Add(40*time.Minute))
	p.open(sprat, ada)
	for _, tag := range p.s.Tags {
		p.by(ada, board.TagOff{Tag: tag.ID})
	}
	p.by(ada, board.RobotCloseUp{Robot: sprat})

	require.Equal(t, []forecast.Offered{
		{Robot: sprat, By: p.now.Add(35 * time.Minute), LikelySec: 5 * 60},
		{Robot: hob, By: p.now.Add((60 - 5 - 9) * time.Minute), LikelySec: 9 * 60},
	}, forecast.SheetsOffered(p.s, p.now, 1, budget))
}

// Cy is on a long job and has two more to do behind it, by a plan that nobody has to change:
// then Ada and Ben come, who could each begin one of them.
func TestNoTwoAreSentToOneBenchOneSpareOrOnePairOfHands(t *testing.T) {
	for what, x := range map[string]struct {
		benches, belts int
		oneRobot       bool
		sent           int
	}{
		"room for both":                       {3, 2, false, 2},
		"one bench is free":                   {2, 2, false, 1},
		"one spare is left, one does without": {3, 1, false, 2},
		"one at a time works on":              {3, 2, true, 1},
	} {
		t.Run(what, func(t *testing.T) {
			p := newPit(t)
			p.station("benches", board.StationBench, x.benches)
			cy := p.person("Cy", board.SkillMechanical)
			belt := p.stock("belt", 2)
			enter := func(name string, n int) board.RobotID {
				r := p.light(name, n, cy)
				p.open(r, cy)
				p.calledAt(r, p.now.Add(4*time.Hour))
				return r
			}
			sprat, hob, moth := enter("Sprat", 1), enter("Hob", 2), enter("Moth", 3)
			if x.oneRobot {
				moth = hob
			}
			long := p.job(board.JobFields{Robot: sprat, Name: "long", Fixes: []board.Fix{fix(30, 40, board.SkillMechanical)}})
			p.by(cy, board.JobStart{Job: long})
			first := p.job(board.JobFields{Robot: hob, Name: "first", Fixes: []board.Fix{using(fix(8, 12, board.SkillMechanical), belt)}})
			second := p.job(board.JobFields{Robot: moth, Name: "second", Fixes: []board.Fix{using(fix(8, 12, board.SkillMechanical), belt), fix(9, 13, board.SkillMechanical)}})
			p.captain(board.StockCount{Stock: belt, Count: x.belts})
			p.takesThePlan()
			p.person("Ada", board.SkillMechanical)
			p.person("Ben", board.SkillMechanical)
			sent := 0
			for _, todo := range p.make().Todos {
				t.Logf("%+v", todo)
				if todo.Job == first || todo.Job == second {
					sent++
				}
			}
			require.Equal(t, x.sent, sent)
		})
	}
}

// Only Ada may make Sprat safe. The plan has her on Hob, as soon as Cy is done there, and she
// stays with a charge out of sight of Sprat: she is sent to read a pack, until nobody else is
// found for Sprat.
func TestWhatSomeoneLeavesForAnAnswerGoesToTheNextWhoIsFree(t *testing.T) {
	c := newCrew(t, "Ada")
	ada, shelf := c.people[0], c.s.Event().ChargingPlaces[0]
	crew := board.PersonFields{Name: "Cy", Role: board.RoleCrew, Authorised: everyEnergy}
	cy := board.PersonID(c.made(board.KindPerson, board.PersonAdd{PersonFields: crew}, captain))
	sprat, hob := c.light("Sprat", 1, ada), c.light("Hob", 2, cy)
	c.captain(board.RobotPlace{Robot: sprat, Place: c.place("far table", board.PlaceBench)})
	c.open(hob, cy)
	c.calledAt(hob, c.now.Add(40*time.Minute))
	c.calledAt(sprat, c.now.Add(50*time.Minute))
	charging, unread := c.pack("P1", sprat), c.pack("P2", sprat)
	for _, pack := range []board.PackID{charging, unread} {
		c.captain(board.PackMove{Pack: pack, Place: shelf})
	}
	c.captain(board.PackRead{Pack: charging, CellVolts: cells(4, 3.8), TempC: new(20.0)})
	c.by(ada, board.PackCharge{Pack: charging, Channel: c.make().Channels[0].Channel, Attendant: ada, Cells: 4, Amps: 0.85, Contained: true})
	belt := c.job(board.JobFields{Robot: hob, Name: "belt", Fixes: []board.Fix{fix(1, 2, board.SkillAny)}})
	c.by(cy, board.JobStart{Job: belt})
	c.job(board.JobFields{Robot: hob, Name: "wheel", After: []board.JobID{belt}, Fixes: []board.Fix{fix(8, 12, board.SkillMechanical)}})
	crew.Name, crew.Authorised = "Ben", nil
	ben := board.PersonID(c.made(board.KindPerson, board.PersonAdd{PersonFields: crew}, captain))

	require.Equal(t, forecast.ActSheet, c.todo(ada).Act)
	require.Equal(t, sprat, c.todo(ada).Robot)
	require.Equal(t, unread, c.todo(ben).Pack)
}
