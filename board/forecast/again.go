package forecast

import (
	"slices"

	"mendline/board/chance"
	"mendline/board/estimate"
	"mendline/board/view"
	"mendline/board/work"
)

// mendAfterTest is what it takes to mend a robot that failed a test. Our own guess.
var mendAfterTest = estimate.TwoPoint{LikelySec: 5 * 60, BadSec: 15 * 60}

// closeAndTest is how much of the sheets after the last job it takes to close it up and to
// test it again. Our own guess.
const closeAndTest = 0.6

// testedAgain is what a stretch of sheets takes once more where its test fails.
func (c *schedule) testedAgain(t sheetTask) chance.Again {
	fails := view.TestsFail(c.s)
	if fails == 0 || !slices.ContainsFunc(t.items, func(i work.Item) bool { return i.Step == work.Test }) {
		return chance.Again{}
	}
	_, after := c.learnt.SheetTimes(c.robots[t.robot].robot)
	if after.LikelySec <= 0 {
		return chance.Again{}
	}
	sheets := estimate.TwoPoint{LikelySec: closeAndTest * after.LikelySec, BadSec: closeAndTest * after.BadSec}
	sum, err := estimate.InARow(chance.TiredRho, lognormal(mendAfterTest), lognormal(sheets))
	if err != nil {
		panic("forecast: what a failed test takes: " + err.Error())
	}
	return chance.Again{Share: fails, Work: chance.Work{Time: sum}}
}
