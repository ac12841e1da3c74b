package board

import (
	"slices"
	"strings"

	"mendline/board/estimate"
	"mendline/board/partmap"
)

// reachSteps is how many choices the search for the cheapest way may try.
const reachSteps = 20000

// robotMap is a robot's part map with the parts in a fixed order.
type robotMap struct {
	parts  []Part
	joints []Joint
	graph  partmap.Map
}

// mapOf is the map of the robot's parts that are not retired.
func (s State) mapOf(robot RobotID) robotMap {
	var m robotMap
	place := map[PartID]int{}
	for _, part := range Sorted(s.Parts, func(part Part) string { return part.Name + string(part.ID) }) {
		if part.Robot == robot && !part.Retired {
			place[part.ID] = len(m.parts)
			m.parts = append(m.parts, part)
		}
	}
	at := func(ids []PartID) []int {
		var list []int
		for _, id := range ids {
			if i, ok := place[id]; ok {
				list = append(list, i)
			}
		}
		return list
	}
	for _, part := range m.parts {
		node := partmap.Part{Cost: meanSec(part.OffSec, part.OffBadSec)}
		for _, set := range part.First {
			node.First = append(node.First, at(set.Parts))
		}
		m.graph.Parts = append(m.graph.Parts, node)
	}
	for _, joint := range Sorted(s.Joints, func(joint Joint) string { return joint.Name + string(joint.ID) }) {
		if joint.Robot == robot && !joint.Retired {
			m.joints = append(m.joints, joint)
			m.graph.Joints = append(m.graph.Joints, partmap.Joint{Parts: at(joint.Parts), Cost: meanSec(joint.OffSec, joint.OffBadSec)})
		}
	}
	return m
}

// meanSec is the mean of a time known by its likely and bad case, in seconds; 0
// where there is none.
func meanSec(likelySec, badSec int) float64 {
	l, err := estimate.TwoPoint{LikelySec: float64(likelySec), BadSec: float64(badSec)}.Lognormal()
	if err != nil {
		return 0
	}
	return l.MeanSec()
}

// cannotComeOff tells whether a part waits for itself, whatever comes off.
func (s State) cannotComeOff(part Part) bool {
	if part.Retired {
		return false
	}
	m := s.mapOf(part.Robot)
	return slices.ContainsFunc(m.graph.CannotComeOff(), func(i int) bool { return m.parts[i].ID == part.ID })
}

// WayIn is what comes off to lay some parts of a robot bare.
type WayIn struct {
	// Off lists the parts in the order in which they come off.
	Off    []PartID
	Joints []JointID
	// Fasteners counts those undone, Tools lists what undoes them, by name.
	Fasteners int
	Tools     []string
	// LikelySec and BadSec are the time to take all of it off and put it back; 0
	// where nothing comes off or no time is entered.
	LikelySec int
	BadSec    int
	// Untimed counts parts and joints on the way that have no time.
	Untimed int
	// Exact is false where a cheaper way may exist.
	Exact bool
}

// WayTo finds the cheapest set of things to take off so that all of parts lie
// bare: what two of them share comes off once. It is false where one is not on the
// robot's map.
func (s State) WayTo(robot RobotID, parts []PartID) (WayIn, bool) {
	m := s.mapOf(robot)
	var targets []int
	for _, id := range parts {
		i := slices.IndexFunc(m.parts, func(part Part) bool { return part.ID == id })
		if i < 0 {
			return WayIn{}, false
		}
		targets = append(targets, i)
	}
	w, ok := m.graph.Reach(targets, reachSteps)
	if !ok {
		return WayIn{}, false
	}
	return m.wayIn(w), true
}

// PartWay is the cheapest way to one part.
type PartWay struct {
	Part PartID
	Way  WayIn
}

// WaysIn lists the cheapest way to each part of a robot's map, by assembly and
// name.
func (s State) WaysIn(robot RobotID) []PartWay {
	m := s.mapOf(robot)
	list := make([]PartWay, 0, len(m.parts))
	for i, part := range m.parts {
		if w, ok := m.graph.Reach([]int{i}, reachSteps/10); ok {
			list = append(list, PartWay{part.ID, m.wayIn(w)})
		}
	}
	slices.SortStableFunc(list, func(a, b PartWay) int { return strings.Compare(s.Parts[a.Part].Assembly, s.Parts[b.Part].Assembly) })
	return list
}

