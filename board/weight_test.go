package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Source of the rounded kg: SPARC Tournament Procedures v1.1 (year unknown, only the
// opening seen). The exact factor of the pound, 0.45359237, is that of the international
// yard and pound agreement, 1959; exact kg computed independently with Python's fractions.
func TestClassLimitsAreExactAndTheRoundedTablesAreNot(t *testing.T) {
	for _, c := range []struct {
		lb      float64
		exactKg float64
		tableKg float64
	}{
		{0.33, 0.1497, 0.150}, {1, 0.4536, 0.454}, {2.2, 0.9979, 1}, {3, 1.3608, 1.36}, {6, 2.7216, 2.72}, {12, 5.4431, 5.44},
		{15, 6.8039, 6.8}, {30, 13.6078, 13.61}, {60, 27.2155, 27.22}, {120, 54.4311, 54.43}, {220, 99.7903, 99.79},
		{242.5, 109.9961, 110}, {250, 113.3981, 113.4},
	} {
		kg := Class{Limit: c.lb, Unit: Pound}.LimitGrams() / 1000
		require.InDelta(t, c.exactKg, kg, 0.00005, "%g lb", c.lb)
		table := Class{Limit: c.tableKg, Unit: Kilogram}.LimitGrams() / 1000
		require.NotEqual(t, kg, table, "%g lb: a rounded table is another limit", c.lb)
		require.InDelta(t, kg, table, 0.0035*kg, "%g lb", c.lb)
	}
}

// Sources: SPARC's rules as used in New Zealand; rules of a UK 150 g class; a UK
// university's rules for 1.5 kg; authors and years unknown. Their limits are rounded to
// the last figure shown.
func TestTheBonusForLegsIsThatOfTheRules(t *testing.T) {
	for _, c := range []struct {
		what  string
		limit float64
		unit  MassUnit
		pct   float64
		want  float64
		exact float64
	}{
		{"150 g shuffler", 150, Gram, 50, 225, 0.01}, {"150 g walker", 150, Gram, 100, 300, 0.01},
		{"1.36 kg shuffler", 1.36, Kilogram, 50, 2050, 10.01}, {"1.36 kg walker", 1.36, Kilogram, 100, 2720, 0.01},
		{"13.61 kg shuffler", 13.61, Kilogram, 50, 20410, 5.01}, {"13.61 kg walker", 13.61, Kilogram, 100, 27210, 10.01},
		{"UK 75 g, does not roll", 75, Gram, 50, 113, 0.51}, {"UK 25 g, does not roll", 25, Gram, 50, 38, 0.51},
		{"1.5 kg shuffler, a third more", 1.5, Kilogram, 100. / 3, 2000, 0.01}, {"1.5 kg walker", 1.5, Kilogram, 100, 3000, 0.01},
	} {
		require.InDelta(t, c.want, Class{Limit: c.limit, Unit: c.unit, BonusPct: c.pct}.LimitGrams(), c.exact, c.what)
	}
}

// A robot of several machines, some of which do not roll. Sources as above: UK 150
// g, rollers ≤ limit − ⅔ × non-rollers; the UK university's 1.5 kg, 0.75 × shuffler
// + wheeled = 1.5. The figures of 90 g are worked by hand.
func TestWhereOnlySomeMachinesWalkTheirMassCountsLess(t *testing.T) {
	for _, c := range []struct {
		what         string
		limit        float64
		unit         MassUnit
		pct, walking float64
		rolling      float64
	}{
		{"90 of 150 g walk", 150, Gram, 50, 90, 90},
		{"all but nothing walks", 150, Gram, 50, 0.001, 149.999},
		{"all of it walks", 150, Gram, 50, 225, 0},
		{"a shuffler of 1 kg at 1.5 kg", 1.5, Kilogram, 100. / 3, 1000, 750},
	} {
		limit := Class{Limit: c.limit, Unit: c.unit, BonusPct: c.pct, WalkingGrams: c.walking}.LimitGrams()
		require.InDelta(t, c.rolling, limit-c.walking, 0.001, c.what)
	}
}

// 113.10 kg on the scale, limit 250 lb, a module of 1.9 kg out for one of
// 2.4 kg (constructed by us).
func TestTheHeaviestDeclaredSetupIsSaidBeforeAnythingIsUnbolted(t *testing.T) {
	p := newPit(t)
	robot := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: RobotFields{
		Name: "Grumlow", Number: 9, Class: Class{Name: "heavyweight", Limit: 250, Unit: Pound, RuleSet: "house rules 2"}, Size: Heavy, Hands: 3, Weight: 9,
	}})))
	module := func(name string, grams float64) ModuleID {
		return ModuleID(p.made(p.captain(ModuleAdd{ModuleFields{Robot: robot, Slot: "front", Name: name, MassGrams: grams, SwapSec: 600, SwapBadSec: 1500}})))
	}
	light, heavy := module("plough", 1900), module("wedge", 2400)
	setup := func(name string, declared bool, m ModuleID) SetupID {
		return SetupID(p.made(p.captain(SetupAdd{SetupFields{Robot: robot, Name: name, Declared: declared, Modules: []ModuleID{m}}})))
	}
	plough, wedge := setup("plough", true, light), setup("wedge", false, heavy)
	require.Equal(t, MassUnknown, p.s.MassIn(robot, nil).Word())
	p.ok(p.as(p.ben), RobotFit{Robot: robot, Setup: plough})
	p.ok(p.as(p.ben), RobotWeigh{Robot: robot, Grams: 113100})

	u, mass, ok := p.s.HeaviestDeclared(robot)
	require.True(t, ok)
	require.Equal(t, plough, u.ID)
	require.Equal(t, "under by 0.30 kg (0.66 lb)", mass.Text(Pound))
	over := p.s.MassIn(robot, []ModuleID{heavy})
	require.Equal(t, MassOver, over.Word())
	require.Equal(t, "over by 0.20 kg (0.45 lb)", over.Text(Pound))
	f := p.s.Setups[wedge].SetupFields
	f.Declared = true
	p.captain(SetupChange{Setup: wedge, SetupFields: f})
	u, _, _ = p.s.HeaviestDeclared(robot)
	require.Equal(t, wedge, u.ID, "declared, it rules, though it is not on")
	require.Equal(t, []string{"wedge, the heaviest declared setup, is over by 0.20 kg (0.45 lb): lighten it, or take it off the declared ones before the weigh-in."}, p.s.WeighWarnings(robot))
	require.InDelta(t, 2400/113398.0925*100, p.s.DifferPct(robot), 1e-9)
	likely, bad, untimed := p.s.SwapTo(robot, []ModuleID{heavy})
	require.Equal(t, []int{600, 1500, 0}, []int{likely, bad, untimed})
	likely, _, _ = p.s.SwapTo(robot, []ModuleID{light})
	require.Zero(t, likely, "it is on already")
}

