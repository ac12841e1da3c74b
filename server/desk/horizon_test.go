package desk

import (
	"testing"
	"testing/synctest"
	"time"

	"mendline/board"
)

func TestATimeSetTooFarAheadMakesNoRightlyDatedCommandTooLate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		const month = 30 * 24 * 3600
		l := newLaptop()
		p := newPit(t, l.options())
		right := func(by board.Actor, c board.Command) Request {
			r := p.request(by, c)
			r.ID = newCommandID(board.MomentOf(l.now()))
			return r
		}
		done := p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 3})
		p.accepted(done)
		for range 2 {
			p.accepted(right(p.asAda(), board.TimeSet{BySec: month, Sure: true}))
			p.note("dated by the board's time")
			time.Sleep(time.Second)
			p.accepted(right(p.asBen(), board.NoteAdd{Text: "dated by a right clock"}))
		}
		p.accepted(done) // it is remembered, not done again
		p = p.again(l.options())
		p.accepted(right(p.asAda(), board.TimeSet{BySec: -2 * month, Sure: true}))
		for range 2 {
			time.Sleep(time.Second)
			p.accepted(right(p.asBen(), board.NoteAdd{Text: "and when it is set back"}))
			p = p.again(l.options())
		}
		p.accepted(done)
	})
}

func TestWhatOnlyRaisesIsNeverTooLate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		old := func(by board.Actor, c board.Command) Request {
			r := p.request(by, c)
			r.ID = newCommandID(p.d.Now().Add(-30 * 24 * time.Hour))
			return r
		}
		for _, c := range []board.Command{
			board.EmergencyRaise{}, board.HandsOn{Robot: p.moth}, board.RobotDoubt{Robot: p.moth, Why: "it hums"},
		} {
			p.accepted(old(p.asBen(), c))
		}
		p.accepted(old(board.Actor{Person: p.ada, Role: board.RoleSafety}, board.RobotStop{Robot: p.moth, Why: "a crack"}))
		p.refused(old(p.asBen(), board.NoteAdd{Text: "old"}), board.CodeTooLate)
		p.refused(old(p.asBen(), board.HandsOff{}), board.CodeTooLate)
	})
}
