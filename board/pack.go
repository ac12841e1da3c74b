package board

import (
	"slices"

	"mendline/board/charge"
)

// PackState is what a battery is known to be.
type PackState string

// The states of a pack: our decision. From suspect only quarantined and gone follow.
const (
	PackUnread      PackState = "unread"
	PackCharged     PackState = "charged"
	PackInRobot     PackState = "in-robot"
	PackCooling     PackState = "cooling"
	PackWaiting     PackState = "waiting"
	PackCharging    PackState = "charging"
	PackStorage     PackState = "storage"
	PackSuspect     PackState = "suspect"
	PackQuarantined PackState = "quarantined"
	PackGone        PackState = "gone"
)

// setAside tells whether the state is one that use and charge are shut to.
func (s PackState) setAside() bool {
	return s == PackSuspect || s == PackQuarantined || s == PackGone
}

// PackUse says what a pack drives.
type PackUse string

// The uses of packs.
const (
	UseMain        PackUse = "main"
	UseWeapon      PackUse = "weapon"
	UseTransmitter PackUse = "transmitter"
	UseTool        PackUse = "tool"
)

// Pack is one battery.
type Pack struct {
	ID PackID `json:"id"`
	V  Rev    `json:"v"`
	PackFields
	State PackState `json:"state"`
	// Place is where it lies; Robot is what it is in. At most one is set; neither
	// means that nobody has said.
	Place PlaceID `json:"place,omitzero"`
	Robot RobotID `json:"robot,omitzero"`
	// PlacedAt is when it was seen there; Perhaps is where it lies by the crew's last word,
	// where it was set aside and only a guest or a minor has said that it is elsewhere.
	PlacedAt Moment  `json:"placedAt,omitzero"`
	Perhaps  PlaceID `json:"perhaps,omitzero"`
	// CameBack holds from the robot's return until the pack is placed or suspect.
	CameBack bool `json:"cameBack,omitzero"`
	// Unread holds in a robot while nobody has read its cells since it was used last:
	// it went in so, or was in a fight or a test. Powered holds from when it gave power there, or
	// may have, until its cells are read: it is unread when it comes out.
	// Found is set where nobody fitted it: it was found there.
	Found   bool    `json:"found,omitzero"`
	Unread  bool    `json:"unread,omitzero"`
	Powered bool    `json:"powered,omitzero"`
	Reading Reading `json:"reading,omitzero"`
	// Lost holds for one that is gone and was for use when someone said so.
	Lost bool `json:"lost,omitzero"`
	// Channel and Attendant hold while it charges, Channel also for one that was set aside
	// there, until someone says where it is; Amps until it is read after that.
	Channel   ChannelID `json:"channel,omitzero"`
	Attendant PersonID  `json:"attendant,omitzero"`
	// AttendAt is when the attendant said so, none where only another named them. Unsure
	// holds from a restart of the board, or a doubt, until someone says that it still
	// charges; UnsureAt is when that began.
	AttendAt Moment `json:"attendAt,omitzero"`
	// StayedAt is when someone last said so before a doubt.
	StayedAt Moment `json:"stayedAt,omitzero"`
	Unsure   bool   `json:"unsure,omitzero"`
	UnsureAt Moment `json:"unsureAt,omitzero"`
	// HeardLate is what came late about a charge of it, the last time.
	HeardLate LateWord `json:"heardLate,omitzero"`
	// Away is where the attendant was seen out of its sight, until someone says that they
	// stay with it.
	Away AwayAt  `json:"away,omitzero"`
	Amps float64 `json:"amps,omitzero"`
	// Stopped is the circuit that went off while it charged: what became of the
	// charge is unknown until somebody looks.
	Stopped CircuitID `json:"stopped,omitzero"`
	// UsedAt is when it last gave power in a robot, was put on a charger or came off, or
	// its record was changed; readings from before say nothing any more. Fought is the robot it came out of since it
	// was last charged.
	UsedAt Moment  `json:"usedAt,omitzero"`
	Fought RobotID `json:"fought,omitzero"`
	// ChosenFor is the robot whose next fight someone chose it for.
	ChosenFor RobotID `json:"chosenFor,omitzero"`
	// ReweighAt is when its record was changed so that it may weigh something else.
	ReweighAt Moment `json:"reweighAt,omitzero"`
	Since     Moment `json:"since,omitzero"`
	Retired   bool   `json:"retired,omitzero"`
}

// PackFields are what the captain says of a pack.
type PackFields struct {
	Name       string           `json:"name"`
	Chemistry  charge.Chemistry `json:"chemistry"`
	Cells      int              `json:"cells"`
	Parallel   int              `json:"parallel"`
	CapacityAh float64          `json:"capacityAh"`
	// ChargeAmpsMost is the label's limit.
	ChargeAmpsMost float64 `json:"chargeAmpsMost"`
	// FasterBy is who allowed to charge it faster than 1C; nobody where it is empty.
	FasterBy string  `json:"fasterBy,omitzero"`
	Use      PackUse `json:"use"`
	// MassGrams is its mass in g; 0 is not known.
	MassGrams float64 `json:"massGrams,omitzero"`
	// Fits lists the robots it is for.
	Fits []RobotID `json:"fits,omitempty"`
}

