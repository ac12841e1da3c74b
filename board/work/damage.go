package work

import (
	"mendline/board"
	"mendline/board/estimate"
)

// noJobYet is how long it takes to put right a damage that nobody has made a job of: what
// an inspection finds to do after a solid hit. Our own guess, in minutes.
var noJobYet = map[board.Size]estimate.TwoPoint{
	board.Heavy: {LikelySec: 15 * 60, BadSec: 50 * 60},
	board.Light: {LikelySec: 6 * 60, BadSec: 20 * 60},
}

// Undecided lists a robot's damage that has to be put right and has no job, nor anyone
// who answers for it, by number.
func Undecided(s board.State, robot board.RobotID) []board.Damage {
	var list []board.Damage
	for _, d := range s.StandingDamage(robot) {
		if s.DamageAsks(d) == board.AsksJob {
			list = append(list, d)
		}
	}
	return list
}

// mending adds what the robot's undecided damage will take.
func (w *walk) mending() {
	var may []board.PersonID
	for _, who := range w.people {
		if who.AuthorisedFor(w.robot) && !who.Minor && !who.Guest {
			may = append(may, who.ID)
		}
	}
	for _, d := range Undecided(w.s, w.robot.ID) {
		w.items = append(w.items, Item{
			Robot: w.robot.ID, Step: Mending, Back: w.back, Damage: d.ID, May: may, Hands: 1, Station: board.StationNone,
			Times: noJobYet[w.robot.Size],
		})
	}
}
