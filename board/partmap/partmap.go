package partmap

import (
	"math"
	"slices"
)

// Part is one part of a map, known by its place in the list.
type Part struct {
	// Cost is that of taking it off and putting it back, its joints apart; 0 or more.
	Cost float64
	// First holds the sets of parts, any one of which must be off before it; none
	// where it comes off at once.
	First [][]int
}

// Joint fastens parts to each other. It is undone, once, as soon as one of them
// comes off.
type Joint struct {
	Parts []int
	Cost  float64
}

// Map is a machine's parts and joints. Indices outside the list of parts are a
// fault of the caller.
type Map struct {
	Parts  []Part
	Joints []Joint
}

// Way is what comes off to reach some parts.
type Way struct {
	// Off lists the parts in an order in which they can come off; the parts to be
	// reached are in it only where another one is reached through them.
	Off []int
	// Joints lists those undone on the way, in the order of the map.
	Joints []int
	Cost   float64
	// Exact is false where the budget ended the search: a cheaper way may exist.
	Exact bool
}

// CannotComeOff lists the parts that wait, in every way, for themselves.
func (m Map) CannotComeOff() []int {
	off := m.order(nil)
	var never []int
	for i := range m.Parts {
		if !slices.Contains(off, i) {
			never = append(never, i)
		}
	}
	return never
}

// order is an order in which the parts of in, or all where in is nil, can come
// off; parts that cannot are left out.
func (m Map) order(in []bool) []int {
	off := make([]bool, len(m.Parts))
	var list []int
	for more := true; more; {
		more = false
		for i, p := range m.Parts {
			if !off[i] && (in == nil || in[i]) && bare(p, off) {
				off[i], more = true, true
				list = append(list, i)
			}
		}
	}
	return list
}

// bare tells whether nothing is in a part's way once off is off.
func bare(p Part, off []bool) bool {
	return len(p.First) == 0 || slices.ContainsFunc(p.First, func(set []int) bool {
		return !slices.ContainsFunc(set, func(i int) bool { return !off[i] })
	})
}

// Reach finds the cheapest way to lay all targets bare. budget is how many
// choices it may try, at least 1. It is false where a target cannot be reached at
// all.
func (m Map) Reach(targets []int, budget int) (Way, bool) {
	s := search{m: m, budget: budget, in: make([]bool, len(m.Parts)), joint: make([]bool, len(m.Joints)), best: math.Inf(1), targets: targets}
	s.visit(slices.Clone(targets), 0)
	if s.bestIn == nil && !s.allOff() {
		return Way{}, false
	}
	w := Way{Off: m.order(s.bestIn), Cost: s.best, Exact: s.budget > 0}
	for k, j := range m.Joints {
		if slices.ContainsFunc(j.Parts, func(i int) bool { return s.bestIn[i] }) {
			w.Joints = append(w.Joints, k)
		}
	}
	return w, true
}

// search is one branch and bound over the sets chosen for the parts in todo.
type search struct {
	m       Map
	targets []int
	budget  int
	in      []bool // parts that come off
	joint   []bool // joints undone
	best    float64
	bestIn  []bool
}

func (s *search) visit(todo []int, cost float64) {
	if s.budget <= 0 || cost >= s.best {
		return
	}
	s.budget--
	for len(todo) > 0 && s.free(todo[len(todo)-1]) {
		todo = todo[:len(todo)-1]
	}
	if len(todo) == 0 {
		if s.comesOff() {
			s.best, s.bestIn = cost, slices.Clone(s.in)
		}
		return
	}
	part := todo[len(todo)-1]
	for _, set := range s.cheapestFirst(part) {
		added, undone, more := s.take(set)
		s.visit(append(slices.Clone(todo[:len(todo)-1]), added...), cost+more)
		s.giveBack(added, undone)
	}
}

// allOff takes all that can come off, then puts back what is not needed: a way,
// where the budget ended before the search had one.
func (s *search) allOff() bool {
	clear(s.in)
	for _, i := range s.m.order(nil) {
		s.in[i] = true
	}
	if !s.comesOff() {
		return false
	}
	for i := range s.in {
		if s.in[i] {
			s.in[i] = false
			s.in[i] = !s.comesOff()
		}
	}
	s.best, s.bestIn = s.m.cost(s.in), slices.Clone(s.in)
	return true
}

// cost is that of taking off the parts of in.
func (m Map) cost(in []bool) float64 {
	sum := 0.0
	for i, p := range m.Parts {
		if in[i] {
			sum += p.Cost
		}
	}
	for _, j := range m.Joints {
		if slices.ContainsFunc(j.Parts, func(i int) bool { return in[i] }) {
			sum += j.Cost
		}
	}
	return sum
}

// free tells whether a part needs no choice.
func (s *search) free(part int) bool { return len(s.m.Parts[part].First) == 0 }

// cheapestFirst lists a part's sets by what they add to the cost so far.
func (s *search) cheapestFirst(part int) [][]int {
	sets := slices.Clone(s.m.Parts[part].First)
	price := func(set []int) float64 {
		added, undone, more := s.take(set)
		s.giveBack(added, undone)
		return more
	}
	slices.SortStableFunc(sets, func(a, b []int) int {
		switch x, y := price(a), price(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return sets
}

// take puts a set among what comes off; it tells what is new and what that costs.
func (s *search) take(set []int) (added, undone []int, cost float64) {
	for _, i := range set {
		if s.in[i] {
			continue
		}
		s.in[i] = true
		added = append(added, i)
		cost += s.m.Parts[i].Cost
		for k, j := range s.m.Joints {
			if !s.joint[k] && slices.Contains(j.Parts, i) {
				s.joint[k] = true
				undone = append(undone, k)
				cost += j.Cost
			}
		}
	}
	return added, undone, cost
}

func (s *search) giveBack(added, undone []int) {
	for _, i := range added {
		s.in[i] = false
	}
	for _, k := range undone {
		s.joint[k] = false
	}
}

// comesOff tells whether all that is in can come off in some order, and lays the
// targets bare.
func (s *search) comesOff() bool {
	off := make([]bool, len(s.m.Parts))
	n := 0
	for _, i := range s.m.order(s.in) {
		off[i] = true
		n++
	}
	for i, in := range s.in {
		if in && !off[i] {
			return false
		}
	}
	return !slices.ContainsFunc(s.targets, func(i int) bool { return !bare(s.m.Parts[i], off) })
}
