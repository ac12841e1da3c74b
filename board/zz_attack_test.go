package board_test

import (
	"fmt"
	"testing"

	. "mendline/board"
)

func (p *pit) say(t *testing.T, what string, by Actor, c Command) bool {
	t.Helper()
	defer func() {
		if e := recover(); e != nil {
			t.Logf("%-40s PANIC %v", what, e)
		}
	}()
	_, r := p.try(by, c)
	if r != nil {
		t.Logf("%-40s REFUSED r%d %s/%s: %s", what, r.Rule, r.Code, r.Field, r.Sentence)
		return false
	}
	t.Logf("%-40s ok  state=%s", what, p.state())
	return true
}

func TestZZReopenTest(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.say(t, "reopen", p.as(p.ada), RobotReopen{Robot: p.moth})
	p.say(t, "test while reopening", p.as(p.ada), RobotTest{Robot: p.moth, What: "x", Place: p.box, Minutes: 5})
	for i := 0; i < 2; i++ {
		h, _ := p.s.Sheet(p.moth, ListReopen)
		l, ok := h.OpenLine()
		if ok {
			p.say(t, "answer "+l.ID, p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: l.ID, Said: SaidDone})
		}
	}
}

func TestZZItMoved(t *testing.T) {
	p := newPit(t)
	for p.state() != Isolated {
		p.answer(p.as(p.ben), ListMakeSafe)
	}
	h, _ := p.s.Sheet(p.moth, ListMakeSafe)
	p.say(t, "it moved", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "try", Said: SaidNo})
	p.say(t, "lock not in", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "lock", Said: SaidNo})
}

func TestZZCloseUpLinkNotOut(t *testing.T) {
	p := newPit(t)
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	h, _ := p.s.Sheet(p.moth, ListCloseUp)
	p.say(t, "link not out in close-up", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "link-1", Said: SaidNo})
	p.say(t, "dee tags on", p.as(p.dee), TagOn{Robot: p.moth})
}

func TestZZReinspectReopen(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.now += 1000
	p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<21), At: p.now - 3600_000})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.ok(p.as(p.ada), JobReinspect{Job: job})
	p.say(t, "reopen", p.as(p.ben), JobReopen{Job: job})
	p.now += 60_000
	p.ok(Itself(), BoardStart{Why: "restart"})
	p.now += 600_000
	p.makeSafeAgain()
	p.now += 1000
	_, r := p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<24), At: p.now - 300_000})
	t.Log(r, p.jobState(job))
	p.say(t, "finish", p.as(p.ben), JobFinish{Job: job})
	t.Log(p.jobState(job), p.s.Jobs[job].Stints, p.s.Powers[p.moth].Covered)
}

func TestZZFixesStripped(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.now += 1000
	p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<21), At: p.now - 3600_000})
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	f := p.s.Jobs[job].JobFields
	fx := f.Fixes[0]
	fx.Lockout, fx.PackOut = false, false
	f.Fixes = []Fix{fx}
	p.say(t, "strip lockout off a worked job", p.as(p.ben), JobChange{Job: job, JobFields: f})
	p.say(t, "finish", p.as(p.ben), JobFinish{Job: job})
	t.Log(p.jobState(job), p.s.Owes(p.s.Jobs[job], p.now))
}

func TestZZRegradeGX(t *testing.T) {
	p := newPit(t)
	p.open()
	d := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields{Robot: p.moth, Part: "blade", Grade: G3}})))
	fx := swapBlade(p.blade)
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields{Robot: p.moth, Name: "x", Triage: Should, Fixes: []Fix{fx}, Damages: []DamageID{d}}})))
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.dee), DamageRegrade{Damage: d, Grade: GX})
	p.say(t, "tag off", p.as(p.ben), TagOff{Tag: p.tagOf(p.ben)})
	p.say(t, "restart", Itself(), BoardStart{Why: "restart"})
	p.say(t, "doubt", p.as(p.dee), RobotDoubt{Robot: p.moth, Why: "smoke"})
	p.now += 24 * 3600_000
	p.say(t, "tick", Itself(), BoardTick{})
	p.say(t, "hands", p.as(p.kit), HandsOn{Robot: p.moth})
}

