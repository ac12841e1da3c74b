package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// worded lists the board's own lines of a list, as wording.set takes them.
func worded(ids ...string) []WordedLine {
	var list []WordedLine
	for _, id := range ids {
		list = append(list, WordedLine{ID: id})
	}
	return list
}

func closeUp() []WordedLine {
	return worded("inside", "pack", "bolts", "tools", "covers", "lock", "link", "told")
}

func asks(sheet Sheet) []string {
	var ids []string
	for _, l := range sheet.Lines {
		ids = append(ids, l.ID)
	}
	return ids
}

func TestATeamRewordsReordersAndAddsLines(t *testing.T) {
	p := newPit(t)
	lines := closeUp()
	lines[0], lines[3] = lines[3], lines[0]
	lines[0].Ask, lines[0].Say = "Tool roll full?", "FULL"
	lines[6].Ask = "{name}: pulled, in Kit's box?"
	lines = append(lines, WordedLine{ID: "own-belt", Kind: LineDo, Ask: "Belt guard on?", Say: "GUARD ON", Not: "not on", Covers: []System{SysWeapon}})
	p.ok(p.as(p.dee), WordingSet{List: ListCloseUp, Lines: lines})
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	sheet, _ := p.s.Sheet(p.moth, ListCloseUp)
	require.Equal(t, []string{"tools", "pack", "bolts", "inside", "covers", "lock", "link-1", "own-belt", "told"}, asks(sheet))
	require.Equal(t, "Tool roll full?", sheet.Lines[0].Ask)
	require.Equal(t, "removable link: pulled, in Kit's box?", sheet.Lines[6].Ask)
	require.Equal(t, p.s.Wordings[ListCloseUp].Version, sheet.Version)
	p.walk(p.as(p.ben), ListCloseUp)
	_, begun := p.s.Sheet(p.moth, ListReady)
	require.True(t, begun)
}

func TestSheetsKeepTheLinesTheyBeganWithAndVersionsCountUp(t *testing.T) {
	p := newPit(t)
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	before, _ := p.s.Sheet(p.moth, ListCloseUp)
	for i := range 3 {
		lines := closeUp()
		lines[0].Ask = []string{"One?", "Two?", "Three?"}[i]
		ch := p.ok(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines})
		require.Equal(t, before.Version+1+i, p.s.Wordings[ListCloseUp].Version)
		_, bad := p.try(p.as(p.ada), Undo{Command: ch.Done.ID})
		require.NotNil(t, bad, "a version is never taken back")
	}
	after, _ := p.s.Sheet(p.moth, ListCloseUp)
	require.Equal(t, before, after)
	p.ok(p.as(p.ada), WordingSet{List: ListCloseUp})
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	own, _ := p.s.Sheet(p.moth, ListCloseUp)
	require.Equal(t, before.Lines[0].Ask, own.Lines[0].Ask, "with no lines it is the board's own again")
	require.Equal(t, before.Version+4, own.Version)
}

func TestALineThatCarriesARuleIsNotTakenOut(t *testing.T) {
	lists := map[SheetList][]string{
		ListMakeSafe: {"lock", "link", "radio", "gas", "hydraulic", "spring", "spinning-mass", "raised-arm", "capacitor", "hot-parts", "look", "blocks", "try", "light"},
		ListFirstIn:  {"weapon-power", "drive-power", "gas", "hydraulic", "spring", "spinning-mass", "raised-arm", "capacitor", "hot-parts", "out"},
		ListReopen:   {"lock", "link", "gas", "capacitor"},
		ListCloseUp:  {"inside", "pack", "bolts", "tools", "covers", "lock", "link", "told"},
		ListReady:    {"failsafe", "mass", "strap", "sign"},
		ListInspect:  {"weapon", "lock"},
	}
	for list, ids := range lists {
		for i, id := range ids {
			p := newPit(t)
			less := WordingSet{List: list, Lines: worded(slices.Delete(slices.Clone(ids), i, i+1)...)}
			if len(ids) == 1 {
				continue
			}
			_, bad := p.try(p.as(p.ada), less)
			require.NotNil(t, bad, "%s without %s", list, id)
			sentenceHas(t, bad, id)
			p.ok(p.as(p.ada), WordingSet{List: list, Lines: worded(ids...)})
		}
	}
}

