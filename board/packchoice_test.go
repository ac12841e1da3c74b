package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func (p *pit) fitsMoth(id PackID, change func(*PackFields)) {
	p.t.Helper()
	f := p.s.Packs[id].PackFields
	f.Fits = []RobotID{p.moth}
	change(&f)
	p.captain(PackChange{Pack: id, PackFields: f})
}

func TestAPackIsChosenForARobotsNextFightUntilItGoesIn(t *testing.T) {
	p := newPit(t)
	p.fitsMoth(p.p2, func(*PackFields) {})
	p.ok(p.as(p.ben), PackChoose{Pack: p.p2, Robot: p.moth})
	require.Equal(t, p.moth, p.s.Packs[p.p2].ChosenFor)
	p.ok(p.as(p.ben), PackChoose{Pack: p.p2})
	require.Empty(t, p.s.Packs[p.p2].ChosenFor)

	p.ok(p.as(p.ben), PackChoose{Pack: p.p2, Robot: p.moth})
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
	require.Empty(t, p.s.Packs[p.p2].ChosenFor, "it is in")
}

// another enters a robot like Moth.
func (p *pit) another() RobotID {
	p.t.Helper()
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number = "Wasp", f.Number+50
	return RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: f})))
}

func TestAChoiceEndsWhenNobodyCanFollowItAnyMore(t *testing.T) {
	for name, end := range map[string]func(p *pit){
		"a reading sets it aside":      func(p *pit) { p.ok(p.as(p.ben), PackRead{Pack: p.p2, Look: LookSwollen, Sure: true}) },
		"someone sets it aside":        func(p *pit) { p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackQuarantined}) },
		"it is not one for it now":     func(p *pit) { p.fitsMoth(p.p2, func(f *PackFields) { f.Fits = nil }) },
		"the pack leaves the board":    func(p *pit) { p.captain(PackRetire{Pack: p.p2}) },
		"the robot is withdrawn":       func(p *pit) { p.captain(RobotWithdraw{Robot: p.moth}) },
		"the robot leaves the board":   func(p *pit) { p.captain(RobotRetire{Robot: p.moth}) },
		"it is found in another robot": func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.another(), Found: true}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.fitsMoth(p.p2, func(*PackFields) {})
			p.ok(p.as(p.ben), PackChoose{Pack: p.p2, Robot: p.moth})
			end(p)
			require.Empty(t, p.s.Packs[p.p2].ChosenFor)
		})
	}
}

func TestOnlyAsManyPacksAreChosenAsTheRobotTakes(t *testing.T) {
	for name, c := range map[string]struct {
		takes int
		ah    float64 // of the second
		first bool    // is still chosen
	}{
		"one":                   {0, 0.65, false},
		"two of a kind":         {2, 0.65, true},
		"two of different kind": {2, 0.85, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := p.s.Robots[p.moth].RobotFields
			f.MainPacks = c.takes
			p.captain(RobotChange{Robot: p.moth, RobotFields: f})
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch})
			p.fitsMoth(p.p1, func(f *PackFields) { f.CapacityAh = 0.65 })
			p.fitsMoth(p.p2, func(f *PackFields) { f.CapacityAh = c.ah })
			p.ok(p.as(p.ben), PackChoose{Pack: p.p1, Robot: p.moth})
			p.ok(p.as(p.ben), PackChoose{Pack: p.p2, Robot: p.moth})
			require.Equal(t, c.first, p.s.Packs[p.p1].ChosenFor == p.moth)
			require.Equal(t, p.moth, p.s.Packs[p.p2].ChosenFor)
		})
	}
}

func TestAPackIsNotChosenForWhatItCannotDo(t *testing.T) {
	for name, c := range map[string]struct {
		do   func(p *pit) PackChoose
		rule int
		says string
	}{
		"not one for it": {func(p *pit) PackChoose { return PackChoose{Pack: p.p2, Robot: p.another()} }, 0, "is not one for"},
		"no such robot":  {func(p *pit) PackChoose { return PackChoose{Pack: p.p2, Robot: "none"} }, 0, "There is no"},
		"no such pack":   {func(p *pit) PackChoose { return PackChoose{Pack: "none", Robot: p.moth} }, 0, "There is no"},
		"in a robot":     {func(p *pit) PackChoose { p.fitsMoth(p.p1, func(*PackFields) {}); return PackChoose{p.p1, p.moth} }, 0, "Take it out first"},
		"it is withdrawn": {func(p *pit) PackChoose {
			p.fitsMoth(p.p2, func(*PackFields) {})
			p.captain(RobotWithdraw{Robot: p.moth})
			return PackChoose{p.p2, p.moth}
		}, 0, "is withdrawn"},
		"it is set aside": {func(p *pit) PackChoose { p.setAside(); return PackChoose{p.p2, p.moth} }, 13, "choose another"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			bad := p.refused(p.as(p.ben), c.do(p), c.rule)
			sentenceHas(t, bad, c.says)
		})
	}
}

