package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// stays has a pack on the charger with someone who stays with it.
func (p *pit) stays(who PersonID) {
	p.t.Helper()
	cool := 21.0
	p.ok(p.as(p.ben), PackRead{Pack: p.p1, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}, TempC: &cool})
	p.ok(p.as(who), PackCharge{Pack: p.p1, Channel: p.cast.A1, Attendant: who, Cells: 4, Amps: 0.6, Contained: true})
}

func (p *pit) seesCharge(from PlaceID) {
	p.t.Helper()
	f := p.s.Places[from].PlaceFields
	f.InSight = []PlaceID{p.shelf}
	p.captain(PlaceChange{Place: from, PlaceFields: f})
}

func TestRule14WhoStaysWithAChargeAndIsSeenElsewhereIsNoted(t *testing.T) {
	for name, c := range map[string]struct {
		at    func(p *pit) PlaceID
		there func(p *pit)
		does  func(p *pit) (PersonID, Command)
	}{
		"tests": {func(p *pit) PlaceID { return p.box }, (*pit).closedUp, func(p *pit) (PersonID, Command) { return p.ada, driven(p) }},
		"ends a test": {func(p *pit) PlaceID { return p.box }, func(p *pit) { p.closedUp(); p.ok(p.as(p.ada), driven(p)) },
			func(p *pit) (PersonID, Command) { return p.ben, RobotTestEnd{Robot: p.moth} }},
		"goes live": {func(p *pit) PlaceID { return p.arena }, func(p *pit) { p.open(); p.ready() }, func(p *pit) (PersonID, Command) { return p.ada, fighting(p) }},
		"answers a sheet": {func(p *pit) PlaceID { return p.bench }, func(p *pit) { p.ok(p.as(p.dee), RobotPlace{Robot: p.moth, Place: p.bench}) },
			func(p *pit) (PersonID, Command) { return p.ben, p.said(ListMakeSafe, "lock", SaidDone) }},
	} {
		for _, sees := range []bool{false, true} {
			t.Run(name, func(t *testing.T) {
				p := newPit(t)
				c.there(p)
				if p.s.Packs[p.p1].Robot != "" {
					p.ok(p.as(p.dee), PackMove{Pack: p.p1, Place: p.watch})
				}
				if sees {
					p.seesCharge(c.at(p))
				}
				who, does := c.does(p)
				p.stays(who)
				p.ok(p.as(who), does)
				away := p.s.Packs[p.p1].Away
				require.Equal(t, !sees, away.At != 0)
				if !sees {
					require.Equal(t, p.moth, away.Robot)
					p.ok(p.as(who), PackAttend{Pack: p.p1})
					require.Zero(t, p.s.Packs[p.p1].Away)
				}
			})
		}
	}
}
