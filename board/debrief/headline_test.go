package debrief

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTheHeadlineSaysWhatTheDayCostAndWhatWouldHaveCostLess(t *testing.T) {
	var r Record
	bill := Bill{ListCents: 710000, PaidCents: 420000, WorkSec: 5430, Damages: 4}
	compared := func(decided bool, dearer, cheaper float64) []Compared {
		return []Compared{{Name: "Tin Moth", Comparison: Comparison{
			Built: Outcome{Name: "bolted rails"}, Other: Outcome{Name: "one frame"}, Decided: decided, OtherDearer: dearer, OtherCheaper: cheaper,
		}}}
	}
	const cost = "On Tin Moth the day cost 7100.00 at list price, 4200.00 paid, and 91 min of work, with 4 damages"
	for _, c := range []struct {
		compared []Compared
		says     string
	}{
		{nil, "."},
		{compared(true, .17, .83), "; in 83 of 100 replays one frame would have cost less to mend than bolted rails."},
		{compared(true, .999, .001), "; in over 99 of 100 replays one frame would have cost more to mend than bolted rails."},
		{compared(true, 0, 0), "; one frame would have cost as much to mend as bolted rails."},
		{compared(false, .17, .83), "; too few damaging fights to say whether one frame would have cost less to mend than bolted rails."},
	} {
		require.Equal(t, cost+c.says, r.headline(Section{Robot: "m", Name: "Tin Moth", Bill: bill}, c.compared))
	}
	require.Equal(t, "The day cost 7100.00 at list price, 4200.00 paid, and 91 min of work, with 4 damages. Tin Moth: in 83 of 100 replays one frame would have cost less to mend than bolted rails.",
		r.headline(Section{Name: "All robots", Bill: bill}, compared(true, .17, .83)), "of which robot")
}

func TestTheChancesAreSaidByWhetherTheyWereGood(t *testing.T) {
	met := func(of10 int, met bool) Called { return Called{Of10: of10, Met: met} }
	for _, c := range []struct {
		calls []Called
		says  string
	}{
		{nil, "No chance was given before a call that has come."},
		{[]Called{met(9, true)}, "1 call with a chance given before: 1 met. Each time it was 8 of 10 or better."},
		{[]Called{met(7, true), met(3, false)}, "2 calls with a chance given before: 1 met. It was never 8 of 10 or better."},
		{[]Called{met(10, true), met(8, false), met(7, true), met(2, false), met(0, false)},
			"5 calls with a chance given before: 2 met. Where it was 8 of 10 or better, 1 of 2 were met; where it was less, 1 of 3."},
	} {
		require.Equal(t, c.says, calledSaid(c.calls))
	}
}