func TestZZUndoDamageDangling(t *testing.T) {
	p := newPit(t)
	p.open()
	ch := p.ok(p.as(p.ben), DamageReport{DamageFields{Robot: p.moth, Part: "blade", Grade: G3}})
	d := DamageID(p.made(ch))
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields{Robot: p.moth, Name: "x", Triage: Must, Fixes: []Fix{swapBlade(p.blade)}, Damages: []DamageID{d}}})))
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.say(t, "undo damage", p.as(p.ben), Undo{Command: ch.Done.ID})
	p.say(t, "restart", Itself(), BoardStart{Why: "restart"})
	p.say(t, "finish", p.as(p.ben), JobFinish{Job: job})
	p.say(t, "tag off", p.as(p.ben), TagOff{Tag: p.tagOf(p.ben)})
}

func TestZZUndoPersonDangling(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	all := []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin}
	ch := p.captain(PersonAdd{PersonFields{Name: "Zed", Role: RoleCrew, Authorised: all}})
	zed := PersonID(p.made(ch))
	p.say(t, "zed tag", p.as(zed), TagOn{Robot: p.moth})
	p.say(t, "undo person", p.as(p.ada), Undo{Command: ch.Done.ID})
	_, ok := p.s.People[zed]
	t.Log("zed exists", ok, "tag", p.tagOf(zed))
}

func TestZZUndoPlaceDangling(t *testing.T) {
	p := newPit(t)
	ch := p.captain(PlaceAdd{PlaceFields{Name: "arena 2", Kind: PlaceArena}})
	a2 := PlaceID(p.made(ch))
	p.say(t, "place", p.as(p.ben), RobotPlace{Robot: p.moth, Place: a2})
	p.say(t, "undo place", p.as(p.ada), Undo{Command: ch.Done.ID})
	p.say(t, "restart", Itself(), BoardStart{Why: "restart"})
	p.say(t, "doubt", p.as(p.ben), RobotDoubt{Robot: p.moth, Why: "x"})
	h, _ := p.s.Sheet(p.moth, ListMakeSafe)
	for _, l := range h.Lines {
		p.say(t, l.ID, p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: l.ID, Said: SaidDone})
	}
	// stock
	ch = p.captain(StockAdd{StockFields{Name: "hub", Count: 2}})
	st := StockID(p.made(ch))
	fx := swapBlade(st)
	fx.Lockout, fx.PackOut, fx.Where = false, false, OffRobot
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields{Robot: p.moth, Name: "x", Triage: Must, Fixes: []Fix{fx}}})))
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.say(t, "undo stock", p.as(p.ada), Undo{Command: ch.Done.ID})
	p.say(t, "finish", p.as(p.ben), JobFinish{Job: job})
}

func insidePit(t *testing.T) *pit {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Energies = []Energy{{Kind: EnergyDrive, Isolator: "inner plug", Reach: Inside}, {Kind: EnergyGas, Isolator: "bleed screw", Reach: Inside}}
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	all := []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin, EnergyGas}
	for _, id := range []PersonID{p.ada, p.ben, p.dee} {
		pf := p.s.People[id].PersonFields
		pf.Authorised = all
		p.captain(PersonChange{Person: id, PersonFields: pf})
	}
	return p
}

func TestZZCloseReopenSkipsFirstIn(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.say(t, "close-up", p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.say(t, "tag ben in closing-up", p.as(p.ben), TagOn{Robot: p.moth})
	p.say(t, "tag dee in closing-up", p.as(p.dee), TagOn{Robot: p.moth})
	p.say(t, "reopen", p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	h, ok := p.s.Sheet(p.moth, ListFirstIn)
	t.Log("after reopen", p.state(), "first-in", ok, h.State, "P1 in", p.s.Packs[p.p1].Robot != "")
	fx := swapBlade(p.blade)
	fx.PackOut = false
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields{Robot: p.moth, Name: "x", Triage: Must, Fixes: []Fix{fx}}})))
	p.say(t, "start lockout job", p.as(p.ben), JobStart{Job: job})
	p.say(t, "finish", p.as(p.ben), JobFinish{Job: job})
	t.Log(p.jobState(job), p.s.Owes(p.s.Jobs[job], p.now))
}

func TestZZInsideReopenDeadEnd(t *testing.T) {
	p := insidePit(t)
	p.makeSafe()
	p.say(t, "close-up", p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.say(t, "reopen", p.as(p.ada), RobotReopen{Robot: p.moth})
	_, ok := p.s.Sheet(p.moth, ListReopen)
	t.Log("reopen sheet", ok, p.state())
	p.say(t, "close-up", p.as(p.ada), RobotCloseUp{Robot: p.moth})
	h, _ := p.s.Sheet(p.moth, ListCloseUp)
	p.say(t, "close-up line", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "inside", Said: SaidDone})
	p.say(t, "gas w/o a number", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "inside", Said: SaidDone})
}

