package boardtest

import (
	"slices"
	"strconv"
	"strings"

	. "mendline/board"
	"mendline/board/charge"
)

func eachPower(s State, ok func(Power) bool) bool {
	for _, p := range s.Powers {
		if !ok(p) {
			return false
		}
	}
	return true
}

// eachNew asks ok of every robot that this step brought to a state.
func eachNew(x Step, state PowerState, ok func(Power) bool) bool {
	return eachPower(x.After, func(p Power) bool {
		return p.State != state || x.Before.Powers[p.Robot].State == state || ok(p)
	})
}

// eachAnswer asks ok of every answer that a person gave in this step.
func eachAnswer(x Step, ok func(Sheet, Line, Answer) bool) bool {
	for id, sheet := range x.After.Sheets {
		had := len(x.Before.Sheets[id].Answers)
		for _, a := range sheet.Answers[min(had, len(sheet.Answers)):] {
			i := slices.IndexFunc(sheet.Lines, func(l Line) bool { return l.ID == a.Line })
			if !a.Standing && (i < 0 || !ok(sheet, sheet.Lines[i], a)) {
				return false
			}
		}
	}
	return true
}

func hasAuthority(person Person, r Robot) bool {
	for _, energy := range r.Energies {
		if !slices.Contains(person.Authorised, energy.Kind) {
			return false
		}
	}
	return person.ID != "" && !person.Minor && !person.Guest
}

// noticed tells whether this step left a person a notice to read.
func noticed(x Step, who PersonID) bool {
	for id, notice := range x.After.Notices {
		if _, before := x.Before.Notices[id]; !before && notice.Person == who {
			return true
		}
	}
	return false
}

// nothingOpen asks of a robot's jobs and packs what a signature rests on.
func nothingOpen(s State, robot RobotID) bool {
	for _, j := range s.Jobs {
		open := j.State == JobOpen || j.State == JobRunning || j.State == JobHeld || j.State == JobFinished
		if j.Robot == robot && ((open && (j.Triage == Must || j.Started != 0)) || (j.State == JobDeferred && j.Acceptor == "")) {
			return false
		}
	}
	in := 0
	for _, p := range s.Packs {
		if p.Robot != robot {
			continue
		}
		in++
		if p.State == PackSuspect || p.State == PackQuarantined || p.State == PackUnread || p.State == PackGone {
			return false
		}
	}
	return in > 0
}

// nothingOvertaken asks that no work on what a line covers came after its answer.
func nothingOvertaken(s State, robot RobotID) bool {
	for _, list := range []SheetList{ListCloseUp, ListReady} {
		var newest Sheet
		for _, sheet := range s.Sheets {
			if sheet.Robot == robot && sheet.List == list && sheet.Number > newest.Number {
				newest = sheet
			}
		}
		for _, l := range newest.Lines {
			var at Moment
			for i, a := range newest.Answers {
				if a.Line == l.ID && !onlyRecord(newest, i) {
					at = a.At
				}
			}
			if s.Fits[robot].At > at && aboutModules(l) {
				return false
			}
			for _, j := range s.Jobs {
				for _, st := range j.Stints {
					late := j.Robot == robot && (st.To == 0 || st.To > at || st.Late > at && st.Late-st.To > 2*60_000)
					if late && slices.ContainsFunc(j.Fixes[st.Fix].Touches, func(y System) bool { return slices.Contains(l.Covers, y) }) {
						return false
					}
				}
			}
		}
	}
	return true
}

// aboutModules tells whether a line asks about what hands are on when they put
// another module on: covers and bolts, the mass, the weapon's lock.
func aboutModules(l Line) bool {
	return slices.Contains(l.Covers, SysStructure) || slices.Contains(l.Covers, SysMass) || slices.Contains(l.Covers, SysLock)
}

func eachClosed(x Step, ok func(Job) bool) bool {
	for id, j := range x.After.Jobs {
		if j.State == JobClosed && x.Before.Jobs[id].State != JobClosed && !ok(j) {
			return false
		}
	}
	return true
}

func eachStint(j Job, ok func(Stint) bool) bool {
	for _, st := range j.Stints {
		if !ok(st) {
			return false
		}
	}
	return true
}

func eachOwner(x Step, ok func(owner PersonID, off bool) bool) bool {
	for id, tag := range x.Before.Tags {
		if _, still := x.After.Tags[id]; !still && !ok(tag.Person, true) {
			return false
		}
	}
	for id, tag := range x.After.Tags {
		if _, before := x.Before.Tags[id]; !before && !ok(tag.Person, false) {
			return false
		}
	}
	for id, hands := range x.Before.Hands {
		if _, still := x.After.Hands[id]; !still && !ok(hands.Person, true) {
			return false
		}
	}
	for id, hands := range x.After.Hands {
		if _, before := x.Before.Hands[id]; !before && !ok(hands.Person, false) {
			return false
		}
	}
	return true
}

// restSec is how long what a line is about takes to come to rest, in seconds.
func restSec(s State, robot RobotID, l Line) int {
	name, number, _ := strings.Cut(l.ID, string(l.Energy)+"-")
	i, err := strconv.Atoi(number)
	if l.Energy == "" || name != "" || err != nil || i > len(s.Robots[robot].Energies) || s.Robots[robot].Energies[i-1].Kind != l.Energy {
		return 0
	}
	own := s.Robots[robot].Energies[i-1].RestSec
	if l.Energy == EnergySpin {
		return max(own, s.Event().SpinDownSec)
	}
	return own
}

// offSince is since when a robot has been seen with its power declared off.
func (w *Witness) offSince(robot RobotID) Moment {
	var from Moment
	off := false
	for i, g := range w.seen[robot] {
		now := g.state != Unknown && g.state != Test && g.state != Live
		if now && !off && i > 0 { // what was so at the first look was so for long enough
			from = g.from
		}
		off = now
	}
	return from
}

