package debrief

import "mendline/board"

// Hit is one hit of one of our fights. Number 0 is a fight in which nobody said
// which hit; without Fight the hit is not known.
type Hit struct {
	Fight  board.FightID `json:"fight,omitzero"`
	Number int           `json:"hit,omitzero"`
}

// Spend sorts time in the terms of IEC 60050-192.
type Spend string

// What time is spent on: making safe is technical delay; waiting is logistic
// delay; finding, fixing and checking are active repair. Waiting for anything else
// (the clock, a robot that left work) lies outside maintenance time.
const (
	MakingSafe  Spend = "making-safe"
	WaitPart    Spend = "wait-part"
	WaitPerson  Spend = "wait-person"
	WaitStation Spend = "wait-station"
	WaitOther   Spend = "wait-other"
	Finding     Spend = "finding"
	Fixing      Spend = "fixing"
	Checking    Spend = "checking"
)

// Spends lists them in the order in which a turnaround passes them.
var Spends = []Spend{MakingSafe, Finding, WaitPart, WaitPerson, WaitStation, WaitOther, Fixing, Checking}

// waits tells whether nobody works in it.
func (s Spend) waits() bool {
	return s == WaitPart || s == WaitPerson || s == WaitStation || s == WaitOther
}

// Cost is what something cost, in cents, and the team's own time in making it.
type Cost struct {
	MaterialList  int `json:"materialListCents"`
	MaterialPaid  int `json:"materialPaidCents"`
	MachiningList int `json:"machiningListCents"`
	MachiningPaid int `json:"machiningPaidCents"`
	OwnSec        int `json:"ownSec"`
}

// List is all of it by the list, Paid what was paid; the team's own time apart.
func (c Cost) List() int { return c.MaterialList + c.MachiningList }

// Paid is what was paid, in cents.
func (c Cost) Paid() int { return c.MaterialPaid + c.MachiningPaid }

// Plus adds two costs.
func (c Cost) Plus(o Cost) Cost {
	return Cost{
		c.MaterialList + o.MaterialList, c.MaterialPaid + o.MaterialPaid,
		c.MachiningList + o.MachiningList, c.MachiningPaid + o.MachiningPaid, c.OwnSec + o.OwnSec,
	}
}

func (c Cost) times(n int) Cost {
	return Cost{n * c.MaterialList, n * c.MaterialPaid, n * c.MachiningList, n * c.MachiningPaid, n * c.OwnSec}
}

// Entry is one thing that happened once: time spent, or something used up.
type Entry struct {
	// Source names it and is in no other entry: "job/…/stint/0".
	Source string
	Robot  board.RobotID
	Hit    Hit
	Job    board.JobID
	// Part is what was hit or worked on, Assembly what it belongs to, Joint the
	// joint the damage is on; "" where nobody said.
	Part, Assembly, Joint string
	// Spend and Sec are time on the clock, Hands how many pairs of hands it took.
	Spend Spend
	Sec   int
	Hands int
	// Used and Pieces are what was used up, for Cost; Stock the spare it was taken
	// from; LeadDays how long the next takes to come.
	Used     string
	Pieces   int
	Stock    board.StockID
	Cost     Cost
	LeadDays int
}
