package boardtest

import (
	"maps"
	"reflect"
	"slices"
	"strings"

	"pgregory.net/rapid"

	. "mendline/board"
	"mendline/board/charge"
)

// Walker gives random commands, with bad luck and bad will.
type Walker struct {
	Cast
	RT *rapid.T
	// Done lists the ids of commands that were accepted.
	Done []CommandID
	// KeepCast takes nobody and nothing of the cast off the board: for a test that walks
	// one board again and again, or whose people are logged in.
	KeepCast bool

	state State
	// hand is who gives the command, where it is theirs to give.
	hand Actor
}

// Next gives a command that fits the state somewhat, and who gives it.
func (w *Walker) Next(s State) (Command, Actor) {
	w.state, w.hand = s, Actor{}
	c := w.command()
	for w.KeepCast && strings.HasSuffix(Name(c), ".retire") && w.Cast.holds(reflect.ValueOf(c).Field(0).String()) {
		c = w.command()
	}
	if w.hand.Person != "" {
		return c, w.hand
	}
	by := w.actor()
	if _, line := c.(SheetAnswer); line && rapid.Bool().Draw(w.RT, "fit") {
		by = w.as(rapid.SampledFrom([]PersonID{w.Ben, w.Dee}).Draw(w.RT, "hand"))
	}
	if rapid.Bool().Draw(w.RT, "whose") {
		by = w.whose(c, by)
	}
	switch c.(type) {
	case EmergencyEnd:
		if rapid.Bool().Draw(w.RT, "safety") {
			by = w.as(w.Dee)
		}
	case BoardStart, BoardTick, BoardRestore, ChanceSay, ChanceJudge, PersonClaim, PersonForget:
		by = Itself()
	}
	return c, by
}

// whose gives a command to someone whose it is to give: half of them would else be
// refused at the door.
func (w *Walker) whose(c Command, by Actor) Actor {
	switch c := c.(type) {
	case SheetAnswer:
		return by
	case TagOff:
		return w.as(w.state.Tags[c.Tag].Person)
	case JobLeave:
		if stints := w.state.Jobs[c.Job].Stints; len(stints) > 0 {
			return w.as(stints[len(stints)-1].By)
		}
	case HandsOff:
		return w.as(w.state.Hands[c.Hands].Person)
	case NoticeTake:
		return w.as(w.state.Notices[c.Notice].Person)
	case TagOverride:
		by = w.as(w.Ada)
		by.Proved = []PersonID{c.Second}
		return by
	case HandsOverride:
		by = w.as(w.Ada)
		by.Proved = []PersonID{c.Second}
		return by
	case RobotStop, RobotGoOn:
		return w.as(w.Dee)
	}
	return w.as(w.Ada)
}

// Seen is what a screen that is up to date would say it saw.
func Seen(s State, c Command) map[Key]Rev {
	g, ok := c.(interface{ Guards(State) []Key })
	if !ok {
		return nil
	}
	seen := map[Key]Rev{}
	for _, k := range g.Guards(s) {
		if n, ok := s.Get(k); ok {
			seen[k] = n.Rev()
		}
	}
	return seen
}

func (w *Walker) as(id PersonID) Actor { return Actor{Person: id, Role: w.state.People[id].Role} }

func (w *Walker) tagOf(owner PersonID) TagID {
	for _, id := range ordered(w.state.Tags) {
		if w.state.Tags[id].Person == owner {
			return id
		}
	}
	return ""
}

func (w *Walker) actor() Actor {
	people := []PersonID{w.Ada, w.Ben, w.Ben, w.Dee, w.Kit, w.Gus, w.Nia, ""}
	id := rapid.SampledFrom(people).Draw(w.RT, "who")
	by := w.as(id)
	if id == "" {
		by.Role = rapid.SampledFrom([]Role{RoleViewer, RoleCrew, RoleSafety}).Draw(w.RT, "role")
	}
	if rapid.IntRange(0, 9).Draw(w.RT, "old pin") == 0 {
		by.Before = []BeforePIN{{Person: w.Ben, Until: w.state.People[w.Ben].Forgotten.Rev}}
	}
	if rapid.IntRange(0, 4).Draw(w.RT, "proves") == 0 {
		by.Proved = []PersonID{rapid.SampledFrom(people[:7]).Draw(w.RT, "pin")}
	}
	return by
}