func TestTheInspectionAndTheLoadInMayLeaveLinesOutAndTheBoardSaysSo(t *testing.T) {
	p := newPit(t)
	require.Empty(t, p.s.Relaxed())
	p.ok(p.as(p.ada), WordingSet{List: ListInspect, Lines: worded("lock", "weapon", "drive")})
	require.Equal(t, []string{"The inspect sheet leaves out: frame and electrics."}, p.s.Relaxed())
	p.makeSafe()
	sheet, _ := p.s.Sheet(p.moth, ListInspect)
	require.Equal(t, []string{"lock", "weapon", "drive"}, asks(sheet))
	p.ok(p.as(p.dee), WordingSet{List: ListLoadIn, Lines: []WordedLine{{ID: "own-plate", Kind: LineDo, Ask: "Number plate on?", Say: "ON", Not: "not on"}}})
	p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
	sheet, _ = p.s.Sheet(p.moth, ListLoadIn)
	require.Equal(t, []string{"own-plate"}, asks(sheet))
}

func TestOwnLinesStandInTheirPartAndHoldTheStateBack(t *testing.T) {
	p := newPit(t)
	ids := []string{"lock", "link", "radio", "gas", "hydraulic", "spring", "spinning-mass", "raised-arm", "capacitor", "hot-parts", "look", "blocks", "try", "light"}
	own := []WordedLine{{ID: "own-shout", Part: "verify", Kind: LineDo, Ask: "Shouted?", Say: "SHOUTED", Not: "not yet"}}
	p.ok(p.as(p.dee), WordingSet{List: ListMakeSafe, Lines: append(own, worded(ids...)...)})
	p.ok(p.as(p.kit), RobotDoubt{Robot: p.moth, Why: "new lines"})
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	require.Equal(t, []string{"lock", "link-1", "radio", "spinning-mass-3", "look-" + string(p.p1), "blocks", "own-shout", "try", "light"}, asks(sheet), "parts keep their order")
	p.refused(p.as(p.ben), p.said(ListMakeSafe, "own-shout", SaidDone), 3)
	for p.state() != Isolated {
		p.answer(p.as(p.ben), ListMakeSafe)
	}
	for _, line := range []string{"try", "light"} {
		p.ok(p.as(p.ben), p.said(ListMakeSafe, line, SaidDone))
	}
	require.Equal(t, Isolated, p.state())
	p.ok(p.as(p.ben), p.said(ListMakeSafe, "own-shout", SaidDone))
	require.Equal(t, Verified, p.state())
}

func TestOwnLinesTakeAFigureInItsLimitsAChoiceOrAName(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.dee), WordingSet{List: ListLoadIn, Lines: []WordedLine{
		{ID: "own-volts", Kind: LineNumber, Ask: "Nominal voltage?", Say: "VOLTS", Not: "not known", Unit: "V", Least: 6, Most: 48},
		{ID: "own-kind", Kind: LineChoice, Ask: "Which stand?", Say: "THIS ONE", Not: "none", Choices: []string{"blocks", "cradle"}},
		{ID: "own-told", Kind: LineTold, Ask: "Who was told the way out?", Say: "TOLD", Not: "nobody"},
	}})
	p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
	sheet, _ := p.s.Sheet(p.moth, ListLoadIn)
	give := func(c SheetAnswer) *Refusal {
		c.Sheet, c.Said = sheet.ID, SaidDone
		_, bad := p.try(p.as(p.ben), c)
		return bad
	}
	for _, volts := range []float64{5.9, 48.1, -1} {
		require.Equal(t, "number", give(SheetAnswer{Line: "own-volts", Number: &volts}).Field)
	}
	require.Equal(t, "number", give(SheetAnswer{Line: "own-volts"}).Field)
	for _, volts := range []float64{6, 48} {
		require.Nil(t, give(SheetAnswer{Line: "own-volts", Number: &volts}))
	}
	require.Equal(t, "choice", give(SheetAnswer{Line: "own-kind"}).Field)
	require.Equal(t, "choice", give(SheetAnswer{Line: "own-kind", Choice: "floor"}).Field)
	require.Nil(t, give(SheetAnswer{Line: "own-kind", Choice: "cradle"}))
	require.Equal(t, "told", give(SheetAnswer{Line: "own-told"}).Field)
	require.Nil(t, give(SheetAnswer{Line: "own-told", Told: p.kit}))
	sheet, _ = p.s.Sheet(p.moth, ListLoadIn)
	require.Equal(t, SheetComplete, sheet.State)
	require.Equal(t, "cradle", sheet.Answers[2].Choice)
}

