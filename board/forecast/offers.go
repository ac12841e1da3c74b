package forecast

import (
	"cmp"
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
	"mendline/board/work"
)

// offer is a piece of work that can begin now and that nobody has.
type offer struct {
	name string
	// now comes before all else; by is when it has to begin, none where no call waits.
	now       bool
	signs     bool // a signature
	by        board.Moment
	likelySec int
	// at is where it is, "" where that is not known or may be anywhere.
	at board.PlaceID
	// to is the move as a person reads it, where they may do it.
	to func(board.Person) (Todo, bool)
}

// heldSec is how long a piece of work is somebody's who said that they have it.
const heldSec = 10 * 60

// offer gives everyone who is free the first piece of work that they may do and that fits
// before what they are planned for: first what they said that they have, then who has a
// phone and has been free longest. A neighbour is asked to sign, and for nothing else.
func (m *moves) offer(offers []offer) {
	seen := lastSeen(m.s)
	free := slices.DeleteFunc(slices.Clone(m.people), func(who board.Person) bool {
		t := m.given[who.ID]
		return t.Act != ActWait && t.Act != ActNone || m.awayNow(who)
	})
	slices.SortStableFunc(free, func(a, b board.Person) int {
		return cmp.Or(cmp.Compare(phones(b), phones(a)), cmp.Compare(seen[a.ID], seen[b.ID]))
	})
	for _, o := range offers {
		mark := m.s.Marks[board.TakenWork(o.name)]
		k := slices.IndexFunc(free, func(who board.Person) bool { return who.ID == mark.TakenBy })
		if k < 0 || m.isTaken(o.name) || plusSec(mark.TakenAt, heldSec) < m.at || m.lastTaken(mark) {
			continue
		}
		if t, ok := o.to(free[k]); ok {
			t.Taken = true
			m.give(free[k], t)
			free = slices.Delete(free, k, k+1)
		}
	}
	for _, who := range free {
		gapSec := m.gapSec(who)
		for _, o := range offers {
			if m.isTaken(o.name) || !o.now && o.likelySec > gapSec || !m.inSight(who, o.at) || who.Signer && who.From != "" && !o.signs {
				continue
			}
			if t, ok := o.to(who); ok {
				m.give(who, t)
				break
			}
		}
	}
}

func phones(who board.Person) int {
	if who.Claimed != 0 {
		return 1
	}
	return 0
}

// lastTaken tells whether whoever has a piece of work has said so of another since.
func (m *moves) lastTaken(mark board.Mark) bool {
	for id, o := range m.s.Marks {
		if id.OfWork() && o.TakenBy == mark.TakenBy && o.TakenAt > mark.TakenAt {
			return true
		}
	}
	return false
}

// awayNow tells whether someone is at a fight by the plan.
func (m *moves) awayNow(who board.Person) bool {
	k := m.personOf(who.ID)
	return k >= 0 && slices.ContainsFunc(m.whole.People[k].Away, func(w plan.Window) bool { return w.FromSec <= 0 && w.ToSec > 0 })
}

// gapSec is how long someone has until the plan has them on something, or at a fight.
func (m *moves) gapSec(who board.Person) int {
	gap := int(plan.HorizonSec)
	k := m.personOf(who.ID)
	if k < 0 {
		return gap
	}
	for _, t := range m.wholePlan.Tasks {
		if t.State == plan.Kept && t.StartSec > soonSec && slices.Contains(t.People, k) {
			gap = min(gap, int(t.StartSec)+soonSec)
		}
	}
	for _, w := range m.whole.People[k].Away {
		if w.FromSec > 0 {
			gap = min(gap, int(w.FromSec))
		}
	}
	return gap
}

// inSight tells whether someone may be at a place for all the charges that they stay with.
func (m *moves) inSight(who board.Person, at board.PlaceID) bool {
	for _, p := range m.s.Packs {
		if p.State == board.PackCharging && p.Attendant == who.ID && !m.s.Sees(at, p.Place) {
			return false
		}
	}
	return true
}

