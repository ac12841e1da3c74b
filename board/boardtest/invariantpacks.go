package boardtest

import (
	"slices"
	"strings"

	. "mendline/board"
)

// packsInvariants are about packs, charges and sparks.
var packsInvariants = []Invariant{
	{14, "whoever stays with a charge and has a robot tested out of its sight is noted", func(_ *Witness, x Step) bool {
		c, tests := x.Command.(RobotTest)
		for _, p := range x.After.Packs {
			seen := c.Place == p.Place || slices.Contains(x.After.Places[c.Place].InSight, p.Place)
			if tests && p.State == PackCharging && p.Attendant == x.By.Person && !seen && p.Away.At == 0 {
				return false
			}
		}
		return true
	}},
	{11, "a pack that comes out of a robot with power, or goes from there into another, is unread", func(w *Witness, x Step) bool {
		for id, was := range x.Before.Packs {
			is := x.After.Packs[id]
			if was.Robot != "" && is.Robot != was.Robot && w.spent[id] != 0 && cellsReadAt(was) < w.spent[id] && is.State != PackUnread && !is.Unread && !outOfUse(is) && !(is.State == PackCharging && is.Unsure) {
				return false
			}
		}
		return true
	}},
	{11, "ready and live on packs whose cells were read since their fight, their test and their last charge", func(w *Witness, x Step) bool {
		read := func(p Power) bool {
			for id, k := range x.After.Packs {
				if k.Robot == p.Robot && !k.Retired && (cellsReadAt(k) == 0 || cellsReadAt(k) < max(w.fought[id], w.spent[id])) {
					return false
				}
			}
			return true
		}
		return eachNew(x, Ready, read) && eachNew(x, Live, read)
	}},
	{11, "every pack in a robot at the signature is listed for it, no tool's, and none of its cells is low", func(_ *Witness, x Step) bool {
		fit := func(p Power) bool {
			main := false
			for _, k := range x.After.Packs {
				if k.Robot != p.Robot || k.Retired {
					continue
				}
				main = main || k.Use == UseMain
				if !slices.Contains(k.Fits, p.Robot) || k.Use == UseTool || len(k.Reading.CellVolts) == 0 || slices.Min(k.Reading.CellVolts) < lowForAFight(k) {
					return false
				}
			}
			return main
		}
		return eachNew(x, Ready, fit) && eachNew(x, Live, fit)
	}},
	{11, "nobody puts a pack into a robot that it is not listed for, or that is unread or low", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			was, before := x.Before.Packs[id]
			if !before || p.Robot == "" || p.Robot == was.Robot || p.Found {
				continue
			}
			if !slices.Contains(p.Fits, p.Robot) || p.Use == UseTool || p.Unread || len(p.Reading.CellVolts) == 0 || slices.Min(p.Reading.CellVolts) < lowForAFight(p) {
				return false
			}
		}
		return true
	}},
	{3, "a pack that turns up in a robot leaves it unknown, or being closed up", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			if p.Robot == "" || p.Robot == x.Before.Packs[id].Robot {
				continue
			}
			switch x.After.Powers[p.Robot].State {
			case Unknown:
			case ClosingUp:
				if outOfUse(p) {
					return false
				}
			default:
				return false
			}
		}
		return true
	}},
	{3, "power on packs that are listed for the robot, and that its closing-up has named", func(_ *Witness, x Step) bool {
		named := func(p Power) bool {
			for id, k := range x.After.Packs {
				if k.Robot != p.Robot || k.Retired {
					continue
				}
				said := false
				for _, sheet := range x.After.Sheets {
					for _, a := range sheet.Answers {
						said = said || sheet.Robot == p.Robot && sheet.List == ListCloseUp && a.Pack == id && a.Said == SaidDone && a.At >= k.Since
					}
				}
				if !slices.Contains(k.Fits, p.Robot) || !said && k.Use != UseTransmitter {
					return false
				}
			}
			return true
		}
		return eachNew(x, Test, named) && eachNew(x, Live, named)
	}},
	{14, "no charge begins on a channel with another pack on it, but what ran before a restore", func(_ *Witness, x Step) bool {
		if restores(x) { // either may be there
			return true
		}
		for id, p := range x.After.Packs {
			for other, o := range x.After.Packs {
				if id != other && p.State == PackCharging && x.Before.Packs[id].State != PackCharging && !o.Retired && o.Channel == p.Channel {
					return false
				}
			}
		}
		return true
	}},
	{14, "what was set aside on a charger is on it until someone says where it is", func(_ *Witness, x Step) bool {
		restored, _ := x.Command.(BoardRestore)
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			if slices.ContainsFunc(restored.SetAside, func(newer Pack) bool { return newer.ID == id }) {
				continue // where it lies was said on the board that is replaced
			}
			if was.State == PackCharging && SetAside(p) && (p.Channel != was.Channel || p.Place != was.Place) {
				return false
			}
		}
		return true
	}},
	{13, "that what was set aside is gone is said by the captain, event safety or a lead", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			if p.State != PackGone || !SetAside(x.Before.Packs[id]) || x.By.Role == RoleSystem || x.By.Role == RoleCaptain || x.By.Role == RoleSafety {
				continue
			}
			leads := false
			for _, r := range x.After.Robots {
				leads = leads || r.Lead == x.By.Person && x.By.Person != ""
			}
			if !leads {
				return false
			}
		}
		return true
	}},
	{13, "no pack gets the name of one that was set aside", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			was, had := x.Before.Packs[id]
			if x.By.Role == RoleSystem || had && was.Name == p.Name {
				continue
			}
			for other, o := range x.After.Packs {
				if other != id && reads(o.Name) == reads(p.Name) && (SetAside(o) || o.State == PackGone) {
					return false
				}
			}
		}
		return true
	}},
	{11, "no reading outlasts another chemistry, count of cells or limit", func(_ *Witness, x Step) bool {
		for id, was := range x.Before.Packs {
			is := x.After.Packs[id]
			if is.ID == "" || (is.Chemistry == was.Chemistry && is.Cells == was.Cells && is.ChargeAmpsMost == was.ChargeAmpsMost && is.CapacityAh == was.CapacityAh) {
				continue
			}
			if _, back := x.Command.(Undo); !back && !outOfUse(is) && is.State != PackUnread && is.State != PackCharging && !is.Unread {
				return false
			}
		}
		return true
	}},
	{13, "a pack with a cell once read below its floor is set aside, whatever its chemistry", func(w *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			if w.low[id] && !outOfUse(p) {
				return false
			}
		}
		return true
	}},
	{13, "what was set aside stays aside", func(_ *Witness, x Step) bool {
		rank := map[PackState]int{PackSuspect: 1, PackQuarantined: 2, PackGone: 3}
		for id, p := range x.Before.Packs {
			is := x.After.Packs[id]
			if p.State == PackGone && (SetAside(is) || p.Lost && is.State == PackUnread && x.By.Role == RoleCaptain) {
				continue
			}
			if rank[is.State] < rank[p.State] || is.Lost && !p.Lost && SetAside(p) {
				return false
			}
		}
		return true
	}},
	{0, "a pack is kept only for a robot that fights on it, and never when set aside", func(_ *Witness, x Step) bool {
		for _, p := range x.After.Packs {
			r := x.After.Robots[p.ChosenFor]
			if p.ChosenFor != "" && (r.ID == "" || r.Retired || r.Withdrawn || p.Retired || p.Robot != "" && !p.CameBack ||
				!slices.Contains(p.Fits, r.ID) || slices.Contains([]PackState{PackSuspect, PackQuarantined, PackGone}, p.State)) {
				return false
			}
		}
		return true
	}},
	{14, "a charge has someone who stays, a place on the list and a limit", func(_ *Witness, x Step) bool {
		charges := map[PersonID]int{}
		for _, p := range x.After.Packs {
			if p.State != PackCharging {
				continue
			}
			charges[p.Attendant]++
			who := x.After.People[p.Attendant]
			if who.ID != "" && foundCharging(x, p) {
				continue
			}
			if x.Before.Packs[p.ID].State != PackCharging && (who.ID == "" || who.Minor || who.Guest ||
				!slices.Contains(x.After.Event().ChargingPlaces, p.Place) || charges[p.Attendant] > x.After.Event().AttendantMost) {
				return false
			}
		}
		return true
	}},
	{14, "that someone stays with a charge is their own word, and no word outlasts a restart", func(_ *Witness, x Step) bool {
		_, started := x.Command.(BoardStart)
		_, restored := x.Command.(BoardRestore)
		restarted := started || restored
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			here := p.Attendant == x.By.Person || slices.Contains(x.By.Proved, p.Attendant)
			if p.State != PackCharging || p.AttendAt == 0 {
				continue
			}
			if restarted || (!here && (was.AttendAt == 0 || was.Attendant != p.Attendant || was.State != PackCharging || was.Unsure && !p.Unsure)) {
				return false
			}
		}
		return true
	}},
	{14, "nobody begins work out of sight of a charge that they stay with", func(_ *Witness, x Step) bool {
		c, ok := x.Command.(JobStart)
		j := x.After.Jobs[c.Job]
		if !ok || x.At != 0 {
			return true
		}
		for _, st := range j.Stints {
			at := x.After.Stations[st.Station].Place
			if at == "" {
				at = x.After.Powers[j.Robot].Place
			}
			for _, p := range x.After.Packs {
				if st.To == 0 && j.State == JobRunning && p.State == PackCharging && p.Attendant == st.By && p.Place != at && !slices.Contains(x.After.Places[at].InSight, p.Place) {
					return false
				}
			}
		}
		return true
	}},
	{14, "nobody puts a tag on out of sight of a charge that they stay with, nor stays with one so", func(_ *Witness, x Step) bool {
		switch x.Command.(type) {
		case TagOn, PackCharge, PackAttend:
		default:
			return true
		}
		for _, tag := range x.After.Tags {
			_, had := x.Before.Tags[tag.ID]
			at := x.After.Powers[tag.Robot].Place
			for id, p := range x.After.Packs {
				stood := had && x.Before.Packs[id].State == PackCharging && x.Before.Packs[id].Attendant == tag.Person
				if x.At == 0 && !stood && p.State == PackCharging && p.Attendant == tag.Person && p.Place != at && !slices.Contains(x.After.Places[at].InSight, p.Place) {
					return false
				}
			}
		}
		return true
	}},
	{14, "nobody comes to stay with charges at two places out of sight of each other", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			if p.State != PackCharging || p.Unsure || was.State == PackCharging && was.Attendant == p.Attendant {
				continue
			}
			for other, o := range x.After.Packs {
				seen := o.Place == p.Place || slices.Contains(x.After.Places[o.Place].InSight, p.Place) || slices.Contains(x.After.Places[p.Place].InSight, o.Place)
				if other != id && o.State == PackCharging && o.Attendant == p.Attendant && !seen {
					return false
				}
			}
		}
		return true
	}},
	{14, "the place of a charge stays on the list, and what it is", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			if p.State != PackCharging || was.State != PackCharging || was.Channel != p.Channel {
				continue
			}
			listed := func(s State) bool { return slices.Contains(s.Event().ChargingPlaces, p.Place) }
			if listed(x.Before) && !listed(x.After) || x.Before.Places[p.Place].Kind != x.After.Places[p.Place].Kind {
				return false
			}
		}
		return true
	}},
	{14, "nothing limits a running charge to less than it is charged at", func(_ *Witness, x Step) bool {
		within := func(s State, p Pack) bool {
			ch := s.Channels[p.Channel]
			return p.Amps <= p.ChargeAmpsMost && p.Amps <= ch.AmpsMost && p.Cells <= ch.CellsMost && (p.FasterBy != "" || p.Amps <= p.CapacityAh*1.0001)
		}
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			if p.State != PackCharging || was.State != PackCharging || was.Channel != p.Channel {
				continue
			}
			if within(x.Before, was) && !within(x.After, p) || was.Chemistry != p.Chemistry || was.Cells != p.Cells {
				return false
			}
		}
		return true
	}},
	{11, "ready on a pack in the transmitter that is its own, read and not low, where one is named", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Powers {
			named, said := senderNamed(x.After, id)
			if p.State != Ready || !said {
				continue
			}
			k, has := x.After.Packs[named]
			low := len(k.Reading.CellVolts) == 0 || slices.Min(k.Reading.CellVolts) < lowForAFight(k)
			if !has || k.Retired || low || outOfUse(k) || k.Use != UseTransmitter || k.State == PackUnread || k.State == PackCharging || !slices.Contains(k.Fits, id) {
				return false
			}
		}
		return true
	}},
	{14, "nothing that a charge hangs on leaves the board", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			was := x.Before.Packs[id]
			ch := x.After.Channels[p.Channel]
			if p.State == PackCharging && was.State == PackCharging && was.Channel == p.Channel &&
				(p.Retired || ch.Retired || x.After.Circuits[ch.Circuit].Retired || (x.After.People[p.Attendant].Retired && !x.Before.People[p.Attendant].Retired)) {
				return false
			}
		}
		return true
	}},
	{20, "no charge is begun at a place with an emergency, or where the robot of one stands", func(_ *Witness, x Step) bool {
		for id, p := range x.After.Packs {
			if p.State != PackCharging || x.Before.Packs[id].State == PackCharging || foundCharging(x, p) {
				continue
			}
			for _, emergency := range x.After.Emergencies {
				at := p.Place != "" && (p.Place == emergency.Place || p.Place == emergency.Stood || emergency.Place == "" && p.Place == x.After.Powers[emergency.Robot].Place)
				if emergency.EndedAt == 0 && at {
					return false
				}
			}
		}
		return true
	}},
	{15, "no pack comes where sparks fly but one found there, and no sparks where a pack lies", func(_ *Witness, x Step) bool {
		said, _ := x.Command.(PackMove)
		for id := range sparks(x.After) {
			if found := said.Found && strings.HasSuffix(id, string(said.Pack)); !found && !sparks(x.Before)[id] {
				return false
			}
		}
		return true
	}},
}

// foundCharging tells whether nobody began p's charge: a board that was put back finds that
// it may run, and asks about it.
func foundCharging(x Step, p Pack) bool {
	_, restored := x.Command.(BoardRestore)
	return restored && p.Unsure
}
