package board

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// row is one command: its name on the wire, who may give it, and how it is read.
type row struct {
	name  string
	what  string
	roles []Role
	// final marks what cannot be undone.
	final bool
	// plan marks a change of plan: rule 25 lets it move no guard, and the forecast may
	// offer it. What has no such mark the forecast can never give.
	plan   bool
	typ    reflect.Type
	decode func([]byte) (Command, error)
}

var (
	anyone     = []Role{RoleCaptain, RoleCrew, RoleSafety}
	captain    = []Role{RoleCaptain}
	leading    = []Role{RoleCaptain, RoleSafety}
	safetyOnly = []Role{RoleSafety}
	boardOnly  = []Role{RoleSystem}
)

// OnlyRaises tells whether a command only stops, locks or calls for help: done once more
// than was meant it costs time, left out it may cost a hand.
func OnlyRaises(c Command) bool {
	switch c.(type) {
	case EmergencyRaise, HandsOn, RobotStop, RobotDoubt:
		return true
	}
	return false
}

// table lists every command, in the order in which Commands prints them.
var table = []row{
	command[EventSet]("event.set", "set what the organisers say of the day", captain),
	command[WordingSet]("wording.set", "give a list of lines other words, another order, lines of its own", leading).forGood(),
	command[TeamLoad]("team.load", "fill an empty board with a team", captain).forGood(),

	command[PersonAdd]("person.add", "enter a person", captain).ofPlan(),
	command[PersonChange]("person.change", "change what is said of a person", captain),
	command[PersonRetire]("person.retire", "take a person off the roster", captain),
	command[PersonBrief]("person.brief", "say that a person was briefed", leading),
	command[PersonClaim]("person.claim", "a device takes a name", boardOnly).forGood(),
	command[PersonForget]("person.forget-pin", "have a person's PIN forgotten", boardOnly).forGood(),
	command[RobotAdd]("robot.add", "enter a robot", captain).forGood(),
	command[RobotChange]("robot.change", "change what is said of a robot", captain).forGood(),
	command[RobotEnergyOff]("robot.energy-off", "say that a robot no longer has an energy, as its lead or event safety", anyone).forGood(),
	command[RobotWithdraw]("robot.withdraw", "say that a robot has no calls any more", captain),
	command[RobotBackIn]("robot.back-in", "take a robot back in that was withdrawn", captain),
	command[RobotRetire]("robot.retire", "take a robot off the board", captain),
	command[PlaceAdd]("place.add", "enter a place", captain),
	command[PlaceChange]("place.change", "change what is said of a place", captain),
	command[PlaceTurn]("place.turn", "say that the place where a robot stands is of another kind", anyone).forGood(),
	command[PlaceRetire]("place.retire", "take a place off the board", captain),
	command[StationAdd]("station.add", "enter a station", captain),
	command[StationChange]("station.change", "change what is said of a station", captain).ofPlan(),
	command[StationRetire]("station.retire", "take a station off the board", captain),
	command[StockAdd]("stock.add", "enter a kind of spare", captain),
	command[StockChange]("stock.change", "change what is said of a spare", captain),
	command[StockRetire]("stock.retire", "take a kind of spare off the board", captain),
	command[StockUse]("stock.use", "take pieces out of the box", anyone),
	command[StockCount]("stock.count", "correct the number after counting", anyone).ofPlan(),
	command[CircuitAdd]("circuit.add", "enter a mains circuit", captain),
	command[CircuitChange]("circuit.change", "change what is said of a circuit", captain),
	command[CircuitRetire]("circuit.retire", "take a circuit off the board", captain),
	command[CircuitOff]("circuit.off", "say that a circuit has no power", anyone).forGood(),
	command[CircuitOn]("circuit.on", "say that a circuit is on again, and who said why", leading).forGood(),
	command[ChannelAdd]("channel.add", "enter a charger's channel", captain),
	command[ChannelChange]("channel.change", "change what is said of a channel", captain),
	command[ChannelRetire]("channel.retire", "take a channel off the board", captain),
	command[TemplateAdd]("template.add", "enter a kind of job", captain),
	command[TemplateChange]("template.change", "change what is said of a kind of job", captain),
	command[TemplateRetire]("template.retire", "take a kind of job off the board", captain),
	command[PartAdd]("part.add", "enter a part of a robot", captain),
	command[PartChange]("part.change", "change what is said of a part", captain),
	command[PartRetire]("part.retire", "take a part off the map", captain),
	command[PartBend]("part.bend", "enter how far from straight a part is", anyone),
	command[JointAdd]("joint.add", "enter where parts are fastened to each other", captain),
	command[JointChange]("joint.change", "change what is said of a joint", captain),
	command[JointRetire]("joint.retire", "take a joint off the map", captain),
	command[ModuleAdd]("module.add", "enter a module for a robot's slot", captain),
	command[ModuleChange]("module.change", "change what is said of a module", captain),
	command[ModuleRenew]("module.renew", "say that a new one has taken a module's place", anyone),
	command[ModuleRetire]("module.retire", "take a module off the board", captain),
	command[SetupAdd]("setup.add", "enter a choice of modules", captain),
	command[SetupChange]("setup.change", "change what is said of a setup", captain),
	command[SetupRetire]("setup.retire", "take a setup off the board", captain),
	command[ConstructionAdd]("construction.add", "enter a way to build a robot's structure, to compare", captain),
	command[ConstructionChange]("construction.change", "change what is said of a construction", captain),
	command[ConstructionRetire]("construction.retire", "take a construction out of the comparison", captain),

	command[PackAdd]("pack.add", "enter a pack", captain),
	command[PackChange]("pack.change", "change what is said of a pack", captain),
	command[PackRetire]("pack.retire", "take a pack off the board", captain),
	command[PackMove]("pack.move", "say where a pack is", anyone).forGood(),
	command[PackChoose]("pack.choose", "say which robot's next fight a pack is for", anyone).ofPlan(),
	command[PackSet]("pack.set", "say what state a pack is in", anyone).forGood(),
	command[PackRead]("pack.read", "enter what was read off a pack", anyone).forGood(),
	command[PackCharge]("pack.charge", "put a pack on a charger, with someone who stays", anyone).forGood(),
	command[PackAttend]("pack.attend", "say that a person stays with a pack on a charger", anyone).forGood(),
	command[PackOff]("pack.off", "take a pack off its charger", anyone).forGood(),

	command[FightAdd]("fight.add", "enter a fight of ours", captain).ofPlan(),
	command[FightChange]("fight.change", "change what is said of a fight", captain).ofPlan(),
	command[FightMove]("fight.move", "put a fight at another place in the running order", anyone).ofPlan(),
	command[FightDrop]("fight.drop", "take a fight out of the running order", captain).ofPlan(),
	command[FightNow]("fight.now", "say which fight is on now", anyone),
	command[FightPostpone]("fight.postpone", "say that the event granted a fight the postponement", captain).ofPlan(),
	command[FightPause]("fight.pause", "say that the promised gap did not run while the officials had the robot", anyone).ofPlan(),
	command[FightNotFought]("fight.not-fought", "say that a fight is still to come after all", anyone).forGood(),
	command[FightEnd]("fight.end", "enter how a fight of ours ended", anyone),

	command[DamageReport]("damage.report", "report a damage", anyone),
	command[DamageRegrade]("damage.regrade", "give a damage another grade", anyone),
	command[DamageAccept]("damage.accept", "say by name that a small damage is left as it is", anyone),
	command[DamageOff]("damage.off", "say that the damaged part is off the robot, or on again", anyone),
	command[DamageLook]("damage.look", "look at damage that could hurt people, once it is put right", anyone),
	command[DamageMove]("damage.move", "put a damage on the robot that it is on", anyone),
	command[DamageOutcome]("damage.outcome", "say what became of a damage, and what still works", anyone),
	command[DamageHit]("damage.hit", "say which hit of which fight a damage came from", anyone),
	command[DamagePhoto]("damage.photo", "hang a photo on a damage", anyone),

	command[JobAdd]("job.add", "enter a job", anyone).ofPlan(),
	command[JobChange]("job.change", "change what is said of a job", anyone).ofPlan(),
	command[JobFix]("job.fix", "choose how a job is done", anyone).ofPlan(),
	command[JobAssign]("job.assign", "say who is to do a job", anyone).ofPlan(),
	command[JobStart]("job.start", "start work on a job", anyone),
	command[JobHold]("job.hold", "hold a job and say why", anyone).ofPlan(),
	command[JobResume]("job.resume", "take a held job up again", anyone),
	command[JobJoin]("job.join", "be on a job too that others are at work on", anyone),
	command[JobLeave]("job.leave", "leave a job that others may go on with", anyone),
	command[JobFinish]("job.finish", "say that the hands are done", anyone),
	command[JobReinspect]("job.reinspect", "look again at work no lockout covered, as its lead", anyone),
	command[JobReopen]("job.reopen", "reopen what was finished or left off", anyone),
	command[JobDrop]("job.drop", "take a job off as not needed, as its lead", anyone).ofPlan(),
	command[JobDefer]("job.defer", "leave a fault, with someone who answers for it", leading).ofPlan(),

	command[TagOn]("tag.on", "put a person's own tag on a robot", anyone).forGood(),
	command[TagOff]("tag.off", "take a person's own tag off", anyone).forGood(),
	command[HandsOn]("hands.on", "say that hands are near a robot", anyone).forGood(),
	command[HandsOff]("hands.off", "say that the hands are away", anyone).forGood(),
	command[TagOverride]("tag.override", "take an absent person's tag off, as two", anyone).forGood(),
	command[HandsOverride]("hands.override", "lift an absent person's hands near, as two", anyone).forGood(),
	command[NoticeTake]("notice.take", "acknowledge a notice", anyone).forGood(),
	command[SheetAnswer]("sheet.answer", "answer one line of a safety sheet", anyone).forGood(),
	command[RobotDoubt]("robot.doubt", "set a robot unknown", anyone).forGood(),
	command[RobotStop]("robot.stop", "stop everything on a robot, as event safety", safetyOnly).forGood(),
	command[RobotGoOn]("robot.go-on", "lift a stop, as event safety", safetyOnly).forGood(),
	command[RobotLoadIn]("robot.load-in", "begin a robot's load-in inspection", anyone).forGood(),
	command[RobotList]("robot.list", "begin a robot's overnight or pack-up list", anyone).forGood(),
	command[RobotFit]("robot.fit", "say which setup is on a robot", anyone).forGood(),
	command[RobotWeigh]("robot.weigh", "enter what a scale reads of a robot", anyone).forGood(),
	command[RobotPlace]("robot.place", "say where a robot is", anyone).forGood(),
	command[RobotCloseUp]("robot.close-up", "begin closing a robot up", anyone).forGood(),
	command[RobotReopen]("robot.reopen", "open a robot again", anyone).forGood(),
	command[RobotTest]("robot.test", "power on for one test", anyone).forGood(),
	command[RobotTestEnd]("robot.test-end", "end a test", anyone).forGood(),
	command[RobotLive]("robot.live", "declare a robot energised in the arena", anyone).forGood(),

	command[EmergencyRaise]("emergency.raise", "raise an emergency", anyone).forGood(),
	command[EmergencyEnd]("emergency.end", "say that an emergency is over", leading).forGood(),
	command[AlarmTake]("alarm.take", "say that you are on an alarm", anyone).forGood(),
	command[WorkTake]("work.take", "say that you go to a piece of work", anyone).forGood(),
	command[AlarmShelve]("alarm.shelve", "snooze an alarm for some minutes", anyone).forGood(),

	command[TimeSet]("time.set", "set the board's time", captain).forGood(),
	command[LearnSet]("learn.set", "count the team's own times for a kind of work", captain),
	command[PlanReplace]("plan.replace", "give people another plan to follow", []Role{RoleCaptain, RoleSystem}).ofPlan(),

	command[NoteAdd]("note.add", "write a note", anyone),
	command[NoteSettle]("note.settle", "say what became of what a replaced board held back", leading).forGood(),
	command[Undo]("undo", "take back what you did in the last ten minutes", anyone).forGood(),

	command[ChanceSay]("chance.say", "keep the chance that is shown before a call", boardOnly).forGood(),
	command[ChanceJudge]("chance.judge", "say whether a call was met", boardOnly).forGood(),
	command[BoardStart]("board.start", "the program has started", boardOnly).forGood(),
	command[BoardRestore]("board.restore", "a backup has taken the board's place", boardOnly).forGood(),
	command[BoardTick]("board.tick", "what time brings", boardOnly).forGood(),
}

