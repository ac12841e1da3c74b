package forecast

import (
	"fmt"
	"slices"
	"strings"

	"mendline/board"
)

// packWords say each pack state as a person reads it. What is not for use is set
// aside.
var packWords = map[board.PackState]string{
	board.PackUnread: "unread", board.PackCharged: "ready", board.PackInRobot: "in robot", board.PackCooling: "cooling",
	board.PackWaiting: "waiting", board.PackCharging: "charging", board.PackStorage: "storage",
	board.PackSuspect: "SET ASIDE", board.PackQuarantined: "SET ASIDE", board.PackGone: "gone",
}

// views says each pack in a word, and which robot it is for: the one it is
// in; a ready one for the robot called first that it fits and that has none; any
// other for the only robot it fits.
func (c packing) views(robots []outlook) []PackView {
	s := c.s
	given := givenPacks(s, robots)
	var list []PackView
	for _, p := range packsByName(s) {
		v := PackView{Pack: p.ID, Word: packWords[p.State], For: p.Robot}
		if v.For == "" {
			v.For = given[p.ID]
		}
		if v.For == "" && len(p.Fits) == 1 && !setAside(p.State) {
			v.For = p.Fits[0]
		}
		c.times(&v, p)
		list = append(list, v)
	}
	return list
}

func givenPacks(s board.State, robots []outlook) map[board.PackID]board.RobotID {
	given := map[board.PackID]board.RobotID{}
	for _, o := range robots {
		if fitted(s, o.robot.ID) {
			continue
		}
		for _, p := range packsByName(s) {
			if p.State == board.PackCharged && given[p.ID] == "" && slices.Contains(p.Fits, o.robot.ID) {
				given[p.ID] = o.robot.ID
				break
			}
		}
	}
	return given
}

func packsByName(s board.State) []board.Pack {
	all := sorted(s.Packs, func(p board.Pack) string { return p.Name })
	return slices.DeleteFunc(all, func(p board.Pack) bool { return p.Retired })
}

func setAside(p board.PackState) bool {
	return p == board.PackSuspect || p == board.PackQuarantined || p == board.PackGone
}

// fitted tells whether a pack was put into the robot that has not been through a
// fight there.
func fitted(s board.State, robot board.RobotID) bool {
	return slices.ContainsFunc(packsIn(s, robot), func(p board.Pack) bool { return !p.CameBack && !setAside(p.State) })
}

// packless says that the team has packs to drive the robot but none of them is
// ready or fitted, or "".
func packless(s board.State, r board.Robot) string {
	if fitted(s, r.ID) {
		return ""
	}
	var others []string
	for _, p := range packsByName(s) {
		if p.Use != board.UseMain || !slices.Contains(p.Fits, r.ID) {
			continue
		}
		if p.State == board.PackCharged {
			return ""
		}
		others = append(others, p.Name+" is "+packWords[p.State])
	}
	if len(others) == 0 {
		return ""
	}
	return fmt.Sprintf("No pack for %s is ready: %s.", r.Name, strings.Join(others, ", "))
}

// circuitAlarms names each circuit that is off, or has stopped charges that nobody
// has looked at: one alarm, whatever hung on it.
func circuitAlarms(s board.State) []Alarm {
	var list []Alarm
	for _, k := range sorted(s.Circuits, func(k board.Circuit) string { return k.Name }) {
		var stopped []string
		since := k.OffAt
		for _, p := range packsByName(s) {
			if p.Stopped == k.ID {
				stopped, since = append(stopped, p.Name), max(since, p.Since)
			}
		}
		if k.Retired || k.OffAt == 0 && len(stopped) == 0 {
			continue
		}
		a := Alarm{Slug: "circuit-" + string(k.ID), Class: ClassB, Since: since, What: fmt.Sprintf("Circuit %s went off", k.Name)}
		a.Act = roleName(s, board.RoleCaptain) + ": ask whoever answers for the wiring; nobody else resets it"
		if len(stopped) > 0 {
			a.What += fmt.Sprintf(": the charge of %s has stopped, and nobody has looked", and(stopped))
			a.Act = roleName(s, board.RoleCaptain) + ": have each pack looked at and read before anything else"
		}
		list = append(list, a)
	}
	return list
}