func (w *Walker) command() Command {
	return evenly(w, "kind", []func() Command{
		w.line, w.line, w.line, w.line, w.line, w.line, w.tag, w.tag, w.hands, w.jobs, w.jobs, w.jobs, w.packs, w.packs, w.fights, w.power, w.power, w.plain, w.plain, w.alarm,
		w.onward, w.onward, w.onward, w.onward, w.onward, w.onward, w.onward, w.onward, w.charges, w.charges,
		w.records, w.records, w.records, w.records, w.said,
	})()
}

// evenly chooses one of a list, where SampledFrom likes the first best.
func evenly[T any](w *Walker, label string, list []T) T {
	const spread = 0x9e3779b97f4a7c15 // 2^64 by the golden ratio: neighbours land far apart
	return list[(rapid.Uint64().Draw(w.RT, label)*spread>>32)%uint64(len(list))]
}

// line answers an open line, mostly as it asks.
func (w *Walker) line() Command {
	var lists []SheetList
	for _, list := range []SheetList{ListMakeSafe, ListFirstIn, ListInspect, ListCloseUp, ListReopen, ListReady, ListLoadIn, ListOvernight, ListPackUp} {
		if _, ok := w.state.Sheet(w.Moth, list); ok {
			lists = append(lists, list)
		}
	}
	sheet, _ := w.state.Sheet(w.Moth, rapid.SampledFrom(lists).Draw(w.RT, "list"))
	l, ok := sheet.OpenLine()
	if !ok || rapid.IntRange(0, 7).Draw(w.RT, "elsewhere") == 0 {
		l = sheet.Lines[rapid.IntRange(0, len(sheet.Lines)-1).Draw(w.RT, "line")]
	}
	c := SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone, Place: w.Watch, Pack: w.aPack(), Told: rapid.SampledFrom([]PersonID{w.Dee, w.Ben}).Draw(w.RT, "told"), Number: &l.Most}
	if l.Kind == LineChoice {
		c.Choice = l.Choices[0]
	}
	if l.NotFitted && aboutWeapon(l) && rapid.Bool().Draw(w.RT, "not fitted") {
		c.Said = SaidNotFitted
	}
	if l.Kind == LineTold && rapid.Bool().Draw(w.RT, "alone") {
		c.Said, c.Told = SaidAlone, ""
	}
	if l.Unit == "g" && rapid.Bool().Draw(w.RT, "slip") {
		one := 1.0
		c.Number, c.Sure = &one, rapid.Bool().Draw(w.RT, "sure")
	}
	if rapid.IntRange(0, 9).Draw(w.RT, "other") == 0 {
		c.Said = rapid.SampledFrom([]Said{SaidNo, SaidNotFitted, SaidSuspect, SaidOwed}).Draw(w.RT, "said")
	}
	if rapid.IntRange(0, 5).Draw(w.RT, "on another's device") == 0 {
		c.Person = rapid.SampledFrom([]PersonID{w.Ben, w.Dee, w.Nia}).Draw(w.RT, "answers")
	}
	if rapid.IntRange(0, 7).Draw(w.RT, "paper") == 0 {
		c.Paper, c.At = true, sheet.OpenedAt+Moment(rapid.IntRange(-600_000, 600_000).Draw(w.RT, "written"))
	}
	return c
}

func (w *Walker) aPack() PackID { return rapid.SampledFrom([]PackID{w.P1, w.P2}).Draw(w.RT, "pack") }

func (w *Walker) tag() Command {
	if g := w.tagOf(rapid.SampledFrom([]PersonID{w.Ada, w.Ben, w.Dee}).Draw(w.RT, "owner")); g != "" {
		return TagOff{Tag: g}
	}
	return TagOn{Robot: w.Moth, Person: rapid.SampledFrom([]PersonID{"", "", w.Ben, w.Kit}).Draw(w.RT, "for")}
}