func TestZZGasNoNumber(t *testing.T) {
	p := insidePit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	h, _ := p.s.Sheet(p.moth, ListFirstIn)
	p.say(t, "gas without number", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "gas-2", Said: SaidDone})
	_, r := p.tryAsk(p.as(p.dee), TagOn{Robot: p.moth}, Ask{ID: newID(p.now, 1<<30), At: p.now - 11_000})
	t.Log("late second tag with first-in open:", r, p.state(), len(p.s.Tags))
}

func TestZZRestartTwoTagsFirstIn(t *testing.T) {
	p := insidePit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.walk(p.as(p.ben), ListFirstIn)
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	p.ok(Itself(), BoardStart{Why: "restart"})
	p.makeSafeAgain()
	h, _ := p.s.Sheet(p.moth, ListFirstIn)
	t.Log(p.state(), len(p.s.Tags), h.State)
}

func TestZZNamelessCrewLive(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Driver = ""
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	p.open()
	p.ready()
	p.say(t, "suspect pack in a ready robot", p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect, Why: "swollen"})
	d := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields{Robot: p.moth, Part: "blade", Grade: GX}})))
	p.ok(p.as(p.ben), JobAdd{JobFields{Robot: p.moth, Name: "x", Triage: Must, Fixes: []Fix{swapBlade(p.blade)}, Damages: []DamageID{d}}})
	t.Log(p.state())
	p.say(t, "nameless crew live", Actor{Role: RoleCrew}, RobotLive{Robot: p.moth, Place: p.arena})
	t.Log(p.s.Powers[p.moth].By == p.dee)
}

func TestZZForfeitThenWon(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Forfeited})
	p.say(t, "correct to won", p.as(p.ben), FightEnd{Fight: f, Result: Won})
}

func TestZZMisTapFightNow(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	ch := p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
	p.say(t, "undo mistap", p.as(p.ben), Undo{Command: ch.Done.ID})
	p.say(t, "move", p.as(p.ben), FightMove{Fight: f, Arena: "north", Number: 9})
	p.say(t, "drop", p.as(p.ada), FightDrop{Fight: f})
	ch = p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Lost})
	p.say(t, "undo end", p.as(p.ben), Undo{Command: ch.Done.ID})
	p.say(t, "add again", p.as(p.ada), FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})
}

func TestZZOffset(t *testing.T) {
	p := newPit(t)
	p.open()
	p.now = morning + 11*3600_000
	p.say(t, "set the event's offset", p.as(p.ada), EventSet{EventFields{Name: "Open", OffsetMin: 600}})
}

func TestZZLateDoneOverridesNo(t *testing.T) {
	p := newPit(t)
	h, _ := p.s.Sheet(p.moth, ListMakeSafe)
	at := p.now
	p.now += 600_000
	p.ok(p.as(p.dee), SheetAnswer{Sheet: h.ID, Line: "lock", Said: SaidNo})
	p.now += 600_000
	_, r := p.tryAsk(p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "lock", Said: SaidDone}, Ask{ID: newID(p.now, 1<<25), At: at})
	h = p.s.Sheets[h.ID]
	a, ok := h.Answered("lock")
	t.Log(r, a.Said, ok)
}

func TestZZRetiredPackIn(t *testing.T) {
	p := newPit(t)
	p.open()
	p.say(t, "retire p2", p.as(p.ada), PackRetire{Pack: p.p2})
	p.say(t, "p2 into robot", p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth})
	job := p.job()
	p.say(t, "start pack-out job", p.as(p.ben), JobStart{Job: job})
	p.say(t, "finish", p.as(p.ben), JobFinish{Job: job})
	t.Log(p.jobState(job))
	p.ok(p.as(p.ben), PackSet{Pack: p.p1, State: PackSuspect})
	p.say(t, "retire suspect p1", p.as(p.ada), PackRetire{Pack: p.p1})
	p.say(t, "add P1 anew", p.as(p.ada), PackAdd{p.s.Packs[p.p1].PackFields})
}

func TestZZFirstInMovesOtherRobotsPack(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number = "Clay Wasp", 2
	wasp := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{f})))
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.ok(p.as(p.dee), PackMove{Pack: p.p1, Robot: wasp})
	p.walk(p.as(p.ben), ListFirstIn)
	t.Log("P1 in wasp:", p.s.Packs[p.p1].Robot == wasp, p.s.Packs[p.p1].Place == p.watch)
}