func command[C Command](name, what string, roles []Role) row {
	return row{name: name, what: what, roles: roles, typ: reflect.TypeFor[C](), decode: func(data []byte) (Command, error) {
		var c C
		err := json.Unmarshal(data, &c, json.RejectUnknownMembers(true))
		return c, err
	}}
}

func (r row) forGood() row { r.final = true; return r }

func (r row) ofPlan() row { r.plan = true; return r }

func rowOf(c Command) (row, bool) {
	i := slices.IndexFunc(table, func(r row) bool { return r.typ == reflect.TypeOf(c) })
	if i < 0 {
		return row{}, false
	}
	return table[i], true
}

// OfPlan tells whether a command is a change of plan, which the forecast may offer.
func OfPlan(c Command) bool {
	r, _ := rowOf(c)
	return r.plan
}

// Name is the command's name on the wire.
func Name(c Command) string {
	r, _ := rowOf(c)
	return r.name
}

func (r row) allows(by Actor) *Refusal {
	if slices.Contains(r.roles, by.Role) {
		return nil
	}
	if by.Role == RoleViewer {
		return refuse(CodeForbidden, "This screen only shows the board. Join with another code to change something.")
	}
	names := make([]string, len(r.roles))
	for i, role := range r.roles {
		names[i] = role.people()
	}
	what, _, _ := strings.Cut(r.what, ", as ")
	return refuse(CodeForbidden, "Only %s may %s. Ask them.", listOr(names), what)
}

