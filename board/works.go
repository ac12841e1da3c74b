package board

import "slices"

// Working says how far a function of a robot works.
type Working string

// The words for a function.
const (
	WorksFull     Working = "full"
	WorksDegraded Working = "degraded"
	WorksGone     Working = "gone"
	NotRequired   Working = "not-required"
)

// Function is what works now of one thing a robot does.
type Function struct {
	Name string
	Word Working
	// Pct is how much of it works, 0 to 100 %; Unsaid tells that some of the damage
	// has no figure, so that it may be less.
	Pct    int
	Unsaid bool
	// Why lists the damages and patches that take from it, by number.
	Why []Lacking
}

// Lacking is a damage that is not put right.
type Lacking struct {
	Damage DamageID
	// Pct is how much of the damaged thing works; nil where nobody said.
	Pct *int
	// Patch is the job that patched it, Limits what that leaves weak.
	Patch  JobID
	Limits string
}

// Works lists a robot's functions by name, from the damage left as it is and the
// patches on it, and the damages that the part map has no place for. A part takes
// from a function its share times what of the part is lost; shares add up, and a
// part counts by its worst damage (our decision).
func (s State) Works(robot RobotID) (functions []Function, elsewhere []Lacking) {
	on := map[PartID][]Lacking{}
	for _, d := range Sorted(s.Damages, func(d Damage) string { return itoa(100000 + d.Number) }) {
		l, lacks := s.lacking(d)
		if d.Robot != robot || !lacks {
			continue
		}
		parts := s.damaged(d)
		if len(parts) == 0 {
			elsewhere = append(elsewhere, l)
		}
		for _, p := range parts {
			on[p] = append(on[p], l)
		}
	}
	named := map[string]*Function{}
	for _, part := range s.mapOf(robot).parts {
		for _, v := range part.Serves {
			f := named[v.Function]
			if f == nil {
				f = &Function{Name: v.Function, Pct: 100}
				named[v.Function] = f
			}
			f.lose(v.Share, on[part.ID])
		}
	}
	for _, name := range sortedNames(named) {
		function := *named[name]
		function.Word = function.word()
		if slices.Contains(s.Setups[s.Fits[robot].Setup].NotNeeded, name) {
			function.Word = NotRequired
		}
		functions = append(functions, function)
	}
	return functions, elsewhere
}

// lose takes a part's share by the worst of its damages.
func (f *Function) lose(share int, damages []Lacking) {
	worst := 100
	for _, l := range damages {
		if !slices.ContainsFunc(f.Why, func(o Lacking) bool { return o.Damage == l.Damage }) {
			f.Why = append(f.Why, l)
		}
		if l.Pct == nil {
			f.Unsaid = true
		} else {
			worst = min(worst, *l.Pct)
		}
	}
	f.Pct = max(0, f.Pct-(share*(100-worst)+50)/100)
}

func (function Function) word() Working {
	switch {
	case function.Pct == 0:
		return WorksGone
	case function.Pct < 100 || function.Unsaid:
		return WorksDegraded
	}
	return WorksFull
}

// lacking says what a damage takes; false where it takes nothing, was dropped or
// is put right.
func (s State) lacking(d Damage) (Lacking, bool) {
	l := Lacking{Damage: d.ID, Pct: d.WorksPct}
	if d.Dropped {
		return l, false
	}
	for _, j := range inJobOrder(s) {
		if !j.State.handsDone() || !slices.Contains(j.Damages, d.ID) {
			continue
		}
		switch fix := j.Fix(); fix.Way {
		case WayPatch:
			l.Patch, l.Limits, l.Pct = j.ID, fix.Limits, nil
			if fix.WorksPct > 0 {
				l.Pct = &fix.WorksPct
			}
		case WaySwap, WayMend:
			return l, false
		}
	}
	if l.Patch == "" && d.Destroyed {
		none := 0
		l.Pct = &none
	}
	whole := l.Pct != nil && *l.Pct == 100 && l.Patch == ""
	return l, !whole && !(d.Grade == G0 && l.Pct == nil)
}
