package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
)

// state of a pack as the board has it now.
func (s *served) packIs(name string) board.Pack { return s.pack(name) }

// enters types a reading into the phone's page: cells, then the fields named.
func (d *device) enters(s *served, pack board.Pack, volts string, fields map[string]string) {
	d.t.Helper()
	d.open(s.url + "/#/me/read/" + string(pack.ID))
	d.sees("Reading of " + pack.Name)
	if volts != "" {
		for cell := range pack.Cells {
			d.types(fmt.Sprintf("cell%d", cell+1), volts)
			d.waits(fmt.Sprintf(`document.getElementById("cell%d")?.value === %q`, cell+1, volts), "the cell's volts")
		}
	}
	for id, text := range fields {
		if id != "temp" && !gets[bool](d, fmt.Sprintf(`!!document.getElementById(%q)`, id)) {
			d.press("air, mΩ")
		}
		d.types(id, text)
	}
}

func TestBrowserAHotPackCoolsIsChargedAndGoesIntoItsRobot(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 390, 844, true)
	s.joins(pia, board.RoleCrew, "Pia")
	robot := s.robot("Tumsy Vole")
	for _, to := range []board.PackMove{{Robot: robot.ID}, {Place: s.place("Charging shelf")}} {
		to.Pack = s.pack("V3").ID
		s.does(t, "Juno", to)
	}
	pack := s.pack("V3")
	require.Equal(t, board.PackUnread, pack.State)
	page := s.url + "/#/me/pack/" + string(pack.ID)

	pia.enters(s, pack, "3.70", map[string]string{"temp": "52", "air": "22"})
	pia.shot("pack-read-on-phone")
	pia.press("this is what i read")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	require.Equal(t, board.PackCooling, s.packIs("V3").State)
	pia.sees("read again") // one reading tells no pace
	pia.shot("pack-hot-on-phone")

	pia.enters(s, pack, "", map[string]string{"temp": "34"})
	pia.press("this is what i read")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	is := s.packIs("V3")
	require.Equal(t, board.PackWaiting, is.State, "a reading makes it cool enough")
	require.Len(t, is.Reading.CellVolts, 3, "its cells were read before")

	// Somebody keeps it for a fight to come, and the plan says on which channel it goes.
	s.does(t, "Ottoline", board.FightAdd{FightFields: board.FightFields{Robot: robot.ID, Arena: "Little Box", Number: 60, Opponent: "Mudlarkin"}})
	pia.open(s.url + "/#/me/move/" + string(pack.ID))
	pia.press("for 3 Tumsy Vole")
	pia.sees("✓ for 3 Tumsy Vole")
	require.Equal(t, robot.ID, s.packIs("V3").ChosenFor)
	pia.open(s.url + "/#/me/fights")
	pia.waits(`/V3: \w+ \d (now|from \d\d:\d\d), charged about/.test(document.body.innerText)`, "the channel of the plan")
	pia.open(s.url + "/#/me/charge/" + string(pack.ID))
	pia.sees("The plan: ")
	pia.sees("A from")
	pia.waits(`Number(document.getElementById("amps")?.value) > 0`, "the plan's current")
	pia.shot("pack-charge-on-phone")
	pia.press("Thimble 2")
	pia.press("3")
	pia.press("in its fire-resistant bag or box")
	pia.sees("an electrician")
	pia.press("V3 IS ON CHARGE")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	require.Equal(t, board.PackCharging, s.packIs("V3").State)
	require.InDelta(t, 0.7, s.packIs("V3").Amps, 1e-9, "as its label allows, and someone by name")
	pia.sees("READY ")
	pia.sees("bad case")
	pia.open(s.url + "/#/me/fights")
	pia.sees("V3: on Thimble 2, charged about")

	pia.enters(s, pack, "4.19", map[string]string{"ah": "0.24", "min": "48"})
	pia.press("charger ended?")
	pia.press("this is what i read")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	require.Equal(t, board.PackCharged, s.packIs("V3").State)

	pia.open(s.url + "/#/me/move/" + string(pack.ID))
	pia.press("in 3 Tumsy Vole")
	pia.open(page)
	pia.sees("in 3 Tumsy Vole")
	require.Equal(t, robot.ID, s.packIs("V3").Robot)
	pia.waits(fmt.Sprintf(`fetch("/api/forecast").then((r) => r.json()).then((f) => Date.parse(f.put["call/%s"]?.callAt?.median) > %d)`, robot.ID, s.desk.Now()), "the call is still to come")
}

