package view

import "mendline/board"

// Access is how a robot's parts are reached (access/<robotID>); not there for a
// robot without a part map.
type Access struct {
	Robot board.RobotID `json:"robot"`
	// Work is the one way to all that the unfinished jobs are about: what they share
	// comes off once.
	Work Way `json:"work"`
	// Parts says the way to each part, by assembly and name.
	Parts []PartWay `json:"parts"`
	// Alone lists the single points of failure.
	Alone []Alone `json:"alone"`
}

// Way is what comes off, in its order, and what that takes.
type Way struct {
	Off       []string `json:"off"`
	Joints    int      `json:"joints"`
	Fasteners int      `json:"fasteners"`
	Tools     []string `json:"tools"`
	// LikelySec and BadSec are the time to take it off and put it back; Untimed
	// counts parts and joints that have no time.
	LikelySec int `json:"likelySec"`
	BadSec    int `json:"badSec"`
	Untimed   int `json:"untimed,omitzero"`
	// Rough: the search was cut short, and a cheaper way may exist.
	Rough bool `json:"rough,omitzero"`
}

// PartWay is the way to one part.
type PartWay struct {
	Part board.PartID `json:"part"`
	Way  Way          `json:"way"`
}

// Alone is a part without which a whole function stops.
type Alone struct {
	Part     board.PartID `json:"part"`
	Function string       `json:"function"`
}

func accessOf(s board.State, r board.Robot) (Access, bool) {
	a := Access{Robot: r.ID}
	for _, w := range s.WaysIn(r.ID) {
		a.Parts = append(a.Parts, PartWay{w.Part, wayOf(s, w.Way)})
	}
	work, _ := s.WorkWay(r.ID)
	a.Work = wayOf(s, work)
	for _, n := range s.SinglePoints(r.ID) {
		a.Alone = append(a.Alone, Alone{n.Part, n.Function})
	}
	return a, len(a.Parts) > 0
}

func wayOf(s board.State, w board.WayIn) Way {
	v := Way{
		Joints: len(w.Joints), Fasteners: w.Fasteners, Tools: w.Tools, LikelySec: w.LikelySec, BadSec: w.BadSec, Untimed: w.Untimed, Rough: !w.Exact,
	}
	for _, id := range w.Off {
		v.Off = append(v.Off, s.Parts[id].Name)
	}
	return v
}
