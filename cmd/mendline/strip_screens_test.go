package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// TestBrowserTheStripIsReadableOnASmallPhoneWithLargeText looks at every screen
// of the strip at 360×740 with a root font of 24 px, in both schemes.
func TestBrowserTheStripIsReadableOnASmallPhoneWithLargeText(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	robot := s.robot(beetleTurn.robot).ID
	s.does(t, "Ottoline", board.WordingSet{List: board.ListLoadIn, Lines: []board.WordedLine{
		{ID: "own-box", Kind: board.LineChoice, Ask: "Which box will it fight in?", Touch: "the door", Say: "THIS BOX", Not: "not known", Choices: []string{"Big Box", "Little Box", "Nursery Box"}},
		{ID: "own-steward", Kind: board.LineTold, Ask: "Which of us was told by the steward?", Touch: "nothing", Say: "TOLD", Not: "nobody"},
		{ID: "own-gap", Kind: board.LineNumber, Unit: "mm", Least: 3, Most: 12, Ask: "Gap under the forks: how many millimetres?", Touch: "the gauge", Say: "THE GAUGE READS", Not: "no gauge"},
	}})
	// What it has on was not declared, and with its heaviest declared setup it would be
	// over: the scale's line points at both.
	s.does(t, "Ottoline", board.RobotFit{Robot: robot, Setup: s.setup(robot, "Keeper wedge")})
	s.does(t, "Ottoline", board.RobotWeigh{Robot: robot, Grams: 1390, Sure: true})
	require.Len(t, s.desk.View().State.WeighWarnings(robot), 2)
	s.cart(t, beetleTurn, "Pia")
	tilly := newDevice(t, "tilly", 360, 740, true)
	juno := newDevice(t, "juno", 360, 740, true)
	pia := newDevice(t, "pia", 360, 740, true)
	s.joins(tilly, board.RoleCrew, "Tilly")
	s.joins(juno, board.RoleSafety, "Juno")
	s.joins(pia, board.RoleCrew, "Pia")
	tag := func() string {
		for _, tag := range s.desk.View().State.Tags {
			return string(tag.ID)
		}
		return ""
	}
	sheet := func(list board.SheetList) func() string {
		return func() string { return "#/sheet/" + string(s.newest(beetleTurn.robot, list).ID) }
	}
	page := func(hash string) func() string { return func() string { return hash } }
	about := func(name string) func() string { return page("#/me/" + name + "/" + string(robot)) }
	loadIn := func(line string, said board.SheetAnswer) func() {
		return func() {
			said.Sheet, said.Line, said.Said = s.newest(beetleTurn.robot, board.ListLoadIn).ID, line, board.SaidDone
			s.does(t, "Pia", said)
		}
	}
	none := func() {}
	var bad []string
	for _, look := range []struct {
		name string
		d    *device
		do   func()
		hash func() string
		sees string
	}{
		{"next", pia, none, page("#/me"), "open the sheet"},
		{"make-safe-lock", pia, none, sheet(board.ListMakeSafe), "line 1 of"},
		{"looks-on", tilly, none, sheet(board.ListMakeSafe), "answers no line"},
		{"look", pia, func() { s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "look-"+string(s.pack("N1").ID)) }, sheet(board.ListMakeSafe), "from outside"},
		{"verify", pia, func() { s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "try") }, sheet(board.ListMakeSafe), "stay still"},
		{"first-in-tag", pia, func() { s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "") }, sheet(board.ListFirstIn), "goes in first"},
		{"first-in", pia, func() { s.does(t, "Pia", board.TagOn{Robot: robot}) }, sheet(board.ListFirstIn), "unplugged and out"},
		{"handover-not-yet", pia, none, about("handover"), "not yet"},
		{"inspect", pia, func() { s.says(t, beetleTurn, "Pia", board.ListFirstIn, "") }, sheet(board.ListInspect), "line 1 of"},
		{"all-answered", pia, none, sheet(board.ListFirstIn), "every line"},
		{"handover", pia, none, about("handover"), "1 of 2"},
		{"handover-pin", pia, none, func() string { return "#/me/pin-tag-on/" + string(robot) + "/" + string(s.person("Juno").ID) }, "their own pin"},
		{"tag-pin", juno, none, func() string { return "#/me/pin-tag/" + tag() }, "their own pin"},
		{"override", juno, none, func() string { return "#/me/absent-tag/" + tag() }, "where did you look"},
		{"trouble", pia, none, about("trouble"), "hand over"},
		{"doubt", pia, none, about("doubt"), "what you saw"},
		{"stop", juno, none, about("stop"), "why"},
		{"robot", pia, none, page("#/robot/" + string(robot)), "something new"},
		{"close-up-pack", pia, func() {
			s.says(t, beetleTurn, "Pia", board.ListInspect, "")
			s.does(t, "Pia", board.RobotCloseUp{Robot: robot})
			s.says(t, beetleTurn, "Pia", board.ListCloseUp, "pack")
		}, sheet(board.ListCloseUp), "which one"},
		{"told", pia, func() { s.says(t, beetleTurn, "Pia", board.ListCloseUp, "told") }, sheet(board.ListCloseUp), "who at the bench"},
		{"test-tagged", pia, none, about("test"), "take my tag off"},
		{"failsafe", pia, func() { s.says(t, beetleTurn, "Pia", board.ListCloseUp, "") }, sheet(board.ListReady), "failsafe"},
		{"scale", pia, func() { s.says(t, beetleTurn, "Pia", board.ListReady, "mass") }, sheet(board.ListReady), "at most 1360 g · 2 to see under setups"},
		{"sign", juno, func() { s.says(t, beetleTurn, "Pia", board.ListReady, "sign") }, sheet(board.ListReady), "your own eyes"},
		{"load-in-choice", pia, func() { s.does(t, "Pia", board.RobotLoadIn{Robot: robot}) }, sheet(board.ListLoadIn), "which box"},
		{"load-in-told", pia, loadIn("own-box", board.SheetAnswer{Choice: "Little Box"}), sheet(board.ListLoadIn), "told by the steward"},
		{"load-in-value", pia, loadIn("own-steward", board.SheetAnswer{Told: s.person("Wim").ID}), sheet(board.ListLoadIn), "3 to 12 mm"},
		{"test", pia, func() { s.does(t, "Pia", board.TagOff{Tag: board.TagID(tag())}) }, about("test"), "power on in test box"},
		{"testing", pia, func() {
			s.does(t, "Pia", board.RobotTest{Robot: robot, What: "drive", Place: s.place("Test box"), Minutes: 10})
		}, about("testing"), "end the test"},
		{"tested", pia, func() { s.does(t, "Pia", board.RobotTestEnd{Robot: robot}) }, about("testing"), "open make safe"},
		{"stopped", pia, func() { s.does(t, "Juno", board.RobotStop{Robot: robot, Why: "cracked hub"}) }, sheet(board.ListMakeSafe), "stopped by juno"},
	} {
		look.do()
		look.d.open(s.url + "/" + look.hash())
		s.agree(look.d)
		look.d.runs(`document.documentElement.style.fontSize = "24px"`)
		look.d.sees(look.sees)
		for _, scheme := range []string{"light", "dark"} {
			what := scheme + " " + look.name
			look.d.scheme(scheme)
			look.d.atTop()
			look.d.shot("strip-" + strings.ReplaceAll(what, " ", "-"))
			bad = append(bad, look.d.accessibleIn(scheme, what)...)
			bad = append(bad, look.d.fits(what)...)
			bad = append(bad, look.d.bulk(what)...)
			bad = append(bad, look.d.bare(what)...)
		}
	}
	require.Empty(t, bad, strings.Join(bad, "\n"))
}

func (s *served) setup(robot board.RobotID, name string) board.SetupID {
	for _, setup := range s.desk.View().State.SetupsOf(robot) {
		if setup.Name == name {
			return setup.ID
		}
	}
	return ""
}

// bare tells where "safe" or "clear" stands by itself: a board that senses nothing
// says who declared what. The sheet is called make safe, and what is yet to be
// made safe may be said.
func (d *device) bare(what string) []string {
	d.t.Helper()
	text := strings.ToLower(gets[string](d, `document.body.innerText`))
	for _, phrase := range []string{"make safe", "make-safe", "made safe", "make it safe", "failsafe", "event safety", "safety officer"} {
		text = strings.ReplaceAll(text, phrase, "")
	}
	for _, word := range []string{"safe", "clear"} {
		if i := strings.Index(text, word); i >= 0 {
			return []string{what + ": says “" + text[max(0, i-40):min(len(text), i+40)] + "”"}
		}
	}
	return nil
}