func (p Pack) Key() Key         { return KeyOf(KindPack, p.ID) }
func (p Pack) Rev() Rev         { return p.V }
func (p Pack) stamp(r Rev) Noun { p.V = r; return p }

func (p Pack) called() (name, among string, inUse bool) {
	return p.Name, "", !p.Retired
}

func (p Pack) valid(s State) *Refusal {
	bad := first(
		checkName("name", p.Name),
		oneOf("chemistry", p.Chemistry, charge.Chemistries()...),
		checkRange("cells", p.Cells, 1, 24, "cells"),
		checkRange("parallel", p.Parallel, 1, 50, "cells"),
		checkRange("capacityAh", p.CapacityAh, 0.01, 200, "Ah"),
		checkRange("chargeAmpsMost", p.ChargeAmpsMost, 0.01, 200, "A"),
		checkRange("massGrams", p.MassGrams, 0, 100000, "g"),
		checkShort("fasterBy", p.FasterBy),
		oneOf("use", p.Use, UseMain, UseWeapon, UseTransmitter, UseTool),
		each(p.Fits, func(id RobotID) *Refusal {
			if _, ok := s.Robots[id]; !ok {
				return missing("robot", "fits")
			}
			return nil
		}),
	)
	return bad
}

// PackAdd enters a pack; nobody has read it yet. The name of one that was set
// aside is never another's.
type PackAdd struct{ PackFields }

func (c PackAdd) do(t *turn) *Refusal {
	if bad := t.s().packName("", c.Name, false); bad != nil {
		return bad
	}
	t.put(Pack{ID: PackID(t.id(KindPack, c.Name)), PackFields: c.PackFields, State: PackUnread, Since: t.when})
	return nil
}

// PackChange replaces what is said of a pack.
type PackChange struct {
	Pack PackID `json:"pack"`
	PackFields
}

func (c PackChange) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok {
		return missing("pack", "pack")
	}
	if p.State.setAside() && c.Name != p.Name {
		return breaks(13, "Pack %s is %s: it keeps its name, so that no other is taken for it.", p.Name, p.State)
	}
	if packNamed(c.Name) != packNamed(p.Name) {
		if bad := t.s().packName(p.ID, c.Name, true); bad != nil {
			return bad
		}
	}
	was := p.PackFields
	p.PackFields = c.PackFields
	if was.Kind() != p.Kind() || was.MassGrams != 0 && was.MassGrams != p.MassGrams {
		p.ReweighAt = t.now
	}
	if was.electric() != p.electric() {
		if p.State == PackCharging && was.Kind() != p.Kind() {
			return refuse(CodeState, "Pack %s is on channel %s, set by what its record says. %s", p.Name, t.s().Channels[p.Channel].Name, p.offFirst("Say that it is off first, then change the record."))
		}
		p = p.void(t.when)
		if !p.State.setAside() && t.s().onceBelow(p) {
			p.State, p.Since = PackSuspect, t.when
		}
	}
	t.put(p)
	return nil
}

// electric is what a reading and a charge rest on.
type electric struct {
	PackKind
	chargeAmpsMost float64
}

func (f PackFields) electric() electric { return electric{f.Kind(), f.ChargeAmpsMost} }

// void is p with a reading that says nothing any more.
func (p Pack) void(when Moment) Pack {
	p.UsedAt = max(p.UsedAt, when)
	if p.Reading.At >= p.UsedAt {
		p.UsedAt = p.Reading.At + 1
	}
	switch {
	case p.State.setAside() || p.State == PackCharging:
	case p.Robot != "":
		p.Unread = true
	default:
		p.State, p.Since = PackUnread, when
	}
	return p
}

// onceBelow tells whether a cell of p was ever read below the floor of its chemistry.
func (s State) onceBelow(p Pack) bool {
	floor := charge.LimitsOf(p.Chemistry).RestLeastVolts
	below := func(r Reading) bool { return len(r.CellVolts) > 0 && slices.Min(r.CellVolts) < floor }
	return below(p.Reading) || slices.ContainsFunc(s.PackLogs[p.ID].Readings, below)
}

// PackRetire takes a pack off the board: sold, or at home.
type PackRetire struct {
	Pack PackID `json:"pack"`
}

func (c PackRetire) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok {
		return missing("pack", "pack")
	}
	if p.State == PackSuspect || p.State == PackQuarantined {
		return breaks(13, "Pack %s is %s: it stays on the board until it is gone. %s Set it gone once it is.", p.Name, p.State, p.keepOff())
	}
	if p.Robot != "" {
		return refuse(CodeState, "Pack %s is in %s. Take it out first.", p.Name, t.s().Robots[p.Robot].Name)
	}
	p.Retired = true
	t.put(p)
	return nil
}

// setAsideIn refuses a robot with a pack in it that is not for use.
func (s State) setAsideIn(r Robot, rule int) *Refusal {
	for _, p := range s.packsIn(r.ID) {
		if p.State.setAside() {
			return hasAside(rule, p, r)
		}
	}
	return nil
}

// fitted lists the packs in a robot by id.
func (s State) fitted(robot RobotID) []PackID {
	var ids []PackID
	for _, p := range s.packsIn(robot) {
		ids = append(ids, p.ID)
	}
	return ids
}
