package board_test

import (
	"slices"

	. "mendline/board"
)

// The invariants below are stated from the safety reference alone, over what a
// witness in the pit could have seen. They share no code with the rules.

// glimpse is what a witness saw of a robot from a moment on.
type glimpse struct {
	from   Moment
	state  PowerState
	packIn bool
}

// witness keeps the history that the invariants about time need.
type witness struct{ seen map[RobotID][]glimpse }

func (w *witness) look(s State, now Moment) {
	for id, p := range s.Powers {
		in := false
		for _, pack := range s.Packs {
			in = in || pack.Robot == id
		}
		w.seen[id] = append(w.seen[id], glimpse{now, p.State, in})
	}
}

// during tells whether bad held of a robot at some time inside [from, to).
func (w *witness) during(id RobotID, from, to Moment, bad func(glimpse) bool) bool {
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

// step is one accepted command.
type step struct {
	before, after State
	cmd           Command
	by            Actor
	now           Moment
}

// ways a robot may go, written out from the table of the safety reference; a tag
// that stayed on through a restart makes verified work at once.
var ways = map[PowerState][]PowerState{
	Unknown: {PoweredDown}, PoweredDown: {Isolated}, Isolated: {Verified, Work},
	Verified: {Work, ClosingUp}, Work: {Verified, ClosingUp}, ClosingUp: {Verified, Test, Ready, Work},
	Ready: {Live}, Test: {}, Live: {},
}

type invariant struct {
	rule  int
	name  string
	holds func(w *witness, x step) bool
}

var invariants = []invariant{
	{1, "beyond unknown only on an answer a person gave today", func(_ *witness, x step) bool {
		return eachPower(x.after, func(p Power) bool { return p.State == Unknown || answeredToday(x.after, p.Robot, x.now) })
	}},
	{2, "out of power only into unknown", func(_ *witness, x step) bool {
		return eachPower(x.before, func(p Power) bool {
			to := x.after.Powers[p.Robot].State
			return (p.State != Live && p.State != Test) || to == p.State || to == Unknown
		})
	}},
	{3, "only along the table", func(_ *witness, x step) bool {
		return eachPower(x.before, func(p Power) bool {
			to := x.after.Powers[p.Robot].State
			return to == p.State || to == Unknown || slices.Contains(ways[p.State], to) || daybreak(x)
		})
	}},
	{3, "work has a tag and an answered make-safe sheet", func(_ *witness, x step) bool {
		return eachPower(x.after, func(p Power) bool { return p.State != Work || (tagged(x.after, p.Robot) && madeSafe(x.after, p.Robot)) })
	}},
	{5, "tags and hands come and go by their owners", func(_ *witness, x step) bool {
		return eachOwner(x, func(owner PersonID) bool { return owner == x.by.Person || slices.Contains(x.by.Proved, owner) })
	}},
	{7, "no power and no signature with people on", func(_ *witness, x step) bool {
		return eachPower(x.after, func(p Power) bool {
			return (p.State != Test && p.State != Ready && p.State != Live) || !anyoneOn(x.after, p.Robot)
		})
	}},
	{8, "closed only when worked under lockout, or looked at again", func(w *witness, x step) bool {
		return eachClosed(x, func(j Job) bool {
			return j.Reinspected.At != 0 || eachStint(j, func(st Stint) bool {
				return !j.Fixes[st.Fix].Lockout || !w.during(j.Robot, st.From, st.To, func(g glimpse) bool { return g.state != Work && g.state != Verified })
			})
		})
	}},
	{9, "closed only when the packs were out, or looked at again", func(w *witness, x step) bool {
		return eachClosed(x, func(j Job) bool {
			return j.Reinspected.At != 0 || eachStint(j, func(st Stint) bool {
				return !j.Fixes[st.Fix].PackOut || !w.during(j.Robot, st.From, st.To, func(g glimpse) bool { return g.packIn })
			})
		})
	}},
	{10, "closed only with the robot made safe and its packs placed", func(_ *witness, x step) bool {
		return eachClosed(x, func(j Job) bool {
			for _, p := range x.after.Packs {
				if p.Robot == j.Robot && p.CameBack {
					return false
				}
			}
			return madeSafe(x.after, j.Robot) && x.after.Powers[j.Robot].State != Unknown
		})
	}},
	{13, "what was set aside stays aside", func(_ *witness, x step) bool {
		rank := map[PackState]int{PackSuspect: 1, PackQuarantined: 2, PackGone: 3}
		for id, p := range x.before.Packs {
			if rank[x.after.Packs[id].State] < rank[p.State] {
				return false
			}
		}
		return true
	}},
	{16, "power at arena or test box", func(_ *witness, x step) bool {
		return eachPower(x.after, func(p Power) bool {
			k := x.after.Places[p.Place].Kind
			return (p.State != Live && p.State != Test) || k == PlaceArena || k == PlaceTestBox
		})
	}},
	{17, "a test has an end at hand", func(_ *witness, x step) bool {
		return eachPower(x.after, func(p Power) bool {
			return p.State != Test || (p.Test.Until > x.now && p.Test.Until-x.now <= 30*60_000)
		})
	}},
	{18, "the board by itself brings no robot nearer to power", func(_ *witness, x step) bool {
		return x.by.Role != RoleSystem || eachPower(x.after, func(p Power) bool {
			return p.State == Unknown || p.State == x.before.Powers[p.Robot].State
		})
	}},
	{21, "answers are only added", func(_ *witness, x step) bool {
		for id, h := range x.before.Sheets {
			after, ok := x.after.Sheets[id]
			if !ok || len(after.Answers) < len(h.Answers) || !slices.Equal(after.Answers[:len(h.Answers)], h.Answers) {
				return false
			}
		}
		return true
	}},
	{22, "one command, one line", func(_ *witness, x step) bool {
		n := 0
		for id, h := range x.after.Sheets {
			for _, a := range h.Answers[len(x.before.Sheets[id].Answers):] {
				if !a.Standing {
					n++
				}
			}
		}
		return n <= 1
	}},
	{25, "plans move no guard", func(_ *witness, x step) bool {
		switch x.cmd.(type) {
		case FightAdd, FightMove, FightDrop, FightChange, JobAssign, JobFix, JobAdd, EventSet, NoteAdd, StockUse:
			return eachPower(x.after, func(p Power) bool { return p.State == Unknown || p.State == x.before.Powers[p.Robot].State })
		}
		return true
	}},
}

func eachPower(s State, ok func(Power) bool) bool {
	for _, p := range s.Powers {
		if !ok(p) {
			return false
		}
	}
	return true
}

func eachClosed(x step, ok func(Job) bool) bool {
	for id, j := range x.after.Jobs {
		if j.State == JobClosed && x.before.Jobs[id].State != JobClosed && !ok(j) {
			return false
		}
	}
	return true
}

func eachStint(j Job, ok func(Stint) bool) bool {
	for _, st := range j.Stints {
		if !ok(st) {
			return false
		}
	}
	return true
}

func eachOwner(x step, ok func(PersonID) bool) bool {
	for id, g := range x.before.Tags {
		if _, still := x.after.Tags[id]; !still && !ok(g.Person) {
			return false
		}
	}
	for id, g := range x.after.Tags {
		if _, before := x.before.Tags[id]; !before && !ok(g.Person) {
			return false
		}
	}
	for id, h := range x.before.Hands {
		if _, still := x.after.Hands[id]; !still && !ok(h.Person) {
			return false
		}
	}
	for id, h := range x.after.Hands {
		if _, before := x.before.Hands[id]; !before && !ok(h.Person) {
			return false
		}
	}
	return true
}

func tagged(s State, robot RobotID) bool {
	for _, g := range s.Tags {
		if g.Robot == robot {
			return true
		}
	}
	return false
}

func anyoneOn(s State, robot RobotID) bool {
	for _, h := range s.Hands {
		if h.Robot == robot {
			return true
		}
	}
	return tagged(s, robot)
}

// newestSafe is the make-safe sheet a robot got last.
func newestSafe(s State, robot RobotID) (Sheet, bool) {
	var newest Sheet
	for _, h := range s.Sheets {
		if h.Robot == robot && h.List == ListMakeSafe && h.Number > newest.Number {
			newest = h
		}
	}
	return newest, newest.ID != ""
}

func madeSafe(s State, robot RobotID) bool {
	h, ok := newestSafe(s, robot)
	if !ok {
		return false
	}
	last := map[string]Said{}
	for _, a := range h.Answers {
		last[a.Line] = a.Said
	}
	for _, l := range h.Lines {
		if said := last[l.ID]; said == "" || said == SaidNo {
			return false
		}
	}
	return true
}

// answeredToday finds a person's own answer of the event day that began last at
// four in the morning (the test's event keeps UTC).
func answeredToday(s State, robot RobotID, now Moment) bool {
	h, _ := newestSafe(s, robot)
	const day, four = 24 * 3600_000, 4 * 3600_000
	began := (now-four)/day*day + four
	for _, a := range h.Answers {
		if a.By != "" && !a.Standing && h.OpenedAt >= began {
			return true
		}
	}
	return false
}

// daybreak tells that four in the morning passed with this command: the robot
// may then have been made unknown first.
func daybreak(x step) bool {
	for _, p := range x.before.Powers {
		if p.State != Unknown && !answeredToday(x.before, p.Robot, x.now) {
			return true
		}
	}
	return false
}
