package board

// Stop is event safety's word that nothing goes on with a robot.
type Stop struct {
	By  PersonID `json:"by"`
	At  Moment   `json:"at"`
	Why string   `json:"why"`
}

// HoldStopped is why a job is held that event safety stopped.
const HoldStopped HoldWhy = "stopped"

// RobotStop stops everything on a robot, whatever state it is in: it is unknown,
// its jobs are held, a signature is withdrawn, and until the stop is lifted no
// job begins and no power comes.
type RobotStop struct {
	Robot RobotID `json:"robot"`
	Why   string  `json:"why"`
}

func (c RobotStop) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	person, bad := t.own("")
	if bad == nil {
		bad = checkName("why", c.Why)
	}
	if bad != nil {
		return bad
	}
	for _, j := range inJobOrder(t.s()) {
		if j.Robot == robot.ID && j.State == JobRunning {
			t.put(t.stop(j, JobHeld, HoldStopped, c.Why, t.now, person.ID))
		}
	}
	power.Stop = Stop{By: person.ID, At: t.now, Why: c.Why}
	t.becomeUnknown(power, "stopped by "+person.Name+": "+c.Why, power.State.Energised() || len(t.s().HandsOn(robot.ID)) > 0)
	return nil
}

// RobotGoOn lifts a stop. The robot stays unknown and its jobs stay held.
type RobotGoOn struct {
	Robot RobotID `json:"robot"`
}

func (c RobotGoOn) Guards(State) []Key { return []Key{KeyOf(KindPower, c.Robot)} }

func (c RobotGoOn) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	if _, bad := t.own(""); bad != nil {
		return bad
	}
	if power.Stop.At == 0 {
		return refuse(CodeNothingToDo, "%s is not stopped.", robot.Name)
	}
	power.Stop = Stop{}
	t.put(power)
	return nil
}

// ruleStop keeps work and power from a robot that event safety stopped.
func ruleStop(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		var robot RobotID
		switch k {
		case KindPower:
			robot = RobotID(id)
			is, was := t.s().Powers[robot].State, t.before.Powers[robot].State
			if is == was || (!is.Energised() && is != Ready) {
				continue
			}
		case KindJob:
			j := t.s().Jobs[JobID(id)]
			if robot = j.Robot; j.State != JobRunning || t.before.Jobs[j.ID].State == JobRunning {
				continue
			}
		default:
			continue
		}
		if bad := t.s().stopped(t.s().Robots[robot]); bad != nil {
			return bad
		}
	}
	return nil
}

// stopped refuses what event safety's stop keeps from a robot. It is said before all else
// that the robot lacks: whoever does that first comes no further.
func (s State) stopped(r Robot) *Refusal {
	stop := s.Powers[r.ID].Stop
	if stop.At == 0 {
		return nil
	}
	return refuse(CodeForbidden, "%s was stopped by %s: %s. The stop ends when event safety lifts it, on the robot's page: show them that it is put right. Until then it may be made safe, and nothing more.", r.Name, s.People[stop.By].Name, stop.Why)
}
