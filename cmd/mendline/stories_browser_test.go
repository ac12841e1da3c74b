package main

import (
	"context"
	"fmt"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/server/desk"
)

// The stories of board/forecast on the screens. The board's clock is the story's:
// it stands still between two lines, however long a screen takes.

// told is a board that a story is told to, with a wall, a phone and a captain's
// screen.
type told struct {
	*served
	t                    *testing.T
	lines                []boardtest.StoryLine
	teller               *boardtest.Teller
	clock                *atomic.Int64
	wall, phone, captain *device
}

// tells serves an empty board and begins a story up to where someone first asks.
// phone is whose phone it is; the captain is Ada.
func tells(t *testing.T, story, phone string) *told {
	t.Helper()
	text, err := os.ReadFile("../../testdata/stories/forecast/" + story + ".txt")
	require.NoError(t, err)
	return tellsText(t, story, string(text), phone)
}

func tellsText(t *testing.T, story, text, phone string) *told {
	t.Helper()
	k := &told{t: t, clock: &atomic.Int64{}}
	midnight := board.MomentOf(time.Date(2026, 5, 9, 0, 0, 0, 0, time.UTC))
	for _, row := range strings.Split(text, "\n") {
		line, does, err := boardtest.ReadLine(row, midnight)
		require.NoError(t, err)
		if does {
			k.lines = append(k.lines, line)
		}
	}
	k.clock.Store(int64(k.lines[0].At))
	k.served = serveBoard(t, settings{now: func() time.Time { return board.Moment(k.clock.Load()).Time() }}, nil)
	k.teller = &boardtest.Teller{Midnight: midnight, State: func() board.State { return k.desk.View().State }, Give: k.give}
	k.on()
	k.wall = newDevice(t, story+"-wall", 1920, 1080, false)
	k.phone = newDevice(t, story+"-phone", 390, 844, true)
	k.captain = newDevice(t, story+"-captain", 1280, 800, false)
	for _, d := range []*device{k.wall, k.phone, k.captain} {
		d.standsStill()
	}
	k.joins(k.wall, board.RoleViewer, "")
	k.joins(k.phone, board.RoleCrew, phone)
	k.joins(k.captain, board.RoleCaptain, "Ada")
	return k
}

func (k *told) give(at board.Moment, by board.Actor, ask board.Ask, c board.Command) (*board.Refusal, error) {
	with, err := json.Marshal(c, json.Deterministic(true))
	if err != nil {
		return nil, err
	}
	a, err := k.desk.Do(context.Background(), desk.Request{ID: ask.ID, Do: board.Name(c), With: with, Seen: ask.Seen, Actor: by})
	return a.Refusal, err
}

// on tells the story up to where someone asks next, and over what is asked at the
// same moment.
func (k *told) on() {
	k.t.Helper()
	for len(k.lines) > 0 && k.lines[0].Do != "asks" {
		k.clock.Store(int64(k.lines[0].At))
		_, err := k.teller.Tell(k.lines[0])
		require.NoError(k.t, err)
		k.lines = k.lines[1:]
	}
	for len(k.lines) > 0 && k.lines[0].Do == "asks" {
		k.lines = k.lines[1:]
	}
}

// standsStill stops the clock of the pages the device opens from now on, so that
// they show the time of the board that they were opened at.
func (d *device) standsStill() {
	d.t.Helper()
	_, err := chromedp.Call(d.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `performance.now = () => 0;`})
	require.NoError(d.t, err)
}

// look opens a page once more, so that its clock is the board's, and waits for words.
func (k *told) look(d *device, hash string, words ...string) {
	k.t.Helper()
	d.open("about:blank")
	d.open(k.url + "/" + hash)
	for _, w := range words {
		d.sees(w)
	}
}

// band waits until the robot's band on the wall shows a text in a place of it.
func (k *told) band(robot, selector, text string) {
	k.t.Helper()
	k.wall.waits(fmt.Sprintf(`[...document.querySelectorAll(".band")].some((x) => x.innerText.includes(%q) && x.querySelector(%q)?.innerText.trim() === %q)`, robot, selector, text),
		fmt.Sprintf("%s in %s of %s", text, selector, robot))
}

