package board

import "regexp"

// WorkTake says that a person goes to a piece of work that their own phone offers them:
// nobody else is sent to it for some minutes. Who says it last has it; a word that comes
// late changes nothing where another was said since. What is done is said by the command
// that does it.
type WorkTake struct {
	// Work is the name that the forecast gives it: read-0192…
	Work string `json:"work"`
}

var workForm = regexp.MustCompile(`^[a-z][a-z0-9-]{1,120}$`)

// TakenWork is where the board keeps who has a piece of work.
func TakenWork(work string) AlarmID { return AlarmID("W-" + work) }

func (c WorkTake) do(t *turn) *Refusal {
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if !workForm.MatchString(c.Work) {
		return badField("work", "That is not the name of a piece of work. Open my next move again.")
	}
	mark := t.s().Marks[TakenWork(c.Work)]
	if t.when < mark.TakenAt {
		return nil
	}
	mark.ID, mark.TakenBy, mark.TakenAt = TakenWork(c.Work), person.ID, t.when
	t.put(mark)
	return nil
}
