package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

func TestASettingThatBarsPowerCountsAndIsSaid(t *testing.T) {
	p := &pit{t: t, now: noon}
	p.captain(board.EventSet{EventFields: board.EventFields{
		Name: "Harbour Hall Open", FightMeanSec: 360, FightMeanWorth: 20, SpinDownSec: 60, EmergencyContact: "the desk",
		ActivationOrder: []string{"link in"}, DeactivationOrder: []string{"link out"},
	}})
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.open(r, ada)
	p.calledAt(r, p.now.Add(12*time.Minute))
	c := p.call(r)
	require.Equal(t, forecast.FlagTight, c.Flag)
	require.Equal(t, "No robot may have power before the captain has entered where packs may be charged.", c.Cause.Text)

	barred := forecast.ReadyShares(p.s, p.now, 1, budget)[r]
	e := p.s.Event().EventFields
	e.ChargingPlaces = []board.PlaceID{p.place("shelf", board.PlaceCharging)}
	p.captain(board.EventSet{EventFields: e})
	require.Greater(t, forecast.ReadyShares(p.s, p.now, 1, budget)[r], barred+.05)
	require.Equal(t, forecast.FlagNone, p.call(r).Flag, p.call(r).Cause.Text)
}