func TestZZSentences(t *testing.T) {
	p := newPit(t)
	p.say(t, "doubt without why", p.as(p.ben), RobotDoubt{Robot: p.moth})
	p.say(t, "doubt trailing space", p.as(p.ben), RobotDoubt{Robot: p.moth, Why: "smoke "})
	job := p.job()
	p.say(t, "finish open", p.as(p.ben), JobFinish{Job: job})
	p.say(t, "resume open", p.as(p.ben), JobResume{Job: job})
	p.say(t, "start unknown", p.as(p.ben), JobStart{Job: job})
	p.open()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.say(t, "defer running", p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "x"})
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	p.say(t, "start held", p.as(p.ben), JobStart{Job: job})
	ch := p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.bench})
	p.say(t, "undo pack move", p.as(p.ben), Undo{Command: ch.Done.ID})
	p.say(t, "pack suspect, why with space", p.as(p.ben), PackSet{Pack: p.p1, State: PackSuspect, Why: "puffed "})
	p.say(t, "board team load", p.as(p.ada), TeamLoad{})
	p.ok(p.as(p.ben), JobResume{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	ch = p.ok(p.as(p.ben), JobReopen{Job: job})
	p.say(t, "undo reopen", p.as(p.ben), Undo{Command: ch.Done.ID})
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.walk(p.as(p.ben), ListInspect)
	p.tagOff(p.as(p.ben), p.ben)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	h, _ := p.s.Sheet(p.moth, ListReady)
	p.say(t, "mass 0", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "mass", Said: SaidDone})
	p.say(t, "mass 1360.9", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "mass", Said: SaidDone, Number: 1360.9})
	p.say(t, "test", p.as(p.ada), RobotTest{Robot: p.moth, What: "x", Place: p.box, Minutes: 5})
	p.say(t, "retire in test", p.as(p.ada), RobotRetire{Robot: p.moth})
	_ = fmt.Sprint
}

func TestZZAtRobotWithoutLockout(t *testing.T) {
	p := newPit(t)
	fx := swapBlade(p.blade)
	fx.Lockout, fx.PackOut = false, false
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.kit), JobAdd{JobFields{Robot: p.moth, Name: "x", Triage: Must, Fixes: []Fix{fx}}})))
	p.say(t, "hands in an unknown robot", p.as(p.kit), JobStart{Job: job})
}

func TestZZLateStartLost(t *testing.T) {
	p := newPit(t)
	p.open()
	fx := swapBlade(p.blade)
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields{Robot: p.moth, Name: "x", Triage: Could, Fixes: []Fix{fx}}})))
	p.now += 60_000
	at := p.now
	p.now += 60_000
	p.ready()
	p.now += 60_000
	_, r := p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<26), At: at})
	t.Log("late start, pack in by now:", r)
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	_, r = p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<27), At: at})
	t.Log("late start, live by now:", r)
}

func TestZZInspectInTest(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "x", Place: p.box, Minutes: 5})
	h, _ := p.s.Sheet(p.moth, ListInspect)
	p.say(t, "inspect in test", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: h.Lines[0].ID, Said: SaidDone})
	p.say(t, "job reinspect", p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: h.Lines[0].ID, Said: SaidNo})
}

func TestZZLoneCaptainReinspect(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	p.walk(p.as(p.ada), ListFirstIn)
	job := p.job()
	p.now += 1000
	p.tryAsk(p.as(p.ada), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<21), At: p.now - 3600_000})
	p.ok(p.as(p.ada), JobFinish{Job: job})
	p.say(t, "ada", p.as(p.ada), JobReinspect{Job: job})
	p.say(t, "dee (safety)", p.as(p.dee), JobReinspect{Job: job})
	p.say(t, "nia (signer)", p.as(p.nia), JobReinspect{Job: job})
}

func TestZZAuthorityGone(t *testing.T) {
	p := newPit(t)
	p.open()
	p.say(t, "ben becomes guest", p.as(p.ada), PersonChange{Person: p.ben, PersonFields: PersonFields{Name: "Ben", Role: RoleCrew, Guest: true}})
	p.say(t, "ben starts", p.as(p.ben), JobStart{Job: p.job()})
	t.Log(p.state())
	p.say(t, "tag off", p.as(p.ben), TagOff{Tag: p.tagOf(p.ben)})
}
