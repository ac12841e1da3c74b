package plan

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Constructed by us: each task's ways, and the indices of those that stay.
func TestWaysThatNoPlanNeedsAreDropped(t *testing.T) {
	use := func(n int) []Use { return []Use{{0, n}} }
	bench := []Need{{0, 1}}
	for name, c := range map[string]struct {
		tasks []Task
		left  [][]int
	}{
		"longer, else the same":         {[]Task{{Ways: []Way{{DurationSec: 9}, {DurationSec: 5}}}}, [][]int{{1}}},
		"the second of two equal":       {[]Task{{Ways: []Way{{DurationSec: 5}, {DurationSec: 5}}}}, [][]int{{0}}},
		"longer with less stock":        {[]Task{{Ways: []Way{{DurationSec: 9}, {DurationSec: 5, Uses: use(1)}}}}, [][]int{{0, 1}}},
		"longer on no bench":            {[]Task{{Ways: []Way{{DurationSec: 9}, {DurationSec: 5, Needs: bench}}}}, [][]int{{0, 1}}},
		"longer with room left":         {[]Task{{Ways: []Way{{DurationSec: 9, Place: Off}, {DurationSec: 5, Place: Whole}}}}, [][]int{{0, 1}}},
		"other skills":                  {[]Task{{Ways: []Way{{DurationSec: 9, Team: []SkillSet{1}}, {DurationSec: 5, Team: []SkillSet{2}}}}}, [][]int{{0, 1}}},
		"the way people were told":      {[]Task{{Follow: &Followed{StartSec: 999}, Ways: []Way{{DurationSec: 9}, {DurationSec: 5}}}}, [][]int{{0, 1}}},
		"stock that another must needs": {[]Task{{Ways: []Way{{DurationSec: 5, Uses: use(2)}, {DurationSec: 9}}}, {Ways: []Way{{DurationSec: 5, Uses: use(2)}}}}, [][]int{{1}, {0}}},
		"stock that only a should uses": {[]Task{{Ways: []Way{{DurationSec: 5, Uses: use(2)}, {DurationSec: 9}}}, {Grade: Should, Ways: []Way{{DurationSec: 5, Uses: use(2)}}}}, [][]int{{0, 1}, {0}}},
		"stock for one must of two":     {[]Task{{Ways: []Way{{DurationSec: 5, Uses: use(2)}}}, {Ways: []Way{{DurationSec: 5, Uses: use(2)}}}}, [][]int{{0}, {0}}},
		"stock for one must, and a should": {[]Task{{Ways: []Way{{DurationSec: 5, Uses: use(2)}}}, {Ways: []Way{{DurationSec: 5, Uses: use(2)}}},
			{Grade: Should, Ways: []Way{{DurationSec: 5, Uses: use(1)}}}}, [][]int{{0}, {0}, {0}}},
		"no way left of a must": {[]Task{{Ways: []Way{{DurationSec: 5, Uses: use(3)}, {DurationSec: 5, Uses: []Use{{1, 2}}}}},
			{Ways: []Way{{DurationSec: 5, Uses: []Use{{0, 1}, {1, 1}}}}}}, [][]int{{0, 1}, {0}}},
		"one drop makes another": {[]Task{
			{Ways: []Way{{DurationSec: 5, Uses: []Use{{0, 3}}}, {DurationSec: 9, Uses: []Use{{1, 2}}}}},
			{Ways: []Way{{DurationSec: 5, Uses: []Use{{1, 2}}}, {DurationSec: 9, Uses: []Use{{0, 1}}}}},
			{Ways: []Way{{DurationSec: 1, Uses: []Use{{0, 1}}}}},
		}, [][]int{{1}, {1}, {0}}},
	} {
		p := Problem{Groups: []Group{{Room: 2}}, Pools: []Pool{{Capacity: 1}}, Stocks: []Stock{{3}, {2}},
			People: []Person{{Skills: 1}, {Skills: 2}}, Tasks: c.tasks}
		m := compile(&p)
		for i, want := range c.left {
			var left []int
			for _, w := range m.tasks[i].ways {
				left = append(left, w.index)
			}
			require.Equal(t, want, left, "%s: task %d", name, i)
		}
	}
}
