package board

import (
	"cmp"
	"slices"
	"strings"
)

// PartOff says that the damaged part is off its robot: the weapon not fitted, the
// pack set aside.
type PartOff struct {
	What string   `json:"what"`
	By   PersonID `json:"by"`
	At   Moment   `json:"at"`
}

// slipFor is how long whoever graded a damage, or made a job ask more, can take that back
// as a slip, but for a damage that can hurt people, which stays for a look: our decision.
const slipFor = 60 * second

// rank orders the grades from nothing to do to what hurts people.
func (g Grade) rank() int { return slices.Index([]Grade{G0, G1, G2, G3, G4, GX}, g) }

func damageOrder(d Damage) string { return itoa(100000 + d.Number) }

// damagesOn lists the damages of a robot that were not dropped, by number.
func (s State) damagesOn(robot RobotID) []Damage {
	all := Sorted(s.Damages, damageOrder)
	return slices.DeleteFunc(all, func(d Damage) bool { return d.Robot != robot || d.Dropped })
}

// jobsFor lists the jobs of a damage that were not dropped, everFor those too.
func (s State) jobsFor(d Damage) []Job {
	return slices.DeleteFunc(s.everFor(d), func(j Job) bool { return j.State == JobDropped })
}

func (s State) everFor(d Damage) []Job {
	return SortedOf(s.Jobs, func(j Job) bool { return slices.Contains(j.Damages, d.ID) }, jobOrder)
}

// mended tells whether a closed job has put a damage right, by work that went on after
// the damage was reported or last graded up. A check puts nothing grave right, and what
// can hurt people takes a swap or a mend under lockout.
func (s State) mended(d Damage) bool {
	return slices.ContainsFunc(s.jobsFor(d), func(j Job) bool {
		return j.State == JobClosed && slices.ContainsFunc(j.Stints, func(st Stint) bool {
			fix := s.fixOf(j, st)
			looked := fix.Way == WayCheck && d.Grade.rank() >= G3.rank()
			return st.To > d.RaisedAt && !looked && (d.Grade != GX || fix.mends())
		})
	})
}

// onlyChecked tells whether all jobs of a damage were checks.
func (s State) onlyChecked(d Damage) bool {
	return !slices.ContainsFunc(s.jobsFor(d), func(j Job) bool { return j.Fix().Way != WayCheck })
}

// accepted tells whether someone answers by name for a damage that is left as it is.
func (s State) accepted(d Damage) bool { return d.Acceptor != "" || s.leftByName(d) }

// leftByName tells whether a job of a damage is left off, and someone answers for that.
func (s State) leftByName(d Damage) bool {
	return slices.ContainsFunc(s.jobsFor(d), func(j Job) bool { return j.State == JobDeferred && j.Acceptor != "" })
}

// off tells whether the damaged part is off its robot: what was said before other
// modules went on, or before work on the part ended, does not count.
func (s State) off(d Damage) bool {
	return d.Off.At != 0 && d.Off.At >= s.Fits[d.Robot].At && !s.workedOnSince(d, d.Off.At)
}

// workedOnSince tells whether work in the robot that went on after a moment was for a
// damage, for another on the same part, or touches what it is about.
func (s State) workedOnSince(d Damage, m Moment) bool {
	return slices.ContainsFunc(inJobOrder(s), func(j Job) bool { return s.worksOn(j, d, func(st Stint) bool { return st.during(m) }) })
}

// worksOn tells whether a stint of a job, such as asked for, was work in the robot on a
// damaged part.
func (s State) worksOn(j Job, d Damage, such func(Stint) bool) bool {
	names := slices.ContainsFunc(j.Damages, func(id DamageID) bool { return id == d.ID || s.Damages[id].onSame(d) })
	return j.Robot == d.Robot && slices.ContainsFunc(j.Stints, func(st Stint) bool {
		fix := s.fixOf(j, st)
		return such(st) && fix.Where != OffRobot && (names || overlap(s.touches(j, fix), d.about()))
	})
}

// onSame tells whether two damages are on the same part or joint.
func (d Damage) onSame(o Damage) bool {
	if d.OnPart != "" || o.OnPart != "" || d.OnJoint != "" || o.OnJoint != "" {
		return d.OnPart == o.OnPart && d.OnJoint == o.OnJoint
	}
	return Folded(d.Part) == Folded(o.Part)
}

