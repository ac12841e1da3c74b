// Package boardtest helps to test the board's rules from outside it: invariants
// stated from the safety rules alone, over what a witness in the pit could have
// seen, a cast of invented people and things, and a walker that gives random
// commands. It shares no code with the rules.
package boardtest

import (
	"slices"

	. "mendline/board"
)

// glimpse is what a witness saw of a robot from a moment on.
type glimpse struct {
	from   Moment
	state  PowerState
	packIn bool
}

// Witness keeps the history that the invariants about time need.
type Witness struct {
	seen map[RobotID][]glimpse
	// spent is when a pack was last in a robot that had power or may have, fought when
	// it was last in one that fought; low holds the packs with a cell once read too low.
	spent, fought map[PackID]Moment
	low           map[PackID]bool
	last          State
	own           map[Key]ownSeen
	// forgot holds the tags and hands near that stood when their person's PIN was
	// forgotten.
	forgot map[Key]bool
}

// Look notes the state of every robot at a moment.
func (w *Witness) Look(s State, now Moment) {
	if w.seen == nil {
		w.seen = map[RobotID][]glimpse{}
		w.spent, w.fought, w.low = map[PackID]Moment{}, map[PackID]Moment{}, map[PackID]bool{}
	}
	w.lookAtPINs(s)
	w.lookAtPacks(s, now)
	w.last = s
	for id, p := range s.Powers {
		in := false
		for _, pack := range s.Packs {
			in = in || pack.Robot == id
		}
		w.seen[id] = append(w.seen[id], glimpse{now, p.State, in})
	}
	w.lookAtHands(s, now)
}

// during tells whether bad held of a robot at some time inside [from, to).
func (w *Witness) during(id RobotID, from, to Moment, bad func(glimpse) bool) bool {
	list := w.seen[id]
	for i, g := range list {
		end := to
		if i+1 < len(list) {
			end = list[i+1].from
		}
		if bad(g) && max(g.from, from) < min(end, to) {
			return true
		}
	}
	return false
}

// Step is one accepted command: the board before and after it, the command, who
// gave it and when.
type Step struct {
	Before, After State
	Command       Command
	By            Actor
	Now           Moment
	// At is when a device that the command waited on says that it was done, by the board's
	// time and never later than now; 0 is at once.
	At Moment
	// Seen is what the sender said they saw; nil where a test cannot tell.
	Seen map[Key]Rev
}

// ways a robot may go, written out once more beside power.go.
var ways = map[PowerState][]PowerState{
	Unknown: {PoweredDown}, PoweredDown: {Isolated}, Isolated: {Verified},
	Verified: {Work, ClosingUp}, Work: {Verified, ClosingUp}, ClosingUp: {Verified, Test, Ready, Work},
	Ready: {Live}, Test: {}, Live: {},
}

// Invariant is what holds of every accepted command, by the number of the safety
// rule it is about.
type Invariant struct {
	Rule  int
	Name  string
	Holds func(w *Witness, x Step) bool
}

// Broken gives the first invariant that a step breaks.
func (w *Witness) Broken(x Step) (Invariant, bool) {
	if all := w.AllBroken(x); len(all) > 0 {
		return all[0], true
	}
	return Invariant{}, false
}

// AllBroken lists every invariant that a step breaks.
func (w *Witness) AllBroken(x Step) []Invariant {
	x = w.timeSet(x)
	var broken []Invariant
	for _, inv := range invariants {
		if !inv.Holds(w, x) {
			broken = append(broken, inv)
		}
	}
	return broken
}

var invariants = slices.Concat(powerInvariants, peopleInvariants, workInvariants, signingInvariants, packsInvariants, recordInvariants, besideInvariants, namesInvariants, chargeInvariants, restoreInvariants)
