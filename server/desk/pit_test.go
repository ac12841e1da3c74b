package desk

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
	"mendline/server/store"
)

// pit is a running desk with people to command it. Names are invented.
type pit struct {
	t    testing.TB
	d    *Desk
	stop func() // ends Run and waits for it
	sent func(Request)
	got  func(Request, Answer)

	ada, ben         board.PersonID
	moth             board.RobotID
	bench, box, away board.PlaceID
	pack             board.PackID
	blade            board.StockID
}

// emptyPit is a desk on a new file, or one at o.Path. At cleanup the desk stops,
// and its file must pass the check.
func emptyPit(t testing.TB, o Options) *pit {
	t.Helper()
	if o.Path == "" {
		o.Path = filepath.Join(t.TempDir(), "board.db")
	}
	t.Cleanup(func() {
		r, err := store.Check(o.Path)
		require.NoError(t, err)
		require.NoError(t, r.Err())
	})
	return served(t, o)
}

// served is a desk that runs until stop or cleanup.
func served(t testing.TB, o Options) *pit {
	t.Helper()
	if o.Store.FreeBytesLeast == 0 {
		o.Store.FreeBytesLeast = -1 // the tests do not ask for a roomy disk
	}
	d, err := New(o)
	require.NoError(t, err)
	p := &pit{t: t, d: d}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- d.Run(ctx) }()
	stopped := false
	p.stop = func() {
		t.Helper()
		if stopped {
			return
		}
		stopped = true
		cancel()
		require.NoError(t, <-done)
	}
	t.Cleanup(p.stop)
	return p
}

// newPit is a pit with a captain, a crew member, one robot with a pack, and the
// places they need.
func newPit(t testing.TB, o Options) *pit {
	t.Helper()
	p := emptyPit(t, o)
	p.fill()
	return p
}

// again stops the desk and starts another on the same file, as after a restart.
func (p *pit) again(o Options) *pit {
	p.t.Helper()
	p.stop()
	o.Path = p.d.o.Path
	next := emptyPit(p.t, o)
	q := *p
	q.d, q.stop = next.d, next.stop
	return &q
}

