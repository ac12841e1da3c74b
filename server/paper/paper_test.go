package paper_test

import (
	"bytes"
	"encoding/binary"
	"html"
	"io"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/forecast"
	"mendline/server/paper"
)

// pit is a board with the cast on it; names are invented.
type pit struct {
	t testing.TB
	boardtest.Cast
	s   board.State
	now board.Moment
	n   uint64
}

func newPit(t testing.TB) *pit {
	p := &pit{t: t, now: board.MomentOf(time.Date(2026, 5, 9, 9, 0, 0, 0, time.UTC))}
	p.Cast = boardtest.NewCast(func(by board.Actor, c board.Command) []board.Key { return p.does(by, c).Done.Made })
	return p
}

func (p *pit) does(by board.Actor, c board.Command) board.Change {
	p.t.Helper()
	p.n++
	p.now += 1000
	var id board.CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(p.now)<<16)
	id[6], id[8] = 0x70, 0x80
	binary.BigEndian.PutUint32(id[12:], uint32(p.n))
	change, bad := board.Apply(p.s, c, board.Ask{ID: id, Seen: boardtest.Seen(p.s, c)}, by, p.now)
	require.Nil(p.t, bad)
	p.s = p.s.With(change)
	return change
}

func (p *pit) captain(c board.Command) {
	p.does(board.Actor{Person: p.Ada, Role: board.RoleCaptain}, c)
}

var tags = regexp.MustCompile(`<[^>]*>`)

// printed is what a reader of a page sees, a blank between its parts.
func (p *pit) printed(print func(*paper.Printer, io.Writer) error) string {
	p.t.Helper()
	var b bytes.Buffer
	require.NoError(p.t, print(paper.New(p.s, p.now, nil), &b))
	text := html.UnescapeString(tags.ReplaceAllString(b.String(), " "))
	return strings.Join(strings.Fields(text), " ")
}

func (p *pit) strip() string {
	p.t.Helper()
	return p.printed(func(q *paper.Printer, w io.Writer) error {
		ok, err := q.Strip(w, p.Moth)
		require.True(p.t, ok)
		return err
	})
}

// inOrder fails unless the parts stand in the text one after the other.
func inOrder(t *testing.T, text string, parts ...string) {
	t.Helper()
	for _, part := range parts {
		i := strings.Index(text, part)
		require.GreaterOrEqual(t, i, 0, "%q is not there, or not in its place", part)
		text = text[i+len(part):]
	}
}

func TestTheStripIsPrintedInItsOrderLineByLine(t *testing.T) {
	p := newPit(t)
	text := p.strip()
	inOrder(t, text, "1 Tin Moth", "MAKE SAFE",
		"Lines 1 to 3", "1 Weapon lock: in, and it stops the weapon by hand? touch: the lock LOCK IN not in name time",
		"2 Removable link: out, and in a pocket?", "3 Transmitter: off, and in whose hands?", "Rotor: at rest, seen by eye?",
		"Pack P1 from outside: whole, no smoke, swelling or smell?", "Power light: dark?", "not fitted",
		"FIRST IN", "Pack P1: unplugged and out. Where is it now?", "where",
		"INSPECT", "1 Weapon, hub", "5 Armour",
		"CLOSE UP", "Charged pack in", "which pack", "who was told",
		"READY", "Failsafe", "at most 1360.8 g", "SIGN TIN MOTH", "signature")
	for _, list := range []board.SheetList{board.ListMakeSafe} {
		sheet, ok := p.s.Sheet(p.Moth, list)
		require.True(t, ok)
		for _, l := range sheet.Lines {
			require.Contains(t, text, l.Ask)
			require.Contains(t, text, l.Say)
		}
	}
}