func TestBrowserASwollenPackIsSetAsideInTwoTapsForGood(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 390, 844, true)
	s.joins(pia, board.RoleCrew, "Pia")
	pia.open(s.url + "/#/me/packs")
	pia.press("G4 ·")
	pia.hold("SET ASIDE G4", `document.body.innerText.includes("SET ASIDE") && ![...document.querySelectorAll("button")].some((b) => b.innerText.includes("SET ASIDE G4"))`)
	require.Eventually(t, func() bool { return s.packIs("G4").State == board.PackSuspect }, patience, 20*time.Millisecond)
	pia.shot("pack-aside-on-phone")
	for _, words := range []string{"charge it", "reading", "waits for a charger"} {
		require.False(t, gets[bool](pia, fmt.Sprintf(`[...document.querySelectorAll("button, a")].some((b) => b.innerText.toLowerCase().includes(%q))`, words)), words)
	}
	for do, with := range map[string]string{
		"pack.charge": fmt.Sprintf(`"channel":%q,"attendant":%q,"cells":12,"amps":5,"contained":true`, s.channel("Kettle 2"), s.person("Pia").ID),
		"pack.read":   `"cellVolts":[` + strings.TrimSuffix(strings.Repeat("4.2,", 12), ",") + `],"charged":true,"sure":true`,
		"pack.set":    `"state":"waiting"`,
		"pack.move":   fmt.Sprintf(`"robot":%q`, s.robot("Grobblequill").ID),
	} {
		refused := pia.asks(do, fmt.Sprintf(`{"pack":%q,%s}`, s.pack("G4").ID, with))
		require.NotNil(t, refused.Refusal, do)
		require.Equal(t, 13, refused.Refusal.Rule, do)
	}
	refused := pia.asks("undo", fmt.Sprintf(`{"command":%q}`, s.lastOf(t, "pack.set")))
	require.NotEmpty(t, refused.Refusal.Sentence, "undo is refused")
	require.Equal(t, board.PackSuspect, s.packIs("G4").State)
	pia.open("about:blank")
	s.stop()
	require.Equal(t, board.PackSuspect, s.restarts(t).packIs("G4").State, "a restart brings nothing back")
}

// lastOf is the id of the last command of a kind that the board took; others, such as a
// new plan, may have come since.
func (s *served) lastOf(t testing.TB, do string) string {
	t.Helper()
	id := ""
	for after := uint64(0); ; {
		lines, err := s.desk.Store().Journal(after, 500)
		require.NoError(t, err)
		if len(lines) == 0 {
			require.NotEmpty(t, id, do)
			return id
		}
		for _, l := range lines {
			var line struct {
				ID string `json:"id"`
				Do string `json:"do"`
			}
			require.NoError(t, json.Unmarshal(l.Data, &line))
			if after = l.Rev; line.Do == do {
				id = line.ID
			}
		}
	}
}

// chargesOn counts the charges, under way and planned, on the channels of a circuit.
func (s *served) chargesOn(d *device, circuit string) int {
	d.t.Helper()
	n := 0
	state := s.desk.View().State
	for _, ch := range state.Channels {
		if state.Circuits[ch.Circuit].Name == circuit {
			n += gets[int](d, fmt.Sprintf(`fetch("/api/forecast").then((r) => r.json()).then((f) => f.put["channelview/%s"].bars.length)`, ch.ID))
		}
	}
	return n
}

