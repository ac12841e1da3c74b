package board

import (
	"cmp"
	"slices"
)

// Command is something a person asks of the board. The interface is sealed.
type Command interface {
	// do makes the command's change on t, or says why not.
	do(t *turn) *Refusal
}

// Ask is what comes with a command besides its fields.
type Ask struct {
	ID CommandID
	// At is when the person did it by the device's corrected clock, for a command
	// that waited on a phone; 0 means now.
	At Moment
	// ShiftSec is by how much the board's time had been moved when At was read, as the
	// device had heard: see Clock.
	ShiftSec int
	// Seen holds the revision of each noun the person had before them.
	Seen map[Key]Rev
}

// Actor is who asks, as the server knows it: nothing here comes from the command.
type Actor struct {
	Person PersonID // "" for a screen nobody has claimed and for the board itself
	Role   Role
	// Proved holds the people who typed their own PIN, and so are here.
	Proved []PersonID
	// Before holds who typed a PIN that was forgotten: it proves nothing but that they
	// put on what stands from before.
	Before []BeforePIN
}

// BeforePIN is a person who typed the PIN they had up to a revision.
type BeforePIN struct {
	Person PersonID
	Until  Rev
}

// Itself is the board as an actor: when something falls due, and when the program starts.
func Itself() Actor { return Actor{Role: RoleSystem} }

// proves tells whether p stands behind the request: the device is p's own, or p
// has typed the PIN.
func (a Actor) proves(p PersonID) bool {
	return p != "" && (a.Person == p || slices.Contains(a.Proved, p))
}

// offlineMost is how far back a waiting phone may date what was done.
const offlineMost = 12 * hour

// turn is one command's go at the board.
type turn struct {
	ask  Ask
	by   Actor
	now  Moment // the desk's clock
	when Moment // when the person did it: never later than now

	before State
	draft  *draft
	did    map[Key]bool
	// asked is the board that was asked, and redated the nouns of before that are not as
	// they are there, where the command sets the time.
	asked   State
	redated []Key
	// path holds the power states each robot went through.
	path map[RobotID][]PowerState
	// undoing marks a command that takes another back.
	undoing bool
	command Command
}

// s is the state as changed so far.
func (t *turn) s() State { return t.draft.state }

// late tells that the command waited on a device before it came.
func (t *turn) late() bool { return t.when < t.now-notAtOnce }

// notAtOnce is how long after it was done a command is taken to come at once.
const notAtOnce = 10 * second

func (t *turn) put(n Noun) {
	if p, ok := n.(Pack); ok {
		n = p.unplugged(t.s().Packs[p.ID], t.when)
	}
	n = n.stamp(t.before.Rev + 1)
	t.draft.put(n)
	t.did[n.Key()] = true
}

// edit changes the noun of that id in a table.
func edit[ID ~string, N Noun](t *turn, table map[ID]N, id ID, none *Refusal, how func(*N)) *Refusal {
	n, ok := table[id]
	if !ok {
		return none
	}
	how(&n)
	t.put(n)
	return nil
}

func (t *turn) del(k Key) {
	t.draft.del(k)
	t.did[k] = true
}

// id makes the id of a noun this command brings into being.
func (t *turn) id(k Kind, name string) string { return NewID(t.ask.ID, k, name) }

// Apply asks the board whether by may do c at now. It answers with the change or
// with a refusal, never with both and never with neither.
func Apply(s State, c Command, ask Ask, by Actor, now Moment) (Change, *Refusal) {
	t := &turn{command: c, ask: ask, by: by, now: now, when: now, asked: s, before: s, did: map[Key]bool{}, path: map[RobotID][]PowerState{}}
	if ask.At != 0 {
		at := ask.At + Moment(s.TimeOf().ShiftSec-ask.ShiftSec)*second
		t.when = min(now, max(at, now-offlineMost))
	}
	switch c := c.(type) {
	case TimeSet:
		now += c.by()
		t.now, t.when = now, now
		t.before, t.redated = s.redated(c.by())
	case BoardRestore: // the time is the replaced board's already
		t.before, t.redated = s.redated(c.moves(s))
	}
	t.draft = newDraft(t.before)
	row, ok := rowOf(c)
	if !ok {
		panic("board: command is not in the table")
	}
	if bad := t.take(row); bad != nil {
		bad.RuleSays = saying(bad.Rule)
		s.quoteOwed(bad, now)
		return Change{}, bad
	}
	return t.change(row), nil
}

// Refuses says why the board would refuse a command, given now by someone who sees it as it
// is; nil where it would take it.
func (s State) Refuses(c Command, by Actor, now Moment) *Refusal {
	_, bad := Apply(s, c, s.Shown(c), by, now)
	return bad
}

