package plan

import "slices"

// Several returns up to most plans for p, one or more, the best first: the first
// is what [Solve] returns. Each tells people something else than the others do,
// and none is worse than the first by a step they notice, so that a caller may
// choose among them by what the scores do not see. It panics as Solve does.
func Several(p Problem, budget Budget, seed uint64, most int) []Plan {
	if err := p.Validate(); err != nil {
		panic("plan: solve an invalid problem: " + err.Error())
	}
	m := compile(&p)
	s := newSearch(m, budget, seed)
	if most > 1 {
		s.others.most = most
	}
	if len(m.tasks) > 0 {
		s.run()
	}
	plans := []Plan{m.answer(s, &s.best)}
	plans[0].Held = s.kept
	for k := range s.others.list {
		o := &s.others.list[k]
		if len(plans) < most && o.tellsElse(&s.best) && !s.best.score.Noticeably(o.score) {
			plans = append(plans, m.answer(s, o))
		}
	}
	short := m.shortage()
	for k := range plans {
		plans[k].Short = short
	}
	return plans
}

// BestOf returns up to most plans of several islands: the [Best] of their first
// ones, then those of all the others that tell people something else and are not
// noticeably worse, by score. It panics without plans.
func BestOf(most int, islands ...[]Plan) []Plan {
	var firsts, all []Plan
	for _, plans := range islands {
		firsts = append(firsts, plans[0])
		all = append(all, plans...)
	}
	slices.SortStableFunc(all, func(a, b Plan) int { return a.Score.Compare(b.Score) })
	list := []Plan{Best(firsts...)}
	for _, p := range all {
		differs := !slices.ContainsFunc(list, func(o Plan) bool { return !p.tellsElse(o) })
		if len(list) < most && differs && !list[0].Score.Noticeably(p.Score) {
			list = append(list, p)
		}
	}
	return list
}

// tellsElse reports whether a task has another way, other people or a start that
// is moved by more than counts as a change.
func (p Plan) tellsElse(o Plan) bool {
	for i, t := range p.Tasks {
		u := o.Tasks[i]
		if t.State != u.State || t.Way != u.Way || !slices.Equal(t.People, u.People) || moved(t.StartSec, u.StartSec) {
			return true
		}
	}
	return false
}

func (s *schedule) tellsElse(o *schedule) bool {
	for i, w := range s.way {
		if w != o.way[i] || s.team[i] != o.team[i] || moved(s.startSec[i], o.startSec[i]) {
			return true
		}
	}
	return false
}

func moved(a, b int32) bool { return max(a-b, b-a) > shiftSec }

// runnersUp keeps the best schedules that tell people different things, by score.
type runnersUp struct {
	most int
	list []schedule
}

// offer takes a schedule up if it is among the best: in place of one that tells
// people the same, if it is better than that.
func (r *runnersUp) offer(s *schedule) {
	if len(r.list) >= r.most && (r.most == 0 || s.score.Compare(r.list[len(r.list)-1].score) >= 0) {
		return
	}
	at := slices.IndexFunc(r.list, func(o schedule) bool { return !s.tellsElse(&o) })
	switch {
	case at >= 0 && s.score.Compare(r.list[at].score) >= 0:
		return
	case at < 0 && len(r.list) < r.most:
		r.list = append(r.list, newSchedule(len(s.way)))
		at = len(r.list) - 1
	case at < 0:
		at = len(r.list) - 1
	}
	r.list[at].copyFrom(s)
	slices.SortStableFunc(r.list, func(a, b schedule) int { return a.score.Compare(b.score) })
}