func (m robotMap) wayIn(w partmap.Way) WayIn {
	r := WayIn{Exact: w.Exact}
	var times []estimate.Lognormal
	timed := func(likelySec, badSec int) {
		l, err := estimate.TwoPoint{LikelySec: float64(likelySec), BadSec: float64(badSec)}.Lognormal()
		if err != nil {
			r.Untimed++
			return
		}
		times = append(times, l)
	}
	for _, i := range w.Off {
		r.Off = append(r.Off, m.parts[i].ID)
		timed(m.parts[i].OffSec, m.parts[i].OffBadSec)
	}
	for _, k := range w.Joints {
		joint := m.joints[k]
		r.Joints = append(r.Joints, joint.ID)
		r.Fasteners += joint.Count
		if joint.Tool != "" && !slices.Contains(r.Tools, joint.Tool) {
			r.Tools = append(r.Tools, joint.Tool)
		}
		timed(joint.OffSec, joint.OffBadSec)
	}
	slices.Sort(r.Tools)
	if sum, err := estimate.InARow(sameHands, times...); err == nil {
		both := sum.TwoPoint()
		r.LikelySec, r.BadSec = int(both.LikelySec+0.5), int(both.BadSec+0.5)
	}
	return r
}

// sameHands is the correlation, by the logarithms, of times that the same hands
// take one after the other (our decision; planning uses it within a fight too).
const sameHands = 0.5

// WorkWay is the way to all parts that a robot's unfinished jobs are about, and
// the parts they are.
func (s State) WorkWay(robot RobotID) (WayIn, []PartID) {
	var parts []PartID
	for _, j := range inJobOrder(s) {
		if j.Robot != robot || !j.State.live() {
			continue
		}
		for _, id := range j.Damages {
			for _, p := range s.damaged(s.Damages[id]) {
				if !slices.Contains(parts, p) && !s.Parts[p].Retired {
					parts = append(parts, p)
				}
			}
		}
	}
	r, _ := s.WayTo(robot, parts)
	return r, parts
}

// damaged lists the parts that a damage is on: its part, or those of its joint.
func (s State) damaged(d Damage) []PartID {
	if d.OnPart != "" {
		return []PartID{d.OnPart}
	}
	return s.Joints[d.OnJoint].Parts
}

// LookNext is a part to look at since a hit on another ran into it.
type LookNext struct {
	Part PartID
	From PartID
}

// LookNext lists the parts that damaged ones pass a hit on to and that nobody has
// reported yet, in the order of the damages: the inspection looks at them too.
// Damage from before the robot's last fight no longer counts.
func (s State) LookNext(robot RobotID) []LookNext {
	since := s.Powers[robot].FoughtAt
	found := map[PartID]bool{}
	var from []PartID
	for _, d := range Sorted(s.Damages, func(d Damage) string { return itoa(100000 + d.Number) }) {
		if d.Robot != robot || d.Dropped || d.At < since {
			continue
		}
		for _, p := range s.damaged(d) {
			found[p] = true
			from = append(from, p)
		}
	}
	var list []LookNext
	for _, p := range from {
		for _, next := range s.Parts[p].Next {
			if !found[next] && !s.Parts[next].Retired {
				found[next] = true
				list = append(list, LookNext{Part: next, From: p})
			}
		}
	}
	return list
}

// Alone is a part without which a whole function stops.
type Alone struct {
	Part     PartID
	Function string
}

// SinglePoints lists a robot's single points of failure, by function and part.
func (s State) SinglePoints(robot RobotID) []Alone {
	var list []Alone
	for _, part := range s.mapOf(robot).parts {
		for _, v := range part.Serves {
			if v.Share == 100 {
				list = append(list, Alone{part.ID, v.Function})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Alone) int { return strings.Compare(a.Function, b.Function) })
	return list
}