func (p *pit) fill() {
	p.t.Helper()
	all := []board.EnergyKind{board.EnergyWeapon, board.EnergyDrive, board.EnergySpin}
	p.ada = board.PersonID(p.made(p.captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain, Authorised: all}})))
	p.ben = board.PersonID(p.made(p.captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Ben", Role: board.RoleCrew, Authorised: all, Signer: true}})))
	p.bench = p.place("bench 1", board.PlaceBench)
	p.box = p.place("test box", board.PlaceTestBox)
	p.away = p.place("watch shelf", board.PlaceWatch)
	p.captain(board.EventSet{EventFields: board.EventFields{
		Name: "Shed Meet", SpinDownSec: 60, EmergencyContact: "desk by the door", ChargingPlaces: []board.PlaceID{p.away},
		ActivationOrder: []string{"link in", "radio on"}, DeactivationOrder: []string{"radio off", "link out"},
	}})
	p.moth = board.RobotID(p.madeKind(board.KindRobot, p.captain(board.RobotAdd{RobotFields: board.RobotFields{
		Name: "Tin Moth", Number: 1, Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules 2"}, Size: board.Light,
		Energies: []board.Energy{
			{Kind: board.EnergyWeapon, Isolator: "removable link", Reach: board.Outside},
		},
		Lead: p.ada, Driver: p.ada, Hands: 2, BeforeSec: 540, AfterSec: 300, Weight: 1,
	}})))
	p.blade = board.StockID(p.made(p.captain(board.StockAdd{StockFields: board.StockFields{Name: "blade", Count: 2}})))
	p.pack = board.PackID(p.made(p.captain(board.PackAdd{PackFields: board.PackFields{
		Name: "P1", Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.65, ChargeAmpsMost: 0.65, Use: board.UseMain, Fits: []board.RobotID{p.moth},
	}})))
	p.ok(p.asBen(), board.PackMove{Pack: p.pack, Place: p.away})
	p.ok(p.asBen(), board.PackRead{Pack: p.pack, CellVolts: []float64{4.18, 4.18, 4.18, 4.18}, Charged: true})
}

func (p *pit) place(name string, kind board.PlaceKind) board.PlaceID {
	p.t.Helper()
	return board.PlaceID(p.made(p.captain(board.PlaceAdd{PlaceFields: board.PlaceFields{Name: name, Kind: kind}})))
}

func (p *pit) asBen() board.Actor { return board.Actor{Person: p.ben, Role: board.RoleCrew} }

func (p *pit) asAda() board.Actor { return board.Actor{Person: p.ada, Role: board.RoleCaptain} }

func (p *pit) captain(c board.Command) Answer {
	p.t.Helper()
	return p.ok(p.asAda(), c)
}

// request is c as a device would send it, under a new id.
func (p *pit) request(by board.Actor, c board.Command) Request {
	p.t.Helper()
	with, err := json.Marshal(c)
	require.NoError(p.t, err)
	return Request{ID: newCommandID(p.d.Now()), Do: board.Name(c), With: with, Actor: by}
}

func (p *pit) do(r Request) Answer {
	p.t.Helper()
	if p.sent != nil {
		p.sent(r)
	}
	a, err := p.d.Do(context.Background(), r)
	require.NoError(p.t, err)
	if p.got != nil {
		p.got(r, a)
	}
	return a
}

func (p *pit) ok(by board.Actor, c board.Command) Answer {
	p.t.Helper()
	return p.accepted(p.request(by, c))
}

func (p *pit) accepted(r Request) Answer {
	p.t.Helper()
	a := p.do(r)
	if a.Refusal != nil {
		require.FailNow(p.t, r.Do+" was refused", "%+v", *a.Refusal)
	}
	return a
}

func (p *pit) refused(r Request, code board.Code) Answer {
	p.t.Helper()
	a := p.do(r)
	require.NotNil(p.t, a.Refusal, "%s was accepted", r.Do)
	require.Equal(p.t, code, a.Refusal.Code, a.Refusal.Sentence)
	require.NotEmpty(p.t, a.Refusal.Sentence)
	require.Zero(p.t, a.Rev)
	return a
}

func (p *pit) state() board.State { return p.d.View().State }

// made is the id of the noun that the revision put, madeKind of that kind.
func (p *pit) made(a Answer) string {
	p.t.Helper()
	return p.madeKind("", a)
}

func (p *pit) madeKind(kind board.Kind, a Answer) string {
	p.t.Helper()
	for _, key := range sortedKeys(p.line(a.Rev).Put) {
		if k, id := key.Split(); kind == "" || k == kind {
			return id
		}
	}
	p.t.Fatalf("revision %d made no %s", a.Rev, kind)
	return ""
}

func (p *pit) line(rev board.Rev) board.JournalLine {
	p.t.Helper()
	lines := journal(p.t, p.d.Store(), uint64(rev-1))
	require.NotEmpty(p.t, lines)
	require.Equal(p.t, rev, lines[0].Rev)
	return lines[0]
}

// journal reads the lines after a revision, all of them.
func journal(t testing.TB, s *store.Store, after uint64) []board.JournalLine {
	t.Helper()
	var all []board.JournalLine
	for {
		page, err := s.Journal(after, store.LinesMost)
		require.NoError(t, err)
		if len(page) == 0 {
			return all
		}
		for _, l := range page {
			var line board.JournalLine
			require.NoError(t, json.Unmarshal(l.Data, &line))
			all = append(all, line)
			after = l.Rev
		}
	}
}

func (p *pit) power() board.Power { return p.state().Powers[p.moth] }

// seen is what a screen that is up to date says it saw of the robot and keys.
func (p *pit) seen(keys ...board.Key) map[board.Key]board.Rev {
	seen := map[board.Key]board.Rev{}
	for _, k := range append(keys, board.KeyOf(board.KindPower, p.moth)) {
		if n, ok := p.state().Get(k); ok {
			seen[k] = n.Rev()
		}
	}
	return seen
}

// walk answers a sheet line by line, each with its plain answer.
func (p *pit) walk(by board.Actor, list board.SheetList) {
	p.t.Helper()
	for {
		sheet, ok := p.state().Sheet(p.moth, list)
		require.True(p.t, ok, "no %s sheet", list)
		l, open := sheet.OpenLine()
		if !open {
			return
		}
		c := board.SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: board.SaidDone}
		switch l.Kind {
		case board.LinePack:
			c.Pack = p.pack
		case board.LineTold:
			c.Said = board.SaidAlone
		case board.LineNumber:
			c.Number = &l.Most
		}
		r := p.request(by, c)
		r.Seen = p.seen(sheet.Key())
		p.accepted(r)
	}
}