func TestBrowserABreakerTripsAndItsChargesAreUnknownUntilLookedAt(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 390, 844, true)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.url + "/#/captain/charging")
	captain.sees("N1 since")
	captain.shot("charging-before-on-captain")
	require.Positive(t, s.chargesOn(captain, "Hall stage"))

	pia.open(s.url + "/#/me/packs")
	pia.hold("Hall stage HAS NO POWER", `document.body.innerText.includes("Hall stage is OFF")`)
	is := s.packIs("N1")
	require.Equal(t, board.PackCharging, is.State, "until someone says that it is off the charger")
	require.True(t, is.Unsure)
	require.NotEmpty(t, is.Stopped)
	require.Equal(t, board.PackCharging, s.packIs("G1").State, "the other circuit's charge goes on")
	captain.press("alarms ▾")
	captain.sees("the charge of N1 may have stopped, and nobody has looked")
	captain.sees("OFF since")
	captain.shot("charging-off-on-captain")
	require.Positive(t, s.chargesOn(captain, "Hall east wall"))
	require.Equal(t, 1, gets[int](captain, `fetch("/api/forecast").then((r) => r.json()).then((f) => Object.keys(f.put).filter((k) => k.startsWith("alarm/") && k.includes("-circuit-")).length)`), "one alarm")
	require.Equal(t, 1, gets[int](captain, `(document.body.innerText.match(/Circuit Hall stage went off/g) ?? []).length`), "once on the screen")

	// Once it is off and looked at the plan moves it to a circuit that is on.
	s.does(t, "Pia", board.PackOff{Pack: is.ID})
	pia.enters(s, is, "3.99", map[string]string{"temp": "27"})
	pia.press("this is what i read")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	require.Empty(t, s.packIs("N1").Stopped)
	captain.seesNot("nobody has looked")
	captain.waits(fmt.Sprintf(`fetch("/api/forecast").then((r) => r.json()).then((f) => Object.values(f.put).some((v) => v.bars?.some((b) => b.pack === %q && !b.running)))`, is.ID), "a planned charge of N1")
	require.Zero(t, s.chargesOn(captain, "Hall stage"))

	captain.press("Hall stage is on again")
	captain.types("f-saidBy", "Hall keeper")
	captain.press("it is on again")
	captain.seesNot("OFF since")
	captain.seesNot("Circuit Hall stage went off")
	require.Equal(t, board.PackWaiting, s.packIs("N1").State, "the charge does not go on by itself")
}

