package board_test

import (
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
	"mendline/board/charge"
)

// pit is a board under test with a clock that the test moves. Names are
// invented.
type pit struct {
	t    testing.TB
	cast boardtest.Cast
	s    State
	now  Moment
	n    uint64
	saw  func() // told of every change, where someone watches

	ada, ben, dee, kit, gus, nia PersonID
	moth                         RobotID
	bench, box, arena, watch     PlaceID
	shelf                        PlaceID
	p1, p2                       PackID
	blade                        StockID
}

var morning = MomentOf(time.Date(2026, 5, 9, 9, 0, 0, 0, time.UTC))

func newID(now Moment, n uint64) CommandID {
	var id CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(now)<<16)
	id[6] = 0x70
	binary.BigEndian.PutUint64(id[8:], n)
	id[8] = 0x80 | id[8]&0x3f
	return id
}

// newPit has the cast on its board.
func newPit(t testing.TB) *pit {
	p := &pit{t: t, now: morning}
	c := boardtest.NewCast(func(by Actor, cmd Command) []Key { return p.ok(by, cmd).Done.Made })
	p.cast = c
	p.ada, p.ben, p.dee, p.kit, p.gus, p.nia = c.Ada, c.Ben, c.Dee, c.Kit, c.Gus, c.Nia
	p.moth, p.blade, p.p1, p.p2 = c.Moth, c.Blade, c.P1, c.P2
	p.bench, p.box, p.arena, p.watch, p.shelf = c.Bench, c.Box, c.Arena, c.Watch, c.Shelf
	return p
}

func (p *pit) settings() EventFields { return p.cast.Settings() }

func (p *pit) person(f PersonFields) PersonID {
	return PersonID(p.made(p.captain(PersonAdd{PersonFields: f})))
}

func (p *pit) pack(name string) PackID {
	return PackID(p.made(p.captain(PackAdd{PackFields{
		Name: name, Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.65, ChargeAmpsMost: 0.65, Use: UseMain, Fits: []RobotID{p.moth},
	}})))
}

func (p *pit) captain(c Command) Change {
	p.t.Helper()
	return p.ok(Actor{Person: p.ada, Role: RoleCaptain}, c)
}

// as is a person's own device, with the role the roster gives.
func (p *pit) as(id PersonID) Actor {
	return Actor{Person: id, Role: p.s.People[id].Role}
}

// try asks the board and adopts what it allows. It says what it has seen, as a
// screen that is up to date would.
func (p *pit) try(by Actor, c Command) (Change, *Refusal) {
	p.n++
	p.now += 1000
	return p.tryAsk(by, c, Ask{ID: newID(p.now, p.n), Seen: p.seen(c)})
}

func (p *pit) tryAsk(by Actor, c Command, ask Ask) (Change, *Refusal) {
	ch, bad := Apply(p.s, c, ask, by, p.now)
	sameAgain(p.t, bad, p.s, c, ask, by, p.now)
	if bad == nil {
		p.s = p.s.With(ch)
		if p.saw != nil {
			p.saw()
		}
	}
	return ch, bad
}

// timesAsked is how often a refused command is asked again: chance would choose the
// same of two that often once in a million.
const timesAsked = 20

// sameAgain asks again what was refused. The answer is the same byte for byte: where
// two could be named, no chance names one of them.
func sameAgain(t require.TestingT, bad *Refusal, s State, c Command, ask Ask, by Actor, now Moment) {
	if bad == nil {
		return
	}
	want := wire(t, bad)
	for range timesAsked {
		_, again := Apply(s, c, ask, by, now)
		require.Equal(t, want, wire(t, again), Name(c))
	}
}

func wire(t require.TestingT, bad *Refusal) string {
	b, err := json.Marshal(bad)
	require.NoError(t, err)
	return string(b)
}

func (p *pit) seen(c Command) map[Key]Rev { return boardtest.Seen(p.s, c) }

func (p *pit) ok(by Actor, c Command) Change {
	p.t.Helper()
	ch, bad := p.try(by, c)
	if bad != nil {
		require.FailNow(p.t, fmt.Sprintf("%s refused: %s (%s, rule %d, field %s)", Name(c), bad.Sentence, bad.Code, bad.Rule, bad.Field))
	}
	return ch
}

func (p *pit) refused(by Actor, c Command, rule int) *Refusal {
	p.t.Helper()
	_, bad := p.try(by, c)
	require.NotNil(p.t, bad, "%s was accepted", Name(c))
	require.Equal(p.t, rule, bad.Rule, bad.Sentence)
	require.NotEmpty(p.t, bad.Sentence)
	return bad
}

func (p *pit) made(ch Change) string {
	_, id := ch.Done.Made[0].Split()
	return id
}

