package debrief

import (
	"cmp"
	"fmt"
	"slices"

	"mendline/board"
)

// Alternative is what the bill is measured by: a whole construction by its list
// price.
type Alternative struct {
	Name  string `json:"name"`
	Cents int    `json:"cents"`
}

// Bill is what a hit, a fight, a robot's event or a whole event cost.
type Bill struct {
	Robot board.RobotID `json:"robot,omitzero"`
	Hit
	Name string       `json:"name"`
	At   board.Moment `json:"at,omitzero"`
	Cost
	ListCents int `json:"listCents"`
	PaidCents int `json:"paidCents"`
	// ListShare and PaidShare are both over the alternative's list price.
	ListShare *float64 `json:"listShare,omitzero"`
	PaidShare *float64 `json:"paidShare,omitzero"`
	LeadDays  int      `json:"leadDays"`
	// Sec is time on the clock by what it was spent on, HandSec time times hands,
	// waiting apart.
	Sec     map[Spend]int `json:"sec,omitempty"`
	WorkSec int           `json:"workSec"`
	WaitSec int           `json:"waitSec"`
	HandSec int           `json:"handSec"`
	Used    []Used        `json:"used,omitempty"`
	// LeftOff is the work that was left off and still is, with why.
	LeftOff []string `json:"leftOff,omitempty"`
	Damages int      `json:"damages"`
	// FoundLater is how many of the damages were found after the robot had fought
	// again, or half a day later.
	FoundLater int `json:"foundLater"`
	// Quiet tells that there is nothing on it worth a row in print: no money, no
	// damage, nothing left off, and no more than quietSec of work and waiting.
	Quiet bool `json:"quiet,omitzero"`
}

const quietSec = 2 * 60

// Used is pieces of one kind that a bill has.
type Used struct {
	Name      string `json:"name"`
	Pieces    int    `json:"pieces"`
	ListCents int    `json:"listCents"`
	PaidCents int    `json:"paidCents"`
}

// laterAfter is how long after a fight a damage counts as found later.
const laterAfter = 12 * 3600 * 1000

// FoundLater tells whether a damage was found after its robot had fought again, or
// more than half a day after its fight.
func (r Record) FoundLater(d board.Damage) bool {
	f, ok := r.State.Fights[d.Fight]
	if !ok || f.EndAt == 0 {
		return false
	}
	if d.At-f.EndAt > laterAfter {
		return true
	}
	for _, o := range r.State.Fights {
		if o.Robot == f.Robot && o.ID != f.ID && o.OnAt > f.EndAt && o.OnAt < d.At {
			return true
		}
	}
	return false
}

// add puts an entry on the bill.
func (b *Bill) add(e Entry) {
	if e.Spend != "" {
		if b.Sec == nil {
			b.Sec = map[Spend]int{}
		}
		b.Sec[e.Spend] += e.Sec
		if e.Spend.waits() {
			b.WaitSec += e.Sec
		} else {
			b.WorkSec += e.Sec
			b.HandSec += e.Sec * e.Hands
		}
	}
	if e.Used == "" {
		return
	}
	b.Cost = b.Cost.Plus(e.Cost)
	b.LeadDays = max(b.LeadDays, e.LeadDays)
	i := slices.IndexFunc(b.Used, func(u Used) bool { return u.Name == e.Used })
	if i < 0 {
		i = len(b.Used)
		b.Used = append(b.Used, Used{Name: e.Used})
	}
	b.Used[i].Pieces += e.Pieces
	b.Used[i].ListCents += e.Cost.List()
	b.Used[i].PaidCents += e.Cost.Paid()
}

func (b *Bill) found(r Record, d board.Damage) {
	b.Damages++
	if r.FoundLater(d) {
		b.FoundLater++
	}
}

// close works out the sums and shares of a bill to which all is added.
func (b *Bill) close(alt Alternative) {
	b.ListCents, b.PaidCents = b.List(), b.Paid()
	if alt.Cents > 0 {
		list, paid := float64(b.ListCents)/float64(alt.Cents), float64(b.PaidCents)/float64(alt.Cents)
		b.ListShare, b.PaidShare = &list, &paid
	}
	b.Quiet = b.ListCents+b.PaidCents+b.Damages+len(b.LeftOff) == 0 && b.WorkSec+b.WaitSec < quietSec
	slices.SortFunc(b.Used, func(x, y Used) int {
		return cmp.Or(cmp.Compare(y.ListCents, x.ListCents), cmp.Compare(x.Name, y.Name))
	})
}

// billing adds entries, damages and left-off work up by a key.
type billing[K comparable] struct {
	keys  []K
	bills map[K]*Bill
}

func (g *billing[K]) of(k K) *Bill {
	if g.bills == nil {
		g.bills = map[K]*Bill{}
	}
	if g.bills[k] == nil {
		g.keys = append(g.keys, k)
		g.bills[k] = &Bill{}
	}
	return g.bills[k]
}

