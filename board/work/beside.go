package work

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"mendline/board"
	"mendline/board/estimate"
)

// The steps beside a robot's sheets and jobs: words to read and to say, parts to fetch,
// packs, and the ways to a fight and back.
const (
	Notice     Step = "notice"
	Recheck    Step = "recheck"
	Decide     Step = "decide"
	Fetch      Step = "fetch"
	PackRead   Step = "read"
	PackMove   Step = "move"
	PackCharge Step = "charge"
	PackAttend Step = "attend"
	PackOff    Step = "off"
	Carry      Step = "carry"
	Fight      Step = "fight"
	CarryBack  Step = "carry-back"
)

// takes is how long each takes and how many hands it holds: our own guesses, but for a
// part that nobody here has. Whoever stays with a charge is bound to its place; their hands
// are free.
var takes = map[Step]struct {
	likelySec, badSec float64
	hands             int
}{
	Notice: {60, 120, 1}, Recheck: {60, 120, 1}, Decide: {60, 180, 1}, Fetch: {600, 1800, 1},
	PackRead: {120, 240, 1}, PackMove: {60, 120, 1}, PackCharge: {120, 300, 1}, PackAttend: {60, 120, 0}, PackOff: {60, 120, 1},
	Carry: {180, 300, 1}, Fight: {180, 300, 1}, CarryBack: {300, 480, 1},
}

// recheckSoon is how long before it runs out an answer is asked for again.
const recheckSoon = 5 * time.Minute

func beside(step Step) Item {
	t := takes[step]
	return Item{Step: step, Hands: t.hands, Station: board.StationNone, Times: estimate.TwoPoint{LikelySec: t.likelySec, BadSec: t.badSec}}
}

// Beside lists what there is to do beside sheets and jobs: notices, checks that run out,
// damage that asks for a decision, parts to fetch, packs.
func Beside(s board.State, at board.Moment) []Item {
	list := slices.Concat(notices(s), rechecks(s, at), decisions(s), fetches(s))
	for _, p := range board.Sorted(s.Packs, func(p board.Pack) string { return p.Name + string(p.ID) }) {
		if !p.Retired {
			list = append(list, ofPack(s, p)...)
		}
	}
	return list
}

func notices(s board.State) []Item {
	var list []Item
	for _, n := range board.Sorted(s.Notices, func(n board.Notice) string { return n.At.String() + string(n.ID) }) {
		if n.Taken == 0 {
			i := beside(Notice)
			i.Notice, i.Robot, i.May = n.ID, n.Robot, []board.PersonID{n.Person}
			list = append(list, i)
		}
	}
	return list
}

// robots are those on the board, by number.
func robots(s board.State) []board.Robot {
	list := slices.Collect(func(yield func(board.Robot) bool) {
		for _, r := range s.Robots {
			if !r.Retired && !yield(r) {
				return
			}
		}
	})
	slices.SortFunc(list, func(a, b board.Robot) int { return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID)) })
	return list
}

func rechecks(s board.State, at board.Moment) []Item {
	var list []Item
	for _, r := range robots(s) {
		for _, due := range s.Rechecks(r.ID) {
			if s.Powers[r.ID].State == board.Work && due.Due <= at.Add(recheckSoon) {
				i := beside(Recheck)
				i.Robot, i.Sheet, i.Line, i.By = r.ID, due.Sheet, due.Line, due.Due
				list = append(list, i)
			}
		}
	}
	return list
}

func decisions(s board.State) []Item {
	var list []Item
	for _, r := range robots(s) {
		for _, d := range s.StandingDamage(r.ID) {
			switch asks := s.DamageAsks(d); asks {
			case board.AsksJob, board.AsksAccept, board.AsksLook:
				i := beside(Decide)
				i.Robot, i.Damage, i.Asks = r.ID, d.ID, asks
				list = append(list, i)
			}
		}
	}
	return list
}

// fetches lists the parts that jobs wait for: those held for one, and those that have to
// be done and lack a spare.
func fetches(s board.State) []Item {
	var list []Item
	for _, j := range board.Sorted(s.Jobs, byNumber) {
		held := j.State == board.JobHeld && j.HeldFor == board.HoldPart
		if !held && (j.State != board.JobOpen || !j.Blocking()) || s.Robots[j.Robot].Retired {
			continue
		}
		i := beside(Fetch)
		i.Robot, i.Job = j.Robot, j.ID
		for _, need := range j.Fix().Stock {
			if stock := s.Stocks[need.Stock]; stock.Count < need.Count && !stock.Retired {
				i.Stock, i.Count = stock.ID, need.Count
			}
		}
		if held || i.Stock != "" {
			list = append(list, i)
		}
	}
	return list
}