// partMoved tells whether a damaged part came off a robot after a moment, or went on
// again, that a line is about.
func (s State) partMoved(robot RobotID, l Line, m Moment) bool {
	for _, d := range s.Damages {
		if d.Robot == robot && max(d.Off.At, d.BackAt) > m && overlap(d.offTouches(), l.Covers) {
			return true
		}
	}
	return false
}

// offTouches is what hands touch that take a damaged part off: covers, the mass, and
// what it is about; where nobody said that, all that a failsafe rests on.
func (d Damage) offTouches() []System { return append([]System{SysStructure, SysMass}, d.about()...) }

// about is what a damage is about; where nobody said that, all that a failsafe rests on.
func (d Damage) about() []System {
	if len(d.Touches) == 0 {
		return []System{SysRadio, SysDrive, SysWeapon}
	}
	return d.Touches
}

// handled tells whether a damage that can hurt people is mended, or its part off.
func (s State) handled(d Damage) bool { return s.off(d) || s.mended(d) }

// waitsForLook tells whether a damage waits for the look of other eyes: what can hurt
// people once it is handled, and what has to be mended where nothing but its part being
// off closes it.
func (s State) waitsForLook(d Damage) bool {
	switch {
	case d.Grade == GX:
		return s.handled(d) && !s.looked(d)
	case d.Grade.rank() < G3.rank():
		return false
	}
	return s.off(d) && !s.mended(d) && !s.leftByName(d) && !s.looked(d)
}

// notClosed refuses what waits for a damage whose job is finished and not closed, and
// names that job.
func (s State) notClosed(rule int, d Damage) *Refusal {
	for _, j := range s.jobsFor(d) {
		if j.State == JobFinished {
			return breaks(rule, "Damage %d, %s, can hurt people, and job %d for it is not closed yet, though the hands are done.", d.Number, d.Part, j.Number).of(j)
		}
	}
	return nil
}

// looked tells whether someone who did no work on a damage looked at it after all that
// was done about it.
func (s State) looked(d Damage) bool {
	last := d.Off.At
	for _, j := range s.everFor(d) {
		if j.workedBy(d.Looked.By) {
			return false
		}
		for _, st := range j.Stints {
			last = max(last, cmp.Or(st.To, st.From+1))
		}
	}
	return d.Looked.At != 0 && d.Looked.At >= last
}

// mayLook tells whether a person's look counts: one with authority for the robot, or
// a signer, who did no work on the damage and is not who took the part off.
func (s State) mayLook(person Person, d Damage) bool {
	if person.Retired || person.Minor || person.Guest || !(person.Signer || person.AuthorisedFor(s.Robots[d.Robot])) {
		return false
	}
	took := d.Off.At != 0 && d.Off.By == person.ID
	return !took && !slices.ContainsFunc(s.everFor(d), func(j Job) bool { return j.workedBy(person.ID) })
}

// whoLooks names those whose look at a damage counts.
func (s State) whoLooks(d Damage) string {
	var names []string
	for _, person := range Sorted(s.People, func(person Person) string { return person.Name + string(person.ID) }) {
		if s.mayLook(person, d) {
			names = append(names, person.Name)
		}
	}
	if len(names) == 0 {
		return "an official, whom the captain enters as a signer"
	}
	return listOr(names)
}

