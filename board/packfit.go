package board

import (
	"cmp"
	"slices"

	"mendline/board/charge"
)

// fightVolts is what each cell of a fitted pack rests at, at least, before a fight. 3.20 V
// for LiPo and its like is common practice, no source; the others are our decision.
func fightVolts(c charge.Chemistry) float64 {
	switch c {
	case charge.LiFe:
		return 3.00
	case charge.NiMH:
		return 1.10
	case charge.AGM:
		return 2.00
	}
	return 3.20
}

// mayGoIn refuses a pack that is not one for r, or not ready for a fight. It is asked
// where someone fits the pack, and of every fitted pack at the signature.
func (p Pack) mayGoIn(r Robot) *Refusal {
	low, _ := spread(p.Reading.CellVolts)
	switch {
	case p.Use == UseTool:
		return breaks(11, "Pack %s is for tools by its record and goes into no robot: take another.", p.Name)
	case !slices.Contains(p.Fits, r.ID):
		return breaks(11, "Pack %s is not listed for %s. Take one that is, or the captain lists it with the pack.", p.Name, r.Name)
	case p.Unread:
		return breaks(11, "Nobody has read the cells of pack %s since it was last used. Read it, or fit another in %s.", p.Name, r.Name)
	case low < fightVolts(p.Chemistry):
		return breaks(11, "A cell of pack %s reads %.2f V, and none goes into a fight below %.2f V. Charge it, or fit another in %s.", p.Name, low, fightVolts(p.Chemistry), r.Name)
	}
	return nil
}

// fittedToFight refuses a robot without a main pack, or with a pack that is not for it.
func (s State) fittedToFight(r Robot) *Refusal {
	in := s.packsIn(r.ID)
	for _, p := range in {
		if bad := p.mayGoIn(r); bad != nil {
			return bad
		}
	}
	switch missing, want := r.lacks(in); {
	case len(in) == 0:
		return breaks(11, "The board knows of no pack in %s. Say which one is fitted.", r.Name)
	case !slices.ContainsFunc(in, func(p Pack) bool { return p.Use == UseMain }):
		return breaks(11, "By the board no main pack is in %s, but %s, a %s pack. Say which main pack is fitted.", r.Name, in[0].Name, in[0].Use)
	case missing != "":
		return breaks(11, "%s takes %d %s packs, and by the board fewer are in it. Say which are fitted, or the captain enters how many it takes.", r.Name, want, missing)
	}
	return nil
}

// lacks is a use of which a robot takes more packs than are in it, none where it has all
// that the captain entered.
func (r Robot) lacks(in []Pack) (use PackUse, want int) {
	for _, takes := range []struct {
		use  PackUse
		want int
	}{{UseMain, r.MainPacks}, {UseWeapon, r.WeaponPacks}} {
		has := 0
		for _, p := range in {
			if p.Use == takes.use {
				has++
			}
		}
		if has < takes.want {
			return takes.use, takes.want
		}
	}
	return "", 0
}

// rule11Fitted lets no pack into a robot that is not listed for it, read and charged
// enough, unless it was found there.
func rule11Fitted(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		is := t.s().Packs[PackID(id)]
		was, had := t.before.Packs[PackID(id)]
		if k != KindPack || !had || is.Robot == "" || is.Robot == was.Robot || is.Found || is.State.setAside() || t.undoing {
			continue
		}
		if bad := is.fits(t.s().Robots[is.Robot]); bad != nil {
			return bad
		}
	}
	return nil
}

// rule3Out takes for out of a robot only the pack of which someone says so who may put
// a tag on it, or answers for it.
func rule3Out(t *turn) *Refusal {
	person := t.by.Person
	if c, ok := t.command.(SheetAnswer); ok {
		person = cmp.Or(c.Person, person)
	}
	who := t.s().People[person]
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		p, was := t.s().Packs[PackID(id)], t.before.Packs[PackID(id)].Robot
		r, ok := t.s().Robots[was]
		if k != KindPack || !ok || p.Robot == was || t.by.Role == RoleSystem || who.Answers() && (who.AuthorisedFor(r) || t.overrules(r)) {
			continue
		}
		return breaks(3, "Pack %s is in %s by the board. That it is out is for %s to say, or someone with authority for %s. If you see that it is out, tell them; if %s has power, set it unknown, which anyone may.", p.Name, r.Name, t.s().leadName(r), r.Name, r.Name)
	}
	return nil
}

// outUnsaid lists packs that were looked at in a robot as it was made safe, and lie
// somewhere else by the board since, though nobody who was first in has said so.
func (s State) outUnsaid(r Robot) []Pack {
	safe, _ := s.Sheet(r.ID, ListMakeSafe)
	firstIn, said := s.Sheet(r.ID, ListFirstIn)
	var list []Pack
	for _, l := range safe.Lines {
		p := s.Packs[l.Pack]
		if l.Kind != LineLook || p.Robot != "" || p.Retired || p.State == PackGone || p.State == PackCharging {
			continue
		}
		if _, out := firstIn.Answered("out-" + string(p.ID)); !said || !out || firstIn.Number < safe.Number {
			list = append(list, p)
		}
	}
	return list
}

// fits refuses to put p into r. That it is there all the same is never refused.
func (p Pack) fits(r Robot) *Refusal {
	bad := p.mayGoIn(r)
	if bad != nil {
		bad.Sentence += " If it is in " + r.Name + " already, say that it was found there."
	}
	return bad
}

// packsMovedUnderPower makes a robot unknown that was tested or live while a pack went
// into it or out of it: someone's hands were in it, or it was never under power.
func (t *turn) packsMovedUnderPower() {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		was := t.before.Packs[p.ID].Robot
		if p.Robot == was {
			continue
		}
		for _, robot := range []RobotID{was, p.Robot} {
			power := t.s().Powers[robot]
			if robot != "" && power.State.Energised() && t.before.Powers[robot].State == power.State {
				t.becomeUnknown(power, "pack "+p.Name+" was moved while the board said "+string(power.State), true)
			}
		}
	}
}
