package board

import (
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
	switch {
	case len(in) == 0:
		return breaks(11, "The board knows of no pack in %s. Say which one is fitted.", r.Name)
	case !slices.ContainsFunc(in, func(p Pack) bool { return p.Use == UseMain }):
		return breaks(11, "By the board no main pack is in %s, but %s, a %s pack. Say which main pack is fitted.", r.Name, in[0].Name, in[0].Use)
	}
	return nil
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
