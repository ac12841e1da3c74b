package board_test

import (
	"flag"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "mendline/board"
)

var steps = flag.Int("steps", 120, "commands in each random sequence")

// walker drives a pit at random, with bad luck and bad will.
type walker struct {
	*pit
	rt  *rapid.T
	wit *witness
	ids []CommandID
}

func TestNoSequenceOfCommandsBreaksARule(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := &walker{pit: newPit(t), rt: rt, wit: &witness{seen: map[RobotID][]glimpse{}}}
		w.begin()
		w.wit.look(w.s, w.now)
		for i := 0; i < *steps; i++ {
			w.now += Moment(rapid.SampledFrom([]int{0, 1, 1000, 30_000, 200_000, 900_000}).Draw(rt, "ms"))
			w.once()
		}
	})
}

// begin brings the robot somewhere along its strip before chance takes over.
func (w *walker) begin() {
	switch rapid.IntRange(0, 4).Draw(w.rt, "begin") {
	case 1:
		w.open()
	case 2:
		w.closedUp()
	case 3:
		w.open()
		w.ready()
	case 4:
		w.open()
		w.ok(w.as(w.ben), JobStart{Job: w.job()})
	}
}

func (w *walker) once() {
	c := w.command()
	by := w.actor()
	if _, line := c.(SheetAnswer); line && rapid.Bool().Draw(w.rt, "fit") {
		by = w.as(rapid.SampledFrom([]PersonID{w.ben, w.dee}).Draw(w.rt, "hand"))
	}
	switch c.(type) {
	case BoardStart, BoardTick:
		by = Itself()
	}
	w.n++
	ask := Ask{ID: newID(w.now, w.n), Seen: w.seen(c)}
	if rapid.IntRange(0, 9).Draw(w.rt, "late") == 0 {
		ask.At = w.now - Moment(rapid.IntRange(0, 3_600_000).Draw(w.rt, "at"))
	}
	before := w.s
	ch, r := Apply(before, c, ask, by, w.now)
	if r != nil {
		require.NotEmpty(w.rt, r.Sentence)
		require.NotEmpty(w.rt, r.Code)
		return
	}
	w.s = before.With(ch)
	w.ids = append(w.ids, ch.Done.ID)
	x := step{before: before, after: w.s, cmd: c, by: by, now: w.now}
	for _, inv := range invariants {
		if !inv.holds(w.wit, x) {
			w.rt.Fatalf("rule %d is broken: %s\nby %s as %s: %T %+v", inv.rule, inv.name, w.s.People[by.Person].Name, by.Role, c, c)
		}
	}
	w.wit.look(w.s, w.now)
	w.survivesTheDisk(ch)
}

// survivesTheDisk checks that every noun put reads back as it was.
func (w *walker) survivesTheDisk(ch Change) {
	for _, n := range ch.Put {
		back, err := DecodeNoun(n.Key(), Encode(n))
		require.NoError(w.rt, err)
		require.Equal(w.rt, string(Encode(n)), string(Encode(back)))
		require.Equal(w.rt, w.s.Rev, n.Rev())
	}
}

func (w *walker) actor() Actor {
	people := []PersonID{w.ada, w.ben, w.ben, w.dee, w.kit, w.gus, w.nia, ""}
	id := rapid.SampledFrom(people).Draw(w.rt, "who")
	by := w.as(id)
	if id == "" {
		by.Role = rapid.SampledFrom([]Role{RoleViewer, RoleCrew, RoleSafety}).Draw(w.rt, "role")
	}
	if rapid.IntRange(0, 4).Draw(w.rt, "proves") == 0 {
		by.Proved = []PersonID{rapid.SampledFrom(people[:7]).Draw(w.rt, "pin")}
	}
	return by
}

func (w *walker) command() Command {
	return rapid.SampledFrom([]func() Command{
		w.line, w.line, w.line, w.line, w.line, w.line, w.tag, w.tag, w.hands, w.jobs, w.jobs, w.jobs, w.packs, w.packs, w.fights, w.power, w.power, w.plain,
	}).Draw(w.rt, "kind")()
}

// line answers an open line, mostly as it asks.
func (w *walker) line() Command {
	var lists []SheetList
	for _, list := range []SheetList{ListMakeSafe, ListFirstIn, ListInspect, ListCloseUp, ListReopen, ListReady} {
		if _, ok := w.s.Sheet(w.moth, list); ok {
			lists = append(lists, list)
		}
	}
	h, _ := w.s.Sheet(w.moth, rapid.SampledFrom(lists).Draw(w.rt, "list"))
	l, ok := h.OpenLine()
	if !ok || rapid.IntRange(0, 7).Draw(w.rt, "elsewhere") == 0 {
		l = h.Lines[rapid.IntRange(0, len(h.Lines)-1).Draw(w.rt, "line")]
	}
	c := SheetAnswer{Sheet: h.ID, Line: l.ID, Said: SaidDone, Place: w.watch, Pack: w.aPack(), Told: w.ben, Number: &l.Most}
	if rapid.IntRange(0, 9).Draw(w.rt, "other") == 0 {
		c.Said = rapid.SampledFrom([]Said{SaidNo, SaidNotFitted, SaidSuspect, SaidOwed}).Draw(w.rt, "said")
	}
	return c
}

