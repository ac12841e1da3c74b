package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Each rule stands here, or beside its noun's tests, with what it refuses and the
// twin that differs in that one point and is accepted.

func TestRule1ARobotIsUnknownUntilDeclaredToday(t *testing.T) {
	p := newPit(t)
	p.open()
	require.Equal(t, Work, p.state())
	p.now = morning + 18*3600_000 + 59*60_000 // 03:59 the next day
	p.ok(Itself(), BoardTick{})
	require.Equal(t, Work, p.state(), "still the same event day")
	p.now = morning + 19*3600_000 // 04:00
	p.ok(Itself(), BoardTick{})
	require.Equal(t, Unknown, p.state())
}

func TestRule1AnyCommandAfterFourFindsTheRobotUnknown(t *testing.T) {
	p := newPit(t)
	p.open()
	p.now = morning + 24*3600_000
	p.ok(p.as(p.ben), NoteAdd{Text: "morning"})
	require.Equal(t, Unknown, p.state())
}

func TestRule2BackFromTestIsUnknown(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
	require.Equal(t, Test, p.state())
	p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
	require.Equal(t, Unknown, p.state())
}

func TestRule2LeavingTheArenaIsUnknown(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
	require.Equal(t, Unknown, p.state())
}

func TestRule3StatesRestOnTheirSheets(t *testing.T) {
	p := newPit(t)
	p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 3)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	p.refused(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "try", Said: SaidDone}, 3)
	p.refused(p.as(p.ada), RobotCloseUp{Robot: p.moth}, 3)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
}

func TestRule3ARobotWithoutAListOfEnergiesStaysUnknown(t *testing.T) {
	p := newPit(t)
	fields := p.s.Robots[p.moth].RobotFields
	fields.Energies = nil
	p.captain(RobotChange{Robot: p.moth, RobotFields: fields, Reason: "nobody has said"})
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	l, _ := sheet.OpenLine()
	p.refused(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone}, 3)
}

func TestRule4VerifyingNeedsAuthorityForEachEnergy(t *testing.T) {
	p := newPit(t)
	fay := p.person(PersonFields{Name: "Fay", Role: RoleCrew, Authorised: []EnergyKind{EnergyDrive}})
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	p.refused(p.as(fay), SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: SaidDone}, 4)
	p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: SaidDone})
}

func TestRule4ASecondVerifierIsAskedForWhereTheRobotWantsOne(t *testing.T) {
	p := newPit(t)
	fields := p.s.Robots[p.moth].RobotFields
	fields.SecondVerifier = true
	p.captain(RobotChange{Robot: p.moth, RobotFields: fields})
	for p.state() != Isolated {
		p.answer(p.as(p.ben), ListMakeSafe)
	}
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	p.refused(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "try", Said: SaidDone}, 4)
	p.ok(p.as(p.dee), SheetAnswer{Sheet: sheet.ID, Line: "try", Said: SaidDone})
}

func TestRule5ATagBelongsToWhoProvesToBeThere(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.refused(Actor{Role: RoleCrew}, TagOn{Robot: p.moth}, 5)
	p.refused(p.as(p.ben), TagOn{Robot: p.moth, Person: p.dee}, 5)
	p.refused(p.as(p.kit), TagOn{Robot: p.moth}, 5)
	shared := p.as(p.ben)
	shared.Proved = []PersonID{p.dee}
	p.ok(shared, TagOn{Robot: p.moth, Person: p.dee})
	require.NotEmpty(t, p.tagOf(p.dee))
}

func TestRule5OnlyItsOwnerTakesATagOff(t *testing.T) {
	p := newPit(t)
	p.open()
	_, bad := p.tagOff(p.as(p.ada), p.ben)
	require.NotNil(t, bad)
	require.Equal(t, 5, bad.Rule)
	sentenceHas(t, bad, "Ben")
	shared := p.as(p.ada)
	shared.Proved = []PersonID{p.ben}
	_, bad = p.tagOff(shared, p.ben)
	require.Nil(t, bad)
}

