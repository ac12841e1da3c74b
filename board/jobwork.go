package board

import "slices"

// JobStart puts a person to work on a job.
type JobStart struct {
	Job JobID `json:"job"`
	// Station is where, when several are of the kind that the fix asks for.
	Station StationID `json:"station,omitzero"`
	// Fix is what they were told to do, an index into Fixes, where the plan has another
	// than the first and nobody has chosen; 0 begins the one that is chosen.
	Fix int `json:"fix,omitzero"`
}

// Guards names the job where the fix asks less than the one that is chosen.
func (c JobStart) Guards(s State) []Key {
	if c.Fix == 0 {
		return nil
	}
	return s.asksLess(c.Job, c.Fix)
}

func (c JobStart) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if c.Fix != 0 && j.State == JobOpen {
		if bad := j.hasFix(c.Fix, "fix"); bad != nil {
			return bad
		}
		j.Chosen = c.Fix
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
	if t.late() {
		return t.heardLate(j, person, at)
	}
	if on := t.s().namesAt(j.AtWork()); on != "" {
		return refuse(CodeState, "Job %d, %s, was begun by %s. To work on it as well, say that you are on it too.", j.Number, j.Name, on).of(j)
	}
	if j.State != was {
		return refuse(CodeState, "Job %d, %s, is %s. %s", j.Number, j.Name, j.State, j.State.first()).of(j)
	}
	if bad := t.comesAfter(j); bad != nil {
		return bad
	}
	return t.putToWork(j, person, at)
}

// heardLate enters that a person is at work on a job of which the board hears late: that is
// so, whatever the job is by now.
func (t *turn) heardLate(j Job, person Person, at StationID) *Refusal {
	switch on := j.AtWork(); {
	case !j.State.live() || len(on) >= peopleMost:
		return t.workedLate(j, person)
	case j.IsAtWork(person.ID):
		return refuse(CodeNothingToDo, "%s is on job %d already.", person.Name, j.Number).of(j)
	case at == "" && len(on) > 0:
		at = on[0].Station
	}
	return t.putToWork(j, person, at)
}

// putToWork begins a person's stint on a job, alone or beside others.
func (t *turn) putToWork(j Job, person Person, at StationID) *Refusal {
	if bad := first(t.mayWork(j, person), j.ruleGX(t.s()), t.s().fitsStation(j, at), t.mayGrind(j)); bad != nil {
		return bad
	}
	if !slices.Contains(j.Assigned, person.ID) {
		j.Assigned = append(slices.Clone(j.Assigned), person.ID)
	}
	from := t.begun(j, person)
	st := Stint{Span: Span{From: from}, By: person.ID, Fix: j.Chosen, Station: at}
	if t.late() {
		st.Late = t.now
	}
	j.Stints = append(slices.Clone(j.Stints), st)
	j.State, j.HeldFor, j.HeldText, j.Part = JobRunning, "", "", PartComing{}
	if j.Started == 0 || from < j.Started {
		j.Started = from
	}
	t.put(j)
	t.workCame(j, person, from)
	return nil
}

// workedLate enters work that the board hears of when its job has ended: hands were on
// it. A finish ended it too. The job closes again once what that owes is answered.
func (t *turn) workedLate(j Job, person Person) *Refusal {
	from := max(t.when, j.At)
	for _, st := range j.Stints {
		switch {
		case st.By != person.ID:
		case st.From <= from && from < st.To:
			return refuse(CodeNothingToDo, "%s's work on job %d then is on the board already.", person.Name, j.Number).of(j)
		default:
			from = max(from, st.To)
		}
	}
	to := max(t.now, from+1)
	if from < j.FinishedAt {
		to = j.FinishedAt
	}
	j.Stints = append(slices.Clone(j.Stints), Stint{Span: Span{From: from, To: to}, By: person.ID, Fix: j.Chosen, Late: t.now})
	if j.State.handsDone() {
		j.FinishedAt = max(j.FinishedAt, to)
	}
	if j.Started == 0 || from < j.Started {
		j.Started = from
	}
	if j.State == JobClosed {
		j.State, j.ClosedAt = JobFinished, 0
	}
	t.put(j)
	t.workCame(j, person, from)
	return nil
}

