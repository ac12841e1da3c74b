package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
)

// otherPacksMost is how many other packs are tried for a robot.
const otherPacksMost = 3

// otherPack takes another pack than the one that the robot of group g waits for
// longest: one that is charged for a robot called later, or that may be charged sooner
// or more surely than it seems.
func (c *schedule) otherPack(g int) []remedy {
	last := c.lastCharge(g)
	if last < 0 {
		return nil
	}
	var list []remedy
	own, robot := c.charges[last], c.robots[g].robot
	for _, p := range c.packs.fitting(robot.ID, own.need.use) {
		_, told := c.inSet(p.ID, robot.ID)
		can := p.State == board.PackCharged || chargeable(p)
		if told || !can || p.Robot != "" || robot.Takes(own.need.use) > 1 && p.Kind() != own.pack.Kind() || len(list) == otherPacksMost {
			continue
		}
		text := fmt.Sprintf("Charge pack %s for %s instead of %s", p.Name, robot.Name, own.pack.Name)
		if p.State == board.PackCharged {
			text = fmt.Sprintf("Give %s pack %s, which is charged, instead of %s", robot.Name, p.Name, own.pack.Name)
		}
		list = append(list, remedy{text: text, do: []board.Command{board.PackChoose{Pack: p.ID, Robot: robot.ID}}})
	}
	return list
}

// inSet is the set of a robot that a pack is in.
func (c *schedule) inSet(pack board.PackID, robot board.RobotID) (packSet, bool) {
	i := slices.IndexFunc(c.sets, func(s packSet) bool {
		return s.robot.ID == robot && slices.ContainsFunc(s.packs, func(p board.Pack) bool { return p.ID == pack })
	})
	if i < 0 {
		return packSet{}, false
	}
	return c.sets[i], true
}