func TestRule7NoPowerWhileAMinorsHandsAreNear(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	near := HandsID(p.made(p.ok(p.as(p.kit), HandsOn{Robot: p.moth})))
	bad := p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, 7)
	sentenceHas(t, bad, "Kit")
	p.ok(p.as(p.kit), HandsOff{Hands: near})
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
}

func TestRule7NoSignatureWhileATagIsOn(t *testing.T) {
	p := newPit(t)
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	for {
		sheet, _ := p.s.Sheet(p.moth, ListReady)
		if l, _ := sheet.OpenLine(); l.Kind == LineSign {
			p.refused(p.as(p.dee), SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone}, 7)
			break
		}
		p.answer(p.as(p.ben), ListReady)
	}
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.answer(p.as(p.dee), ListReady)
	require.Equal(t, Ready, p.state())
}

func TestRule7ATagThatComesLateFromAPhoneMakesTheRobotUnknown(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	at := p.now - 60_000
	_, bad := p.tryAsk(p.as(p.ben), TagOn{Robot: p.moth}, Ask{ID: newID(p.now, 1<<20)})
	require.NotNil(t, bad, "at once it is refused")
	require.Equal(t, 7, bad.Rule)
	_, bad = p.tryAsk(p.as(p.ben), TagOn{Robot: p.moth}, Ask{ID: newID(p.now, 1<<20), At: at})
	require.Nil(t, bad)
	require.Equal(t, Unknown, p.state())
	require.True(t, p.s.Powers[p.moth].Conflict)
}

func TestRule7HandsNearAreNeverRefused(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	require.Equal(t, Unknown, p.state())
}

func TestRule8WorkOutsideALockoutNeedsTheLeadsLook(t *testing.T) {
	p := newPit(t)
	job := p.job()
	start := p.now // the robot is unknown
	p.now += 600_000
	p.open()
	_, bad := p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<21), At: start})
	require.Nil(t, bad)
	require.Equal(t, Unknown, p.state(), "hands were in it when it was verified")
	require.Equal(t, JobHeld, p.jobState(job))
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.makeSafeAgain()
	require.Equal(t, JobFinished, p.jobState(job), "finished, and not closed")
	require.NotEmpty(t, p.owes(job))
	_, bad = p.try(p.as(p.ben), JobReinspect{Job: job})
	require.NotNil(t, bad)
	p.ok(p.as(p.ada), JobReinspect{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
}

func TestRule8CoveredWorkClosesByItself(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
}

func TestRule9APackInTheRobotKeepsTheJobOpen(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.jobWith(p.as(p.ben), Must, packsOut(p.blade))
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
	p.refused(p.as(p.ben), JobStart{Job: job}, 9)
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(t, JobFinished, p.jobState(job))
	sentence := p.owes(job)[0]
	require.Contains(t, sentence, "pack")
}

// packsOut is a fix off the robot that needs the packs out and no lockout.
func packsOut(blade StockID) Fix {
	fix := swapBlade(blade)
	fix.Where, fix.Lockout, fix.Touches = OffRobot, false, nil
	return fix
}

func TestRule10HoldsBackClosedAndNeverFinished(t *testing.T) {
	p := newPit(t)
	off := swapBlade(p.blade)
	off.Where, off.Lockout, off.PackOut, off.Station = OffRobot, false, false, StationGrind
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "dress the burrs", Triage: Should, Fixes: []Fix{off},
	}})))
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(t, JobFinished, p.jobState(job), "its sheets are open")
	p.open()
	require.Equal(t, JobClosed, p.jobState(job), "it closes by itself when they are answered")
}

