package board_test

import (
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestEveryCommandIsRefusedToRolesItIsNotFor(t *testing.T) {
	roles := []Role{RoleCaptain, RoleCrew, RoleSafety, RoleViewer}
	p := newPit(t)
	for _, d := range Commands() {
		c, bad := Decode(d.Do, []byte(`{}`))
		require.Nil(t, bad, d.Do)
		for _, role := range roles {
			_, bad := Apply(p.s, c, Ask{ID: newID(p.now, 1)}, Actor{Person: p.ben, Role: role}, p.now)
			may := false
			for _, ok := range d.Roles {
				may = may || ok == role
			}
			if !may {
				require.NotNil(t, bad, "%s by %s", d.Do, role)
				require.Equal(t, CodeForbidden, bad.Code, "%s by %s", d.Do, role)
			} else if bad != nil && bad.Code == CodeForbidden {
				require.NotContains(t, bad.Sentence, "is for the", "%s by %s", d.Do, role)
			}
		}
	}
}

func TestADeviceCannotGiveTheBoardsOwnCommands(t *testing.T) {
	p := newPit(t)
	for _, c := range []Command{BoardStart{Why: "x"}, BoardTick{}, PersonClaim{Person: p.ben, Role: RoleCrew}} {
		_, bad := p.try(p.as(p.ada), c)
		require.NotNil(t, bad, Name(c))
		require.Equal(t, CodeForbidden, bad.Code)
	}
}

func TestADecodedCommandHasExactlyItsFields(t *testing.T) {
	good := `{"robot":"r","part":"blade","grade":"G3"}`
	_, bad := Decode("damage.report", []byte(good))
	require.Nil(t, bad)
	for name, bad := range map[string]struct{ data, field, says string }{
		"unknown field":   {`{"robot":"r","part":"blade","grade":"G3","colour":"red"}`, "colour", "no field"},
		"field twice":     {`{"robot":"r","part":"blade","part":"hub","grade":"G3"}`, "part", "once"},
		"case of a name":  {`{"robot":"r","Part":"blade","grade":"G3"}`, "Part", "no field"},
		"wrong type":      {`{"robot":"r","part":7,"grade":"G3"}`, "part", "does not take"},
		"data behind":     {good + `{}`, "", "not one JSON object"},
		"not an object":   {`[1]`, "", ""},
		"half an object":  {good[:len(good)-1], "", "not one JSON object"},
		"nesting too far": {`{"robot":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + `}`, "", "lists inside lists"},
	} {
		t.Run(name, func(t *testing.T) {
			_, r := Decode("damage.report", []byte(bad.data))
			require.NotNil(t, r)
			require.Equal(t, CodeMalformed, r.Code)
			require.Equal(t, bad.field, r.Field)
			require.Contains(t, r.Sentence, bad.says)
		})
	}
	_, bad = Decode("damage.invent", nil)
	require.Equal(t, CodeUnknown, bad.Code)
}

func TestNamesAreSpelledForPeople(t *testing.T) {
	p := newPit(t)
	add := func(name string) *Refusal {
		_, bad := p.try(p.as(p.ada), PlaceAdd{PlaceFields{Name: name, Kind: PlaceBench}})
		return bad
	}
	require.Nil(t, add(strings.Repeat("ä", 80)))
	require.Nil(t, add("<script>alert(1)</script>"), "a strange name is text like any other")
	for _, bad := range []string{"", " ", " x", "x ", strings.Repeat("ä", 81), "a\u202Eb", "a\x00b", "a\nb", "\uFEFFa", "bench 1", "BENCH 1", "a\xffb"} {
		require.NotNil(t, add(bad), "%q", bad)
	}
}

func TestAChangeSeesWhatItReplaces(t *testing.T) {
	p := newPit(t)
	key := KeyOf(KindStock, p.blade)
	seen := map[Key]Rev{key: p.s.Stocks[p.blade].V}
	p.ok(p.as(p.ben), StockUse{Stock: p.blade, Count: 1})
	_, bad := p.tryAsk(p.as(p.ada), StockChange{Stock: p.blade, StockFields: StockFields{Name: "blade", Count: 5}}, Ask{ID: newID(p.now, 1<<30), Seen: seen})
	require.NotNil(t, bad)
	require.Equal(t, CodeStale, bad.Code)
	require.Equal(t, key, bad.Now)
}

func TestUndoPutsBackExactlyWhatWas(t *testing.T) {
	p := newPit(t)
	before := p.s.Stocks[p.blade]
	use := p.ok(p.as(p.ben), StockUse{Stock: p.blade, Count: 1})
	p.ok(p.as(p.ben), Undo{Command: use.Done.ID})
	after := p.s.Stocks[p.blade]
	require.Equal(t, before.Count, after.Count)
	job := p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{Robot: p.moth, Name: "x", Triage: Could, Fixes: []Fix{swapBlade(p.blade)}}})
	p.ok(p.as(p.ben), Undo{Command: job.Done.ID})
	require.Empty(t, p.s.Jobs)
}

func TestUndoIsForItsAuthorForTenMinutesAndUnchangedNouns(t *testing.T) {
	p := newPit(t)
	use := p.ok(p.as(p.ben), StockUse{Stock: p.blade, Count: 1})
	_, bad := p.try(p.as(p.dee), Undo{Command: use.Done.ID})
	require.Equal(t, CodeForbidden, bad.Code)
	p.ok(p.as(p.dee), StockCount{Stock: p.blade, Count: 9})
	_, bad = p.try(p.as(p.ben), Undo{Command: use.Done.ID})
	require.Equal(t, CodeStale, bad.Code)
	use = p.ok(p.as(p.ben), StockUse{Stock: p.blade, Count: 1})
	p.now += 10*60_000 + 1
	_, bad = p.try(p.as(p.ben), Undo{Command: use.Done.ID})
	require.Equal(t, CodeTooLate, bad.Code)
}

func TestAPatchOpensItsOwnFollowUp(t *testing.T) {
	p := newPit(t)
	p.open()
	fix := swapBlade(p.blade)
	fix.Name, fix.Way, fix.Limits, fix.Stock = "strap it", WayPatch, "no hard hits", nil
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{Robot: p.moth, Name: "fork bent", Triage: Must, Fixes: []Fix{fix}}})))
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Len(t, p.s.Jobs, 2)
	for id, j := range p.s.Jobs {
		if id != job {
			require.Equal(t, job, j.FollowUpOf)
			require.Equal(t, JobOpen, j.State)
			require.Contains(t, j.Name, "fork bent")
		}
	}
}

func TestWhatCanHurtPeopleIsNeitherPatchedNorLeft(t *testing.T) {
	p := newPit(t)
	hurt := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "lock", Grade: GX}})))
	patch := swapBlade(p.blade)
	patch.Way, patch.Limits = WayPatch, "weak"
	fields := JobFields{Robot: p.moth, Name: "lock", Triage: Must, Fixes: []Fix{patch}, Damages: []DamageID{hurt}}
	p.refused(p.as(p.ben), JobAdd{JobFields: fields}, 11)
	fields.Fixes = []Fix{swapBlade(p.blade)}
	fields.Triage = Should
	p.refused(p.as(p.ben), JobAdd{JobFields: fields}, 0)
	fields.Triage = Must
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: fields})))
	p.refused(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "no time"}, 11)
	p.refused(p.as(p.ada), JobDrop{Job: job, Reason: "not needed"}, 11)
	p.refused(p.as(p.ben), DamageRegrade{Damage: hurt, Grade: G1, Reason: "a scratch"}, 11)
	p.ok(p.as(p.dee), DamageRegrade{Damage: hurt, Grade: G1, Reason: "a scratch"})
	p.ok(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "no time"})
}

func TestJobsDoNotWaitForEachOtherInARing(t *testing.T) {
	p := newPit(t)
	a, b := p.job(), p.job()
	f := p.s.Jobs[b].JobFields
	f.After = []JobID{a}
	p.ok(p.as(p.ben), JobChange{Job: b, JobFields: f})
	f = p.s.Jobs[a].JobFields
	f.After = []JobID{b}
	_, bad := p.try(p.as(p.ben), JobChange{Job: a, JobFields: f})
	require.Equal(t, "after", bad.Field)
	p.open()
	_, bad = p.try(p.as(p.ben), JobStart{Job: b})
	require.Equal(t, CodeNotYet, bad.Code)
	p.ok(p.as(p.ben), JobStart{Job: a})
	p.ok(p.as(p.ben), JobFinish{Job: a})
	p.ok(p.as(p.ben), JobStart{Job: b})
}

func TestAFightDependsOnAResultAndIsRuledOutByTheOther(t *testing.T) {
	p := newPit(t)
	first := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 3}})))
	won := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 9, After: first, If: Won}})))
	lost := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 6, After: first, If: Lost}})))
	require.True(t, p.s.Fights[won].Open(p.s))
	require.True(t, p.s.Fights[lost].Open(p.s))
	p.ok(p.as(p.ben), FightEnd{Fight: first, Result: Lost})
	require.False(t, p.s.Fights[won].Open(p.s))
	require.True(t, p.s.Fights[lost].Open(p.s))
}

func TestFightsDoNotDependOnEachOtherInARing(t *testing.T) {
	p := newPit(t)
	a := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 3}})))
	b := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 9, After: a, If: Won}})))
	_, bad := p.try(p.as(p.ada), FightChange{Fight: a, FightFields: FightFields{Robot: p.moth, Arena: "north", Number: 3, After: b, If: Lost}})
	require.NotNil(t, bad)
	require.Equal(t, "after", bad.Field)
}

func TestALateStartOfAJobWhoseRobotHasLeftWorkIsHeldAndKept(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.now += 60_000
	at := p.now
	p.now += 600_000
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.now += 60_000
	_, bad = p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<40), At: at})
	require.Nil(t, bad, "what a waiting phone says was done is a fact")
	require.Equal(t, JobHeld, p.jobState(job))
	require.Equal(t, at, p.s.Jobs[job].Started)
}

func TestAJobCanWaitForAPartBeforeItStarts(t *testing.T) {
	p := newPit(t)
	job := p.job()
	p.refused(p.as(p.ben), JobHold{Job: job, Why: HoldPart, Minutes: 7}, 0)
	p.refused(p.as(p.ben), JobHold{Job: job, Why: HoldPerson, Minutes: 5}, 0)
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart, Text: "blade on its way", Minutes: 15})
	require.Equal(t, JobHeld, p.jobState(job))
	require.Empty(t, p.s.Jobs[job].Stints)
	require.Equal(t, PartComing{p.now, 15}, p.s.Jobs[job].Part)
	p.now += 60_000
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart, Text: "not yet", Minutes: 5})
	said := p.s.Jobs[job].Part
	require.Equal(t, PartComing{p.now, 5}, said, "it is asked again")
	require.Nil(t, p.lateAt(p.as(p.dee), JobHold{Job: job, Why: HoldPart, Text: "soon", Minutes: 60}, minute))
	require.Equal(t, said, p.s.Jobs[job].Part, "what was said before that changes nothing")
	require.Equal(t, "not yet", p.s.Jobs[job].HeldText)
	p.open()
	p.ok(p.as(p.ben), JobResume{Job: job})
	require.Zero(t, p.s.Jobs[job].Part)
}

func TestAReadingOutOfLimitsSetsAPackAside(t *testing.T) {
	hot, cold := 61.0, 30.0
	for name, c := range map[string]struct {
		read PackRead
		want PackState
	}{
		"hot":        {PackRead{TempC: &hot}, PackSuspect},
		"warm":       {PackRead{TempC: &cold}, PackUnread},
		"flat cell":  {PackRead{CellVolts: []float64{3.7, 3.7, 2.99, 3.7}}, PackSuspect},
		"low cell":   {PackRead{CellVolts: []float64{3.05, 3.05, 3.00, 3.05}}, PackWaiting},
		"wide apart": {PackRead{CellVolts: []float64{3.7, 3.7, 3.59, 3.7}}, PackSuspect},
		"apart":      {PackRead{CellVolts: []float64{3.7, 3.7, 3.65, 3.7}}, PackWaiting},
		"charged":    {PackRead{CellVolts: []float64{4.2, 4.2, 4.19, 4.2}, Charged: true}, PackCharged},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			c.read.Pack = p.p2
			p.ok(p.as(p.ben), c.read)
			require.Equal(t, c.want, p.s.Packs[p.p2].State)
		})
	}
	p := newPit(t)
	_, bad := p.try(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: []float64{3.7, 3.7, 3.7}})
	require.Equal(t, "cellVolts", bad.Field)
	_, bad = p.try(p.as(p.ben), PackRead{Pack: p.p2, Charged: true})
	require.NotNil(t, bad, "only a reading makes a pack charged")
}

func TestSettingsOfRule20AreDatedWhenEntered(t *testing.T) {
	p := newPit(t)
	p.captain(EventSet{EventFields: EventFields{Name: "Shed Meet"}, Reason: "the event says so"})
	f := EventFields{Name: "Shed Meet", SpinDownSec: 60, EmergencyContact: "desk by the door"}
	p.captain(EventSet{EventFields: f})
	e := p.s.Event()
	require.Equal(t, p.now, e.Entered.SpinDown)
	require.Zero(t, e.Entered.ActivationOrder)
	at := p.now
	f.ActivationOrder, f.DeactivationOrder = []string{"place", "radio on"}, []string{"radio off"}
	p.captain(EventSet{EventFields: f})
	require.Equal(t, at, p.s.Event().Entered.SpinDown, "what did not change keeps its date")
	require.Equal(t, p.now, p.s.Event().Entered.ActivationOrder)
	f.EmergencyContact = ""
	p.captain(EventSet{EventFields: f})
	require.Zero(t, p.s.Event().Entered.EmergencyContact)
}

func TestTheCaptainsThresholdsAreTenthsInOrder(t *testing.T) {
	p := newPit(t)
	for _, c := range []struct{ tight, wont, isTight, isWont int }{{0, 0, 9, 5}, {8, 0, 8, 5}, {0, 7, 9, 7}, {6, 6, 6, 6}} {
		p.captain(EventSet{EventFields: EventFields{Name: "Shed Meet", TightBelow: c.tight, WontBelow: c.wont}, Reason: "the event says so"})
		tight, wont := p.s.Event().Thresholds()
		require.Equal(t, [2]int{c.isTight, c.isWont}, [2]int{tight, wont})
	}
	for field, f := range map[string]EventFields{
		"tightBelow": {Name: "Shed Meet", TightBelow: 11},
		"wontBelow":  {Name: "Shed Meet", TightBelow: 4},
	} {
		_, bad := p.try(p.as(p.ada), EventSet{EventFields: f})
		require.Equal(t, field, bad.Field)
	}
}

func TestTheClassLimitIsKeptInTheRulesOwnUnit(t *testing.T) {
	// 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959).
	for _, c := range []struct {
		limit float64
		unit  MassUnit
		grams float64
	}{{3, Pound, 1360.77711}, {250, Pound, 113398.0925}, {0.33, Pound, 149.6854821}, {1.5, Kilogram, 1500}, {150, Gram, 150}, {75, Gram, 75}, {25, Gram, 25}} {
		require.InDelta(t, c.grams, Class{Limit: c.limit, Unit: c.unit}.LimitGrams(), 1e-6)
	}
}

func TestABoardReadBackIsTheSameBoard(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ok(p.as(p.ben), JobStart{Job: p.job()})
	var back []Noun
	for _, n := range p.s.Nouns() {
		is, err := DecodeNoun(n.Key(), Encode(n))
		require.NoError(t, err)
		back = append(back, is)
	}
	again := FromNouns(p.s.Rev, back, nil)
	require.Equal(t, encoded(p.s), encoded(again))
	_, err := DecodeNoun("job/x", []byte(`{"id":"x","colour":"red"}`))
	require.Error(t, err)
	_, err = DecodeNoun("robot/other", Encode(p.s.Robots[p.moth]))
	require.Error(t, err)
}

func encoded(s State) string {
	var all strings.Builder
	for _, n := range s.Nouns() {
		all.WriteString(string(n.Key()) + string(Encode(n)) + "\n")
	}
	return all.String()
}

func TestTheOldStateStandsWhenANewOneIsMade(t *testing.T) {
	p := newPit(t)
	before, said := p.s, encoded(p.s)
	p.open()
	p.job()
	require.Equal(t, said, encoded(before))
}

func TestTheSameQuestionHasTheSameAnswer(t *testing.T) {
	p := newPit(t)
	p.open()
	c := JobAdd{JobFields: JobFields{Robot: p.moth, Name: "x", Triage: Could, Fixes: []Fix{swapBlade(p.blade)}}}
	ask := Ask{ID: newID(p.now, 77)}
	a, _ := Apply(p.s, c, ask, p.as(p.ben), p.now)
	b, _ := Apply(p.s, c, ask, p.as(p.ben), p.now)
	require.Equal(t, a, b)
}

func TestEveryCommandIsDescribed(t *testing.T) {
	list := Commands()
	require.Greater(t, len(list), 60)
	for _, d := range list {
		require.NotEmpty(t, d.What)
		_, bad := Decode(d.Do, []byte(`{}`))
		require.Nil(t, bad, "%s cannot be decoded from nothing: %+v", d.Do, bad)
		for _, f := range d.Fields {
			require.NotEmpty(t, f.Name, d.Do)
		}
	}
	_, err := json.Marshal(list)
	require.NoError(t, err)
}

func TestTimesOfAWaitingPhoneAreNeverLaterThanNow(t *testing.T) {
	p := newPit(t)
	ch, bad := p.tryAsk(p.as(p.ben), NoteAdd{Text: "x"}, Ask{ID: newID(p.now, 5), At: p.now + 60_000})
	require.Nil(t, bad)
	require.Equal(t, p.now, ch.Put[0].(Note).At)
	ch, bad = p.tryAsk(p.as(p.ben), NoteAdd{Text: "y"}, Ask{ID: newID(p.now, 6), At: p.now - 60_000})
	require.Nil(t, bad)
	require.Equal(t, p.now-60_000, ch.Put[0].(Note).At)
}

func FuzzDecode(f *testing.F) {
	for _, d := range Commands() {
		f.Add(d.Do, []byte(`{}`))
	}
	f.Add("job.add", []byte(`{"robot":"x","name":"y","triage":"must","fixes":[{"name":"z","way":"swap","likelySec":1,"badSec":2,"hands":["any"]}]}`))
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		p := newPit(t)
		c, bad := Decode(name, data)
		if bad != nil {
			require.NotEmpty(t, bad.Sentence)
			return
		}
		_, bad = Apply(p.s, c, Ask{ID: newID(p.now, 1)}, p.as(p.ada), p.now)
		if bad != nil {
			require.NotEmpty(t, bad.Sentence)
		}
	})
}

func BenchmarkApplySheetAnswer(b *testing.B) {
	p := newPit(b)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	c := SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: SaidDone}
	b.ReportAllocs()
	for b.Loop() {
		if _, bad := Apply(p.s, c, Ask{ID: newID(p.now, 1)}, p.as(p.ben), p.now); bad != nil {
			b.Fatal(bad.Sentence)
		}
	}
}