func (w *Walker) hands() Command {
	o := Override{
		LookedWhere: "the hall", CalledHow: "phone", CheckedBy: w.Dee, Reason: rapid.SampledFrom([]string{"gone", "gone", "gone", "gone", ".", "\u200b\u200b\u200b\u200b"}).Draw(w.RT, "why"), Asked: rapid.Bool().Draw(w.RT, "asked"),
	}
	for _, id := range ordered(w.state.Notices) {
		if w.state.Notices[id].Taken == 0 && rapid.Bool().Draw(w.RT, "take") {
			return NoticeTake{Notice: id}
		}
	}
	for _, id := range ordered(w.state.Tags) {
		if rapid.IntRange(0, 3).Draw(w.RT, "override") == 0 {
			o.CalledAt = w.state.Tags[id].At
			return TagOverride{Tag: id, Second: rapid.SampledFrom([]PersonID{w.Dee, w.Dee, w.Ada, w.Kit}).Draw(w.RT, "second"), Override: o}
		}
	}
	if near := ordered(w.state.Hands); len(near) > 0 {
		if rapid.IntRange(0, 3).Draw(w.RT, "lift") == 0 {
			o.CalledAt = w.state.Hands[near[0]].At
			return HandsOverride{Hands: near[0], Second: rapid.SampledFrom([]PersonID{w.Ada, w.Dee, w.Kit}).Draw(w.RT, "second"), Override: o}
		}
		return HandsOff{Hands: near[0]}
	}
	return HandsOn{Robot: w.aRobot()}
}

// aRobot is mostly the one that is walked.
func (w *Walker) aRobot() RobotID {
	return rapid.SampledFrom(append([]RobotID{w.Moth, w.Moth}, ordered(w.state.Robots)...)).Draw(w.RT, "robot")
}

func (w *Walker) packs() Command {
	p := w.aPack()
	if rapid.IntRange(0, 30).Draw(w.RT, "retire") == 0 {
		return rapid.SampledFrom([]Command{PackRetire{Pack: p}, ChannelRetire{Channel: w.A1}, CircuitRetire{Circuit: w.Wall}, PersonRetire{Person: w.Ben}}).Draw(w.RT, "retired")
	}
	plug := PackCharge{Pack: p, Channel: w.A1, Attendant: w.Ben, Cells: 4, Amps: 0.6, Contained: true}
	switch at := w.state.Packs[p]; {
	case at.State == PackCharging && rapid.Bool().Draw(w.RT, "on charge"):
		return rapid.SampledFrom([]Command{PackAttend{Pack: p}, PackOff{Pack: p}}).Draw(w.RT, "of the charge")
	case at.Robot == "" && len(at.Reading.CellVolts) > 0 && rapid.Bool().Draw(w.RT, "charge"):
		return plug
	}
	hot, warm := 61.0, 30.0
	fits := w.state.Packs[p].PackFields
	fits.Fits = []RobotID{w.Moth}
	other := fits
	other.Chemistry = rapid.SampledFrom([]charge.Chemistry{charge.LiPo, charge.LiPo, charge.LiFe}).Draw(w.RT, "chemistry")
	other.Use = rapid.SampledFrom([]PackUse{UseMain, UseMain, UseWeapon, UseTool, UseTransmitter}).Draw(w.RT, "use")
	return rapid.SampledFrom([]Command{
		PackMove{Pack: p, Place: w.Watch}, PackMove{Pack: p, Place: w.Watch}, PackMove{Pack: p, Robot: w.Moth, Found: rapid.Bool().Draw(w.RT, "found")}, PackMove{Pack: p, Place: w.Corner},
		PackChange{Pack: p, PackFields: fits}, PackChange{Pack: p, PackFields: other}, PackRead{Pack: p, CellVolts: []float64{2.9, 2.9, 2.9, 2.9}}, PackRead{Pack: p, CellVolts: []float64{3.1, 3.1, 3.1, 3.1}}, PackChoose{Pack: p, Robot: w.Moth}, PackChoose{Pack: p, Robot: w.Moth}, PackChoose{Pack: p},
		PackRead{Pack: p, CellVolts: []float64{4.18, 4.18, 4.19, 4.18}, Charged: true},
		PackRead{Pack: p, TempC: &hot}, PackSet{Pack: p, State: PackWaiting}, PackSet{Pack: p, State: PackSuspect},
		PackRead{Pack: p, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}, TempC: &warm, Look: LookFine}, PackOff{Pack: p},
		plug,
		PackCharge{Pack: p, Channel: w.A1, Attendant: w.Dee, Cells: 4, Amps: 0.6, Contained: true}, PackAttend{Pack: p}, PackAttend{Pack: p, Person: w.Ben},
		PlaceChange{Place: w.Bench, PlaceFields: PlaceFields{Name: "bench 1", Kind: PlaceBench, InSight: rapid.SampledFrom([][]PlaceID{nil, {w.Shelf}}).Draw(w.RT, "sight")}},
		CircuitOff{Circuit: w.Wall}, CircuitOn{Circuit: w.Wall, SaidBy: "the hall"},
	}).Draw(w.RT, "packs")
}

