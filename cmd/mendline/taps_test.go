package main

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/cmd/mendline/demo"
)

// The most taps for a beetle from cart to call, with one pack and
// two swaps: our decision, no source.
const (
	tapsWithTest    = 55
	tapsWithoutTest = 40
	typedMost       = 12
	recheckLines    = 8
)

// hand is one person's hand on one phone: every pointer and key event it makes is
// counted, by itself and by the page it touches.
type hand struct {
	*device
	taps     int // buttons pressed or held
	typed    int // figures and letters typed
	readings int // of a scale or a cell: counted apart
}

// countEvents counts in the page what comes from a pointer or a key.
const countEvents = `if (!window.counted) {
  window.counted = {pointers: 0, keys: 0};
  addEventListener("pointerdown", (e) => { if (e.isTrusted) counted.pointers++; }, true);
  addEventListener("keydown", (e) => { if (e.isTrusted) counted.keys++; }, true);
}`

// takes begins the count on a phone that shows its first page.
func takes(d *device) *hand {
	d.again = 0
	d.runs(countEvents)
	return &hand{device: d}
}

func (h *hand) tap(words string) {
	h.t.Helper()
	h.press(words)
	h.taps++
}

func (h *hand) holds(words, done string) {
	h.t.Helper()
	h.hold(words, done)
	h.taps++
}

// reads types what a scale shows on the pad's keys.
func (h *hand) reads(figures string) {
	h.t.Helper()
	for _, f := range figures {
		h.press(string(f))
		h.readings++
	}
}

// checks compares the count with the page's own.
func (h *hand) checks() {
	h.t.Helper()
	require.Equal(h.t, h.taps+h.readings+h.again, gets[int](h.device, `counted.pointers`), "%s: pointers that the page felt", h.name)
	require.Equal(h.t, h.typed, gets[int](h.device, `counted.keys`), "%s: keys that the page felt", h.name)
}

// turnaround is how one robot is walked.
type turnaround struct {
	robot    string
	place    string   // where a pack goes that came out
	fitted   []string // packs that came back in it
	fresh    []string // charged packs that go in
	told     string
	grams    string
	failsafe string
}

var beetleTurn = turnaround{robot: "Nettlepip", place: "Charging shelf", fitted: []string{"N1"}, fresh: []string{"N2"}, told: "Wim", grams: "1352", failsafe: "owed to the officials"}

// newest is a robot's newest sheet of a list.
func (s *served) newest(robot string, list board.SheetList) board.Sheet {
	sheet, _ := s.desk.View().State.Sheet(s.robot(robot).ID, list)
	return sheet
}

// listTitles are the sheets' names on the phone.
var listTitles = map[board.SheetList]string{
	board.ListMakeSafe: "MAKE SAFE", board.ListFirstIn: "FIRST IN", board.ListInspect: "INSPECT", board.ListCloseUp: "CLOSE UP", board.ListReady: "READY",
}

// answers walks the open lines of a sheet, as far as they are for this hand, one
// press each. The phone shows the sheet already.
func (h *hand) answers(s *served, around turnaround, list board.SheetList, parts ...string) int {
	h.t.Helper()
	h.waits(fmt.Sprintf(`document.querySelector(".sheet-title span")?.textContent === %q`, listTitles[list]), "the sheet "+string(list))
	sheet, n := s.newest(around.robot, list), 0
	require.Equal(h.t, board.SheetOpen, sheet.State, list)
	for _, l := range sheet.Lines {
		if _, answered := sheet.Answered(l.ID); answered || (len(parts) > 0 && !slices.Contains(parts, l.Part)) {
			continue
		}
		h.sees(l.Ask)
		h.answersLine(s, around, sheet.ID, l)
		n++
	}
	return n
}

func (h *hand) answersLine(s *served, around turnaround, sheet board.SheetID, l board.Line) {
	h.t.Helper()
	before := len(s.desk.View().State.Sheets[sheet].Answers)
	s.rests(s.robot(around.robot).ID, l, h.device)
	gone := fmt.Sprintf(`!document.querySelector("h1")?.innerText.includes(%q)`, l.Ask)
	switch l.Kind {
	case board.LinePlace:
		h.tap(around.place)
	case board.LinePack:
		h.tap(around.fresh[0])
	case board.LineTold:
		h.tap(around.told)
	case board.LineProof:
		h.tap(around.failsafe)
	default:
		if l.Kind == board.LineNumber {
			h.reads(map[bool]string{true: around.grams, false: "0"}[l.Unit == "g"])
		}
		if l.Verifies || l.Kind == board.LineSign {
			h.holds(l.Say, gone)
		} else {
			h.tap(l.Say)
		}
	}
	h.waits(gone, "the line after: "+l.Ask)
	require.Len(h.t, s.desk.View().State.Sheets[sheet].Answers, before+1, "one press answers one line: %s", l.Ask)
}

