package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/charge"
)

// Each test below is a sequence of commands that once went round a rule, stopped
// the board or left a team without a way on. Constructed by us.

// lateAt asks as a phone does that was offline for so many milliseconds.
func (p *pit) lateAt(by Actor, c Command, ago Moment) *Refusal {
	p.n++
	p.now += 1000
	_, bad := p.tryAsk(by, c, Ask{ID: newID(p.now, p.n), At: p.now - ago, Seen: p.seen(c)})
	return bad
}

func (p *pit) said(list SheetList, line string, said Said) SheetAnswer {
	sheet, _ := p.s.Sheet(p.moth, list)
	return SheetAnswer{Sheet: sheet.ID, Line: line, Said: said}
}

// energies gives the robot another list and everyone authority for it.
func (p *pit) energies(list ...Energy) {
	p.t.Helper()
	f := p.s.Robots[p.moth].RobotFields
	f.Energies = list
	p.captain(RobotChange{Robot: p.moth, RobotFields: f, Reason: "as it is built"})
	for _, id := range []PersonID{p.ada, p.ben, p.dee} {
		who := p.s.People[id].PersonFields
		who.Authorised = []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin, EnergyGas, EnergyCapacitor}
		p.captain(PersonChange{Person: id, PersonFields: who})
	}
}

func TestNoTestWhileTheRobotIsBeingOpenedAgain(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, 3)
	p.walk(p.as(p.ben), ListReopen)
	require.Equal(t, Verified, p.state())
}

func TestARobotWithNothingToLockOutsideCanBeOpenedAgain(t *testing.T) {
	p := newPit(t)
	p.energies(Energy{Kind: EnergyDrive, Isolator: "inner plug", Reach: Inside}, Energy{Kind: EnergyGas, Isolator: "bleed screw", Reach: Inside})
	p.makeSafe()
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	require.Equal(t, Verified, p.state())
}

func TestOpeningAgainOwesTheFirstInLinesThatClosingUpSkipped(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.refused(p.as(p.dee), TagOn{Robot: p.moth}, 3)
	fix := swapBlade(p.blade)
	fix.PackOut = false
	p.refused(p.as(p.ben), JobStart{Job: p.jobWith(p.as(p.ben), Must, fix)}, 3)
}

func TestNoToALineThatTheStateRestsOnMakesTheRobotUnknown(t *testing.T) {
	for _, line := range []string{"lock", "link-1", "radio", "blocks", "try"} {
		t.Run(line, func(t *testing.T) {
			p := newPit(t)
			for p.state() != Isolated {
				p.answer(p.as(p.ben), ListMakeSafe)
			}
			p.ok(p.as(p.ben), p.said(ListMakeSafe, line, SaidNo))
			require.Equal(t, Unknown, p.state())
			require.True(t, p.s.Powers[p.moth].Conflict)
		})
	}
	t.Run("the link while closing up", func(t *testing.T) {
		p := newPit(t)
		p.open()
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		p.ok(p.as(p.ben), p.said(ListCloseUp, "inside", SaidNo))
		require.Equal(t, ClosingUp, p.state(), "a bolt left inside is no doubt about the lockout")
		p.ok(p.as(p.ben), p.said(ListCloseUp, "link-1", SaidNo))
		require.Equal(t, Unknown, p.state())
	})
	t.Run("a rotor that still turns holds the robot where it is", func(t *testing.T) {
		p := newPit(t)
		for p.state() != PoweredDown {
			p.answer(p.as(p.ben), ListMakeSafe)
		}
		p.ok(p.as(p.ben), p.said(ListMakeSafe, "spinning-mass-3", SaidNo))
		require.Equal(t, PoweredDown, p.state())
	})
}

