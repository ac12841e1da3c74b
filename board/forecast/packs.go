package forecast

import (
	"cmp"
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

// views says each pack in a word, and which robot it is for: the one it is in, or in
// whose set it is; any other for the only robot it fits.
func (c packing) views(sets []packSet) []PackView {
	given := map[board.PackID]board.RobotID{}
	for _, set := range sets {
		for _, p := range set.packs {
			given[p.ID] = set.robot.ID
		}
	}
	var list []PackView
	for _, p := range packsByName(c.s) {
		v := PackView{Pack: p.ID, Word: packWords[p.State], For: cmp.Or(p.Robot, given[p.ID])}
		if v.For == "" && len(p.Fits) == 1 && !setAside(p.State) {
			v.For = p.Fits[0]
		}
		c.times(&v, p)
		list = append(list, v)
	}
	return list
}

func packsByName(s board.State) []board.Pack {
	all := board.Sorted(s.Packs, func(p board.Pack) string { return p.Name })
	return slices.DeleteFunc(all, func(p board.Pack) bool { return p.Retired })
}

func setAside(p board.PackState) bool {
	return p == board.PackSuspect || p == board.PackQuarantined || p == board.PackGone
}

// packAlarms names each pack that was set aside and is not at a watch place, and each
// that grows hot on a charger. No act is one on the pack: what is done with it is the
// officials' to say.
func packAlarms(s board.State) []Alarm {
	var list []Alarm
	for _, p := range packsByName(s) {
		aside := s.AsideHere(p)
		a := Alarm{Slug: "pack-" + string(p.ID), Class: ClassA, Robot: p.Robot, Since: p.Since, Act: whatToDo(s)}
		switch warm, hot := p.HotOnCharge(); {
		case hot:
			a.Slug, a.Since = "hot-"+string(p.ID), p.Reading.At
			a.What = fmt.Sprintf("Pack %s reads %.0f °C on charger %s%s", p.Name, warm, s.Channels[p.Channel].Name, at(s, p.Place))
		case aside && p.MayVent():
			a.What = fmt.Sprintf("Pack %s is %s and %s", p.Name, p.State, stillAt(s, p))
		case aside:
			a.What = fmt.Sprintf("Pack %s is %s by its cells and %s", p.Name, p.State, stillAt(s, p))
			a.Act = roleName(s, board.RoleSafety) + ": say what becomes of it, and where it is then"
		default:
			continue
		}
		list = append(list, a)
	}
	for _, x := range s.InSparks() {
		p, j := s.Packs[x.Pack], s.Jobs[x.Job]
		list = append(list, Alarm{
			Slug: "sparks-" + string(p.ID), Class: ClassA, Robot: j.Robot, Since: max(p.Since, j.Stints[len(j.Stints)-1].From),
			What: fmt.Sprintf("Pack %s is where %s throws sparks", p.Name, jobName(j)), Act: roleName(s, board.RoleSafety) + ": stop the work, and everyone away from it",
		})
	}
	return list
}

// stillAt says where a pack that was set aside is, by the board.
func stillAt(s board.State, p board.Pack) string {
	if p.Channel != "" {
		return "still on charger " + s.Channels[p.Channel].Name + at(s, p.Place)
	}
	return "not at a watch place"
}

// at names a place as a sentence does, "" for none.
func at(s board.State, id board.PlaceID) string {
	if place, ok := s.Places[id]; ok {
		return ", " + place.Name
	}
	return ""
}

// circuitAlarms names each circuit that is off, or has stopped charges that nobody
// has looked at: one alarm, whatever hung on it.
func circuitAlarms(s board.State) []Alarm {
	var list []Alarm
	for _, k := range board.Sorted(s.Circuits, func(k board.Circuit) string { return k.Name }) {
		var stopped []string
		anyHot := false
		since := k.OffAt
		for _, p := range packsByName(s) {
			if p.Stopped == k.ID {
				_, hot := p.HotOnCharge()
				anyHot = anyHot || hot
				stopped, since = append(stopped, p.Name), max(since, p.Since, p.UnsureAt)
			}
		}
		if k.Retired || k.OffAt == 0 && len(stopped) == 0 {
			continue
		}
		a := Alarm{Slug: "circuit-" + string(k.ID), Class: ClassB, Since: since, What: fmt.Sprintf("Circuit %s went off", k.Name)}
		a.Act = roleName(s, board.RoleCaptain) + ": ask whoever answers for the wiring; nobody else resets it"
		switch {
		case len(stopped) == 0:
		case k.OffAt == 0:
			a.Slug = "circuit-on-" + string(k.ID)
			a.What = fmt.Sprintf("Circuit %s is on again: the charger of %s may have started by itself, and nobody has looked", k.Name, and(stopped))
			a.Act = roleName(s, board.RoleCaptain) + ": have someone look at each charger now, and read each pack"
		default:
			a.What += fmt.Sprintf(": the charge of %s may have stopped, and nobody has looked", and(stopped))
			a.Act = roleName(s, board.RoleCaptain) + ": have each pack looked at and read before anything else"
		}
		if anyHot {
			a.Act = whatToDo(s)
		}
		list = append(list, a)
	}
	return list
}

// commonPackAlarms says of the packs that no robot has as its own, of tools and of
// transmitters, that none is charged: without them nobody mends or drives.
func commonPackAlarms(s board.State) []Alarm {
	var list []Alarm
	for _, use := range []board.PackUse{board.UseTransmitter, board.UseTool} {
		var empty []string
		charged := false
		for _, p := range packsByName(s) {
			if p.Use != use || len(p.Fits) > 0 || setAside(p.State) {
				continue
			}
			charged = charged || p.State == board.PackCharged
			empty = append(empty, p.Name+" is "+packWords[p.State])
		}
		if !charged && len(empty) > 0 {
			list = append(list, Alarm{
				Slug: "packs-" + string(use), Class: ClassC,
				What: fmt.Sprintf("No %s pack is charged: %s", use, strings.Join(empty, ", ")),
				Act:  roleName(s, board.RoleCaptain) + ": have one read and charged",
			})
		}
	}
	return list
}
