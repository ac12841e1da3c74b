package plan

import (
	"errors"
	"fmt"
	"slices"
)

// Validate reports what makes a problem impossible to read: an index that
// points nowhere, a negative number, a window that ends before it begins, a
// limit passed, a ring of precedence. That something cannot be done in time,
// or at all, is no fault of the problem: the plan says so.
func (p *Problem) Validate() error {
	if len(p.People) > PeopleMost {
		return fmt.Errorf("%d people: at most %d can be planned for", len(p.People), PeopleMost)
	}
	if err := p.validateMeans(); err != nil {
		return err
	}
	for i := range p.Tasks {
		if err := p.validateTask(&p.Tasks[i]); err != nil {
			return fmt.Errorf("task %d: %w", i, err)
		}
	}
	if err := p.validateCalls(); err != nil {
		return err
	}
	if i := p.ring(); i >= 0 {
		return fmt.Errorf("task %d: waits for itself through its after list; take one of the ring out", i)
	}
	return nil
}

func (p *Problem) validateMeans() error {
	for i, who := range p.People {
		for _, w := range who.Away {
			if err := w.validate(); err != nil {
				return fmt.Errorf("person %d: away: %w", i, err)
			}
		}
	}
	for i, pool := range p.Pools {
		if err := pool.validate(); err != nil {
			return fmt.Errorf("pool %d: %w", i, err)
		}
	}
	for i, s := range p.Stocks {
		if s.Count < 0 {
			return fmt.Errorf("stock %d: count %d is negative; give 0 or more", i, s.Count)
		}
	}
	for i, g := range p.Groups {
		if err := g.validate(); err != nil {
			return fmt.Errorf("group %d: %w", i, err)
		}
	}
	return nil
}

func (w Window) validate() error {
	if err := notNegative("from", w.FromSec); err != nil {
		return err
	}
	if w.ToSec < w.FromSec {
		return fmt.Errorf("ends at %d s, before it begins at %d s", w.ToSec, w.FromSec)
	}
	return nil
}

func (p Pool) validate() error {
	if err := inRange("capacity", p.Capacity); err != nil {
		return err
	}
	for _, t := range p.Taken {
		if err := t.validate(); err != nil {
			return fmt.Errorf("taken: %w", err)
		}
		if err := inRange("taken count", t.Count); err != nil {
			return err
		}
	}
	return nil
}

func (g Group) validate() error {
	if err := inRange("room", g.Room); err != nil {
		return err
	}
	if g.Weight < 0 || g.Weight > CapacityMost {
		return fmt.Errorf("weight %d is outside 0 to %d", g.Weight, CapacityMost)
	}
	return notNegative("deadline", g.DeadlineSec)
}

func (p *Problem) validateTask(t *Task) error {
	if err := index("group", t.Group, len(p.Groups)); err != nil {
		return err
	}
	if t.Grade > Could {
		return fmt.Errorf("grade %d is not must, should or could", t.Grade)
	}
	if err := notNegative("earliest start", t.EarliestSec); err != nil {
		return err
	}
	for _, a := range t.After {
		if err := index("after task", a, len(p.Tasks)); err != nil {
			return err
		}
	}
	for _, a := range t.Assigned {
		if err := index("assigned person", a, len(p.People)); err != nil {
			return err
		}
	}
	if len(t.Ways) == 0 {
		return errors.New("has no way to do it; give at least one")
	}
	for i := range t.Ways {
		if err := p.validateWay(&t.Ways[i]); err != nil {
			return fmt.Errorf("way %d: %w", i, err)
		}
		if err := p.validateTaper(&t.Ways[i]); err != nil {
			return fmt.Errorf("way %d: taper: %w", i, err)
		}
	}
	if err := p.validateFollow(t); err != nil {
		return fmt.Errorf("follow: %w", err)
	}
	return p.validateRunning(t)
}

