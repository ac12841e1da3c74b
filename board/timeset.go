package board

import (
	"fmt"
	"reflect"
	"strings"
)

// Clock is what was done to the board's time. Whoever sets the laptop's clock moves it by
// nothing.
type Clock struct {
	V Rev `json:"v"`
	// ShiftSec is by how much the board's time was moved in all: what a phone dated
	// before it heard of that is moved by the rest.
	ShiftSec int `json:"shiftSec"`
	// BySec is by how much it was moved last, by By, At the time it was moved to. By is
	// nobody where a backup does not know them.
	BySec int      `json:"bySec"`
	By    PersonID `json:"by,omitzero"`
	At    Moment   `json:"at,omitzero"`
}

const clockID = "clock"

func (c Clock) Key() Key         { return KeyOf(KindClock, clockID) }
func (c Clock) Rev() Rev         { return c.V }
func (c Clock) stamp(r Rev) Noun { c.V = r; return c }

func (c Clock) valid(s State) *Refusal {
	if _, ok := s.People[c.By]; !ok && c.By != "" {
		return missing("person", "by")
	}
	return nil
}

// TimeOf is what was done to the board's time; the zero Clock where nothing was.
func (s State) TimeOf() Clock { return s.clock[clockID] }

// TimeSet moves the board's time, and all that is dated by it: how long ago a thing was
// stays as it is. What people entered by the event's own clock stays where it is. The
// command is done at the time it sets. After it nothing that was declared counts.
type TimeSet struct {
	BySec int `json:"bySec"`
	// Sure says that the captain has looked at the date again.
	Sure bool `json:"sure,omitzero"`
}

// timeSetAskedSec is the most by which the time is moved without being asked
// again: our decision.
const timeSetAskedSec = 24 * 3600

// timeSetMostSec is the most by which the time is moved: a laptop whose clock has lost
// its battery begins decades ago.
const timeSetMostSec = 60 * 366 * 24 * 3600

func (c TimeSet) by() Moment { return Moment(c.BySec) * second }

func (c TimeSet) do(t *turn) *Refusal {
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if c.BySec == 0 {
		return refuse(CodeNothingToDo, "The board has that time already.")
	}
	if bad := checkRange("bySec", c.BySec, -timeSetMostSec, timeSetMostSec, "seconds"); bad != nil {
		return bad
	}
	if long := max(c.by(), -c.by()); long > timeSetAskedSec*second && !c.Sure {
		return &Refusal{Code: CodeUnlikely, Field: "sure",
			Sentence: "This moves the board's time by " + long.Long() + ", to " + (t.now + Moment(t.s().Event().OffsetMin)*minute).Time().Format("2 January 2006, 15:04") + ". Look at the date again: is that today?"}
	}
	if bad := (BoardStart{Why: "the board's time was set"}).do(t); bad != nil {
		return bad
	}
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		p = p.void(t.now)
		p.Reading.Charged = false
		t.put(p)
	}
	t.put(Clock{ShiftSec: t.s().TimeOf().ShiftSec + c.BySec, BySec: c.BySec, By: person.ID, At: t.now})
	return nil
}

// rule18TimeSet leaves no robot declared and no pack for use when the time was set.
func rule18TimeSet(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if power.State != Unknown {
			return breaks(18, "The time was set, so %s is unknown.", t.s().Robots[id].Name)
		}
	}
	for _, p := range inOrder(t.s().Packs) {
		if p.State != PackUnread && p.State != PackCharging && !p.State.setAside() && !p.Unread {
			return breaks(18, "The time was set, so pack %s is unread.", p.Name)
		}
	}
	return nil
}

// redated is the state with all that the board dated moved, and the keys of the nouns in
// which something was. A tag and hands near keep their revision: by it is known which PIN
// they were put on with.
func (s State) redated(by Moment) (State, []Key) {
	if by == 0 {
		return s, nil
	}
	d := newDraft(s)
	var keys []Key
	for _, n := range s.Nouns() {
		if moved, any := redate(reflect.ValueOf(n), by); any {
			is := moved.Interface().(Noun)
			if kind, _ := n.Key().Split(); kind != KindTag && kind != KindHands {
				is = is.stamp(s.Rev + 1)
			}
			d.put(is)
			keys = append(keys, n.Key())
		}
	}
	return d.state, keys
}