// does gives a command to the board as a person, away from any phone under test.
func (s *served) does(t testing.TB, who string, c board.Command) board.CommandID {
	t.Helper()
	person := s.person(who)
	return s.doesAs(t, board.Actor{Person: person.ID, Role: person.Role}, c)
}

// doesAs has somebody give a command away from any phone.
func (s *served) doesAs(t testing.TB, by board.Actor, c board.Command) board.CommandID {
	t.Helper()
	id, err := uuid.NewV7()
	require.NoError(t, err)
	at := uint64(s.desk.Now()) // a device's ids carry the board's time
	for k := range 6 {
		id[k] = byte(at >> (40 - 8*k))
	}
	require.NoError(t, give(t.Context(), s.desk, demo.Step{ID: board.CommandID(id), By: by, Command: c}))
	return board.CommandID(id)
}

// cart brings a robot back from a fight on its cart, with jobs that the captain
// has entered. Nothing is answered but, once today, what is not fitted.
func (s *served) cart(t testing.TB, around turnaround, who string, jobs ...string) {
	t.Helper()
	robot := s.robot(around.robot)
	at := map[bool][2]string{true: {"Big Box", "Big bench"}, false: {"Little Box", "Little bench"}}[robot.Size == board.Heavy]
	s.does(t, "Ottoline", board.RobotPlace{Robot: robot.ID, Place: s.place(at[1])})
	for _, name := range slices.Concat(around.fitted, around.fresh) {
		p := s.pack(name)
		s.does(t, "Juno", board.PackRead{Pack: p.ID, CellVolts: slices.Repeat([]float64{4.18}, p.Cells), TempC: new(21.0), Charged: true})
	}
	for _, name := range around.fitted {
		s.does(t, "Ottoline", board.PackMove{Pack: s.pack(name).ID, Robot: robot.ID, Found: true})
	}
	s.notFitted(t, around, who)
	s.does(t, "Ottoline", board.RobotPlace{Robot: robot.ID, Place: s.place(at[0])})
	s.does(t, "Ottoline", board.RobotPlace{Robot: robot.ID, Place: s.place(at[1])})
	before := map[string]int{"Big Box": 2, "Little Box": 1}[at[0]] // no fight of ours
	s.does(t, "Ottoline", board.FightNow{Arena: at[0], Number: before})
	for _, name := range jobs {
		id := s.does(t, "Ottoline", board.JobAdd{JobFields: board.JobFields{Robot: robot.ID, Template: s.template(name, robot.Size)}})
		s.does(t, "Ottoline", board.JobAssign{Job: board.JobID(board.NewID(id, board.KindJob, "")), People: []board.PersonID{s.person(who).ID}})
	}
	standing := 0
	for _, a := range s.newest(around.robot, board.ListMakeSafe).Answers {
		require.Equal(t, board.SaidNotFitted, a.Said)
		standing++
	}
	require.LessOrEqual(t, standing, 1)
}

// notFitted makes the robot safe once, to say that it has no power light.
func (s *served) notFitted(t testing.TB, around turnaround, who string) {
	t.Helper()
	second := who
	if s.robot(around.robot).SecondVerifier {
		second = "Bramwell"
	}
	for _, l := range s.newest(around.robot, board.ListMakeSafe).Lines {
		c := board.SheetAnswer{Sheet: s.newest(around.robot, board.ListMakeSafe).ID, Line: l.ID, Said: board.SaidDone}
		by := who
		if l.Part == "verify" {
			by = second
		}
		if l.NotFitted {
			c.Said = board.SaidNotFitted
		}
		s.rests(s.robot(around.robot).ID, l)
		s.does(t, by, c)
	}
}

// mends starts and finishes each job at the big button of my next move.
func (h *hand) mends(s *served, jobs ...string) {
	h.t.Helper()
	for range jobs {
		h.tap("START")
		h.tap("DONE")
	}
	h.find("begin closing up")
	for _, name := range jobs {
		require.Contains(h.t, []board.JobState{board.JobFinished, board.JobClosed}, s.job(name).State)
	}
}

var swaps = []string{"Swap weapon belt", "Swap wheel"}

// opens brings the robot from the cart to the ready sheet: safe to touch, pack
// out, inspected, mended, closed up.
func (h *hand) opens(s *served, around turnaround, jobs ...string) {
	h.t.Helper()
	h.tap("open the sheet")
	h.answers(s, around, board.ListMakeSafe)
	h.tap("put my tag on")
	h.answers(s, around, board.ListFirstIn)
	h.answers(s, around, board.ListInspect)
	h.mends(s, jobs...)
	h.tap("begin closing up")
	h.answers(s, around, board.ListCloseUp)
}