// offers lists all work that can begin now, what has to begin first in front.
func (m *moves) offers() []offer {
	var list []offer
	for _, i := range m.beside {
		if o, ok := m.besideOffer(i); ok {
			list = append(list, o)
		}
	}
	for g := range m.robots {
		list = append(list, m.robotOffers(g)...)
	}
	rank := func(o offer) int {
		switch {
		case o.now:
			return 0
		case o.by != 0:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(list, func(a, b offer) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.by, b.by)) })
	return list
}

// robotOffers are what is due on robot g: its sheet, closing it up, its jobs.
func (m *moves) robotOffers(g int) []offer {
	o := m.robots[g]
	at := m.s.Powers[o.robot.ID].Place
	var list []offer
	if sheet, l, due := m.dueSheet(o); due {
		likely := o.beforeSec
		if sheet.List == board.ListCloseUp || sheet.List == board.ListReady {
			likely = o.leftSec
		}
		list = append(list, offer{name: onSheets(o.robot.ID), signs: l.Kind == board.LineSign, by: m.beginBy(o), likelySec: likely, at: at, to: func(who board.Person) (Todo, bool) {
			return m.asker(who).answer(o, sheet, l)
		}})
	}
	if m.closes(g) {
		list = append(list, offer{name: "close-" + string(o.robot.ID), by: m.beginBy(o), likelySec: o.afterSec, at: at, to: func(who board.Person) (Todo, bool) {
			by := board.Actor{Person: who.ID, Role: who.Role}
			return m.asker(who).closing(o), m.s.Refuses(board.RobotCloseUp{Robot: o.robot.ID}, by, m.at) == nil
		}})
	}
	for i, j := range m.jobs {
		if m.problem.Tasks[i].Group == g && m.couldStart(i) {
			list = append(list, offer{name: onJob(j.ID), by: m.latestStart(i), likelySec: int(m.plan.Tasks[i].FinishSec - m.plan.Tasks[i].StartSec), at: at, to: func(who board.Person) (Todo, bool) {
				if !m.hasRoom(i) {
					return Todo{}, false
				}
				return m.asker(who).takeUp(i)
			}})
		}
	}
	return list
}

// beginBy is when what is due on a robot has to begin for its next call, by what is left
// of it.
func (m *moves) beginBy(o outlook) board.Moment {
	switch {
	case o.gone && o.called():
		return plusSec(o.times.call.Median, -o.leftSec)
	case o.workBy == 0:
		return 0
	}
	sec := 0.0
	for _, i := range o.work {
		if i.Back == o.gone && i.Step.Before() {
			sec += i.Times.LikelySec
		}
	}
	for i, j := range m.jobs {
		if j.Robot == o.robot.ID && m.kept(i) {
			sec += float64(m.plan.Tasks[i].FinishSec - m.plan.Tasks[i].StartSec)
		}
	}
	return plusSec(o.workBy, -int(sec))
}

func (m *moves) latestStart(i int) board.Moment {
	if m.latest[i] == 0 {
		return 0
	}
	return plusSec(m.latest[i], -int(m.plan.Tasks[i].FinishSec-m.plan.Tasks[i].StartSec))
}

// answer is a due line for someone whose business the robot is not.
func (a asker) answer(o outlook, sheet board.Sheet, l board.Line) (Todo, bool) {
	switch {
	case !a.mayEverAnswer(sheet, l):
		return Todo{}, false
	case sheet.List == board.ListInspect:
		return a.inspect(o, sheet, l)
	case sheet.List == board.ListFirstIn && !a.tagged(o.robot.ID):
		t := a.tag(o, "You go in first.")
		return t, len(peopleOn(a.s, o.robot.ID)) == 0 && !a.staysClosed(o.robot.ID) && a.refuses(t) == nil
	}
	t := a.line(o.robot, sheet, l)
	return t, t.Act != ActWait && a.mayAnswer(sheet, l)
}

