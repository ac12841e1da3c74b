package boardtest

import (
	"maps"
	"slices"

	. "mendline/board"
)

// powerInvariants are about what a robot may be brought to.
var powerInvariants = []Invariant{
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
	{4, "that a lock or link is in its place is the word of people with authority for each energy", func(_ *Witness, x Step) bool {
		lists := []SheetList{ListMakeSafe, ListFirstIn, ListReopen, ListCloseUp, ListReady}
		return eachAnswer(x, func(sheet Sheet, l Line, a Answer) bool {
			holds := slices.Contains(l.Covers, SysLock) || slices.Contains(l.Covers, SysLink)
			return !holds || !slices.Contains(lists, sheet.List) || a.Said == SaidNo || a.Record || hasAuthority(x.After.People[a.By], x.After.Robots[sheet.Robot])
		})
	}},
	{5, "a test, and going live, is the word of someone with authority for each energy, or of event safety", func(_ *Witness, x Step) bool {
		may := func(p Power) bool {
			who := x.After.People[x.By.Person]
			return who.Role == RoleSafety || hasAuthority(who, x.After.Robots[p.Robot])
		}
		return eachNew(x, Test, may) && eachNew(x, Live, may)
	}},
	{3, "only along the table", func(_ *Witness, x Step) bool {
		return eachPower(x.Before, func(p Power) bool {
			to := x.After.Powers[p.Robot].State
			return to == p.State || to == Unknown || slices.Contains(ways[p.State], to) || daybreak(x)
		})
	}},
	{3, "one tag alone is on where something is still reached under the covers", func(_ *Witness, x Step) bool {
		alone := func(s State, id RobotID) bool {
			open := slices.ContainsFunc(slices.Collect(maps.Values(s.Sheets)), func(sheet Sheet) bool {
				return sheet.Robot == id && sheet.List == ListFirstIn && sheet.State == SheetOpen
			})
			on := map[PersonID]bool{}
			for _, tag := range s.Tags {
				if tag.Robot == id {
					on[tag.Person] = true
				}
			}
			return !open || len(on) < 2
		}
		return eachPower(x.After, func(p Power) bool { return p.State != Work || alone(x.After, p.Robot) || !alone(x.Before, p.Robot) })
	}},
	{3, "a pack is out of its robot by the word of those who may say so", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Packs {
			r, in := x.After.Robots[was.Robot]
			if !in || x.After.Packs[id].Robot == was.Robot || x.By.Role == RoleSystem {
				continue
			}
			who := x.By.Person
			if c, answers := x.Command.(SheetAnswer); answers && c.Person != "" {
				who = c.Person
			}
			person := x.After.People[who]
			leads := x.By.Role == RoleCaptain || x.By.Role == RoleSafety || r.Lead == who
			if person.Minor || person.Guest || !leads && !hasAuthority(person, r) {
				return false
			}
		}
		return true
	}},
	{3, "work has a tag and an answered make-safe sheet", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool { return p.State != Work || (tagged(x.After, p.Robot) && madeSafe(x.After, p.Robot)) })
	}},
	{3, "in work no look at gas is older than a quarter of an hour", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool { return p.State != Work || gasFresh(x.After, p.Robot, x.Now) })
	}},
	{3, "nothing is at rest before the time that it takes has passed with the power off", func(w *Witness, x Step) bool {
		return eachAnswer(x, func(sheet Sheet, l Line, a Answer) bool {
			return a.Said != SaidDone || a.Record || x.Now-w.offSince(sheet.Robot) >= Moment(restSec(x.After, sheet.Robot, l))*1000
		})
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
	{0, "only event safety stops a robot and lets it go on, and a restore keeps its stop", func(w *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			return p.Stop == x.Before.Powers[p.Robot].Stop || x.By.Role == RoleSafety || restores(x) && p.Stop == w.last.Powers[p.Robot].Stop && p.Stop.At != 0
		})
	}},
	{3, "a sheet begins with every line that carries a rule, and names what holds this robot's weapon", func(_ *Witness, x Step) bool {
		for id, sheet := range x.After.Sheets {
			if _, before := x.Before.Sheets[id]; !before && (!asksAll(sheet) || !namesLocks(x.After.Robots[sheet.Robot], sheet)) {
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
}