// redate is a value with every Moment in it moved, but for what is tagged as said by the
// event's clock; any tells whether there was one.
func redate(v reflect.Value, by Moment) (moved reflect.Value, any bool) {
	switch {
	case v.Type() == reflect.TypeFor[Moment]():
		if v.Int() == 0 {
			return v, false
		}
		return reflect.ValueOf(Moment(v.Int()) + by), true
	case v.Kind() == reflect.Struct:
		is := reflect.New(v.Type()).Elem()
		is.Set(v)
		for i := range v.NumField() {
			if v.Type().Field(i).Tag.Get("moment") == "event" {
				continue
			}
			if field, had := redate(v.Field(i), by); had {
				is.Field(i).Set(field)
				any = true
			}
		}
		return is, any
	case v.Kind() == reflect.Slice && !v.IsNil():
		is := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		for i := range v.Len() {
			field, had := redate(v.Index(i), by)
			is.Index(i).Set(field)
			any = any || had
		}
		return is, any
	}
	return v, false
}

// Moves says what a command that sets the time would move, as whoever gives it at now
// would see it.
func (c TimeSet) Moves(s State, by Actor, now Moment) ([]string, *Refusal) {
	c.Sure = true
	change, bad := Apply(s, c, Ask{}, by, now)
	if bad != nil {
		return nil, bad
	}
	after := s.With(change)
	says := []string{c.says(s, now), "All that the board has dated moves with it: how long ago a thing was stays as it is. Nothing done before can be taken back."}
	add := func(one, more string, names []string) {
		switch {
		case len(names) == 1:
			says = append(says, fmt.Sprintf(one, names[0]))
		case len(names) > 1:
			says = append(says, fmt.Sprintf(more, listNames(names)))
		}
	}
	var robots, packs, charges, held, stays []string
	for _, r := range Sorted(s.Robots, func(r Robot) string { return r.Name }) {
		if !r.Retired {
			robots = append(robots, r.Name)
		}
	}
	for _, p := range Sorted(after.Packs, func(p Pack) string { return p.Name }) {
		switch was := s.Packs[p.ID]; {
		case p.Retired || p.State.setAside():
		case p.State == PackCharging:
			charges = append(charges, p.Name)
		case was.State != p.State || was.Unread != p.Unread:
			packs = append(packs, p.Name)
		}
	}
	for _, j := range inJobOrder(after) {
		if j.State != s.Jobs[j.ID].State {
			held = append(held, fmt.Sprintf("job %d of %s", j.Number, s.Robots[j.Robot].Name))
		}
	}
	add("%s becomes unknown, and is made safe again.", "%s become unknown, and each is made safe again.", robots)
	add("Pack %s becomes unread.", "Packs %s become unread.", packs)
	add("Someone says again that they stay with pack %s, which charges.", "Someone says again that they stay with packs %s, which charge.", charges)
	add("Work is on hold on %s.", "Work is on hold on %s.", held)
	for _, f := range Sorted(s.Fights, func(f Fight) string { return f.NotBefore.String() }) {
		if f.NotBefore > now && f.State != FightDone {
			stays = append(stays, fmt.Sprintf("fight %d not before %s", f.Number, s.Clock(f.NotBefore)))
		}
	}
	for _, b := range s.Event().Breaks {
		if b.To > now {
			stays = append(stays, "the break from "+s.Clock(b.From)+" to "+s.Clock(b.To))
		}
	}
	if permit := s.Event().HotWork; permit.Until > now {
		stays = append(stays, "the hot-work permit until "+s.Clock(permit.Until))
	}
	add("What the event's clock says stays: %s.", "What the event's clock says stays: %s.", stays)
	return says, nil
}

// says is what happens to the time itself.
func (c TimeSet) says(s State, now Moment) string {
	how, long := "goes forward", c.by()
	if c.BySec < 0 {
		how, long = "goes back", -c.by()
	}
	form := "15:04"
	if offset := s.Event().OffsetMin; now.Day(offset) != (now + c.by()).Day(offset) {
		form = "2 Jan 15:04"
	}
	at := func(m Moment) string {
		return (m + Moment(s.Event().OffsetMin)*minute).Time().Format(form)
	}
	return strings.Join([]string{"The board's time", how, long.Long() + ":", at(now), "becomes", at(now+c.by()) + "."}, " ")
}
