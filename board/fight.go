package board

// FightState is where one of our fights stands.
type FightState string

// The states of a fight.
const (
	FightPlanned FightState = "planned"
	FightOn      FightState = "on"
	FightDone    FightState = "done"
	FightDropped FightState = "dropped"
)

// Result is how a fight of ours ended.
type Result string

// The results. A forfeit from the bench was not fought.
const (
	Won        Result = "won"
	Lost       Result = "lost"
	Drawn      Result = "drawn"
	Forfeited  Result = "forfeited"
	WonForfeit Result = "won-by-forfeit"
)

// fought tells whether the robot was in the arena with power on.
func (r Result) fought() bool { return r == Won || r == Lost || r == Drawn }

func (r Result) wins() bool { return r == Won || r == WonForfeit }

// Fight is a fight of ours in the running order.
type Fight struct {
	ID FightID `json:"id"`
	V  Rev     `json:"v"`
	FightFields
	State  FightState `json:"state"`
	Result Result     `json:"result,omitzero"`
	OnAt   Moment     `json:"onAt,omitzero"`
	EndAt  Moment     `json:"endAt,omitzero"`
	// LiveAt is when its robot was declared live for it; a fight that has none proves
	// nothing.
	LiveAt Moment `json:"liveAt,omitzero"`
	// Setup is what the robot fought in, where someone had said.
	Setup SetupID `json:"setup,omitzero"`
	// LeftAt and BenchAt are when someone first said that the robot was out of the
	// arena, and back at a bench: the promised gap may be counted from there.
	LeftAt  Moment `json:"leftAt,omitzero"`
	BenchAt Moment `json:"benchAt,omitzero"`
	// Postponed is the postponement the event granted it.
	Postponed Postponed `json:"postponed,omitzero"`
	// Over is when its robot was last taken to have been in it, and in a fight before that.
	Over Overtaken `json:"over,omitzero"`
	// Loosened lists by whose word it was not fought after all, oldest first.
	Loosened []Loosened `json:"loosened,omitempty"`
	// Pauses are the times after its end that the promised gap does not count.
	Pauses []Span `json:"pauses,omitempty"`
}

// FightFields are what people say of a fight.
type FightFields struct {
	Robot RobotID `json:"robot"`
	Arena string  `json:"arena"`
	// Number is its place in the arena's running order.
	Number   int    `json:"number"`
	Opponent string `json:"opponent,omitzero"`
	// OpponentKind is the team's own word for it: "spinner".
	OpponentKind string `json:"opponentKind,omitzero"`
	NotBefore    Moment `json:"notBefore,omitzero" moment:"event"`
	// After and If: the fight exists only if fight After ends so: "won" or "lost".
	After FightID `json:"after,omitzero"`
	If    Result  `json:"if,omitzero"`
}

// Sighting is someone's word that a fight of the running order, ours or not, is
// on now.
type Sighting struct {
	ID     SightingID `json:"id"`
	V      Rev        `json:"v"`
	Arena  string     `json:"arena"`
	Number int        `json:"number"`
	At     Moment     `json:"at"`
	By     PersonID   `json:"by,omitzero"`
}

func (f Fight) Key() Key         { return KeyOf(KindFight, f.ID) }
func (f Fight) Rev() Rev         { return f.V }
func (f Fight) stamp(r Rev) Noun { f.V = r; return f }

func (sighting Sighting) Key() Key         { return KeyOf(KindSighting, sighting.ID) }
func (sighting Sighting) Rev() Rev         { return sighting.V }
func (sighting Sighting) stamp(r Rev) Noun { sighting.V = r; return sighting }

const fightMost = 9999