func TestWordingIsRefusedWhereItWouldNotRead(t *testing.T) {
	p := newPit(t)
	own := WordedLine{ID: "own-belt", Kind: LineDo, Ask: "Belt guard on?", Say: "GUARD ON"}
	for name, change := range map[string]func(e *WordedLine){
		"no question":    func(e *WordedLine) { e.Ask = "" },
		"no button":      func(e *WordedLine) { e.Say = "" },
		"a kind of ours": func(e *WordedLine) { e.Kind = LineSign },
		"a pack's kind":  func(e *WordedLine) { e.Kind = LinePack },
		"no limits":      func(e *WordedLine) { e.Kind, e.Unit = LineNumber, "bar" },
		"no unit":        func(e *WordedLine) { e.Kind, e.Most = LineNumber, 3 },
		"limits turned":  func(e *WordedLine) { e.Kind, e.Unit, e.Least, e.Most = LineNumber, "bar", 4, 3 },
		"one choice":     func(e *WordedLine) { e.Kind, e.Choices = LineChoice, []string{"a"} },
		"another's part": func(e *WordedLine) { e.Part = "verify" },
		"a strange id":   func(e *WordedLine) { e.ID = "own-Belt!" },
		"no known line":  func(e *WordedLine) { e.ID = "belt" },
		"no system":      func(e *WordedLine) { e.Covers = []System{"sail"} },
		"odd characters": func(e *WordedLine) { e.Ask = "a\u202Eb" },
	} {
		bad := own
		change(&bad)
		_, r := p.try(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: append(closeUp(), bad)})
		require.NotNil(t, r, name)
		require.Equal(t, "lines", r.Field, name)
	}
	p.ok(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: append(closeUp(), own)})
	for name, lines := range map[string][]WordedLine{
		"twice":          append(closeUp(), closeUp()[0]),
		"another kind":   append(closeUp()[1:], WordedLine{ID: "inside", Kind: LineTold}),
		"covers less":    append(closeUp()[1:], WordedLine{ID: "inside", Covers: []System{SysMass}}),
		"which link":     append(closeUp()[:6:6], WordedLine{ID: "link", Ask: "Out?"}, WordedLine{ID: "told"}),
		"far too many":   append(closeUp(), slices.Repeat([]WordedLine{own}, 40)...),
		"nothing of it":  {own},
		"an empty entry": append(closeUp(), WordedLine{}),
	} {
		_, bad := p.try(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines})
		require.NotNil(t, bad, name)
	}
	_, bad := p.try(p.as(p.ada), WordingSet{List: "holiday", Lines: closeUp()})
	require.Equal(t, "list", bad.Field)
	_, bad = p.try(p.as(p.ben), WordingSet{List: ListCloseUp, Lines: closeUp()})
	require.Equal(t, CodeForbidden, bad.Code)
}

