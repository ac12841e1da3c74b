package debrief

import (
	"fmt"
	"slices"

	"mendline/board/estimate"
)

// Construction is one way to build a robot's structure, as data: what was built, or
// what might be.
type Construction struct {
	Name string
	// Grams is its mass, Cents what a whole one costs by the list.
	Grams, Cents int
	// Guessed tells that nobody has mended one: its times are opinions.
	Guessed bool
	Groups  []Group
}

// Group is the members that are put right together.
type Group struct {
	Name string
	// Members are names of parts as damage is filed on them.
	Members []string
	// Access is the time to reach the group, spent once a fight; zero for none.
	Access estimate.TwoPoint
	// Joints is how many fasteners hold it.
	Joints int
	// Steps say what it takes, by how many members are hit, fewest first.
	Steps []Step
}

// Step is the work and the money when at least From members of a group are hit in
// one fight, up to the next step's From.
type Step struct {
	Name string
	From int
	// Each counts time and money once a member hit, else once a fight.
	Each  bool
	Times estimate.TwoPoint
	// Cents is what it uses up.
	Cents int
}

// Check names what is wrong with the construction, or returns nil.
func (c Construction) Check() error {
	var seen []string
	for _, g := range c.Groups {
		if len(g.Members) == 0 || len(g.Steps) == 0 {
			return fmt.Errorf("%s, group %s: it needs a member and a step", c.Name, g.Name)
		}
		for _, m := range g.Members {
			if slices.Contains(seen, m) {
				return fmt.Errorf("%s, group %s: member %s is there twice", c.Name, g.Name, m)
			}
			seen = append(seen, m)
		}
		if err := g.check(); err != nil {
			return fmt.Errorf("%s, group %s: %w", c.Name, g.Name, err)
		}
	}
	return nil
}

func (g Group) check() error {
	if g.Access.LikelySec != 0 {
		if _, err := g.Access.Lognormal(); err != nil {
			return fmt.Errorf("access: %w", err)
		}
	}
	for i, s := range g.Steps {
		switch _, err := s.Times.Lognormal(); {
		case err != nil:
			return fmt.Errorf("step from %d: %w", s.From, err)
		case i == 0 && s.From != 1:
			return fmt.Errorf("the first step starts at 1 member hit, not at %d", s.From)
		case i > 0 && s.From <= g.Steps[i-1].From:
			return fmt.Errorf("step from %d comes after step from %d", s.From, g.Steps[i-1].From)
		case s.Cents < 0:
			return fmt.Errorf("step from %d: a price below 0", s.From)
		}
	}
	return nil
}

// step is the index of the step for so many members hit, 1 or more.
func (g Group) step(hit int) int {
	i := 0
	for i+1 < len(g.Steps) && g.Steps[i+1].From <= hit {
		i++
	}
	return i
}

// times is how often the step's time and money are spent for so many members.
func (s Step) times(hit int) int {
	if s.Each {
		return hit
	}
	return 1
}

// cents is the money for so many members hit in one fight.
func (g Group) cents(hit int) int {
	if hit == 0 {
		return 0
	}
	s := g.Steps[g.step(hit)]
	return s.times(hit) * s.Cents
}

// meanSec is the expected time for so many members hit in one fight, seconds.
func (g Group) meanSec(hit int) float64 {
	if hit == 0 {
		return 0
	}
	s := g.Steps[g.step(hit)]
	mean := float64(s.times(hit)) * meanSec(s.Times)
	if g.Access.LikelySec > 0 {
		mean += meanSec(g.Access)
	}
	return mean
}

func meanSec(t estimate.TwoPoint) float64 {
	l, err := t.Lognormal()
	if err != nil {
		return 0
	}
	return l.MeanSec()
}
