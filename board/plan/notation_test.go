package plan_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// The notation of small problems, in minutes:
//
//	group A 40/2                            deadline/room
//	person P1 M,E                           skills
//	pool bench 2
//	stock motor 1
//	a1 A must after a0: swap 20 M,M bench motor | mend 45 M bench
//
// Hands are letters, a skill each; A is anyone and - is nobody. Behind the
// hands stand pools, stocks, and off or whole. Before the colon may stand
// "not-before 10" and "running P1,P3 18", the minutes left.
type notation struct {
	plan.Problem
	groups, people, pools, stocks, tasks map[string]int
}

func read(t *testing.T, text string) *notation {
	t.Helper()
	n := &notation{groups: map[string]int{}, people: map[string]int{}, pools: map[string]int{},
		stocks: map[string]int{}, tasks: map[string]int{}}
	for line := range strings.Lines(text) {
		head, ways, isTask := strings.Cut(strings.TrimSpace(line), ":")
		f := strings.Fields(head)
		switch {
		case len(f) == 0:
		case isTask:
			n.task(t, f, ways)
		default:
			n.means(t, f)
		}
	}
	require.NoError(t, n.Validate())
	return n
}

func minutes(t *testing.T, s string) int32 {
	t.Helper()
	v, err := strconv.Atoi(s)
	require.NoError(t, err)
	return int32(v) * 60
}

func skills(letters string) (set plan.SkillSet) {
	for _, l := range strings.Split(letters, ",") {
		if l != "A" {
			set |= 1 << (l[0] - 'A')
		}
	}
	return set
}

func (n *notation) means(t *testing.T, f []string) {
	t.Helper()
	kind, name, value := f[0], f[1], f[2]
	switch kind {
	case "group":
		call, room, _ := strings.Cut(value, "/")
		n.groups[name] = len(n.Groups)
		n.Groups = append(n.Groups, plan.Group{DeadlineSec: minutes(t, call), Room: int(minutes(t, room) / 60)})
	case "person":
		n.people[name] = len(n.People)
		n.People = append(n.People, plan.Person{Skills: skills(value)})
	case "pool":
		n.pools[name] = len(n.Pools)
		n.Pools = append(n.Pools, plan.Pool{Capacity: int(minutes(t, value) / 60)})
	case "stock":
		n.stocks[name] = len(n.Stocks)
		n.Stocks = append(n.Stocks, plan.Stock{Count: int(minutes(t, value) / 60)})
	default:
		t.Fatalf("no such means: %s", kind)
	}
}

func (n *notation) task(t *testing.T, f []string, ways string) {
	t.Helper()
	grades := map[string]plan.Grade{"must": plan.Must, "should": plan.Should, "could": plan.Could}
	require.Contains(t, n.groups, f[1])
	require.Contains(t, grades, f[2])
	task := plan.Task{Group: n.groups[f[1]], Grade: grades[f[2]]}
	for f2 := f[3:]; len(f2) > 0; f2 = f2[2:] {
		switch f2[0] {
		case "after":
			for _, a := range strings.Split(f2[1], ",") {
				require.Contains(t, n.tasks, a)
				task.After = append(task.After, n.tasks[a])
			}
		case "not-before":
			task.EarliestSec = minutes(t, f2[1])
		case "running":
			task.Running = &plan.Running{LeftSec: minutes(t, f2[2])}
			for _, p := range strings.Split(f2[1], ",") {
				task.Running.People = append(task.Running.People, n.people[p])
			}
			f2 = f2[1:]
		default:
			t.Fatalf("no such word: %s", f2[0])
		}
	}
	for _, w := range strings.Split(ways, "|") {
		task.Ways = append(task.Ways, n.way(t, strings.Fields(w)))
	}
	n.tasks[f[0]] = len(n.Tasks)
	n.Tasks = append(n.Tasks, task)
}

func (n *notation) way(t *testing.T, f []string) plan.Way {
	t.Helper()
	w := plan.Way{DurationSec: minutes(t, f[1])}
	if f[2] != "-" {
		for _, h := range strings.Split(f[2], ",") {
			w.Team = append(w.Team, skills(h))
		}
	}
	for _, word := range f[3:] {
		pool, isPool := n.pools[word]
		stock, isStock := n.stocks[word]
		switch {
		case isPool:
			w.Needs = append(w.Needs, plan.Need{Pool: pool, Count: 1})
		case isStock:
			w.Uses = append(w.Uses, plan.Use{Stock: stock, Count: 1})
		case word == "off":
			w.Place = plan.Off
		case word == "whole":
			w.Place = plan.Whole
		default:
			t.Fatalf("no such word: %s", word)
		}
	}
	return w
}
