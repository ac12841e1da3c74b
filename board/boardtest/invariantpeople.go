package boardtest

import (
	"slices"
	"strings"
	"unicode"

	. "mendline/board"
)

// peopleInvariants are about whose tag, hands and word it is.
var peopleInvariants = []Invariant{
	{7, "who was told that a robot is closed up is another than who says so", func(_ *Witness, x Step) bool {
		return eachAnswer(x, func(sheet Sheet, l Line, a Answer) bool {
			return sheet.List != ListCloseUp || l.Kind != LineTold || a.Said != SaidDone || a.Told != a.By && !x.After.People[a.Told].Retired
		})
	}},
	{5, "an answer says whose device it was given on, where that is another's", func(_ *Witness, x Step) bool {
		return eachAnswer(x, func(_ Sheet, _ Line, a Answer) bool {
			return a.By == x.By.Person && a.On == "" || a.By != x.By.Person && a.On == x.By.Person
		}) && eachNew(x, Ready, func(p Power) bool {
			return p.ReadyBy == x.By.Person && p.ReadyOn == "" || p.ReadyOn == x.By.Person && p.ReadyOn != p.ReadyBy
		})
	}},
	{5, "tags and hands come and go by their owners, or come again after a restore", func(w *Witness, x Step) bool {
		return eachOwner(x, func(owner PersonID, off bool) bool {
			return !off && restores(x) && wasOn(w.last, owner) || owner == x.By.Person || slices.Contains(x.By.Proved, owner) || (off && (noticed(x, owner) || typedOld(x.By, owner)))
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
	{8, "no robot on the board loses an energy or a lock, and no place its kind, under power or hands or without a word and a reason", func(_ *Witness, x Step) bool {
		said := func(list []Loosened, was int) bool {
			return len(list) > was && list[len(list)-1].Reason != "" && list[len(list)-1].By == x.By.Person && x.By.Person != ""
		}
		for id, was := range x.Before.Robots {
			is, busy := x.After.Robots[id], inUse(x.Before, id)
			if !is.Retired && len(is.Locks) < len(was.Locks) && len(was.Locks) > 1 && (busy || !said(is.Loosened, len(was.Loosened))) {
				return false
			}
			for _, energy := range was.Energies {
				if !is.Retired && !slices.ContainsFunc(is.Energies, func(e Energy) bool { return e.Kind == energy.Kind }) && (busy || !said(is.Loosened, len(was.Loosened))) {
					return false
				}
			}
		}
		for id, p := range x.Before.Powers {
			was, is := x.Before.Places[p.Place], x.After.Places[p.Place]
			if is.ID != "" && is.Kind != was.Kind && !x.Before.Robots[id].Retired && (inUse(x.Before, id) || !said(is.Loosened, len(was.Loosened))) {
				return false
			}
		}
		return true
	}},
	{0, "no robot on the board gets another name while it has to be mended, but for a reason, nor with hands on it or stopped", func(_ *Witness, x Step) bool {
		if restores(x) {
			return true
		}
		for id, was := range x.Before.Robots {
			is := x.After.Robots[id]
			if was.Retired || reads(is.Name) == reads(was.Name) {
				continue
			}
			why := len(is.Loosened) > len(was.Loosened) && is.Loosened[len(is.Loosened)-1].Reason != ""
			if x.Before.Powers[id].Stop.At != 0 || anyoneOn(x.Before, id) || !why && toMend(x.Before, id) {
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
	{5, "nobody is made a signer, or no minor any more, without a reason that stays on them", func(_ *Witness, x Step) bool {
		if restores(x) {
			return true
		}
		for id, was := range x.Before.People {
			is := x.After.People[id]
			more := was.Minor && !is.Minor || is.Signer && !was.Signer
			if n := len(is.Loosened); n < len(was.Loosened) || more && (n == len(was.Loosened) || !strings.ContainsFunc(is.Loosened[n-1].Reason, unicode.IsLetter)) {
				return false
			}
		}
		return true
	}},
	{6, "an override is two people's who are here, with reasons", func(w *Witness, x Step) bool {
		for id, notice := range x.After.Notices {
			_, before := x.Before.Notices[id]
			if _, stood := w.last.Notices[id]; before || stood && restores(x) {
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
	{6, "what is the lead's own comes off with event safety or a signer from outside", func(w *Witness, x Step) bool {
		for id, notice := range x.After.Notices {
			_, before := x.Before.Notices[id]
			_, stood := w.last.Notices[id]
			own := notice.Person == x.After.Robots[notice.Robot].Lead
			if !before && !(stood && restores(x)) && own && !outside(x.After, notice.By) && !outside(x.After, notice.Second) {
				return false
			}
		}
		return true
	}},
	{6, "an override says in words where, how and why", func(_ *Witness, x Step) bool {
		for id, notice := range x.After.Notices {
			_, before := x.Before.Notices[id]
			for _, text := range []string{notice.LookedWhere, notice.CalledHow, notice.Reason} {
				if !before && !strings.ContainsFunc(text, unicode.IsLetter) {
					return false
				}
			}
		}
		return true
	}},
	{5, "nobody is called by another name while something stands in theirs", func(_ *Witness, x Step) bool {
		for _, owner := range standing(x.Before) {
			is, was := x.After.People[owner], x.Before.People[owner]
			if !strings.EqualFold(is.Name, was.Name) {
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
}

// toMend tells whether a must that is not closed is for a robot.
func toMend(s State, robot RobotID) bool {
	for _, j := range s.Jobs {
		if j.Robot == robot && j.Triage == Must && (j.State == JobOpen || j.State == JobRunning || j.State == JobHeld || j.State == JobFinished) {
			return true
		}
	}
	return false
}

// inUse tells whether a robot has power or anyone's hands on it.
func inUse(s State, robot RobotID) bool {
	state := s.Powers[robot].State
	return state == Live || state == Test || anyoneOn(s, robot)
}
