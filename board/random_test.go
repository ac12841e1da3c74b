package board_test

import (
	"flag"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "mendline/board"
	"mendline/board/boardtest"
)

var steps = flag.Int("steps", 120, "commands in each random sequence")

// walker drives a pit at random.
type walker struct {
	*pit
	boardtest.Walker
	wit boardtest.Witness
	rt  *rapid.T
	// files are copies of the board that it may go on from.
	files []file
	// met counts what a walk is for, where it was accepted or refused for that.
	met map[string]int
}

// meetings are what every long walk comes upon.
var meetings = []string{
	"a guest's word", "a minor's word", "a phone whose clock is ahead", "a phone whose clock is hours behind", "a phone that has not heard of the time being set",
	"a word from before a charge", "a word from before someone stayed with a charge", "a word from before a charge was in doubt", "a guest's word of a charge",
	"a PIN forgotten", "an old PIN", "a word of whose PIN was forgotten", "an older file", "an older file from before the time was set", "a place off the board", "a place on it again",
	"a name that reads as another's", "a robot that keeps its name", "a robot of another name",
}

// meets counts what a command was about.
func (w *walker) meets(before State, c Command, ask Ask, by Actor, bad *Refusal) {
	who, at := before.People[by.Person], boardtest.Dated(before, ask.At, ask.ShiftSec, w.now)
	late := func(p Pack, than Moment) bool { return at != 0 && p.State == PackCharging && at < than }
	_, undo := c.(Undo)
	for what, so := range map[string]bool{
		"a name that reads as another's": bad != nil && bad.Code == CodeTaken && bad.Field == "name",
		"a robot that keeps its name":    bad != nil && strings.Contains(bad.Sentence, " keeps its name while "),
	} {
		if so {
			w.met[what]++
		}
	}
	if bad != nil {
		return
	}
	said := map[string]bool{
		"a guest's word": who.Guest, "a minor's word": who.Minor,
		"a phone whose clock is ahead": ask.At > w.now, "a phone whose clock is hours behind": ask.At != 0 && ask.At < w.now-2*hour,
		"a phone that has not heard of the time being set": ask.At != 0 && ask.ShiftSec != before.TimeOf().ShiftSec,
		"an old PIN": len(by.Before) > 0, "a word of whose PIN was forgotten": who.Forgotten.At != 0,
	}
	for id, p := range before.Packs {
		about := !undo && w.s.Packs[id].V != p.V && by.Role != RoleSystem
		said["a word from before a charge"] = said["a word from before a charge"] || about && late(p, p.Since)
		said["a word from before someone stayed with a charge"] = said["a word from before someone stayed with a charge"] || about && late(p, p.AttendAt)
		said["a word from before a charge was in doubt"] = said["a word from before a charge was in doubt"] || about && p.Unsure && late(p, p.UnsureAt)
		said["a guest's word of a charge"] = said["a guest's word of a charge"] || about && p.State == PackCharging && who.Guest
	}
	switch c := c.(type) {
	case PersonForget:
		said["a PIN forgotten"] = true
	case PlaceRetire:
		said["a place off the board"] = true
	case PlaceAdd:
		for id, place := range before.Places {
			said["a place on it again"] = said["a place on it again"] || place.Retired && !w.s.Places[id].Retired
		}
	case RobotChange:
		said["a robot of another name"] = before.Robots[c.Robot].Name != c.Name
	case BoardRestore:
		said["an older file"] = c.Last < w.now
		said["an older file from before the time was set"] = c.Clock.ShiftSec != before.TimeOf().ShiftSec
	}
	for what, so := range said {
		if so {
			w.met[what]++
		}
	}
}

// file is a board as it was, with the time by which it was so.
type file struct {
	State
	at Moment
}

func TestNoSequenceOfCommandsBreaksARule(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := newPit(t)
		w := &walker{pit: p, rt: rt, Walker: boardtest.Walker{Cast: p.cast, RT: rt}, met: map[string]int{}}
		w.begin()
		w.wit.Look(w.s, w.now)
		for i := 0; i < *steps; i++ {
			w.now += Moment(rapid.SampledFrom([]int{0, 1, 1000, 30_000, 200_000, 900_000}).Draw(rt, "ms"))
			w.once()
		}
	})
}

// unwalked names the commands that no random sequence gives, and why.
var unwalked = map[string]string{
	"team.load": "it fills an empty board, and the walk begins on a full one: package team loads random teams",
}