// Shown is what a command says that its sender saw who sees the state as it is.
func (s State) Shown(c Command) Ask {
	ask := Ask{Seen: map[Key]Rev{}}
	if g, ok := c.(guarded); ok {
		for _, key := range g.Guards(s) {
			if n, ok := s.Get(key); ok {
				ask.Seen[key] = n.Rev()
			}
		}
	}
	return ask
}

// take does the command and what follows from it, and asks the rules.
func (t *turn) take(row row) *Refusal {
	if bad := first(row.allows(t.by), rule19(t)); bad != nil {
		return bad
	}
	t.dueByNow()
	if bad := t.command.do(t); bad != nil {
		return bad
	}
	if bad := t.valid(); bad != nil {
		return bad
	}
	t.dueByNow()
	t.consequences()
	return t.rules()
}

// guardFresh is how old a command may be that gives power or a guard back, in
// milliseconds: less than the 10 s after which a phone says that no answer came,
// by what its clock may be off. Our decision.
const guardFresh = 8 * second

// rule19 refuses a command whose sender saw nouns that have changed since, and a
// command that gives energy back without saying what was seen or that comes late:
// a network that was gone may deliver what its sender has given up.
func rule19(t *turn) *Refusal {
	if g, ok := t.command.(guarded); ok && t.by.Role != RoleSystem {
		guards := g.Guards(t.asked)
		if len(guards) > 0 && t.when < t.now-guardFresh {
			return &Refusal{Code: CodeTooLate, Rule: 19, Now: guards[0],
				Sentence: "This was given a while before the board could hear of it, and it gives power or a guard back, or asks less. Look again, and repeat it if it still holds."}
		}
		for _, key := range guards {
			if _, saw := t.ask.Seen[key]; !saw {
				return &Refusal{Code: CodeStale, Rule: 19, Field: "seen", Now: key,
					Sentence: "This gives power or a guard back, or asks less, so it must say what it saw on the board. Look again and repeat."}
			}
		}
	}
	if OnlyRaises(t.command) || t.asked.saysWorse(t.command) {
		return nil
	}
	for _, key := range sortedKeys(t.ask.Seen) {
		n, ok := t.asked.Get(key)
		var v Rev
		if ok {
			v = n.Rev()
		}
		if v != t.ask.Seen[key] {
			return &Refusal{Code: CodeStale, Rule: 19, Field: "seen", Now: key,
				Sentence: "Someone changed this since you looked. Read what it says now, then repeat if it still holds."}
		}
	}
	return nil
}

// guarded is a command that releases a guard: it must carry the revision of each
// noun that Guards names.
type guarded interface{ Guards(State) []Key }

// saysWorse tells whether a command only says that something is not as it should be: it is
// heard whatever its sender saw.
func (s State) saysWorse(c Command) bool {
	switch c := c.(type) {
	case DamageReport:
		return true
	case PackSet:
		return c.State == PackSuspect
	case PackRead:
		return c.Look != "" && c.Look != LookFine || s.Packs[c.Pack].suspectBy(c)
	case SheetAnswer:
		sheet := s.Sheets[c.Sheet]
		l, ok := sheet.LineOf(c.Line)
		return c.Said == SaidNo || ok && c.readsWrong(sheet, l, s.Powers[sheet.Robot])
	}
	return false
}

// valid asks of the nouns that the command put. It comes before what follows by
// itself: a job that is held because its robot left work must never stand in the
// way of a tag that comes off, of a doubt or of a restart.
func (t *turn) valid() *Refusal {
	for _, key := range sortedKeys(t.did) {
		if n, ok := t.s().Get(key); ok {
			if bad := n.valid(t.s()); bad != nil {
				return bad
			}
		}
	}
	return t.names()
}

func (t *turn) change(row row) Change {
	rev := t.before.Rev + 1
	c := Change{Rev: rev, Done: Done{
		ID: t.ask.ID, Rev: rev, At: t.now, By: t.by.Person, Role: t.by.Role, Do: row.name, Final: row.final,
	}}
	for _, key := range t.redated {
		t.did[key] = true
	}
	for _, key := range sortedKeys(t.did) {
		was, had := t.asked.Get(key)
		is, has := t.s().Get(key)
		if had {
			c.Done.Was = append(c.Done.Was, was)
		}
		switch {
		case has:
			c.Put = append(c.Put, is)
			if !had {
				c.Done.Made = append(c.Done.Made, key)
			}
		case had:
			c.Del = append(c.Del, key)
		}
	}
	return c
}

func sortedKeys[V any](m map[Key]V) []Key {
	keys := make([]Key, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, cmp.Compare[Key])
	return keys
}