// Every line that the board writes by itself can be named by a wording, and one that
// changes nothing leaves the sheets as they are.
func TestEveryLineOfTheBoardsOwnSurvivesAWordingThatChangesNothing(t *testing.T) {
	var energies []Energy
	for i, k := range []EnergyKind{EnergyWeapon, EnergyDrive, EnergyGas, EnergyHydraulic, EnergySpring, EnergySpin, EnergyArm, EnergyCapacitor, EnergyHeat} {
		for _, reach := range []Reach{Outside, Inside} {
			energies = append(energies, Energy{Kind: k, Isolator: "point " + string(rune('a'+i)), Reach: reach})
		}
	}
	lists := []SheetList{ListMakeSafe, ListFirstIn, ListInspect, ListCloseUp, ListReopen, ListReady, ListLoadIn}
	walk := func(words bool) map[SheetList][]Line {
		p := newPit(t)
		if words {
			for list, ids := range map[SheetList][]string{
				ListMakeSafe: {"lock", "link", "radio", "gas", "hydraulic", "spring", "spinning-mass", "raised-arm", "capacitor", "hot-parts", "look", "blocks", "try", "light"},
				ListFirstIn:  {"weapon-power", "drive-power", "gas", "hydraulic", "spring", "spinning-mass", "raised-arm", "capacitor", "hot-parts", "out"},
				ListReopen:   {"lock", "link", "gas", "capacitor"}, ListCloseUp: {"inside", "pack", "bolts", "tools", "covers", "lock", "link", "told"},
				ListReady: {"failsafe", "mass", "strap", "sign"}, ListInspect: {"weapon", "frame", "drive", "electrics", "lock"},
				ListLoadIn: {"lock", "link", "light", "edges", "blocks", "packs"},
			} {
				p.ok(p.as(p.dee), WordingSet{List: list, Lines: worded(ids...)})
			}
		}
		p.energies(energies...)
		all := p.s.People[p.ben].PersonFields
		all.Authorised = nil
		for _, energy := range energies {
			all.Authorised = append(all.Authorised, energy.Kind)
		}
		p.captain(PersonChange{Person: p.ben, PersonFields: all})
		p.open()
		p.walk(p.as(p.ben), ListInspect)
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
		p.walk(p.as(p.ben), ListReopen)
		p.walk(p.as(p.ben), ListFirstIn)
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		p.walk(p.as(p.ben), ListCloseUp)
		p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
		got := map[SheetList][]Line{}
		for _, list := range lists {
			sheet, ok := p.s.Sheet(p.moth, list)
			require.True(t, ok, list)
			for i := range sheet.Lines {
				sheet.Lines[i].Pack = "" // packs have other ids on another board
				if id := sheet.Lines[i].ID; len(id) > 40 {
					sheet.Lines[i].ID = id[:len(id)-36]
				}
			}
			got[list] = sheet.Lines
		}
		return got
	}
	plain, worded := walk(false), walk(true)
	for _, list := range lists {
		require.ElementsMatch(t, plain[list], worded[list], list)
	}
}

// An event words its lists once. A line that a later program adds to a list stands on
// its sheets all the same, in the board's own words and in its part; what the event
// left out stays out.
func TestALineThatIsAddedLaterStandsOnSheetsThatWereWordedBefore(t *testing.T) {
	sheetOf := func(wording Wording) []string {
		p := newPit(t)
		wording.Version, wording.By = 3, p.dee
		p.s = FromNouns(p.s.Rev, append(p.s.Nouns(), wording), nil)
		p.open()
		if wording.List == ListCloseUp {
			p.walk(p.as(p.ben), ListInspect)
			p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		}
		sheet, ok := p.s.Sheet(p.moth, wording.List)
		require.True(t, ok)
		return asks(sheet)
	}
	require.Equal(t, []string{"inside", "pack", "bolts", "tools", "covers", "lock", "link-1", "told"}, sheetOf(Wording{List: ListCloseUp, Lines: worded("tools")}),
		"what carries a rule, whenever the list was worded")
	require.Equal(t, []string{"tools", "inside", "pack", "bolts", "lock", "covers", "link-1", "told"},
		sheetOf(Wording{List: ListCloseUp, Lines: worded("tools", "inside", "pack", "lock", "covers", "link", "told")}), "behind the line that comes before it")
	few := worded("lock", "weapon")
	require.Equal(t, []string{"lock", "weapon", "frame", "electrics"}, sheetOf(Wording{List: ListInspect, Lines: few, Out: []string{"drive"}}))
	require.Equal(t, []string{"lock", "weapon", "frame", "drive", "electrics"}, sheetOf(Wording{List: ListInspect, Lines: few, Out: []string{}}))
	require.Equal(t, []string{"lock", "weapon"}, sheetOf(Wording{List: ListInspect, Lines: few}), "worded before it was kept what is left out")

	p := newPit(t)
	p.ok(p.as(p.ada), WordingSet{List: ListInspect, Lines: few})
	require.Equal(t, []string{"frame", "drive", "electrics"}, p.s.Wordings[ListInspect].Out)
	p.ok(p.as(p.ada), WordingSet{List: ListInspect})
	require.Equal(t, []string{}, p.s.Wordings[ListInspect].Out)
	require.Empty(t, p.s.Relaxed())
}
