package review

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestWhoIsEnteredWithAuthorityOrIsNoGuestAnyMoreIsMarked(t *testing.T) {
	p := newPit(t)
	before := len(p.review().Marked)
	enters := func(f board.PersonFields) { p.does(p.as(p.Ada), board.PersonAdd{PersonFields: f}) }
	enters(board.PersonFields{Name: "Una", Role: board.RoleCrew})
	enters(board.PersonFields{Name: "Vic", Role: board.RoleCrew, Signer: true})
	enters(board.PersonFields{Name: "Wyn", Role: board.RoleCaptain})
	enters(board.PersonFields{Name: "Xan", Role: board.RoleSafety, Signer: true})
	p.does(p.as(p.Ada), board.PersonChange{Person: p.Gus, PersonFields: board.PersonFields{Name: "Gus", Role: board.RoleCrew}})
	p.does(p.as(p.Ada), board.PersonChange{Person: p.Gus, PersonFields: board.PersonFields{Name: "Gus", Role: board.RoleCrew, From: "a friend"}})
	p.does(p.as(p.Ada), board.PersonChange{Person: p.Gus, PersonFields: board.PersonFields{Name: "Gus", Role: board.RoleCrew, Authorised: []board.EnergyKind{board.EnergyGas, board.EnergySpin}}})
	p.does(p.as(p.Ada), board.PersonChange{Person: p.Gus, PersonFields: board.PersonFields{Name: "Gus", Role: board.RoleCrew, Authorised: []board.EnergyKind{board.EnergyGas}}})
	var said []string
	for _, m := range p.review().Marked[before:] {
		require.Equal(t, []string{"what they may do", "Ada"}, []string{m.Ask, m.By})
		said = append(said, m.Name+": "+m.What)
	}
	require.Equal(t, []string{
		"Vic: a signer now", "Wyn: a captain now", "Xan: event safety now and a signer now", "Gus: no guest any more", "Gus: authority for gas, spinning-mass",
	}, said)
}

func TestANoticeThatWasAcknowledgedAfterThePINWasForgottenIsMarked(t *testing.T) {
	for _, forgotten := range []bool{false, true} {
		p := newPit(t)
		p.walks(board.ListMakeSafe, 10_000)
		p.does(p.as(p.Ben), board.TagOn{Robot: p.Moth})
		p.now += 10 * minute
		by := p.as(p.Ada)
		by.Proved = []board.PersonID{p.Dee}
		for id := range p.s.Tags {
			p.does(by, board.TagOverride{Tag: id, Second: p.Dee, Override: board.Override{
				LookedWhere: "the hall", CalledHow: "phone", CalledAt: p.now - minute, CheckedBy: p.Dee, Reason: "gone home",
			}})
		}
		if forgotten {
			p.does(board.Itself(), board.PersonForget{Person: p.Ben, By: p.Ada})
		}
		before := len(p.review().Marked)
		for id := range p.s.Notices {
			p.does(p.as(p.Ben), board.NoticeTake{Notice: id})
		}
		marked := p.review().Marked[before:]
		require.Equal(t, forgotten, len(marked) == 1)
		for _, m := range marked {
			require.Equal(t, []string{"acknowledged after the PIN was forgotten", "Ben", "Tin Moth"}, []string{m.What, m.By, m.Name})
		}
	}
}

func TestAWeightSaidAgainAndNobodyElseThereAreMarked(t *testing.T) {
	p := newPit(t)
	before := len(p.review().Marked)
	p.does(p.as(p.Ben), board.RobotWeigh{Robot: p.Moth, Grams: 1340})
	p.does(p.as(p.Ben), board.RobotWeigh{Robot: p.Moth, Grams: 1, Sure: true})
	weighed := p.now
	p.walks(board.ListMakeSafe, 10_000)
	p.does(p.as(p.Ada), board.RobotCloseUp{Robot: p.Moth})
	p.does(p.as(p.Ben), board.PackRead{Pack: p.P2, CellVolts: []float64{4.18, 4.18, 4.19, 4.18}, Charged: true})
	p.walks(board.ListCloseUp, 10_000)
	sheet, _ := p.s.Sheet(p.Moth, board.ListCloseUp)
	p.does(p.as(p.Ben), board.SheetAnswer{Sheet: sheet.ID, Line: "told", Said: board.SaidAlone})
	require.Equal(t, []Marked{
		{Robot: p.Moth, Name: "Tin Moth", Ask: "what the scale reads", What: "1 g, said again", By: "Ben", At: weighed},
		{Robot: p.Moth, Name: "Tin Moth", List: board.ListCloseUp, Ask: "Who at the bench was told that it is closed up?", What: "nobody else at the bench", By: "Ben", At: p.now},
	}, p.review().Marked[before:])
	sign, on := board.Line{Kind: board.LineSign}, board.Answer{Said: board.SaidDone, By: p.Dee, On: p.Ada}
	require.Equal(t, "signed on one device", marks(sign, on))
	require.Empty(t, marks(sign, board.Answer{Said: board.SaidDone, By: p.Dee}))
}

func TestAPINForgottenOrSetOnTheCaptainsDeviceIsMarked(t *testing.T) {
	p := newPit(t)
	before := len(p.review().Marked)
	p.does(board.Itself(), board.PersonForget{Person: p.Ben, By: p.Ada})
	forgotten := p.now
	p.now += minute
	p.does(board.Itself(), board.PersonClaim{Person: p.Nia, Role: board.RoleCrew, On: p.Ada})
	require.Equal(t, []Marked{
		{Name: "Ben", Ask: "PIN", What: "forgotten, so that another can be set", By: "Ada", At: forgotten},
		{Name: "Nia", Ask: "PIN", What: "set on one device", By: "Nia", On: "Ada", At: p.now},
	}, p.review().Marked[before:])
	p.does(p.as(p.Ada), board.PersonChange{Person: p.Ben, PersonFields: p.s.People[p.Ben].PersonFields})
	require.Len(t, p.review().Marked[before:], 2)
}

func TestWhoIsNoMinorAnyMoreStandsInTheReview(t *testing.T) {
	p := newPit(t)
	p.does(p.as(p.Ada), board.PersonChange{Person: p.Kit, PersonFields: board.PersonFields{Name: "Kit", Role: board.RoleCrew}, Reason: "eighteen today"})
	require.Contains(t, p.review().Loosened, Loosened{Name: "Kit", What: "no minor any more", Reason: "eighteen today", By: "Ada", At: p.now})
}

func TestAFightThatWasNotFoughtStandsInTheReview(t *testing.T) {
	p := newPit(t)
	p.does(p.as(p.Ada), board.FightAdd{FightFields: board.FightFields{Robot: p.Moth, Arena: "north", Number: 7}})
	var fight board.FightID
	for id := range p.s.Fights {
		fight = id
	}
	p.does(p.as(p.Ben), board.FightEnd{Fight: fight, Result: board.Lost})
	turns := p.review().Turnarounds
	p.now += minute
	p.does(p.as(p.Ada), board.FightNotFought{Fight: fight, Reason: "the other robot's"})
	require.Equal(t, turns, p.review().Turnarounds, "no fight begins or ends with it")
	l := p.review().Loosened
	require.Len(t, l, 1)
	require.Equal(t, "Tin Moth, north 7", l[0].Name)
	require.Equal(t, "the other robot's", l[0].Reason)
}