func TestTheSignatureSheetSaysWhatToKnowBeforeSigning(t *testing.T) {
	p := newPit(t)
	ada := board.Actor{Person: p.Ada, Role: board.RoleCaptain}
	require.NotContains(t, p.strip(), "to know before signing", "nothing stands")
	report := func(part string, g board.Grade, accept bool) {
		p.does(ada, board.DamageReport{DamageFields: board.DamageFields{Robot: p.Moth, Part: part, Grade: g}, Accept: accept})
	}
	settings := p.s.Event().EventFields
	settings.RepairerMaySign = true
	p.does(ada, board.EventSet{EventFields: settings, Reason: "the event says so"})
	other := p.s.Robots[p.Moth].RobotFields
	other.Name, other.Number, other.SecondVerifier = "Clay Wasp", 2, true
	p.does(ada, board.RobotAdd{RobotFields: other})
	for id, robot := range p.s.Robots {
		if robot.Name == other.Name {
			other.SecondVerifier = false
			p.does(ada, board.RobotChange{Robot: id, RobotFields: other, Reason: "the event says so"})
		}
	}
	report("rail", board.G1, true)
	report("belt", board.G2, false)
	ben := board.Actor{Person: p.Ben, Role: board.RoleCrew}
	p.walk(ben, board.ListMakeSafe)
	p.does(ada, board.RobotCloseUp{Robot: p.Moth})
	sheet, _ := p.s.Sheet(p.Moth, board.ListCloseUp)
	p.does(ben, board.PackRead{Pack: p.P2, CellVolts: []float64{4.18, 4.18, 4.19, 4.18}})
	for _, l := range sheet.Lines {
		if l.ID != "told" {
			p.does(ben, board.SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: board.SaidDone, Pack: p.P2})
		}
	}
	p.does(ben, board.SheetAnswer{Sheet: sheet.ID, Line: "told", Said: board.SaidAlone})
	inOrder(t, p.strip(), "READY", "Tin Moth: to know before signing",
		"Relaxed: The person who finished the last repair may sign.", "Damage 1 rail: left as it is, accepted by Ada at 09:00.", "Damage 2 belt: left as it is, and nobody has accepted that.",
		"Closed up at 09:01 by Ben: nobody else at the bench was told.")
	require.Contains(t, p.s.Relaxed(), "Clay Wasp: whoever isolated it may verify it; once a second person did.")
	require.NotContains(t, p.strip(), "Clay Wasp", "that is another robot's")
}

// walk answers a whole sheet.
func (p *pit) walk(by board.Actor, list board.SheetList) {
	p.t.Helper()
	for {
		a, open := boardtest.NextAnswer(p.s, p.Moth, list, by.Person)
		if !open {
			return
		}
		sheet := p.s.Sheets[a.Sheet]
		for _, l := range sheet.Lines {
			if l.ID == a.Line {
				p.now = max(p.now, p.s.RestsAt(p.Moth, l))
			}
		}
		p.does(by, a)
	}
}

func TestTheEventsOwnWordsArePrinted(t *testing.T) {
	p := newPit(t)
	p.captain(board.WordingSet{List: board.ListInspect, Lines: []board.WordedLine{
		{ID: "weapon"}, {ID: "frame", Ask: "Frame on the flat plate: no light under it?"}, {ID: "lock"},
		{ID: "own-belt", Kind: board.LineChoice, Part: "inspect", Ask: "Belt: how worn?", Say: "seen", Not: "not yet", Choices: []string{"new", "worn", "torn"}},
	}})
	inOrder(t, p.strip(), "Frame on the flat plate: no light under it?", "Belt: how worn?", "new worn torn not yet")
}

func TestThePaperNamesOnlyThoseWhoMayAnswer(t *testing.T) {
	p := newPit(t)
	text := p.strip()
	inOrder(t, text, "MAKE SAFE", "who may answer: Ada, Ben, Dee ", "INSPECT", "who may answer: Ada, Ben, Dee, Nia",
		"Line 4 · who may answer: Ada, Dee, Nia; not whoever finished the last repair")
	require.NotContains(t, text, "Kit", "a minor")
	require.NotContains(t, text, "Gus", "a guest")
}

func TestARobotWithoutAPackHasABlankForTheOneThatComesBack(t *testing.T) {
	p := newPit(t)
	p.captain(board.PackMove{Pack: p.P1, Place: p.Watch})
	require.Contains(t, p.strip(), "Pack ________: unplugged and out. Where is it now?")
}

