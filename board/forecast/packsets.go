package forecast

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mendline/board"
)

// packSet is what a robot takes of one use of packs for its next fight, and those
// that are to be it: all of one kind, first those that are ready.
type packSet struct {
	robot board.Robot
	use   board.PackUse
	packs []board.Pack
}

// fightUses are the uses of packs that a fight cannot do without.
var fightUses = []board.PackUse{board.UseMain, board.UseWeapon, board.UseTransmitter}

// toldAheadSec is by how much another pack must be ready sooner for the board to
// leave the one that people were told to charge (our own).
const toldAheadSec = 5 * 60

// Before any that is ready come the packs in the robot, then those that people chose.
const insideSec, chosenSec = -2.0, -1.0

// sets chooses the packs of each robot that is called, in the order of the robots: in
// the robot already, charged, or else soonest to be.
func (c packing) sets(robots []outlook) []packSet {
	ready := c.readyIn()
	taken := map[board.PackID]bool{}
	var list []packSet
	for _, o := range robots {
		if o.workBy == 0 && !o.called() {
			continue
		}
		for _, use := range fightUses {
			fit := c.fitting(o.robot.ID, use)
			if len(fit) == 0 {
				continue
			}
			set := packSet{o.robot, use, c.bestOf(o.robot, use, fit, ready, taken)}
			for _, p := range set.packs {
				taken[p.ID] = use != board.UseTransmitter // one transmitter serves many robots
			}
			list = append(list, set)
		}
	}
	return list
}

// fitting lists the packs of a use that are for a robot.
func (c packing) fitting(robot board.RobotID, use board.PackUse) []board.Pack {
	return slices.DeleteFunc(packsByName(c.s), func(p board.Pack) bool { return p.Use != use || !slices.Contains(p.Fits, robot) })
}

// readyIn is in how many seconds each pack that may be used can be: 0 for those that
// are ready. Nothing is known of the others.
func (c packing) readyIn() map[board.PackID]float64 {
	list := map[board.PackID]float64{}
	for _, p := range packsByName(c.s) {
		switch p.State {
		case board.PackCharged:
			list[p.ID] = 0
		case board.PackInRobot:
			if !p.CameBack {
				list[p.ID] = 0
			}
		case board.PackCharging:
			if takes, ok := c.takes(p, c.s.Channels[p.Channel], p.Amps); ok {
				list[p.ID] = max(takes.likely+c.sec(p.UsedAt), 60)
			}
		case board.PackWaiting, board.PackCooling:
			if takes, ok := c.soonest(p); ok {
				list[p.ID] = takes.likely + c.releaseSec(p)
			}
		}
	}
	return list
}

// bestOf takes of the packs that fit as many of one kind as the robot needs: those of
// the kind that has enough, and has them soonest. Where some are in the robot it is
// their kind.
func (c packing) bestOf(r board.Robot, use board.PackUse, fit []board.Pack, ready map[board.PackID]float64, taken map[board.PackID]bool) []board.Pack {
	soon := map[board.PackID]float64{}
	for _, p := range fit {
		at, can := ready[p.ID]
		told, ok := c.s.Follow().Charge(p.ID)
		switch {
		case !can || taken[p.ID] || p.Robot != "" && p.Robot != r.ID || p.ChosenFor != "" && p.ChosenFor != r.ID:
			continue
		case p.Robot == r.ID:
			at = insideSec
		case p.ChosenFor == r.ID:
			at = chosenSec
		case ok && told.Robot == r.ID:
			at = max(at-toldAheadSec, 0)
		}
		soon[p.ID] = at
	}
	return soonestOf(r.Takes(use), fit, soon)
}

// soonestOf takes n of the packs that soon knows: of the kind that has so many and has
// them soonest.
func soonestOf(n int, fit []board.Pack, soon map[board.PackID]float64) []board.Pack {
	var best []board.Pack
	at := func(p board.Pack) float64 { return soon[p.ID] }
	for _, kind := range fit {
		of := slices.DeleteFunc(slices.Clone(fit), func(p board.Pack) bool {
			_, can := soon[p.ID]
			return !can || p.Kind() != kind.Kind()
		})
		slices.SortStableFunc(of, func(a, b board.Pack) int { return cmp.Compare(at(a), at(b)) })
		of = of[:min(len(of), n)]
		if len(of) > 0 && better(of, best, at) {
			best = of
		}
	}
	return best
}

func better(a, b []board.Pack, soon func(board.Pack) float64) bool {
	switch {
	case len(b) == 0:
		return true
	case soon(a[0]) < 0 || soon(b[0]) < 0: // in the robot, or chosen
		return soon(a[0]) < soon(b[0])
	case len(a) != len(b):
		return len(a) > len(b)
	}
	return soon(a[len(a)-1]) < soon(b[len(b)-1])
}

// ready tells whether a pack of the set needs nothing more before the fight.
func (s packSet) ready(p board.Pack) bool {
	return p.State == board.PackCharged || p.State == board.PackInRobot && !p.CameBack
}

var useWords = map[board.PackUse]string{board.UseMain: "pack", board.UseWeapon: "weapon pack", board.UseTransmitter: "transmitter pack"}

// lacks says what keeps the set from being whole, "" if all of it is ready.
func (c packing) lacks(s packSet) string {
	takes, ready := s.robot.Takes(s.use), 0
	for _, p := range s.packs {
		if s.ready(p) {
			ready++
		}
	}
	if ready >= takes {
		return ""
	}
	var others []string
	for _, p := range c.fitting(s.robot.ID, s.use) {
		if !s.ready(p) || !slices.ContainsFunc(s.packs, func(o board.Pack) bool { return o.ID == p.ID }) {
			others = append(others, p.Name+" is "+c.said(p))
		}
	}
	said := strings.Join(others, ", ")
	switch {
	case takes == 1:
		return fmt.Sprintf("No %s for %s is ready: %s.", useWords[s.use], s.robot.Name, said)
	case said == "":
		return fmt.Sprintf("%s takes %d %ss of one kind and has %d.", s.robot.Name, takes, useWords[s.use], ready)
	}
	return fmt.Sprintf("%s takes %d %ss of one kind. Ready: %d; %s.", s.robot.Name, takes, useWords[s.use], ready, said)
}

// said is a pack's state in a word, and which robot it is in.
func (c packing) said(p board.Pack) string {
	if r, ok := c.s.Robots[p.Robot]; ok && p.State == board.PackInRobot {
		return "in " + r.Name
	}
	return packWords[p.State]
}

// noSet says of a robot what it lacks where no reading and no charge can make a whole set
// of what the team has, since too many are set aside; else "".
func (c packing) noSet(sets []packSet, robot board.RobotID) string {
	for _, set := range sets {
		if set.robot.ID != robot {
			continue
		}
		could := map[board.PackKind]int{}
		most := 0
		for _, p := range c.fitting(robot, set.use) {
			if !setAside(p.State) {
				could[p.Kind()]++
				most = max(most, could[p.Kind()])
			}
		}
		if most < set.robot.Takes(set.use) {
			return c.lacks(set)
		}
	}
	return ""
}
