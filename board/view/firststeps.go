package view

import (
	"cmp"
	"slices"

	"mendline/board"
)

// FirstSteps is what a new board still lacks before its day can begin (first/event; none
// once every step is done).
type FirstSteps struct {
	Steps []FirstStep `json:"steps"`
	// Next is the first that is not done.
	Next Lack `json:"next"`
	// Unsaid are the robots of which nobody has said how they can hurt.
	Unsaid []board.RobotID `json:"unsaid,omitempty"`
	// Lacks are the settings without which no robot has power and no pack is charged.
	Lacks []string `json:"lacks,omitempty"`
	// NoShelf says that there is no place yet where packs may be charged.
	NoShelf bool `json:"noShelf,omitzero"`
	// Arena is that of our next fight, and Numbers are the fights up to ours, of which one
	// may be on now.
	Arena   string `json:"arena"`
	Numbers []int  `json:"numbers"`
}

// FirstStep is one thing to enter.
type FirstStep struct {
	Lack Lack `json:"lack"`
	Done bool `json:"done,omitzero"`
}

// Lack names what a board lacks.
type Lack string

// What a new board lacks, in the order of the first steps.
const (
	LackPeople Lack = "people"
	LackRobots Lack = "robots"
	LackFights Lack = "fights"
	LackOn     Lack = "on-now"
	LackSafety Lack = "safety"
)

// anArena is what an arena is called while nobody has named one.
const anArena = "Arena"

// numbersMost is how many fights up to ours are offered as the one that is on.
const numbersMost = 24

func firstStepsOf(s board.State) (FirstSteps, bool) {
	first := FirstSteps{Lacks: s.BarsPower(), NoShelf: true, Arena: anArena}
	for _, p := range s.Places {
		first.NoShelf = first.NoShelf && (p.Retired || p.Kind != board.PlaceCharging)
	}
	robots := robotsOf(s)
	for _, r := range robots {
		if len(r.Energies) == 0 {
			first.Unsaid = append(first.Unsaid, r.ID)
		}
	}
	fights, begun := entered(s)
	last := numbersMost
	if i := slices.IndexFunc(fights, func(f board.Fight) bool { return f.State == board.FightPlanned }); i >= 0 {
		first.Arena, last = fights[i].Arena, fights[i].Number
	}
	for n := max(1, last-numbersMost+1); n <= last; n++ {
		first.Numbers = append(first.Numbers, n)
	}
	for _, is := range []FirstStep{
		{LackPeople, helped(s)},
		{LackRobots, len(robots) > 0},
		{LackFights, len(fights) > 0},
		{LackOn, begun},
		{LackSafety, len(robots) > 0 && len(first.Unsaid) == 0 && len(first.Lacks) == 0},
	} {
		if first.Steps = append(first.Steps, is); first.Next == "" && !is.Done {
			first.Next = is.Lack
		}
	}
	return first, first.Next != ""
}

// entered are our fights by their places in the running order, and whether any fight was
// seen yet.
func entered(s board.State) (fights []board.Fight, begun bool) {
	begun = len(s.Sightings) > 0
	for _, f := range s.Fights {
		if f.State != board.FightDropped {
			fights = append(fights, f)
		}
		begun = begun || f.State == board.FightOn || f.State == board.FightDone
	}
	slices.SortFunc(fights, func(a, b board.Fight) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.Arena, b.Arena), cmp.Compare(a.ID, b.ID))
	})
	return fights, begun
}

// helped tells whether anyone but captains is on the roster.
func helped(s board.State) bool {
	for _, p := range s.People {
		if !p.Retired && p.Role != board.RoleCaptain {
			return true
		}
	}
	return false
}
