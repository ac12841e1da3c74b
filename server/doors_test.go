package server

import (
	"context"
	"maps"
	"slices"
	"testing"
	"time"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/server/desk"
)

// doors is a board with the rules' cast, and a device of each person at both
// doors.
type doors struct {
	*pit
	cast    boardtest.Cast
	devices map[board.PersonID]device
	socks   map[board.PersonID]*sock
	joined  time.Time // when everyone came in last
}

func newDoors(t testing.TB) *doors {
	d := &doors{pit: newEmptyPit(t), devices: map[board.PersonID]device{}, socks: map[board.PersonID]*sock{}}
	d.cast = boardtest.NewCast(d.give)
	return d
}

// comeIn lets everyone join, with a new session where the old one would end soon.
func (d *doors) comeIn() {
	if now := d.clock.Now(); now.Sub(d.joined) < 8*time.Hour {
		return
	}
	d.joined = d.clock.Now()
	for _, k := range d.socks {
		k.conn.Close()
	}
	for _, id := range []board.PersonID{d.cast.Ada, d.cast.Ben, d.cast.Dee, d.cast.Kit, d.cast.Gus, d.cast.Nia} {
		person := d.d.View().State.People[id]
		d.devices[id] = d.join(person.Role, person.Name)
	}
	d.devices[""] = d.wall()
	for id, dev := range d.devices {
		d.socks[id] = d.dial(dev)
		d.socks[id].resume("", 0)
	}
}

// give gives the desk a command, past the server, and tells what it made.
func (d *doors) give(by board.Actor, c board.Command) []board.Key {
	d.t.Helper()
	before := d.d.View().State
	d.clock.pass(time.Second)
	a, err := d.d.Do(context.Background(), desk.Request{ID: d.newID(), Do: board.Name(c), With: encode(d.t, c), Seen: boardtest.Seen(before, c), Actor: by})
	require.NoError(d.t, err)
	require.Nil(d.t, a.Refusal, "%+v", a.Refusal)
	var made []board.Key
	after := d.d.View().State
	for _, n := range after.Nouns() {
		if _, there := before.Get(n.Key()); !there {
			made = append(made, n.Key())
		}
	}
	return made
}

// ticked lets the desk do what time has brought.
func (d *doors) ticked() board.State {
	for range 2 {
		_, err := d.d.State(context.Background())
		require.NoError(d.t, err)
	}
	return d.d.View().State
}

// through sends a command as by's own device does, over HTTP or over the socket,
// and tells whether it was accepted.
func (d *doors) through(socket bool, by board.Actor, ask Ask) *board.Refusal {
	for _, p := range by.Proved {
		ask.Pins = append(ask.Pins, Pin{Person: p, PIN: somePIN})
	}
	if socket {
		return d.socks[by.Person].do(ask).Refusal
	}
	a := d.devices[by.Person].post("/api/do", ask)
	if a.status == 200 {
		return nil
	}
	return decode[RefusedAnswer](d.t, a.body).Refusal
}

// TestNoSequenceThroughEitherDoorBreaksARule gives random commands of all roles
// over HTTP and over sockets, in turns as chance will have it. The board is one for all
// sequences: it goes on from where the one before left it.
func TestNoSequenceThroughEitherDoorBreaksARule(t *testing.T) {
	if testing.Short() {
		t.Skip("many real requests")
	}
	d := newDoors(t)
	accepted, rules := 0, map[int]int{}
	rapid.Check(t, func(rt *rapid.T) {
		walker := boardtest.Walker{Cast: d.cast, RT: rt, KeepCast: true}
		var wit boardtest.Witness
		d.comeIn()
		wit.Look(d.ticked(), d.d.Now())
		for range 10 {
			d.clock.pass(time.Duration(rapid.SampledFrom([]int{100, 1000, 30_000, 200_000, 900_000}).Draw(rt, "ms")) * time.Millisecond)
			before := d.ticked()
			wit.Look(before, d.d.Now())
			c, by := walker.Next(before)
			if by.Role == board.RoleSystem {
				continue // no door leads there: TestADeviceCannotGiveTheBoardsOwnCommands
			}
			if _, gone := c.(board.PersonRetire); gone {
				continue // their device goes with them, and the cast would grow thin
			}
			if by.Person == "" {
				by = board.Actor{Role: board.RoleViewer}
			}
			id := d.newID()
			ask := Ask{ID: id.String(), Do: board.Name(c), With: jsontext.Value(encode(t, c)), Seen: boardtest.Seen(before, c)}
			ask.At, ask.ShiftSec = walker.When(before, c, d.d.Now())
			bad := d.through(rapid.Bool().Draw(rt, "socket"), by, ask)
			after := d.d.View().State
			if bad != nil {
				require.NotEmpty(rt, bad.Sentence)
				require.Equal(rt, before.Rev, after.Rev, "a refusal changes nothing")
				rules[bad.Rule]++
				continue
			}
			accepted++
			require.Equal(rt, before.Rev+1, after.Rev)
			require.NotEqual(rt, board.RoleViewer, by.Role, "a screen that only shows gave %s", board.Name(c))
			walker.Done = append(walker.Done, id)
			if inv, broken := wit.Broken(boardtest.Step{Before: before, After: after, Command: c, By: by, Now: d.d.Now(), At: boardtest.Dated(before, ask.At, ask.ShiftSec, d.d.Now())}); broken {
				rt.Fatalf("rule %d is broken: %s\nby %s: %T %+v", inv.Rule, inv.Name, before.People[by.Person].Name, c, c)
			}
			wit.Look(after, d.d.Now())
		}
	})
	t.Logf("%d accepted, refused by rule: %v", accepted, rules)
	require.Greater(t, accepted, 100)
	require.Greater(t, len(slices.Collect(maps.Keys(rules))), 4)
}