// gasFresh asks for a yes of the last quarter of an hour to every line about gas
// or capacitors that the robot's newest sheets have had answered, and that no
// later word has opened again.
func gasFresh(s State, robot RobotID, now Moment) bool {
	newest, owed := map[string]Moment{}, map[SheetList]Sheet{}
	for _, sheet := range s.Sheets {
		if sheet.Robot == robot && sheet.Number > owed[sheet.List].Number {
			owed[sheet.List] = sheet
		}
	}
	for _, list := range []SheetList{ListMakeSafe, ListFirstIn, ListReopen} {
		for _, l := range owed[list].Lines {
			for i, a := range owed[list].Answers {
				switch {
				case a.Line != l.ID || onlyRecord(owed[list], i) || (l.Energy != EnergyGas && l.Energy != EnergyCapacitor):
				case a.Said == SaidNo && list == ListFirstIn:
					delete(newest, l.ID) // open again, for the one who is first in
				case a.Said == SaidDone && (list != ListFirstIn || !deniedLater(owed[list], a)):
					newest[l.ID] = max(newest[l.ID], a.At)
				}
			}
		}
	}
	for _, at := range newest {
		if at <= now-15*60_000 {
			return false
		}
	}
	return true
}

// sparks finds every pack beside a running job of grinding or welding: at the
// place of the station it is done at, or of any of that kind where nobody said
// which; in a robot that stands there; or in the robot that is itself ground.
func sparks(s State) map[string]bool {
	hit := map[string]bool{}
	for _, j := range s.Jobs {
		if j.State != JobRunning {
			continue
		}
		fix, unsaid, at := j.Fixes[j.Chosen], false, map[StationID]bool{}
		for _, st := range j.Stints {
			if st.To == 0 {
				unsaid, at[st.Station] = unsaid || st.Station == "", true
			}
		}
		for _, station := range s.Stations {
			if station.Retired || station.Kind != fix.Station || (!unsaid && !at[station.ID]) || (station.Kind != StationGrind && station.Kind != StationWeld) {
				continue
			}
			for _, p := range s.Packs {
				at := p.Place
				if p.Robot != "" {
					at = s.Powers[p.Robot].Place
				}
				if p.State != PackGone && !p.Retired && ((at != "" && at == station.Place) || (p.Robot == j.Robot && fix.Where != OffRobot)) {
					hit[string(j.ID)+string(p.ID)] = true
				}
			}
		}
	}
	return hit
}

// outOfUse tells whether a pack is shut to use and charge.
func outOfUse(p Pack) bool { return SetAside(p) || p.State == PackGone || p.Retired }

// lowForAFight is what no cell of a pack may be below that goes into a fight.
func lowForAFight(p Pack) float64 {
	return map[charge.Chemistry]float64{charge.LiPo: 3.2, charge.LiPoHV: 3.2, charge.LiIon: 3.2, charge.LiFe: 3, charge.NiMH: 1.1, charge.AGM: 2}[p.Chemistry]
}

// cellsReadAt is when the cells that stand in a pack's record were read, 0 for never.
func cellsReadAt(p Pack) Moment {
	switch {
	case len(p.Reading.CellVolts) == 0:
		return 0
	case p.Reading.CellsAt != 0:
		return p.Reading.CellsAt
	}
	return p.Reading.At
}

// lookAtPacks notes which packs are in a robot that has power or fought since the last
// look, and which were ever read too low.
func (w *Witness) lookAtPacks(s State, now Moment) {
	floor := map[charge.Chemistry]float64{charge.LiPo: 3, charge.LiPoHV: 3, charge.LiIon: 3, charge.LiFe: 2.5, charge.NiMH: 0.8, charge.AGM: 1.75}
	for id, p := range s.Packs {
		power := s.Powers[p.Robot]
		if p.Robot != "" && power.FoughtAt > w.last.Powers[p.Robot].FoughtAt && w.last.Packs[id].Robot == p.Robot {
			w.fought[id], w.spent[id] = now, now
		}
		if p.Robot != "" && (power.State == Test || power.State == Live) {
			w.spent[id] = now
		}
		for _, r := range s.PackLogs[id].Readings {
			w.low[id] = w.low[id] || len(r.CellVolts) > 0 && slices.Min(r.CellVolts) < floor[p.Chemistry]
		}
	}
}

func tagged(s State, robot RobotID) bool {
	for _, tag := range s.Tags {
		if tag.Robot == robot {
			return true
		}
	}
	return false
}

// anyoneOn tells whether anyone's hands are on a robot: a tag, hands near, or work
// that goes on there and not off it.
func anyoneOn(s State, robot RobotID) bool {
	for _, hands := range s.Hands {
		if hands.Robot == robot {
			return true
		}
	}
	for _, j := range s.Jobs {
		for _, st := range j.Stints {
			if j.Robot == robot && st.To == 0 && j.Fixes[st.Fix].Where != OffRobot {
				return true
			}
		}
	}
	return tagged(s, robot)
}

// daybreak tells that four in the morning passed with this command: the robot
// may then have been made unknown first.
func daybreak(x Step) bool {
	for _, p := range x.Before.Powers {
		if p.State != Unknown && !answeredToday(x.Before, p.Robot, x.Now) {
			return true
		}
	}
	return false
}

// ownOn tells whether someone's own tag or hands near is on a robot.
func ownOn(s State, robot RobotID, who PersonID) bool {
	for _, tag := range s.Tags {
		if tag.Robot == robot && tag.Person == who {
			return true
		}
	}
	for _, hands := range s.Hands {
		if hands.Robot == robot && hands.Person == who {
			return true
		}
	}
	return false
}
