package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

// Sequences as in attack_test.go, about words of packs: what the board finds when it starts,
// what comes late, from a guest, or of a pack that is gone.

// smoking is a pack at the shelf that was read to smoke there.
func (p *pit) smoking(name string) PackID {
	id := p.pack(name)
	p.ok(p.as(p.ben), PackMove{Pack: id, Place: p.shelf})
	p.ok(p.as(p.ben), PackRead{Pack: id, Look: LookSmokes})
	return id
}

// chargeAtShelf is a charge of P2 that only the shelf may bar.
func (p *pit) chargeAtShelf() PackCharge {
	if p.s.Packs[p.p2].State != PackWaiting {
		p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7), TempC: degrees(21)})
	}
	return PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
}

func TestTheBoardStartsWhateverItHolds(t *testing.T) {
	for name, older := range map[string]func(p *pit) State{
		"a restart": nil, "the newest file": func(p *pit) State { return p.s },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			backup := p.s
			p.onCharge(p.p2, p.ben)
			p.ok(p.as(p.gus), EmergencyRaise{Place: p.shelf})
			if older == nil {
				p.ok(Itself(), BoardStart{Why: "restart"})
			} else {
				for _, file := range []State{older(p), backup} {
					restore := p.s.Replaced(BoardRestore{Why: "restored"})
					p.s = file
					p.ok(Itself(), restore)
				}
			}
			require.Equal(t, PackCharging, p.s.Packs[p.p2].State)
			require.True(t, p.s.Packs[p.p2].Unsure)
			for _, e := range p.s.Emergencies {
				require.Zero(t, e.EndedAt)
			}
		})
	}
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, Look: LookSmokes})
	backup := p.s
	p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackGone})
	p.ok(p.as(p.ada), ChannelRetire{Channel: p.cast.A1})
	restore := p.s.Replaced(BoardRestore{Why: "restored"})
	p.s = backup
	p.ok(Itself(), restore)
}

func TestRule18ARestoreKnowsWhereWhatWasSetAsideLies(t *testing.T) {
	for _, known := range []bool{true, false} {
		p := newPit(t)
		p9 := p.pack("P9")
		p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.watch})
		backup := p.s
		at := p.shelf
		if !known {
			at = PlaceID(p.made(p.captain(PlaceAdd{PlaceFields: PlaceFields{Name: "new table", Kind: PlaceCharging}})))
		}
		p.ok(p.as(p.ben), PackMove{Pack: p9, Place: at})
		p.ok(p.as(p.ben), PackRead{Pack: p9, Look: LookSmokes})
		restore := p.s.Replaced(BoardRestore{Why: "restored"})
		p.s = backup
		p.ok(Itself(), restore)
		require.True(t, p.s.AsideHere(p.s.Packs[p9]))
		sentenceHas(t, p.refused(p.as(p.ben), p.chargeAtShelf(), 14), "P9")
		p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.watch})
		p.ok(p.as(p.ben), p.chargeAtShelf())
	}
}

func TestAnOlderWordOfWhereAPackIsChangesNothing(t *testing.T) {
	p := newPit(t)
	smokes := p.smoking("P9")
	p.now += 20 * minute
	p.ok(p.as(p.ben), PackMove{Pack: smokes, Place: p.bench})
	p.ok(p.as(p.ben), PackMove{Pack: smokes, Place: p.shelf})
	p.now += 5 * minute
	require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: smokes, Place: p.watch}, 10*minute))
	require.Equal(t, p.shelf, p.s.Packs[smokes].Place)
	require.Equal(t, p.ben, p.s.Packs[smokes].HeardLate.By, "it stands in the review")
	p.refused(p.as(p.ben), p.chargeAtShelf(), 14)
	require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: smokes, Place: p.watch}, 3*minute))
	require.Equal(t, p.watch, p.s.Packs[smokes].Place, "and a newer one counts, though it comes late")

	p.ok(p.as(p.gus), PackMove{Pack: p.p1, Robot: p.moth, Found: true})
	require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch}, 10*minute))
	require.Equal(t, p.moth, p.s.Packs[p.p1].Robot)
}

