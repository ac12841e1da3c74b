package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// says answers the open lines of a sheet away from any phone, until one of the id
// is the next; all of them for "".
func (s *served) says(t testing.TB, around turnaround, who string, list board.SheetList, until string) {
	t.Helper()
	for {
		sheet := s.newest(around.robot, list)
		l, open := sheet.OpenLine()
		if sheet.State != board.SheetOpen || !open || l.ID == until {
			return
		}
		c := board.SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: board.SaidDone}
		switch l.Kind {
		case board.LinePlace:
			c.Place = s.place(around.place)
		case board.LinePack:
			c.Pack = s.pack(around.fresh[0]).ID
		case board.LineTold:
			c.Told = s.person(around.told).ID
		case board.LineProof:
			c.Said = board.SaidOwed
		case board.LineNumber:
			c.Number = new(map[bool]float64{true: 1352}[l.Unit == "g"])
		}
		s.rests(sheet.Robot, l)
		s.does(t, who, c)
	}
}

// closedUp brings the beetle from its cart to the ready sheet, with nobody on it.
func (s *served) closedUp(t testing.TB) {
	t.Helper()
	s.cart(t, beetleTurn, "Pia")
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "")
	s.does(t, "Pia", board.TagOn{Robot: s.robot(beetleTurn.robot).ID})
	s.says(t, beetleTurn, "Pia", board.ListFirstIn, "")
	s.says(t, beetleTurn, "Pia", board.ListInspect, "")
	s.does(t, "Pia", board.RobotCloseUp{Robot: s.robot(beetleTurn.robot).ID})
	for id := range s.desk.View().State.Tags {
		s.does(t, "Pia", board.TagOff{Tag: id})
	}
	s.says(t, beetleTurn, "Pia", board.ListCloseUp, "")
}

func (s *served) sheetPage(robot string, list board.SheetList) string {
	return s.url + "/#/sheet/" + string(s.newest(robot, list).ID)
}

func TestBrowserAfterARestartARobotIsCheckedAgainInEightLines(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia")
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "")
	s.does(t, "Pia", board.TagOn{Robot: s.robot(beetleTurn.robot).ID})
	phone := newDevice(t, "pia", 360, 740, true)
	s.joins(phone, board.RoleCrew, "Pia")
	s.agree(phone)
	pia := takes(phone)
	before := s.epoch(phone)

	s.stop()
	again := s.restarts(t)
	phone.forgive("ERR_CONNECTION_REFUSED")
	require.Equal(t, board.Unknown, again.state(beetleTurn.robot))
	require.Len(t, again.desk.View().State.Tags, 1, "tags stay on")
	require.NotEqual(t, before, again.epoch(phone))
	again.agree(phone)
	pia.tap("open the sheet")
	lines := pia.answers(again, beetleTurn, board.ListMakeSafe, "down", "isolate")
	phone.open(again.url + "/#/me")
	phone.hold("TAKE MY TAG OFF 2 Nettlepip", `document.body.innerText.includes("OPEN THE SHEET")`)
	pia.tap("open the sheet")
	lines += pia.answers(again, beetleTurn, board.ListMakeSafe)
	t.Logf("the re-check after a restart: %d lines, %d taps", lines, pia.taps)
	require.LessOrEqual(t, lines, recheckLines)
	require.Equal(t, board.Verified, again.state(beetleTurn.robot))
	for _, words := range []string{"ERR_CONNECTION_REFUSED", "ERR_CONNECTION_RESET", "WebSocket connection to"} {
		phone.forgive(words)
	}
}

// Two phones show the same release; the one whose network is slow presses on an old
// screen, is refused and told what stands now.
func TestBrowserTwoPhonesRaceForATestAndOneWins(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.closedUp(t)
	first, late := newDevice(t, "pia", 360, 740, true), newDevice(t, "ottoline", 360, 740, true)
	late.hearsLate()
	s.joins(first, board.RoleCrew, "Pia")
	s.joins(late, board.RoleCaptain, "Ottoline")
	for _, d := range []*device{first, late} {
		d.open(s.url + "/#/me/test/" + string(s.robot(beetleTurn.robot).ID))
		d.press("failsafe, drive, weapon")
		d.press("5")
	}
	rev := s.desk.View().State.Rev
	late.lags(true)
	first.hold("power on in test box", `document.body.innerText.includes("POWER IS ON")`)
	late.hold("power on in test box", `document.body.innerText.includes("Not done")`)
	late.lags(false)
	late.sees("power is on until")
	late.sees("failsafe, drive, weapon in test box, begun by Pia")
	late.sees("Now: 2 Nettlepip TEST")
	late.shot("race-lost-test")
	require.Equal(t, board.Test, s.state(beetleTurn.robot))
	require.Equal(t, []string{"robot.test"}, s.done(t, rev), "one of the two was done")
}