// handOverSec is how long before someone begins a job nobody else is sent to it: our own.
const handOverSec = 5 * 60

// couldStart tells whether one person may begin task i now, though the plan has another on
// it later: all that it comes after is done.
func (m *moves) couldStart(i int) bool {
	t := m.problem.Tasks[i]
	return m.kept(i) && t.Running == nil && len(t.After) == 0 && m.plan.Tasks[i].StartSec > handOverSec && len(m.fix(i).Hands) <= 1
}

// onTask is how many are at work on task i or begin it now, by the plan or sent to it.
func (m *moves) onTask(i int) int {
	switch j := m.jobs[i]; {
	case j.State == board.JobRunning:
		return len(j.AtWork())
	case m.kept(i) && m.plan.Tasks[i].StartSec <= handOverSec:
		return len(m.plan.Tasks[i].People)
	default:
		return m.taken[onJob(j.ID)]
	}
}

// hasRoom tells whether one more may begin task i beside all who are at work or begin now:
// there is room for their hands at its robot and at its station, and its spares are left.
func (m *moves) hasRoom(i int) bool {
	j, fix := m.jobs[i], m.fix(i)
	hands, stations := m.robots[m.problem.Tasks[i].Group].robot.Hands, 0
	for _, station := range m.s.Stations {
		if station.Kind == fix.Station && !station.Retired {
			stations += station.Count
		}
	}
	used := map[board.StockID]int{}
	for k, o := range m.jobs {
		on := m.onTask(k)
		if on == 0 {
			continue
		}
		if o.Robot == j.Robot && m.fix(k).Where != board.OffRobot {
			hands -= on
		}
		if m.fix(k).Station == fix.Station {
			stations--
		}
		for _, need := range m.fix(k).Stock {
			used[need.Stock] += need.Count
		}
	}
	for _, need := range fix.Stock {
		if stock := m.s.Stocks[need.Stock]; stock.Retired || stock.Count-used[need.Stock] < need.Count {
			return false
		}
	}
	return (fix.Where == board.OffRobot || hands > 0) && (fix.Station == board.StationNone || stations > 0)
}

// takeUp is task i for someone who is free and whom the plan does not have on it.
func (a asker) takeUp(i int) (Todo, bool) {
	j, o := a.jobs[i], a.robots[a.problem.Tasks[i].Group]
	fix := a.fix(i)
	skilled := len(fix.Hands) == 0 || fix.Hands[0] == board.SkillAny || skills(a.who)&skillBit(fix.Hands[0]) != 0
	if !skilled || len(j.Assigned) > 0 && !slices.Contains(j.Assigned, a.who.ID) || a.barred(i, o, fix) != "" {
		return Todo{}, false
	}
	t := a.ready(i)
	return t, t.Act != ActJoin && a.refuses(t) == nil
}