func (f Fight) valid(s State) *Refusal {
	bad := first(
		checkName("arena", f.Arena),
		checkRange("number", f.Number, 1, fightMost, ""),
		checkShort("opponent", f.Opponent),
		checkShort("opponentKind", f.OpponentKind),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Robots[f.Robot]; !ok {
		return missing("robot", "robot")
	}
	if (f.After == "") != (f.If == "") {
		return badField("if", "A fight that depends on another needs both: which fight, and whether it is won or lost.")
	}
	if f.After != "" {
		if _, ok := s.Fights[f.After]; !ok || f.After == f.ID {
			return missing("fight", "after")
		}
		if bad := first(oneOf("if", f.If, Won, Lost), f.noRing(s)); bad != nil {
			return bad
		}
	}
	return f.alone(s)
}

// noRing refuses fights that would depend on each other in a ring.
func (f Fight) noRing(s State) *Refusal {
	seen := map[FightID]bool{f.ID: true}
	for id := f.After; id != ""; id = s.Fights[id].After {
		if seen[id] {
			return badField("after", "These fights would depend on each other in a ring. Change one of them.")
		}
		seen[id] = true
	}
	return nil
}

// alone refuses a robot's second fight at one place in the running order. Two
// branches of one fight, won and lost, may share it.
func (f Fight) alone(s State) *Refusal {
	for _, o := range s.Fights {
		same := o.ID != f.ID && o.Robot == f.Robot && o.Arena == f.Arena && o.Number == f.Number
		if same && o.State != FightDropped && f.State != FightDropped && (o.After != f.After || o.If == f.If) {
			return &Refusal{Code: CodeTaken, Field: "number", Sentence: "This robot has a fight at that place in the running order already."}
		}
	}
	return nil
}

func (sighting Sighting) valid(State) *Refusal {
	return first(checkName("arena", sighting.Arena), checkRange("number", sighting.Number, 1, fightMost, ""))
}

// Open tells whether the fight may still come: planned, and not ruled out by the
// result it depends on.
func (f Fight) Open(s State) bool {
	if f.State != FightPlanned {
		return false
	}
	if f.After == "" {
		return true
	}
	was := s.Fights[f.After]
	switch was.State {
	case FightDone:
		return was.Result.wins() == (f.If == Won) && was.Result != Drawn
	case FightDropped:
		return false
	}
	return true
}

// FightAdd enters a fight of ours.
type FightAdd struct{ FightFields }

func (c FightAdd) do(t *turn) *Refusal {
	t.put(Fight{ID: FightID(t.id(KindFight, c.name())), FightFields: c.FightFields, State: FightPlanned})
	return nil
}

func (c FightAdd) name() string {
	return c.Arena + " " + itoa(c.Number) + " " + string(c.Robot) + " " + string(c.If)
}

// FightChange replaces what is said of a fight.
type FightChange struct {
	Fight FightID `json:"fight"`
	FightFields
}

func (c FightChange) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	if bad != nil {
		return bad
	}
	if other := c.Robot != f.Robot || c.Arena != f.Arena || c.Number != f.Number; other && f.State != FightPlanned {
		return t.s().keepsRobot(f)
	}
	f.FightFields = c.FightFields
	t.put(f)
	return nil
}

// keepsRobot says how a fight that is not to come any more gets another robot or place.
func (s State) keepsRobot(f Fight) *Refusal {
	if f.State == FightDropped {
		return refuse(CodeState, "That fight is dropped: only a fight to come gets another robot, arena or number. Add it again.")
	}
	robot := s.Robots[f.Robot]
	return refuse(CodeState, "That fight is %s: only a fight to come gets another robot, arena or number. If it was not %s's, %s first says that it was not fought, with a reason.",
		f.State, robot.Name, s.answersFor(robot))
}

// FightMove puts a fight at another place in the running order.
type FightMove struct {
	Fight     FightID `json:"fight"`
	Arena     string  `json:"arena"`
	Number    int     `json:"number"`
	NotBefore Moment  `json:"notBefore,omitzero"`
}

func (c FightMove) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	if bad != nil {
		return bad
	}
	if f.State != FightPlanned {
		return refuse(CodeState, "That fight is %s: only a fight to come can move.", f.State)
	}
	f.Arena, f.Number, f.NotBefore = c.Arena, c.Number, c.NotBefore
	t.put(f)
	return nil
}

// FightDrop takes a fight out of the running order.
type FightDrop struct {
	Fight FightID `json:"fight"`
}

func (c FightDrop) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	if bad != nil {
		return bad
	}
	if f.State != FightPlanned {
		return refuse(CodeState, "That fight is %s: only a fight to come can be dropped.", f.State)
	}
	f.State = FightDropped
	t.put(f)
	return nil
}

