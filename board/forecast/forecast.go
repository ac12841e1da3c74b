package forecast

import (
	"mendline/board"
	"mendline/board/plan"
	"mendline/board/view"
)

// Forecast is all that is computed from a board at a moment. Every list is in a
// fixed order: robots by call, jobs by number, people by name.
type Forecast struct {
	view.Views
	// At is the moment it is for, Of the revision of the board it saw.
	At      board.Moment
	Of      board.Rev
	Calls   []Call
	Chances []Chance
	// LeaveOff lists what would help, for each robot that is flagged.
	LeaveOff []LeaveOff
	Lanes    []Lane
	Plans    []JobPlan
	Todos    []Todo
	Packs    []PackView
	Alarms   []Alarm
	Scarce   []Scarce
	Absent   []Absent
	// Health is by pack, Energies by robot.
	Health   []PackHealth
	Energies []FightEnergy
	Channels []ChannelView
	Circuits []CircuitView
	// FightPacks is by call.
	FightPacks []FightPacks
	// Replace gives people another plan to follow; nil while theirs stands.
	Replace *board.PlanReplace
	// Say keeps the chances shown before calls.
	Say []board.ChanceSay
	// Judge says of the calls that have come whether they were met.
	Judge []board.ChanceJudge
}

// Flag says whether work is done by the call.
type Flag string

// The flags. Tight: the bad case is past the call. WontFinish: the planned finish
// is. NoCall: there is nothing to be ready for, or its time is not known.
const (
	FlagNone       Flag = "none"
	FlagTight      Flag = "tight"
	FlagWontFinish Flag = "wont-finish"
	FlagNoCall     Flag = "no-call"
)

// CauseKind is what holds work up.
type CauseKind string

// The kinds of cause.
const (
	NoCause       CauseKind = ""
	CausePerson   CauseKind = "person"
	CauseStation  CauseKind = "station"
	CausePart     CauseKind = "part"
	CauseClock    CauseKind = "clock"
	CauseOfCharge CauseKind = "charge"
)

// Cause is the one thing that matters most, in a sentence.
type Cause struct {
	Kind CauseKind `json:"kind"`
	Text string    `json:"text"`
	// Job is the short number of the job it is about, 0 where it is about none.
	Job int `json:"job,omitzero"`
}

// Spread is a moment with its uncertainty: 1 in 10 is before Early, 9 in 10
// before Late.
type Spread struct {
	Early  board.Moment `json:"early"`
	Median board.Moment `json:"median"`
	Late   board.Moment `json:"late"`
}

// Call is a robot's next fight and whether it will be ready (call/<robotID>).
type Call struct {
	Robot    board.RobotID `json:"robot"`
	Fight    board.FightID `json:"fight,omitzero"`
	Arena    string        `json:"arena,omitzero"`
	Number   int           `json:"number,omitzero"`
	Opponent string        `json:"opponent,omitzero"`
	// If says that the fight exists only if another ends so.
	If      board.Result `json:"if,omitzero"`
	StartAt Spread       `json:"startAt,omitzero"`
	CallAt  Spread       `json:"callAt,omitzero"`
	// CallNow: the call is due or past. OnNow: the robot is in the arena.
	CallNow bool `json:"callNow"`
	OnNow   bool `json:"onNow"`
	// HandsOnSec is what is left to work in before the call, overheads taken off;
	// NeedSec what the plan takes from the first job to the end of the last.
	HandsOnSec int `json:"handsOnSec"`
	NeedSec    int `json:"needSec"`
	// ReadyAt is the planned moment at which the robot is ready for the call,
	// ReadyBadAt the bad case; none if a job cannot be done at all.
	ReadyAt    board.Moment `json:"readyAt,omitzero"`
	ReadyBadAt board.Moment `json:"readyBadAt,omitzero"`
	Flag       Flag         `json:"flag"`
	Cause      Cause        `json:"cause"`
	// Uninspected: it has fought since it was last inspected, so that nobody knows
	// yet what there is to do.
	Uninspected bool `json:"uninspected"`
	// ShortSec is how far ReadyAt is past the call.
	ShortSec int `json:"shortSec"`
	// Branches are the fights that depend on a result that is still out, each with
	// its own countdown.
	Branches []Branch `json:"branches"`
	// Postpone is none where the event grants no postponement, or there is no fight
	// to come.
	Postpone *Postpone `json:"postpone,omitzero"`
}

