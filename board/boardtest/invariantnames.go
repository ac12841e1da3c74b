package boardtest

import (
	"slices"
	"strings"
	"unicode"

	. "mendline/board"
)

// namesInvariants are about what people know a robot, a place or each other by.
var namesInvariants = []Invariant{
	{0, "no name comes on the board that reads as one that is there", func(_ *Witness, x Step) bool {
		return sameRead(x, x.Before.People, x.After.People, func(n Person) (string, bool) { return n.Name, n.Retired }) &&
			sameRead(x, x.Before.Robots, x.After.Robots, func(n Robot) (string, bool) { return n.Name, n.Retired }) &&
			sameRead(x, x.Before.Places, x.After.Places, func(n Place) (string, bool) { return n.Name, n.Retired }) &&
			sameRead(x, x.Before.Packs, x.After.Packs, func(n Pack) (string, bool) { return n.Name, n.Retired }) &&
			sameRead(x, x.Before.Stations, x.After.Stations, func(n Station) (string, bool) { return n.Name, n.Retired }) &&
			sameRead(x, x.Before.Circuits, x.After.Circuits, func(n Circuit) (string, bool) { return n.Name, n.Retired }) &&
			sameRead(x, x.Before.Channels, x.After.Channels, func(n Channel) (string, bool) { return n.Name, n.Retired })
	}},
	{0, "who or what was taken off comes back as it was, with what stands on it", func(_ *Witness, x Step) bool {
		return sameBack(x.Before.People, x.After.People, func(n Person) (string, bool) { return n.Name, n.Retired }) &&
			sameBack(x.Before.Robots, x.After.Robots, func(n Robot) (string, bool) { return n.Name, n.Retired }) &&
			sameBack(x.Before.Places, x.After.Places, func(n Place) (string, bool) { return n.Name, n.Retired })
	}},
	{0, "no robot gets a name that such things on another are known by", func(_ *Witness, x Step) bool {
		for id, is := range x.After.Robots {
			if was, had := x.Before.Robots[id]; had && reads(was.Name) == reads(is.Name) {
				continue
			}
			for other, o := range x.After.Robots {
				old := slices.ContainsFunc(o.Names, func(name string) bool { return reads(name) == reads(is.Name) })
				if other != id && !o.Retired && old && bears(x.After, other) {
					return false
				}
			}
		}
		return true
	}},
	{16, "no power at a place that is off the board", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool { return !powered(p) || !x.After.Places[p.Place].Retired })
	}},
}

// reads is a name as someone reads it out across a pit: wide letters are letters, and
// case, spaces and what shows nothing say nothing.
func reads(name string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case r >= 0xFF01 && r <= 0xFF5E:
			r -= 0xFF01 - '!'
		case unicode.Is(unicode.Cf, r):
			return -1
		}
		return unicode.ToLower(r)
	}, name)), " ")
}

// sameRead asks that no name in a table is new beside one that reads the same.
func sameRead[ID comparable, N any](x Step, before, after map[ID]N, name func(N) (string, bool)) bool {
	if x.By.Role == RoleSystem {
		return true
	}
	for id, n := range after {
		is, off := name(n)
		was, wasOff := name(before[id])
		if _, had := before[id]; off || had && was == is && !wasOff {
			continue
		}
		for other, o := range after {
			if that, gone := name(o); other != id && !gone && reads(that) == reads(is) {
				return false
			}
		}
	}
	return true
}

// sameBack asks that nothing new in a table has the name of what was taken off.
func sameBack[ID comparable, N any](before, after map[ID]N, name func(N) (string, bool)) bool {
	for id, n := range after {
		is, _ := name(n)
		if _, had := before[id]; had {
			continue
		}
		for _, o := range before {
			if that, gone := name(o); gone && reads(that) == reads(is) {
				return false
			}
		}
	}
	return true
}

// bears tells whether a stop, someone's hands, damage that bars the signature or a must
// stands on a robot.
func bears(s State, robot RobotID) bool {
	for _, j := range s.Jobs {
		open := j.State == JobOpen || j.State == JobRunning || j.State == JobHeld || j.State == JobFinished
		if j.Robot == robot && open && j.Triage == Must {
			return true
		}
	}
	return s.Powers[robot].Stop.At != 0 || anyoneOn(s, robot) || !noDamage(s, robot, false)
}
