package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// mothMap is the part map of the cast's robot, constructed by us: wheels before
// rails, the motor under the cover or behind the left rail.
type mothMap struct {
	*pit
	cover, wheelL, wheelR, railL, railR, motor PartID
	bolts                                      JointID
}

func newMothMap(t testing.TB) mothMap {
	m := mothMap{pit: newPit(t)}
	part := func(f PartFields) PartID {
		f.Robot = m.moth
		return PartID(m.made(m.captain(PartAdd{f})))
	}
	after := func(sets ...[]PartID) []Access {
		var all []Access
		for _, s := range sets {
			all = append(all, Access{Parts: s})
		}
		return all
	}
	m.cover = part(PartFields{Name: "top cover", OffSec: 60, OffBadSec: 120})
	m.wheelL = part(PartFields{Name: "wheel, left", OffSec: 60, OffBadSec: 150, Serves: []Serve{{"drive left", 100}}})
	m.wheelR = part(PartFields{Name: "wheel, right", Serves: []Serve{{"drive right", 100}}})
	m.railL = part(PartFields{
		Name: "rail, left", Material: "plate", MassGrams: 90, MaterialListCents: 2900, MachiningListCents: 4200, MachiningPaidCents: 4200,
		OffSec: 300, OffBadSec: 900, First: after([]PartID{m.wheelL}), Serves: []Serve{{"drive left", 40}, {"armour", 50}},
	})
	m.railR = part(PartFields{Name: "rail, right", First: after([]PartID{m.wheelR}), Serves: []Serve{{"armour", 50}}})
	m.motor = part(PartFields{Name: "motor", First: after([]PartID{m.railL}, []PartID{m.cover}), Serves: []Serve{{"weapon", 100}}})
	f := m.s.Parts[m.wheelL].PartFields
	f.Next = []PartID{m.railL}
	m.captain(PartChange{Part: m.wheelL, PartFields: f})
	f = m.s.Parts[m.railL].PartFields
	f.Next = []PartID{m.motor, m.wheelL}
	m.captain(PartChange{Part: m.railL, PartFields: f})
	m.bolts = JointID(m.made(m.captain(JointAdd{JointFields{
		Robot: m.moth, Name: "cover bolts", Parts: []PartID{m.cover, m.railL}, Fastening: "M3 button head", Count: 8, Tool: "hex key 2", OffSec: 60, OffBadSec: 180,
	}})))
	return m
}

