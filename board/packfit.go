package board

import (
	"cmp"
	"fmt"
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
	case !p.listedFor(r):
		return p.unlisted(r)
	case p.Unread:
		return breaks(11, "Nobody has read the cells of pack %s since it was last used. Read it, or fit another in %s.", p.Name, r.Name)
	case low < fightVolts(p.Chemistry):
		return breaks(11, "A cell of pack %s reads %.2f V, and none goes into a fight below %.2f V. Charge it, or fit another in %s.", p.Name, low, fightVolts(p.Chemistry), r.Name)
	}
	return nil
}

// listedFor tells whether p is one for r by its record.
func (p Pack) listedFor(r Robot) bool { return p.Use != UseTool && slices.Contains(p.Fits, r.ID) }

func (p Pack) unlisted(r Robot) *Refusal {
	if p.Use == UseTool {
		return breaks(11, "Pack %s is for tools by its record and goes into no robot: take another.", p.Name)
	}
	return breaks(11, "Pack %s is not listed for %s. Take one that is, or the captain lists it with the pack.", p.Name, r.Name)
}

// fittedToFight refuses a robot without a main pack, or with a pack that is not for it.
func (s State) fittedToFight(r Robot) *Refusal {
	in := s.packsIn(r.ID)
	for _, p := range in {
		if bad := p.mayGoIn(r); bad != nil {
			return bad
		}
	}
	switch missing, want := s.lacks(r, in); {
	case len(in) == 0:
		return breaks(11, "The board knows of no pack in %s. Say which one is fitted.", r.Name)
	case !slices.ContainsFunc(in, func(p Pack) bool { return p.Use == UseMain }):
		return breaks(11, "By the board no main pack is in %s, but %s, a %s pack. Say which main pack is fitted.", r.Name, in[0].Name, in[0].Use)
	case missing == UseWeapon && r.WeaponPacks == 0:
		return breaks(11, "By their records the board has weapon packs for %s, and none is in it. Say which is fitted, or the captain takes %[1]s off their records.", r.Name)
	case missing != "":
		return breaks(11, "%s takes %d %s packs, and by the board fewer are in it. Say which are fitted, or the captain enters how many it takes.", r.Name, want, missing)
	}
	return nil
}

