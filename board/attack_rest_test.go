package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about what still turns or holds a charge when the
// power is off.

// down answers the lines of powering down.
func (p *pit) down() {
	p.t.Helper()
	for {
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		l, _ := sheet.OpenLine()
		if l.Part != "down" {
			return
		}
		p.answer(p.as(p.ben), ListMakeSafe)
	}
}

const rotor = "spinning-mass-3"

func TestRule3ARotorHasItsTimeAfterPoweringDown(t *testing.T) {
	p := newPit(t)
	p.down()
	off := p.now
	require.Equal(t, PoweredDown, p.state())
	bad := p.refused(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone), 3)
	sentenceHas(t, bad, "in 59 s")
	p.ok(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidNo))
	p.now = off + 58*second
	bad = p.refused(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone), 3)
	sentenceHas(t, bad, "in 1 s")
	p.ok(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone))
	require.Equal(t, off+60*second, p.now, "as soon as the time is over, and nothing else was held back")
}

// Each tries to have the rotor at rest in less than the event's time.
func TestRule3NothingGoesRoundTheTimeOfARotor(t *testing.T) {
	for name, attack := range map[string]func(p *pit) *Refusal{
		"a phone that dates powering down a minute back": func(p *pit) *Refusal {
			p.now += hour
			sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
			for _, l := range []string{"lock", "link-1", "radio"} {
				p.n++
				_, bad := p.tryAsk(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: l, Said: SaidDone}, Ask{ID: newID(p.now, p.n), At: p.now - 2*minute})
				require.Nil(p.t, bad)
			}
			require.Equal(p.t, PoweredDown, p.state())
			_, bad := p.try(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone))
			return bad
		},
		"a phone whose clock is ahead": func(p *pit) *Refusal {
			p.down()
			p.n++
			_, bad := p.tryAsk(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone), Ask{ID: newID(p.now, p.n), At: p.now + 5*minute})
			return bad
		},
		"the link said to be out long before, the rest just now": func(p *pit) *Refusal {
			p.ok(p.as(p.ben), p.said(ListMakeSafe, "link-1", SaidDone))
			p.now += hour
			p.down()
			_, bad := p.try(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone))
			return bad
		},
		"a doubt and the same again": func(p *pit) *Refusal {
			p.makeSafe()
			p.now += hour
			p.ok(p.as(p.kit), RobotDoubt{Robot: p.moth, Why: "not sure"})
			p.down()
			_, bad := p.try(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone))
			return bad
		},
		"after a test, by a phone that says it was a while ago": func(p *pit) *Refusal {
			p.closedUp()
			p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "weapon", Place: p.box, Minutes: 5})
			p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
			p.down()
			p.n++
			_, bad := p.tryAsk(p.as(p.ben), p.said(ListMakeSafe, rotor, SaidDone), Ask{ID: newID(p.now, p.n), At: p.now - 7*second})
			return bad
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			bad := attack(p)
			require.NotNil(t, bad)
			require.Equal(t, 3, bad.Rule, bad.Sentence)
			p.makeSafe()
		})
	}
	t.Run("on paper it is kept as record and answers nothing", func(t *testing.T) {
		p := newPit(t)
		p.down()
		p.ok(p.as(p.ben), p.onPaper(ListMakeSafe, rotor, SaidDone, 0))
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		_, answered := sheet.Answered(rotor)
		require.False(t, answered)
	})
}

func TestRule3CapacitorsHaveTheTimeThatIsEnteredForThem(t *testing.T) {
	for _, reach := range []Reach{Outside, Inside} {
		p := newPit(t)
		p.energies(
			Energy{Kind: EnergyWeapon, Isolator: "removable link", Reach: Outside}, Energy{Kind: EnergyDrive, Isolator: "removable link", Reach: Outside},
			Energy{Kind: EnergyCapacitor, Isolator: "bank", Reach: reach, RestSec: 600})
		list := map[Reach]SheetList{Outside: ListMakeSafe, Inside: ListFirstIn}[reach]
		p.down()
		off := p.now
		if reach == Inside {
			p.makeSafe()
			p.ok(p.as(p.ben), TagOn{Robot: p.moth})
		}
		bad := p.refused(p.as(p.ben), p.said(list, "capacitor-3", SaidDone), 3)
		sentenceHas(t, bad, "takes 10 min by itself")
		p.now = off + 599*second
		p.ok(p.as(p.ben), p.said(list, "capacitor-3", SaidDone))
		p.ok(p.as(p.ben), p.said(list, "capacitor-3", SaidDone)) // looked at again, at work
	}
}

func TestARotorThatTakesLongerThanTheEventSaysKeepsItsOwnTime(t *testing.T) {
	for _, c := range []struct{ own, takes int }{{0, 60}, {20, 60}, {90, 90}} {
		p := newPit(t)
		f := p.s.Robots[p.moth].RobotFields
		f.Energies = append([]Energy{}, f.Energies...)
		f.Energies[2].RestSec = c.own
		p.captain(RobotChange{Robot: p.moth, RobotFields: f})
		p.down()
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		l, _ := sheet.OpenLine()
		require.Equal(t, p.now+Moment(c.takes)*second, p.s.RestsAt(p.moth, l))
	}
}

func TestATimeToRestIsTakenOffLikeAnEnergy(t *testing.T) {
	p := newPit(t)
	bank := Energy{Kind: EnergyCapacitor, Isolator: "bank", Reach: Outside, RestSec: 600}
	link := Energy{Kind: EnergyDrive, Isolator: "link", Reach: Outside}
	p.energies(link, bank)
	f := p.s.Robots[p.moth].RobotFields
	bank.RestSec = 60
	f.Energies = []Energy{link, bank}
	sentenceHas(t, p.refused(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f}, 8), "less time for capacitor")
	p.ok(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f, Reason: "bleeders fitted"})
	link.RestSec = 60
	f.Energies = []Energy{link, bank}
	_, bad := p.try(p.as(p.ada), RobotChange{Robot: p.moth, RobotFields: f})
	require.Equal(t, "energies", bad.Field)
}
