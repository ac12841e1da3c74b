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
type Witness struct{ seen map[RobotID][]glimpse }

// Look notes the state of every robot at a moment.
func (w *Witness) Look(s State, now Moment) {
	if w.seen == nil {
		w.seen = map[RobotID][]glimpse{}
	}
	for id, p := range s.Powers {
		in := false
		for _, pack := range s.Packs {
			in = in || pack.Robot == id
		}
		w.seen[id] = append(w.seen[id], glimpse{now, p.State, in})
	}
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
}

// ways a robot may go, written out from the table of the safety reference; a tag
// that stayed on through a restart makes verified work at once.
var ways = map[PowerState][]PowerState{
	Unknown: {PoweredDown}, PoweredDown: {Isolated}, Isolated: {Verified, Work},
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
	for _, inv := range invariants {
		if !inv.Holds(w, x) {
			return inv, true
		}
	}
	return Invariant{}, false
}

var invariants = []Invariant{
	{1, "beyond unknown only on an answer a person gave today", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool { return p.State == Unknown || answeredToday(x.After, p.Robot, x.Now) })
	}},
	{2, "out of power only into unknown", func(_ *Witness, x Step) bool {
		return eachPower(x.Before, func(p Power) bool {
			to := x.After.Powers[p.Robot].State
			return (p.State != Live && p.State != Test) || to == p.State || to == Unknown
		})
	}},
	{3, "only along the table", func(_ *Witness, x Step) bool {
		return eachPower(x.Before, func(p Power) bool {
			to := x.After.Powers[p.Robot].State
			return to == p.State || to == Unknown || slices.Contains(ways[p.State], to) || daybreak(x)
		})
	}},
	{3, "work has a tag and an answered make-safe sheet", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool { return p.State != Work || (tagged(x.After, p.Robot) && madeSafe(x.After, p.Robot)) })
	}},
	{3, "in work no look at gas is older than a quarter of an hour", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool { return p.State != Work || gasFresh(x.After, p.Robot, x.Now) })
	}},
	{0, "what event safety stopped gets no power and no new work", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Powers {
			if p.Stop.At == 0 || x.Before.Powers[id].Stop.At == 0 {
				continue
			}
			if was := x.Before.Powers[id].State; p.State != was && (p.State == Test || p.State == Ready || p.State == Live) {
				return false
			}
			for _, j := range x.After.Jobs {
				if j.Robot == id && j.State == JobRunning && x.Before.Jobs[j.ID].State != JobRunning {
					return false
				}
			}
		}
		return true
	}},
	{0, "only event safety stops a robot and lets it go on", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool { return p.Stop == x.Before.Powers[p.Robot].Stop || x.By.Role == RoleSafety })
	}},
	{3, "a sheet begins with every line that carries a rule", func(_ *Witness, x Step) bool {
		for id, h := range x.After.Sheets {
			if _, before := x.Before.Sheets[id]; !before && !asksAll(h) {
				return false
			}
		}
		return true
	}},
	{21, "versions of a wording only count up", func(_ *Witness, x Step) bool {
		for list, w := range x.Before.Wordings {
			if is := x.After.Wordings[list]; is.Version < w.Version || (is.Version == w.Version && is.At != w.At) {
				return false
			}
		}
		return true
	}},
	{5, "tags and hands come and go by their owners", func(_ *Witness, x Step) bool {
		return eachOwner(x, func(owner PersonID) bool { return owner == x.By.Person || slices.Contains(x.By.Proved, owner) })
	}},
	{7, "no power and no signature with people on", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			return (p.State != Test && p.State != Ready && p.State != Live) || !anyoneOn(x.After, p.Robot)
		})
	}},
	{8, "closed only when worked under lockout, or looked at again", func(w *Witness, x Step) bool {
		return eachClosed(x, func(j Job) bool {
			return j.Reinspected.At != 0 || eachStint(j, func(st Stint) bool {
				return !j.Fixes[st.Fix].Lockout || !w.during(j.Robot, st.From, st.To, func(g glimpse) bool { return g.state != Work && g.state != Verified })
			})
		})
	}},
	{9, "closed only when the packs were out, or looked at again", func(w *Witness, x Step) bool {
		return eachClosed(x, func(j Job) bool {
			return j.Reinspected.At != 0 || eachStint(j, func(st Stint) bool {
				return !j.Fixes[st.Fix].PackOut || !w.during(j.Robot, st.From, st.To, func(g glimpse) bool { return g.packIn })
			})
		})
	}},
	{10, "closed only with the robot made safe and its packs placed", func(_ *Witness, x Step) bool {
		return eachClosed(x, func(j Job) bool {
			for _, p := range x.After.Packs {
				if p.Robot == j.Robot && p.CameBack {
					return false
				}
			}
			return madeSafe(x.After, j.Robot) && x.After.Powers[j.Robot].State != Unknown
		})
	}},
	{13, "what was set aside stays aside", func(_ *Witness, x Step) bool {
		rank := map[PackState]int{PackSuspect: 1, PackQuarantined: 2, PackGone: 3}
		for id, p := range x.Before.Packs {
			if rank[x.After.Packs[id].State] < rank[p.State] {
				return false
			}
		}
		return true
	}},
	{15, "no pack comes where sparks fly, and no sparks where a pack lies", func(_ *Witness, x Step) bool {
		for id := range sparks(x.After) {
			if !sparks(x.Before)[id] {
				return false
			}
		}
		return true
	}},
	{16, "power at arena or test box", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			k := x.After.Places[p.Place].Kind
			return (p.State != Live && p.State != Test) || k == PlaceArena || k == PlaceTestBox
		})
	}},
	{17, "a test has an end at hand", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			return p.State != Test || (p.Test.Until > x.Now && p.Test.Until-x.Now <= 30*60_000)
		})
	}},
	{18, "the board by itself brings no robot nearer to power", func(_ *Witness, x Step) bool {
		return x.By.Role != RoleSystem || eachPower(x.After, func(p Power) bool {
			return p.State == Unknown || p.State == x.Before.Powers[p.Robot].State
		})
	}},
	{21, "answers are only added", func(_ *Witness, x Step) bool {
		for id, h := range x.Before.Sheets {
			after, ok := x.After.Sheets[id]
			if !ok || len(after.Answers) < len(h.Answers) || !slices.Equal(after.Answers[:len(h.Answers)], h.Answers) {
				return false
			}
		}
		return true
	}},
	{22, "one command, one line", func(_ *Witness, x Step) bool {
		n := 0
		for id, h := range x.After.Sheets {
			for _, a := range h.Answers[len(x.Before.Sheets[id].Answers):] {
				if !a.Standing {
					n++
				}
			}
		}
		return n <= 1
	}},
	{24, "nothing about people is shelved, nothing for long, nothing without a name", func(_ *Witness, x Step) bool {
		for id, m := range x.After.Marks {
			fresh := m.ShelvedUntil != x.Before.Marks[id].ShelvedUntil
			if m.ShelvedUntil != 0 && (id[0] == 'A' || m.ShelvedBy == "" || (fresh && m.ShelvedUntil-x.Now > 15*60_000)) {
				return false
			}
		}
		return true
	}},
	{24, "an emergency stands until someone ends it by name", func(_ *Witness, x Step) bool {
		for id, e := range x.Before.Emergencies {
			is, ok := x.After.Emergencies[id]
			if !ok || (is.EndedAt != e.EndedAt && (is.EndedBy == "" || is.EndedBy != x.By.Person)) {
				return false
			}
		}
		return true
	}},
	{25, "plans move no guard", func(_ *Witness, x Step) bool {
		switch x.Command.(type) {
		case FightAdd, FightMove, FightDrop, FightChange, JobAssign, JobFix, JobAdd, EventSet, NoteAdd, StockUse:
			return eachPower(x.After, func(p Power) bool { return p.State == Unknown || p.State == x.Before.Powers[p.Robot].State })
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

func eachClosed(x Step, ok func(Job) bool) bool {
	for id, j := range x.After.Jobs {
		if j.State == JobClosed && x.Before.Jobs[id].State != JobClosed && !ok(j) {
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

func eachOwner(x Step, ok func(PersonID) bool) bool {
	for id, g := range x.Before.Tags {
		if _, still := x.After.Tags[id]; !still && !ok(g.Person) {
			return false
		}
	}
	for id, g := range x.After.Tags {
		if _, before := x.Before.Tags[id]; !before && !ok(g.Person) {
			return false
		}
	}
	for id, h := range x.Before.Hands {
		if _, still := x.After.Hands[id]; !still && !ok(h.Person) {
			return false
		}
	}
	for id, h := range x.After.Hands {
		if _, before := x.Before.Hands[id]; !before && !ok(h.Person) {
			return false
		}
	}
	return true
}

// asksAll finds, by the questions' ids, what each list must ask of any robot.
func asksAll(h Sheet) bool {
	must := map[SheetList][]string{
		ListMakeSafe: {"lock", "link-1", "radio", "spinning-mass-3", "blocks", "try", "light"}, ListInspect: {"weapon", "lock"}, ListReopen: {"lock", "link-1"},
		ListCloseUp: {"inside", "pack", "bolts", "tools", "covers", "lock", "link-1", "told"}, ListReady: {"failsafe", "mass", "strap", "sign"},
	}[h.List]
	for _, id := range must {
		if !slices.ContainsFunc(h.Lines, func(l Line) bool { return l.ID == id }) {
			return false
		}
	}
	return true
}

// gasFresh asks for a yes of the last quarter of an hour to every line about gas
// or capacitors that the robot's newest sheets have had answered, and that no
// later word has opened again.
func gasFresh(s State, robot RobotID, now Moment) bool {
	newest, owed := map[string]Moment{}, map[SheetList]Sheet{}
	for _, h := range s.Sheets {
		if h.Robot == robot && h.Number > owed[h.List].Number {
			owed[h.List] = h
		}
	}
	for _, list := range []SheetList{ListMakeSafe, ListFirstIn, ListReopen} {
		for _, l := range owed[list].Lines {
			for _, a := range owed[list].Answers {
				switch {
				case a.Line != l.ID || (l.Energy != EnergyGas && l.Energy != EnergyCapacitor):
				case a.Said == SaidNo && list == ListFirstIn:
					delete(newest, l.ID) // open again, for the one who is first in
				case a.Said == SaidDone:
					newest[l.ID] = max(newest[l.ID], a.At)
				}
			}
		}
	}
	for _, at := range newest {
		if at <= now-15*60_000 {
			return false
		}
	}
	return true
}

// sparks finds every pack beside a running job of grinding or welding: at the
// place of the station it is done at, or of any of that kind where nobody said
// which; in a robot that stands there; or in the robot that is itself ground.
func sparks(s State) map[string]bool {
	hit := map[string]bool{}
	for _, j := range s.Jobs {
		if j.State != JobRunning {
			continue
		}
		fix, last := j.Fixes[j.Chosen], j.Stints[len(j.Stints)-1]
		for _, w := range s.Stations {
			if w.Retired || w.Kind != fix.Station || (last.Station != "" && last.Station != w.ID) || (w.Kind != StationGrind && w.Kind != StationWeld) {
				continue
			}
			for _, p := range s.Packs {
				at := p.Place
				if p.Robot != "" {
					at = s.Powers[p.Robot].Place
				}
				if p.State != PackGone && ((at != "" && at == w.Place) || (p.Robot == j.Robot && fix.Where != OffRobot)) {
					hit[string(j.ID)+string(p.ID)] = true
				}
			}
		}
	}
	return hit
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
func daybreak(x Step) bool {
	for _, p := range x.Before.Powers {
		if p.State != Unknown && !answeredToday(x.Before, p.Robot, x.Now) {
			return true
		}
	}
	return false
}
