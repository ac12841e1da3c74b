package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// phones are the sizes of a small old phone and of a common one.
var phones = [][2]int64{{360, 640}, {390, 844}}

// How many taps a drumming finger makes in that time.
const (
	twoSeconds = 6
	sixSeconds = 17
)

// Taps never verify: drumming for six seconds answers one line, and whoever taps as
// slowly as a page is ready comes as far as the first line that is held.
func TestBrowserSeventeenTapsOnOneSpotVerifyNoRobot(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia")
	for _, size := range phones {
		f := fingerOn(newDevice(t, fmt.Sprintf("pia-%d", size[0]), size[0], size[1], true))
		s.joins(f.device, board.RoleCrew, "Pia")
		s.does(t, "Pia", board.RobotDoubt{Robot: s.robot(beetleTurn.robot).ID, Why: "once more"})
		f.open(s.sheetPage(beetleTurn.robot, board.ListMakeSafe))
		f.reloads()
		sheet := func() board.Sheet { return s.newest(beetleTurn.robot, board.ListMakeSafe) }
		lines := sheet().Lines
		settled := func() { f.waits(`!document.body.innerText.includes("sending")`, "what was sent") }

		spot := f.find(lines[0].Say)
		f.drums(spot, sixSeconds, func() { f.sees(lines[1].Ask) })
		settled()
		open, _ := sheet().OpenLine()
		require.Equal(t, lines[1].ID, open.ID, "one line of %d is answered", len(lines))
		require.Equal(t, board.Unknown, s.state(beetleTurn.robot))

		slowly := func() board.Line {
			for range 17 {
				f.taps(spot)
				settled()
			}
			open, _ := sheet().OpenLine()
			return open
		}
		require.Equal(t, lines[slices.IndexFunc(lines, func(l board.Line) bool { return l.Verifies })].ID, slowly().ID)
		require.Equal(t, board.PoweredDown, s.state(beetleTurn.robot))
		s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "try")
		f.sees("stay still")
		require.Equal(t, "try", slowly().ID)
		require.Equal(t, board.Isolated, s.state(beetleTurn.robot))

		holding := `!!document.querySelector(".holding")`
		f.downs(spot)
		require.True(t, gets[bool](f.device, holding))
		f.moves(point{spot.X, spot.Y - 40})
		require.False(t, gets[bool](f.device, holding), "a finger that wanders off holds nothing, inside the button neither")
		f.lifts(time.Second)
	}
}

// drummed is a board whose lines are drummed on, scrolled over, tapped twice and held.
// Whatever the finger does, a line is answered once.
type drummed struct {
	*served
	t      *testing.T
	finger *finger
	around turnaround
}

func TestBrowserNoLineIsAnsweredByDrummingScrollingADoubleTapOrAHeldFinger(t *testing.T) {
	inBrowser(t)
	w := &drummed{served: serveTeam(t), t: t, around: beetleTurn}
	robot := w.hurtsInEveryWay()
	w.finger = fingerOn(newDevice(t, "pia", phones[0][0], phones[0][1], true))
	w.joins(w.finger.device, board.RoleCrew, "Pia")
	w.day(robot)
}

// day walks every line of every sheet, in the order of a day.
func (w *drummed) day(robot board.RobotID) {
	t := w.t
	lines := map[board.SheetList]int{}
	for _, step := range []struct {
		before board.Command
		list   board.SheetList
	}{
		{board.RobotLoadIn{Robot: robot}, board.ListLoadIn},
		{nil, board.ListMakeSafe},
		{board.TagOn{Robot: robot}, board.ListFirstIn},
		{nil, board.ListInspect},
		{board.RobotCloseUp{Robot: robot}, board.ListCloseUp},
		{board.RobotReopen{Robot: robot}, board.ListReopen},
		{nil, board.ListReady},
		{board.RobotList{Robot: robot, List: board.ListOvernight}, board.ListOvernight},
		{board.RobotList{Robot: robot, List: board.ListPackUp}, board.ListPackUp},
	} {
		switch step.list {
		case board.ListReady: // from opened again to closed up again, with nobody on it
			w.says(t, w.around, "Pia", board.ListFirstIn, "")
			w.does(t, "Pia", board.RobotCloseUp{Robot: robot})
			w.says(t, w.around, "Pia", board.ListCloseUp, "")
			for id := range w.desk.View().State.Tags {
				w.does(t, "Pia", board.TagOff{Tag: id})
			}
		case board.ListOvernight:
			for _, name := range slices.Concat(w.around.fitted, w.around.fresh) {
				w.does(t, "Pia", board.PackMove{Pack: w.pack(name).ID, Place: w.place(w.around.place)})
			}
		}
		if step.before != nil {
			w.does(t, "Pia", step.before)
		}
		lines[step.list] = w.walks(step.list)
	}
	for _, of := range board.Lists() {
		require.NotZero(t, lines[of.List], of.List)
	}
	t.Log(lines)
}

// hurtsInEveryWay gives the robot on its cart every energy, and Pia authority for each.
func (w *drummed) hurtsInEveryWay() board.RobotID {
	r := w.robot(w.around.robot)
	change := board.RobotChange{Robot: r.ID, RobotFields: r.RobotFields}
	pia := w.person("Pia")
	person := board.PersonChange{Person: pia.ID, PersonFields: pia.PersonFields}
	for _, e := range []board.Energy{
		{Kind: board.EnergyGas, Isolator: "bottle valve", Reach: board.Outside},
		{Kind: board.EnergyHydraulic, Isolator: "pump valve", Reach: board.Outside},
		{Kind: board.EnergySpring, Isolator: "spring pin", Reach: board.Outside},
		{Kind: board.EnergyArm, Isolator: "prop", Reach: board.Outside},
		{Kind: board.EnergyCapacitor, Isolator: "bleed resistor", Reach: board.Outside},
		{Kind: board.EnergyHeat, Isolator: "tape", Reach: board.Outside},
		{Kind: board.EnergyGas, Isolator: "bleed valve", Reach: board.Inside},
	} {
		change.Energies = append(change.Energies, e)
		if !slices.Contains(person.Authorised, e.Kind) {
			person.Authorised = append(person.Authorised, e.Kind)
		}
	}
	w.does(w.t, "Ottoline", person)
	w.cart(w.t, w.around, "Pia")
	w.does(w.t, "Ottoline", change)
	return r.ID
}

