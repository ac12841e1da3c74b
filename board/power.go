package board

import (
	"slices"
	"strings"
	"unicode"
)

// PowerState is how far a robot is from being able to hurt someone, as people
// declared it. Unknown is the default and is treated as live.
type PowerState string

// The power states: our decision, after the order of 29 CFR 1910.147(d) and (e): shut
// down, isolate, lock, release stored energy, verify; work; then close up and release.
const (
	Unknown     PowerState = "unknown"
	Live        PowerState = "live"
	PoweredDown PowerState = "powered-down"
	Isolated    PowerState = "isolated"
	Verified    PowerState = "verified"
	Work        PowerState = "work"
	ClosingUp   PowerState = "closing-up"
	Test        PowerState = "test"
	Ready       PowerState = "ready"
)

// Move is a step from one power state to another.
type Move struct{ From, To PowerState }

// moves are the only steps there are, besides any state to unknown.
var moves = []Move{
	{Unknown, PoweredDown}, {PoweredDown, Isolated}, {Isolated, Verified},
	{Verified, Work}, {Work, Verified},
	{Verified, ClosingUp}, {Work, ClosingUp}, {ClosingUp, Verified},
	{ClosingUp, Test}, {ClosingUp, Ready}, {Ready, Live},
}

func allowed(from, to PowerState) bool {
	return to == Unknown || from == to || slices.Contains(moves, Move{from, to})
}

// Energised tells whether hands must be nowhere near.
func (s PowerState) Energised() bool { return s == Live || s == Test }

// Power is one robot's power state with who declared it.
type Power struct {
	Robot RobotID    `json:"robot"`
	V     Rev        `json:"v"`
	State PowerState `json:"state"`
	Since Moment     `json:"since,omitzero"`
	By    PersonID   `json:"by,omitzero"`
	// Why says why the state is unknown; Conflict that people may have been in
	// reach when it became so.
	Why      string `json:"why,omitzero"`
	Conflict bool   `json:"conflict,omitzero"`
	// Day is the event day on which a person declared the state.
	Day        string   `json:"day,omitzero"`
	Place      PlaceID  `json:"place,omitzero"`
	IsolatedBy PersonID `json:"isolatedBy,omitzero"`
	VerifiedBy PersonID `json:"verifiedBy,omitzero"`
	VerifiedAt Moment   `json:"verifiedAt,omitzero"`
	ReadyBy    PersonID `json:"readyBy,omitzero"`
	// ReadyOn is whose device that was signed on, where it is another's.
	ReadyOn PersonID `json:"readyOn,omitzero"`
	Test    TestRun  `json:"test,omitzero"`
	// FoughtAt is when it was last known to be in a fight: no answer from before
	// that holds.
	FoughtAt Moment `json:"foughtAt,omitzero"`
	// LiveAt is when it was last declared live.
	LiveAt Moment `json:"liveAt,omitzero"`
	// OffAt is when the board heard that it is powered down: what is still turning or
	// charged has that long.
	OffAt Moment `json:"offAt,omitzero"`
	// PoweredAt is when its last test ended as it should: what is broken off, or lasted a
	// few seconds, proves nothing.
	PoweredAt Moment `json:"poweredAt,omitzero"`
	// Fitted lists the packs that were in it at the signature.
	Fitted []PackID `json:"fitted,omitempty"`
	// FailsafeOwed says that the failsafe is to be shown at the officials' check.
	FailsafeOwed bool `json:"failsafeOwed,omitzero"`
	// Stop stands until event safety lifts it.
	Stop Stop `json:"stop,omitzero"`
	// Covered lists when the robot was in work under a verified lockout, PackOut
	// when every pack of it was recorded out of it, oldest first.
	Covered []Span `json:"covered,omitempty"`
	PackOut []Span `json:"packOut,omitempty"`
	// Own lists whose tag or hands near was on it and is off again, in the order in
	// which they came off.
	Own []OwnSpan `json:"own,omitempty"`
}

// TestRun is power on for one named test, at one place, until a set time.
type TestRun struct {
	What  string   `json:"what"`
	Place PlaceID  `json:"place"`
	Until Moment   `json:"until"`
	By    PersonID `json:"by"`
}

func (power Power) Key() Key         { return KeyOf(KindPower, power.Robot) }
func (power Power) Rev() Rev         { return power.V }
func (power Power) stamp(r Rev) Noun { power.V = r; return power }

func (power Power) valid(s State) *Refusal {
	if _, ok := s.Robots[power.Robot]; !ok {
		return missing("robot", "robot")
	}
	if _, ok := s.Places[power.Place]; power.Place != "" && !ok {
		return missing("place", "place")
	}
	return oneOf("state", power.State, Unknown, Live, PoweredDown, Isolated, Verified, Work, ClosingUp, Test, Ready)
}