// Branch is a fight that comes only if another is won, or lost, or with If "" the one
// that comes after the next in any case. Both ends are planned for: the plan is made
// against the earlier call until the result is in.
type Branch struct {
	Fight    board.FightID `json:"fight"`
	If       board.Result  `json:"if,omitzero"`
	Arena    string        `json:"arena"`
	Number   int           `json:"number"`
	Opponent string        `json:"opponent,omitzero"`
	CallAt   Spread        `json:"callAt,omitzero"`
	// HandsOnSec is what its call leaves to work in after the fight before it, and
	// ReadyAt when the work that is known now is done and signed for. ShortSec is
	// how far that is past the call.
	HandsOnSec int          `json:"handsOnSec"`
	ReadyAt    board.Moment `json:"readyAt,omitzero"`
	ShortSec   int          `json:"shortSec"`
	Flag       Flag         `json:"flag"`
}

// Postpone is the postponement of a fight, where the event grants one: whether the
// robot may ask for it, and if not, why.
type Postpone struct {
	Sec int    `json:"sec"`
	May bool   `json:"may"`
	Why string `json:"why,omitzero"`
	// Granted is when this fight was given it.
	Granted board.Moment `json:"granted,omitzero"`
}

// Lane is a robot's row on the wall (lane/<robotID>).
type Lane struct {
	Robot board.RobotID `json:"robot"`
	Bars  []Bar         `json:"bars"`
}

// Bar is one job on a lane: solid to EndAt, broken to BadAt.
type Bar struct {
	Job     board.JobID    `json:"job"`
	Number  int            `json:"number"`
	Name    string         `json:"name"`
	Who     []string       `json:"who"`
	State   board.JobState `json:"state"`
	StartAt board.Moment   `json:"startAt"`
	EndAt   board.Moment   `json:"endAt"`
	BadAt   board.Moment   `json:"badAt"`
	Late    bool           `json:"late"`
}

// JobPlan is what the plan says of one job (plan/<jobID>): of every job still to
// be done, and of those that are finished and owe something.
type JobPlan struct {
	Job board.JobID `json:"job"`
	// Fix is the fix planned, an index into the job's fixes; -1 if it is left off
	// or cannot be done. StartAt, EndAt and BadAt are none then.
	Fix     int              `json:"fix"`
	StartAt board.Moment     `json:"startAt,omitzero"`
	EndAt   board.Moment     `json:"endAt,omitzero"`
	BadAt   board.Moment     `json:"badAt,omitzero"`
	People  []board.PersonID `json:"people"`
	Station string           `json:"station,omitzero"`
	Flag    Flag             `json:"flag"`
	Cause   Cause            `json:"cause"`
	// Owes lists what a finished job waits for before it closes.
	Owes []board.JobOwes `json:"owes"`
}

// Act is the one thing a person does next.
type Act string

// The acts. HandsNear, TagOff and CloseUp are moves of the pit that are neither
// a job nor a sheet's line; those from Notice on are beside a robot's work.
const (
	ActTag       Act = "tag"
	ActHandsNear Act = "hands"
	ActStart     Act = "start"
	ActResume    Act = "resume"
	ActJoin      Act = "join"
	ActFinish    Act = "finish"
	ActSheet     Act = "sheet"
	ActFirstIn   Act = "first-in"
	ActCloseUp   Act = "close-up"
	ActTagOff    Act = "tag-off"
	ActNotice    Act = "notice"
	ActRecheck   Act = "recheck"
	ActDecide    Act = "decide"
	ActFetch     Act = "fetch"
	ActRead      Act = "read"
	ActMove      Act = "move"
	ActCharge    Act = "charge"
	ActAttend    Act = "attend"
	ActOff       Act = "off"
	ActCarry     Act = "carry"
	ActFight     Act = "fight"
	ActWait      Act = "wait"
	ActNone      Act = "none"
)

// Todo is a person's next move: one thing (todo/<personID>).
type Todo struct {
	Person board.PersonID `json:"person"`
	Act    Act            `json:"act"`
	Robot  board.RobotID  `json:"robot,omitzero"`
	Job    board.JobID    `json:"job,omitzero"`
	// Fix is the fix that a start begins by, as in [board.JobStart].
	Fix    int            `json:"fix,omitzero"`
	Sheet  board.SheetID  `json:"sheet,omitzero"`
	Line   string         `json:"line,omitzero"`
	Pack   board.PackID   `json:"pack,omitzero"`
	Damage board.DamageID `json:"damage,omitzero"`
	// Work names what the person can say that they have, Taken that they did: nobody else is
	// sent to it.
	Work  string `json:"work,omitzero"`
	Taken bool   `json:"taken,omitzero"`
	Title string `json:"title"`
	Where string `json:"where,omitzero"`
	Why   string `json:"why,omitzero"`
	// Until is the latest finish that still makes the call.
	Until board.Moment `json:"until,omitzero"`
	// LikelySec and BadSec are the two times of the fix, from its start.
	LikelySec int `json:"likelySec,omitzero"`
	BadSec    int `json:"badSec,omitzero"`
	// Told says who held or finished a job that the person was at work on.
	Told string `json:"told,omitzero"`
}