func byNumber(j board.Job) string { return fmt.Sprintf("%08d", j.Number) }

// ofPack lists what a pack asks for: to be read, to be said where it is, a charge begun,
// somebody who stays with it, to be taken off. Nobody is sent to one that may vent.
func ofPack(s board.State, p board.Pack) []Item {
	item := func(step Step) []Item {
		i := beside(step)
		i.Pack, i.Robot, i.Place = p.ID, p.Robot, p.Place
		return []Item{i}
	}
	_, hot := p.HotOnCharge()
	open := s.Powers[p.Robot].State == board.Verified || s.Powers[p.Robot].State == board.Work
	first, _ := s.Sheet(p.Robot, board.ListFirstIn)
	switch {
	case hot || p.MayVent() || p.State == board.PackSuspect || p.State == board.PackQuarantined || p.State == board.PackGone:
		return nil
	case p.State == board.PackCharging:
		if p.Unsure || p.AttendAt == 0 || p.Away.At != 0 || p.Stopped != "" {
			return item(PackAttend)
		}
		return item(PackOff)
	case p.Robot == "" && p.Place == "":
		return item(PackMove)
	case p.Robot != "" && (!open || first.State == board.SheetOpen):
		return nil // its sheets ask for it
	case p.Robot != "" && p.CameBack:
		return item(PackMove)
	case p.State == board.PackUnread || p.State == board.PackCooling || p.Robot != "" && p.Unread:
		return item(PackRead)
	case p.State == board.PackWaiting:
		return item(PackCharge)
	}
	return nil
}

// ways adds the way to the next fight, the fight, and the way back.
func (w *walk) ways() {
	there := w.there() && !w.fought()
	open := OpenFights(w.s, w.robot)
	steps := []Step{Carry, Fight, CarryBack}
	switch {
	case len(open) > 0 && there:
		steps = steps[1:]
	case len(open) == 0 && !there:
		steps = nil
	case len(open) == 0:
		steps = steps[2:]
	}
	for _, step := range steps {
		w.way(step)
	}
}

func (w *walk) way(step Step) {
	i := beside(step)
	i.Robot, i.May = w.robot.ID, FightCrew(w.s, w.robot)
	w.items = append(w.items, i)
}

// there tells whether the robot is at staging or in the arena.
func (w *walk) there() bool {
	at := w.s.Places[w.s.Powers[w.robot.ID].Place].Kind
	return at == board.PlaceStaging || at == board.PlaceArena
}

// fought tells whether the robot stands there after a fight: without power, not closed up
// again, and in no fight now. It is brought back before anything else.
func (w *walk) fought() bool {
	power := w.s.Powers[w.robot.ID].State
	if !w.there() || power == board.ClosingUp || power == board.Ready || power.Energised() {
		return false
	}
	was := false
	for _, f := range w.s.Fights {
		switch {
		case f.Robot != w.robot.ID:
		case f.State == board.FightOn:
			return false
		case f.State == board.FightDone && (f.Result == board.Won || f.Result == board.Lost || f.Result == board.Drawn):
			was = true
		}
	}
	return was
}

// heavyCrewMost is how many go to a fight with a heavyweight: four who move it, and the
// driver. Common practice, no source.
const heavyCrewMost = 5

// FightCrew lists who goes to a fight with the robot: its driver and lead, and with a
// heavyweight those assigned to its jobs.
func FightCrew(s board.State, r board.Robot) []board.PersonID {
	var crew []board.PersonID
	add := func(id board.PersonID) {
		if id != "" && !slices.Contains(crew, id) {
			crew = append(crew, id)
		}
	}
	add(r.Driver)
	add(r.Lead)
	if r.Size != board.Heavy {
		return crew
	}
	on := func(j board.Job) bool { return j.Robot == r.ID && j.State != board.JobDropped && len(j.Assigned) > 0 }
	for _, j := range board.SortedOf(s.Jobs, on, byNumber) {
		for _, id := range j.Assigned {
			add(id)
		}
	}
	return crew[:min(len(crew), heavyCrewMost)]
}