// A tag's owner holds on their own phone while their PIN is given on another's.
func TestBrowserTwoPhonesRaceForATagAndOneTakesItOff(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia")
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "")
	robot := s.robot(beetleTurn.robot).ID
	s.does(t, "Pia", board.TagOn{Robot: robot})
	s.says(t, beetleTurn, "Pia", board.ListFirstIn, "")
	var tag board.TagID
	for id := range s.desk.View().State.Tags {
		tag = id
	}
	own, others := newDevice(t, "pia", 360, 740, true), newDevice(t, "wim", 360, 740, true)
	others.hearsLate()
	s.joins(own, board.RoleCrew, "Pia")
	s.joins(others, board.RoleCrew, "Wim")
	own.open(s.url + "/#/robot/" + string(robot))
	own.sees("take my tag off")
	others.open(s.url + "/#/me/pin-tag/" + string(tag))
	others.types("pin", "135790")
	rev := s.desk.View().State.Rev
	others.lags(true)
	own.hold("take my tag off", `!document.body.innerText.includes("tags on: Pia")`)
	require.Empty(t, s.desk.View().State.Tags)
	others.hold("TAKE PIA’S TAG OFF", `document.body.innerText.includes("Not done")`)
	others.lags(false)
	others.sees("It is off already")
	others.sees("Now: that tag is off")
	others.shot("race-lost-tag")
	require.Equal(t, []string{"tag.off"}, s.done(t, rev), "it came off once")
}

// A page that lay in a pocket without a network shows an old board: what it would
// release is not kept for later.
func TestBrowserAnOfflinePhoneNeitherVerifiesNorReleasesNorSignsLater(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia")
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "try")
	pia := newDevice(t, "pia", 360, 740, true)
	edda := newDevice(t, "edda", 360, 740, true)
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(edda, board.RoleCrew, "Edda")

	// Verify: the line is held while the network is away.
	pia.open(s.sheetPage(beetleTurn.robot, board.ListMakeSafe))
	pia.sees("line 7 of 8")
	s.heldOffline(pia, "STAYED STILL")
	require.Equal(t, board.Isolated, s.state(beetleTurn.robot))

	// A tag off.
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "")
	s.does(t, "Pia", board.TagOn{Robot: s.robot(beetleTurn.robot).ID})
	pia.open(s.url + "/#/robot/" + string(s.robot(beetleTurn.robot).ID))
	s.agree(pia)
	s.heldOffline(pia, "take my tag off")
	require.Len(t, s.desk.View().State.Tags, 1)

	// The signature.
	s.says(t, beetleTurn, "Pia", board.ListFirstIn, "")
	s.says(t, beetleTurn, "Pia", board.ListInspect, "")
	s.does(t, "Pia", board.RobotCloseUp{Robot: s.robot(beetleTurn.robot).ID})
	for id := range s.desk.View().State.Tags {
		s.does(t, "Pia", board.TagOff{Tag: id})
	}
	s.says(t, beetleTurn, "Pia", board.ListCloseUp, "")
	s.says(t, beetleTurn, "Pia", board.ListReady, "sign")
	edda.open(s.sheetPage(beetleTurn.robot, board.ListReady))
	edda.sees("sign nettlepip ready?")
	s.heldOffline(edda, "SIGN NETTLEPIP")
	require.Equal(t, board.ClosingUp, s.state(beetleTurn.robot))
}

// heldOffline holds a button without a network, and lets the network back: the board
// hears nothing of it.
func (s *served) heldOffline(h *device, words string) {
	h.t.Helper()
	h.find(words)
	h.offline(true)
	rev := s.desk.View().State.Rev
	h.hold(words, `/sending|Not done/.test(document.body.innerText)`)
	h.sees("not done")
	h.offline(false)
	h.press("I have read it")
	h.waits(`!document.body.innerText.includes("no connection")`, "the connection")
	s.agree(h)
	require.Empty(h.t, s.done(h.t, rev), "nothing came late")
}