func (w *walker) aPack() PackID { return rapid.SampledFrom([]PackID{w.p1, w.p2}).Draw(w.rt, "pack") }

func (w *walker) tag() Command {
	if g := w.tagOf(rapid.SampledFrom([]PersonID{w.ada, w.ben, w.dee}).Draw(w.rt, "owner")); g != "" {
		return TagOff{Tag: g}
	}
	return TagOn{Robot: w.moth, Person: rapid.SampledFrom([]PersonID{"", "", w.ben, w.kit}).Draw(w.rt, "for")}
}

func (w *walker) hands() Command {
	for _, id := range ordered(w.s.Hands) {
		return HandsOff{Hands: id}
	}
	return HandsOn{Robot: w.moth}
}

func (w *walker) jobs() Command {
	id := w.aJob()
	if id == "" {
		fix := swapBlade(w.blade)
		fix.Lockout = rapid.Bool().Draw(w.rt, "lockout")
		fix.PackOut = fix.Lockout
		return JobAdd{JobFields{Robot: w.moth, Name: "blade", Triage: rapid.SampledFrom([]Triage{Must, Could}).Draw(w.rt, "triage"), Fixes: []Fix{fix}}}
	}
	return rapid.SampledFrom([]Command{
		JobStart{Job: id}, JobStart{Job: id}, JobFinish{Job: id}, JobFinish{Job: id}, JobResume{Job: id}, JobHold{Job: id, Why: HoldPart},
		JobReinspect{Job: id}, JobReopen{Job: id}, JobDrop{Job: id}, JobDefer{Job: id, Acceptor: w.ada, Reason: "no time"}, JobAssign{Job: id, People: []PersonID{w.ben}},
	}).Draw(w.rt, "job")
}

func (w *walker) aJob() JobID {
	open := ordered(w.s.Jobs)
	if len(open) == 0 || (len(open) < 3 && rapid.IntRange(0, 3).Draw(w.rt, "new") == 0) {
		return ""
	}
	low := open[0]
	pick := rapid.IntRange(1, 3).Draw(w.rt, "number")
	for _, id := range open {
		if w.s.Jobs[id].Number == pick {
			low = id
		}
	}
	return low
}

func (w *walker) packs() Command {
	p := w.aPack()
	hot := 61.0
	return rapid.SampledFrom([]Command{
		PackMove{Pack: p, Place: w.watch}, PackMove{Pack: p, Place: w.watch}, PackMove{Pack: p, Robot: w.moth},
		PackRead{Pack: p, CellVolts: []float64{4.18, 4.18, 4.19, 4.18}, Charged: true},
		PackRead{Pack: p, TempC: &hot}, PackSet{Pack: p, State: PackWaiting}, PackSet{Pack: p, State: PackSuspect},
	}).Draw(w.rt, "packs")
}

func (w *walker) fights() Command {
	for _, id := range ordered(w.s.Fights) {
		f := w.s.Fights[id]
		if f.State != FightDone {
			return rapid.SampledFrom([]Command{
				FightNow{Arena: "north", Number: f.Number}, FightEnd{Fight: id, Result: Won}, FightEnd{Fight: id, Result: Forfeited},
				FightMove{Fight: id, Arena: "north", Number: f.Number + 1},
			}).Draw(w.rt, "fight")
		}
	}
	return FightAdd{FightFields{Robot: w.moth, Arena: "north", Number: len(w.s.Fights) + 1}}
}

func (w *walker) power() Command {
	return rapid.SampledFrom([]Command{
		RobotCloseUp{Robot: w.moth}, RobotCloseUp{Robot: w.moth}, RobotReopen{Robot: w.moth}, RobotDoubt{Robot: w.moth, Why: "not sure"},
		RobotTest{Robot: w.moth, What: "drive", Place: w.box, Minutes: 5}, RobotTest{Robot: w.moth, What: "drive", Place: w.bench, Minutes: 5},
		RobotTestEnd{Robot: w.moth}, RobotLive{Robot: w.moth, Place: w.arena}, RobotPlace{Robot: w.moth, Place: w.bench},
		RobotPlace{Robot: w.moth, Place: w.arena}, BoardStart{Why: "restart"}, BoardTick{},
	}).Draw(w.rt, "power")
}

// ordered is a table's ids in order, so that one seed gives one sequence.
func ordered[ID ~string, N any](table map[ID]N) []ID {
	return slices.Sorted(maps.Keys(table))
}

func (w *walker) plain() Command {
	if n := len(w.ids); n > 0 && rapid.Bool().Draw(w.rt, "undo") {
		return Undo{Command: w.ids[max(0, n-1-rapid.IntRange(0, 4).Draw(w.rt, "back"))]}
	}
	return rapid.SampledFrom([]Command{
		NoteAdd{Text: "a note"}, StockUse{Stock: w.blade, Count: 1}, StockCount{Stock: w.blade, Count: 3},
		DamageReport{DamageFields{Robot: w.moth, Part: "blade", Grade: G3}},
	}).Draw(w.rt, "plain")
}