func TestGasIsPrintedWithRoomToLookAgain(t *testing.T) {
	p := newPit(t)
	p.captain(board.RobotChange{Robot: p.Moth, RobotFields: p.Gassed(board.Outside)})
	inOrder(t, p.strip(), "Gas shut off and bled: what does the gauge read?", "bar must read 0 bar", "LOOK AGAIN", "every 15 min", "gas,", "reads name time")
}

func TestNoAnswerIsPrintedBeforehand(t *testing.T) {
	p := newPit(t)
	before := p.strip()
	sheet, _ := p.s.Sheet(p.Moth, board.ListMakeSafe)
	p.does(board.Actor{Person: p.Ben, Role: board.RoleCrew}, board.SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: board.SaidDone})
	changing := regexp.MustCompile(`board revision \d+|printed [^·]*`)
	require.Equal(t, changing.ReplaceAllString(before, ""), changing.ReplaceAllString(p.strip(), ""))
}

// The words "safe" and "clear" are never said of a robot by themselves; what is
// allowed is the name of the first sheet and the words of an emergency.
func TestRule23PaperNeverCallsAnythingSafeOrClear(t *testing.T) {
	p := newPit(t)
	bare := regexp.MustCompile(`(?i)\b(safe|clear)\b`)
	text := p.printed((*paper.Printer).All)
	for _, fine := range []string{"MAKE SAFE", "get clear"} {
		require.Contains(t, text, fine)
		text = strings.ReplaceAll(text, fine, "")
	}
	require.Empty(t, bare.FindAllString(text, -1))
}

func TestTheOfficialsCardIsPrintedWithWhoApprovedIt(t *testing.T) {
	p := newPit(t)
	require.Contains(t, p.strip(), "Raise the alarm – get clear – tell event safety. No official's card is entered.")
	e := p.Settings()
	e.Card = board.Card{Text: "Shout, then go to the blue door.", ApprovedBy: "Olga Invented"}
	p.captain(board.EventSet{EventFields: e})
	inOrder(t, p.strip(), "Shout, then go to the blue door.", "card approved by Olga Invented, entered 9 May 09:00", "desk by the door")
}

func TestTagsAndSlipsNameTheRobotAndLeaveThePersonBlank(t *testing.T) {
	p := newPit(t)
	text := p.printed((*paper.Printer).Tags)
	require.Equal(t, 4, strings.Count(text, "DO NOT POWER 1 Tin Moth"))
	inOrder(t, text, "name", "on, time", "isolator:", "removable link", "rotor", "off by me, time")
	require.Equal(t, 4, strings.Count(p.printed((*paper.Printer).Hands), "HANDS NEAR 1 Tin Moth"))
}

func TestTheRunningOrderHasItsCalls(t *testing.T) {
	p := newPit(t)
	p.captain(board.FightAdd{FightFields: board.FightFields{Robot: p.Moth, Arena: "main", Number: 14, Opponent: "Bent Spoon"}})
	p.captain(board.FightAdd{FightFields: board.FightFields{Robot: p.Moth, Arena: "main", Number: 7, Opponent: "Old Sieve"}})
	var next board.FightID
	for id, f := range p.s.Fights {
		if f.Number == 7 {
			next = id
		}
	}
	at := func(minutes int) board.Moment { return p.now + board.Moment(minutes)*60_000 }
	calls := map[board.RobotID]forecast.Call{p.Moth: {Robot: p.Moth, Fight: next, CallAt: forecast.Spread{Early: at(30), Median: at(40), Late: at(55)}}}
	var b bytes.Buffer
	require.NoError(t, paper.New(p.s, p.now, calls).Order(&b))
	text := strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(b.String(), " "))), " ")
	inOrder(t, text, "main 7 Tin Moth Old Sieve 09:40 (09:30–09:55)", "main 14 Tin Moth Bent Spoon", "Switching on, this event's order", "link in", "Switching off")
}