// done lists the commands of people since a revision.
func (s *served) done(t testing.TB, since board.Rev) []string {
	t.Helper()
	lines, err := s.desk.Store().Journal(uint64(since), 100)
	require.NoError(t, err)
	var all []string
	for _, l := range lines {
		var done struct {
			Do string         `json:"do"`
			By board.PersonID `json:"by"`
		}
		require.NoError(t, json.Unmarshal(l.Data, &done))
		if done.By != "" {
			all = append(all, done.Do)
		}
	}
	return all
}

func TestBrowserHandsNearRefusePowerByNameUntilTheirOwnerLiftsThemByPIN(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.closedUp(t)
	tilly := newDevice(t, "tilly", 360, 740, true)
	pia := newDevice(t, "pia", 360, 740, true)
	s.joins(tilly, board.RoleCrew, "Tilly")
	s.joins(pia, board.RoleCrew, "Pia")
	robot := s.robot(beetleTurn.robot).ID

	tilly.open(s.url + "/#/robot/" + string(robot))
	tilly.press("my hands are near")
	tilly.sees("my hands are away from")
	tilly.sees("ready: 0 of 4 answered")
	pia.open(s.url + "/#/me/test/" + string(robot))
	pia.sees("hands near: Tilly")
	pia.types("what", "drive and lift")
	pia.press("5")
	pia.hold("power on in test box", `document.body.innerText.includes("Not done")`)
	pia.sees("Tilly is still on Nettlepip")
	pia.seesNot(board.Rules()[6].Says)
	pia.press("rule 7")
	pia.sees(board.Rules()[6].Says)
	pia.shot("refused-hands-near")
	require.Equal(t, "drive and lift", gets[string](pia, `document.getElementById("what").value`), "what was typed stands")
	require.Contains(t, gets[string](pia, `document.querySelector("details.rule a").href`), "/rules#7")
	require.Equal(t, board.ClosingUp, s.state(beetleTurn.robot))
	pia.press("I have read it")

	// Another's PIN does not do; Tilly's own does, on Pia's phone.
	pia.open(s.url + "/#/robot/" + string(robot))
	pia.press("Tilly lifts their hands near, by PIN")
	pia.types("pin", "999999")
	pia.hold("TILLY’S HANDS ARE AWAY FROM", `document.body.innerText.includes("Not done")`)
	require.True(t, s.near(robot, s.person("Tilly").ID))
	pia.press("I have read it")
	pia.types("pin", "135790")
	pia.shot("pin-hands")
	pia.hold("TILLY’S HANDS ARE AWAY FROM", `!document.body.innerText.includes("hands near: Tilly")`)
	pia.sees("something new")
	require.False(t, s.near(robot, s.person("Tilly").ID))
}

// Two people have the same line before them: what one answers brings up the next
// line on the other's phone, and a tap already on its way there hits nothing.
func TestBrowserNoLineIsAnsweredByAnothersTap(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia")
	pia := newDevice(t, "pia", 360, 740, true)
	wim := newDevice(t, "wim", 360, 740, true)
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(wim, board.RoleCrew, "Wim")
	list := s.newest(beetleTurn.robot, board.ListMakeSafe).Lines
	for _, d := range []*device{pia, wim} {
		d.open(s.sheetPage(beetleTurn.robot, board.ListMakeSafe))
		d.sees(list[0].Ask)
	}
	// The tap on Wim's phone falls in the very frame in which the next line comes up.
	wim.runs(`new MutationObserver((_, me) => {
  const main = document.querySelector(".foot .main");
  if (!main || document.querySelector("h1").innerText.includes(` + fmt.Sprintf("%q", list[0].Ask) + `)) return;
  me.disconnect();
  main.click();
  window.hit = true;
}).observe(document.body, {childList: true, subtree: true, characterData: true})`)
	pia.press(list[0].Say)
	wim.waits(`window.hit === true`, "the tap on the next line")
	p := wim.find(list[1].Say)
	require.NotZero(t, p)
	s.agree(pia, wim)
	answers := s.newest(beetleTurn.robot, board.ListMakeSafe).Answers
	last := answers[len(answers)-1]
	require.Equal(t, s.person("Pia").ID, last.By)
	require.Equal(t, list[0].ID, last.Line)
}