func TestRule10APackThatCameBackHasToBePlacedOrSetAside(t *testing.T) {
	for name, place := range map[string]func(p *pit){
		"placed":    func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch}) },
		"set aside": func(p *pit) { p.ok(p.as(p.ben), PackSet{Pack: p.p1, State: PackSuspect, Why: "swollen"}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			job := p.job()
			p.captain(JobChange{Job: job, JobFields: p.offRobot(job), Reason: "it is off"})
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.ok(p.as(p.ben), JobFinish{Job: job})
			p.makeSafe()
			require.Equal(t, JobFinished, p.jobState(job))
			p.ok(p.as(p.ben), TagOn{Robot: p.moth})
			place(p)
			p.walk(p.as(p.ben), ListFirstIn)
			require.Equal(t, JobClosed, p.jobState(job))
		})
	}
}

func (p *pit) offRobot(id JobID) JobFields {
	f := p.s.Jobs[id].JobFields
	fix := f.Fixes[0]
	fix.Where, fix.Lockout, fix.PackOut = OffRobot, false, false
	f.Fixes = []Fix{fix}
	return f
}

func TestRule11NothingBlockingIsOpenAtTheSignature(t *testing.T) {
	p := newPit(t)
	p.open()
	p.job()
	p.refused(p.as(p.ada), RobotCloseUp{Robot: p.moth}, 11)
}

func TestRule12TheLastRepairerDoesNotSign(t *testing.T) {
	p := newPit(t)
	p.captain(PersonChange{Person: p.ben, PersonFields: PersonFields{
		Name: "Ben", Role: RoleCrew, Signer: true, Authorised: []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin},
	}, Reason: "signs from now on"})
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	for i := 0; i < 3; i++ {
		p.answer(p.as(p.ben), ListReady)
	}
	sheet, _ := p.s.Sheet(p.moth, ListReady)
	p.refused(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "sign", Said: SaidDone}, 12)
	p.ok(p.as(p.nia), SheetAnswer{Sheet: sheet.ID, Line: "sign", Said: SaidDone})
	require.Equal(t, Ready, p.state())
}

func TestRule13ASuspectPackNeverComesBack(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect, Why: "dented"})
	p.refused(p.as(p.ada), PackSet{Pack: p.p2, State: PackWaiting}, 13)
	p.refused(p.as(p.ada), PackMove{Pack: p.p2, Robot: p.moth}, 13)
	p.refused(p.as(p.ada), PackRead{Pack: p.p2, CellVolts: []float64{4.1, 4.1, 4.1, 4.1}, Charged: true}, 13)
	p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackQuarantined})
	p.refused(p.as(p.ada), PackSet{Pack: p.p2, State: PackSuspect}, 13)
	p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackGone})
}

func TestRule16And17ATestHasAPlaceAndAnEnd(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.bench, Minutes: 5}, 16)
	p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 0}, 17)
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
	require.Equal(t, p.now+5*60_000, Due(p.s, p.now))
	p.now += 5 * 60_000
	p.ok(Itself(), BoardTick{})
	require.Equal(t, Unknown, p.state())
}

func TestRule18NothingMovesARobotTowardEnergyByItself(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	for name, c := range map[string]Command{
		"restart": BoardStart{Why: "restart"},
		"tick":    BoardTick{},
	} {
		ch, bad := Apply(p.s, c, Ask{ID: newID(p.now, 1<<22)}, Itself(), p.now)
		require.Nil(t, bad, name)
		power := p.s.With(ch).Powers[p.moth]
		require.Contains(t, []PowerState{Unknown, Ready}, power.State, name)
	}
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	p.ok(Itself(), BoardStart{Why: "restart"})
	require.Equal(t, Unknown, p.state())
}

func TestRule19AReleaseSaysWhatItSaw(t *testing.T) {
	p := newPit(t)
	p.open()
	tag := p.tagOf(p.ben)
	_, bad := p.tryAsk(p.as(p.ben), TagOff{Tag: tag}, Ask{ID: newID(p.now, 1<<23)})
	require.NotNil(t, bad)
	require.Equal(t, CodeStale, bad.Code)
	_, bad = p.tryAsk(p.as(p.ben), TagOff{Tag: tag}, Ask{ID: newID(p.now, 1<<23), Seen: map[Key]Rev{KeyOf(KindTag, tag): 1}})
	require.Equal(t, CodeStale, bad.Code)
	require.Equal(t, KeyOf(KindTag, tag), bad.Now)
	_, bad = p.tryAsk(p.as(p.ben), TagOff{Tag: tag}, Ask{ID: newID(p.now, 1<<23), Seen: map[Key]Rev{KeyOf(KindTag, tag): p.s.Tags[tag].V}})
	require.Nil(t, bad)
}