func TestAPartThatCannotBeIsRefusedByItsField(t *testing.T) {
	m := newMothMap(t)
	other := RobotID(m.madeKind(KindRobot, m.captain(RobotAdd{RobotFields: RobotFields{
		Name: "Egg", Number: 2, Class: Class{Name: "ant", Limit: 1, Unit: Pound, RuleSet: "house"}, Size: Light, Hands: 1, Weight: 1,
	}})))
	theirs := PartID(m.made(m.captain(PartAdd{PartFields{Robot: other, Name: "lid"}})))
	rail := m.s.Parts[m.railL].PartFields
	for name, c := range map[string]struct {
		change func(*PartFields)
		field  string
	}{
		"no name":                        {func(f *PartFields) { f.Name = "" }, "name"},
		"the name of another":            {func(f *PartFields) { f.Name = "TOP cover" }, "name"},
		"negative mass":                  {func(f *PartFields) { f.MassGrams = -1 }, "massGrams"},
		"a price below nothing":          {func(f *PartFields) { f.MaterialListCents = -1 }, "materialListCents"},
		"machining below nothing":        {func(f *PartFields) { f.MachiningPaidCents = -1 }, "machiningPaidCents"},
		"a bad case without a likely":    {func(f *PartFields) { f.OffSec, f.OffBadSec = 0, 60 }, "offSec"},
		"a bad case that is the shorter": {func(f *PartFields) { f.OffBadSec = 60 }, "offBadSec"},
		"bent more than anything is":     {func(f *PartFields) { f.BendMmPer100 = 51 }, "bendMmPer100"},
		"off before itself":              {func(f *PartFields) { f.First = []Access{{[]PartID{m.railL}}} }, "first"},
		"in a ring through others":       {func(f *PartFields) { f.First = []Access{{[]PartID{m.wheelL, m.loop()}}} }, "first"},
		"another robot's part first":     {func(f *PartFields) { f.First = []Access{{[]PartID{theirs}}} }, "first"},
		"a part nobody entered":          {func(f *PartFields) { f.First = []Access{{[]PartID{"x"}}} }, "first"},
		"an empty set":                   {func(f *PartFields) { f.First = []Access{{}} }, "first"},
		"a hit on it runs into it":       {func(f *PartFields) { f.Next = []PartID{m.railL} }, "next"},
		"a hit runs into another robot":  {func(f *PartFields) { f.Next = []PartID{theirs} }, "next"},
		"more than all of a function":    {func(f *PartFields) { f.Serves = []Serve{{"weapon", 101}} }, "serves"},
		"nothing of a function":          {func(f *PartFields) { f.Serves = []Serve{{"weapon", 0}} }, "serves"},
		"a function twice":               {func(f *PartFields) { f.Serves = []Serve{{"weapon", 10}, {"weapon", 20}} }, "serves"},
		"a spare that is not there":      {func(f *PartFields) { f.Stock = "x" }, "stock"},
		"another robot":                  {func(f *PartFields) { f.Robot = other }, "robot"},
	} {
		t.Run(name, func(t *testing.T) {
			f := rail
			c.change(&f)
			_, bad := m.try(m.as(m.ada), PartChange{Part: m.railL, PartFields: f})
			require.NotNil(t, bad)
			require.Equal(t, c.field, bad.Field, bad.Sentence)
		})
	}
	m.captain(PartChange{Part: m.railL, PartFields: rail})
}

// loop is a part that comes off only after the left rail.
func (m mothMap) loop() PartID {
	return PartID(m.made(m.captain(PartAdd{PartFields{Robot: m.moth, Name: "strap " + string(rune('a'+m.n%26)), First: []Access{{[]PartID{m.railL}}}}})))
}

func TestAJointThatCannotBeIsRefusedByItsField(t *testing.T) {
	m := newMothMap(t)
	good := m.s.Joints[m.bolts].JointFields
	for name, c := range map[string]struct {
		change func(*JointFields)
		field  string
	}{
		"a part to itself":         {func(f *JointFields) { f.Parts = []PartID{m.cover, m.cover} }, "parts"},
		"one part":                 {func(f *JointFields) { f.Parts = []PartID{m.cover} }, "parts"},
		"a part nobody entered":    {func(f *JointFields) { f.Parts = []PartID{m.cover, "x"} }, "parts"},
		"fewer than no fasteners":  {func(f *JointFields) { f.Count = -1 }, "count"},
		"no word on the fastening": {func(f *JointFields) { f.Fastening = "" }, "fastening"},
		"a bad case that is less":  {func(f *JointFields) { f.OffBadSec = 1 }, "offBadSec"},
	} {
		t.Run(name, func(t *testing.T) {
			f := good
			c.change(&f)
			_, bad := m.try(m.as(m.ada), JointChange{Joint: m.bolts, JointFields: f})
			require.NotNil(t, bad)
			require.Equal(t, c.field, bad.Field, bad.Sentence)
		})
	}
}

func TestAPartThatOthersWaitForStaysOnTheMap(t *testing.T) {
	m := newMothMap(t)
	_, bad := m.try(m.as(m.ada), PartRetire{Part: m.wheelR})
	sentenceHas(t, bad, "rail, right")
	_, bad = m.try(m.as(m.ada), PartRetire{Part: m.cover})
	sentenceHas(t, bad, "cover bolts")
	m.captain(JointRetire{Joint: m.bolts})
	m.captain(PartRetire{Part: m.railR})
	m.captain(PartRetire{Part: m.wheelR})
}