func (p *pit) setAside() {
	p.t.Helper()
	p.fitsMoth(p.p2, func(*PackFields) {})
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
}

func TestAPlanTellsChargesThatCouldBeBegunAndSaysWhatChanged(t *testing.T) {
	for name, c := range map[string]struct {
		change func(p *pit, k *PlanCharge)
		rule   int
		says   string
	}{
		"nothing wrong":       {func(*pit, *PlanCharge) {}, 0, ""},
		"more than the label": {func(_ *pit, k *PlanCharge) { k.Amps = 9 }, 0, "the lower of the two limits"},
		"more than 1C": {func(p *pit, k *PlanCharge) {
			p.fitsMoth(p.p2, func(f *PackFields) { f.ChargeAmpsMost = 5 })
			k.Amps = 2
		}, 0, "more than 1C"},
		"no amps":                {func(_ *pit, k *PlanCharge) { k.Amps = 0 }, 0, "more than 0"},
		"an end before a start":  {func(_ *pit, k *PlanCharge) { k.EndAt = k.StartAt - 1 }, 0, "a start and an end"},
		"an unknown channel":     {func(_ *pit, k *PlanCharge) { k.Channel = "none" }, 0, "There is no"},
		"an unknown robot":       {func(_ *pit, k *PlanCharge) { k.Robot = "none" }, 0, "There is no"},
		"an unknown pack":        {func(_ *pit, k *PlanCharge) { k.Pack = "none" }, 0, "There is no"},
		"a pack that is swollen": {func(p *pit, _ *PlanCharge) { p.setAside() }, 13, "not charged"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			k := PlanCharge{Pack: p.p2, EndAt: minutesIn(40), ToldCharge: ToldCharge{Robot: p.moth, Channel: p.cast.A1, Amps: 0.6, StartAt: minutesIn(1)}}
			c.change(p, &k)
			_, bad := p.try(Itself(), PlanReplace{Charges: []PlanCharge{k}})
			if c.says != "" {
				require.NotNil(t, bad)
				require.Equal(t, c.rule, bad.Rule)
				sentenceHas(t, bad, c.says)
				return
			}
			require.Nil(t, bad)
			_, bad = p.try(Itself(), PlanReplace{Charges: []PlanCharge{k, k}})
			sentenceHas(t, bad, "twice")

			p.ok(Itself(), PlanReplace{Charges: []PlanCharge{k}})
			told, ok := p.s.Follow().Charge(p.p2)
			require.True(t, ok)
			require.Equal(t, FollowCharge{Pack: p.p2, ToldCharge: k.ToldCharge, EndAt: k.EndAt}, told)
			was := k.ToldCharge
			k.Amps = 0.4
			p.ok(Itself(), PlanReplace{Charges: []PlanCharge{k}})
			told, _ = p.s.Follow().Charge(p.p2)
			require.Equal(t, &was, told.Was)
		})
	}
}

func TestAChoiceIsTakenBackOnlyWhileNobodyHasChangedItsPacks(t *testing.T) {
	for name, c := range map[string]struct {
		then func(p *pit)
		free bool
	}{
		"nothing since":              {func(*pit) {}, true},
		"another job was entered":    {func(p *pit) { p.job() }, true},
		"it was set aside":           {func(p *pit) { p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackSuspect}) }, false},
		"it went in":                 {func(p *pit) { p.ok(p.as(p.ada), PackMove{Pack: p.p2, Robot: p.moth, Found: true}) }, false},
		"the robot is off the board": {func(p *pit) { p.captain(RobotRetire{Robot: p.moth}) }, false},
		"the one before was read":    {func(p *pit) { p.ok(p.as(p.ada), PackSet{Pack: p.p1, State: PackStorage}) }, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch})
			for _, id := range []PackID{p.p1, p.p2} {
				p.fitsMoth(id, func(*PackFields) {})
			}
			p.ok(p.as(p.ben), PackChoose{Pack: p.p1, Robot: p.moth})
			second := p.ok(p.as(p.ben), PackChoose{Pack: p.p2, Robot: p.moth})
			c.then(p)
			_, bad := p.try(p.as(p.ben), Undo{Command: second.Done.ID})
			require.Equal(t, c.free, bad == nil, "%+v", bad)
			if c.free {
				require.Equal(t, p.moth, p.s.Packs[p.p1].ChosenFor)
				require.Empty(t, p.s.Packs[p.p2].ChosenFor)
			}
		})
	}
}
