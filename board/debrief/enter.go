package debrief

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"mendline/board"
)

// pauseMostSec is the longest gap between two answers on a sheet that still counts
// as the sheet's own time; a longer one is a pause. Decided by us.
const pauseMostSec = 15 * 60

// Entries lists all that happened, in a fixed order. Work and waits that have not
// ended count until r.To.
func (r Record) Entries() []Entry {
	var all []Entry
	for _, j := range r.jobs() {
		all = append(all, r.stints(j)...)
	}
	all = append(all, r.waited()...)
	all = append(all, r.used()...)
	all = append(all, r.lost()...)
	return append(all, r.sheets()...)
}

// hitOf is the one hit that a job's work is put down to: that of its first damage
// with a fight, in the order in which they were found.
func (r Record) hitOf(j board.Job) Hit {
	for _, d := range r.damagesOf(j) {
		if d.Fight != "" {
			return Hit{d.Fight, d.Hit}
		}
	}
	return Hit{}
}

func (r Record) damagesOf(j board.Job) []board.Damage {
	var list []board.Damage
	for _, id := range j.Damages {
		if d, ok := r.State.Damages[id]; ok {
			list = append(list, d)
		}
	}
	slices.SortFunc(list, func(a, b board.Damage) int { return cmp.Compare(a.Number, b.Number) })
	return list
}

// place fills in where on the robot an entry is: the first damage's part, or what
// the job is called.
func (r Record) place(e Entry, j board.Job) Entry {
	e.Robot, e.Job, e.Hit, e.Part = j.Robot, j.ID, r.hitOf(j), j.Name
	if list := r.damagesOf(j); len(list) > 0 {
		e = r.on(e, list[0])
	}
	return e
}

// on fills in the part, assembly and joint of a damage.
func (r Record) on(e Entry, d board.Damage) Entry {
	e.Part = d.Part
	if part, ok := r.State.Parts[d.OnPart]; ok {
		e.Part, e.Assembly = part.Name, part.Assembly
	}
	if joint, ok := r.State.Joints[d.OnJoint]; ok {
		e.Joint = joint.Name
	}
	return e
}

func (r Record) stints(j board.Job) []Entry {
	var list []Entry
	sec := j.ClockSec(r.To)
	for i, st := range j.Stints {
		fix := j.Fix()
		if st.Fix < len(j.Fixes) {
			fix = j.Fixes[st.Fix]
		}
		spend := Fixing
		if fix.Way == board.WayCheck {
			spend = Checking
		}
		e := Entry{Source: fmt.Sprintf("job/%s/stint/%d", j.ID, i), Spend: spend, Sec: sec[i], Hands: len(fix.Hands)}
		list = append(list, r.place(e, j))
	}
	return list
}

// seconds is how long a span is; one that lasts is counted until r.To.
func (r Record) seconds(s board.Span) int {
	to := s.To
	if to == 0 {
		to = max(r.To, s.From)
	}
	return int((to - s.From) / 1000)
}

var waitFor = map[board.HoldWhy]Spend{board.HoldPart: WaitPart, board.HoldPerson: WaitPerson, board.HoldStation: WaitStation}

func (r Record) waited() []Entry {
	var list []Entry
	for i, w := range r.waits {
		j, ok := r.State.Jobs[w.job]
		if !ok {
			continue
		}
		e := Entry{
			Source: fmt.Sprintf("job/%s/wait/%d", j.ID, i), Sec: r.seconds(board.Span{From: w.from, To: w.to}),
			Spend: cmp.Or(waitFor[w.why], WaitOther),
		}
		list = append(list, r.place(e, j))
	}
	return list
}

// used lists the spares used. A spare that stands for a part of the map, where the
// job is on that part, is priced as the part.
func (r Record) used() []Entry {
	var list []Entry
	for i, u := range r.uses {
		e := Entry{Source: fmt.Sprintf("use/%d", i), Used: u.stock.Name, Pieces: u.count, Stock: u.stock.ID, LeadDays: u.stock.LeadDays, Part: u.stock.Name}
		e.Cost = Cost{MaterialList: u.stock.ListCents, MaterialPaid: u.stock.PaidCents}.times(u.count)
		j, ok := r.State.Jobs[u.job]
		if ok {
			e = r.place(e, j)
		}
		for _, d := range r.damagesOf(j) {
			if part := r.State.Parts[d.OnPart]; part.Stock == u.stock.ID && part.ListCents() > 0 {
				e = r.on(e, d)
				e.Cost, e.LeadDays = costOf(part).times(u.count), max(part.LeadDays, u.stock.LeadDays)
				break
			}
		}
		list = append(list, e)
	}
	return list
}

