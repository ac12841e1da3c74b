package boardtest

import (
	"slices"

	. "mendline/board"
)

// besideInvariants are about power and whoever is near it besides its own crew.
var besideInvariants = []Invariant{
	{7, "no power where anyone is on another of our robots", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			return !powered(p) || !slices.ContainsFunc(ordered(x.After.Powers), func(id RobotID) bool {
				return id != p.Robot && x.After.Powers[id].Place == p.Place && p.Place != "" && anyoneOn(x.After, id)
			})
		})
	}},
	{7, "nobody says that they are alone while another is on the robot", func(_ *Witness, x Step) bool {
		return eachAnswer(x, func(sheet Sheet, _ Line, a Answer) bool {
			if a.Said != SaidAlone || a.Record {
				return true
			}
			for key, owner := range standing(x.After) {
				n, _ := x.After.Get(key)
				tag, _ := n.(Tag)
				hands, _ := n.(Hands)
				if owner != a.By && (tag.Robot == sheet.Robot || hands.Robot == sheet.Robot) {
					return false
				}
			}
			return true
		})
	}},
	{20, "nothing has power where an emergency was just raised", func(_ *Witness, x Step) bool {
		for id, emergency := range x.After.Emergencies {
			_, before := x.Before.Emergencies[id]
			if !before && emergency.Place != "" && !eachPower(x.After, func(p Power) bool { return !powered(p) || p.Place != emergency.Place }) {
				return false
			}
		}
		return true
	}},
	{5, "a robot that a minor drives goes live only where the event lets minors drive", func(_ *Witness, x Step) bool {
		return eachNew(x, Live, func(p Power) bool {
			return !x.After.People[x.After.Robots[p.Robot].Driver].Minor || x.After.Event().MinorsDrive
		})
	}},
}

func powered(p Power) bool { return p.State == Test || p.State == Live }