func TestTheWayToAPartCountsWhatComesOffOnce(t *testing.T) {
	m := newMothMap(t)
	w, ok := m.s.WayTo(m.moth, []PartID{m.motor})
	require.True(t, ok)
	require.Equal(t, []PartID{m.cover}, w.Off)
	require.Equal(t, []JointID{m.bolts}, w.Joints)
	require.Equal(t, 8, w.Fasteners)
	require.Equal(t, []string{"hex key 2"}, w.Tools)
	require.True(t, w.Exact)
	// More than the sum of the likely times (60 + 60 s) and less than that of the bad
	// ones (120 + 180 s): neither is the right answer for a sum (constructed by us).
	require.Greater(t, w.LikelySec, 120)
	require.Less(t, w.BadSec, 300)
	both, _ := m.s.WayTo(m.moth, []PartID{m.motor, m.railL})
	require.Equal(t, []PartID{m.cover, m.wheelL}, both.Off)
	untimed, _ := m.s.WayTo(m.moth, []PartID{m.railR})
	require.Equal(t, 1, untimed.Untimed)
	require.Zero(t, untimed.LikelySec)
	_, ok = m.s.WayTo(m.moth, []PartID{"x"})
	require.False(t, ok)
}

func TestAHitIsFollowedToTheNextParts(t *testing.T) {
	m := newMothMap(t)
	report := func(f DamageFields) {
		f.Robot, f.Grade = m.moth, G3
		m.ok(m.as(m.ben), DamageReport{DamageFields: f})
	}
	report(DamageFields{OnPart: m.wheelL})
	require.Equal(t, "wheel, left", m.damage().Part, "the map names it")
	require.Equal(t, []LookNext{{m.railL, m.wheelL}}, m.s.LookNext(m.moth))
	report(DamageFields{OnPart: m.railL})
	require.Equal(t, []LookNext{{m.motor, m.railL}}, m.s.LookNext(m.moth))
	fight := FightID(m.made(m.captain(FightAdd{FightFields{Robot: m.moth, Arena: "north", Number: 3}})))
	m.ok(m.as(m.ben), FightEnd{Fight: fight, Result: Won})
	require.Empty(t, m.s.LookNext(m.moth), "the next fight has hits of its own")
	report(DamageFields{OnJoint: m.bolts})
	require.Equal(t, []LookNext{{m.motor, m.railL}, {m.wheelL, m.railL}}, m.s.LookNext(m.moth), "a joint counts as what it joins")
}

// damage is the one that was reported last.
func (m mothMap) damage() Damage {
	var last Damage
	for _, d := range m.s.Damages {
		if d.Number > last.Number {
			last = d
		}
	}
	return last
}

func TestDamageIsFiledOnAPartOrAJointOfItsRobot(t *testing.T) {
	m := newMothMap(t)
	over := 101
	for name, c := range map[string]struct {
		f     DamageFields
		field string
	}{
		"both":                {DamageFields{OnPart: m.cover, OnJoint: m.bolts}, "onJoint"},
		"no such part":        {DamageFields{Part: "x", OnPart: "x"}, "onPart"},
		"no such joint":       {DamageFields{Part: "x", OnJoint: "x"}, "onJoint"},
		"nothing named":       {DamageFields{}, "part"},
		"more than all of it": {DamageFields{OnPart: m.cover, WorksPct: &over}, "worksPct"},
	} {
		t.Run(name, func(t *testing.T) {
			c.f.Robot, c.f.Grade = m.moth, G3
			_, bad := m.try(m.as(m.ben), DamageReport{DamageFields: c.f})
			require.NotNil(t, bad)
			require.Equal(t, c.field, bad.Field, bad.Sentence)
		})
	}
	m.ok(m.as(m.ben), DamageReport{DamageFields: DamageFields{Robot: m.moth, OnJoint: m.bolts, Grade: G3}})
	m.ok(m.as(m.ben), DamageOutcome{Damage: m.damage().ID, Stuck: true, Destroyed: true})
	require.True(t, m.damage().Stuck && m.damage().Destroyed)
	require.Equal(t, "cover bolts", m.damage().Part)
}

