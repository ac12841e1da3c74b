package board

import "slices"

// followID is the id of the one plan that people follow.
const followID = "plan"

// FollowBy says whose plan it is.
type FollowBy string

// A plan is the board's own, or was put there by a person.
const (
	FollowBoard  FollowBy = "board"
	FollowPerson FollowBy = "person"
)

// Follow is the plan that people follow: who does which job how, and in which
// order, and which pack is charged where. It is replaced as a whole, by PlanReplace alone. Jobs it does not name
// came later; those that are done meanwhile stay in it until it is replaced.
type Follow struct {
	V  Rev      `json:"v"`
	By FollowBy `json:"by"`
	// Person put it there; "" where the board did.
	Person PersonID     `json:"person,omitzero"`
	At     Moment       `json:"at"`
	Tasks  []FollowTask `json:"tasks"`
	// Charges are those of the packs that robots wait for.
	Charges []FollowCharge `json:"charges,omitempty"`
	// Moved lists the jobs that the plan before had otherwise, each with its Was.
	Moved []JobID `json:"moved"`
}

// FollowTask is what the plan says of one job. Its times are those of the moment
// at which the plan was made: they give the order, and slip with the day.
type FollowTask struct {
	Job   JobID   `json:"job"`
	Robot RobotID `json:"robot"`
	Told
	EndAt Moment `json:"endAt,omitzero"`
	// Was is what people were told before, where that was something else.
	Was *Told `json:"was,omitzero"`
}

// Told is what people were told of a job: left off, or with whom, by which fix
// and when.
type Told struct {
	Off     bool       `json:"off,omitzero"`
	People  []PersonID `json:"people,omitempty"`
	Fix     int        `json:"fix,omitzero"`
	StartAt Moment     `json:"startAt,omitzero"`
}

// shiftMost is how far a start may slip before people would say that the job was
// moved. Planning practice has no figure; it is our own.
const shiftMost = 5 * minute

// same tells whether people would call a and b one and the same word, with the
// whole day later by slip: the same people in any order, the same fix, starts
// within 5 minutes.
func (told Told) same(b Told, slip Moment) bool {
	if told.Off || b.Off {
		return told.Off == b.Off
	}
	later := b.StartAt - told.StartAt - slip
	return told.SameHands(b) && max(later, -later) <= shiftMost
}

// SameHands tells whether a and b name the same people, in any order, and the
// same fix.
func (told Told) SameHands(b Told) bool {
	return told.Off == b.Off && told.Fix == b.Fix && slices.Equal(slices.Sorted(slices.Values(told.People)), slices.Sorted(slices.Values(b.People)))
}

// Key is follow/plan.
func (follow Follow) Key() Key         { return KeyOf(KindFollow, followID) }
func (follow Follow) Rev() Rev         { return follow.V }
func (follow Follow) stamp(r Rev) Noun { follow.V = r; return follow }

// valid asks nothing of the jobs: one that is taken back must not be held by the
// plan that names it.
func (follow Follow) valid(State) *Refusal { return nil }

// Follow is the plan that people follow; none has At 0.
func (s State) Follow() Follow { return s.follow[followID] }

// Task is what the plan says of a job.
func (follow Follow) Task(job JobID) (FollowTask, bool) {
	i := slices.IndexFunc(follow.Tasks, func(k FollowTask) bool { return k.Job == job })
	if i < 0 {
		return FollowTask{}, false
	}
	return follow.Tasks[i], true
}

// PlanReplace gives people another plan to follow. The desk gives it where the
// forecast has found one that is better by a step people notice, or where there
// is work that the plan does not know.
type PlanReplace struct {
	Tasks   []PlanTask   `json:"tasks"`
	Charges []PlanCharge `json:"charges,omitempty"`
}

// PlanTask is one job of a new plan.
type PlanTask struct {
	Job JobID `json:"job"`
	Told
	EndAt Moment `json:"endAt,omitzero"`
}

// planMost is how many jobs one plan may name.
const planMost = 500

func (c PlanReplace) do(t *turn) *Refusal {
	was := t.s().Follow()
	follow := Follow{By: FollowBoard, Person: t.by.Person, At: t.now, Tasks: []FollowTask{}, Moved: []JobID{}}
	if t.by.Role != RoleSystem {
		follow.By = FollowPerson
	}
	if len(c.Tasks) > planMost {
		return badField("tasks", "A plan names at most %d jobs.", planMost)
	}
	seen, slip := map[JobID]bool{}, c.slip(was)
	for _, k := range c.Tasks {
		j, bad := k.planned(t.s())
		if bad != nil {
			return bad
		}
		if seen[k.Job] {
			return badField("tasks", "Job %d is in the plan twice. Name it once.", j.Number).of(j)
		}
		seen[k.Job] = true
		task := FollowTask{Job: k.Job, Robot: j.Robot, Told: k.Told, EndAt: k.EndAt}
		if old, ok := was.Task(k.Job); ok && !old.same(k.Told, slip) {
			task.Was = &old.Told
			follow.Moved = append(follow.Moved, k.Job)
		}
		follow.Tasks = append(follow.Tasks, task)
	}
	charges, bad := c.follow(t.s(), was)
	if bad != nil {
		return bad
	}
	follow.Charges = charges
	t.put(follow)
	return nil
}

// slip is by how much every job that both plans do is later in the new one: a day
// that slips moves nobody.
func (c PlanReplace) slip(was Follow) Moment {
	least := Moment(-1)
	for _, k := range c.Tasks {
		if old, ok := was.Task(k.Job); ok && !old.Off && !k.Off {
			later := max(k.StartAt-old.StartAt, 0)
			if least < 0 || later < least {
				least = later
			}
		}
	}
	return max(least, 0)
}

// planned is the job a task of a new plan is about, if it can be planned so.
func (k PlanTask) planned(s State) (Job, *Refusal) {
	j, ok := s.Jobs[k.Job]
	switch {
	case !ok:
		return Job{}, missing("job", "tasks")
	case !j.State.live():
		return Job{}, badField("tasks", "Job %d is %s: there is nothing to plan. Leave it out.", j.Number, j.State).of(j)
	case k.Fix < 0 || k.Fix >= len(j.Fixes):
		return Job{}, badField("tasks", "Job %d has %d fixes, numbered from 0.", j.Number, len(j.Fixes)).of(j)
	case !k.Off && (k.StartAt == 0 || k.EndAt < k.StartAt):
		return Job{}, badField("tasks", "Job %d needs a start and an end after it, or is left off.", j.Number).of(j)
	case len(k.People) > planHandsMost:
		return Job{}, badField("tasks", "Job %d has more than %d people.", j.Number, planHandsMost).of(j)
	}
	return j, each(k.People, func(p PersonID) *Refusal { return s.knowsPerson("tasks", p) })
}

// planHandsMost is how many people one job of a plan may have.
const planHandsMost = 8
