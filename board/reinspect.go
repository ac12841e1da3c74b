package board

// Reinspection is someone's look at work that no lockout covered.
type Reinspection struct {
	By PersonID `json:"by"`
	At Moment   `json:"at"`
}

// JobReinspect is the look at work that no lockout covered, by someone who did not do
// it: the robot's lead, a captain with authority for it, event safety or a signer.
type JobReinspect struct {
	Job JobID `json:"job"`
	// Person looks on someone else's device, proved by PIN.
	Person PersonID `json:"person,omitzero"`
}

func (c JobReinspect) Guards(State) []Key { return []Key{KeyOf(KindJob, c.Job)} }

func (c JobReinspect) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if j.State != JobFinished && j.State != JobHeld && !(j.State == JobOpen && len(j.Stints) > 0) {
		return refuse(CodeState, "Job %d is %s. It is looked at again when it is finished or held, or was reopened.", j.Number, j.State).of(j)
	}
	person, bad := t.own(c.Person)
	if bad != nil {
		return bad
	}
	if !t.s().mayLookAgain(person, j) {
		return refuse(CodeForbidden, "%s does not look at the work on job %d again. %s", person.Name, j.Number, t.s().looksAgain(j)).of(j)
	}
	j.Reinspected = Reinspection{By: person.ID, At: t.now}
	t.put(j)
	return nil
}

// by tells whether a person worked on a job, or said that it was finished.
func (j Job) by(p PersonID) bool { return p == j.FinishedBy || j.workedBy(p) }

// lookedAt is when someone looked at a job's work again who did none of it, as far as the
// board has heard by now; 0 is never.
func (j Job) lookedAt() Moment {
	if j.workedBy(j.Reinspected.By) {
		return 0
	}
	return j.Reinspected.At
}

// mayLookAgain tells whether a person's look at a job's work counts.
func (s State) mayLookAgain(person Person, j Job) bool {
	r := s.Robots[j.Robot]
	leads := person.ID == r.Lead || person.Role == RoleSafety || person.Role == RoleCaptain && person.AuthorisedFor(r)
	return person.Answers() && (person.Signer || leads) && !j.by(person.ID)
}

// whoLooksAgain lists whose look at a job's work counts, by name.
func (s State) whoLooksAgain(j Job) []PersonID {
	var list []PersonID
	for _, person := range Sorted(s.People, func(person Person) string { return person.Name + string(person.ID) }) {
		if s.mayLookAgain(person, j) {
			list = append(list, person.ID)
		}
	}
	return list
}

// looksAgain says who looks at a job's work before it closes, or is left off.
func (s State) looksAgain(j Job) string {
	who := "An official, whom the captain enters as a signer,"
	if list := s.whoLooksAgain(j); len(list) > 0 {
		names := make([]string, len(list))
		for i, id := range list {
			names[i] = s.People[id].Name
		}
		who = listOr(names)
	}
	if j.State != JobFinished {
		return who + " looks at the work again first."
	}
	return who + " looks at the work again, then it closes."
}