// shots takes a picture of each screen.
func (k *told) shots(name string) {
	k.t.Helper()
	for _, d := range []*device{k.wall, k.phone, k.captain} {
		require.Empty(k.t, d.fits(name))
		d.shot("story-" + d.name + "-" + name)
	}
}

func TestBrowserAnUndamagedBeetleHasSixHandsOnMinutesAndNoFlagOnceInspected(t *testing.T) {
	inBrowser(t)
	k := tells(t, "1-undamaged-beetle", "Ben")
	robot := "#/robot/" + string(k.robot("Sprat").ID)
	k.look(k.wall, "#/wall", "Sprat", "not inspected")
	k.band("Sprat", ".to-call", "20")
	k.band("Sprat", ".hands", "6")
	k.wall.seesNot("of 10")
	k.look(k.phone, robot, "hands-on 6 min", "not inspected")
	k.look(k.captain, "#/captain", "hands-on 6 min", "not inspected")
	k.shots("back")

	k.on()
	k.look(k.wall, "#/wall", "over 9 of 10")
	k.band("Sprat", ".hands", "6")
	k.look(k.phone, robot, "over 9 of 10 we make the call")
	k.look(k.captain, "#/captain", "over 9 of 10 we make the call")
	for _, d := range []*device{k.wall, k.phone, k.captain} {
		d.seesNot("won’t finish")
		d.seesNot("tight")
	}
	k.shots("inspected")
}

func TestBrowserAHardHitShowsNoChanceUntilInspectedAndThenTheBestRemedyFirst(t *testing.T) {
	inBrowser(t)
	k := tells(t, "3-hard-hit", "Ben")
	robot := "#/robot/" + string(k.robot("Bramble").ID)
	k.look(k.wall, "#/wall", "Bramble", "not inspected")
	k.look(k.phone, robot, "not inspected")
	k.look(k.captain, "#/captain", "not inspected")
	for _, d := range []*device{k.wall, k.phone, k.captain} {
		d.seesNot("of 10 we make the call")
		require.Zero(t, gets[int](d, `document.querySelectorAll(".dots").length`), "no chance while nobody has looked")
	}
	k.shots("uninspected")

	k.on()
	k.look(k.wall, "#/wall", "won’t finish", "at least 25 min short")
	k.band("Bramble", ".hands", "10")
	// About one day in twenty: said as under 1, or as 1.
	k.wall.sees("1 of 10")
	k.look(k.phone, robot, "won’t finish", "hands-on 10 min", "1 of 10 we make the call")
	k.look(k.captain, "#/captain", "won’t finish", "leave off, or do otherwise")
	require.Equal(t, "Ask for the postponement of 30 min for Bramble", gets[string](k.captain, `document.querySelector(".remedy b").innerText`))
	k.captain.waits(`/1 of 10 → [456] of 10/.test(document.body.innerText)`, "what the remedy brings")
	k.shots("inspected")
}

func TestBrowserACallInEighteenMinutesIsCallNowAsSoonAsAFightIsSeen(t *testing.T) {
	inBrowser(t)
	k := tells(t, "4-call-now", "Ben")
	robot := "#/robot/" + string(k.robot("Sprat").ID)
	k.look(k.wall, "#/wall", "Sprat")
	k.band("Sprat", ".to-call", "18")
	k.look(k.phone, robot, "18 min")
	k.look(k.captain, "#/captain", "18 min")
	k.shots("eighteen")

	k.on()
	k.look(k.wall, "#/wall", "call now")
	k.wall.waits(`document.querySelectorAll(".alarm").length === 1`, "one alarm")
	k.look(k.phone, robot, "call now")
	k.look(k.captain, "#/captain", "call now")
	k.shots("now")
}

