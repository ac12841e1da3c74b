package board

import "slices"

// JobStart puts a person to work on a job.
type JobStart struct {
	Job JobID `json:"job"`
	// Station is where, when several are of the kind that the fix asks for.
	Station StationID `json:"station,omitzero"`
}

func (c JobStart) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	return t.begin(j, JobOpen, c.Station)
}

// JobResume takes a held job up again.
type JobResume struct {
	Job     JobID     `json:"job"`
	Station StationID `json:"station,omitzero"`
}

func (c JobResume) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	return t.begin(j, JobHeld, c.Station)
}

func (t *turn) begin(j Job, was JobState, at StationID) *Refusal {
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if j.State != was {
		return refuse(CodeState, "Job %d, %s, is %s. %s", j.Number, j.Name, j.State, j.State.first())
	}
	if bad := first(t.comesAfter(j), t.mayWork(j, person), j.ruleGX(t.s()), t.s().fitsStation(j, at), t.mayGrind(j)); bad != nil {
		return bad
	}
	if !slices.Contains(j.Assigned, person.ID) {
		j.Assigned = append(slices.Clone(j.Assigned), person.ID)
	}
	from := t.when
	if n := len(j.Stints); n > 0 {
		from = max(from, j.Stints[n-1].To)
	}
	j.Stints = append(slices.Clone(j.Stints), Stint{Span: Span{From: from}, By: person.ID, Fix: j.Chosen, Station: at})
	j.State, j.HeldFor, j.HeldText = JobRunning, "", ""
	if j.Started == 0 {
		j.Started = from
	}
	t.put(j)
	if power := t.s().Powers[j.Robot]; j.Fix().Where != OffRobot && (power.State == Ready || power.State.Energised()) {
		t.becomeUnknown(power, person.Name+" was on job "+itoa(j.Number)+" while the board said "+string(power.State), true)
	}
	return nil
}

func (t *turn) comesAfter(j Job) *Refusal {
	for _, id := range j.After {
		a := t.s().Jobs[id]
		if !a.State.handsDone() && a.State != JobDropped && a.State != JobDeferred {
			return refuse(CodeNotYet, "Job %d comes after job %d, %s, which is %s.", j.Number, a.Number, a.Name, a.State)
		}
	}
	return nil
}

// mayWork refuses work on a robot that is not locked out for it, or has a pack
// in it that must be out.
func (t *turn) mayWork(j Job, person Person) *Refusal {
	if t.late() {
		return nil // it was done: rules 8 and 9 ask for a second look before it closes
	}
	robot := t.s().Robots[j.Robot]
	power := t.s().Powers[j.Robot]
	switch at := j.Fix().Where != OffRobot; {
	case at && power.State.Energised():
		return breaks(7, "%s is %s: hands out until that has ended.", robot.Name, power.State)
	case at && power.State == Ready:
		return breaks(7, "%s is signed ready: hands out. To work on it, set it unknown first, which anyone may, and make it safe again.", robot.Name)
	case at && power.State == Unknown:
		return breaks(3, "%s is unknown, which counts as live: make it safe and verify it before hands go near for job %d.", robot.Name, j.Number)
	}
	if j.Fix().Lockout {
		if power.State != Work {
			return breaks(3, "%s is %s, and job %d needs it locked out: make safe, verify, then put your tag on.", robot.Name, power.State, j.Number)
		}
		_, tagged := t.s().TagOf(robot.ID, person.ID)
		_, near := t.s().HandsOf(robot.ID, person.ID)
		if !tagged && !near {
			return breaks(3, "Put your own tag on %s first; a minor or guest marks hands near.", robot.Name)
		}
		if bad := t.firstInDone(robot); bad != nil {
			return bad
		}
	}
	if to := t.s().PacksToPlace(robot.ID); j.Fix().PackOut && len(to) > 0 {
		names := make([]string, len(to))
		for i, p := range to {
			if p.State.setAside() && p.Robot == robot.ID {
				return hasAside(9, p, robot)
			}
			names[i] = p.Name
		}
		return breaks(9, "Job %d needs every pack out of %s and its place on the board. Say where it is now: %s.", j.Number, robot.Name, listNames(names))
	}
	return nil
}

// PacksToPlace lists the packs that are in a robot, or may be since they fit it
// and nobody has said where they are, by name.
func (s State) PacksToPlace(robot RobotID) []Pack {
	var list []Pack
	for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name + string(p.ID) }) {
		nowhere := p.Robot == "" && p.Place == "" && p.State != PackGone && slices.Contains(p.Fits, robot)
		if !p.Retired && (p.Robot == robot || nowhere) {
			list = append(list, p)
		}
	}
	return list
}

// packsOut tells whether no pack is in the robot, or may be.
func (s State) packsOut(robot RobotID) bool { return len(s.PacksToPlace(robot)) == 0 }

// JobHold stops a job for now and says what it waits for.
type JobHold struct {
	Job  JobID   `json:"job"`
	Why  HoldWhy `json:"why"`
	Text string  `json:"text,omitzero"`
}

func (c JobHold) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if bad := first(oneOf("why", c.Why, HoldPart, HoldPerson, HoldStation, HoldClock), checkShort("text", c.Text)); bad != nil {
		return bad
	}
	if j.State == JobHeld && j.HeldFor == HoldLockout {
		j.HeldFor, j.HeldText = c.Why, c.Text
		t.put(j)
		return nil
	}
	if bad := j.may(JobHeld); bad != nil {
		return bad
	}
	t.put(t.stop(j, JobHeld, c.Why, c.Text, t.when))
	return nil
}

// stop ends a job's running stint at a moment.
func (t *turn) stop(j Job, to JobState, why HoldWhy, text string, at Moment) Job {
	j.Stints = slices.Clone(j.Stints)
	if n := len(j.Stints); n > 0 && j.Stints[n-1].To == 0 {
		last := &j.Stints[n-1]
		last.To = max(last.From+1, min(at, t.now))
		last.Held = why
	}
	j.State, j.HeldFor, j.HeldText = to, why, text
	return j
}

// workable tells whether a running job may go on in the state its robot is in.
// Power does not end work: work at the robot keeps power away (rule 7).
func (s State) workable(j Job) bool {
	power := s.Powers[j.Robot]
	if j.Fix().Lockout {
		return power.State == Work
	}
	return j.Fix().Where == OffRobot || power.State != Unknown
}

// WorkedSec is how long hands were on the job until now, in seconds.
func (j Job) WorkedSec(now Moment) int {
	var ms Moment
	for _, st := range j.Stints {
		ms += st.end(now) - st.From
	}
	return int(ms / second)
}

// SpentSec is how long hands were on one of the job's fixes until at, in seconds.
func (j Job) SpentSec(fix int, at Moment) float64 {
	var ms Moment
	for _, st := range j.Stints {
		if st.Fix == fix {
			ms += max(st.end(at)-st.From, 0)
		}
	}
	return float64(ms) / float64(second)
}