func costOf(part board.Part) Cost {
	return Cost{part.MaterialListCents, part.MaterialPaidCents, part.MachiningListCents, part.MachiningPaidCents, part.OwnSec}
}

// lost lists the parts that are gone and that no spare used has paid for already:
// broken so that it asks for a repair or more, or destroyed in taking it out, and
// not mended. What is mended costs time; what is replaced from the box is under
// used.
func (r Record) lost() []Entry {
	paid := r.paidFor()
	var list []Entry
	counted := map[board.PartID]Hit{}
	for _, d := range r.damages() {
		part, ok := r.State.Parts[d.OnPart]
		if !ok || paid[d.ID] || !r.gone(d) {
			continue
		}
		hit := Hit{d.Fight, d.Hit}
		if was, again := counted[part.ID]; again && was == hit {
			continue // reported twice: one part is lost once a hit
		}
		counted[part.ID] = hit
		e := Entry{
			Source: "damage/" + string(d.ID), Robot: d.Robot, Hit: hit, Used: part.Name, Pieces: 1, Stock: part.Stock, Cost: costOf(part), LeadDays: part.LeadDays,
		}
		list = append(list, r.on(e, d))
	}
	return list
}

// gone tells whether a damage leaves a part that has to be made or bought new.
func (r Record) gone(d board.Damage) bool {
	if d.Destroyed {
		return true
	}
	if d.Grade != board.G3 && d.Grade != board.G4 && d.Grade != board.GX {
		return false
	}
	for _, j := range r.State.Jobs {
		if slices.Contains(j.Damages, d.ID) && handsDone(j.State) && (j.Fix().Way == board.WayMend || j.Fix().Way == board.WayCheck) {
			return false
		}
	}
	return true
}

// paidFor are the damages whose part was replaced by a spare from the box: of a
// job's damages the one whose part takes that spare, else the first.
func (r Record) paidFor() map[board.DamageID]bool {
	paid := map[board.DamageID]bool{}
	for _, u := range r.uses {
		list := r.damagesOf(r.State.Jobs[u.job])
		for left := u.count; left > 0; left-- {
			i := slices.IndexFunc(list, func(d board.Damage) bool {
				return !paid[d.ID] && d.OnPart != "" && r.State.Parts[d.OnPart].Stock == u.stock.ID
			})
			if i < 0 && left == u.count {
				i = slices.IndexFunc(list, func(d board.Damage) bool { return !paid[d.ID] })
			}
			if i < 0 {
				break
			}
			paid[list[i].ID] = true
		}
	}
	return paid
}

var sheetSpend = map[board.SheetList]Spend{
	board.ListMakeSafe: MakingSafe, board.ListFirstIn: Finding, board.ListInspect: Finding,
	board.ListCloseUp: Checking, board.ListReopen: Checking, board.ListReady: Checking,
}

// sheets lists the walks of the safety sheets, under the fight the robot came from.
func (r Record) sheets() []Entry {
	var list []Entry
	sheets := slices.SortedFunc(maps.Values(r.State.Sheets), func(a, b board.Sheet) int {
		return cmp.Or(cmp.Compare(a.Robot, b.Robot), cmp.Compare(a.Number, b.Number))
	})
	for _, sheet := range sheets {
		spend, ok := sheetSpend[sheet.List]
		if sec := walked(sheet); ok && sec > 0 {
			list = append(list, Entry{
				Source: "sheet/" + string(sheet.ID), Robot: sheet.Robot, Hit: Hit{Fight: r.fightBefore(sheet.Robot, sheet.OpenedAt)},
				Spend: spend, Sec: sec, Hands: 1, Part: sheetName[spend],
			})
		}
	}
	return list
}

var sheetName = map[Spend]string{MakingSafe: "make-safe sheet", Finding: "inspection", Checking: "close-up and checks"}

// walked is the time from a sheet's first answer to its last, less pauses.
func walked(sheet board.Sheet) int {
	var at []board.Moment
	for _, a := range sheet.Answers {
		if !a.Standing {
			at = append(at, a.At)
		}
	}
	slices.Sort(at)
	sec := 0
	for i := 1; i < len(at); i++ {
		if gap := int((at[i] - at[i-1]) / 1000); gap <= pauseMostSec {
			sec += gap
		}
	}
	return sec
}

// fightBefore is the robot's last fight that had ended by a moment.
func (r Record) fightBefore(robot board.RobotID, at board.Moment) board.FightID {
	var last board.Fight
	for _, f := range r.State.Fights {
		if f.Robot == robot && f.State == board.FightDone && f.EndAt <= at && f.EndAt > last.EndAt {
			last = f
		}
	}
	return last.ID
}