// PackView is a pack in one word (packview/<packID>).
type PackView struct {
	Pack board.PackID  `json:"pack"`
	Word string        `json:"word"`
	For  board.RobotID `json:"for,omitzero"`
	// It is charged at ReadyAt, one time in ten before EarlyAt and one after BadAt, if
	// it goes on a channel as soon as it is cool; none where nobody can say. A
	// forecast: only a reading makes it charged.
	EarlyAt board.Moment `json:"earlyAt,omitzero"`
	ReadyAt board.Moment `json:"readyAt,omitzero"`
	BadAt   board.Moment `json:"badAt,omitzero"`
	// It is cool enough to charge at CoolAt, nine times in ten by CoolBadAt.
	CoolAt    board.Moment `json:"coolAt,omitzero"`
	CoolBadAt board.Moment `json:"coolBadAt,omitzero"`
	// TakesSec is how long it is on the quickest channel that takes it, from now.
	TakesSec    int `json:"takesSec,omitzero"`
	TakesBadSec int `json:"takesBadSec,omitzero"`
	// ReadAt is the reading that this rests on; Again says why another is due.
	ReadAt  board.Moment `json:"readAt,omitzero"`
	Again   string       `json:"again,omitzero"`
	Caution string       `json:"caution,omitzero"`
}

// Class says how much an alarm matters.
type Class string

// The classes: people; a fight at risk; do soon.
const (
	ClassA Class = "A"
	ClassB Class = "B"
	ClassC Class = "C"
)

// Alarm is something abnormal that needs one person's act (alarm/<slug>).
type Alarm struct {
	// Slug names the alarm while it lasts: its class, a dash, and what it is about.
	Slug  string        `json:"-"`
	Class Class         `json:"class"`
	Robot board.RobotID `json:"robot,omitzero"`
	What  string        `json:"what"`
	// Act begins with the name of who does it; in an emergency it is the officials'
	// card.
	Act string `json:"act"`
	// Since is 0 where the board does not know since when.
	Since board.Moment `json:"since,omitzero"`
	// Sheet and Line are where the act is an answer.
	Sheet board.SheetID `json:"sheet,omitzero"`
	Line  string        `json:"line,omitzero"`
	// Count is how many alarms of a robot this one stands for in a flood.
	Count int `json:"count,omitzero"`
	// TakenBy has seen to it since TakenAt: it has stopped sounding.
	TakenBy board.PersonID `json:"takenBy,omitzero"`
	TakenAt board.Moment   `json:"takenAt,omitzero"`
	// ShelvedBy put it aside until ShelvedUntil; never one of class A.
	ShelvedBy    board.PersonID `json:"shelvedBy,omitzero"`
	ShelvedUntil board.Moment   `json:"shelvedUntil,omitzero"`
	// Stale: it has stood for longer than one fight, or an hour.
	Stale bool `json:"stale,omitzero"`
}

// Make computes the forecast of s at at. The same board, moment, seed and budget
// give the same forecast. Budget is the planner's work, in schedules: the plan has a
// share of it, and so has each remedy that is judged.
func Make(s board.State, at board.Moment, seed uint64, budget plan.Budget) Forecast {
	at = forMoment(at)
	all := view.RecordsOf(s)
	on := all.Learnt(s)
	robots := outlooks(s, at, on)
	budget = each(budget)
	c := makeSchedule(pose(s, at, robots, on), seed, budget)
	flags := c.flags()
	calls := c.calls()
	f := Forecast{
		At: at, Of: s.Rev, Views: view.Of(s, all, at),
		Calls: calls, Chances: c.chances(calls), LeaveOff: c.leaveOff(calls, seed, budget), Lanes: c.lanes(flags), Plans: c.plans(flags),
		Scarce: c.scarce(), Absent: c.absences(), Replace: c.replacement(),
	}
	f.Packs, f.Health, f.Energies = c.packs.views(c.sets), c.packs.health(), c.packs.fightEnergies(robots)
	later := c.lateSets()
	charges := c.allCharges(later, seed)
	f.Channels, f.Circuits = c.chargeViews(charges)
	f.Todos = c.todos(f.Channels)
	f.FightPacks = c.fightPacks(later, charges)
	f.Alarms, f.Judge = c.alarms(f.Calls, f.Todos), toJudge(s, f.Calls)
	f.Say = toSay(s, at, f.Calls, f.Chances)
	return f
}