func TestRule19ACircuitIsOnAgainOnlyForWhoSawItGoOffLast(t *testing.T) {
	p := newPit(t)
	k := CircuitID(p.made(p.captain(CircuitAdd{CircuitFields{Name: "K1", Volts: 230, RatingAmps: 10, SaidBy: "the venue"}})))
	on := CircuitOn{Circuit: k, SaidBy: "Noor of the venue"}
	p.ok(p.as(p.ben), CircuitOff{Circuit: k})
	first := p.s.Circuits[k].V
	p.ok(p.as(p.ada), on)
	p.ok(p.as(p.ben), CircuitOff{Circuit: k})
	ask := func(seen map[Key]Rev, saidAt Moment) *Refusal {
		_, bad := p.tryAsk(p.as(p.ada), on, Ask{ID: newID(p.now, 1<<23), Seen: seen, At: saidAt})
		return bad
	}
	newest := map[Key]Rev{KeyOf(KindCircuit, k): p.s.Circuits[k].V}
	for name, bad := range map[string]*Refusal{
		"nothing seen":           ask(nil, p.now),
		"seen before it tripped": ask(map[Key]Rev{KeyOf(KindCircuit, k): first}, p.now),
		"said a while ago":       ask(newest, p.now-9000),
	} {
		require.NotNil(t, bad, name)
		require.Equal(t, 19, bad.Rule, name)
		require.Equal(t, KeyOf(KindCircuit, k), bad.Now, name)
	}
	require.NotZero(t, p.s.Circuits[k].OffAt)
	require.Nil(t, ask(newest, p.now))
	require.Zero(t, p.s.Circuits[k].OffAt)
}

func TestRule21ASafetyAnswerIsNeverTakenBack(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	ch := p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: SaidDone})
	p.refused(p.as(p.ben), Undo{Command: ch.Done.ID}, 21)
	p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: SaidNo})
	again := p.s.Sheets[sheet.ID]
	require.Len(t, again.Answers, 2)
	require.Equal(t, SaidDone, again.Answers[0].Said, "a new answer corrects, the old one stands")
	note := p.ok(p.as(p.ben), NoteAdd{Text: "typo"})
	p.ok(p.as(p.ben), Undo{Command: note.Done.ID})
}

func TestRule22OneCommandAnswersOneLine(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: SaidDone})
	require.Len(t, p.s.Sheets[sheet.ID].Answers, 1)
	_, bad := Decode("sheet.answer", []byte(`{"sheet":"x","line":["lock","link-1"],"said":"done"}`))
	require.NotNil(t, bad)
	require.Equal(t, "line", bad.Field)
	_, bad = Decode("sheet.answer", []byte(`{"sheet":"x","line":"lock"}`))
	require.Nil(t, bad)
	c, _ := Decode("sheet.answer", []byte(`{"sheet":"`+string(sheet.ID)+`","line":"link-1"}`))
	_, bad = p.try(p.as(p.ben), c)
	require.NotNil(t, bad, "there is no default answer")
}

func TestRule25AScheduleChangeMovesNoSafetyState(t *testing.T) {
	p := newPit(t)
	p.open()
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	before := p.s.Powers[p.moth]
	p.ok(p.as(p.ben), FightMove{Fight: f, Arena: "south", Number: 2})
	p.ok(p.as(p.ben), FightNow{Arena: "south", Number: 1})
	require.Equal(t, before, p.s.Powers[p.moth])
}

// closedUp walks the robot to closing-up with that sheet answered and no tag on.
func (p *pit) closedUp() {
	p.t.Helper()
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(p.t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
}