func TestTheScalesStepLeavesTheLimitOpen(t *testing.T) {
	limit := Class{Limit: 3, Unit: Pound}.LimitGrams()
	for _, c := range []struct {
		grams, step float64
		word        MassWord
		text        string
	}{
		{limit, 0, MassUnder, "at the limit to the gram: any scale may say over"},
		{limit + 0.1, 0, MassOver, "over by 0.1 g (0.0002 lb)"},
		{limit + 0.02, 0, MassOver, "over by 0.020 g (0.0000 lb)"},
		{1360, 2, MassClose, "at the limit, within the scale's step: weigh it on the event's scale"},
		{1361, 2, MassClose, "at the limit, within the scale's step: weigh it on the event's scale"},
		{1362, 2, MassOver, "over by 1.2 g (0.0027 lb)"},
		{1359, 2, MassUnder, "under by 1.8 g (0.0039 lb)"},
	} {
		mass := Mass{Grams: c.grams, LimitGrams: limit, StepGrams: c.step, Basis: FromScale}
		require.Equal(t, c.word, mass.Word(), "%g g", c.grams)
		require.Equal(t, c.text, mass.Text(Pound))
	}
}

func TestAnotherPackCountsWithItsMass(t *testing.T) {
	m := newFitted(t)
	weigh := func(id PackID, grams float64) {
		f := m.s.Packs[id].PackFields
		f.MassGrams, f.Fits = grams, []RobotID{m.moth}
		m.captain(PackChange{Pack: id, PackFields: f})
	}
	weigh(m.p1, 100)
	m.ok(m.as(m.ben), RobotWeigh{Robot: m.moth, Grams: 1340})
	m.ok(m.as(m.ben), PackMove{Pack: m.p1, Place: m.watch})
	require.InDelta(t, 1340, m.s.MassIn(m.moth, nil).Grams, 1e-9, "the other's mass is not known")
	weigh(m.p2, 130)
	require.InDelta(t, 1370, m.s.MassIn(m.moth, nil).Grams, 1e-9, "with none in, the heaviest that fits counts")
	require.Equal(t, MassOver, m.s.MassIn(m.moth, nil).Word())

	f := m.s.Robots[m.moth].RobotFields
	f.MainPacks = 2
	m.captain(RobotChange{Robot: m.moth, RobotFields: f})
	require.InDelta(t, 1470, m.s.MassIn(m.moth, nil).Grams, 1e-9, "a robot that takes two counts two")
}

