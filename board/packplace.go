package board

// PackMove says where a pack now is: at a place, or in a robot.
type PackMove struct {
	Pack  PackID  `json:"pack"`
	Place PlaceID `json:"place,omitzero"`
	Robot RobotID `json:"robot,omitzero"`
	// Found says that it is in the robot already, whoever put it there and whatever it is.
	Found bool `json:"found,omitzero"`
}

func (c PackMove) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok {
		return missing("pack", "pack")
	}
	if (c.Place == "") == (c.Robot == "") {
		return badField("place", "Say where the pack is: one place, or one robot.")
	}
	if _, ok := t.s().Places[c.Place]; c.Place != "" && !ok {
		return missing("place", "place")
	}
	if _, ok := t.s().Robots[c.Robot]; c.Robot != "" && !ok {
		return missing("robot", "robot")
	}
	if p.State == PackCharging {
		is, off := t.offCharge(p, "elsewhere")
		if !off {
			t.put(is)
			if power, ok := t.s().Powers[c.Robot]; ok && t.when >= p.Since {
				t.becomeUnknown(power, "pack "+p.Name+" may be in it", len(t.s().HandsOn(c.Robot)) > 0)
			}
			return nil
		}
		p = is
	}
	if t.when >= p.PlacedAt && p.State == PackGone && !p.Lost && (c.Robot == "" || c.Found) {
		p.State, p.Since = PackSuspect, t.when
	}
	if t.seenSince(p) {
		t.wasIn(c.Robot, p)
		return nil
	}
	if c.Robot != "" {
		p.Found = c.Found || t.late()
		return t.packIn(p, c.Robot)
	}
	if p.Place == c.Place && t.keepsChannel(p, c.Place) {
		return refuse(CodeNothingToDo, "Pack %s is %s and at %s by the board already, on charger %s. That frees nothing: say where it is once it lies elsewhere.",
			p.Name, p.State, t.s().Places[p.Place].Name, t.s().Channels[p.Channel].Name)
	}
	t.packOut(p, c.Place)
	return nil
}

// packOut places p. What came off a charger, or out of a robot where it gave power or
// may have, is unread until someone reads it.
func (t *turn) packOut(p Pack, to PlaceID) {
	if t.seenSince(p) {
		return
	}
	p = t.placed(p)
	if p.Robot != "" || p.State == PackCharging || p.State == PackInRobot {
		if p = t.left(p); !p.State.setAside() {
			p.State = p.atRest()
		}
		p.Since = t.when
	}
	if !t.keepsChannel(p, to) {
		p.Channel = ""
	}
	p.Robot, p.Place = "", to
	p.CameBack, p.Unread, p.Powered, p.Found = false, false, false, false
	t.put(p)
}

// seenSince tells whether p was seen somewhere after this word of it. Such a word is kept
// as record alone.
func (t *turn) seenSince(p Pack) bool {
	from := p.PlacedAt
	if p.State.setAside() && p.Channel != "" {
		from = max(from, p.Since)
	}
	if t.when < from {
		t.put(t.heard(p, "where it was, and it was seen since"))
	}
	return t.when < from
}

// wasIn heeds an older word that p was in a robot: from then until p was seen elsewhere,
// the robot's packs were not out.
func (t *turn) wasIn(robot RobotID, p Pack) {
	power, ok := t.s().Powers[robot]
	if !ok {
		return
	}
	var out []Span
	for _, o := range power.PackOut {
		to := o.To
		if to == 0 {
			to = t.now
		}
		if o.From >= p.PlacedAt || to <= t.when {
			out = append(out, o)
			continue
		}
		if o.From < t.when {
			out = append(out, Span{From: o.From, To: t.when})
		}
		if o.To == 0 || o.To > p.PlacedAt {
			out = append(out, Span{From: p.PlacedAt, To: o.To})
		}
	}
	power.PackOut = out
	t.put(power)
}

// placed is p as someone sees it elsewhere now.
func (t *turn) placed(p Pack) Pack {
	p.PlacedAt = t.when
	switch {
	case t.answers() || !p.State.setAside():
		p.Perhaps = ""
	case p.Perhaps == "":
		p.Perhaps = p.Place
	}
	return p
}

// left is p as it comes out of a robot or off a charger.
func (t *turn) left(p Pack) Pack {
	switch {
	case p.State == PackCharging:
		return p.void(t.when)
	case p.Robot != "" && (p.Unread || p.Powered || t.s().mayPower(p.Robot)):
		p = p.void(t.when)
		p.Fought = p.Robot
	}
	return p
}

// mayPower tells whether a robot's packs give power, as far as anyone knows: a robot
// that is unknown counts as live.
func (s State) mayPower(robot RobotID) bool {
	state := s.Powers[robot].State
	return state == Unknown || state.Energised()
}

// atRest is the state of a pack that lies somewhere, by its last reading.
func (p Pack) atRest() PackState {
	switch r := p.Reading; {
	case !p.read():
		return PackUnread
	case r.Charged:
		return PackCharged
	case r.TempC != nil && *r.TempC > packReadyC:
		return PackCooling
	}
	return PackWaiting
}

func (t *turn) packIn(p Pack, robot RobotID) *Refusal {
	r, ok := t.s().Robots[robot]
	if !ok {
		return missing("robot", "robot")
	}
	if p.State.setAside() && !p.Found {
		return breaks(13, "Pack %s is %s and not for use any more: choose another. %s", p.Name, p.State, p.keepOff())
	}
	if r.Retired || p.Retired {
		return refuse(CodeState, "Pack %s or %s is off the board. Enter it again first.", p.Name, r.Name)
	}
	if t.seenSince(p) {
		return nil
	}
	p = t.placed(p)
	before := p.Robot
	if before != robot {
		p = t.left(p)
		p.Unread, p.Powered = !p.read(), t.s().mayPower(robot)
	}
	bad := p.fits(r)
	if before == robot {
		bad = p.mayGoIn(r)
	}
	if bad != nil && !p.Found {
		return bad
	}
	switch {
	case p.State.setAside():
	case before != robot || p.State != PackInRobot:
		p.State, p.Since = PackInRobot, t.when
	}
	if !t.keepsChannel(p, "") {
		p.Channel = ""
	}
	p.Robot, p.Place, p.ChosenFor = robot, "", ""
	t.put(p)
	return nil
}

// read tells whether someone has read the cells of p since it was used last.
func (p Pack) read() bool {
	return len(p.Reading.CellVolts) == p.Cells && p.Reading.At >= p.UsedAt
}
