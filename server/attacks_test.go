package server

import (
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
)

// who gives a command, and which.
type given struct {
	by board.PersonID
	do board.Command
	// proved gave their PIN on the device of by.
	proved []board.PersonID
	// ago is by how much the phone dates it back.
	ago time.Duration
}

// attack is what once went round a rule, and the nearest honest thing to do.
type attack struct {
	name string
	rule int
	// there brings the board so far; refused is the attack; mend is what the refusal
	// asks for, where there is something; twin is then accepted.
	there   func(d *doors)
	refused func(d *doors) given
	mend    func(d *doors)
	twin    func(d *doors) given
}

// TestAttacksAreRefusedBesideTheirTwins gives each attack as a device does, over HTTP and
// over a socket, and its twin over one of them by turns. Constructed by us.
func TestAttacksAreRefusedBesideTheirTwins(t *testing.T) {
	var all []attack
	for _, list := range [][]attack{attacksOnHands(), attacksByLoosening(), attacksByName(), attacksWithPacks(), attacksOnTheSignature(), attacksOnSheetsThatFit(), attacksFoundLater(), attacksOnPower(), attacksByWords(), attacksOnTime(), attacksByWhoMayNot(), attacksOnPackRecords()} {
		all = append(all, list...)
	}
	for i, a := range all {
		t.Run(a.name, func(t *testing.T) {
			t.Parallel()
			d := newDoors(t)
			d.comeIn()
			a.there(d)
			before := d.ticked()
			for _, socket := range []bool{false, true} {
				bad := d.gives(a.refused(d), socket)
				require.NotNil(t, bad, "it went through")
				require.Equal(t, a.rule, bad.Rule, bad.Sentence)
				require.Equal(t, before.Rev, d.d.View().State.Rev, "a refusal changes nothing")
			}
			if a.mend != nil {
				a.mend(d)
			}
			require.Nil(t, d.gives(a.twin(d), i%2 == 0))
		})
	}
}

// gives sends a command as a device does that is up to date.
func (d *doors) gives(g given, socket bool) *board.Refusal {
	d.t.Helper()
	d.clock.pass(time.Second)
	s := d.ticked()
	ask := Ask{ID: d.newID().String(), Do: board.Name(g.do), With: jsontext.Value(encode(d.t, g.do)), Seen: boardtest.Seen(s, g.do)}
	if g.ago != 0 {
		ask.At = d.d.Now() - board.Moment(g.ago.Milliseconds())
	}
	return d.through(socket, board.Actor{Person: g.by, Proved: g.proved}, ask)
}

// last is the id of the last command.
func (d *doors) last() board.CommandID {
	d.t.Helper()
	lines, err := d.d.Store().Journal(uint64(d.state().Rev)-1, 1)
	require.NoError(d.t, err)
	require.Len(d.t, lines, 1)
	var line struct {
		ID board.CommandID `json:"id"`
	}
	require.NoError(d.t, json.Unmarshal(lines[0].Data, &line))
	return line.ID
}

// by gives a command past the server, for someone.
func (d *doors) by(who board.PersonID, c board.Command) []board.Key {
	d.t.Helper()
	return d.give(board.Actor{Person: who, Role: d.d.View().State.People[who].Role}, c)
}

func madeOf[ID ~string](d *doors, kind board.Kind, keys []board.Key) ID {
	d.t.Helper()
	for _, key := range keys {
		if k, id := key.Split(); k == kind {
			return ID(id)
		}
	}
	require.FailNow(d.t, "nothing of the kind was made", "%s in %v", kind, keys)
	return ""
}

func (d *doors) state() board.State { return d.d.View().State }

// rests lets the time pass that what a line is about takes to come to rest.
func (d *doors) rests(l board.Line) {
	if wait := d.state().RestsAt(d.cast.Moth, l).Sub(d.d.Now()); wait > 0 {
		d.clock.pass(wait)
	}
}