func (p *pit) madeKind(k Kind, ch Change) string {
	p.t.Helper()
	for _, key := range ch.Done.Made {
		if kind, id := key.Split(); kind == k {
			return id
		}
	}
	p.t.Fatalf("no %s was made", k)
	return ""
}

func (p *pit) state() PowerState { return p.s.Powers[p.moth].State }

// read reads the cells of a pack that is out of the robot and not set aside.
func (p *pit) read(id PackID) {
	p.t.Helper()
	if k := p.s.Packs[id]; k.Robot == "" && k.State != PackSuspect && k.State != PackQuarantined && k.State != PackGone {
		p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: []float64{4.18, 4.18, 4.19, 4.18}})
	}
}

// answer gives the open line of a sheet its plain answer.
func (p *pit) answer(by Actor, list SheetList) {
	p.t.Helper()
	sheet, ok := p.s.Sheet(p.moth, list)
	require.True(p.t, ok, "no %s sheet", list)
	l, ok := sheet.OpenLine()
	require.True(p.t, ok, "%s has no open line", list)
	c := SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone}
	switch l.Kind {
	case LineLook:
		if boardtest.SetAside(p.s.Packs[l.Pack]) {
			c.Said = SaidSuspect
		}
	case LineProof:
		c.Said = SaidOwed
	case LinePlace:
		c.Place = p.watch
	case LinePack:
		if c.Pack = p.packFor(sheet); c.Pack == "" {
			c.Said = SaidNotFitted
		}
	case LineTold:
		if c.Told = p.ben; by.Person == p.ben {
			c.Told = p.dee
		}
	case LineNumber:
		c.Number = &l.Most
	case LineChoice:
		c.Choice = l.Choices[0]
	}
	p.rests(l)
	p.ok(by, c)
}

// packFor is P2 for the first line about packs, then one that is in and not named yet.
func (p *pit) packFor(sheet Sheet) PackID {
	named := map[PackID]bool{}
	for _, l := range sheet.Lines {
		a, _ := sheet.Answered(l.ID)
		named[a.Pack] = true
	}
	if !named[p.p2] {
		p.read(p.p2)
		return p.p2
	}
	for _, k := range Sorted(p.s.Packs, func(k Pack) string { return k.Name }) {
		if k.Robot == p.moth && !named[k.ID] {
			return k.ID
		}
	}
	return ""
}

// rests lets the time pass that what a line is about takes to come to rest.
func (p *pit) rests(l Line) { p.now = max(p.now, p.s.RestsAt(p.moth, l)) }

// walk answers a whole sheet.
func (p *pit) walk(by Actor, list SheetList) {
	p.t.Helper()
	for {
		sheet, ok := p.s.Sheet(p.moth, list)
		require.True(p.t, ok, "no %s sheet", list)
		if _, open := sheet.OpenLine(); !open {
			return
		}
		p.answer(by, list)
	}
}

// makeSafe walks a robot to verified.
func (p *pit) makeSafe() {
	p.t.Helper()
	p.walk(p.as(p.ben), ListMakeSafe)
	require.Equal(p.t, Verified, p.state())
}

// open brings the robot to work with Ben's tag on and its packs out.
func (p *pit) open() {
	p.t.Helper()
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	if sheet, ok := p.s.Sheet(p.moth, ListFirstIn); ok && sheet.State == SheetOpen {
		p.walk(p.as(p.ben), ListFirstIn)
	}
	require.Equal(p.t, Work, p.state())
}

func (p *pit) tagOff(by Actor, owner PersonID) (Change, *Refusal) {
	return p.try(by, TagOff{Tag: p.tagOf(owner)})
}

func (p *pit) tagOf(owner PersonID) TagID {
	for id, tag := range p.s.Tags {
		if tag.Person == owner {
			return id
		}
	}
	return ""
}

func swapBlade(blade StockID) Fix { return boardtest.SwapBlade(blade) }

// job adds a job to swap the blade.
func (p *pit) job() JobID {
	p.t.Helper()
	return JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "swap blade", Triage: Must, Fixes: []Fix{swapBlade(p.blade)},
	}})))
}

func (p *pit) jobState(id JobID) JobState { return p.s.Jobs[id].State }

// ready walks the robot from work, with Ben's tag on, to ready.
func (p *pit) ready() {
	p.t.Helper()
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(p.t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	for p.state() != Ready {
		sheet, _ := p.s.Sheet(p.moth, ListReady)
		l, _ := sheet.OpenLine()
		by := p.as(p.ben)
		if l.Kind == LineSign {
			by = p.as(p.dee)
		}
		p.answer(by, ListReady)
	}
}

func sentenceHas(t *testing.T, bad *Refusal, word string) {
	t.Helper()
	require.True(t, strings.Contains(bad.Sentence, word), "%q does not name %q", bad.Sentence, word)
}
