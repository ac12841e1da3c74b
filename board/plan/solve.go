package plan

import (
	"slices"
)

// Solve returns the best plan for p that it finds within budget. The same
// problem, budget and seed give the same plan. It panics if p is not valid: ask
// Problem.Validate first where the problem comes from outside.
func Solve(p Problem, budget Budget, seed uint64) Plan { return Several(p, budget, seed, 1)[0] }

// answer is the plan that is schedule made.
func (m *model) answer(s *search, made *schedule) Plan {
	out := Plan{
		Score:  made.score,
		Tasks:  make([]TaskPlan, len(m.tasks)),
		Groups: make([]GroupPlan, len(m.p.Groups)),
	}
	if n := int64(len(m.tasks)); n > 0 {
		out.Schedules = int((s.d.starts + n - 1) / n)
	}
	for i := range m.tasks {
		out.Tasks[i] = m.taskPlan(i, made)
	}
	for g := range out.Groups {
		out.Groups[g].BoundSec, out.Groups[g].BoundCause = m.bounds[g].sec, m.bounds[g].cause
	}
	for i := range out.Tasks {
		t, g := &out.Tasks[i], &out.Groups[m.tasks[i].group]
		if t.State != Skipped && t.State != Idle {
			g.ReadySec = max(g.ReadySec, t.FinishSec)
		}
		g.Never = g.Never || t.State == Blocked
	}
	for g := range out.Groups {
		out.Groups[g].LateSec = max(out.Groups[g].ReadySec-capSec(m.p.Groups[g].DeadlineSec), 0)
	}
	newTracer(m, made).explain(&out)
	return out
}

func (m *model) taskPlan(i int, s *schedule) TaskPlan {
	out := TaskPlan{Way: -1, StartSec: s.startSec[i], FinishSec: s.finishSec[i]}
	switch w := s.way[i]; w {
	case skip:
		out.State = Skipped
	case blocked:
		out.State = Blocked
	case idle:
		out.State = Idle
	default:
		t := &m.tasks[i]
		out.Way = t.ways[w].index
		if t.running {
			out.People = slices.Clone(m.p.Tasks[i].Running.People)
			break
		}
		out.People = m.crew.seats(m.p.Tasks[i].Ways[out.Way].Team, t.ways[w].teams[s.team[i]])
	}
	return out
}
