package boardtest

import (
	"slices"

	. "mendline/board"
)

// workInvariants are about hands at work and jobs that close.
var workInvariants = []Invariant{
	{7, "no power and no signature with people on", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			return (p.State != Test && p.State != Ready && p.State != Live) || !anyoneOn(x.After, p.Robot)
		})
	}},
	{7, "no robot gets power or a signature over the hands that were on it", func(_ *Witness, x Step) bool {
		free := func(p Power) bool { return !anyoneOn(x.Before, p.Robot) }
		return eachNew(x, Test, free) && eachNew(x, Ready, free) && eachNew(x, Live, free)
	}},
	{7, "nobody tries whether a robot starts while anyone is on it", func(_ *Witness, x Step) bool {
		return eachAnswer(x, func(sheet Sheet, l Line, a Answer) bool {
			ended := x.Before.Sheets[sheet.ID].State == SheetComplete
			return l.Part != "verify" || a.Said == SaidNo || a.Record || ended || !anyoneOn(x.Before, sheet.Robot) && !anyoneOn(x.After, sheet.Robot)
		})
	}},
	{8, "nobody works on under lockout who has taken off their own tag and hands", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Jobs {
			for i, st := range was.Stints {
				is := x.After.Jobs[id]
				if st.To != 0 || i >= len(is.Stints) || is.Stints[i].To != 0 || !was.Fixes[st.Fix].Lockout {
					continue
				}
				if ownOn(x.Before, was.Robot, st.By) && !ownOn(x.After, was.Robot, st.By) {
					return false
				}
			}
		}
		return true
	}},
	{7, "nobody ends another's work but their lead, the captain, safety or the board", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Jobs {
			is, robot := x.After.Jobs[id], x.After.Robots[was.Robot]
			held := is.State == JobHeld && (x.After.Powers[was.Robot].State != Work || is.HeldFor == HoldStation)
			if held || x.By.Role == RoleCaptain || x.By.Role == RoleSafety || x.By.Person != "" && x.By.Person == robot.Lead {
				continue
			}
			for i, st := range was.Stints {
				mine := st.By == x.By.Person || slices.Contains(x.By.Proved, st.By) || ownOn(x.Before, was.Robot, st.By) && !ownOn(x.After, was.Robot, st.By)
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
			return lookedAgain(j) || eachStint(j, func(st Stint) bool {
				return !j.Fixes[st.Fix].Lockout || !w.during(j.Robot, st.From, st.To, func(g glimpse) bool { return g.state != Work && g.state != Verified })
			})
		})
	}},
	{8, "closed on late work only where one's own tag or hands were on, or looked at again", func(w *Witness, x Step) bool {
		return eachClosed(x, func(j Job) bool {
			return lookedAgain(j) || eachStint(j, func(st Stint) bool {
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
	{8, "no job in a robot asks for no lockout but by authority, with a reason, or as the captain's kind of job does", func(_ *Witness, x Step) bool {
		if _, undo := x.Command.(Undo); undo {
			return true
		}
		bare := func(fix Fix) bool { return fix.Where != OffRobot && !fix.Lockout }
		for id, is := range x.After.Jobs {
			was, robot := x.Before.Jobs[id], x.After.Robots[is.Robot]
			listed := slices.Concat(x.After.Templates[is.Template].Fixes, x.After.Jobs[is.FollowUpOf].Fixes, was.Fixes)
			if !slices.ContainsFunc(is.Fixes, bare) || slices.ContainsFunc(listed, bare) {
				continue
			}
			may := x.By.Role == RoleCaptain || x.By.Role == RoleSafety || x.By.Person != "" && x.By.Person == robot.Lead
			said := len(is.Loosened) > len(was.Loosened) && is.Loosened[len(is.Loosened)-1].Reason != "" && is.Loosened[len(is.Loosened)-1].By == x.By.Person
			if !may || !said {
				return false
			}
		}
		return true
	}},
	{9, "closed only when the packs were out, or looked at again", func(w *Witness, x Step) bool {
		return eachClosed(x, func(j Job) bool {
			return lookedAgain(j) || eachStint(j, func(st Stint) bool {
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
}

// lookedAgain tells whether someone looked at a job's work who did none of it.
func lookedAgain(j Job) bool {
	return j.Reinspected.At != 0 && !slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.By == j.Reinspected.By })
}