func (w *Walker) fights() Command {
	for _, id := range ordered(w.state.Fights) {
		f := w.state.Fights[id]
		if f.State != FightDone {
			return rapid.SampledFrom([]Command{
				FightNow{Arena: "north", Number: f.Number, Sure: rapid.Bool().Draw(w.RT, "sure")}, FightEnd{Fight: id, Result: Won}, FightEnd{Fight: id, Result: Forfeited},
				FightChange{Fight: id, FightFields: FightFields{Robot: w.Moth, Arena: "north", Number: f.Number, Opponent: "Brass Newt"}}, FightDrop{Fight: id},
				FightMove{Fight: id, Arena: "north", Number: f.Number + 1}, FightPostpone{Fight: id},
			}).Draw(w.RT, "fight")
		}
	}
	for _, id := range ordered(w.state.Fights) {
		if rapid.IntRange(0, 5).Draw(w.RT, "not fought") == 0 {
			return FightNotFought{Fight: id, Reason: rapid.SampledFrom([]string{"", "another robot's"}).Draw(w.RT, "why")}
		}
	}
	if last := ordered(w.state.Fights); len(last) > 0 && rapid.Bool().Draw(w.RT, "pause") {
		return FightPause{Fight: last[0], Span: Span{From: 1_700_000_000_000}}
	}
	return FightAdd{FightFields: FightFields{Robot: w.Moth, Arena: "north", Number: len(w.state.Fights) + 1}}
}

func (w *Walker) power() Command {
	if c := w.wayOn(); c != nil && rapid.Bool().Draw(w.RT, "way on") {
		return c
	}
	return evenly(w, "power", []Command{
		RobotCloseUp{Robot: w.Moth}, RobotCloseUp{Robot: w.Moth}, RobotReopen{Robot: w.Moth}, RobotDoubt{Robot: w.Moth, Why: "not sure"},
		RobotTest{Robot: w.Moth, What: "drive", Place: w.Box, Minutes: 5}, RobotTest{Robot: w.Moth, What: "drive", Place: w.Bench, Minutes: 5},
		RobotTestEnd{Robot: w.Moth}, RobotLive{Robot: w.Moth, Place: w.Arena}, RobotPlace{Robot: w.Moth, Place: w.Bench},
		RobotStop{Robot: w.Moth, Why: "a crack"}, RobotGoOn{Robot: w.Moth}, RobotGoOn{Robot: w.Moth}, RobotLoadIn{Robot: w.Moth}, RobotList{Robot: w.Moth, List: ListPackUp},
		RobotPlace{Robot: w.Moth, Place: w.Arena, Sure: rapid.Bool().Draw(w.RT, "sure")}, RobotPlace{Robot: w.Moth, Place: w.Corner}, RobotPlace{Robot: w.aRobot(), Place: w.Box}, BoardStart{Why: "restart"}, BoardRestore{Why: "restored", Held: []string{"Pack P1 was suspect."}}, BoardTick{},
		TimeSet{BySec: rapid.SampledFrom([]int{-100_000, -1200, -1, 1, 1200, 100_000}).Draw(w.RT, "time set by"), Sure: true},
	})
}

// wayOn is what leads on from the state the robot is in, nil where no one command does.
func (w *Walker) wayOn() Command {
	power := w.state.Powers[w.Moth]
	switch {
	case power.Stop.At != 0:
		return RobotGoOn{Robot: w.Moth}
	case power.State == Verified:
		return RobotCloseUp{Robot: w.Moth}
	case power.State == ClosingUp:
		return RobotTest{Robot: w.Moth, What: "drive", Place: w.Box, Minutes: 5}
	case power.State == Test:
		return RobotTestEnd{Robot: w.Moth}
	case power.State == Ready:
		return RobotLive{Robot: w.Moth, Place: w.Arena}
	}
	return nil
}