// Three keys a cell, two for the temperature, one for the look, and the two presses
// around them. At half a second a tap, slow for a thumb on big keys (from memory), that
// is under a dozen seconds.
func TestBrowserSixCellsAreReadWithOneThumb(t *testing.T) {
	inBrowser(t)
	const cells, tapsMost = 6, 23
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	s.does(t, "Ottoline", board.PackAdd{PackFields: board.PackFields{Name: "K1", Chemistry: charge.LiPo, Cells: cells, Parallel: 1, CapacityAh: 5, ChargeAmpsMost: 5, Use: board.UseMain}})
	pia := newDevice(t, "pia", 360, 740, true)
	s.joins(pia, board.RoleCrew, "Pia")
	pack := s.pack("K1")
	pia.open(s.url + "/#/me/pack/" + string(pack.ID))
	pia.sees("nobody has read it yet")
	pia.open(s.url + "/#/me/move/" + string(pack.ID))
	pia.sees("It is not planned for any fight: the captain says which robots it fits.")
	pia.open(s.url + "/#/me/pack/" + string(pack.ID))
	pia.sees("READ IT: ")

	thumb := takes(pia)
	pia.inReach("reading")
	thumb.tap("reading")
	pia.sees("Reading of K1")
	pia.shot("pack-read-six-empty")
	pia.inReach("1", "2", "3", "back", "4", "5", "6", ".", "7", "8", "9", "0")
	for cell := range cells {
		thumb.reads("379")
		pia.waits(fmt.Sprintf(`document.getElementById("cell%d")?.value === "3.79"`, cell+1), "the cell's volts")
	}
	pia.waits(`document.querySelector(".cell.here input")?.id === "temp"`, "after the last cell comes the temperature")
	thumb.reads("24")
	pia.sees("looks as it should")
	pia.inReach("looks as it should", "swollen or soft", "torn, pierced, burnt", "smells, hisses", "this is what i read")
	thumb.tap("looks as it should")
	pia.shot("pack-read-six-cells")
	thumb.tap("this is what i read")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")

	thumb.checks()
	require.LessOrEqual(t, thumb.taps+thumb.readings, tapsMost)
	t.Logf("%d taps for %d cells, a temperature and a look", thumb.taps+thumb.readings, cells)
	is := s.packIs("K1")
	require.Equal(t, []float64{3.79, 3.79, 3.79, 3.79, 3.79, 3.79}, is.Reading.CellVolts)
	require.InDelta(t, 24, *is.Reading.TempC, 0)
	require.Equal(t, board.LookFine, is.Reading.Look)

	pia.open(s.url + "/#/me/read/" + string(pack.ID))
	pia.waits(`document.querySelector("label[for=cell1]")?.innerText.includes("3.79")`, "the last value stands beside")
	pia.enters(s, pack, "9.99", nil)
	pia.press("this is what i read")
	pia.sees("9.99 V is out of range")
	require.Equal(t, []float64{3.79, 3.79, 3.79, 3.79, 3.79, 3.79}, s.packIs("K1").Reading.CellVolts, "an impossible value is refused")

	pia.open(s.url + "/#/me/pack/" + string(pack.ID))
	pia.sees("Pack K1")
	pia.enters(s, pack, "4.25", nil)
	pia.press("this is what i read")
	pia.sees("4.25 V is above the 4.20 V of a full cell")
	require.Equal(t, []float64{3.79, 3.79, 3.79, 3.79, 3.79, 3.79}, s.packIs("K1").Reading.CellVolts, "an unlikely value is asked again")
	pia.press("yes, i looked again")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	require.InDelta(t, 4.25, s.packIs("K1").Reading.CellVolts[0], 0, "once")
}

// atTop shows the page as it opens.
func (d *device) atTop() {
	d.t.Helper()
	d.runs(`for (const e of [window, ...document.querySelectorAll(".middle")]) e.scrollTo(0, 0)`)
}

// inReach checks that the controls with these words can be pressed where the page
// stands: nobody scrolls for them.
func (d *device) inReach(words ...string) {
	d.t.Helper()
	d.atTop()
	for _, w := range words {
		d.waits(fmt.Sprintf(`(() => {
  const e = %s(%q), r = e?.getBoundingClientRect();
  return Boolean(r) && [r.top + 4, r.bottom - 4].every((y) => document.elementFromPoint(r.x + r.width / 2, y)?.closest("button, a") === e);
})()`, control, w), fmt.Sprintf("%q in reach", w))
	}
}

func TestBrowserAReadingOfSixtyDegreesOffersTheEmergencyAtOnce(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 390, 844, true)
	s.joins(pia, board.RoleCrew, "Pia")
	pack := s.pack("V3")
	for _, temp := range []string{"59", "60"} {
		pia.enters(s, pack, "", map[string]string{"temp": temp})
		require.False(t, gets[bool](pia, `document.body.innerText.includes("EMERGENCY: pack V3")`))
		pia.press("this is what i read")
		if temp == "60" {
			pia.sees("EMERGENCY: pack V3")
			pia.sees("Get clear, raise the alarm, tell event safety.")
			require.NotEqual(t, board.PackSuspect, s.packIs("V3").State, "it is asked first")
			continue
		}
		pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	}
}