// place is a hit of a robot's.
type place struct {
	robot board.RobotID
	hit   Hit
}

// bills sums the record up by key; a place that want refuses is left out.
func bills[K comparable](r Record, entries []Entry, key func(place) K, want func(place) bool) billing[K] {
	var g billing[K]
	for _, e := range entries {
		if p := (place{e.Robot, e.Hit}); want(p) {
			g.of(key(p)).add(e)
		}
	}
	for _, d := range r.damages() {
		if p := (place{d.Robot, Hit{d.Fight, d.Hit}}); want(p) {
			g.of(key(p)).found(r, d)
		}
	}
	for _, j := range r.jobs() {
		if p := (place{j.Robot, r.hitOf(j)}); want(p) && (j.State == board.JobDeferred || j.State == board.JobDropped) {
			b := g.of(key(p))
			b.LeftOff = append(b.LeftOff, leftOff(j))
		}
	}
	return g
}

func leftOff(j board.Job) string {
	if j.Reason == "" {
		return fmt.Sprintf("%d %s (%s)", j.Number, j.Name, j.State)
	}
	return fmt.Sprintf("%d %s (%s: %s)", j.Number, j.Name, j.State, j.Reason)
}

func everywhere(place) bool { return true }

// HitBills are the bills of each hit, robot by robot in the order of the fights;
// hit 0 of a fight is what belongs to no one hit of it, and a bill without a fight
// is what no hit is known for.
func (r Record) HitBills(entries []Entry, alt func(board.RobotID) Alternative) []Bill {
	g := bills(r, entries, func(p place) place { return p }, everywhere)
	slices.SortFunc(g.keys, func(a, b place) int {
		return cmp.Or(cmp.Compare(r.State.Robots[a.robot].Number, r.State.Robots[b.robot].Number),
			cmp.Compare(r.started(a.hit.Fight), r.started(b.hit.Fight)), cmp.Compare(a.hit.Fight, b.hit.Fight),
			cmp.Compare(a.hit.Number, b.hit.Number), cmp.Compare(a.robot, b.robot))
	})
	var all []Bill
	for _, k := range g.keys {
		b := g.of(k)
		b.Robot, b.Hit, b.Name, b.At = k.robot, k.hit, r.hitName(k), r.started(k.hit.Fight)
		b.close(alt(k.robot))
		all = append(all, *b)
	}
	return all
}

// FightBills are the bills of each fight; one without a fight is all the rest.
func (r Record) FightBills(entries []Entry, alt func(board.RobotID) Alternative) []Bill {
	g := bills(r, entries, func(p place) place { return place{p.robot, Hit{Fight: p.hit.Fight}} }, everywhere)
	for _, f := range r.fought("") {
		g.of(place{f.Robot, Hit{Fight: f.ID}})
	}
	slices.SortFunc(g.keys, func(a, b place) int {
		return cmp.Or(cmp.Compare(r.State.Robots[a.robot].Number, r.State.Robots[b.robot].Number),
			cmp.Compare(r.started(a.hit.Fight), r.started(b.hit.Fight)), cmp.Compare(a.hit.Fight, b.hit.Fight), cmp.Compare(a.robot, b.robot))
	})
	var all []Bill
	for _, k := range g.keys {
		b := g.of(k)
		b.Robot, b.Hit, b.Name, b.At = k.robot, k.hit, r.fightName(k.robot, k.hit.Fight), r.started(k.hit.Fight)
		b.close(alt(k.robot))
		all = append(all, *b)
	}
	return all
}

// bill is the one bill of what want takes.
func (r Record) bill(entries []Entry, name string, alt Alternative, want func(place) bool) Bill {
	g := bills(r, entries, func(place) bool { return true }, want)
	b := g.of(true)
	b.Name = name
	b.close(alt)
	return *b
}

func (r Record) started(id board.FightID) board.Moment { return r.State.Fights[id].OnAt }

func (r Record) robotName(id board.RobotID) string {
	if id == "" {
		return "No robot"
	}
	return r.State.Robots[id].Name
}

func (r Record) fightName(robot board.RobotID, id board.FightID) string {
	f, ok := r.State.Fights[id]
	if !ok {
		return r.robotName(robot) + ", no hit known"
	}
	return r.robotName(robot) + ", " + f.Arena + " " + fmt.Sprint(f.Number) + " against " + cmp.Or(f.Opponent, "an unknown opponent")
}

func (r Record) hitName(p place) string {
	name := r.fightName(p.robot, p.hit.Fight)
	switch {
	case p.hit.Fight == "":
		return name
	case p.hit.Number == 0:
		return name + ", no one hit"
	}
	return fmt.Sprintf("%s, hit %d", name, p.hit.Number)
}