// lacks is a use of which a robot takes more packs than are in it, none where it has all
// that the captain entered, and one for its weapon where the board has any for that.
func (s State) lacks(r Robot, in []Pack) (use PackUse, want int) {
	for _, takes := range []struct {
		use  PackUse
		want int
	}{{UseMain, r.MainPacks}, {UseWeapon, s.takesForWeapon(r)}} {
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

// takesForWeapon is how many packs a robot takes for its weapon alone: as many as the
// captain entered, else one where the board has any for that.
func (s State) takesForWeapon(r Robot) int {
	for _, p := range s.Packs {
		if p.Use == UseWeapon && !p.Retired && !p.State.setAside() && p.listedFor(r) {
			return max(1, r.WeaponPacks)
		}
	}
	return r.WeaponPacks
}

// oneTooMany says which packs are in a robot that takes fewer, "" where it takes them all.
func (s State) oneTooMany(r Robot) string {
	for _, use := range []PackUse{UseMain, UseWeapon} {
		var names []string
		for _, p := range s.packsIn(r.ID) {
			if p.Use == use {
				names = append(names, p.Name)
			}
		}
		if len(names) > max(1, r.Takes(use)) {
			return fmt.Sprintf("Packs %s are in %s by the board.", listNames(names), r.Name)
		}
	}
	return ""
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

// rule3Named keeps power from a robot with a pack in it that the closing-up does not name:
// nobody has said that it is strapped; and from one with a pack that is not for it.
func rule3Named(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if !power.State.Energised() || t.before.Powers[id].State == power.State {
			continue
		}
		if bad := t.s().eachNamed(t.s().Robots[id]); bad != nil {
			return bad
		}
	}
	return nil
}

// eachNamed refuses a robot with a pack in it that is not listed for it, or not named by
// its closing-up.
func (s State) eachNamed(r Robot) *Refusal {
	for _, p := range s.packsIn(r.ID) {
		if !p.listedFor(r) {
			return p.unlisted(r)
		}
		if !s.unnamed(p) {
			continue
		}
		switch said := s.lastNamed(r.ID); {
		case slices.Contains(said, p.Name):
			return breaks(3, "%s: pack %s went in again after the closing-up named it. Answer there again which one is in and strapped.", r.Name, p.Name)
		case len(said) == 0:
			return breaks(3, "%s: pack %s is in it, and the closing-up names none. Answer there again which one is in and strapped.", r.Name, p.Name)
		default:
			return breaks(3, "%s: pack %s is in it, the closing-up says %s. Answer there again which are in and strapped, or say where pack %[2]s is.", r.Name, p.Name, listNames(said))
		}
	}
	return nil
}

// unnamed tells whether no closing-up of its robot has named p since it went in.
// One of the transmitter is not in the robot itself.
func (s State) unnamed(p Pack) bool {
	if p.Use == UseTransmitter {
		return false
	}
	for _, sheet := range s.Sheets {
		if sheet.Robot != p.Robot || sheet.List != ListCloseUp {
			continue
		}
		for _, a := range sheet.Answers {
			l, _ := sheet.LineOf(a.Line)
			if l.Kind == LinePack && a.Pack == p.ID && a.Said == SaidDone && !a.Record && a.At >= p.Since {
				return false
			}
		}
	}
	return true
}

// lastNamed are the packs that the last closing-up of a robot names on which any is named.
func (s State) lastNamed(robot RobotID) []string {
	var names []string
	for _, sheet := range slices.Backward(Sorted(s.Sheets, sheetOrder)) {
		if sheet.Robot != robot || sheet.List != ListCloseUp || len(names) > 0 {
			continue
		}
		for _, l := range sheet.Lines {
			if a, ok := sheet.Answered(l.ID); ok && l.Kind == LinePack && a.Said == SaidDone {
				names = append(names, s.Packs[a.Pack].Name)
			}
		}
	}
	return names
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

// packsMoved does what follows where a pack went into a robot or came out of it. One
// that turns up in a robot makes it unknown, unless it is being closed up: what was said
// of it was said of another. So does any that was moved while the robot was tested or
// live: someone's hands were in it, or it was never under power.
func (t *turn) packsMoved() {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		was := t.before.Packs[p.ID].Robot
		if p.Robot == was {
			continue
		}
		for _, robot := range []RobotID{was, p.Robot} {
			power := t.s().Powers[robot]
			if robot == "" || t.before.Powers[robot].State != power.State {
				continue
			}
			switch in := robot == p.Robot; {
			case in && p.State.setAside():
				t.becomeUnknown(power, "pack "+p.Name+", which is "+p.State.String()+", is in it", true)
			case power.State.Energised():
				t.becomeUnknown(power, "pack "+p.Name+" was moved while the board said "+power.State.String(), true)
			case in && power.State == Unknown:
				t.openSheet(t.s().Robots[robot], ListMakeSafe)
			case in && power.State != ClosingUp && power.State != Ready:
				t.becomeUnknown(power, "pack "+p.Name+" is in it and nobody has looked at it", len(t.s().HandsOn(robot)) > 0)
			}
		}
	}
}

// packsAside makes a robot unknown, from the first line on, with a pack in it that was read
// to vent now; and ends a test, or a fight, of one with any that was set aside now.
func (t *turn) packsAside() {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		power, was := t.s().Powers[p.Robot], t.before.Packs[p.ID]
		now := power.State.Energised() && p.State.setAside() && !was.State.setAside()
		if p.Robot != "" && (now || p.vents() && !was.vents()) {
			t.becomeUnknown(power, "pack "+p.Name+", which is "+p.State.String()+", is in it", true)
		}
	}
}
