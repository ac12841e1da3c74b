package board

import "strings"

// LearnKind names a kind of work whose times the board learns: the id of a job
// template, or BeforeKind or AfterKind of a robot.
type LearnKind string

const (
	beforeKind = "before-"
	afterKind  = "after-"
)

// BeforeKind is the sheets of a robot from the cart to the first job.
func BeforeKind(r RobotID) LearnKind { return LearnKind(beforeKind + string(r)) }

// AfterKind is the sheets of a robot from the last job to the signature.
func AfterKind(r RobotID) LearnKind { return LearnKind(afterKind + string(r)) }

// Learn is the captain's word that the team's own times count for a kind of work.
type Learn struct {
	Kind LearnKind `json:"kind"`
	V    Rev       `json:"v"`
	On   bool      `json:"on"`
	By   PersonID  `json:"by,omitzero"`
	At   Moment    `json:"at"`
}

// Key is learn/<kind>.
func (learn Learn) Key() Key         { return KeyOf(KindLearn, learn.Kind) }
func (learn Learn) Rev() Rev         { return learn.V }
func (learn Learn) stamp(r Rev) Noun { learn.V = r; return learn }

func (learn Learn) valid(s State) *Refusal {
	if !learn.Kind.known(s) {
		return missing("kind of work", "kind")
	}
	return nil
}

func (k LearnKind) known(s State) bool {
	if r, ok := strings.CutPrefix(string(k), beforeKind); ok {
		_, known := s.Robots[RobotID(r)]
		return known
	}
	if r, ok := strings.CutPrefix(string(k), afterKind); ok {
		_, known := s.Robots[RobotID(r)]
		return known
	}
	_, known := s.Templates[TemplateID(k)]
	return known
}

// LearnSet switches the team's own times on or off for one kind of work. The board
// corrects nothing by itself.
type LearnSet struct {
	Kind LearnKind `json:"kind"`
	On   bool      `json:"on"`
}

func (c LearnSet) do(t *turn) *Refusal {
	t.put(Learn{Kind: c.Kind, On: c.On, By: t.by.Person, At: t.when})
	return nil
}