// open walks the robot to work, with Ben's tag on. What stayed on comes off first: nobody
// tries whether it starts while anyone is on it.
func (p *pit) open() {
	p.t.Helper()
	if tag, tagged := p.tag(); tagged {
		p.tagOff(tag)
	}
	for id := range p.state().Hands {
		r := p.request(p.asAda(), board.HandsOff{Hands: id})
		r.Seen = p.seen(board.KeyOf(board.KindHands, id))
		p.accepted(r)
	}
	p.walk(p.asBen(), board.ListMakeSafe)
	p.ok(p.asBen(), board.TagOn{Robot: p.moth})
	if sheet, ok := p.state().Sheet(p.moth, board.ListFirstIn); ok && sheet.State == board.SheetOpen {
		p.walk(p.asBen(), board.ListFirstIn)
	}
	require.Equal(p.t, board.Work, p.power().State)
}

func (p *pit) tagOff(tag board.TagID) {
	p.t.Helper()
	r := p.request(p.asBen(), board.TagOff{Tag: tag})
	r.Seen = p.seen(board.KeyOf(board.KindTag, tag))
	p.accepted(r)
}

func (p *pit) tag() (board.TagID, bool) {
	for id := range p.state().Tags {
		return id, true
	}
	return "", false
}

// test walks the robot from work to a test of so many minutes.
func (p *pit) test(minutes int) {
	p.t.Helper()
	if sheet, ok := p.state().Sheet(p.moth, board.ListInspect); ok && sheet.State == board.SheetOpen {
		p.walk(p.asBen(), board.ListInspect)
	}
	tag, _ := p.tag()
	p.tagOff(tag)
	p.ok(p.asAda(), board.RobotCloseUp{Robot: p.moth})
	p.walk(p.asBen(), board.ListCloseUp)
	r := p.request(p.asAda(), board.RobotTest{Robot: p.moth, What: "spin up", Place: p.box, Minutes: minutes})
	r.Seen = p.seen()
	p.accepted(r)
	require.Equal(p.t, board.Test, p.power().State)
}

func (p *pit) jobAdd(name string) board.JobAdd {
	return board.JobAdd{JobFields: board.JobFields{Robot: p.moth, Name: name, Triage: board.Should, Fixes: []board.Fix{{
		Name: "swap", Way: board.WaySwap, LikelySec: 300, BadSec: 720, Hands: []board.Skill{board.SkillAny}, Station: board.StationNone, Where: board.AtRobot,
		Touches: []board.System{board.SysWeapon}, Lockout: true,
	}}}}
}

// running adds a job and starts it.
func (p *pit) running() board.JobID {
	p.t.Helper()
	id := board.JobID(p.madeKind(board.KindJob, p.ok(p.asBen(), p.jobAdd("swap blade"))))
	p.ok(p.asBen(), board.JobStart{Job: id})
	require.Equal(p.t, board.JobRunning, p.state().Jobs[id].State)
	return id
}

func (p *pit) note(text string) Answer {
	p.t.Helper()
	return p.ok(p.asBen(), board.NoteAdd{Text: text})
}

func (p *pit) join(epoch string, rev board.Rev) *Follower {
	p.t.Helper()
	f, err := p.d.Join(context.Background(), epoch, rev)
	require.NoError(p.t, err)
	p.t.Cleanup(f.Close)
	return f
}

// next takes what waits for a follower, under the test's own end.
func next(t testing.TB, f *Follower) []message {
	t.Helper()
	frames, err := f.Next(t.Context())
	require.NoError(t, err)
	return messages(t, frames)
}

// message is any message of the wire.
type message struct {
	T        string
	Epoch    string
	Rev      board.Rev
	ID       string
	Seq      uint64
	Of       board.Rev
	Whole    bool
	ReadOnly string
	Put      map[board.Key]jsontext.Value
	Del      []board.Key
	List     []Patch
	Refusal  *board.Refusal
	Entity   jsontext.Value
}

func messages(t testing.TB, frames []*Frame) []message {
	t.Helper()
	list := make([]message, len(frames))
	for i, f := range frames {
		require.NoError(t, json.Unmarshal(f.Data, &list[i], json.MatchCaseInsensitiveNames(true)), string(f.Data))
	}
	return list
}

func kinds(list []message) []string {
	var ts []string
	for _, m := range list {
		ts = append(ts, m.T)
	}
	return ts
}
