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
	// Late tells that the command waited on a device.
	Late bool
	// Seen is what the sender said they saw; nil where a test cannot tell.
	Seen map[Key]Rev
}

// ways a robot may go, written out once more beside power.go; a tag
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
	if all := w.AllBroken(x); len(all) > 0 {
		return all[0], true
	}
	return Invariant{}, false
}

// AllBroken lists every invariant that a step breaks.
func (w *Witness) AllBroken(x Step) []Invariant {
	var broken []Invariant
	for _, inv := range invariants {
		if !inv.Holds(w, x) {
			broken = append(broken, inv)
		}
	}
	return broken
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
	{2, "a live robot that has left its place is unknown", func(_ *Witness, x Step) bool {
		return eachPower(x.Before, func(p Power) bool {
			is := x.After.Powers[p.Robot]
			return p.State != Live || is.Place == p.Place || is.State == Unknown
		})
	}},
	{3, "power for a test, and a signature, come after every line of the sheets before them", func(_ *Witness, x Step) bool {
		closed := func(p Power) bool { return allAnswered(x.After, p.Robot, ListCloseUp) }
		return eachNew(x, Test, closed) && eachNew(x, Ready, func(p Power) bool {
			return closed(p) && allAnswered(x.After, p.Robot, ListInspect) && allAnswered(x.After, p.Robot, ListReady)
		})
	}},
	{4, "verified line by line by people with authority for each energy", func(_ *Witness, x Step) bool {
		return eachAnswer(x, func(sheet Sheet, l Line, a Answer) bool {
			return l.Part != "verify" || a.Said == SaidNo || hasAuthority(x.After.People[a.By], x.After.Robots[sheet.Robot])
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
		for id, sheet := range x.After.Sheets {
			if _, before := x.Before.Sheets[id]; !before && !asksAll(sheet) {
				return false
			}
		}
		return true
	}},
	{21, "versions of a wording only count up", func(_ *Witness, x Step) bool {
		for list, wording := range x.Before.Wordings {
			if is := x.After.Wordings[list]; is.Version < wording.Version || (is.Version == wording.Version && is.At != wording.At) {
				return false
			}
		}
		return true
	}},
	{5, "tags and hands come and go by their owners", func(_ *Witness, x Step) bool {
		return eachOwner(x, func(owner PersonID, off bool) bool {
			return owner == x.By.Person || slices.Contains(x.By.Proved, owner) || (off && (noticed(x, owner) || typedOld(x.By, owner)))
		})
	}},
	{5, "what was put on before a PIN was forgotten comes off by the old one or an override", func(w *Witness, x Step) bool {
		for key, owner := range standing(x.Before) {
			if _, on := x.After.Get(key); !on && w.forgot[key] && !noticed(x, owner) && !typedOld(x.By, owner) {
				return false
			}
		}
		return true
	}},
	{8, "no robot loses an energy, and no place its kind, under hands or without a word and a reason", func(_ *Witness, x Step) bool {
		said := func(list []Loosened, was int) bool {
			return len(list) > was && list[len(list)-1].Reason != "" && list[len(list)-1].By == x.By.Person && x.By.Person != ""
		}
		for id, was := range x.Before.Robots {
			is := x.After.Robots[id]
			for _, energy := range was.Energies {
				if !slices.ContainsFunc(is.Energies, func(e Energy) bool { return e.Kind == energy.Kind }) && (anyoneOn(x.Before, id) || !said(is.Loosened, len(was.Loosened))) {
					return false
				}
			}
		}
		for id, p := range x.Before.Powers {
			was, is := x.Before.Places[p.Place], x.After.Places[p.Place]
			if is.ID != "" && is.Kind != was.Kind && (anyoneOn(x.Before, id) || !said(is.Loosened, len(was.Loosened))) {
				return false
			}
		}
		return true
	}},
	{0, "a captain stays on the roster", func(_ *Witness, x Step) bool {
		any := func(s State) bool {
			for _, who := range s.People {
				if who.Role == RoleCaptain && !who.Retired {
					return true
				}
			}
			return false
		}
		return !any(x.Before) || any(x.After)
	}},
	{6, "nobody is on the roster twice over", func(_ *Witness, x Step) bool {
		for id, is := range x.After.People {
			if _, had := x.Before.People[id]; had {
				continue
			}
			for _, other := range x.Before.People {
				if other.Retired && other.Name == is.Name {
					return false
				}
			}
		}
		return true
	}},
	{5, "no minor or guest is made a lead", func(_ *Witness, x Step) bool {
		for id, r := range x.After.Robots {
			who, was := x.After.People[r.Lead], x.Before.Robots[id]
			if who.ID == "" || r.Retired || !(who.Minor || who.Guest || who.Retired) {
				continue
			}
			before := x.Before.People[r.Lead]
			if was.Lead != r.Lead || !(before.Minor || before.Guest || before.Retired) {
				return false
			}
		}
		return true
	}},
	{5, "no minor or guest gives a robot power or a signature", func(_ *Witness, x Step) bool {
		adult := func(id PersonID) bool { return !x.After.People[id].Minor && !x.After.People[id].Guest }
		byAdult := func(Power) bool { return adult(x.By.Person) }
		return eachNew(x, Test, byAdult) && eachNew(x, Live, byAdult) && eachNew(x, Ready, func(p Power) bool { return adult(p.ReadyBy) })
	}},
	{6, "an override is two people's who are here, with reasons", func(_ *Witness, x Step) bool {
		for id, notice := range x.After.Notices {
			if _, before := x.Before.Notices[id]; before {
				continue
			}
			here := func(p PersonID) bool { return p != "" && (p == x.By.Person || slices.Contains(x.By.Proved, p)) }
			lead := func(p PersonID) bool {
				return x.After.Robots[notice.Robot].Lead == p || x.After.People[p].Role == RoleCaptain
			}
			if notice.By == notice.Second || notice.By == notice.Person || notice.Second == notice.Person || !here(notice.By) || !here(notice.Second) ||
				(!lead(notice.By) && !lead(notice.Second) && !(lead(notice.Person) && (outside(x.After, notice.By) || outside(x.After, notice.Second)))) || notice.LookedWhere == "" || notice.CalledHow == "" || notice.Reason == "" || notice.CheckedBy == "" {
				return false
			}
		}
		return true
	}},
	{6, "a notice stays as it was until its person takes it", func(_ *Witness, x Step) bool {
		for id, notice := range x.Before.Notices {
			is := x.After.Notices[id]
			taken := is.Taken != notice.Taken
			if is.Override != notice.Override || is.Person != notice.Person || (taken && notice.Person != x.By.Person && !slices.Contains(x.By.Proved, notice.Person)) {
				return false
			}
		}
		return true
	}},
	{6, "nobody tags on with a notice to read", func(_ *Witness, x Step) bool {
		for id, tag := range x.After.Tags {
			if _, before := x.Before.Tags[id]; before {
				continue
			}
			for _, notice := range x.Before.Notices {
				if notice.Person == tag.Person && notice.Taken == 0 {
					return false
				}
			}
		}
		return true
	}},
	{7, "no power and no signature with people on", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			return (p.State != Test && p.State != Ready && p.State != Live) || !anyoneOn(x.After, p.Robot)
		})
	}},
	{7, "no robot gets power or a signature over the hands that were on it", func(_ *Witness, x Step) bool {
		free := func(p Power) bool { return !anyoneOn(x.Before, p.Robot) }
		return eachNew(x, Test, free) && eachNew(x, Ready, free) && eachNew(x, Live, free)
	}},
	{7, "nobody ends another's work but their lead, the captain, safety or the board", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Jobs {
			is, robot := x.After.Jobs[id], x.After.Robots[was.Robot]
			held := is.State == JobHeld && (x.After.Powers[was.Robot].State != Work || is.HeldFor == HoldStation)
			if held || x.By.Role == RoleCaptain || x.By.Role == RoleSafety || x.By.Person != "" && x.By.Person == robot.Lead {
				continue
			}
			for i, st := range was.Stints {
				mine := st.By == x.By.Person || slices.Contains(x.By.Proved, st.By)
				if st.To == 0 && !mine && (i >= len(is.Stints) || is.Stints[i].To != 0) {
					return false
				}
			}
		}
		return true
	}},
	{0, "a job is running as long as someone is on it, each once", func(_ *Witness, x Step) bool {
		for _, j := range x.After.Jobs {
			on := map[PersonID]bool{}
			for _, st := range j.Stints {
				if st.To == 0 && on[st.By] {
					return false
				}
				on[st.By] = on[st.By] || st.To == 0
			}
			anyone := slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.To == 0 })
			if anyone != (j.State == JobRunning) {
				return false
			}
		}
		return true
	}},
	{8, "no work is older than its job, no end than its start, no answer than its sheet", func(_ *Witness, x Step) bool {
		for id, j := range x.After.Jobs {
			was := x.Before.Jobs[id].Stints
			for _, st := range j.Stints[min(len(was), len(j.Stints)):] {
				if st.From < j.At {
					return false
				}
			}
			for _, st := range j.Stints {
				if st.To != 0 && st.To < st.From || j.FinishedAt != 0 && j.State == JobFinished && j.FinishedAt < st.To {
					return false
				}
			}
		}
		return eachAnswer(x, func(sheet Sheet, _ Line, a Answer) bool { return a.Paper || a.At >= sheet.OpenedAt })
	}},
	{8, "closed only when worked under lockout, or looked at again", func(w *Witness, x Step) bool {
		return eachClosed(x, func(j Job) bool {
			return j.Reinspected.At != 0 || eachStint(j, func(st Stint) bool {
				return !j.Fixes[st.Fix].Lockout || !w.during(j.Robot, st.From, st.To, func(g glimpse) bool { return g.state != Work && g.state != Verified })
			})
		})
	}},
	{8, "closed on late work only where one's own tag or hands were on, or looked at again", func(w *Witness, x Step) bool {
		return eachClosed(x, func(j Job) bool {
			return j.Reinspected.At != 0 || eachStint(j, func(st Stint) bool {
				return !j.Fixes[st.Fix].Lockout || st.Late == 0 || w.onAll(j.Robot, st.By, st.From, st.To)
			})
		})
	}},
	{8, "less lockout and no must any more by authority, with a reason, and not for one's own work", func(_ *Witness, x Step) bool {
		if _, undo := x.Command.(Undo); undo {
			return true
		}
		for id, was := range x.Before.Jobs {
			is, robot := x.After.Jobs[id], x.After.Robots[was.Robot]
			less := was.Triage == Must && (is.Triage != Must || is.State == JobDropped && was.State != JobDropped)
			for i, fix := range was.Fixes[:min(len(was.Fixes), len(is.Fixes))] {
				lost := slices.ContainsFunc(fix.Touches, func(y System) bool { return !slices.Contains(is.Fixes[i].Touches, y) })
				less = less || lost || fix.Lockout && !is.Fixes[i].Lockout || fix.PackOut && !is.Fixes[i].PackOut
			}
			mine := slices.ContainsFunc(was.Stints, func(st Stint) bool { return st.To == 0 && st.By == x.By.Person })
			may := x.By.Role == RoleCaptain || x.By.Role == RoleSafety || x.By.Person != "" && x.By.Person == robot.Lead
			said := len(is.Loosened) > len(was.Loosened) && is.Loosened[len(is.Loosened)-1].Reason != "" && is.Loosened[len(is.Loosened)-1].By == x.By.Person
			if less && (mine || !may || !said) {
				return false
			}
		}
		return true
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
	{11, "ready with nothing open, nothing overtaken and packs for use", func(_ *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool { return nothingOpen(x.After, p.Robot) && nothingOvertaken(x.After, p.Robot) })
	}},
	{11, "ready with no damage that bars it or that nobody answers for", func(_ *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool { return noDamage(x.After, p.Robot, true) }) &&
			eachPower(x.After, func(p Power) bool { return p.State != Ready || noDamage(x.After, p.Robot, false) })
	}},
	{11, "damage counts for less only at the word of who leads, with a reason", func(_ *Witness, x Step) bool {
		return eachLessened(x, func(was, is Damage) bool {
			robot, person := x.After.Robots[was.Robot], x.After.People[x.By.Person]
			for _, j := range x.After.Jobs {
				for _, st := range j.Stints {
					if st.To == 0 && st.By == x.By.Person && slices.Contains(j.Damages, was.ID) {
						return false
					}
				}
			}
			leads := x.By.Role == RoleCaptain || x.By.Role == RoleSafety || robot.Lead == x.By.Person
			return leads && x.By.Person != "" && !person.Minor && !person.Guest && len(is.Loosened) > len(was.Loosened)
		})
	}},
	{11, "ready on a failsafe shown under power since it was touched, or owed", func(w *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool { return failsafeShown(w, x.After, p.Robot) })
	}},
	{17, "no test with damage that can hurt, but with the part off", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			return p.State != Test || !slices.ContainsFunc(damageOf(x.After, p.Robot), func(d Damage) bool {
				return d.Grade == GX && !partOff(x.After, d) && !(putRight(x.After, d) && seenAfter(x.After, d))
			})
		})
	}},
	{11, "ready on packs that were read since they were in a fight", func(_ *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool {
			for _, k := range x.After.Packs {
				if k.Robot == p.Robot && (len(k.Reading.CellVolts) == 0 || (k.Since < p.FoughtAt && k.Reading.At < p.FoughtAt)) {
					return false
				}
			}
			return true
		})
	}},
	{11, "ready in what was on at the signature", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			was, is := x.Before.Fits[p.Robot].Modules, x.After.Fits[p.Robot].Modules
			return p.State != Ready || x.Before.Powers[p.Robot].State != Ready || slices.Equal(slices.Sorted(slices.Values(was)), slices.Sorted(slices.Values(is)))
		})
	}},
	{12, "signed by nobody who worked on the last repair or finished it", func(_ *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool {
			last := p.FoughtAt
			for _, j := range x.After.Jobs {
				if j.Robot == p.Robot {
					last = max(last, j.FinishedAt)
				}
			}
			for _, j := range x.After.Jobs {
				worked := slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.By == p.ReadyBy })
				if j.Robot == p.Robot && j.FinishedAt == last && last > p.FoughtAt && (worked || j.FinishedBy == p.ReadyBy) {
					return false
				}
			}
			return p.ReadyBy != ""
		})
	}},
	{11, "a pack that comes out of a robot with power, or goes from there into another, is unread", func(w *Witness, x Step) bool {
		for id, was := range x.Before.Packs {
			is := x.After.Packs[id]
			if was.Robot != "" && is.Robot != was.Robot && w.spent[id] != 0 && cellsReadAt(was) < w.spent[id] && is.State != PackUnread && !is.Unread && !outOfUse(is) {
				return false
			}
		}
		return true
	}},
	{11, "ready and live on packs whose cells were read since their fight and their last charge", func(w *Witness, x Step) bool {
		read := func(p Power) bool {
			for id, k := range x.After.Packs {
				if k.Robot == p.Robot && !k.Retired && (cellsReadAt(k) == 0 || cellsReadAt(k) < w.fought[id]) {
					return false
				}
			}
			return true
		}
		return eachNew(x, Ready, read) && eachNew(x, Live, read)
	}},
	{11, "every pack in a robot at the signature is listed for it, no tool's, and none of its cells is low", func(_ *Witness, x Step) bool {
		fit := func(p Power) bool {
			main := false
			for _, k := range x.After.Packs {
				if k.Robot != p.Robot || k.Retired {
					continue
				}
				main = main || k.Use == UseMain
				if !slices.Contains(k.Fits, p.Robot) || k.Use == UseTool || len(k.Reading.CellVolts) == 0 || slices.Min(k.Reading.CellVolts) < lowForAFight(k) {
					return false
				}
			}
			return main
		}
		return eachNew(x, Ready, fit) && eachNew(x, Live, fit)
	}},
	{11, "nobody puts a pack into a robot that it is not listed for, or that is unread or low", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			was, before := x.Before.Packs[id]
			if !before || p.Robot == "" || p.Robot == was.Robot || p.Found {
				continue
			}
			if !slices.Contains(p.Fits, p.Robot) || p.Use == UseTool || p.Unread || len(p.Reading.CellVolts) == 0 || slices.Min(p.Reading.CellVolts) < lowForAFight(p) {
				return false
			}
		}
		return true
	}},
	{11, "no reading outlasts another chemistry, count of cells or limit", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Packs {
			is := x.After.Packs[id]
			if is.ID == "" || (is.Chemistry == was.Chemistry && is.Cells == was.Cells && is.ChargeAmpsMost == was.ChargeAmpsMost && is.CapacityAh == was.CapacityAh) {
				continue
			}
			if _, back := x.Command.(Undo); !back && !outOfUse(is) && is.State != PackUnread && is.State != PackCharging && !is.Unread {
				return false
			}
		}
		return true
	}},
	{13, "a pack with a cell once read below its floor is set aside, whatever its chemistry", func(w *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			if w.low[id] && !outOfUse(p) {
				return false
			}
		}
		return true
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
	{0, "a pack is kept only for a robot that fights on it, and never when set aside", func(_ *Witness, x Step) bool {
		for _, p := range x.After.Packs {
			r := x.After.Robots[p.ChosenFor]
			if p.ChosenFor != "" && (r.ID == "" || r.Retired || r.Withdrawn || p.Retired || p.Robot != "" && !p.CameBack ||
				!slices.Contains(p.Fits, r.ID) || slices.Contains([]PackState{PackSuspect, PackQuarantined, PackGone}, p.State)) {
				return false
			}
		}
		return true
	}},
	{14, "a charge has someone who stays, a place on the list and a limit", func(_ *Witness, x Step) bool {
		charges := map[PersonID]int{}
		for _, p := range x.After.Packs {
			if p.State != PackCharging {
				continue
			}
			charges[p.Attendant]++
			who := x.After.People[p.Attendant]
			if x.Before.Packs[p.ID].State != PackCharging && (who.ID == "" || who.Minor || who.Guest ||
				!slices.Contains(x.After.Event().ChargingPlaces, p.Place) || charges[p.Attendant] > x.After.Event().AttendantMost) {
				return false
			}
		}
		return true
	}},
	{14, "that someone stays with a charge is their own word, and no word outlasts a restart", func(_ *Witness, x Step) bool {
		_, started := x.Command.(BoardStart)
		_, restored := x.Command.(BoardRestore)
		restarted := started || restored
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			here := p.Attendant == x.By.Person || slices.Contains(x.By.Proved, p.Attendant)
			if p.State != PackCharging || p.AttendAt == 0 {
				continue
			}
			if restarted || (!here && (was.AttendAt == 0 || was.Attendant != p.Attendant || was.State != PackCharging || was.Unsure && !p.Unsure)) {
				return false
			}
		}
		return true
	}},
	{14, "nobody begins work out of sight of a charge that they stay with", func(_ *Witness, x Step) bool {
		c, ok := x.Command.(JobStart)
		j := x.After.Jobs[c.Job]
		if !ok || x.Late {
			return true
		}
		for _, st := range j.Stints {
			at := x.After.Stations[st.Station].Place
			if at == "" {
				at = x.After.Powers[j.Robot].Place
			}
			for _, p := range x.After.Packs {
				if st.To == 0 && j.State == JobRunning && p.State == PackCharging && p.Attendant == st.By && p.Place != at && !slices.Contains(x.After.Places[at].InSight, p.Place) {
					return false
				}
			}
		}
		return true
	}},
	{14, "nothing that a charge hangs on leaves the board", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			ch := x.After.Channels[p.Channel]
			if p.State == PackCharging && was.State == PackCharging && was.Channel == p.Channel &&
				(p.Retired || ch.Retired || x.After.Circuits[ch.Circuit].Retired || (x.After.People[p.Attendant].Retired && !x.Before.People[p.Attendant].Retired)) {
				return false
			}
		}
		return true
	}},
	{20, "no charge is begun at a place with an emergency, or where the robot of one stands", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			if p.State != PackCharging || x.Before.Packs[id].State == PackCharging {
				continue
			}
			for _, emergency := range x.After.Emergencies {
				at := emergency.Place
				if at == "" {
					at = x.After.Powers[emergency.Robot].Place
				}
				if emergency.EndedAt == 0 && at == p.Place && at != "" {
					return false
				}
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
	{18, "the board by itself brings no pack nearer to use", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			if was := x.Before.Packs[id].State; x.By.Role == RoleSystem && p.State != was && p.State != PackUnread {
				return false
			}
		}
		return true
	}},
	{18, "a restore leaves no pack with a reading that counts", func(_ *Witness, x Step) bool {
		if _, restored := x.Command.(BoardRestore); !restored {
			return true
		}
		for _, p := range x.After.Packs {
			if !outOfUse(p) && p.State != PackUnread && !p.Unread && !p.Unsure {
				return false
			}
		}
		return true
	}},
	{18, "what was answered on paper brings no robot nearer to power and no pack nearer to use", func(_ *Witness, x Step) bool {
		c, ok := x.Command.(SheetAnswer)
		if !ok || !c.Paper {
			return true
		}
		for id, p := range x.After.Packs {
			if was := x.Before.Packs[id].State; p.State != was && p.State != PackSuspect && p.State != PackUnread {
				return false
			}
		}
		return eachPower(x.After, func(p Power) bool {
			return p.State == Unknown || p.State == x.Before.Powers[p.Robot].State || daybreak(x)
		})
	}},
	{19, "what gives a guard back says the newest of what it saw", func(_ *Witness, x Step) bool {
		var key Key
		switch c := x.Command.(type) {
		case RobotTest:
			key = KeyOf(KindPower, c.Robot)
		case RobotLive:
			key = KeyOf(KindPower, c.Robot)
		case TagOff:
			key = KeyOf(KindTag, c.Tag)
		case HandsOff:
			key = KeyOf(KindHands, c.Hands)
		case CircuitOn:
			key = KeyOf(KindCircuit, c.Circuit)
		}
		n, ok := x.Before.Get(key)
		return x.Seen == nil || !ok || x.Seen[key] == n.Rev()
	}},
	{20, "no power and no charge before the event's own settings", func(_ *Witness, x Step) bool {
		e := x.After.Event()
		if len(e.ActivationOrder) > 0 && len(e.DeactivationOrder) > 0 && e.SpinDownSec > 0 && len(e.ChargingPlaces) > 0 && e.EmergencyContact != "" {
			return true
		}
		none := func(Power) bool { return false }
		for id, p := range x.After.Packs {
			if p.State == PackCharging && x.Before.Packs[id].State != PackCharging {
				return false
			}
		}
		return eachNew(x, Test, none) && eachNew(x, Ready, none) && eachNew(x, Live, none)
	}},
	{21, "answers are only added", func(_ *Witness, x Step) bool {
		for id, sheet := range x.Before.Sheets {
			after, ok := x.After.Sheets[id]
			if !ok || len(after.Answers) < len(sheet.Answers) || !slices.Equal(after.Answers[:len(sheet.Answers)], sheet.Answers) {
				return false
			}
		}
		return true
	}},
	{21, "work stays in the record, but the last start of one's own", func(_ *Witness, x Step) bool {
		_, undo := x.Command.(Undo)
		for id, was := range x.Before.Jobs {
			is := x.After.Jobs[id].Stints
			for i, st := range was.Stints {
				own := st.By == x.By.Person || slices.Contains(x.By.Proved, st.By)
				back := undo && i == len(was.Stints)-1 && len(is) == i && st.To == 0 && own
				if !back && (i >= len(is) || is[i].By != st.By || is[i].From != st.From) {
					return false
				}
			}
		}
		return true
	}},
	{22, "one command, one line", func(_ *Witness, x Step) bool {
		n := 0
		for id, sheet := range x.After.Sheets {
			for _, a := range sheet.Answers[min(len(sheet.Answers), len(x.Before.Sheets[id].Answers)):] {
				if !a.Standing {
					n++
				}
			}
		}
		return n <= 1
	}},
	{24, "nothing about people is shelved, nothing for long, nothing without a name", func(_ *Witness, x Step) bool {
		for id, mark := range x.After.Marks {
			fresh := mark.ShelvedUntil != x.Before.Marks[id].ShelvedUntil
			if mark.ShelvedUntil != 0 && (id[0] == 'A' || mark.ShelvedBy == "" || (fresh && mark.ShelvedUntil-x.Now > 15*60_000)) {
				return false
			}
		}
		return true
	}},
	{20, "no robot gets power where an emergency stands, or with one about it", func(_ *Witness, x Step) bool {
		quiet := func(p Power) bool {
			for _, emergency := range x.After.Emergencies {
				at := emergency.Place
				if at == "" {
					at = x.After.Powers[emergency.Robot].Place
				}
				if emergency.EndedAt == 0 && (emergency.Robot == p.Robot || at == p.Place) {
					return false
				}
			}
			return true
		}
		return eachNew(x, Test, quiet) && eachNew(x, Live, quiet)
	}},
	{24, "no minor or guest takes what is about people, or ends an emergency", func(_ *Witness, x Step) bool {
		child := func(id PersonID) bool { return x.After.People[id].Minor || x.After.People[id].Guest }
		for id, mark := range x.After.Marks {
			if id[0] == 'A' && mark.TakenAt != x.Before.Marks[id].TakenAt && child(mark.TakenBy) {
				return false
			}
		}
		for id, emergency := range x.After.Emergencies {
			if emergency.EndedAt != x.Before.Emergencies[id].EndedAt && child(emergency.EndedBy) {
				return false
			}
		}
		return true
	}},
	{24, "an emergency stands until someone ends it by name", func(_ *Witness, x Step) bool {
		for id, emergency := range x.Before.Emergencies {
			is, ok := x.After.Emergencies[id]
			if !ok || (is.EndedAt != emergency.EndedAt && (is.EndedBy == "" || is.EndedBy != x.By.Person)) {
				return false
			}
		}
		return true
	}},
	{25, "nothing but words about safety moves a guard or answers a line", func(_ *Witness, x Step) bool {
		switch x.Command.(type) {
		case SheetAnswer, TagOn, TagOff, TagOverride, RobotCloseUp, RobotReopen, RobotTest, RobotLive:
			return true
		}
		return eachAnswer(x, func(Sheet, Line, Answer) bool { return false }) &&
			eachPower(x.After, func(p Power) bool { return p.State == Unknown || p.State == x.Before.Powers[p.Robot].State })
	}},
}
