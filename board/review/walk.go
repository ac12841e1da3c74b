package review

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendline/board"
)

// lateMs is how much later than given an answer may come without being late, in
// milliseconds: what the board itself lets pass as a slow network.
const lateMs = 10_000

// walk goes through the journal line by line.
type walk struct {
	of    board.Rev
	state board.State
	// pending holds the nouns that the state does not have yet: it is made when it
	// is asked for, not after every line.
	pending board.Change
	alarms  *alarmCount

	turns  []Turnaround
	turnOf map[board.RobotID]int
	// back marks robots that have been unknown ever since they fought: what is
	// heard of that fight then is not another one.
	back    map[board.RobotID]bool
	powers  map[board.RobotID]board.Power
	relaxed []Relaxed
	tags    map[board.TagID]board.Tag
	acted   map[board.PersonID]board.Moment
	notices map[board.NoticeID]board.Notice
	people  map[board.PersonID]board.Person
	left    []Tag
	late    []Late
	marked  []Marked
}

func newWalk(alarmsAt func(board.State, board.Moment) []Alarm) *walk {
	return &walk{
		alarms: newAlarmCount(alarmsAt), turnOf: map[board.RobotID]int{}, back: map[board.RobotID]bool{}, powers: map[board.RobotID]board.Power{},
		tags: map[board.TagID]board.Tag{}, acted: map[board.PersonID]board.Moment{}, notices: map[board.NoticeID]board.Notice{},
		people: map[board.PersonID]board.Person{},
		turns:  []Turnaround{}, relaxed: []Relaxed{}, left: []Tag{}, late: []Late{}, marked: []Marked{},
	}
}

func (w *walk) line(l board.JournalLine) error {
	if err := w.timeSet(l); err != nil {
		return err
	}
	w.alarms.until(w, l.At)
	settings := false
	for _, key := range slices.Sorted(maps.Keys(l.Put)) {
		n, err := board.DecodeNoun(key, l.Put[key])
		if err != nil {
			return err
		}
		w.pending.Put = append(w.pending.Put, n)
		w.saw(n, l)
		kind, _ := key.Split()
		settings = settings || kind == board.KindEvent || kind == board.KindWording || kind == board.KindRobot
	}
	overridden := slices.ContainsFunc(slices.Collect(maps.Keys(l.Put)), func(k board.Key) bool { kind, _ := k.Split(); return kind == board.KindNotice })
	for _, key := range l.Del {
		w.pending.Del = append(w.pending.Del, key)
		if kind, id := key.Split(); kind == board.KindTag {
			w.tagOff(board.TagID(id), l.At, overridden)
		}
	}
	w.of, w.pending.Rev = l.Rev, l.Rev
	if settings || len(l.Del) > 0 {
		w.latest() // what is put again after it was deleted keeps its order
	}
	if settings {
		w.relax(l.At)
	}
	if l.By != "" {
		w.acted[l.By] = l.At
	}
	return nil
}

// latest brings the state up to the last line.
func (w *walk) latest() board.State {
	if w.pending.Rev > w.state.Rev {
		w.state = w.state.With(w.pending)
		w.pending = board.Change{}
	}
	return w.state
}

// saw notes what a noun became.
func (w *walk) saw(n board.Noun, l board.JournalLine) {
	switch n := n.(type) {
	case board.Power:
		w.power(n, l.At)
	case board.Tag:
		if _, had := w.tags[n.ID]; !had {
			w.lateWork(n.Robot, n.Person, n.At, l.At, "tag on")
		}
		w.tags[n.ID] = n
	case board.Hands:
		if _, set := l.Put[board.Clock{}.Key()]; set {
			return // it stood before the time was set
		}
		w.lateWork(n.Robot, n.Person, n.At, l.At, "hands near")
	case board.Job:
		for _, st := range n.Stints {
			if st.Late == l.At {
				w.lateWork(n.Robot, st.By, cmp.Or(st.To, st.From), l.At, fmt.Sprintf("at work on job %d, %s", n.Number, n.Name))
			}
		}
	case board.Pack:
		if late := n.HeardLate; late.Heard == l.At && l.Do != "time.set" {
			w.late = append(w.late, Late{Name: "pack " + n.Name, Ask: late.What, By: string(late.By), At: late.At, Heard: late.Heard})
		}
	case board.Notice:
		w.taken(n, l)
		w.notices[n.ID] = n
	case board.Person:
		w.pin(n, l)
		w.grown(n, l)
	case board.Fit:
		if r := n.Weighed; l.Do == "robot.weigh" && r.Sure {
			w.marked = append(w.marked, Marked{Robot: n.Robot, Ask: "what the scale reads", What: saidAgain(r.Grams), By: string(r.By), At: r.At})
		}
	case board.Sheet:
		if l.Do == "sheet.answer" {
			w.answer(n, l.At)
		}
	}
}

