package server

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// wren is a second robot of the team's, at the test box.
func (d *doors) wren() board.RobotID {
	d.t.Helper()
	f := d.state().Robots[d.cast.Moth].RobotFields
	f.Name, f.Number = "Pewter Wren", 2
	wren := madeOf[board.RobotID](d, board.KindRobot, d.by(d.cast.Ada, board.RobotAdd{RobotFields: f}))
	d.by(d.cast.Ben, board.RobotPlace{Robot: wren, Place: d.cast.Box})
	return wren
}

// minorsDrive has the captain enter that the event lets them.
func (d *doors) minorsDrive() {
	d.t.Helper()
	f := d.state().Event().EventFields
	f.MinorsDrive = true
	d.by(d.cast.Ada, board.EventSet{EventFields: f, Reason: "the event says so"})
}

// attacksOnPower are about power where people stand beside it, and about who drives.
func attacksOnPower() []attack {
	live := func(d *doors) given {
		return given{by: d.cast.Ada, do: board.RobotLive{Robot: d.cast.Moth, Place: d.cast.Arena}}
	}
	tests := func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} }
	near := func(d *doors, robot board.RobotID) { d.by(d.cast.Gus, board.HandsOn{Robot: robot}) }
	away := func(d *doors) {
		for id := range d.state().Hands {
			d.by(d.cast.Gus, board.HandsOff{Hands: id})
		}
	}
	return []attack{
		{"a test where hands are on another of our robots", 7,
			func(d *doors) { d.closedUp(); near(d, d.wren()) },
			tests, away, tests},
		{"a tag on a robot beside one that has power", 7,
			func(d *doors) {
				d.closedUp()
				wren := d.wren()
				d.by(d.cast.Ada, board.RobotPlace{Robot: wren, Place: d.cast.Bench})
				for d.state().Powers[wren].State != board.Verified {
					sheet, _ := d.state().Sheet(wren, board.ListMakeSafe)
					line, _ := sheet.OpenLine()
					if wait := d.state().RestsAt(wren, line).Sub(d.d.Now()); wait > 0 {
						d.clock.pass(wait)
					}
					d.by(d.cast.Dee, board.SheetAnswer{Sheet: sheet.ID, Line: line.ID, Said: board.SaidDone})
				}
				d.by(d.cast.Ada, board.RobotPlace{Robot: wren, Place: d.cast.Box})
				d.by(d.cast.Ada, d.drives())
			},
			func(d *doors) given { return given{by: d.cast.Dee, do: board.TagOn{Robot: d.otherRobot()}} },
			func(d *doors) { d.by(d.cast.Ada, board.RobotTestEnd{Robot: d.cast.Moth}) },
			func(d *doors) given { return given{by: d.cast.Dee, do: board.TagOn{Robot: d.otherRobot()}} }},
		{"a minor's robot goes live and nobody said that minors drive here", 5,
			func(d *doors) {
				d.by(d.cast.Ada, d.robot(func(f *board.RobotFields) { f.Driver = d.cast.Kit }))
				d.ready()
			},
			live, (*doors).minorsDrive, live},
	}
}

func (d *doors) otherRobot() board.RobotID {
	for id := range d.state().Robots {
		if id != d.cast.Moth {
			return id
		}
	}
	return ""
}

// TestAnAttendantWhoTestsOutOfSightIsAskedWhoTakesOver, until someone says so. Constructed
// by us.
func TestAnAttendantWhoTestsOutOfSightIsAskedWhoTakesOver(t *testing.T) {
	d := newDoors(t)
	d.comeIn()
	d.closedUp()
	cool := 21.0
	d.by(d.cast.Ben, board.PackRead{Pack: d.cast.P1, CellVolts: cells(3.7), TempC: &cool})
	d.by(d.cast.Ada, board.PackCharge{Pack: d.cast.P1, Channel: d.cast.A1, Attendant: d.cast.Ada, Cells: 4, Amps: 0.6, Contained: true})
	require.Nil(t, d.gives(given{by: d.cast.Ada, do: d.drives()}, true))
	require.NotZero(t, d.state().Packs[d.cast.P1].Away)
	require.Nil(t, d.gives(given{by: d.cast.Dee, do: board.PackAttend{Pack: d.cast.P1}}, false))
	require.Zero(t, d.state().Packs[d.cast.P1].Away)
}

// TestWhatCameLateOrIsAnEmergencyEndsPowerThroughEitherDoor gives facts that no rule may
// refuse, and the nearest that leave the power as it is. Constructed by us.
func TestWhatCameLateOrIsAnEmergencyEndsPowerThroughEitherDoor(t *testing.T) {
	for name, c := range map[string]struct {
		gives func(d *doors) given
		ends  bool
	}{
		"a guest's tag from a minute ago": {func(d *doors) given {
			return given{by: d.cast.Gus, do: board.TagOn{Robot: d.cast.Moth}, ago: time.Minute}
		}, true},
		"a tag from nine seconds ago, before the test": {func(d *doors) given {
			return given{by: d.cast.Dee, do: board.TagOn{Robot: d.cast.Moth}, ago: 9 * time.Second}
		}, true},
		"hands near a robot beside it": {func(d *doors) given { return given{by: d.cast.Gus, do: board.HandsOn{Robot: d.otherRobot()}} }, true},
		"an emergency there":           {func(d *doors) given { return given{by: d.cast.Gus, do: board.EmergencyRaise{Place: d.cast.Box}} }, true},
		"an emergency elsewhere":       {func(d *doors) given { return given{by: d.cast.Gus, do: board.EmergencyRaise{Place: d.cast.Shelf}} }, false},
	} {
		for _, socket := range []bool{false, true} {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				d := newDoors(t)
				d.comeIn()
				d.closedUp()
				d.wren()
				d.by(d.cast.Ada, d.drives())
				require.Nil(t, d.gives(c.gives(d), socket))
				require.Equal(t, c.ends, d.state().Powers[d.cast.Moth].State == board.Unknown)
			})
		}
	}
}