// FightNow says that fight Number of an arena's running order is on now. Not
// every fight needs it, and it need not be ours. When it is ours, the robot is
// taken to be in the arena: on the board as live, or else unknown.
type FightNow struct {
	Arena  string `json:"arena"`
	Number int    `json:"number"`
	// Sure says that it is so, though a robot loses its signature by it.
	Sure bool `json:"sure,omitzero"`
}

func (c FightNow) do(t *turn) *Refusal {
	for _, f := range Sorted(t.s().Fights, func(f Fight) string { return string(f.ID) }) {
		if f.Arena == c.Arena && f.Number == c.Number && f.Open(t.s()) && !c.Sure {
			if bad := t.losesSignature(f.Robot); bad != nil {
				return bad
			}
		}
	}
	t.put(Sighting{ID: SightingID(t.id(KindSighting, "")), Arena: c.Arena, Number: c.Number, At: t.when, By: t.by.Person})
	for _, f := range Sorted(t.s().Fights, func(f Fight) string { return string(f.ID) }) {
		if f.Arena == c.Arena && f.Number == c.Number && f.Open(t.s()) {
			f.State, f.OnAt = FightOn, t.when
			t.put(t.overridden(f))
		}
	}
	return nil
}

// overridden lets a fight override the paper: a robot that is in the arena
// without having been declared live is unknown, with an alarm.
func (t *turn) overridden(f Fight) Fight {
	power := t.s().Powers[f.Robot]
	if power.State == Live || power.State == "" {
		return f
	}
	f, power = f.overtakes(power, t.now)
	t.becomeUnknown(power, "its fight is on and the board never heard it was live", true)
	return f
}

// FightEnd enters the result. A robot that fought is unknown, whatever the paper
// says, with its packs in it.
type FightEnd struct {
	Fight  FightID `json:"fight"`
	Result Result  `json:"result"`
}

func (c FightEnd) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	if bad != nil {
		return bad
	}
	if bad := oneOf("result", c.Result, Won, Lost, Drawn, Forfeited, WonForfeit); bad != nil {
		return bad
	}
	if f.State == FightDropped {
		return refuse(CodeState, "That fight was dropped. Add it again first.")
	}
	first, fought := f.State != FightDone, f.Result.fought()
	f.State, f.Result = FightDone, c.Result
	if first {
		f.EndAt = t.when
	}
	if c.Result.fought() && !fought {
		f.Setup = t.s().Fits[f.Robot].Setup
		if live := t.s().Powers[f.Robot].LiveAt; live <= f.EndAt && !t.s().liveFor(f, live) {
			f.LiveAt = live
		}
		t.wear(f.Robot, 1)
	}
	if c.Result.fought() && !fought {
		f = t.backFrom(f)
	}
	t.put(f)
	return nil
}

// liveFor tells whether a robot was declared live at a moment for another of its fights.
func (s State) liveFor(f Fight, at Moment) bool {
	for _, o := range s.Fights {
		if o.ID != f.ID && o.Robot == f.Robot && o.LiveAt == at {
			return true
		}
	}
	return false
}

// backFrom makes a robot unknown that fought. No answer from before holds, nor one
// that may be from before; where the robot is known to have left the arena after
// the fight was on, what was answered since then does (rule 11).
func (t *turn) backFrom(f Fight) Fight {
	power := t.s().Powers[f.Robot]
	why := "back from fight " + f.Arena + " " + itoa(f.Number)
	if t.s().wentOnAfter(f, power) {
		why += ", whose result came late: make it safe again; what was inspected since still counts"
	} else {
		f, power = f.overtakes(power, t.now)
	}
	t.becomeUnknown(power, why, false)
	return f
}

// wentOnAfter tells whether a robot was live when its fight was said to be on and
// has been brought out of the arena since. Whatever is less plain than that is
// taken as not known.
func (s State) wentOnAfter(f Fight, power Power) bool {
	return power.FoughtAt != 0 && power.FoughtAt < f.OnAt && power.State != Live && power.Place != "" && s.Places[power.Place].Kind != PlaceArena
}

func (t *turn) fight(id FightID) (Fight, *Refusal) {
	f, ok := t.s().Fights[id]
	if !ok {
		return Fight{}, missing("fight", "fight")
	}
	return f, nil
}