func (w *Walker) alarm() Command {
	name := rapid.SampledFrom([]AlarmID{"A-conflict-1", "B-call-1", "call"}).Draw(w.RT, "alarm")
	for _, id := range ordered(w.state.Emergencies) {
		if w.state.Emergencies[id].EndedAt == 0 && rapid.Bool().Draw(w.RT, "end") {
			return EmergencyEnd{Emergency: id, How: "over"}
		}
	}
	return rapid.SampledFrom([]Command{
		EmergencyRaise{Robot: w.Moth, What: "smoke"}, EmergencyRaise{Place: w.Shelf}, EmergencyRaise{Place: w.Box}, EmergencyRaise{Place: w.Arena}, AlarmTake{Alarm: name}, WorkTake{Work: "read-1"},
		AlarmShelve{Alarm: name, Minutes: rapid.SampledFrom([]int{0, 5, 15, 16}).Draw(w.RT, "minutes"), Reason: "later"},
	}).Draw(w.RT, "alarms")
}

func (w *Walker) plain() Command {
	for _, id := range ordered(w.state.Notes) {
		if n := w.state.Notes[id]; n.Held && n.SettledAt == 0 && rapid.Bool().Draw(w.RT, "settle") {
			return NoteSettle{Note: id}
		}
	}
	if n := len(w.Done); n > 0 && rapid.Bool().Draw(w.RT, "undo") {
		return Undo{Command: w.Done[max(0, n-1-rapid.IntRange(0, 4).Draw(w.RT, "back"))]}
	}
	return evenly(w, "plain", []Command{
		PersonForget{Person: w.Ben, By: w.Ada}, PersonAdd{PersonFields: w.state.People[w.Ben].PersonFields}, w.lessGas(), w.less(), PlaceChange{Place: w.Bench, PlaceFields: PlaceFields{Name: "bench 1", Kind: PlaceStaging}, Reason: "moved"},
		PersonRetire{Person: w.Ada}, w.box(), w.renamed(), w.lead(), w.grown(), w.grown(), NoteAdd{Text: "a note"}, StockUse{Stock: w.Blade, Count: 1}, StockCount{Stock: w.Blade, Count: 3},
		RobotChange{Robot: w.Moth, RobotFields: w.Gassed(Outside)}, w.otherLocks(),
		PersonBrief{Person: w.Gus}, w.wording(), LearnSet{Kind: BeforeKind(w.Moth), On: true},
		w.damage(), w.damage(),
		DamageHit{Damage: w.aDamage(), Fight: w.aFight(), Hit: rapid.IntRange(0, 3).Draw(w.RT, "hit")},
		RobotFit{Robot: w.Moth, Setup: w.Wedge}, RobotFit{Robot: w.Moth}, RobotWeigh{Robot: w.Moth, Grams: 1340}, RobotWeigh{Robot: w.Moth, Grams: 1, Sure: rapid.Bool().Draw(w.RT, "sure")}, ModuleRenew{Module: w.Fork},
	})
}

// said says more of a damage, and what the board keeps by itself.
func (w *Walker) said() Command {
	if len(w.state.Damages) == 0 {
		return w.damage()
	}
	d, f := w.aDamage(), w.aFight()
	return evenly(w, "said", []Command{
		DamageRegrade{Damage: d, Grade: rapid.SampledFrom([]Grade{G0, G1, G3, GX}).Draw(w.RT, "grade"), What: "looked again", Drop: rapid.IntRange(0, 3).Draw(w.RT, "drop") == 0},
		DamageOutcome{Damage: d, Destroyed: rapid.Bool().Draw(w.RT, "destroyed")}, DamagePhoto{Damage: d, Photo: PhotoID(w.Rail)},
		PartBend{Part: rapid.SampledFrom(append(ordered(w.state.Parts), "")).Draw(w.RT, "bent"), GapMM: float64(w.number("gap", -1, 3)), OverMM: 100},
		DamageMove{Damage: d, Robot: rapid.SampledFrom(ordered(w.state.Robots)).Draw(w.RT, "to robot"), Reason: rapid.SampledFrom([]string{"", "the other one"}).Draw(w.RT, "why")},
		ChanceSay{Fight: f, Ready: rapid.IntRange(0, 11).Draw(w.RT, "of ten"), CallAt: 1_800_000_000_000}, ChanceJudge{Fight: f, Met: true},
		PersonClaim{Person: rapid.SampledFrom(ordered(w.state.People)).Draw(w.RT, "claimed"), Role: RoleCrew, On: rapid.SampledFrom([]PersonID{"", w.Ada}).Draw(w.RT, "on")},
	})
}

