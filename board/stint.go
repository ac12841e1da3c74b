package board

import (
	"cmp"
	"slices"
)

// peopleMost is how many people fit on one job.
const peopleMost = 4

// AtWork lists the stints of a running job that last: one for each person on it.
func (j Job) AtWork() []Stint {
	if j.State != JobRunning {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(j.Stints), func(st Stint) bool { return st.To != 0 })
}

// IsAtWork tells whether a person is on the job now.
func (j Job) IsAtWork(p PersonID) bool {
	return slices.ContainsFunc(j.AtWork(), func(st Stint) bool { return st.By == p })
}

// clock is, for each stint, how much of it no stint listed before it covers: the sum
// is how long anyone was on the job, by the clock.
func (j Job) clock(now Moment) []Moment {
	alone := make([]Moment, len(j.Stints))
	for i, st := range j.Stints {
		before := slices.Clone(j.Stints[:i])
		slices.SortFunc(before, func(a, b Stint) int { return cmp.Compare(a.From, b.From) })
		at, end := st.From, st.end(now)
		for _, b := range before {
			alone[i] += max(0, min(b.From, end)-at)
			at = max(at, min(b.end(now), end))
		}
		alone[i] += max(0, end-at)
	}
	return alone
}

// ClockSec is how long anyone was on the job until now, by the clock, in seconds,
// stint by stint: what two did at the same time counts once, with the first.
func (j Job) ClockSec(now Moment) []int {
	var sec []int
	for _, ms := range j.clock(now) {
		sec = append(sec, int(ms/second))
	}
	return sec
}

// WorkedSec is how long anyone was on the job until now, by the clock, in seconds.
func (j Job) WorkedSec(now Moment) int {
	var ms Moment
	for _, m := range j.clock(now) {
		ms += m
	}
	return int(ms / second)
}

// SpentSec is how long anyone was on one of the job's fixes until at, by the clock,
// in seconds.
func (j Job) SpentSec(fix int, at Moment) float64 {
	var ms Moment
	for i, m := range j.clock(at) {
		if j.Stints[i].Fix == fix {
			ms += m
		}
	}
	return float64(ms) / float64(second)
}

// JobJoin puts one more person on a job that others are at work on.
type JobJoin struct {
	Job     JobID     `json:"job"`
	Station StationID `json:"station,omitzero"`
}

func (c JobJoin) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if t.late() {
		return t.heardLate(j, person, c.Station)
	}
	on := j.AtWork()
	switch {
	case j.State != JobRunning:
		return refuse(CodeState, "Nobody is on job %d, %s: it is %s. %s", j.Number, j.Name, j.State, j.State.first()).of(j)
	case j.IsAtWork(person.ID):
		return refuse(CodeNothingToDo, "%s is on job %d already.", person.Name, j.Number).of(j)
	case len(on) >= peopleMost:
		return refuse(CodeState, "%s are on job %d, which is as many as fit. One of them leaves it first.", t.s().namesAt(on), j.Number).of(j)
	}
	if c.Station == "" {
		c.Station = on[0].Station
	}
	return t.putToWork(j, person, c.Station)
}

// JobLeave ends one's own work on a job. The last to leave holds it.
type JobLeave struct {
	Job JobID `json:"job"`
}

func (c JobLeave) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if !j.IsAtWork(person.ID) {
		return refuse(CodeNothingToDo, "%s is not on job %d.", person.Name, j.Number).of(j)
	}
	t.put(t.leave(j, person.ID, HoldPerson, ""))
	return nil
}

// leave ends one person's work on a job, and holds it where they were the last.
func (t *turn) leave(j Job, person PersonID, why HoldWhy, text string) Job {
	if len(j.AtWork()) == 1 {
		return t.stop(j, JobHeld, why, text, t.when, person)
	}
	return t.endStints(j, why, t.when, person, func(st Stint) bool { return st.By == person })
}

// stop ends everyone's work on a job at a moment, by someone's word or, with "", by
// what the board itself does.
func (t *turn) stop(j Job, to JobState, why HoldWhy, text string, at Moment, by PersonID) Job {
	j = t.endStints(j, why, at, by, func(Stint) bool { return true })
	j.State, j.HeldFor, j.HeldText, j.Part = to, why, text, PartComing{}
	return j
}

func (t *turn) endStints(j Job, why HoldWhy, at Moment, by PersonID, which func(Stint) bool) Job {
	j.Stints = slices.Clone(j.Stints)
	for i := range j.Stints {
		st := &j.Stints[i]
		if st.To != 0 || !which(*st) {
			continue
		}
		st.To, st.Held = max(st.From+1, min(at, t.now)), why
		if by != st.By {
			st.EndedBy = by
		}
		if by != "" && t.late() {
			st.Late = t.now
		}
	}
	return j
}

// overrules tells whether whoever asks may end others' work on a robot.
func (t *turn) overrules(r Robot) bool { return t.s().leads(t.by, r) || t.by.Role == RoleSafety }

// othersOn names those at work on a job besides whoever asks.
func (t *turn) othersOn(j Job) []string {
	return t.s().whoAt(slices.DeleteFunc(j.AtWork(), func(st Stint) bool { return t.by.proves(st.By) }))
}

func (s State) namesAt(on []Stint) string { return listNames(s.whoAt(on)) }

func (s State) whoAt(on []Stint) []string {
	names := map[string]bool{}
	for _, st := range on {
		names[s.People[st.By].Name] = true
	}
	return sortedNames(names)
}

// leadName is who leads a robot, as a refusal calls them.
func (s State) leadName(r Robot) string {
	if person, ok := s.People[r.Lead]; ok && person.Answers() {
		return person.Name
	}
	return "the captain"
}

// answersFor says whose word it is that a robot, or a job on it, asks less.
func (s State) answersFor(r Robot) string {
	if lead := s.leadName(r); lead != "the captain" {
		return lead + ", the captain or event safety"
	}
	return "the captain or event safety"
}

// rule7Kept lets nobody take another's hands off by ending their work: that is for
// themselves, for the robot's lead, the captain and event safety, and for the board
// where the robot is no longer as the work needs it.
func rule7Kept(t *turn) *Refusal {
	for _, was := range inJobOrder(t.before) {
		is, robot := t.s().Jobs[was.ID], t.s().Robots[was.Robot]
		for _, st := range was.AtWork() {
			if is.lasts(st) || t.by.proves(st.By) || t.overrules(robot) || t.boardHeld(is) || t.tookOff(was.Robot, st.By) {
				continue
			}
			name := t.s().People[st.By].Name
			return breaks(7, "%s is on job %d of %s. It is %s who leaves, holds or finishes it, or %s.", name, was.Number, robot.Name, name, t.s().leadName(robot)).of(was)
		}
	}
	return nil
}

// lasts tells whether a stint that lasted still does.
func (j Job) lasts(st Stint) bool {
	return slices.ContainsFunc(j.AtWork(), func(o Stint) bool { return o.By == st.By && o.From == st.From })
}

// boardHeld tells whether the board itself holds a job, since its robot or the permit
// for hot work is not as the work needs it.
func (t *turn) boardHeld(j Job) bool {
	if j.State != JobHeld {
		return false
	}
	return j.HeldFor == HoldLockout && !t.s().workable(j) || hotWork(j) && !t.s().Event().HotWork.holds(t.now)
}
