package board

import "slices"

// FollowCharge is what the plan that people follow says of one pack: the robot it is
// for, and which channel charges it when. It charges nothing by itself, and bars no
// other charge.
type FollowCharge struct {
	Pack PackID `json:"pack"`
	ToldCharge
	EndAt Moment `json:"endAt"`
	// Was is what people were told before, where that was something else.
	Was *ToldCharge `json:"was,omitzero"`
}

// ToldCharge is what people were told of a pack.
type ToldCharge struct {
	Robot   RobotID   `json:"robot"`
	Channel ChannelID `json:"channel"`
	// Amps is the current, within the limits of pack and channel.
	Amps    float64 `json:"amps"`
	StartAt Moment  `json:"startAt"`
}

// Same tells whether a and b put a pack on the same channel at the same current for
// the same robot.
func (told ToldCharge) Same(b ToldCharge) bool {
	return told.Robot == b.Robot && told.Channel == b.Channel && told.Amps == b.Amps
}

// Charge is what the plan says of a pack.
func (follow Follow) Charge(pack PackID) (FollowCharge, bool) {
	i := slices.IndexFunc(follow.Charges, func(k FollowCharge) bool { return k.Pack == pack })
	if i < 0 {
		return FollowCharge{}, false
	}
	return follow.Charges[i], true
}

// PlanCharge is one charge of a new plan.
type PlanCharge struct {
	Pack PackID `json:"pack"`
	ToldCharge
	EndAt Moment `json:"endAt"`
}

// chargesMost is how many charges one plan may name.
const chargesMost = 100

// follow makes the charges of a new plan those that people follow.
func (c PlanReplace) follow(s State, was Follow) ([]FollowCharge, *Refusal) {
	if len(c.Charges) > chargesMost {
		return nil, badField("charges", "A plan names at most %d charges.", chargesMost)
	}
	var list []FollowCharge
	seen := map[PackID]bool{}
	for _, k := range c.Charges {
		if bad := k.planned(s); bad != nil {
			return nil, bad
		}
		if seen[k.Pack] {
			return nil, badField("charges", "Pack %s is in the plan twice. Name it once.", s.Packs[k.Pack].Name)
		}
		seen[k.Pack] = true
		next := FollowCharge{Pack: k.Pack, ToldCharge: k.ToldCharge, EndAt: k.EndAt}
		if old, ok := was.Charge(k.Pack); ok && !old.Same(k.ToldCharge) {
			next.Was = &old.ToldCharge
		}
		list = append(list, next)
	}
	return list, nil
}

// planned refuses a charge that nobody could begin, whatever the plan.
func (k PlanCharge) planned(s State) *Refusal {
	p, ok := s.Packs[k.Pack]
	if !ok || p.Retired {
		return missing("pack", "charges")
	}
	ch, ok := s.Channels[k.Channel]
	if !ok || ch.Retired {
		return missing("channel", "charges")
	}
	if r, ok := s.Robots[k.Robot]; !ok || r.Retired {
		return missing("robot", "charges")
	}
	switch {
	case p.State.setAside():
		return breaks(13, "Pack %s is %s: it is not charged, topped up or revived.", p.Name, p.State)
	case k.StartAt == 0 || k.EndAt < k.StartAt:
		return badField("charges", "The charge of pack %s needs a start and an end after it.", p.Name)
	case p.State == PackCharging && p.Channel == k.Channel && p.Amps == k.Amps:
		return nil // it runs, whatever has been said of pack and channel since
	}
	return p.takes(ch, k.Amps)
}
