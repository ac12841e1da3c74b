package boardtest

import (
	"slices"
	"strings"
	"unicode"

	. "mendline/board"
)

// signingInvariants are about what a signature rests on.
var signingInvariants = []Invariant{
	{11, "ready with nothing open, nothing overtaken and packs for use", func(_ *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool { return nothingOpen(x.After, p.Robot) && nothingOvertaken(x.After, p.Robot) })
	}},
	{11, "ready with no damage that bars it or that nobody answers for", func(_ *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool { return noDamage(x.After, p.Robot, true) }) &&
			eachPower(x.After, func(p Power) bool { return p.State != Ready || noDamage(x.After, p.Robot, false) })
	}},
	{11, "damage counts for less only at the word of who leads, with a reason, and a part comes off no robot that is closed up or may have power", func(_ *Witness, x Step) bool {
		return eachLessened(x, func(was, is Damage) bool {
			robot, person := x.After.Robots[was.Robot], x.After.People[x.By.Person]
			for _, j := range x.After.Jobs {
				for _, st := range j.Stints {
					if st.To == 0 && st.By == x.By.Person && slices.Contains(j.Damages, was.ID) {
						return false
					}
				}
			}
			closed := slices.Contains([]PowerState{ClosingUp, Test, Ready, Live, Unknown, PoweredDown}, x.Before.Powers[was.Robot].State)
			_, undo := x.Command.(Undo)
			if is.Off.At != 0 && is.Off != was.Off && (closed || undo) {
				return false
			}
			leads := x.By.Role == RoleCaptain || x.By.Role == RoleSafety || robot.Lead == x.By.Person
			return leads && x.By.Person != "" && !person.Minor && !person.Guest && len(is.Loosened) > len(was.Loosened)
		})
	}},
	{11, "a look at damage is given at a robot that may have no power, and no undo brings one back", func(_ *Witness, x Step) bool {
		for id, is := range x.After.Damages {
			was := x.Before.Damages[id]
			_, undo := x.Command.(Undo)
			hot := slices.Contains([]PowerState{Unknown, PoweredDown, Isolated, Test, Live}, x.Before.Powers[is.Robot].State)
			if is.Looked != was.Looked && is.Looked.At != 0 && (undo || hot) {
				return false
			}
		}
		return true
	}},
	{2, "no robot keeps its signature into a test box or the arena", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			kind := x.After.Places[p.Place].Kind
			return p.State != Ready || x.Before.Powers[p.Robot].State != Ready || p.Place == x.Before.Powers[p.Robot].Place || kind != PlaceTestBox && kind != PlaceArena
		})
	}},
	{11, "no weapon that is on its robot is said to be not fitted, and no load-in goes on saying so", func(_ *Witness, x Step) bool {
		has := func(r Robot) bool {
			return slices.ContainsFunc(r.Energies, func(e Energy) bool { return e.Kind == EnergyWeapon || e.Kind == EnergySpin })
		}
		for id, r := range x.After.Robots {
			sheet, _ := x.After.Sheet(id, ListLoadIn)
			a, said := sheet.Answered("lock")
			if said && a.Said == SaidNotFitted && sheet.State != SheetUnanswered && has(r) && !weaponOff(x.After, id) && weaponOff(x.Before, id) {
				return false
			}
		}
		return eachAnswer(x, func(sheet Sheet, l Line, a Answer) bool {
			return a.Said != SaidNotFitted || a.Record || !aboutWeapon(l) || !has(x.After.Robots[sheet.Robot]) || weaponOff(x.After, sheet.Robot)
		})
	}},
	{11, "a part that is on again leaves its robot neither signed nor with power", func(_ *Witness, x Step) bool {
		for id, d := range x.After.Damages {
			state := x.After.Powers[d.Robot].State
			if d.BackAt > x.Before.Damages[id].BackAt && !d.Dropped && (state == Ready || state == Test || state == Live) {
				return false
			}
		}
		return true
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
	{11, "a weight is entered by someone who answers for it, and one that is hardly so was said twice", func(_ *Witness, x Step) bool {
		for id, fit := range x.After.Fits {
			w, class := fit.Weighed, x.After.Robots[id].Class
			if w.At == x.Before.Fits[id].Weighed.At && w.Grams == x.Before.Fits[id].Weighed.Grams {
				continue
			}
			who, sure := x.After.People[w.By], false
			switch c := x.Command.(type) {
			case RobotWeigh:
				sure = c.Sure
			case SheetAnswer:
				sure = c.Sure
			}
			if odd := w.Grams*2 < class.LimitGrams() || w.Grams > class.LimitGrams()+0.001; (odd && !sure) || who.ID == "" || who.Minor || who.Guest {
				return false
			}
		}
		return true
	}},
	{21, "a robot's past fight is none only by an undo, or by who answers for it, with a reason", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Powers {
			is, had := x.After.Powers[id]
			if !had || is.FoughtAt >= was.FoughtAt || x.By.Role == RoleSystem {
				continue
			}
			switch c := x.Command.(type) {
			case Undo:
			case FightNotFought:
				f := x.After.Fights[c.Fight]
				leads := x.By.Role == RoleCaptain || x.By.Role == RoleSafety || x.After.Robots[id].Lead == x.By.Person
				if f.Robot != id || f.State != FightPlanned || !leads || !strings.ContainsFunc(c.Reason, unicode.IsLetter) {
					return false
				}
			default:
				return false
			}
		}
		return true
	}},
	{12, "nobody's signature stands on a robot in the pit once they are struck from those who sign", func(_ *Witness, x Step) bool {
		return eachPower(x.After, func(p Power) bool {
			may := func(who Person) bool {
				return !who.Retired && !who.Minor && !who.Guest && (who.Signer || x.After.Robots[p.Robot].Lead == who.ID || who.Role == RoleCaptain && hasAuthority(who, x.After.Robots[p.Robot]))
			}
			return p.State != Ready || may(x.After.People[p.ReadyBy]) || !may(x.Before.People[p.ReadyBy])
		})
	}},
	{12, "signed by a signer, its lead, or a captain with authority", func(_ *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool {
			who, robot := x.After.People[p.ReadyBy], x.After.Robots[p.Robot]
			return who.Signer || robot.Lead == who.ID || who.Role == RoleCaptain && hasAuthority(who, robot)
		})
	}},
	{12, "signed by nobody who worked on the last repair or finished it", func(w *Witness, x Step) bool {
		return eachNew(x, Ready, func(p Power) bool {
			fought := Moment(0)
			for _, f := range x.After.Fights {
				if f.Robot == p.Robot && f.State == FightDone && (f.Result == Won || f.Result == Lost || f.Result == Drawn) {
					fought = max(fought, w.liveBefore(f))
				}
			}
			stands := func(j Job) bool {
				return j.Robot == p.Robot && j.State != JobDropped && j.State != JobDeferred
			}
			last := fought
			for _, j := range x.After.Jobs {
				if stands(j) {
					last = max(last, j.FinishedAt)
				}
			}
			for _, j := range x.After.Jobs {
				worked := slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.By == p.ReadyBy })
				if stands(j) && j.FinishedAt == last && last > fought && (worked || j.FinishedBy == p.ReadyBy) {
					return false
				}
			}
			return p.ReadyBy != ""
		})
	}},
}
