package boardtest

import (
	"regexp"
	"slices"

	. "mendline/board"
)

var calledGood = regexp.MustCompile(`(?i)(^|[^a-z-])(safe|clear|all ok)($|[^a-z])`)

// recordInvariants are about power, the board by itself, the record and alarms.
var recordInvariants = []Invariant{
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
			if was := x.Before.Packs[id].State; x.By.Role == RoleSystem && p.State != was && p.State != PackUnread && !outOfUse(p) && !(p.State == PackCharging && p.Unsure) {
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
	{18, "a set time leaves nothing declared and no reading that counts", func(_ *Witness, x Step) bool {
		if _, set := x.Command.(TimeSet); !set {
			return true
		}
		for _, p := range x.After.Packs {
			if !outOfUse(p) && p.State != PackUnread && !p.Unread && !p.Unsure {
				return false
			}
		}
		return eachPower(x.After, func(p Power) bool { return p.State == Unknown })
	}},
	{18, "a set time dates nothing later than itself", func(_ *Witness, x Step) bool {
		if _, set := x.Command.(TimeSet); !set {
			return true
		}
		later := false
		for _, sheet := range x.After.Sheets {
			for _, a := range sheet.Answers {
				later = later || a.At > x.Now
			}
		}
		for _, tag := range x.After.Tags {
			later = later || tag.At > x.Now
		}
		return !later
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
			if p.State == PackCharging && x.Before.Packs[id].State != PackCharging && !foundCharging(x, p) {
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
	{23, "no line and no place comes to be called safe or clear", func(_ *Witness, x Step) bool {
		for id, place := range x.After.Places {
			if place.Name != x.Before.Places[id].Name && calledGood.MatchString(place.Name) {
				return false
			}
		}
		for list, wording := range x.After.Wordings {
			for _, l := range wording.Lines {
				if wording.Version != x.Before.Wordings[list].Version && (calledGood.MatchString(l.Ask) || calledGood.MatchString(l.Say)) {
					return false
				}
			}
		}
		return true
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
				at := p.Place != "" && (p.Place == emergency.Place || p.Place == emergency.Stood || emergency.Place == "" && p.Place == x.After.Powers[emergency.Robot].Place)
				if emergency.EndedAt == 0 && (emergency.Robot == p.Robot || at) {
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
