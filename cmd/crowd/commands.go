package main

import (
	"errors"
	"fmt"
	"math/rand/v2"

	"github.com/google/uuid"

	"mendline/board"
)

// order is one command that the crowd is to give.
type order struct {
	id   board.CommandID
	do   string
	with any
	// key is the noun that the command makes or changes.
	key board.Key
}

// mix makes commands that a guest may give, none of which can be refused for the
// state that the board is in. Of twenty commands, on average, ten are notes, five
// counts of a spare, three damages and two jobs, as far as the board has a robot
// and a spare. The shares are our guess, no source.
type mix struct {
	rng    *rand.Rand
	robots []board.RobotID
	stocks []board.StockID
	made   int
}

// newMix makes commands about the nouns named by keys.
func newMix(rng *rand.Rand, keys []board.Key) *mix {
	m := &mix{rng: rng}
	for _, key := range keys {
		switch kind, id := key.Split(); kind {
		case board.KindRobot:
			m.robots = append(m.robots, board.RobotID(id))
		case board.KindStock:
			m.stocks = append(m.stocks, board.StockID(id))
		}
	}
	return m
}

func (m *mix) next() (order, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return order{}, fmt.Errorf("make a command id: %w", err)
	}
	m.made++
	o := order{id: board.CommandID(id)}
	switch draw := m.rng.IntN(20); {
	case draw < 5 && len(m.stocks) > 0:
		o.count(m.stocks[m.rng.IntN(len(m.stocks))], m.rng.IntN(100))
	case draw < 8 && len(m.robots) > 0:
		o.damage(m.robots[m.rng.IntN(len(m.robots))], m.made)
	case draw < 10 && len(m.robots) > 0:
		o.job(m.robots[m.rng.IntN(len(m.robots))], m.made)
	default:
		o.note(m.made)
	}
	return o, nil
}

func (o *order) note(n int) {
	o.do = "note.add"
	o.with = board.NoteAdd{Text: fmt.Sprintf("Note %d: the rear left screw was loose again, glued it.", n)}
	o.makes(board.KindNote)
}

func (o *order) count(stock board.StockID, pieces int) {
	o.do = "stock.count"
	o.with = board.StockCount{Stock: stock, Count: pieces}
	o.key = board.KeyOf(board.KindStock, stock)
}

func (o *order) damage(robot board.RobotID, n int) {
	o.do = "damage.report"
	o.with = board.DamageReport{DamageFields: board.DamageFields{
		Robot: robot, Part: fmt.Sprintf("side plate %d", n), What: "a dent behind the wheel", Grade: board.G1, Severity: board.Solid,
	}}
	o.makes(board.KindDamage)
}

func (o *order) job(robot board.RobotID, n int) {
	o.do = "job.add"
	o.with = board.JobAdd{JobFields: board.JobFields{
		Robot: robot, Name: fmt.Sprintf("Straighten plate %d", n), Triage: board.Could,
		Fixes: []board.Fix{{
			Name: "hammer and block", Way: board.WayMend, LikelySec: 300, BadSec: 600, Hands: []board.Skill{board.SkillAny},
			Station: board.StationBench, Where: board.OffRobot, Touches: []board.System{board.SysStructure},
		}},
	}}
	o.makes(board.KindJob)
}

// work is a job that a crew would plan: two in five are musts, every
// other one is in the robot. The figures are invented.
func (m *mix) work() (order, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return order{}, fmt.Errorf("make a command id: %w", err)
	}
	if len(m.robots) == 0 {
		return order{}, errors.New("the board has no robot to enter jobs for: choose another with -team")
	}
	m.made++
	o := order{id: board.CommandID(id)}
	o.job(m.robots[m.made%len(m.robots)], m.made)
	job := o.with.(board.JobAdd)
	job.Triage = []board.Triage{board.Must, board.Could, board.Should, board.Must, board.Should}[m.made%5]
	f := &job.Fixes[0]
	f.LikelySec = 180 + m.rng.IntN(900)
	f.BadSec = 2 * f.LikelySec
	if m.made%2 == 0 {
		f.Where, f.Lockout = board.AtRobot, true
	}
	o.with = job
	return o, nil
}

func (o *order) makes(k board.Kind) { o.key = board.KeyOf(k, board.NewID(o.id, k, "")) }

// creates tells whether the command brings its noun into being.
func (o order) creates() bool { return o.do != "stock.count" }