// box takes the test box off the board, and enters it again as someone else spells it.
func (w *Walker) box() Command {
	if w.state.Places[w.Box].Retired {
		return PlaceAdd{PlaceFields: PlaceFields{Name: "Test  BOX", Kind: rapid.SampledFrom([]PlaceKind{PlaceTestBox, PlaceTestBox, PlaceBench}).Draw(w.RT, "kind")}}
	}
	return PlaceRetire{Place: w.Box}
}

// renamed gives the robot another name, or the one that it had; or another robot that.
func (w *Walker) renamed() Command {
	f, old := w.state.Robots[w.Moth].RobotFields, w.state.Robots[w.Moth].Names
	if len(old) > 0 && rapid.Bool().Draw(w.RT, "another robot") {
		w.hand = w.as(w.Ada)
		f.Name, f.Number = old[0], 9
		return RobotAdd{RobotFields: f, Reason: "as it is built"}
	}
	f.Name = rapid.SampledFrom([]string{"Iron Owl", "Tin Moth", "iron  owl"}).Draw(w.RT, "name")
	return RobotChange{Robot: w.Moth, RobotFields: f, Reason: rapid.SampledFrom([]string{"", "a slip"}).Draw(w.RT, "why")}
}

// When is when a phone says that something was done which it kept for a while: up to an
// hour ago, with a clock that is wrong by much, or about when a charge began or was in
// doubt; 0 is at once. shift is what it heard of the board's time being set.
func (w *Walker) When(s State, c Command, now Moment) (at Moment, shift int) {
	shift = s.TimeOf().ShiftSec
	ofCharge := false
	switch c.(type) {
	case PackOff, PackAttend, PackMove, CircuitOff, PackRead:
		ofCharge = rapid.IntRange(0, 2).Draw(w.RT, "kept") == 0
	}
	if !ofCharge && rapid.IntRange(0, 9).Draw(w.RT, "late") != 0 {
		return 0, 0
	}
	at = now - Moment(rapid.IntRange(0, 3_600_000).Draw(w.RT, "at"))
	switch p := s.Packs[w.aPack()]; {
	case ofCharge && p.State == PackCharging:
		about := rapid.SampledFrom([]Moment{p.Since, p.AttendAt, p.UnsureAt, now}).Draw(w.RT, "about")
		at = max(1, about-Moment(rapid.IntRange(-60_000, 60_000).Draw(w.RT, "off by")))
	case rapid.IntRange(0, 3).Draw(w.RT, "wrong clock") == 0:
		at = max(1, now+Moment(rapid.SampledFrom([]int{-200_000_000, -7_200_000, 1000, 600_000, 200_000_000}).Draw(w.RT, "wrong by")))
		shift += rapid.SampledFrom([]int{0, -1200, 1200}).Draw(w.RT, "not heard")
	}
	return at, shift
}

// Dated is a phone's time as the board takes it: never later than now, nor more than half
// a day ago.
func Dated(s State, at Moment, shift int, now Moment) Moment {
	if at == 0 {
		return 0
	}
	return min(now, max(at+Moment(s.TimeOf().ShiftSec-shift)*1000, now-12*3_600_000))
}

func (w *Walker) aFight() FightID {
	return rapid.SampledFrom(append(ordered(w.state.Fights), "")).Draw(w.RT, "of fight")
}

// ordered is a table's ids in order, so that one seed gives one sequence.
func ordered[ID ~string, N any](table map[ID]N) []ID {
	return slices.Sorted(maps.Keys(table))
}