// power begins a turnaround when a robot comes back from a fight, and ends it
// when the robot goes into the next.
func (w *walk) power(is board.Power, at board.Moment) {
	was, had := w.powers[is.Robot]
	w.powers[is.Robot] = is
	i, open := w.turnOf[is.Robot]
	fought := had && is.FoughtAt > was.FoughtAt
	if open && fought && w.back[is.Robot] {
		w.turns[i].From, fought = at, false
	}
	if is.State != board.Unknown {
		w.back[is.Robot] = false
	}
	if open && fought {
		w.turns[i].To, open = at, false
		delete(w.turnOf, is.Robot)
	}
	if open {
		w.turns[i].signed(was, is, at)
		return
	}
	if is.State != board.Live {
		w.back[is.Robot] = had && is.State == board.Unknown
		w.turnOf[is.Robot] = len(w.turns)
		w.turns = append(w.turns, Turnaround{Robot: is.Robot, From: at})
	}
}

// signed notes a signature, or that it was withdrawn.
func (t *Turnaround) signed(was, is board.Power, at board.Moment) {
	switch {
	case is.State == board.Ready && was.State != board.Ready:
		t.ReadyAt, t.ReadyBy = at, string(is.ReadyBy)
	case is.State != board.Ready:
		t.ReadyAt, t.ReadyBy = 0, ""
	}
}

// answer notes an answer that came late or from paper: it is the sheet's last
// that does not stand from an earlier one.
func (w *walk) answer(sheet board.Sheet, heard board.Moment) {
	for _, a := range slices.Backward(sheet.Answers) {
		if a.Standing {
			continue
		}
		i := slices.IndexFunc(sheet.Lines, func(l board.Line) bool { return l.ID == a.Line })
		if i < 0 {
			return
		}
		if what := marks(sheet.Lines[i], a); what != "" {
			w.marked = append(w.marked, Marked{
				Robot: sheet.Robot, List: sheet.List, Ask: sheet.Lines[i].Ask, What: what, By: string(a.By), On: string(a.On), At: a.At,
			})
		}
		if !a.Paper && a.At >= heard-lateMs {
			return
		}
		w.late = append(w.late, Late{Robot: sheet.Robot, List: sheet.List, Ask: sheet.Lines[i].Ask, By: string(a.By), At: a.At, Heard: heard, Paper: a.Paper})
		return
	}
}

// pin notes a PIN that was forgotten, or set on the captain's device.
func (w *walk) pin(is board.Person, l board.JournalLine) {
	marked := Marked{Name: is.Name, Ask: "PIN", At: l.At}
	switch {
	case l.Do == "person.forget-pin":
		marked.What, marked.By = "forgotten, so that another can be set", string(is.Forgotten.By)
	case l.Do == "person.claim" && is.ClaimedOn != "":
		marked.What, marked.By, marked.On = "set on one device", string(is.ID), string(is.ClaimedOn)
	default:
		return
	}
	w.marked = append(w.marked, marked)
}

// taken notes a notice that was acknowledged with another PIN than its person had when
// it came.
func (w *walk) taken(is board.Notice, l board.JournalLine) {
	who := w.people[is.Person]
	if l.Do == "notice.take" && who.Forgotten.At >= is.At {
		w.marked = append(w.marked, Marked{Robot: is.Robot, Ask: "the notice of an override", What: "acknowledged after the PIN was forgotten", By: string(is.Person), At: l.At})
	}
}