func TestRule13AnOlderWordThatAPackIsGoneEndsNoAlarm(t *testing.T) {
	p := newPit(t)
	p.now += 20 * minute
	smokes := p.smoking("P9")
	p.now += 5 * minute
	require.Nil(t, p.lateAt(p.as(p.ada), PackSet{Pack: smokes, State: PackGone}, 10*minute))
	require.True(t, p.s.AsideHere(p.s.Packs[smokes]))
	require.Nil(t, p.lateAt(p.as(p.ada), PackSet{Pack: smokes, State: PackGone}, 3*minute))
	require.Equal(t, PackGone, p.s.Packs[smokes].State)
}

func TestRule14NoChargeBesideAGonePackThatTurnsUp(t *testing.T) {
	p := newPit(t)
	smokes := p.smoking("P9")
	p.ok(p.as(p.ada), PackSet{Pack: smokes, State: PackGone})
	p.ok(p.as(p.gus), PackMove{Pack: smokes, Place: p.shelf})
	require.Equal(t, PackSuspect, p.s.Packs[smokes].State)
	p.refused(p.as(p.ben), p.chargeAtShelf(), 14)
	p.ok(p.as(p.ada), PackSet{Pack: smokes, State: PackGone})
	p.ok(p.as(p.ben), p.chargeAtShelf())
}

func TestRule14AGuestsWordFreesNoPlaceWhereAPackMayVent(t *testing.T) {
	p := newPit(t)
	smokes := p.smoking("P9")
	p.ok(p.as(p.gus), PackMove{Pack: smokes, Place: p.bench})
	p.ok(p.as(p.kit), PackMove{Pack: smokes, Place: p.arena})
	require.Equal(t, p.arena, p.s.Packs[smokes].Place, "a sighting is heard")
	sentenceHas(t, p.refused(p.as(p.ben), p.chargeAtShelf(), 14), "one of the crew")
	p.ok(p.as(p.ben), PackMove{Pack: smokes, Place: p.arena})
	p.ok(p.as(p.ben), p.chargeAtShelf())
}

func TestRule14AWordOfAPlacesKindEndsNoAlarmOverAPackThere(t *testing.T) {
	p := newPit(t)
	smokes := p.smoking("P9")
	place := p.s.Places[p.shelf].PlaceFields
	for _, kind := range []PlaceKind{PlaceWatch, PlaceAway} {
		place.Kind = kind
		p.refused(p.as(p.ada), PlaceChange{Place: p.shelf, PlaceFields: place}, 14)
	}
	p.ok(p.as(p.ben), PackMove{Pack: smokes, Place: p.watch})
	p.ok(p.as(p.ada), PlaceChange{Place: p.shelf, PlaceFields: place})
}

func TestNobodyChoosesAPackForATransmitter(t *testing.T) {
	p := newPit(t)
	f := p.s.Packs[p.p2].PackFields
	f.Name, f.Use = "T1", UseTransmitter
	t1 := PackID(p.made(p.captain(PackAdd{f})))
	sentenceHas(t, p.refused(p.as(p.ben), PackChoose{Pack: t1, Robot: p.moth}, 0), "way to the signature")
	p.ok(p.as(p.ben), PackChoose{Pack: p.p2, Robot: p.moth})
}

func TestRule13APackThatSmokesInARobotMakesItUnknownAndNobodyMakesThatSafe(t *testing.T) {
	for name, walk := range map[string]func(p *pit){
		"unknown": func(*pit) {}, "half made safe": func(p *pit) { p.walkUntil(ListMakeSafe, "try") },
		"verified": (*pit).makeSafe, "closing up": (*pit).closedUp, "ready": func(p *pit) { p.open(); p.ready() },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			walk(p)
			in := p.s.Packs[p.p1]
			if in.Robot == "" {
				in = p.s.Packs[p.p2]
			}
			p.ok(p.as(p.gus), PackRead{Pack: in.ID, Look: LookSmokes})
			require.Equal(t, Unknown, p.state())
			sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
			for _, l := range sheet.Lines {
				_, done := sheet.Answered(l.ID)
				require.False(t, done && l.Part == "down", "from the first line on")
			}
			first, _ := sheet.OpenLine()
			bad := p.refused(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: first.ID, Said: SaidDone}, 13)
			sentenceHas(t, bad, "Get clear, raise the alarm, tell event safety.")
			require.Empty(t, boardtest.Deed(p.s, bad.Sentence))
			p.ok(p.as(p.ada), PackMove{Pack: in.ID, Place: p.watch})
			p.makeSafe()
		})
	}
}