// TestEveryCommandIsWalkedAtRandom walks sequences of fixed seeds, and finds every
// command of the table given in them, or named with the reason why not.
func TestEveryCommandIsWalkedAtRandom(t *testing.T) {
	const sequences, long = 80, 400
	given, accepted, met := map[string]int{}, map[string]int{}, map[string]int{}
	walk := rapid.Custom(func(rt *rapid.T) bool {
		p := newPit(t)
		w := &walker{pit: p, rt: rt, Walker: boardtest.Walker{Cast: p.cast, RT: rt}, met: met}
		w.begin()
		for range long {
			w.now += Moment(rapid.SampledFrom([]int{0, 1, 1000, 30_000, 200_000}).Draw(rt, "ms"))
			before := w.s.Rev
			name := Name(w.once())
			given[name]++
			if w.s.Rev > before {
				accepted[name]++
			}
		}
		return true
	})
	for seed := range sequences {
		walk.Example(seed)
	}
	var never []string
	for _, name := range CommandNames() {
		if why, not := unwalked[name]; not {
			require.NotEmpty(t, why)
			require.Zero(t, given[name], "%s is walked after all", name)
			continue
		}
		require.NotZero(t, given[name], "%s is never given: let boardtest.Walker give it, or say in unwalked why not", name)
		if accepted[name] == 0 {
			never = append(never, name)
		}
	}
	require.LessOrEqual(t, len(never), len(given)/12, "given and never accepted, so hardly walked: %v", never)
	for _, what := range meetings {
		require.NotZero(t, met[what], "no walk meets %s", what)
	}
	t.Log(met)
	t.Logf("%d of %d commands are walked; given and never accepted: %v", len(given), len(CommandNames()), never)
}

// begin brings the robot somewhere along its strip before chance takes over.
func (w *walker) begin() {
	if reach := rapid.SampledFrom([]Reach{"", Outside, Inside}).Draw(w.rt, "gas"); reach != "" {
		w.captain(RobotChange{Robot: w.moth, RobotFields: w.cast.Gassed(reach)})
	}
	switch rapid.IntRange(0, 5).Draw(w.rt, "begin") {
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
	case 5:
		w.closedUp()
		w.ok(w.as(w.kit), JobStart{Job: w.loose(AtRobot)})
	}
}

// once gives one command, and tells which.
func (w *walker) once() Command {
	c, by := w.Next(w.s)
	w.n++
	ask := Ask{ID: newID(w.now, w.n), Seen: w.seen(c)}
	ask.At, ask.ShiftSec = w.When(w.s, c, w.now)
	before := w.s
	if _, restores := c.(BoardRestore); restores {
		older, clock := file{w.s, w.now}, w.s.TimeOf()
		if len(w.files) > 0 && rapid.IntRange(0, 3).Draw(w.rt, "older file") != 0 {
			older = w.files[rapid.IntRange(0, len(w.files)-1).Draw(w.rt, "file")]
		}
		c, before = w.s.Replaced(BoardRestore{Why: "restored", Last: older.at, Clock: &clock}), older.State
	}
	if rapid.IntRange(0, 15).Draw(w.rt, "keep a file") == 0 {
		w.files = append(w.files, file{w.s, w.now})
	}
	ch, bad := Apply(before, c, ask, by, w.now)
	if bad != nil {
		w.meets(before, c, ask, by, bad)
		require.NotContains(w.rt, []string{"board.start", "board.restore"}, Name(c), "the board starts whatever it holds, and was told: %s", bad.Sentence)
		require.NotEmpty(w.rt, bad.Sentence)
		require.NotEmpty(w.rt, bad.Code)
		require.Empty(w.rt, boardtest.Deed(before, bad.Sentence), bad.Sentence)
		if w.n%10 == 0 {
			sameAgain(w.rt, bad, before, c, ask, by, w.now)
		}
		return c
	}
	w.s = before.With(ch)
	w.meets(before, c, ask, by, nil)
	w.now = ch.Done.At
	w.Done = append(w.Done, ch.Done.ID)
	if inv, broken := w.wit.Broken(boardtest.Step{Before: before, After: w.s, Command: c, By: by, Now: w.now, At: boardtest.Dated(before, ask.At, ask.ShiftSec, w.now), Seen: ask.Seen}); broken {
		w.rt.Fatalf("rule %d is broken: %s\nby %s as %s: %T %+v", inv.Rule, inv.Name, w.s.People[by.Person].Name, by.Role, c, c)
	}
	w.wit.Look(w.s, w.now)
	w.survivesTheDisk(ch)
	return c
}

// survivesTheDisk checks that every noun put reads back as it was.
func (w *walker) survivesTheDisk(ch Change) {
	for _, n := range ch.Put {
		back, err := DecodeNoun(n.Key(), Encode(n))
		require.NoError(w.rt, err)
		require.Equal(w.rt, string(Encode(n)), string(Encode(back)))
		switch n.(type) {
		case Tag, Hands: // they keep theirs when the time is set
			require.LessOrEqual(w.rt, n.Rev(), w.s.Rev)
		default:
			require.Equal(w.rt, w.s.Rev, n.Rev())
		}
	}
}