// grown notes who was entered as one with authority, or is no guest any more. What takes
// a reason stands with it among what was made to ask less.
func (w *walk) grown(is board.Person, l board.JournalLine) {
	was, had := w.people[is.ID]
	w.people[is.ID] = is
	if l.Do != "person.add" && l.Do != "person.change" {
		return
	}
	var what []string
	switch {
	case is.Role == was.Role:
	case is.Role == board.RoleCaptain && l.By != "":
		what = append(what, "a captain now")
	case is.Role == board.RoleSafety:
		what = append(what, "event safety now")
	}
	var gains []string
	for _, k := range is.Authorised {
		if !slices.Contains(was.Authorised, k) {
			gains = append(gains, string(k))
		}
	}
	if len(gains) > 0 {
		what = append(what, "authority for "+strings.Join(gains, ", "))
	}
	if is.Signer && !had {
		what = append(what, "a signer now")
	}
	if was.Guest && !is.Guest {
		what = append(what, "no guest any more")
	}
	if len(what) > 0 {
		w.marked = append(w.marked, Marked{Name: is.Name, Ask: "what they may do", What: strings.Join(what, " and "), By: string(l.By), At: l.At})
	}
}

// marks says what is marked of an answer, "" for nothing.
func marks(l board.Line, a board.Answer) string {
	switch {
	case l.Kind == board.LineSign && a.On != "" && a.Said != board.SaidNo:
		return "signed on one device"
	case a.Said == board.SaidAlone:
		return "nobody else at the bench"
	case a.Sure:
		return saidAgain(a.Number)
	}
	return ""
}

func saidAgain(grams float64) string { return fmt.Sprintf("%g g, said again", grams) }

// heardLateMs is how much later than done a tag, hands near or work may come without
// being late, in milliseconds.
const heardLateMs = 2 * 60_000

// lateWork notes a tag, hands near or work that the board heard of late.
func (w *walk) lateWork(robot board.RobotID, by board.PersonID, at, heard board.Moment, what string) {
	if heard-at > heardLateMs {
		w.late = append(w.late, Late{Robot: robot, Ask: what, By: string(by), At: at, Heard: heard})
	}
}

// relax notes which relaxed settings came and which went.
func (w *walk) relax(at board.Moment) {
	now := w.state.Relaxed()
	for i, r := range w.relaxed {
		if r.To == 0 && !slices.Contains(now, r.Text) {
			w.relaxed[i].To = at
		}
	}
	for _, text := range now {
		if !slices.ContainsFunc(w.relaxed, func(r Relaxed) bool { return r.To == 0 && r.Text == text }) {
			w.relaxed = append(w.relaxed, Relaxed{Text: text, From: at})
		}
	}
}

// ended is the walk with what is open closed at a moment, and with names in the
// place of ids. The walk itself can go on.
func (w *walk) ended(at board.Moment) *walk {
	w.latest()
	w.alarms.until(w, at)
	all := *w
	all.turns, all.relaxed, all.left, all.late = slices.Clone(w.turns), slices.Clone(w.relaxed), slices.Clone(w.left), slices.Clone(w.late)
	all.marked = slices.Clone(w.marked)
	all.close(at)
	return &all
}

func (w *walk) close(at board.Moment) {
	for _, id := range slices.Sorted(maps.Keys(w.tags)) {
		w.stillOn(id, at)
	}
	slices.SortStableFunc(w.left, func(a, b Tag) int { return cmp.Compare(a.On, b.On) })
	for i, t := range w.turns {
		w.turns[i].Name, w.turns[i].ReadyBy = w.state.Robots[t.Robot].Name, w.name(board.PersonID(t.ReadyBy))
	}
	for i, l := range w.late {
		if l.Robot != "" {
			w.late[i].Name = w.state.Robots[l.Robot].Name
		}
		w.late[i].By = w.name(board.PersonID(l.By))
	}
	for i, m := range w.marked {
		if m.Robot != "" {
			w.marked[i].Name = w.state.Robots[m.Robot].Name
		}
		w.marked[i].By, w.marked[i].On = w.name(board.PersonID(m.By)), w.name(board.PersonID(m.On))
	}
}

func (w *walk) name(id board.PersonID) string { return w.state.People[id].Name }

func (w *walk) overrides() []Override {
	list := []Override{}
	for _, notice := range w.notices {
		list = append(list, Override{
			Robot: notice.Robot, Name: w.state.Robots[notice.Robot].Name, Owner: w.name(notice.Person), By: w.name(notice.By), Second: w.name(notice.Second),
			On: w.name(w.state.People[notice.Second].ClaimedOn), Reason: notice.Reason, At: notice.At, Taken: notice.Taken,
		})
	}
	slices.SortFunc(list, func(a, b Override) int {
		return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Robot, b.Robot), cmp.Compare(a.Owner, b.Owner))
	})
	return list
}