func (p *Problem) validateFollow(t *Task) error {
	f := t.Follow
	if f == nil || f.Skipped {
		return nil
	}
	if err := index("way", f.Way, len(t.Ways)); err != nil {
		return err
	}
	for _, person := range f.People {
		if err := index("person", person, len(p.People)); err != nil {
			return err
		}
	}
	return notNegative("start", f.StartSec)
}

func (p *Problem) validateWay(w *Way) error {
	if err := notNegative("duration", w.DurationSec); err != nil {
		return err
	}
	if len(w.Team) > HandsMost {
		return fmt.Errorf("team of %d: at most %d hands", len(w.Team), HandsMost)
	}
	if w.Place > Whole {
		return fmt.Errorf("place %d is not in, off or whole", w.Place)
	}
	for _, n := range w.Needs {
		if err := errors.Join(index("pool", n.Pool, len(p.Pools)), inRange("need", n.Count)); err != nil {
			return err
		}
	}
	for _, u := range w.Uses {
		if err := errors.Join(index("stock", u.Stock, len(p.Stocks)), inRange("use", u.Count)); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) validateRunning(t *Task) error {
	if t.Running == nil {
		return nil
	}
	if err := index("running way", t.Running.Way, len(t.Ways)); err != nil {
		return err
	}
	for _, a := range t.Running.People {
		if err := index("running person", a, len(p.People)); err != nil {
			return err
		}
	}
	return notNegative("time left", t.Running.LeftSec)
}

// ring returns a task on a ring of precedence, -1 if there is none.
func (p *Problem) ring() int {
	const onPath, done = 1, 2
	mark := make([]uint8, len(p.Tasks))
	var visit func(i int) bool
	visit = func(i int) bool {
		mark[i] = onPath
		for _, a := range p.Tasks[i].After {
			if mark[a] == onPath || mark[a] == 0 && visit(a) {
				return true
			}
		}
		mark[i] = done
		return false
	}
	for i := range p.Tasks {
		if mark[i] == 0 && visit(i) {
			return i
		}
	}
	return -1
}

func notNegative(what string, sec int32) error {
	if sec < 0 {
		return fmt.Errorf("%s %d s is negative; times count from now, give 0 for what has passed", what, sec)
	}
	return nil
}

func inRange(what string, n int) error {
	if n < 0 || n > CapacityMost {
		return fmt.Errorf("%s %d is outside 0 to %d", what, n, CapacityMost)
	}
	return nil
}

func index(what string, i, n int) error {
	if i < 0 || i >= n {
		return fmt.Errorf("%s %d does not exist; there are %d, counted from 0", what, i, n)
	}
	return nil
}

func (p *Problem) validateTaper(w *Way) error {
	before := w.Needs
	for _, piece := range w.Taper {
		if err := notNegative("duration", piece.DurationSec); err != nil {
			return err
		}
		for _, n := range piece.Needs {
			if err := index("pool", n.Pool, len(p.Pools)); err != nil {
				return err
			}
			if err := inRange("need", n.Count); err != nil {
				return err
			}
			if asked, had := needOf(piece.Needs, n.Pool), needOf(before, n.Pool); asked > had {
				return fmt.Errorf("pool %d: needs %d after %d; a piece cannot need more than the one before", n.Pool, asked, had)
			}
		}
		before = piece.Needs
	}
	return nil
}

func needOf(needs []Need, pool int) (count int) {
	for _, n := range needs {
		if n.Pool == pool {
			count += n.Count
		}
	}
	return count
}

// validateCalls refuses a way that calls a task which does not wait for it.
func (p *Problem) validateCalls() error {
	for i := range p.Tasks {
		for w := range p.Tasks[i].Ways {
			for _, c := range p.Tasks[i].Ways[w].Calls {
				if err := index("called task", c, len(p.Tasks)); err != nil {
					return fmt.Errorf("task %d: way %d: %w", i, w, err)
				}
				if !slices.Contains(p.Tasks[c].After, i) {
					return fmt.Errorf("task %d: way %d: calls task %d, which does not wait for it; name task %d in its after list", i, w, c, i)
				}
			}
		}
	}
	return nil
}
