package boardtest

import . "mendline/board"

// ownSeen is a tag or hands near that a witness saw: from the time on it until it was
// gone, or none while it is there.
type ownSeen struct {
	robot  RobotID
	person PersonID
	from   Moment
	gone   Moment
}

// lookAtHands notes whose tags and hands near are there at a moment.
func (w *Witness) lookAtHands(s State, now Moment) {
	if w.own == nil {
		w.own = map[Key]ownSeen{}
	}
	for _, tag := range s.Tags {
		w.own[tag.Key()] = ownSeen{tag.Robot, tag.Person, tag.At, 0}
	}
	for _, hands := range s.Hands {
		w.own[hands.Key()] = ownSeen{hands.Robot, hands.Person, hands.At, 0}
	}
	for key, o := range w.own {
		if _, there := s.Get(key); !there && o.gone == 0 {
			o.gone = now
			w.own[key] = o
		}
	}
}

// onAll tells whether at every moment of [from, to) a tag or hands near of the person
// was on the robot.
func (w *Witness) onAll(robot RobotID, person PersonID, from, to Moment) bool {
	for grew := true; grew && from < to; {
		grew = false
		for _, o := range w.own {
			if o.robot != robot || o.person != person || o.from > from {
				continue
			}
			if o.gone == 0 {
				return true
			}
			if o.gone > from {
				from, grew = o.gone, true
			}
		}
	}
	return from >= to
}