// depthMost is how deep a command's JSON may nest.
const depthMost = 16

// Decode reads a command by its name. Unknown and repeated fields, wrong types,
// data behind the object and deep nesting are refused by name.
func Decode(name string, data []byte) (Command, *Refusal) {
	i := slices.IndexFunc(table, func(r row) bool { return r.name == name })
	if i < 0 {
		return nil, &Refusal{Code: CodeUnknown, Field: "do", Sentence: fmt.Sprintf("There is no command %q. The page may be older than the board: refresh it.", name)}
	}
	if len(bytes.TrimSpace(data)) == 0 {
		data = []byte("{}")
	}
	if bad := shallow(data); bad != nil {
		return nil, bad
	}
	c, err := table[i].decode(data)
	if err != nil {
		return nil, malformed(err)
	}
	return c, nil
}

func shallow(data []byte) *Refusal {
	dec := jsontext.NewDecoder(bytes.NewReader(data))
	for {
		if dec.StackDepth() > depthMost {
			return &Refusal{Code: CodeMalformed, Sentence: "The command has too many lists inside lists. Send a simpler one."}
		}
		if _, err := dec.ReadToken(); err != nil {
			return nil
		}
	}
}

func malformed(err error) *Refusal {
	bad := &Refusal{Code: CodeMalformed, Sentence: "The command could not be read: " + err.Error() + "."}
	var semantic *json.SemanticError
	var syntax *jsontext.SyntacticError
	switch {
	case errors.As(err, &semantic):
		bad.Field = field(semantic.JSONPointer)
		bad.Sentence = "The field does not fit."
		if errors.Is(err, json.ErrUnknownName) {
			bad.Sentence = fmt.Sprintf("There is no field %q in this command. Take it out.", bad.Field)
		} else if semantic.GoType != nil {
			bad.Sentence = fmt.Sprintf("The field %q does not take this value.", bad.Field)
		}
	case errors.As(err, &syntax):
		bad.Field = field(syntax.JSONPointer)
		bad.Sentence = "This is not one JSON object with each field once: " + syntax.Err.Error() + "."
	}
	return bad
}