func TestAPackThatWasSetAsideDoesNotLookWhole(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), PackSet{Pack: p.p1, State: PackSuspect})
	p.walkUntil(ListMakeSafe, "look-"+string(p.p1))
	p.refused(p.as(p.ben), p.said(ListMakeSafe, "look-"+string(p.p1), SaidDone), 13)
	p.ok(p.as(p.ben), p.said(ListMakeSafe, "look-"+string(p.p1), SaidSuspect))
	p.walk(p.as(p.ben), ListMakeSafe)
}

func TestNoSentenceNamesADeedToAHotPackOnItsCharger(t *testing.T) {
	p := newPit(t)
	p3 := p.pack("P3")
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, TempC: degrees(55)})
	p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
	f := p.s.Packs[p.p2].PackFields
	f.Cells = 5
	for _, c := range []Command{
		PackChange{Pack: p.p2, PackFields: f}, PackCharge{Pack: p3, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true},
	} {
		bad := p.refused(p.as(p.ada), c, 0)
		require.Empty(t, boardtest.Deed(p.s, bad.Sentence), bad.Sentence)
		sentenceHas(t, bad, "event safety decides")
	}
}

func TestAWordFromBeforeSomeoneStayedWithAChargeEndsItAfterNoRestart(t *testing.T) {
	for _, restart := range []bool{false, true} {
		p := newPit(t)
		p.now += 20 * minute
		p.onCharge(p.p2, p.ben)
		p.now += 5 * minute
		p.ok(p.as(p.nia), PackAttend{Pack: p.p2})
		if restart {
			p.ok(Itself(), BoardStart{Why: "restart"})
		}
		require.Nil(t, p.lateAt(p.as(p.ben), PackOff{Pack: p.p2}, 3*minute))
		require.Equal(t, PackCharging, p.s.Packs[p.p2].State)
		require.True(t, p.s.Packs[p.p2].Unsure)
		p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	}
}

func TestRule9AnOlderWordThatAPackWasInCountsForTheWorkThen(t *testing.T) {
	for _, seenFirst := range []bool{true, false} {
		p := newPit(t)
		p.open()
		job := p.job()
		p.now += 5 * minute
		out := func() { p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.shelf}) }
		if seenFirst {
			out()
		}
		p.now += minute
		p.ok(p.as(p.ben), JobStart{Job: job})
		p.now += 6 * minute
		if !seenFirst {
			out()
		}
		p.now += minute
		require.Nil(t, p.lateAt(p.as(p.dee), PackMove{Pack: p.p1, Robot: p.moth, Found: true}, 10*minute))
		require.Equal(t, p.shelf, p.s.Packs[p.p1].Place, "where it is now, it is")
		p.ok(p.as(p.ben), JobFinish{Job: job})
		require.Equal(t, seenFirst, p.jobState(job) == JobClosed, "it was seen elsewhere before the work began")
	}
}

func TestNoWordFromBeforeAChargeOrAnEndSaysWhereAPackIs(t *testing.T) {
	t.Run("a charge that has ended", func(t *testing.T) {
		p := newPit(t)
		p.now += 20 * minute
		p.onCharge(p.p2, p.ben)
		p.now += 5 * minute
		p.ok(p.as(p.ben), PackOff{Pack: p.p2})
		require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch}, 10*minute))
		require.Equal(t, p.shelf, p.s.Packs[p.p2].Place)
		require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch}, 0))
		require.Equal(t, p.watch, p.s.Packs[p.p2].Place)
	})
	t.Run("a pack that is gone", func(t *testing.T) {
		p := newPit(t)
		smokes := p.smoking("P9")
		p.now += 20 * minute
		p.ok(p.as(p.ada), PackSet{Pack: smokes, State: PackGone})
		p.now += 5 * minute
		require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: smokes, Place: p.watch}, 10*minute))
		require.Equal(t, PackGone, p.s.Packs[smokes].State)
		require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: smokes, Place: p.watch}, minute))
		require.Equal(t, PackSuspect, p.s.Packs[smokes].State)
	})
	t.Run("a pack that grew bad on its charger", func(t *testing.T) {
		p := newPit(t)
		p.onCharge(p.p2, p.ben)
		p.now += 20 * minute
		p.ok(p.as(p.ben), PackRead{Pack: p.p2, Look: LookSwollen})
		p.now += 5 * minute
		require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch}, 10*minute))
		require.Equal(t, p.cast.A1, p.s.Packs[p.p2].Channel)
		require.Equal(t, p.shelf, p.s.Packs[p.p2].Place)
		require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch}, minute))
		require.Empty(t, p.s.Packs[p.p2].Channel)
	})
}

