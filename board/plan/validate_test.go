package plan_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

func TestValidateNamesWhatCannotBeRead(t *testing.T) {
	for says, spoil := range map[string]func(*plan.Problem){
		"65 people: at most 64 can be planned for":                    func(p *plan.Problem) { p.People = make([]plan.Person, 65) },
		"person 0: away: from -1 s is negative":                       func(p *plan.Problem) { p.People[0].Away = []plan.Window{{FromSec: -1, ToSec: 3}} },
		"person 0: away: ends at 3 s, before it begins at 4 s":        func(p *plan.Problem) { p.People[0].Away = []plan.Window{{FromSec: 4, ToSec: 3}} },
		"pool 0: capacity 40000 is outside 0 to 32767":                func(p *plan.Problem) { p.Pools[0].Capacity = 40000 },
		"pool 0: taken count -1 is outside":                           func(p *plan.Problem) { p.Pools[0].Taken = []plan.Taken{{Count: -1}} },
		"stock 0: count -2 is negative":                               func(p *plan.Problem) { p.Stocks[0].Count = -2 },
		"group 0: deadline -60 s is negative; times count from now":   func(p *plan.Problem) { p.Groups[0].DeadlineSec = -60 },
		"group 0: room -1 is outside":                                 func(p *plan.Problem) { p.Groups[0].Room = -1 },
		"group 0: weight -1 is outside":                               func(p *plan.Problem) { p.Groups[0].Weight = -1 },
		"task 0: group 7 does not exist; there are 2, counted from 0": func(p *plan.Problem) { p.Tasks[0].Group = 7 },
		"task 0: grade 9 is not must, should or could":                func(p *plan.Problem) { p.Tasks[0].Grade = 9 },
		"task 0: earliest start -1 s is negative":                     func(p *plan.Problem) { p.Tasks[0].EarliestSec = -1 },
		"task 0: after task -1 does not exist":                        func(p *plan.Problem) { p.Tasks[0].After = []int{-1} },
		"task 0: assigned person 3 does not exist":                    func(p *plan.Problem) { p.Tasks[0].Assigned = []int{3} },
		"task 0: has no way to do it":                                 func(p *plan.Problem) { p.Tasks[0].Ways = nil },
		"task 0: way 0: duration -1 s is negative":                    func(p *plan.Problem) { p.Tasks[0].Ways[0].DurationSec = -1 },
		"task 0: way 0: team of 9: at most 8 hands":                   func(p *plan.Problem) { p.Tasks[0].Ways[0].Team = make([]plan.SkillSet, 9) },
		"task 0: way 0: place 3 is not in, off or whole":              func(p *plan.Problem) { p.Tasks[0].Ways[0].Place = 3 },
		"task 0: way 0: pool 4 does not exist":                        func(p *plan.Problem) { p.Tasks[0].Ways[0].Needs = []plan.Need{{Pool: 4, Count: 1}} },
		"task 0: way 0: need -1 is outside":                           func(p *plan.Problem) { p.Tasks[0].Ways[0].Needs = []plan.Need{{Pool: 0, Count: -1}} },
		"task 0: way 0: stock 4 does not exist":                       func(p *plan.Problem) { p.Tasks[0].Ways[0].Uses = []plan.Use{{Stock: 4, Count: 1}} },
		"task 0: running way 5 does not exist":                        func(p *plan.Problem) { p.Tasks[0].Running = &plan.Running{Way: 5} },
		"task 0: running person 9 does not exist":                     func(p *plan.Problem) { p.Tasks[0].Running = &plan.Running{People: []int{9}} },
		"task 0: time left -1 s is negative":                          func(p *plan.Problem) { p.Tasks[0].Running = &plan.Running{LeftSec: -1} },
		"task 0: follow: way 9 does not exist":                        func(p *plan.Problem) { p.Tasks[0].Follow = &plan.Followed{Way: 9} },
		"task 0: follow: person 9 does not exist":                     func(p *plan.Problem) { p.Tasks[0].Follow = &plan.Followed{People: []int{9}} },
		"task 0: follow: start -1 s is negative":                      func(p *plan.Problem) { p.Tasks[0].Follow = &plan.Followed{StartSec: -1} },
		"task 0: way 0: taper: duration -1 s is negative":             func(p *plan.Problem) { p.Tasks[0].Ways[0].Taper = []plan.Piece{{DurationSec: -1}} },
		"task 0: way 0: taper: pool 0: needs 1 after 0": func(p *plan.Problem) {
			p.Tasks[0].Ways[0].Taper = []plan.Piece{{Needs: []plan.Need{{Pool: 0, Count: 1}}}}
		},
		"task 0: way 0: calls task 3, which does not wait for it":        func(p *plan.Problem) { p.Tasks[0].Ways[0].Calls = []int{3} },
		"task 0: way 0: called task 9 does not exist":                    func(p *plan.Problem) { p.Tasks[0].Ways[0].Calls = []int{9} },
		"task 0: waits for itself through its after list; take one of t": func(p *plan.Problem) { p.Tasks[0].After = []int{1} },
	} {
		t.Run(says, func(t *testing.T) {
			p := read(t, checkedDay).Problem
			spoil(&p)
			require.ErrorContains(t, p.Validate(), says)
		})
	}
}

func TestTimesBeyondAWeekCountAsAWeek(t *testing.T) {
	p := read(t, `group A 40/1
person P1 M
a1 A must: mend 10 M
a2 A could: polish 10 M`).Problem
	p.Groups[0].DeadlineSec = 1<<31 - 1
	p.Tasks[1].EarliestSec = 1<<31 - 1
	p.People[0].Away = []plan.Window{{FromSec: 600, ToSec: 1<<31 - 1}}
	got := plan.Solve(p, 100, 1)
	require.NoError(t, plan.Check(p, got))
	require.Equal(t, plan.Score{CouldOff: 1, ReadySec: 600}, got.Score)
}