func TestAnOldYesThatComesLateDoesNotOvertakeANo(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	p.now += 600_000
	p.ok(p.as(p.dee), p.said(ListMakeSafe, "lock", SaidNo))
	require.Nil(t, p.lateAt(p.as(p.ben), p.said(ListMakeSafe, "lock", SaidDone), 300_000))
	_, ok := p.s.Sheets[sheet.ID].Answered("lock")
	require.False(t, ok, "the slipped lock was seen later")
	require.Len(t, p.s.Sheets[sheet.ID].Answers, 2, "and both answers stand in the record")
	p.ok(p.as(p.ben), p.said(ListMakeSafe, "lock", SaidDone))
	_, ok = p.s.Sheets[sheet.ID].Answered("lock")
	require.True(t, ok)
}

func TestAnUndoLeavesNothingWithoutWhatItNames(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	zed := p.captain(PersonAdd{PersonFields: PersonFields{Name: "Zed", Role: RoleCrew, Authorised: []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin}}})
	annex := p.captain(PlaceAdd{PlaceFields{Name: "annex", Kind: PlaceBench}})
	hub := p.captain(StockAdd{StockFields{Name: "hub", Count: 2}})
	d, damage := p.damage(G3)
	p.ok(p.as(PersonID(p.made(zed))), TagOn{Robot: p.moth})
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: PlaceID(p.made(annex))})
	p.jobWith(p.as(p.ben), Must, swapBlade(StockID(p.made(hub))), d)
	for name, x := range map[string]struct {
		by PersonID
		id CommandID
	}{
		"a tag's person": {p.ada, zed.Done.ID}, "a robot's place": {p.ada, annex.Done.ID},
		"a job's spare": {p.ada, hub.Done.ID}, "a job's damage": {p.ben, damage},
	} {
		bad := p.refused(p.as(x.by), Undo{Command: x.id}, 0)
		require.Equal(t, CodeState, bad.Code, name)
	}
	lone := p.captain(PlaceAdd{PlaceFields{Name: "spare room", Kind: PlaceStore}})
	p.ok(p.as(p.ada), Undo{Command: lone.Done.ID})
}

func TestAnAuthorityIsNotTakenBackWhileATagStandsOnIt(t *testing.T) {
	p := newPit(t)
	plain := PersonFields{Name: "Fay", Role: RoleCrew, Authorised: []EnergyKind{EnergyDrive}}
	fay := p.person(plain)
	more := plain
	more.Authorised = p.s.People[p.ben].Authorised
	given := p.captain(PersonChange{Person: fay, PersonFields: more})
	p.open()
	p.ok(p.as(fay), TagOn{Robot: p.moth})
	require.Equal(t, CodeState, p.refused(p.as(p.ada), Undo{Command: given.Done.ID}, 0).Code)
	require.Equal(t, more.Authorised, p.s.People[fay].Authorised)
	_, bad := p.tagOff(p.as(fay), fay)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), Undo{Command: given.Done.ID})
	require.Equal(t, plain.Authorised, p.s.People[fay].Authorised)
}

func TestAMistakenWordThatOurFightIsOnCanBeTakenBack(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	on := p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
	require.Equal(t, Unknown, p.state())
	p.ok(p.as(p.ben), Undo{Command: on.Done.ID})
	require.Equal(t, FightPlanned, p.s.Fights[f].State)
	require.Empty(t, p.s.Sightings)
	require.Equal(t, Unknown, p.state(), "a doubt is not taken back")
	require.Equal(t, JobHeld, p.jobState(job))
}

func TestAForfeitCorrectedToAFightThatWasFoughtMakesTheRobotUnknown(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Forfeited})
	require.Equal(t, Work, p.state())
	p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Won})
	require.Equal(t, Unknown, p.state())
}

func TestGoingLiveIsOneNamedPersonsWord(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Driver = ""
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	p.open()
	p.ready()
	p.refused(Actor{Role: RoleCrew}, RobotLive{Robot: p.moth, Place: p.arena}, 5)
	p.refused(Actor{Role: RoleCaptain}, RobotLive{Robot: p.moth, Place: p.arena}, 5)
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
}

