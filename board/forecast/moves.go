package forecast

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/plan"
	"mendline/board/work"
)

// moves are the next moves of everyone on the roster: one for each, and no piece of work
// for two.
type moves struct {
	*schedule
	people  []board.Person
	answers map[board.RobotID]board.PersonID
	given   map[board.PersonID]Todo
	// taken is how many have each piece of work.
	taken map[string]int
	// channels are where charges begin by the plan.
	channels []ChannelView
}

// todos gives each person on the roster their next move: what is theirs, and who is free
// then the first of all other work that they may do.
func (c *schedule) todos(channels []ChannelView) []Todo {
	m := moves{schedule: c, answers: map[board.RobotID]board.PersonID{}, given: map[board.PersonID]Todo{}, taken: map[string]int{}, channels: channels}
	for _, who := range board.Sorted(c.s.People, personKey) {
		if !who.Retired {
			m.people = append(m.people, who)
		}
	}
	m.chooseAnswers()
	for _, who := range m.people {
		m.give(who, m.asker(who).own())
	}
	offers := m.offers()
	m.offer(offers)
	if m.leftOver() {
		m.offer(offers)
	}
	var list []Todo
	seen := lastSeen(c.s)
	for _, who := range m.people {
		t := m.given[who.ID]
		if t.Title == "" {
			t.Title, t.Why = free, "Nothing is planned for you yet."
		}
		t.Person, t.Told = who.ID, c.endedFor(who.ID, seen[who.ID])
		list = append(list, t)
	}
	return list
}

func (m *moves) asker(who board.Person) asker { return asker{m.schedule, who, m.answers} }

// give gives someone a move in place of the one that they had.
func (m *moves) give(who board.Person, t Todo) {
	if was := m.given[who.ID].work(); was != "" {
		m.taken[was]--
	}
	m.given[who.ID] = t
	if name := t.work(); name != "" {
		m.taken[name]++
	}
}

func (m *moves) isTaken(name string) bool { return m.taken[name] > 0 }

// work names the piece of work that a move is, "" for one that takes nothing from others.
func (t Todo) work() string {
	switch t.Act {
	case ActSheet, ActFirstIn:
		return onSheets(t.Robot)
	case ActTag, ActHandsNear, ActStart, ActResume, ActJoin, ActFinish:
		if t.Job == "" {
			return onSheets(t.Robot)
		}
		return onJob(t.Job)
	case ActCloseUp:
		return "close-" + string(t.Robot)
	}
	return t.Work
}

func onSheets(robot board.RobotID) string { return "sheets-" + string(robot) }

func onJob(job board.JobID) string { return "job-" + string(job) }

// chooseAnswers chooses who answers the sheets that are due, of those whose business each robot
// is and who are on no job: the earliest call first, and nobody twice.
func (m *moves) chooseAnswers() {
	chosen := map[board.PersonID]bool{}
	for _, o := range m.robots {
		sheet, l, due := m.dueSheet(o)
		best := noRank
		for _, who := range m.people {
			a := m.asker(who)
			if _, busy := a.runningJob(); !due || busy || chosen[who.ID] || !a.mayEverAnswer(sheet, l) {
				continue
			}
			rank := a.rank(o, sheet, l)
			if rank < noRank && who.Claimed == 0 {
				rank += noPhone
			}
			if rank < best {
				best, m.answers[o.robot.ID] = rank, who.ID
			}
		}
		chosen[m.answers[o.robot.ID]] = true
	}
}

// Those without a phone on the board come behind all who have one.
const (
	noRank  = 99
	noPhone = 10
)

// rank orders those who may answer the sheet that is due on a robot.
func (a asker) rank(o outlook, sheet board.Sheet, l board.Line) int {
	r := o.robot.ID
	first := sheet.List == board.ListFirstIn
	switch elsewhere := a.plannedElsewhere(r); {
	case first && a.tagged(r), !first && a.answeredLast(r):
		return 0
	case first && len(peopleOn(a.s, r)) > 0:
		return noRank
	case o.robot.Lead == a.who.ID && !elsewhere:
		return 1
	case onSheetsNow(a.schedule, a.who.ID, r):
		return 2
	case elsewhere:
		return noRank
	case o.robot.Driver == a.who.ID:
		return 3
	case a.tagged(r) || a.near(r):
		return 4
	case a.tied(o.robot), a.who.Signer && l.Kind == board.LineSign:
		return 5
	}
	return noRank
}

// answeredLast tells whether the person answered the robot's last line, just now.
func (a asker) answeredLast(robot board.RobotID) bool {
	return slices.ContainsFunc(a.robots[a.groupOf(robot)].work, func(i work.Item) bool { return i.On == a.who.ID })
}

// plannedElsewhere tells whether the plan has the person about now on a job, or on the
// sheets of another robot.
func (a asker) plannedElsewhere(robot board.RobotID) bool {
	for i, t := range a.wholePlan.Tasks {
		sheets, is := a.sheets.at(i)
		here := is && a.robots[sheets.robot].robot.ID == robot
		if t.State == plan.Kept && !here && t.StartSec <= soonSec && slices.Contains(a.idsOf(t.People), a.who.ID) {
			return true
		}
	}
	return false
}

// onLater tells whether the plan has the person on task i later on.
func (a asker) onLater(i int) bool {
	t := a.wholePlan.Tasks[i]
	return t.State == plan.Kept && t.StartSec > soonSec && slices.Contains(a.idsOf(t.People), a.who.ID)
}

func (a asker) mayEverAnswer(sheet board.Sheet, l board.Line) bool {
	return a.s.MayEverAnswer(board.Actor{Person: a.who.ID, Role: a.who.Role}, a.who, sheet, l) == nil
}

// leftOver asks whoever leads or drives a robot for an answer that others wait for and
// nobody who is free may give: first those who are on no job yet. It tells whether any of
// them leaves a piece of work for it.
func (m *moves) leftOver() bool {
	leaves := false
	for _, o := range m.robots {
		sheet, l, due := m.dueSheet(o)
		if !due || o.overThere() || sheet.List == board.ListInspect || m.isTaken(onSheets(o.robot.ID)) {
			continue
		}
		of := slices.DeleteFunc(slices.Clone(m.people), func(who board.Person) bool {
			return who.ID != o.robot.Lead && who.ID != o.robot.Driver || !m.asker(who).mayAnswer(sheet, l) || m.answering(who)
		})
		slices.SortStableFunc(of, func(x, y board.Person) int { return cmp.Compare(m.atWork(x), m.atWork(y)) })
		for _, who := range of {
			if t := m.asker(who).line(o.robot, sheet, l); t.Act != ActWait {
				leaves = leaves || m.given[who.ID].work() != ""
				m.give(who, t)
				break
			}
		}
	}
	return leaves
}

// answering tells whether someone is on the sheets of a robot already, or has to read or to
// take a tag off before anything else.
func (m *moves) answering(who board.Person) bool {
	t := m.given[who.ID]
	return t.Act == ActNotice || t.Act == ActTagOff || t.Act == ActCloseUp || t.work() == onSheets(t.Robot)
}

func (m *moves) atWork(who board.Person) int {
	if _, is := m.asker(who).runningJob(); is {
		return 1
	}
	return 0
}