// step moves a robot along the table. A move that is not there is the program's
// own fault when a command asks for it, so commands look first.
func (t *turn) step(power Power, to PowerState) Power {
	if !allowed(power.State, to) {
		panic("board: no move from " + string(power.State) + " to " + string(to))
	}
	power.State, power.Since = to, t.now
	if t.by.Person != "" {
		power.By = t.by.Person
	}
	power.Day = t.now.Day(t.s().Event().OffsetMin)
	if to == PoweredDown {
		power.OffAt = t.now
	}
	power.Why, power.Conflict = "", power.Conflict && to != Verified
	t.path[power.Robot] = append(t.path[power.Robot], to)
	t.put(power)
	return power
}

// becomeUnknown takes back all that was declared: open sheets end unanswered,
// running jobs are held, packs inside owe their look again, and a new make-safe
// sheet begins. Tags and hands near stay.
func (t *turn) becomeUnknown(power Power, why string, conflict bool) {
	t.path[power.Robot] = append(t.path[power.Robot], Unknown)
	t.put(Power{
		Robot: power.Robot, State: Unknown, Since: t.now, By: t.by.Person, Why: why, Conflict: conflict || (power.State == Unknown && power.Conflict),
		Place: power.Place, FoughtAt: power.FoughtAt, LiveAt: power.LiveAt, PoweredAt: power.PoweredAt, Stop: power.Stop, Covered: power.Covered, PackOut: power.PackOut, Own: power.Own,
	})
	for _, sheet := range Sorted(t.s().Sheets, sheetOrder) {
		if sheet.Robot == power.Robot && sheet.State == SheetOpen && !sheet.List.ofTheEvent() {
			sheet.State, sheet.EndedAt = SheetUnanswered, t.now
			t.put(sheet)
		}
	}
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		if p.Robot == power.Robot && !p.CameBack && !p.State.setAside() {
			p.CameBack = true
			t.put(p)
		}
	}
	t.openSheet(t.s().Robots[power.Robot], ListMakeSafe)
}

// RobotDoubt sets a robot unknown. Anyone may, at any time, whatever Why says.
type RobotDoubt struct {
	Robot RobotID `json:"robot"`
	Why   string  `json:"why"`
}

func (c RobotDoubt) do(t *turn) *Refusal {
	power, _, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	why := strings.TrimSpace(c.Why)
	if first(checkName("why", why), checkReadable("why", why)) != nil || !strings.ContainsFunc(why, unicode.IsLetter) {
		why = "someone is not sure"
	}
	t.doubt(power, why)
	return nil
}

// doubt makes a robot unknown: an alarm about people where it was declared to be more
// and someone is on it.
func (t *turn) doubt(power Power, why string) {
	t.becomeUnknown(power, why, power.State != Unknown && len(t.s().HandsOn(power.Robot)) > 0)
}

// losesSignature asks once whether it is so that a robot which is signed ready is in the
// arena and nobody has declared it live. What a phone brings late is a fact.
func (t *turn) losesSignature(id RobotID) *Refusal {
	if t.late() || t.s().Powers[id].State != Ready {
		return nil
	}
	robot := t.s().Robots[id]
	return &Refusal{Code: CodeUnlikely, Field: "sure",
		Sentence: robot.Name + " is signed; this makes it unknown, and it has to be made safe and signed again. If it is on its way into the arena, declare it live instead. If it is so, say it again."}
}

// RobotPlace says where a robot is. One that is put into the arena without
// having been declared live is unknown there.
type RobotPlace struct {
	Robot RobotID `json:"robot"`
	Place PlaceID `json:"place"`
	// Sure says that it is so, though the robot loses its signature by it, or there is an
	// emergency.
	Sure bool `json:"sure,omitzero"`
}

func (c RobotPlace) do(t *turn) *Refusal {
	power, _, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	place, ok := t.s().Places[c.Place]
	if !ok {
		return missing("place", "place")
	}
	if (place.Kind == PlaceArena || place.powered() && place.ID != power.Place) && !c.Sure {
		if bad := t.losesSignature(c.Robot); bad != nil {
			return bad
		}
	}
	from := t.s().Places[power.Place]
	emergency, stands := t.s().emergencyAt(place.ID)
	if stands && place.ID != from.ID && !c.Sure && !t.late() {
		return &Refusal{Code: CodeUnlikely, Field: "sure",
			Sentence: "There is an emergency at " + place.Name + ": keep clear of it until " + t.s().inCharge() + " has said that it is over. If " + t.s().Robots[c.Robot].Name + " is there already, say it again."}
	}
	power.Place = c.Place
	t.put(power)
	t.cameBack(c.Robot, place)
	switch {
	case place.Kind == PlaceArena && power.State != Live:
		power.FoughtAt = t.now
		t.becomeUnknown(power, "in "+place.Name+" without having been declared live", true)
	case place.powered() && power.State == Ready && place.ID != from.ID:
		t.becomeUnknown(power, "in "+place.Name+" with its signature, and no test asked for", false)
	case power.State.Energised() && place.ID != from.ID:
		t.becomeUnknown(power, "back from "+from.Name, false)
	case stands && place.ID != from.ID && power.State != Unknown:
		t.doubt(power, "at "+place.Name+", where there is an emergency since "+t.s().Clock(emergency.At))
	}
	return nil
}

