package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

func TestDamageWithoutAJobCostsChanceAndIsAnAlarmUntilSomeoneDecides(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.calledAt(r, p.now.Add(25*time.Minute))
	p.open(r, ada)
	whole := p.ready("Sprat")
	undecided := func() (list []forecast.Alarm) {
		for _, a := range p.make().Alarms {
			if a.Slug == "C-undecided-"+string(r) {
				list = append(list, a)
			}
		}
		return list
	}
	require.Empty(t, undecided())

	report := func(g board.Grade) board.DamageID {
		return board.DamageID(p.made(board.KindDamage, board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "hub", Grade: g}}, board.Actor{Person: ada, Role: board.RoleCaptain}))
	}
	report(board.G2)
	require.Equal(t, whole, p.ready("Sprat"), "what a patch would do costs no chance")
	require.Empty(t, undecided())
	d := report(board.G3)
	require.Less(t, p.ready("Sprat"), whole)
	require.Positive(t, p.call(r).NeedSec)
	list := undecided()
	require.Len(t, list, 1)
	require.Equal(t, "Sprat has damage without a job: 2 hub", list[0].What)

	p.by(ada, board.DamageRegrade{Damage: d, Grade: board.G1, Reason: "a scratch, looked at again"})
	require.Equal(t, whole, p.ready("Sprat"))
	require.Empty(t, undecided())
}

func TestWhoeverWaitsForDamageWithoutAJobIsToldOfNoWorkOnIt(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	p.person("Ben")
	r := p.light("Sprat", 1, ada)
	p.calledAt(r, p.now.Add(60*time.Minute))
	p.captain(board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "hub", Grade: board.G3}})
	for _, todo := range p.make().Todos {
		require.NotContains(t, todo.Title+todo.Why, "%")
	}
}

// A setting that is still to be entered keeps power off: it holds up what comes after the
// last job, not the mending.
func TestDamageIsPutRightWhileASettingThatBarsPowerIsMissing(t *testing.T) {
	p := &pit{t: t, now: noon}
	e := board.EventFields{
		Name: "Harbour Hall Open", FightMeanSec: 360, FightMeanWorth: 20, SpinDownSec: 60, EmergencyContact: "the desk",
		ActivationOrder: []string{"link in"}, DeactivationOrder: []string{"link out"},
	}
	p.captain(board.EventSet{EventFields: e})
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.open(r, ada)
	p.calledAt(r, p.now.Add(15*time.Minute))
	p.captain(board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "hub", Grade: board.G3}})
	share := func() float64 { return forecast.ReadyShares(p.s, p.now, 1, budget)[r] }
	barred := share()
	e = p.s.Event().EventFields
	e.ChargingPlaces = []board.PlaceID{p.place("shelf", board.PlaceCharging)}
	p.captain(board.EventSet{EventFields: e})
	require.InDelta(t, share(), barred, .1)
}

func TestDamageWithoutAJobHasABadCaseBeforeTheFightAfterNext(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.calledAt(r, p.now.Add(time.Minute))
	first := p.fight(board.FightFields{Robot: r, Number: 1})
	p.made("", board.FightNow{Arena: "A", Number: 1}, captain)
	p.captain(board.DamageReport{DamageFields: board.DamageFields{Robot: r, Part: "hub", Grade: board.G3}})
	// A match of 3 min, sheets of 9 and 5, and 6 to 20 of mending.
	p.fight(board.FightFields{Robot: r, Number: 2, After: first, If: board.Won, NotBefore: p.now.Add(27 * time.Minute)})
	b := find(t, p.call(r).Branches, func(b forecast.Branch) bool { return b.If == board.Won })
	require.Zero(t, b.ShortSec)
	require.Equal(t, forecast.FlagTight, b.Flag)
}