func field(p jsontext.Pointer) string { return strings.TrimPrefix(string(p), "/") }

// Described is one command as /api/commands lists it.
type Described struct {
	Do     string           `json:"do"`
	What   string           `json:"what"`
	Roles  []Role           `json:"roles"`
	Undo   bool             `json:"undo"`
	Seen   bool             `json:"seen"`
	Fields []DescribedField `json:"fields"`
}

// DescribedField is one field of a command: its wire name, its JSON type, and
// whether it may be left out.
type DescribedField struct {
	Name     string `json:"name"`
	Type     string `json:"type"`
	Optional bool   `json:"optional"`
}

// Commands lists every command a device can give, with its fields and types.
func Commands() []Described {
	var list []Described
	guard := reflect.TypeFor[guarded]()
	for _, r := range table {
		if slices.Equal(r.roles, boardOnly) {
			continue
		}
		list = append(list, Described{
			Do: r.name, What: r.what, Roles: r.roles, Undo: !r.final, Seen: r.typ.Implements(guard), Fields: describe(r.typ),
		})
	}
	return list
}

func describe(typ reflect.Type) []DescribedField {
	fields := []DescribedField{}
	for i := range typ.NumField() {
		f := typ.Field(i)
		if f.Anonymous {
			fields = append(fields, describe(f.Type)...)
			continue
		}
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		fields = append(fields, DescribedField{Name: name, Type: wireType(f.Type), Optional: options != ""})
	}
	return fields
}

func wireType(typ reflect.Type) string {
	switch {
	case typ == reflect.TypeFor[Moment]():
		return "time"
	case typ == reflect.TypeFor[CommandID]() || strings.HasSuffix(typ.Name(), "ID"):
		return "id"
	}
	switch typ.Kind() {
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Float64:
		return "number"
	case reflect.Pointer:
		return wireType(typ.Elem())
	case reflect.Slice:
		return "list of " + wireType(typ.Elem())
	}
	return "object"
}