func TestWhatHappensAfterTheSignatureWithdrawsIt(t *testing.T) {
	for name, found := range map[string]func(p *pit){
		"a damage that can hurt": func(p *pit) { p.damage(GX) },
		"another pack as well":   func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth, Found: true}) },
		"another class": func(p *pit) {
			f := p.s.Robots[p.moth].RobotFields
			f.Class.Limit = 2
			p.captain(RobotChange{Robot: p.moth, RobotFields: f})
		},
		"a swollen pack": func(p *pit) { p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect}) },
		"a must":         func(p *pit) { p.job() },
		"no pack":        func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			p.ready()
			p.ok(p.as(p.ben), NoteAdd{Text: "nothing to do with it"})
			require.Equal(t, Ready, p.state())
			found(p)
			require.Equal(t, Unknown, p.state())
			p.refused(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena}, 3)
		})
	}
}

func TestAGaugeLineNeedsItsFigure(t *testing.T) {
	p := newPit(t)
	p.energies(Energy{Kind: EnergyGas, Isolator: "shut-off, left", Reach: Outside})
	p.walkUntil(ListMakeSafe, "gas-1")
	c := p.said(ListMakeSafe, "gas-1", SaidDone)
	_, bad := p.try(p.as(p.ben), c)
	require.Equal(t, "number", bad.Field, "no figure is not zero")
	bar := 0.5
	c.Number = &bar
	_, bad = p.try(p.as(p.ben), c)
	require.Equal(t, "number", bad.Field)
	bar = 0
	p.ok(p.as(p.ben), c)
}

// walkUntil answers a sheet up to a line.
func (p *pit) walkUntil(list SheetList, line string) {
	p.t.Helper()
	for {
		sheet, _ := p.s.Sheet(p.moth, list)
		l, open := sheet.OpenLine()
		require.True(p.t, open)
		if l.ID == line {
			return
		}
		p.answer(p.as(p.ben), list)
	}
}

func TestAPackThatFitsAndIsNowhereCountsAsIn(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p3 := PackID(p.made(p.captain(PackAdd{PackFields{
		Name: "P3", Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.65, ChargeAmpsMost: 0.65, Use: UseMain, Fits: []RobotID{p.moth},
	}})))
	p.refused(p.as(p.ben), JobStart{Job: job}, 9)
	p.ok(p.as(p.ben), PackMove{Pack: p3, Place: p.watch})
	p.ok(p.as(p.ben), JobStart{Job: job})
}

// ready0 leaves the robot unknown with its pack in.
func (p *pit) ready0() {
	p.t.Helper()
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
	p.ok(p.as(p.ben), RobotDoubt{Robot: p.moth})
}

func TestNoToALineOfADoneSheetOpensItAgain(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.ok(p.as(p.ben), p.said(ListCloseUp, "bolts", SaidNo))
	require.Equal(t, ClosingUp, p.state(), "the lockout does not rest on it")
	p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, 3)
	p.ok(p.as(p.ben), p.said(ListCloseUp, "bolts", SaidDone))
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
}

func TestAuthorityIsNotTakenFromUnderATag(t *testing.T) {
	p := newPit(t)
	p.open()
	guest := PersonFields{Name: "Ben", Role: RoleCrew, Guest: true}
	_, bad := p.try(p.as(p.ada), PersonChange{Person: p.ben, PersonFields: guest})
	require.NotNil(t, bad)
	sentenceHas(t, bad, "tag")
	_, bad = p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.captain(PersonChange{Person: p.ben, PersonFields: guest})
}