// walks has someone answer what is open of a sheet.
func (d *doors) walks(who board.PersonID, list board.SheetList) {
	d.t.Helper()
	for {
		sheet, ok := d.state().Sheet(d.cast.Moth, list)
		if !ok || sheet.State != board.SheetOpen {
			return
		}
		line, _ := sheet.OpenLine()
		if line.Kind == board.LineSign {
			return
		}
		if line.Kind == board.LinePack {
			d.by(who, board.PackRead{Pack: d.cast.P2, CellVolts: []float64{4.18, 4.18, 4.19, 4.18}, Charged: true})
		}
		d.rests(line)
		d.by(who, boardtest.AnswerTo(d.state(), sheet, line, who))
	}
}

// open brings the robot to work, with Ben's tag on.
func (d *doors) open() {
	d.t.Helper()
	d.walks(d.cast.Ben, board.ListMakeSafe)
	d.by(d.cast.Ben, board.TagOn{Robot: d.cast.Moth})
	d.walks(d.cast.Ben, board.ListFirstIn)
}

// closedUp closes it up again.
func (d *doors) closedUp() { d.t.Helper(); d.open(); d.closeUp() }

func (d *doors) closeUp() {
	d.t.Helper()
	d.walks(d.cast.Ben, board.ListInspect)
	for _, tag := range d.state().Tags {
		d.by(tag.Person, board.TagOff{Tag: tag.ID})
	}
	d.by(d.cast.Ada, board.RobotCloseUp{Robot: d.cast.Moth})
	d.walks(d.cast.Ben, board.ListCloseUp)
}

// ready has Dee sign it.
func (d *doors) ready() {
	d.t.Helper()
	d.closedUp()
	d.walks(d.cast.Ben, board.ListReady)
	d.by(d.cast.Dee, d.signs())
	require.Equal(d.t, board.Ready, d.state().Powers[d.cast.Moth].State)
}

func (d *doors) signs() board.SheetAnswer {
	sheet, _ := d.state().Sheet(d.cast.Moth, board.ListReady)
	return board.SheetAnswer{Sheet: sheet.ID, Line: "sign", Said: board.SaidDone}
}

// job adds one for a robot that is worked on with authority, and others that ask for
// no lockout by their lead's word.
func (d *doors) job(where board.Where) board.JobID {
	d.t.Helper()
	fix := boardtest.SwapBlade(d.cast.Blade)
	triage, by, why := board.Must, d.cast.Ben, ""
	if where != "" {
		fix.Name, fix.Where, fix.Lockout, fix.PackOut, fix.Touches, triage = "tape the antenna", where, false, false, nil, board.Could
		by, why = d.cast.Ada, "nothing that moves is near it"
	}
	return madeOf[board.JobID](d, board.KindJob, d.by(by, board.JobAdd{JobFields: board.JobFields{
		Robot: d.cast.Moth, Name: "a job", Triage: triage, Fixes: []board.Fix{fix},
	}, Reason: why}))
}

// theJob and theDamage are the only ones there are.
func (d *doors) theJob() board.Job {
	for _, job := range d.state().Jobs {
		return job
	}
	return board.Job{}
}

func (d *doors) theDamage() board.DamageID {
	for id := range d.state().Damages {
		return id
	}
	return ""
}

func (d *doors) damaged(g board.Grade) {
	d.t.Helper()
	d.by(d.cast.Ben, board.DamageReport{DamageFields: board.DamageFields{Robot: d.cast.Moth, Part: "blade", Grade: g}})
}

func (d *doors) drives() board.RobotTest {
	return board.RobotTest{Robot: d.cast.Moth, What: "drive", Place: d.cast.Box, Minutes: 5}
}

// robot is what is said of it, changed.
func (d *doors) robot(change func(f *board.RobotFields)) board.RobotChange {
	f := d.state().Robots[d.cast.Moth].RobotFields
	change(&f)
	return board.RobotChange{Robot: d.cast.Moth, RobotFields: f}
}
