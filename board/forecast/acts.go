package forecast

import (
	"slices"

	"mendline/board"
	"mendline/board/view"
	"mendline/board/work"
)

// leadName is who acts for a robot: its lead, its driver, or else the captain; nobody who
// is at a fight of another.
func leadName(s board.State, r board.Robot) string {
	for _, id := range []board.PersonID{r.Lead, r.Driver} {
		if who, ok := s.People[id]; ok && who.Answers() && !fights(s, id, r.ID) {
			return who.Name
		}
	}
	return roleName(s, board.RoleCaptain)
}

// roleName is someone of the role who is at no fight, or else at one, or the role itself
// where nobody is entered.
func roleName(s board.State, role board.Role) string {
	of := slices.DeleteFunc(board.Sorted(s.People, personKey), func(who board.Person) bool { return who.Role != role || who.Retired })
	if len(of) == 0 {
		return "The " + string(role)
	}
	if k := slices.IndexFunc(of, func(who board.Person) bool { return !fights(s, who.ID, "") }); k >= 0 {
		return of[k].Name
	}
	return of[0].Name
}

// fights tells whether someone is at a fight that is on now, of another robot than but.
func fights(s board.State, who board.PersonID, but board.RobotID) bool {
	for _, f := range s.Fights {
		if f.State == board.FightOn && f.Robot != but && slices.Contains(work.FightCrew(s, s.Robots[f.Robot]), who) {
			return true
		}
	}
	return false
}

// sentTo names whose own phone sends them to something, or else says who.
func sentTo(s board.State, todos []Todo, is func(Todo) bool, who string) string {
	if k := slices.IndexFunc(todos, is); k >= 0 {
		return s.People[todos[k].Person].Name
	}
	return who
}

// makesSafe names who makes a robot safe: who is sent to its sheet, or else its lead,
// driver, captain or anyone who may.
func (c *schedule) makesSafe(r board.Robot, todos []Todo) string {
	onIt := func(t Todo) bool { return t.Robot == r.ID && (t.Act == ActSheet || t.Act == ActFirstIn) }
	sheet, due := view.DueSheet(c.s, r.ID)
	l, open := sheet.OpenLine()
	may := func(who board.Person) bool {
		return !fights(c.s, who.ID, r.ID) && (!due || !open || asker{schedule: c, who: who}.mayEverAnswer(sheet, l))
	}
	people := slices.DeleteFunc(board.Sorted(c.s.People, personKey), func(who board.Person) bool { return who.Retired || !may(who) })
	slices.SortStableFunc(people, func(a, b board.Person) int { return standing(r, a) - standing(r, b) })
	if len(people) == 0 {
		return sentTo(c.s, todos, onIt, leadName(c.s, r))
	}
	return sentTo(c.s, todos, onIt, people[0].Name)
}

// standing orders people by how near a robot is to them.
func standing(r board.Robot, who board.Person) int {
	switch {
	case r.Lead == who.ID:
		return 0
	case r.Driver == who.ID:
		return 1
	case who.Role == board.RoleCaptain:
		return 2
	}
	return 3
}