func TestBrowserRobotTwoIsToldWhyItHasNoPostponement(t *testing.T) {
	inBrowser(t)
	k := tells(t, "5-promised-gap", "Bo")
	sprat := "#/robot/" + string(k.robot("Sprat").ID)
	k.look(k.wall, "#/wall", "Sprat")
	k.band("Sprat", ".to-call", "15")

	k.on()
	k.look(k.wall, "#/wall", "Sprat")
	k.band("Sprat", ".to-call", "14")
	k.look(k.phone, "#/me/order", "14:24")
	k.look(k.captain, "#/captain/order", "14:24", "the officials had it from 14:01 to 14:05")
	k.shots("weighed")
	k.look(k.captain, "#/captain/plan", "20 min granted")
	offers := `[...document.querySelectorAll("button")].filter((x) => x.innerText.includes("min granted")).map((x) => x.ariaLabel ?? x.innerText).sort().join()`
	require.Equal(t, "20 min granted to Alder,20 min granted to Sprat", gets[string](k.captain, offers))

	k.on()
	why := "Alder can't be postponed: the one postponement of the day, for all robots of the team together, went to Sprat at 14:06."
	k.look(k.captain, "#/captain/plan", why)
	require.Empty(t, gets[string](k.captain, offers))
	k.look(k.wall, "#/wall", "Alder")
	k.band("Sprat", ".to-call", "33")
	k.look(k.phone, sprat, "33 min")
	k.look(k.phone, "#/robot/"+string(k.robot("Alder").ID), "can't be postponed")
	k.shots("postponed")
}

func TestBrowserAShortfallShowsBeforeTheFightThatTakesFiveOfSix(t *testing.T) {
	inBrowser(t)
	k := tells(t, "8-five-of-six-away", "Gus")
	robot := "#/robot/" + string(k.robot("Sprat").ID)
	k.look(k.wall, "#/wall", "Sprat")
	k.wall.seesNot("won’t finish")

	k.on()
	k.look(k.wall, "#/wall", "won’t finish", "No free hands for job 3")
	k.band("Sprat", ".to-call", "50")
	k.band("Bramble", ".to-call", "25")
	k.look(k.phone, robot, "won’t finish", "No free hands for job 3, Press the hub before 15:30")
	k.look(k.captain, "#/captain", "won’t finish", "17 min late", "Ask one more person over for the mechanical work")
	k.shots("shortfall")
}

// sixRobots is a morning with six robots open and inspected, each with a job or two.
// All names and figures are invented.
func sixRobots() string {
	var b strings.Builder
	b.WriteString(`12:00 captain place.add name="charging shelf" kind=charging
12:00 captain event.set name="Harbour Hall Open" leadSec=5min fightMeanSec=6min fightMeanWorth=20 spinDownSec=60 emergencyContact="the desk" activationOrder="link in,radio on" deactivationOrder="radio off,link out" chargingPlaces="charging shelf"
12:00 captain station.add name="bench 1" kind=bench count=4
12:00 captain person.add name=Ada role=captain skills=mechanical
12:00 captain person.add name=Ben skills=mechanical
12:00 captain person.add name=Di skills=mechanical
12:01 captain fight.now arena=A number=1
`)
	for i, name := range []string{"Sprat", "Alder", "Birch", "Rowan", "Hazel", "Willow"} {
		fmt.Fprintf(&b, `12:02 captain robot.add name=%[1]s number=%[2]d size=light lead=Ada driver=Ben
12:03 Ada walks robot=%[1]s list=make-safe
12:04 Ada tag.on robot=%[1]s
12:05 Ada walks robot=%[1]s list=inspect
12:06 Ada job.add robot=%[1]s name="Swap belt" likely=%[3]dmin bad=%[4]dmin hands=mechanical
12:06 captain fight.add robot=%[1]s arena=A number=%[5]d
`, name, i+1, 4+3*i, 10+5*i, 5+2*i)
	}
	return b.String()
}

func TestBrowserAWallOfSixRobotsShowsEachChance(t *testing.T) {
	inBrowser(t)
	k := tellsText(t, "six", sixRobots(), "Ben")
	k.look(k.wall, "#/wall", "Sprat", "Willow")
	k.wall.waits(`document.querySelectorAll(".band").length === 6 && [...document.querySelectorAll(".band .between, .band .chance-line")].filter((x) => /(under 1|over 9|[1-9]) of 10/.test(x.ariaLabel ?? x.innerText)).length === 6`, "six chances")
	k.wall.waits(`[...document.querySelectorAll(".band .figures")].every((x) => x.scrollWidth <= x.clientWidth)`, "figures that fit")
	k.shots("wall")
}
