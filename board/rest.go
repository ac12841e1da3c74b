package board

// Rest is how long an energy takes to go by itself once the power is off: a rotor the
// event's spin-down time at least, capacitors what the captain entered for them. It is
// counted from when the board heard that the robot is powered down, its links out and
// its transmitter off: a phone's own clock makes it no shorter, and when a fight or a
// test ended says nothing of when its power went off.

// restMost is the longest such time, in seconds.
const restMost = 3600

// restSec is how long what a line is about takes to come to rest, in seconds. Whoever
// tries whether it starts waits for a rotor that is asked about under the covers only:
// hands follow the try.
func (s State) restSec(r Robot, l Line) int {
	if l.Part == partVerify {
		sec := 0
		for i, energy := range r.Energies {
			if l, ok := energyLine(energy, i); ok && energy.Kind == EnergySpin && energy.Reach == Inside {
				sec = max(sec, s.restSec(r, l))
			}
		}
		return sec
	}
	at := numberedID.FindString(l.ID)
	if at == "" || slotID(l) != string(l.Energy) {
		return 0
	}
	i := atoi(at[1:]) - 1
	if i < 0 || i >= len(r.Energies) || r.Energies[i].Kind != l.Energy {
		return 0
	}
	if l.Energy == EnergySpin {
		return max(s.Event().SpinDownSec, r.Energies[i].RestSec)
	}
	return r.Energies[i].RestSec
}

// RestsAt is when a line of a robot's sheet may be answered that says that an energy is
// gone; 0 where it takes no time, or the robot is not powered down yet.
func (s State) RestsAt(robot RobotID, l Line) Moment {
	sec, off := s.restSec(s.Robots[robot], l), s.Powers[robot].OffAt
	if sec == 0 || off == 0 {
		return 0
	}
	return off + Moment(sec)*second
}

// rule3Rest takes no word that an energy is gone before the time has passed that it
// takes.
func rule3Rest(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		robot := t.s().Robots[is.Robot]
		l, _ := is.LineOf(a.Line)
		if a.Said != SaidDone || a.Standing || a.Record || t.s().restSec(robot, l) == 0 {
			continue
		}
		switch at := t.s().RestsAt(robot.ID, l); {
		case at == 0:
			return breaks(3, "Nobody has said that %s is powered down: link out, transmitter off. Answer that first, then: %s", robot.Name, l.Ask)
		case at > t.now:
			return breaks(3, "The power of %s is off since %s, and this takes %s by itself. Look again in %s, then answer: %s", robot.Name,
				t.s().Clock(t.s().Powers[robot.ID].OffAt), lasts(Moment(t.s().restSec(robot, l))*second), lasts(at-t.now), l.Ask)
		}
	}
	return nil
}

// lasts is a length of time as people say it, up to the next second: 40 s, 2 min 5 s.
func lasts(m Moment) string {
	switch sec := int((m + second - 1) / second); {
	case sec < 120:
		return itoa(sec) + " s"
	case sec%60 == 0:
		return itoa(sec/60) + " min"
	default:
		return itoa(sec/60) + " min " + itoa(sec%60) + " s"
	}
}