func TestRule14AGuestsWordOfAWholePackBarsNoChargeWhereItLay(t *testing.T) {
	p := newPit(t)
	p9 := p.pack("P9")
	p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.shelf})
	p.ok(p.as(p.gus), PackMove{Pack: p9, Place: p.watch})
	p.ok(p.as(p.ben), PackRead{Pack: p9, Look: LookSmokes})
	p.ok(p.as(p.ben), p.chargeAtShelf())
}

func TestRule13APackThatIsSetAsideInARobotWithPowerMakesItUnknown(t *testing.T) {
	for name, power := range map[string]bool{"in a test": true, "closed up": false} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.closedUp()
			if power {
				p.tests()
			}
			p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
			require.Equal(t, power, p.state() == Unknown)
		})
	}
}

func TestRule18ARestoreKnowsHowWhatWasSetAsideLies(t *testing.T) {
	for name, c := range map[string]struct {
		backup, since func(p *pit, p9 PackID)
		stands        func(p *pit, p9 PackID)
	}{
		"smoking in a robot": {nil, func(p *pit, p9 PackID) {
			p.ok(p.as(p.ben), PackMove{Pack: p9, Robot: p.moth, Found: true})
			p.ok(p.as(p.ben), PackRead{Pack: p9, Look: LookSmokes})
		}, func(p *pit, p9 PackID) {
			require.Equal(t, p.moth, p.s.Packs[p9].Robot)
			require.True(t, p.s.Packs[p9].Found)
			sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
			first, _ := sheet.OpenLine()
			sentenceHas(t, p.refused(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: first.ID, Said: SaidDone}, 13), "Get clear")
			p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.watch})
			p.makeSafe()
		}},
		"moved by a guest alone": {nil, func(p *pit, p9 PackID) {
			p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.shelf})
			p.ok(p.as(p.ben), PackRead{Pack: p9, Look: LookSmokes})
			p.ok(p.as(p.gus), PackMove{Pack: p9, Place: p.bench})
		}, func(p *pit, p9 PackID) {
			sentenceHas(t, p.refused(p.as(p.ben), p.chargeAtShelf(), 14), "one of the crew")
			p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.bench})
			p.ok(p.as(p.ben), p.chargeAtShelf())
		}},
		"on its charger": {nil, func(p *pit, p9 PackID) {
			p.onCharge(p9, p.ben)
			p.ok(p.as(p.ben), PackRead{Pack: p9, Look: LookSwollen})
		}, func(p *pit, p9 PackID) {
			require.Equal(t, p.cast.A1, p.s.Packs[p9].Channel)
			p.refused(p.as(p.ben), p.chargeAtShelf(), 14)
		}},
		"quarantined by the backup": {func(p *pit, p9 PackID) {
			p.ok(p.as(p.dee), PackSet{Pack: p9, State: PackQuarantined})
		}, func(*pit, PackID) {}, func(p *pit, p9 PackID) {
			require.Equal(t, PackQuarantined, p.s.Packs[p9].State)
		}},
		"and since when": {nil, func(p *pit, p9 PackID) {
			p.now += 20 * minute
			p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.shelf})
			p.ok(p.as(p.ben), PackRead{Pack: p9, Look: LookSmokes})
		}, func(p *pit, p9 PackID) {
			require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p9, Place: p.watch}, 10*minute))
			p.refused(p.as(p.ben), p.chargeAtShelf(), 14)
		}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p9 := p.pack("P9")
			if c.backup != nil {
				c.backup(p, p9)
			}
			backup := p.s
			c.since(p, p9)
			restore := p.s.Replaced(BoardRestore{Why: "restored"})
			p.s = backup
			p.ok(Itself(), restore)
			require.True(t, boardtest.SetAside(p.s.Packs[p9]))
			c.stands(p, p9)
		})
	}
}
