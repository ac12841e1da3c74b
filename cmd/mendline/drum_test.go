package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// Taps never verify: drumming for six seconds answers one line, and whoever taps as
// slowly as a page is ready comes as far as the first line that is held.
func TestBrowserSeventeenTapsOnOneSpotVerifyNoRobot(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia")
	for _, size := range [][2]int64{{360, 640}, {390, 844}} {
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

// drummed is a board whose lines are drummed on, scrolled over, tapped twice and held,
// on two phones of one person. Whatever the fingers do, a line is answered once.
type drummed struct {
	*served
	t       *testing.T
	fingers []*finger
	around  turnaround
}

// How many taps a drumming finger makes in that time.
const (
	twoSeconds = 6
	sixSeconds = 17
)

// TestBrowserNoLineIsAnsweredByDrummingScrollingADoubleTapOrAHeldFinger walks every
// line of every sheet, in the order of a day. The robot can hurt in every way.
func TestBrowserNoLineIsAnsweredByDrummingScrollingADoubleTapOrAHeldFinger(t *testing.T) {
	inBrowser(t)
	w := &drummed{served: serveTeam(t), t: t, around: beetleTurn}
	robot := w.hurtsInEveryWay()
	for _, size := range [][2]int64{{360, 640}, {390, 844}} {
		d := newDevice(t, fmt.Sprintf("pia-%d", size[0]), size[0], size[1], true)
		f := fingerOn(d)
		w.joins(d, board.RoleCrew, "Pia")
		w.fingers = append(w.fingers, f)
	}
	tags := func() board.TagID {
		for id := range w.desk.View().State.Tags {
			return id
		}
		return ""
	}
	lines := map[board.SheetList]int{}
	for _, step := range []struct {
		before []board.Command
		list   board.SheetList
	}{
		{[]board.Command{board.RobotLoadIn{Robot: robot}}, board.ListLoadIn},
		{nil, board.ListMakeSafe},
		{[]board.Command{board.TagOn{Robot: robot}}, board.ListFirstIn},
		{nil, board.ListInspect},
		{[]board.Command{board.RobotCloseUp{Robot: robot}}, board.ListCloseUp},
		{[]board.Command{board.RobotReopen{Robot: robot}}, board.ListReopen},
		{nil, board.ListReady},
		{[]board.Command{board.RobotList{Robot: robot, List: board.ListOvernight}}, board.ListOvernight},
		{[]board.Command{board.RobotList{Robot: robot, List: board.ListPackUp}}, board.ListPackUp},
	} {
		switch step.list {
		case board.ListReady: // from opened again to closed up again, with nobody on it
			w.says(t, w.around, "Pia", board.ListFirstIn, "")
			w.does(t, "Pia", board.RobotCloseUp{Robot: robot})
			w.says(t, w.around, "Pia", board.ListCloseUp, "")
			w.does(t, "Pia", board.TagOff{Tag: tags()})
		case board.ListOvernight:
			for _, name := range slices.Concat(w.around.fitted, w.around.fresh) {
				w.does(t, "Pia", board.PackMove{Pack: w.pack(name).ID, Place: w.place(w.around.place)})
			}
		}
		for _, c := range step.before {
			w.does(t, "Pia", c)
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
	for _, f := range w.fingers {
		f.open(w.sheetPage(w.around.robot, list))
		f.reloads()
	}
	for i, l := range sheet.Lines {
		if _, answered := w.newest(w.around.robot, list).Answered(l.ID); answered {
			continue
		}
		next := ""
		if i+1 < len(sheet.Lines) {
			next = sheet.Lines[i+1].ID
		}
		for _, f := range w.fingers {
			f.goes(w.page(list))
			w.shows(f, l)
		}
		if l.Verifies || l.Kind == board.LineSign {
			w.held(list, l)
		} else {
			w.tapped(list, l, next)
		}
		n++
	}
	return n
}

func (w *drummed) page(list board.SheetList) string {
	return "#/sheet/" + string(w.newest(w.around.robot, list).ID)
}

// shows waits for a line, and types what its answer needs.
func (w *drummed) shows(f *finger, l board.Line) {
	f.t.Helper()
	f.waits(fmt.Sprintf(`document.querySelector("h1")?.innerText.includes(%q)`, l.Ask), l.Ask)
	if l.Kind == board.LineNumber {
		for _, figure := range map[bool]string{true: w.around.grams, false: "0"}[l.Unit == "g"] {
			f.taps(f.find(string(figure)))
		}
	}
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
func (w *drummed) held(list board.SheetList, l board.Line) {
	w.t.Helper()
	rev := w.desk.View().State.Rev
	for _, f := range w.fingers {
		f.scrolls(f.find(w.answer(l)))
		f.drums(f.find(w.answer(l)), sixSeconds, func() {})
		if l.NotFitted {
			f.drums(f.find("not fitted"), sixSeconds, func() {})
		}
	}
	w.gave(rev, 0, "nothing but a hold answers: "+l.Ask)
	for n, f := range w.fingers {
		if n > 0 {
			f.goes(w.page(list) + "/" + l.ID) // answered again
			w.shows(f, l)
		}
		p := f.find(w.answer(l))
		f.downs(p)
		f.waits(fmt.Sprintf(`!document.querySelector("h1")?.innerText.includes(%q)`, l.Ask), "the hold on "+l.Ask)
		f.passes(2 * time.Second)
		f.moves(point{p.X + 3, p.Y - 3})
		f.lifts(2 * time.Second)
		w.gave(rev, n+1, "a held finger answers one line: "+l.Ask)
	}
}

// tapped is a line that one tap answers: a finger on it while another answers does not
// answer the next, and drumming on it answers no other.
func (w *drummed) tapped(list board.SheetList, l board.Line, next string) {
	w.t.Helper()
	rev := w.desk.View().State.Rev
	for _, f := range w.fingers {
		f.scrolls(f.find(w.answer(l)))
	}
	w.gave(rev, 0, "a scroll answers nothing: "+l.Ask)
	for _, f := range w.fingers {
		f.downs(f.find(w.answer(l)))
	}
	w.says(w.t, w.around, "Pia", list, next)
	for _, f := range w.fingers {
		f.waits(fmt.Sprintf(`!document.querySelector("h1")?.innerText.includes(%q)`, l.Ask), "the line after: "+l.Ask)
		f.lifts(300 * time.Millisecond)
	}
	w.gave(rev, 1, "a finger that was down does not answer what came up under it: "+l.Ask)
	for n, f := range w.fingers {
		f.goes(w.page(list) + "/" + l.ID) // answered again
		w.shows(f, l)
		f.drums(f.find(w.answer(l)), twoSeconds, func() {
			f.waits(fmt.Sprintf(`!document.querySelector("h1")?.innerText.includes(%q)`, l.Ask), "the line after: "+l.Ask)
		})
		w.gave(rev, 2+n, "drumming answers one line: "+l.Ask)
	}
}

// gave wants so many answers since a revision, and nothing else that people did.
func (w *drummed) gave(rev board.Rev, answers int, what string) {
	w.t.Helper()
	for _, f := range w.fingers {
		f.waits(`!document.body.innerText.includes("sending")`, "what was sent")
	}
	done := w.done(w.t, rev)
	require.Equal(w.t, strings.Repeat("sheet.answer ", answers), strings.Join(append(done, ""), " "), what)
}