// hurts refuses a robot with damage that bars its fight: what can hurt people and is
// not put right and looked at, and what asks for work and has no job. Each look is a word
// of its own: a signature is none.
func (s State) hurts(r Robot) *Refusal {
	for _, d := range s.damagesOn(r.ID) {
		switch {
		case d.Grade == GX && !s.handled(d):
			if bad := s.notClosed(11, d); bad != nil {
				return bad
			}
			return breaks(11, "Damage %d, %s, can hurt people, and no swap or mend under lockout has put it right. Make a job of it and do it, or take the part off and say so.", d.Number, d.Part)
		case s.waitsForLook(d):
			if d.Grade != GX {
				return breaks(11, "Damage %d, %s, is graded %s, and %s said that its part is off. Someone else looks at it first: %s.", d.Number, d.Part, d.Grade, s.People[d.Off.By].Name, s.whoLooks(d))
			}
			return breaks(11, "Damage %d, %s, could hurt people. Someone who did not work on it looks at it first: %s.", d.Number, d.Part, s.whoLooks(d))
		case d.Grade.rank() >= G3.rank() && d.Grade != GX && !s.off(d) && len(s.jobsFor(d)) == 0:
			return breaks(11, "Damage %d, %s, is graded %s and has no job. Make a job of it, or %s grades it down with a reason.", d.Number, d.Part, d.Grade, s.leadName(r))
		case d.Grade.rank() >= G3.rank() && d.Grade != GX && !s.off(d) && !s.mended(d) && !s.leftByName(d) && !s.jobsToDo(d):
			if s.onlyChecked(d) {
				return breaks(11, "Damage %d, %s, is graded %s, and a check puts nothing right. Make a job of it, or %s grades it down with a reason.", d.Number, d.Part, d.Grade, s.leadName(r))
			}
			return breaks(11, "Damage %d, %s, was graded %s at %s, after the work on it. Reopen its job or make another, or %s grades it down with a reason.", d.Number, d.Part, d.Grade, s.Clock(d.RaisedAt), s.leadName(r)).of(s.jobsFor(d)[0])
		case d.Grade.rank() >= G3.rank() && d.Grade != GX && !s.off(d) && !s.mended(d) && !s.leftByName(d):
			return breaks(11, "Damage %d, %s, is graded %s and its job is not done. Do it, or %s leaves it off by name.", d.Number, d.Part, d.Grade, s.answersFor(r)).of(s.jobsFor(d)[0])
		}
	}
	return nil
}

// unaccepted refuses the signature while small damage is left as it is and nobody
// answers for that.
func (s State) unaccepted(r Robot) *Refusal {
	for _, d := range s.damagesOn(r.ID) {
		if (d.Grade == G1 || d.Grade == G2) && !s.off(d) && !s.accepted(d) && !s.mended(d) {
			return breaks(11, "Damage %d, %s, is left as it is and nobody has accepted it. %s, event safety or a signer accepts it by name.", d.Number, d.Part, upper(s.leadName(r)))
		}
	}
	return nil
}

// Asks is what a damage still asks of people.
type Asks string

// What it may ask: a job, or that one is done; a look by other eyes; a name that
// accepts it.
const (
	AsksJob    Asks = "job"
	AsksMend   Asks = "mend"
	AsksLook   Asks = "look"
	AsksAccept Asks = "accept"
)

// DamageAsks says what a damage asks before its robot is signed, "" for nothing.
func (s State) DamageAsks(d Damage) Asks {
	switch {
	case d.Dropped || d.Grade == G0:
		return ""
	case s.waitsForLook(d):
		return AsksLook
	case s.off(d) || s.mended(d):
		return ""
	case d.Grade == G1 || d.Grade == G2:
		if s.accepted(d) {
			return ""
		}
		return AsksAccept
	case !s.jobsToDo(d) && (d.Grade == GX || !s.leftByName(d)):
		return AsksJob
	case d.Grade == GX || !s.leftByName(d):
		return AsksMend
	}
	return ""
}

// jobsToDo tells whether a job of a damage is still to be done, or to be closed.
func (s State) jobsToDo(d Damage) bool {
	return slices.ContainsFunc(s.jobsFor(d), func(j Job) bool { return j.State.live() || j.State == JobFinished })
}

// StandingDamage lists a robot's damage that no job has put right, and what could
// hurt people until it was looked at.
func (s State) StandingDamage(robot RobotID) []Damage {
	return slices.DeleteFunc(s.damagesOn(robot), func(d Damage) bool {
		return d.Grade == G0 || s.mended(d) && s.DamageAsks(d) == ""
	})
}

// hurtInTest refuses power for a test while damage that can hurt people is on the
// robot.
func (s State) hurtInTest(r Robot) *Refusal {
	for _, d := range s.damagesOn(r.ID) {
		switch {
		case d.Grade != GX || s.off(d):
		case !s.mended(d):
			if bad := s.notClosed(17, d); bad != nil {
				return bad
			}
			return breaks(17, "Damage %d, %s, can hurt people: no test with it on %s. Make a job of it and do it, or take the part off and say so.", d.Number, d.Part, r.Name)
		case !s.looked(d):
			return breaks(17, "Damage %d, %s, could hurt people. Before the test, someone who did not work on it looks at it: %s.", d.Number, d.Part, s.whoLooks(d))
		}
	}
	return nil
}