// besideOffer is what is beside sheets and jobs as an offer; not ok for what is not due.
func (m *moves) besideOffer(i work.Item) (offer, bool) {
	t := Todo{Robot: i.Robot, Job: i.Job, Pack: i.Pack, Damage: i.Damage}
	o := offer{likelySec: int(i.Times.LikelySec), at: i.Place}
	name := func(id string) string { return string(i.Step) + "-" + id }
	p, r := m.s.Packs[i.Pack], m.s.Robots[i.Robot]
	if k := m.groupOf(i.Robot); k >= 0 {
		o.by = m.beginBy(m.robots[k])
	}
	switch i.Step {
	case work.Recheck:
		o.name, o.now, o.at = name(string(i.Sheet)+"-"+i.Line.ID), true, m.s.Powers[i.Robot].Place
		t.Act, t.Sheet, t.Line, t.Title, t.Why = ActRecheck, i.Sheet, i.Line.ID, i.Line.Ask, "Asked again by "+m.s.Clock(i.By)+", or all leave "+r.Name+"."
	case work.Decide:
		d := m.s.Damages[i.Damage]
		o.name, o.at = name(string(i.Damage)), m.s.Powers[i.Robot].Place
		t.Act, t.Title, t.Why = ActDecide, fmt.Sprintf("%s, damage %d: %s", r.Name, d.Number, d.Part), decideWords[i.Asks]
	case work.Fetch:
		o.name = name(string(i.Job))
		t.Act, t.Title, t.Why = ActFetch, "Fetch a part for "+jobName(m.s.Jobs[i.Job]), m.s.Jobs[i.Job].HeldText
		if stock, ok := m.s.Stocks[i.Stock]; ok {
			t.Title = fmt.Sprintf("Fetch %s for %s", stock.Name, jobName(m.s.Jobs[i.Job]))
		}
	case work.PackRead:
		if cool, err := m.packs.cooling(p); p.State == board.PackCooling && (err != nil || cool.high > 0) {
			return o, false
		}
		o.name, t.Act, t.Title, t.Why = name(string(i.Pack)), ActRead, "Read pack "+p.Name, "Nobody has since it was used."
		if p.State == board.PackCooling {
			t.Why = "It should be cool by now."
		}
	case work.PackMove:
		o.name, t.Act, t.Title, t.Why = name(string(i.Pack)), ActMove, "Say where pack "+p.Name+" is", "Nobody has said."
		if p.Robot != "" {
			t.Title, t.Why = "Take pack "+p.Name+" out of "+r.Name, "Say then where it is."
		}
	case work.PackCharge:
		ch, bar, ok := m.chargeNow(i.Pack)
		if !ok {
			return o, false
		}
		i.Channel, i.Amps = ch.ID, bar.Amps
		o.name, o.at, o.by = name(string(i.Pack)), ch.Place, 0
		if bar.NeededAt != 0 {
			o.by = plusSec(bar.NeededAt, -secUntil(bar.StartAt, bar.EndAt))
		}
		t.Act, t.Robot, t.Title, t.Why = ActCharge, bar.For, fmt.Sprintf("Put pack %s on %s", p.Name, ch.Name), "You stay with it, or someone says that they do."
	case work.PackAttend:
		o.name, o.now, o.at = name(string(i.Pack)), true, p.Place
		t.Act, t.Title, t.Why = ActAttend, fmt.Sprintf("Stay with pack %s on %s", p.Name, m.s.Channels[p.Channel].Name), "Look first whether it still charges. Nobody has said that they are with it."
	case work.PackOff:
		v := PackView{}
		if m.packs.times(&v, p); v.ReadyAt == 0 || v.ReadyAt > m.at {
			return o, false
		}
		o.name, t.Act, t.Title, t.Why = name(string(i.Pack)), ActOff, fmt.Sprintf("Take pack %s off %s", p.Name, m.s.Channels[p.Channel].Name), "It was to be charged at "+m.s.Clock(v.ReadyAt)+". Then read it."
	default:
		return o, false
	}
	t.Work = o.name
	if t.Where = m.s.Places[o.at].Name; i.Step == work.Fetch {
		t.Where = m.s.Stocks[i.Stock].Where
	}
	t.LikelySec, t.BadSec = int(i.Times.LikelySec), int(i.Times.BadSec)
	o.to = func(who board.Person) (Todo, bool) { return t, i.Allows(m.s, who, m.at) }
	return o, true
}

var decideWords = map[board.Asks]string{
	board.AsksJob: "It has no job. Make one of it, or say why not.", board.AsksAccept: "It is left as it is: accept that by name, or make a job of it.",
	board.AsksLook: "It is put right or off. Look at it: you did no work on it.",
}

// chargeNow is where the plan begins a charge of a pack about now.
func (m *moves) chargeNow(pack board.PackID) (board.Channel, ChargeBar, bool) {
	for _, v := range m.channels {
		for _, bar := range v.Bars {
			if bar.Pack == pack && !bar.Running && bar.StartAt <= plusSec(m.at, soonSec) {
				return m.s.Channels[v.Channel], bar, true
			}
		}
	}
	return board.Channel{}, ChargeBar{}, false
}