func TestRule14APlaceStaysWhereAChargeRuns(t *testing.T) {
	p := newPit(t)
	ch := ChannelID(p.made(p.captain(ChannelAdd{ChannelFields{Name: "C1", Charger: "twin", AmpsMost: 5, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Place: p.shelf}})))
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}})
	p.ok(p.as(p.ben), PackCharge{Pack: p.p2, Channel: ch, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
	f := p.settings()
	f.ChargingPlaces = nil
	sentenceHas(t, p.refused(p.as(p.ada), EventSet{EventFields: f}, 14), "P2")
	hot := 61.0
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, TempC: &hot})
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)
	p.captain(EventSet{EventFields: f})
	p.refused(p.as(p.ada), PackRetire{Pack: p.p2}, 13)
}

func TestNoLineIsAnsweredOnARobotUnderPower(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ada), PackMove{Pack: p.p1, Place: p.watch})
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
	p.refused(p.as(p.ben), p.said(ListInspect, "drive", SaidDone), 7)
	p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
	p.makeSafe()
	p.ok(p.as(p.ben), p.said(ListInspect, "drive", SaidDone))
}

func TestASecondTagUnderTheCoversStopsTheFirstIn(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	require.Nil(t, p.lateAt(p.as(p.dee), TagOn{Robot: p.moth}, 11_000), "a late tag is a fact")
	require.Equal(t, Unknown, p.state())
	for _, who := range []PersonID{p.ben, p.dee} {
		p.walkUntil(ListMakeSafe, "try")
		sentenceHas(t, p.refused(p.as(p.ben), p.said(ListMakeSafe, "try", SaidDone), 7), p.s.People[who].Name)
		_, bad := p.tagOff(p.as(who), who)
		require.Nil(t, bad)
	}
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.refused(p.as(p.dee), TagOn{Robot: p.moth}, 3)
	p.walk(p.as(p.ben), ListFirstIn)
}

func TestARetiredPackGoesIntoNoRobot(t *testing.T) {
	p := newPit(t)
	p.captain(PackRetire{Pack: p.p2})
	bad := p.refused(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true}, 0)
	require.Equal(t, CodeState, bad.Code)
}

func TestAFirstInLineTakesNoPackOutOfAnotherRobot(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number = "Clay Wasp", 2
	wasp := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: f})))
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.ok(p.as(p.dee), PackMove{Pack: p.p1, Robot: wasp, Found: true})
	p.walk(p.as(p.ben), ListFirstIn)
	require.Equal(t, wasp, p.s.Packs[p.p1].Robot)
}

func TestADoubtIsNeverRefusedForItsWording(t *testing.T) {
	for _, why := range []string{"", "smoke ", "\u202Ebackwards"} {
		p := newPit(t)
		p.makeSafe()
		p.ok(p.as(p.kit), RobotDoubt{Robot: p.moth, Why: why})
		require.Equal(t, Unknown, p.state())
	}
}

func TestACorrectedClockThatMovesTheDayMakesRobotsUnknown(t *testing.T) {
	p := newPit(t)
	p.open()
	p.now = morning + 11*3600_000 // 20:00 UTC is 06:00 the next day at +10:00
	f := p.settings()
	f.OffsetMin = 600
	p.captain(EventSet{EventFields: f})
	require.Equal(t, Unknown, p.state())
}

func TestALowerClassLimitAsksForAWeighingAgain(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	f := p.s.Robots[p.moth].RobotFields
	f.Class.Limit = 1
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	p.ok(p.as(p.ben), RobotDoubt{Robot: p.moth, Why: "not sure"})
	p.makeSafe()
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	sheet, _ := p.s.Sheet(p.moth, ListReady)
	_, ok := sheet.Answered("mass")
	require.False(t, ok)
}

func TestYesterdaysAnswersThatComeTodayDeclareNothing(t *testing.T) {
	p := newPit(t)
	p.now = morning + 19*3600_000 + 10*60_000 // 04:10 the next day
	lock := p.said(ListMakeSafe, "lock", SaidDone)
	bad := p.lateAt(p.as(p.ben), lock, 3600_000)
	require.NotNil(t, bad)
	require.Equal(t, 1, bad.Rule)
	require.Nil(t, p.lateAt(p.as(p.ben), lock, 60_000))
}
