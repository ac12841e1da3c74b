package main

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// TestBrowserEveryCautionOfChargingStandsOnItsScreen names, for each thing that must
// not happen to a pack, the words in which somebody at the charging table reads it, and
// on which screen. Our decision, after common practice, no source.
func TestBrowserEveryCautionOfChargingStandsOnItsScreen(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 360, 740, true)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	page := func(d *device, hash string) func() {
		return func() { d.open(s.url + "/#/" + hash) }
	}
	charge := page(pia, "me/charge/"+string(s.pack("V1").ID))
	highVolts := page(pia, "me/charge/"+string(s.pack("N3").ID))
	charging := page(pia, "me/pack/"+string(s.pack("G1").ID))
	aside := page(pia, "me/pack/"+string(s.pack("G2").ID))
	packs := page(pia, "me/packs")
	planned := page(captain, "captain/charging")
	for _, c := range []struct {
		what  string
		d     *device
		shows func()
		words []string
	}{
		{"somebody by name stays with it", pia, charge, []string{"who stays with it", "The person who stays with it does not leave; leaving stops it."}},
		{"in containment, clear of what burns", pia, charge, []string{"in its fire-resistant bag or box, clear of anything that burns?"}},
		{"what is set aside is never charged", pia, aside, []string{"Nothing brings it back: it is not charged, topped up, balanced or revived, and does not go into any robot."}},
		{"cells are counted by hand", pia, charge, []string{"cells, by hand", "Count the cells on the balance lead.", "Pack volts cannot tell how many cells there are. Where hand, record and charger differ, do not charge."}},
		{"cells and warmth within limits, and read", pia, charge, []string{"Not above 45 °C or below 5 °C, not with cells 0.10 V apart or out of limits, not unread."}},
		{"the limit voltage by the label", pia, highVolts, []string{"4 cells, 4.35 V, only if its label says so a cell"}},
		{"no more than 4.20 V by default", pia, charge, []string{"3 cells, 4.20 V a cell"}},
		{"no current above the limits", pia, charge, []string{"A, at most 0.7"}},
		{"not in the robot, not sealed in, not beside sparks", pia, charge, []string{"Never near grinding or welding, never sealed in, never in the robot or on a person."}},
		{"no parallel board", pia, charge, []string{"One pack a channel: no parallel board."}},
		{"the charger's own limits are set", pia, charge, []string{"the charger’s own Ah and time limits. The board raises none of them."}},
		{"past its time it is stopped and looked at", pia, charging, []string{"Stop it and look past", "or when it has taken more than 6.51 Ah."}},
		{"only a reading makes it charged", pia, charging, []string{"only a reading makes it so"}},
		{"no clock changes a limit", captain, planned, []string{"No plan and no clock changes a limit"}},
		{"signs of danger", pia, charge, []string{"Swelling, a hiss, a smell, smoke, sudden heat, volts that drop: raise the alarm, get clear, tell event safety.", "The officials’ card: EXAMPLE, invented."}},
		{"signs of danger while it charges", pia, charging, []string{"volts that drop: raise the alarm, get clear, tell event safety.", "The officials’ card: EXAMPLE, invented."}},
		{"signs of danger of what is set aside", pia, aside, []string{"volts that drop: raise the alarm, get clear, tell event safety.", "The officials’ card: EXAMPLE, invented."}},
		{"mains are others' to decide", pia, charge, []string{"The venue or an electrician decides about circuits, leads and generators."}},
		{"mains are others' to decide where one is switched", pia, packs, []string{"The venue or an electrician decides about circuits, leads and generators."}},
		{"mains are others' to decide where they are planned", captain, planned, []string{"Circuits, leads and generators are for the venue or an electrician to decide; the figures are what someone entered."}},
	} {
		t.Log(c.what)
		c.shows()
		for _, words := range c.words {
			c.d.sees(words)
		}
		require.Empty(t, gets[[]string](c.d, `[...document.querySelectorAll(".phone p, .charge-board p, .phone h2, .phone .press")]
		  .filter((e) => !e.closest(".alarms")).map((e) => e.innerText).filter((w) => /\bsafe\b|extinguish|\bsand\b|\bwater\b/i.test(w))`), "no pack is called safe, and nobody is told how to fight a fire")
	}
}

// A pack that no robot has as its own stops every fight: it is named where it is not
// read, and read like any other.
func TestBrowserATransmittersPackIsNamedAndRead(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	pia := newDevice(t, "pia", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(pia, board.RoleCrew, "Pia")
	pack := s.pack("Wireless")
	require.Equal(t, board.UseTransmitter, pack.Use)
	wall.sees("Wireless not read")
	pia.open(s.url + "/#/me/packs")
	pia.sees("transmitter pack")
	pia.enters(s, pack, "3.70", map[string]string{"temp": "22"})
	pia.press("this is what i read")
	pia.waits(`location.hash.includes("/me/pack/")`, "the pack's page")
	require.Equal(t, board.PackWaiting, s.packIs("Wireless").State)
	pia.sees("transmitter pack, 2 cells")
	pia.find("charge it")
	wall.seesNot("Wireless not read")
}

// What packs taught stands beside what was guessed, with the number of cases.
func TestBrowserWhatPacksTaughtStandsBesideTheGuess(t *testing.T) {
	inBrowser(t)
	const charges = 2
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.url + "/#/captain/charging")
	captain.sees("Nothing yet: enter the Ah that went in")
	pia, robot := s.person("Pia").ID, s.robot("Tumsy Vole").ID
	warm := 24.0
	for range charges {
		pack := s.pack("V2").ID
		s.does(t, "Juno", board.PackMove{Pack: pack, Robot: robot, Found: true})
		s.does(t, "Juno", board.PackMove{Pack: pack, Place: s.place("Charging shelf")})
		s.does(t, "Juno", board.PackRead{Pack: pack, CellVolts: []float64{3.70, 3.71, 3.70}, TempC: &warm})
		s.does(t, "Pia", board.PackCharge{Pack: pack, Channel: s.channel("Thimble 2"), Attendant: pia, Cells: 3, Amps: 0.3, Contained: true})
		s.does(t, "Juno", board.PackRead{Pack: pack, CellVolts: []float64{4.19, 4.19, 4.18}, ReturnedAh: 0.25, ChargeMin: 52, Charged: true})
	}
	row := func(what string) string {
		return fmt.Sprintf(`[...document.querySelectorAll(".health tr")].find((r) => r.cells[0].innerText === %q)`, what)
	}
	for _, what := range []string{"V2: mΩ a cell over a charge", "3 Tumsy Vole: Wh a fight"} {
		captain.waits(fmt.Sprintf(`%s?.cells[3].innerText === "%d"`, row(what), charges), what)
		cells := gets[[]string](captain, fmt.Sprintf(`[...%s.cells].map((c) => c.innerText)`, row(what)))
		require.NotEmpty(t, cells[1], "the guess")
		require.NotEmpty(t, cells[2], "what was learned")
		require.NotEqual(t, cells[1], cells[2])
	}
	// 0.25 Ah back into three cells of 3.7 V each.
	require.Equal(t, "2.8", gets[string](captain, row("3 Tumsy Vole: Wh a fight")+`.cells[2].innerText`))
}

func (s *served) channel(name string) board.ChannelID {
	for _, c := range s.desk.View().State.Channels {
		if c.Name == name {
			return c.ID
		}
	}
	return ""
}
