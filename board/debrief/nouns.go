package debrief

import (
	"cmp"
	"maps"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
)

// jobs are the record's jobs by number.
func (r Record) jobs() []board.Job {
	return slices.SortedFunc(maps.Values(r.State.Jobs), func(a, b board.Job) int { return cmp.Compare(a.Number, b.Number) })
}

// damages are those that were not found to be none, by number.
func (r Record) damages() []board.Damage {
	all := slices.SortedFunc(maps.Values(r.State.Damages), func(a, b board.Damage) int { return cmp.Compare(a.Number, b.Number) })
	return slices.DeleteFunc(all, func(d board.Damage) bool { return d.Dropped })
}

// robots are all that the board ever had, by number and name.
func (r Record) robots() []board.Robot {
	return slices.SortedFunc(maps.Values(r.State.Robots), func(a, b board.Robot) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
}

// fought are the fights that a robot, or any for "", was in the arena for and that
// are over, by their start.
func (r Record) fought(robot board.RobotID) []board.Fight {
	all := slices.SortedFunc(maps.Values(r.State.Fights), func(a, b board.Fight) int {
		return cmp.Or(cmp.Compare(a.OnAt, b.OnAt), cmp.Compare(a.EndAt, b.EndAt), cmp.Compare(a.ID, b.ID))
	})
	return slices.DeleteFunc(all, func(f board.Fight) bool {
		over := f.State == board.FightDone && (f.Result == board.Won || f.Result == board.Lost || f.Result == board.Drawn)
		return !over || robot != "" && f.Robot != robot
	})
}

// damaging tells whether a damage is more than marks.
func damaging(d board.Damage) bool { return d.Grade != board.G0 && !d.Dropped }

// hits counts the damaging hits of a fight; damage that nobody put to a hit is one.
func (r Record) hits(id board.FightID) int {
	seen := map[int]bool{}
	for _, d := range r.State.Damages {
		if d.Fight == id && damaging(d) {
			seen[d.Hit] = true
		}
	}
	return len(seen)
}

// partOf is the name of a damage's part, as the map has it where it is on the map.
func (r Record) partOf(d board.Damage) string {
	if part, ok := r.State.Parts[d.OnPart]; ok {
		return part.Name
	}
	if joint, ok := r.State.Joints[d.OnJoint]; ok {
		return joint.Name
	}
	return d.Part
}

// constructionsOf are what is said of a robot's constructions, as data to replay:
// the built one, if any, and the others by name.
func (r Record) constructionsOf(robot board.RobotID) (built Construction, others []Construction, ok bool) {
	all := slices.SortedFunc(maps.Values(r.State.Constructions), func(a, b board.Construction) int { return cmp.Compare(a.Name, b.Name) })
	for _, construction := range all {
		switch {
		case construction.Robot != robot || construction.Retired:
		case construction.Built:
			built, ok = ConstructionOf(construction), true
		default:
			others = append(others, ConstructionOf(construction))
		}
	}
	return built, others, ok
}

// ConstructionOf reads a construction of the board.
func ConstructionOf(construction board.Construction) Construction {
	c := Construction{Name: construction.Name, Grams: int(construction.MassGrams), Cents: construction.ListCents, Guessed: construction.Guessed}
	for _, m := range construction.Mends {
		i := slices.IndexFunc(c.Groups, func(g Group) bool { return g.Name == m.Group })
		if i < 0 {
			i = len(c.Groups)
			c.Groups = append(c.Groups, Group{Name: m.Group, Members: m.Parts, Access: twoPoint(m.AccessSec, m.AccessBadSec), Joints: m.Joints})
		}
		c.Groups[i].Steps = append(c.Groups[i].Steps, Step{Name: m.Name, From: m.From, Each: m.Each, Times: twoPoint(m.LikelySec, m.BadSec), Cents: m.CostCents})
	}
	return c
}

func twoPoint(likelySec, badSec int) estimate.TwoPoint {
	return estimate.TwoPoint{LikelySec: float64(likelySec), BadSec: float64(badSec)}
}