// walks walks the open lines of a sheet, and tells how many they were.
func (w *drummed) walks(list board.SheetList) int {
	sheet, n := w.newest(w.around.robot, list), 0
	w.finger.open(w.sheetPage(w.around.robot, list))
	w.finger.reloads()
	for i, l := range sheet.Lines {
		if _, answered := w.newest(w.around.robot, list).Answered(l.ID); answered {
			continue
		}
		next := ""
		if i+1 < len(sheet.Lines) {
			next = sheet.Lines[i+1].ID
		}
		w.rests(sheet.Robot, l)
		first, second := phones[i%2], phones[1-i%2]
		w.on(first)
		w.shows(l, "#/sheet/"+string(sheet.ID))
		if l.Verifies || l.Kind == board.LineSign {
			w.held(l, second)
		} else {
			w.tapped(sheet.ID, l, next, first, second)
		}
		n++
	}
	return n
}

// on has the phone another size: each line is drummed on, and scrolled over, on both.
func (w *drummed) on(size [2]int64) {
	w.finger.do(chromedp.EmulateViewport(size[0], size[1], chromedp.EmulateScale(2), chromedp.EmulateMobile, chromedp.EmulateTouch))
}

// shows waits for a line, whose "no" is in sight, and types what its answer needs.
func (w *drummed) shows(l board.Line, hash string) {
	w.t.Helper()
	f := w.finger
	f.goes(hash)
	f.waits(fmt.Sprintf(`document.querySelector("h1")?.innerText.includes(%q)`, l.Ask), l.Ask)
	switch l.Kind {
	case board.LineDo, board.LineLook, board.LineSign:
		f.inReach(l.Not)
	case board.LineNumber:
		for _, figure := range map[bool]string{true: w.around.grams, false: "0"}[l.Unit == "g"] {
			f.taps(f.find(string(figure)))
		}
	}
}

// leaves waits until a line is no longer on the screen.
func (w *drummed) leaves(l board.Line) {
	w.t.Helper()
	w.finger.waits(fmt.Sprintf(`!document.querySelector("h1")?.innerText.includes(%q)`, l.Ask), "the line after: "+l.Ask)
}

// answer is the word on the button that fills a line.
func (w *drummed) answer(l board.Line) string {
	switch l.Kind {
	case board.LinePlace:
		return w.around.place
	case board.LinePack:
		return w.around.fresh[0]
	case board.LineTold:
		return w.around.told
	case board.LineProof:
		return w.around.failsafe
	}
	return l.Say
}

// held is a line that a finger has to rest on: nothing else answers it, and the finger
// that did answers nothing more.
func (w *drummed) held(l board.Line, other [2]int64) {
	w.t.Helper()
	rev, f := w.desk.View().State.Rev, w.finger
	f.scrolls(f.find(w.answer(l)))
	f.drums(f.find(w.answer(l)), sixSeconds, func() {})
	w.on(other)
	f.scrolls(f.find(w.answer(l)))
	f.drums(f.find(w.answer(l)), sixSeconds, func() {})
	if l.NotFitted {
		f.drums(f.find("not fitted"), sixSeconds, func() {})
	}
	w.gave(rev, 0, "nothing but a hold answers: "+l.Ask)
	p := f.find(w.answer(l))
	f.downs(p)
	w.leaves(l)
	f.passes(2 * time.Second)
	f.moves(point{p.X + 3, p.Y - 3})
	f.lifts(2 * time.Second)
	w.gave(rev, 1, "a held finger answers one line: "+l.Ask)
}

// tapped is a line that one tap answers: a finger on it while another answers does not
// answer the next, and drumming on it answers no other.
func (w *drummed) tapped(sheet board.SheetID, l board.Line, next string, first, other [2]int64) {
	w.t.Helper()
	rev, f := w.desk.View().State.Rev, w.finger
	f.scrolls(f.find(w.answer(l)))
	w.on(other)
	f.scrolls(f.find(w.answer(l)))
	w.gave(rev, 0, "a scroll answers nothing: "+l.Ask)
	f.downs(f.find(w.answer(l)))
	w.says(w.t, w.around, "Pia", w.desk.View().State.Sheets[sheet].List, next)
	w.leaves(l)
	f.lifts(300 * time.Millisecond)
	w.gave(rev, 1, "a finger that was down does not answer what came up under it: "+l.Ask)
	for i, size := range [][2]int64{other, first} {
		w.on(size)
		f.goes("#/sheet/" + string(sheet))
		w.shows(l, "#/sheet/"+string(sheet)+"/"+l.ID) // to be answered again
		f.drums(f.find(w.answer(l)), twoSeconds, func() { w.leaves(l) })
		w.gave(rev, 2+i, "drumming answers one line: "+l.Ask)
	}
}

// gave wants so many answers since a revision, and nothing else that people did.
func (w *drummed) gave(rev board.Rev, answers int, what string) {
	w.t.Helper()
	w.finger.waits(`!document.body.innerText.includes("sending")`, "what was sent")
	require.Equal(w.t, strings.Repeat("sheet.answer ", answers), strings.Join(append(w.done(w.t, rev), ""), " "), what)
}