func TestWithoutAReadingThePartMapIsWeighed(t *testing.T) {
	m := newFitted(t)
	require.Equal(t, FromNone, m.s.MassIn(m.moth, nil).Basis)
	f := m.s.Parts[m.cast.Rail].PartFields
	f.MassGrams = 900
	m.captain(PartChange{Part: m.cast.Rail, PartFields: f})
	mass := m.s.MassIn(m.moth, []ModuleID{m.wide, m.tail})
	require.Equal(t, FromParts, mass.Basis)
	require.InDelta(t, 1010, mass.Grams, 1e-9)
}

func TestASetupsRecordCountsItsFightsByKindOfOpponent(t *testing.T) {
	m := newFitted(t)
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
	for i, f := range []struct {
		kind string
		r    Result
	}{{"spinner", Won}, {"spinner", Lost}, {"spinner", Won}, {"wedge", Drawn}, {"", Lost}, {"wedge", WonForfeit}} {
		id := FightID(m.made(m.captain(FightAdd{FightFields{Robot: m.moth, Arena: "north", Number: i + 3, OpponentKind: f.kind}})))
		m.ok(m.as(m.ben), FightEnd{Fight: id, Result: f.r})
	}
	require.Equal(t, []SetupRecord{{"", 1, 0, 1, 0}, {"spinner", 3, 2, 1, 0}, {"wedge", 1, 0, 0, 1}}, m.s.RecordOf(m.spin))
	require.Empty(t, m.s.RecordOf(m.push))
}

// The rule is that of a UK university for 1.5 kg robots: all sets declared, at most 50 %
// of the limit between them. The robot is constructed by us.
func TestSetupsThatDifferByHalfTheLimitOrWereNotDeclaredAreSaidAndBarNothing(t *testing.T) {
	for name, c := range map[string]struct {
		grams    float64
		declared bool
		warns    []string
	}{
		"half of the limit":   {750, true, nil},
		"more than half":      {750.1, true, []string{"The declared setups differ by 50.1 % of the limit; some rule sets allow 50 %"}},
		"far more":            {900, true, []string{"differ by 60.0 % of the limit"}},
		"on and not declared": {900, false, []string{"ram is on and was not declared"}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			robot := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: RobotFields{
				Name: "Grumlow", Number: 9, Class: Class{Name: "beetle", Limit: 1500, Unit: Gram, RuleSet: "house rules 2"}, Size: Light, Hands: 2, Weight: 9,
			}})))
			require.Empty(t, p.s.WeighWarnings(robot), "nothing declared")
			ram := ModuleID(p.made(p.captain(ModuleAdd{ModuleFields{Robot: robot, Slot: "front", Name: "ram", MassGrams: c.grams, SwapSec: 60, SwapBadSec: 120}})))
			p.captain(SetupAdd{SetupFields{Robot: robot, Name: "bare", Declared: true}})
			on := SetupID(p.made(p.captain(SetupAdd{SetupFields{Robot: robot, Name: "ram", Declared: c.declared, Modules: []ModuleID{ram}}})))
			p.ok(p.as(p.ben), RobotFit{Robot: robot, Setup: on})
			p.ok(p.as(p.ben), RobotWeigh{Robot: robot, Grams: 1400})
			warns := p.s.WeighWarnings(robot)
			require.Len(t, warns, len(c.warns))
			for i, want := range c.warns {
				require.Contains(t, warns[i], want)
			}
		})
	}
}
