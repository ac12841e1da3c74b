package board

import (
	"strings"
	"unicode"
)

// PackSet says what state a pack is in, as a person declares it.
type PackSet struct {
	Pack  PackID    `json:"pack"`
	State PackState `json:"state"`
	Why   string    `json:"why,omitzero"`
}

func (c PackSet) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok {
		return missing("pack", "pack")
	}
	c.Why = strings.TrimSpace(c.Why)
	if bad := first(
		oneOf("state", c.State, PackUnread, PackCooling, PackWaiting, PackStorage, PackSuspect, PackQuarantined, PackGone),
		checkShort("why", c.Why),
	); bad != nil {
		return bad
	}
	if c.State == PackGone && t.when < p.Since && (p.State == PackSuspect || p.State == PackQuarantined) {
		t.put(t.heard(p, "gone, before it was set aside"))
		return nil
	}
	switch charging := p.State == PackCharging; {
	case c.State.setAside() && !(charging && c.State == PackGone):
		p.CameBack, p.Stopped = false, ""
	case charging:
		return refuse(CodeState, "Pack %s is on channel %s. Say first that it is off, then read it.", p.Name, t.s().Channels[p.Channel].Name)
	case p.Robot != "" && !p.State.setAside():
		return refuse(CodeState, "Pack %s is in %s. Say first where it is, or read it there.", p.Name, t.s().Robots[p.Robot].Name)
	default:
		p.Reading.Charged = false
	}
	if p.State == PackGone && p.Lost && c.State == PackUnread {
		p = p.void(t.when)
	}
	p.Lost = c.State == PackGone && (p.Lost || !p.State.setAside())
	p.State, p.Since = c.State, t.when
	if p.State == PackGone {
		p.Channel, p.Perhaps, p.PlacedAt = "", "", t.when
	}
	t.put(p)
	return nil
}

// rule13 keeps a pack that was set aside from ever coming back into use.
func rule13(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindPack {
			continue
		}
		was, had := t.before.Packs[PackID(id)]
		is, has := t.s().Packs[PackID(id)]
		if had && has && is.Chemistry != was.Chemistry && !is.State.setAside() && t.s().onceBelow(is) {
			return breaks(13, "A cell of pack %s was once below what its chemistry may fall to. Under no chemistry is it for use any more.", is.Name)
		}
		if had && was.State.setAside() && (!has || !t.follows(was, is) || (is.Robot != "" && was.Robot == "" && !is.Found)) {
			return breaks(13, "Pack %s is %s: it is not for use or charge any more, whatever is read or undone. %s", was.Name, was.State, was.keepOff())
		}
	}
	return nil
}

// rule13Gone takes for gone what was set aside only from those who answer for it, and
// anything from nobody who is a minor or guest.
func rule13Gone(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was, had := t.before.Packs[PackID(id)]
		is := t.s().Packs[PackID(id)]
		aside := was.State == PackSuspect || was.State == PackQuarantined
		if k == KindPack && had && is.State == PackGone && was.State != PackGone && !t.answers() {
			return breaks(13, "That pack %s is gone is for a member of the team to say. Call %s.", is.Name, t.s().inCharge())
		}
		if k == KindPack && aside && is.State == PackGone && !t.answersForPacks() {
			return breaks(13, "Pack %s is %s. That it is gone is for a robot's lead, the captain or event safety to say. Call %s.", was.Name, was.State, t.s().inCharge())
		}
	}
	return nil
}

// answersForPacks tells whether the actor is the captain, event safety or a robot's lead.
func (t *turn) answersForPacks() bool {
	if t.by.Role == RoleSystem || t.by.Role == RoleCaptain || t.by.Role == RoleSafety {
		return true
	}
	for _, r := range t.s().Robots {
		if !r.Retired && t.s().leads(t.by, r) {
			return true
		}
	}
	return false
}

// rule13Name gives no pack the name of one that was set aside; nor, by a change of its
// record, of one that is off the board.
func rule13Name(t *turn) *Refusal {
	if t.by.Role == RoleSystem {
		return nil
	}
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was, had := t.before.Packs[PackID(id)]
		is, has := t.s().Packs[PackID(id)]
		if k != KindPack || !has || had && packNamed(was.Name) == packNamed(is.Name) {
			continue
		}
		if bad := t.s().packName(is.ID, is.Name, had); bad != nil {
			return bad
		}
	}
	return nil
}

// packName refuses a name that a pack which was set aside has; to one that had another
// name also that of one which is off the board.
func (s State) packName(id PackID, name string, renamed bool) *Refusal {
	for _, o := range inOrder(s.Packs) {
		if o.ID == id || packNamed(o.Name) != packNamed(name) {
			continue
		}
		switch {
		case o.State.setAside():
			return &Refusal{Code: CodeSafety, Rule: 13, Field: "name", Sentence: "A pack " + o.Name + " was set aside. Give this one a name that no other had."}
		case renamed && o.Retired:
			return &Refusal{Code: CodeSafety, Rule: 13, Field: "name", Sentence: "A pack " + o.Name + " was on the board before. Give this one a name that no other had."}
		}
	}
	return nil
}

// follows tells whether a pack that was set aside may be what it is now. One that is gone
// is set aside again if it turns up; one that was for use the captain takes back, unread.
func (t *turn) follows(was, is Pack) bool {
	if was.State == PackGone && was.Lost && is.State == PackUnread {
		return t.by.Role == RoleCaptain && !t.s().onceBelow(is)
	}
	return is.State.setAside() && (was.State != PackQuarantined || is.State != PackSuspect)
}

// packNamed is what is left of a pack's name as people read it: not the word pack before
// it, nor blanks, dashes, dots, underlines, the number sign and zeros before a number. What
// stands between two figures stays, as a dot: 2.1 and 2-1 are not 21.
func packNamed(name string) string {
	text := []rune(Folded(name))
	if rest, ok := strings.CutPrefix(string(text), "pack"); ok && rest != "" && !unicode.IsLetter([]rune(rest)[0]) {
		text = []rune(rest)
	}
	var read []rune
	digits, apart := false, false
	for i, r := range text {
		zero := r == '0' || r == 'o' && (i == 0 || !unicode.IsLetter(text[i-1]))
		switch {
		case unicode.IsSpace(r) || unicode.Is(unicode.Pd, r) || r == '.' || r == '#' || r == '_':
			apart = digits
			continue
		case zero && (!digits || apart) && i+1 < len(text) && unicode.IsDigit(text[i+1]):
			continue
		}
		if apart && unicode.IsDigit(r) {
			read = append(read, '.')
		}
		digits, apart = unicode.IsDigit(r), false
		read = append(read, r)
	}
	if len(read) == 0 {
		return Folded(name)
	}
	return alikeByHand(string(read))
}