// hurtTests begins no test with such damage on the robot.
func hurtTests(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if power.State == Test && t.before.Powers[id].State != Test {
			if bad := t.s().hurtInTest(t.s().Robots[id]); bad != nil {
				return bad
			}
		}
	}
	return nil
}

// endHurtTest ends a test in which such damage was found.
func (t *turn) endHurtTest(power Power) {
	if power.State != Test || t.before.Powers[power.Robot].State != Test {
		return
	}
	if bad := t.s().hurtInTest(t.s().Robots[power.Robot]); bad != nil {
		t.becomeUnknown(power, "in a test, and then: "+bad.Sentence, false)
	}
}

// ruleDamage keeps a damage from being made less of, or said to be off its robot, but
// by those who answer for the robot, with a reason, and not for their own work; and
// the look at it to other eyes.
func ruleDamage(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was, had := t.before.Damages[DamageID(id)]
		is, has := t.s().Damages[DamageID(id)]
		if k != KindDamage || !had {
			continue
		}
		less := !has || is.Robot != was.Robot || is.Grade.rank() < was.Grade.rank() || is.Dropped && !was.Dropped
		if t.undoing && was.Grade != GX && t.now-was.GradedAt <= slipFor {
			less = false
		}
		off := is.Off.At != was.Off.At && is.Off.At != 0
		if off && t.undoing {
			return breaks(11, "Damage %d, %s: the part was said to be on the robot again. Where it is off, say so again, at work.", was.Number, was.Part)
		}
		if less || off {
			if bad := t.mayLoosen(was); bad != nil {
				return bad
			}
		}
		if less && t.undoing {
			return breaks(11, "Damage %d, %s, was said to be there and stays for a look. Grade it down or drop it, with a reason.", was.Number, was.Part)
		}
		if less && (len(is.Loosened) == len(was.Loosened) || checkReason("reason", is.Loosened[len(is.Loosened)-1].Reason) != nil) {
			return badField("reason", "Say why damage %d, %s, counts for less now. The reason stands in the review.", was.Number, was.Part)
		}
		if off {
			if bad := first(t.opened(was), t.atWork(was)); bad != nil {
				return bad
			}
		}
		if is.Looked == was.Looked || is.Looked.At == 0 {
			continue
		}
		if bad := t.lookable(was); bad != nil {
			return bad
		}
		if !t.s().mayLook(t.s().People[is.Looked.By], is) {
			return breaks(11, "The look at damage %d is for someone with authority, or a signer, who did no work on it: %s.", is.Number, t.s().whoLooks(is))
		}
	}
	return nil
}

// loosened enters who makes less of a damage, and why.
func (t *turn) loosened(d Damage, what, reason string) Damage {
	d.Loosened = append(slices.Clip(d.Loosened), Loosened{What: what, Reason: strings.TrimSpace(reason), By: t.by.Person, At: t.now})
	return d
}

// talkedDown notes on whose word a damage is less grave, or on another robot.
func (t *turn) talkedDown(d Damage, what, reason string) Damage {
	d = t.loosened(d, what, reason)
	if d.Grade == GX && !d.Dropped {
		d.Loosened[len(d.Loosened)-1].Hurt = d.Robot
	}
	return d
}

// mayLoosen refuses to make less of a damage but to its robot's lead, the captain and
// event safety, and not for the work they are at.
func (t *turn) mayLoosen(d Damage) *Refusal {
	robot := t.s().Robots[d.Robot]
	person := t.s().People[t.by.Person]
	if person.ID == "" || person.Minor || person.Guest || !t.overrules(robot) {
		return breaks(11, "Damage %d, %s, counts for less only at the word of %s or event safety. Ask them to look at it.", d.Number, d.Part, t.s().leadName(robot))
	}
	for _, j := range t.s().jobsFor(d) {
		if j.IsAtWork(t.by.Person) {
			return breaks(11, "%s is at work on job %d, for damage %d. Finish or leave the job first, or ask another who may say so.", person.Name, j.Number, d.Number).of(j)
		}
	}
	return nil
}