// workCame makes a robot unknown that the board called closed up, ready or powered, or
// verified meanwhile, while someone was at work at it. Whoever the board hears of late has
// hands near on until they say that they are off, unless they said so since, or the job
// itself keeps the robot from power.
func (t *turn) workCame(j Job, person Person, from Moment) {
	if j.Fix().Where == OffRobot {
		return
	}
	was := person.Name + " was on job " + itoa(j.Number)
	tookOff := slices.ContainsFunc(t.s().Powers[j.Robot].Own, func(own OwnSpan) bool { return own.Person == person.ID && own.To > t.when })
	if t.late() && !tookOff && !t.s().ownOn(j.Robot, person.ID) && (j.Fix().Lockout || !t.s().workable(j) || !j.IsAtWork(person.ID)) {
		t.put(Hands{ID: HandsID(t.id(KindHands, "")), Robot: j.Robot, Person: person.ID, At: t.now})
	}
	switch power := t.s().Powers[j.Robot]; {
	case power.State == Ready || power.State.Energised() || t.late() && (power.State == ClosingUp || power.State == Isolated):
		t.becomeUnknown(power, was+" while the board said "+power.State.String(), true)
	case t.s().crowded(j.Robot):
		t.becomeUnknown(power, was+" while one alone might be on", true)
	}
	t.cameLate(j.Robot, from, was)
}

// begun is when a stint that is entered now began: never before the job was entered,
// nor before the stints that it follows.
func (t *turn) begun(j Job, person Person) Moment {
	from := max(t.when, j.At)
	for _, st := range j.Stints {
		if j.State != JobRunning || st.By == person.ID {
			from = max(from, st.To)
		}
	}
	return from
}

func (t *turn) comesAfter(j Job) *Refusal {
	for _, id := range j.After {
		a := t.s().Jobs[id]
		if !a.State.handsDone() && a.State != JobDropped && a.State != JobDeferred {
			return refuse(CodeNotYet, "Job %d comes after job %d, %s, which is %s.", j.Number, a.Number, a.Name, a.State).of(a)
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
	if bad := t.s().stopped(robot); bad != nil {
		return bad
	}
	switch at := j.Fix().Where != OffRobot; {
	case at && power.State.Energised():
		return breaks(7, "%s is %s: hands out until that has ended.", robot.Name, power.State)
	case at && power.State == Ready:
		return breaks(7, "%s is signed ready: hands out. To work on it, set it unknown first, which anyone may, and make it safe again.", robot.Name)
	case at && power.State == Unknown:
		return breaks(3, "%s is unknown, which counts as live: make it safe and verify it before hands go near for job %d.", robot.Name, j.Number).of(j)
	}
	if j.Fix().Lockout {
		_, tagged := t.s().TagOf(robot.ID, person.ID)
		_, near := t.s().HandsOf(robot.ID, person.ID)
		switch {
		case !tagged && !near && (power.State == Verified || power.State == Work):
			return breaks(3, "Put your own tag on %s first, again where it has just come off. Then job %d can begin. A minor or guest marks hands near.", robot.Name, j.Number).of(j)
		case power.State != Work:
			return breaks(3, "%s is %s, and job %d needs it locked out: make safe, verify, then put your tag on.", robot.Name, power.State, j.Number).of(j)
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
		return breaks(9, "Job %d needs every pack out of %s and its place on the board. Say where it is now: %s.", j.Number, robot.Name, listNames(names)).of(j)
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

// JobHold stops a job for now and says what it waits for. While others are on it
// too, whoever is at work ends their own work only; the robot's lead, the captain and
// event safety stop it for all.
type JobHold struct {
	Job  JobID   `json:"job"`
	Why  HoldWhy `json:"why"`
	Text string  `json:"text,omitzero"`
	// Minutes says when a part comes: in 5, 15, 30 or 60 minutes, 0 where nobody knows.
	// It may be said again while the job is on hold for it.
	Minutes int `json:"minutes,omitzero"`
}

func (c JobHold) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if bad := first(oneOf("why", c.Why, HoldPart, HoldPerson, HoldStation, HoldClock), checkShort("text", c.Text), partIn(c.Minutes)); bad != nil {
		return bad
	}
	if c.Minutes > 0 && c.Why != HoldPart {
		return badField("minutes", "Only a part comes in so many minutes.")
	}
	if j.State == JobHeld && (j.HeldFor == HoldLockout || j.HeldFor == HoldPart && c.Why == HoldPart) {
		if t.when < j.Part.At {
			return nil // something newer was said of the part
		}
		j.HeldFor, j.HeldText = c.Why, c.Text
		t.put(c.coming(j, t.when))
		return nil
	}
	if bad := j.may(JobHeld); bad != nil {
		return bad
	}
	if j.IsAtWork(t.by.Person) && !t.overrules(t.s().Robots[j.Robot]) {
		t.put(c.coming(t.leave(j, t.by.Person, c.Why, c.Text), t.when))
		return nil
	}
	t.put(c.coming(t.stop(j, JobHeld, c.Why, c.Text, t.when, t.by.Person), t.when))
	return nil
}

// coming is the job with when its part comes, where it waits for one.
func (c JobHold) coming(j Job, now Moment) Job {
	j.Part = PartComing{}
	if j.State == JobHeld && c.Why == HoldPart {
		j.Part = PartComing{now, c.Minutes}
	}
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
