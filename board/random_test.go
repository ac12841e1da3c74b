package board_test

import (
	"flag"
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
}

func TestNoSequenceOfCommandsBreaksARule(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := newPit(t)
		w := &walker{pit: p, rt: rt, Walker: boardtest.Walker{Cast: p.cast, RT: rt}}
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
	given, accepted := map[string]int{}, map[string]int{}
	walk := rapid.Custom(func(rt *rapid.T) bool {
		p := newPit(t)
		w := &walker{pit: p, rt: rt, Walker: boardtest.Walker{Cast: p.cast, RT: rt}}
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
	if rapid.IntRange(0, 9).Draw(w.rt, "late") == 0 {
		ask.At = w.now - Moment(rapid.IntRange(0, 3_600_000).Draw(w.rt, "at"))
	}
	before := w.s
	ch, bad := Apply(before, c, ask, by, w.now)
	if bad != nil {
		require.NotEmpty(w.rt, bad.Sentence)
		require.NotEmpty(w.rt, bad.Code)
		require.Empty(w.rt, boardtest.Deed(before, bad.Sentence), bad.Sentence)
		if w.n%10 == 0 {
			sameAgain(w.rt, bad, before, c, ask, by, w.now)
		}
		return c
	}
	w.s, w.now = before.With(ch), ch.Done.At
	w.Done = append(w.Done, ch.Done.ID)
	if inv, broken := w.wit.Broken(boardtest.Step{Before: before, After: w.s, Command: c, By: by, Now: w.now, Late: ask.At != 0, Seen: ask.Seen}); broken {
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
