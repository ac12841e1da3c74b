package board

import (
	"slices"
	"strings"
)

// Lock is one thing that holds a robot's weapon still.
type Lock string

// The locks. LockNone says that nothing on the robot moves but its wheels.
const (
	LockPlain Lock = "lock"
	LockPin   Lock = "pin"
	LockProp  Lock = "prop-bar"
	LockStrap Lock = "strap"
	LockClamp Lock = "clamp"
	LockNone  Lock = "none"
)

// locksMost is how many a robot has at most: more do not fit on a button.
const locksMost = 3

// name is what the sheets call it, full its name at the head of a line.
func (k Lock) name() string {
	if k == LockStrap {
		return "weapon strap" // another straps the robot for the way
	}
	return strings.ReplaceAll(string(k), "-", " ")
}

func (k Lock) full() string {
	if k == LockProp || k == LockStrap {
		return k.name()
	}
	return "weapon " + k.name()
}

// at is where it is while it holds.
func (k Lock) at() string {
	if k == LockStrap || k == LockClamp {
		return "on"
	}
	return "in"
}

// validLocks refuses a robot without a lock that has what one must hold.
func (r Robot) validLocks() *Refusal {
	if bad := each(r.Locks, func(k Lock) *Refusal {
		return oneOf("locks", k, LockPlain, LockPin, LockProp, LockStrap, LockClamp, LockNone)
	}); bad != nil {
		return bad
	}
	switch {
	case len(r.Locks) > locksMost:
		return badField("locks", "Give at most %d things that hold the weapon still: the ones that do the work.", locksMost)
	case len(slices.Compact(slices.Sorted(slices.Values(r.Locks)))) < len(r.Locks):
		return badField("locks", "The same thing is named twice among what holds the weapon still. Name it once.")
	case slices.Contains(r.Locks, LockNone) && len(r.Locks) > 1:
		return badField("locks", "It has something that holds its weapon still, or it has none. Take one of the two off.")
	case slices.Contains(r.Locks, LockNone) && r.hasToHold():
		return badField("locks", "%s has something that must be held still by its list of energies: say what holds it.", r.Name)
	}
	return nil
}

func (r Robot) hasToHold() bool {
	return r.has(EnergyWeapon) || r.has(EnergySpin) || r.has(EnergyArm) || r.has(EnergySpring)
}

// heldBy lists what holds the robot's weapon still: a lock, where nobody has said.
func (r Robot) heldBy() []Lock {
	switch {
	case slices.Equal(r.Locks, []Lock{LockNone}):
		return nil
	case len(r.Locks) == 0:
		return []Lock{LockPlain}
	}
	return r.Locks
}

// asksLock tells whether making it safe asks for what holds its weapon still.
func (r Robot) asksLock() bool {
	return len(r.heldBy()) > 0 && (len(r.Locks) > 0 || r.has(EnergyWeapon) || r.has(EnergySpin))
}

// lockName names all of them: "weapon lock and prop bar"; lockTouch says what to touch.
func (r Robot) lockName() string {
	var names []string
	for _, k := range r.heldBy() {
		names = append(names, k.full())
	}
	return listNames(names)
}

func (r Robot) lockTouch() string {
	var names []string
	for _, k := range r.heldBy() {
		names = append(names, "the "+k.name())
	}
	return listNames(names)
}

// lockPlaced is where each is while it holds: "lock in, strap on".
func (r Robot) lockPlaced(name func(Lock) string) string {
	var all []string
	for _, k := range r.heldBy() {
		all = append(all, name(k)+" "+k.at())
	}
	return strings.Join(all, ", ")
}

// lockSay is that on a button, lockNot the button beside it.
func (r Robot) lockSay() string { return strings.ToUpper(r.lockPlaced(Lock.name)) }

func (r Robot) lockNot() string {
	if held := r.heldBy(); len(held) == 1 {
		return "not " + held[0].at()
	}
	return "not all"
}

// lockLines asks for what holds the weapon still, in one line.
func lockLines(r Robot, part string) []Line {
	if !r.asksLock() {
		return nil
	}
	ask := upper(r.lockName()) + ": " + r.heldBy()[0].at() + ", and it stops the weapon by hand?"
	if len(r.heldBy()) > 1 {
		ask = upper(r.lockPlaced(Lock.full)) + ": they stop the weapon by hand?"
	}
	return []Line{{
		ID: "lock", Part: part, Kind: LineDo, Ask: ask, Touch: r.lockTouch(), Say: r.lockSay(), Not: r.lockNot(), Covers: []System{SysLock}, Energy: EnergyWeapon,
	}}
}

// endLock asks for it at a day's end, where the robot has any.
func (r Robot) endLock(l Line, until string) []Line {
	if len(r.heldBy()) == 0 {
		return nil
	}
	l.Ask, l.Touch, l.Say = upper(r.lockPlaced(Lock.full))+" "+until+"?", r.lockTouch(), r.lockSay()
	if held := r.heldBy(); len(held) == 1 {
		l.Ask = upper(r.lockName()) + ": " + held[0].at() + " " + until + "?"
	}
	return []Line{l}
}

// ofLock tells whether a line of the board's own speaks of what holds the weapon.
func (l Line) ofLock() bool { return l.ID == "lock" || slices.Contains(l.Covers, SysLock) }

// wordedLock tells whether an event's words for such a line, which speak of a lock, are
// true of the robot.
func (r Robot) wordedLock() bool { return slices.Equal(r.heldBy(), []Lock{LockPlain}) }