// power looks a robot and its power state up.
func (t *turn) power(id RobotID) (Power, Robot, *Refusal) {
	robot, ok := t.s().Robots[id]
	if !ok || robot.Retired {
		return Power{}, Robot{}, missing("robot", "robot")
	}
	return t.s().Powers[id], robot, nil
}

// must refuses unless the robot is in one of states.
func (power Power) must(r Robot, what string, states ...PowerState) *Refusal {
	if slices.Contains(states, power.State) {
		return nil
	}
	want := make([]string, len(states))
	for i, s := range states {
		want[i] = s.String()
	}
	return breaks(3, "%s is %s. To %s it must be %s: %s.", r.Name, power.State, what, listOr(want), power.State.leadsOn())
}

// leadsOn is the next step from a power state.
func (s PowerState) leadsOn() string {
	switch s {
	case Verified, Work:
		return "close it up first"
	case ClosingUp:
		return "answer its sheets to the signature first"
	case Ready:
		return "set it unknown, which anyone may, make it safe and close it up again"
	case Test:
		return "end its test, make it safe and close it up again"
	case Live:
		return "when it is back, make it safe and close it up again"
	}
	return "make it safe and verify it first"
}

// ruleMoves keeps every robot to the table of moves, whatever command it was.
func ruleMoves(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindPower {
			continue
		}
		is, ok := t.s().Powers[RobotID(id)]
		if !ok {
			continue
		}
		at := t.before.Powers[is.Robot].State
		for _, to := range t.path[is.Robot] {
			if at != "" && !allowed(at, to) {
				return breaks(3, "A robot cannot go from %s to %s. Go through its sheets in order.", at, to)
			}
			at = to
		}
		if at != is.State {
			return breaks(18, "A power state changes by its sheets only, not by an undo or a load.")
		}
	}
	return nil
}

// rule1 keeps a robot unknown until a person has declared it today.
func rule1(t *turn) *Refusal {
	today := t.now.Day(t.s().Event().OffsetMin)
	for _, power := range inOrder(t.s().Powers) {
		if power.State != Unknown && (power.Day != today || power.By == "") {
			return breaks(1, "%s has not been declared by a person today: it is unknown. Begin with make-safe.", t.s().Robots[power.Robot].Name)
		}
	}
	return nil
}

// rule2 makes a robot that comes back from arena or test unknown.
func rule2(t *turn) *Refusal {
	for id, was := range inOrder(t.before.Powers) {
		is := t.s().Powers[id]
		if was.State.Energised() && is.State != was.State && is.State != Unknown {
			return breaks(2, "%s comes back from power: it is unknown until it is made safe.", t.s().Robots[id].Name)
		}
		if was.State == Ready && is.State == Ready && was.Place != is.Place && t.s().Places[is.Place].powered() {
			return breaks(2, "%s is signed ready and now where power is given: it is unknown until it is made safe.", t.s().Robots[id].Name)
		}
		if was.State == Live && was.Place != is.Place && is.State != Unknown {
			return breaks(2, "%s has left the arena: it is unknown until it is made safe.", t.s().Robots[id].Name)
		}
	}
	return nil
}

// rule3FirstIn lets one person alone on a robot while a first-in line is open.
func rule3FirstIn(t *turn) *Refusal {
	for id := range inOrder(t.s().Powers) {
		if t.s().crowded(id) && !t.before.crowded(id) {
			return breaks(3, "Only one may be on %s while a first-in line is open. The others come off first.", t.s().Robots[id].Name)
		}
	}
	return nil
}

// crowded tells whether several people's tags or hands are on a robot in work with a
// first-in line open.
func (s State) crowded(robot RobotID) bool {
	sheet, ok := s.Sheet(robot, ListFirstIn)
	if !ok || sheet.State != SheetOpen || s.Powers[robot].State != Work {
		return false
	}
	on := map[PersonID]bool{}
	for _, tag := range s.tagsOn(robot) {
		on[tag.Person] = true
	}
	for _, hands := range s.Hands {
		if hands.Robot == robot {
			on[hands.Person] = true
		}
	}
	return len(on) > 1
}

// rule3 keeps a robot from standing further along than its sheets: every state
// past unknown rests on a make-safe sheet with the lines due answered.
func rule3(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if before, ok := t.before.Powers[id]; (ok && before.State == power.State) || power.State == Unknown {
			continue
		}
		sheet, ok := t.s().Sheet(id, ListMakeSafe)
		due := map[PowerState][]string{
			PoweredDown: {partDown}, Isolated: {partDown, partIsolate},
		}[power.State]
		if due == nil {
			due = []string{partDown, partIsolate, partVerify}
		}
		for _, part := range due {
			if !ok || !sheet.partDone(part) {
				return breaks(3, "%s cannot be %s: its make-safe sheet is not answered so far.", t.s().Robots[id].Name, power.State)
			}
		}
	}
	return nil
}