func TestBrowserAHandoverPutsTheNewTagOnBeforeTheOldComesOff(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, beetleTurn, "Pia")
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "")
	robot := s.robot(beetleTurn.robot)
	s.does(t, "Pia", board.TagOn{Robot: robot.ID})
	wim := newDevice(t, "wim", 360, 740, true)
	s.joins(wim, board.RoleCrew, "Wim")
	pia := newDevice(t, "pia", 360, 740, true)
	s.joins(pia, board.RoleCrew, "Pia")

	pia.open(s.url + "/#/me/handover/" + string(robot.ID))
	pia.sees("it is yours alone")
	s.says(t, beetleTurn, "Pia", board.ListFirstIn, "")
	pia.sees("their tag comes on first")
	pia.sees("with their own phone")
	require.False(t, gets[bool](pia, `document.body.innerText.toLowerCase().includes("take my tag off")`), "nobody is on it else")
	pia.shot("handover-1")
	pia.press("Wim")
	pia.types("pin", "135790")
	pia.press("PUT WIM’S TAG ON")
	pia.sees("Wim is on, now you")
	require.Len(t, s.desk.View().State.Tags, 2)
	pia.shot("handover-2")
	pia.hold("take my tag off", `document.body.innerText.includes("Your tag is off")`)
	require.Equal(t, board.Work, s.state(beetleTurn.robot), "it was locked out throughout")
	for _, tag := range s.desk.View().State.Tags {
		require.Equal(t, s.person("Wim").ID, tag.Person)
	}
}

// heavyTurn is the heavyweight's: gas that is bled inside, two packs, a second
// person who verifies.
var heavyTurn = turnaround{robot: "Grobblequill", place: "Charging table", fitted: []string{"G1", "G2"}, fresh: []string{"G3", "G4"}, told: "Wim", grams: "112900", failsafe: "owed to the officials"}

// A heavyweight has no budget: its count is printed.
func TestBrowserAHeavyweightWithGasAndTwoPacksIsWalkedToReady(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.cart(t, heavyTurn, "Ottoline")
	devices := map[string]*device{}
	for name, role := range map[string]board.Role{"Ottoline": board.RoleCaptain, "Bramwell": board.RoleCrew, "Juno": board.RoleSafety} {
		devices[name] = newDevice(t, strings.ToLower(name), 360, 740, true)
		s.joins(devices[name], role, name)
		devices[name].open(s.url + "/#/me")
		devices[name].sees("my next move")
	}
	lead, second, signer := takes(devices["Ottoline"]), takes(devices["Bramwell"]), takes(devices["Juno"])

	lead.tap("open the sheet")
	lead.answers(s, heavyTurn, board.ListMakeSafe, "down", "isolate")
	second.open(s.sheetPage(heavyTurn.robot, board.ListMakeSafe)) // whoever is called to it
	second.answers(s, heavyTurn, board.ListMakeSafe, "verify")
	lead.tap("put my tag on")
	lead.open(s.sheetPage(heavyTurn.robot, board.ListFirstIn))
	lead.answers(s, heavyTurn, board.ListFirstIn)
	lead.answers(s, heavyTurn, board.ListInspect)
	lead.tap("begin closing up")
	lead.answers(s, heavyTurn, board.ListCloseUp)
	lead.answers(s, heavyTurn, board.ListReady, "ready")
	lead.holds("take my tag off", `!document.body.innerText.toLowerCase().includes("take my tag off")`)
	signer.open(s.sheetPage(heavyTurn.robot, board.ListReady)) // the lead's phone asks the lead, who may too
	signer.answers(s, heavyTurn, board.ListReady, "sign")
	require.Equal(t, board.Ready, s.state(heavyTurn.robot))
	taps, readings := 0, 0
	for _, h := range []*hand{lead, second, signer} {
		h.checks()
		taps, readings = taps+h.taps, readings+h.readings
	}
	t.Logf("a heavyweight with gas and two packs, no job, no test: %d taps, %d figures of gauge and scale", taps, readings)
}