func TestWhatWorksFollowsFromDamageLeftAndPatches(t *testing.T) {
	pct := func(n int) *int { return &n }
	half := swapBlade("")
	half.Name, half.Way, half.Stock, half.Limits = "strap it", WayPatch, nil, "half speed"
	half.WorksPct = 60
	unsaid, swap := half, swapBlade("")
	unsaid.WorksPct, swap.Stock = 0, nil
	for name, c := range map[string]struct {
		damage  DamageFields
		fix     *Fix
		word    Working
		pct     int
		unsaid  bool
		reasons int
	}{
		"nothing to do about it":       {DamageFields{Grade: G0}, nil, WorksFull, 100, false, 0},
		"left, nobody said how far":    {DamageFields{Grade: G3}, nil, WorksDegraded, 100, true, 1},
		"left, half of the rail holds": {DamageFields{Grade: G1, WorksPct: pct(50)}, nil, WorksDegraded, 80, false, 1},
		"left, nothing of it works":    {DamageFields{Grade: G3, WorksPct: pct(0)}, nil, WorksDegraded, 60, false, 1},
		"left, and all of it works":    {DamageFields{Grade: G1, WorksPct: pct(100)}, nil, WorksFull, 100, false, 0},
		"destroyed when taken out":     {DamageFields{Grade: G3, Destroyed: true}, nil, WorksDegraded, 60, false, 1},
		"swapped":                      {DamageFields{Grade: G3, WorksPct: pct(0)}, &swap, WorksFull, 100, false, 0},
		"patched to a figure":          {DamageFields{Grade: G3, WorksPct: pct(0)}, &half, WorksDegraded, 84, false, 1},
		"patched, nobody said how far": {DamageFields{Grade: G3, WorksPct: pct(0)}, &unsaid, WorksDegraded, 100, true, 1},
	} {
		t.Run(name, func(t *testing.T) {
			m := newMothMap(t)
			c.damage.Robot, c.damage.OnPart = m.moth, m.railL
			m.ok(m.as(m.ben), DamageReport{DamageFields: c.damage})
			if c.fix != nil {
				m.open()
				job := JobID(m.madeKind(KindJob, m.ok(m.as(m.ben), JobAdd{JobFields: JobFields{
					Robot: m.moth, Name: "rail", Triage: Must, Fixes: []Fix{*c.fix}, Damages: []DamageID{m.damage().ID},
				}})))
				m.ok(m.as(m.ben), JobStart{Job: job})
				m.ok(m.as(m.ben), JobFinish{Job: job})
			}
			function := m.function("drive left")
			require.Equal(t, c.word, function.Word)
			require.Equal(t, c.pct, function.Pct)
			require.Equal(t, c.unsaid, function.Unsaid)
			require.Len(t, function.Why, c.reasons)
			require.Equal(t, WorksFull, m.function("weapon").Word, "the weapon has no share in it")
		})
	}
}

func (m mothMap) function(name string) Function {
	m.t.Helper()
	all, _ := m.s.Works(m.moth)
	for _, function := range all {
		if function.Name == name {
			return function
		}
	}
	require.FailNow(m.t, "no function "+name)
	return Function{}
}

func TestAFunctionIsGoneWithASinglePointOfFailure(t *testing.T) {
	m := newMothMap(t)
	require.Equal(t, []Alone{{m.wheelL, "drive left"}, {m.wheelR, "drive right"}, {m.motor, "weapon"}}, m.s.SinglePoints(m.moth))
	none := 0
	m.ok(m.as(m.ben), DamageReport{DamageFields: DamageFields{Robot: m.moth, OnPart: m.motor, Grade: G4, WorksPct: &none}})
	m.ok(m.as(m.ben), DamageReport{DamageFields: DamageFields{Robot: m.moth, Part: "paint", Grade: G1}})
	require.Equal(t, WorksGone, m.function("weapon").Word)
	_, elsewhere := m.s.Works(m.moth)
	require.Len(t, elsewhere, 1, "what the map has no place for is said apart")
	blunt := SetupID(m.made(m.captain(SetupAdd{SetupFields{Robot: m.moth, Name: "blunt", NotNeeded: []string{"weapon"}}})))
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: blunt})
	require.Equal(t, NotRequired, m.function("weapon").Word)
}