// signs is the signer's part, on the signer's own phone.
func (h *hand) signs(s *served, around turnaround) {
	h.t.Helper()
	h.tap("open the sheet")
	h.answers(s, around, board.ListReady, "sign")
	require.Equal(h.t, board.Ready, s.state(around.robot))
}

func (s *served) state(robot string) board.PowerState {
	return s.desk.View().State.Powers[s.robot(robot).ID].State
}

// twoPhones are the beetle's lead and a signer of the next bench, both at their
// next move.
func (s *served) twoPhones(t testing.TB) (lead, signer *hand) {
	t.Helper()
	pia := newDevice(t, "pia", 360, 740, true)
	edda := newDevice(t, "edda", 360, 740, true)
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(edda, board.RoleCrew, "Edda")
	s.agree(pia, edda)
	return takes(pia), takes(edda)
}

func TestBrowserABeetleIsReadyWithinFortyTaps(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia", swaps...)
	pia, edda := s.twoPhones(t)

	pia.opens(s, beetleTurn, swaps...)
	pia.answers(s, beetleTurn, board.ListReady, "ready")
	pia.holds("take my tag off", `!document.body.innerText.toLowerCase().includes("take my tag off")`)
	edda.signs(s, beetleTurn)
	s.withinBudget(t, tapsWithoutTest, pia, edda)
}

func TestBrowserABeetleIsTestedAndReadyWithinFiftyFiveTaps(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia", swaps...)
	pia, edda := s.twoPhones(t)

	pia.opens(s, beetleTurn, swaps...)
	pia.tests(s, beetleTurn)
	pia.answers(s, beetleTurn, board.ListMakeSafe)
	pia.tap("covers stayed on")
	require.LessOrEqual(t, pia.answers(s, beetleTurn, board.ListCloseUp), 3, "covers stayed closed: only lock, link and who was told")
	proven := beetleTurn
	proven.failsafe = "PROVEN"
	pia.answers(s, proven, board.ListReady, "ready")
	pia.readsCells(s, "N2", "4.05")
	edda.signs(s, proven)
	s.withinBudget(t, tapsWithTest, pia, edda)
}

// tests takes the tag off, powers the robot up for one test and ends it.
func (h *hand) tests(s *served, around turnaround) {
	h.t.Helper()
	h.tap("test it with power")
	h.tap("failsafe, drive, weapon")
	h.tap("5")
	h.holds("take my tag off", `!document.body.innerText.toLowerCase().includes("take my tag off")`)
	h.holds("power on in test box", `document.body.innerText.includes("POWER IS ON")`)
	require.Equal(h.t, board.Test, s.state(around.robot))
	long := s.desk.View().State.Powers[s.robot(around.robot).ID].Since.Add(10 * time.Second) // enough to see that all of it stops
	require.Eventually(h.t, func() bool { return s.desk.Now() >= long }, patience, 100*time.Millisecond)
	h.tap("end the test")
	h.sees("make safe")
	require.Equal(h.t, board.Unknown, s.state(around.robot))
}

// readsCells reads the cells of a pack that gave power in a test, from the line that waits
// for the signature.
func (h *hand) readsCells(s *served, pack, volts string) {
	h.t.Helper()
	h.tap("read " + pack)
	h.sees("Reading of " + pack)
	for cell := range s.pack(pack).Cells {
		h.reads(volts)
		h.waits(fmt.Sprintf(`document.getElementById("cell%d")?.value === %q`, cell+1, volts), "the cell's volts")
	}
	h.tap("this is what i read")
	h.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	require.False(h.t, s.pack(pack).Unread)
}

func (s *served) withinBudget(t testing.TB, most int, hands ...*hand) {
	t.Helper()
	taps, typed, readings := 0, 0, 0
	for _, h := range hands {
		h.checks()
		t.Logf("%s: %d taps, %d typed, %d figures of scales", h.name, h.taps, h.typed, h.readings)
		taps, typed, readings = taps+h.taps, typed+h.typed, readings+h.readings
	}
	t.Logf("together: %d taps of %d, %d typed of %d, %d figures of scales", taps, most, typed, typedMost, readings)
	require.LessOrEqual(t, taps, most)
	require.LessOrEqual(t, typed, typedMost)
}

func (s *served) place(name string) board.PlaceID {
	for _, place := range s.desk.View().State.Places {
		if place.Name == name {
			return place.ID
		}
	}
	return ""
}

func (s *served) pack(name string) board.Pack {
	for _, p := range s.desk.View().State.Packs {
		if p.Name == name {
			return p
		}
	}
	return board.Pack{}
}

func (s *served) template(name string, size board.Size) board.TemplateID {
	for _, n := range s.desk.View().State.Templates {
		if n.Name == name && n.Size == size {
			return n.ID
		}
	}
	return ""
}
