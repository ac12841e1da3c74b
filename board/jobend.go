package board

// JobDrop takes a job off as not needed.
type JobDrop struct {
	Job    JobID  `json:"job"`
	Reason string `json:"reason,omitzero"`
}

func (c JobDrop) do(t *turn) *Refusal {
	return t.end(c.Job, JobDropped, func(j Job) (Job, *Refusal) {
		j.Reason = c.Reason
		return j, nil
	})
}

// JobDefer leaves a fault as it is for now, with someone who answers for it.
type JobDefer struct {
	Job      JobID    `json:"job"`
	Acceptor PersonID `json:"acceptor"`
	Reason   string   `json:"reason"`
}

func (c JobDefer) do(t *turn) *Refusal {
	return t.end(c.Job, JobDeferred, func(j Job) (Job, *Refusal) {
		person, ok := t.s().People[c.Acceptor]
		if !ok || person.Minor || person.Guest || person.Retired {
			return j, badField("acceptor", "A fault that is left needs a named member of the team who accepts it.")
		}
		j.Acceptor, j.Reason = c.Acceptor, c.Reason
		return j, checkName("reason", c.Reason)
	})
}

func (t *turn) end(id JobID, to JobState, with func(Job) (Job, *Refusal)) *Refusal {
	j, bad := t.job(id)
	if bad != nil {
		return bad
	}
	if bad := j.may(to); bad != nil {
		return bad
	}
	if j, bad = with(j); bad != nil {
		return bad
	}
	j.State, j.HeldFor, j.HeldText = to, "", ""
	t.put(j)
	if to == JobOpen {
		return nil
	}
	return first(j.ruleGX(t.s()), t.s().uncovered(j, t.now), t.s().packWasIn(j, t.now))
}

// JobReopen takes a job up again that was finished, closed, dropped or deferred.
type JobReopen struct {
	Job    JobID  `json:"job"`
	Reason string `json:"reason,omitzero"`
}

func (c JobReopen) do(t *turn) *Refusal {
	return t.end(c.Job, JobOpen, func(j Job) (Job, *Refusal) {
		j.ClosedAt, j.Acceptor = 0, ""
		j.Reinspected = Reinspection{} // what was seen then says nothing of what comes
		j.Reason = c.Reason
		return j, nil
	})
}
