package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// charges gives what a pack needs to be charged, with whom it names.
func (p *pit) charges(who PersonID) PackCharge {
	p.t.Helper()
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7), TempC: degrees(21)})
	return PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: who, Cells: 4, Amps: 0.6, Contained: true}
}

func TestRule14WhoStaysWithAChargeIsOneWhoSaidSo(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), p.charges(p.dee))
	require.Equal(t, p.dee, p.s.Packs[p.p2].Attendant)
	require.Zero(t, p.s.Packs[p.p2].AttendAt, "Ben named her, and she has not said so")
	p.refused(p.as(p.ben), PackAttend{Pack: p.p2, Person: p.dee}, 5)
	p.refused(p.as(p.kit), PackAttend{Pack: p.p2}, 14)
	p.refused(p.as(p.gus), PackAttend{Pack: p.p2}, 14)
	p.ok(p.as(p.dee), PackAttend{Pack: p.p2})
	require.Equal(t, p.now, p.s.Packs[p.p2].AttendAt)
	_, bad := p.try(p.as(p.dee), PackAttend{Pack: p.p2})
	require.Equal(t, CodeNothingToDo, bad.Code)

	shared := p.as(p.ada)
	shared.Proved = []PersonID{p.ben}
	p.ok(shared, PackAttend{Pack: p.p2, Person: p.ben})
	require.Equal(t, p.ben, p.s.Packs[p.p2].Attendant, "he took it over, with his PIN on another's phone")
	require.NotZero(t, p.s.Packs[p.p2].AttendAt)

	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	_, bad = p.try(p.as(p.ben), PackAttend{Pack: p.p2})
	require.Equal(t, CodeState, bad.Code)
	p.ok(p.as(p.ben), p.charges(p.ben))
	require.NotZero(t, p.s.Packs[p.p2].AttendAt, "who puts it on charge and names themselves has said so")
}

func TestRule14OnePersonTakesNoMoreChargesOverThanTheEventLets(t *testing.T) {
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p3, two := p.pack("P3"), p.channel("")
	p.ok(p.as(p.dee), PackRead{Pack: p3, CellVolts: even(3.7)})
	p.ok(p.as(p.dee), PackCharge{Pack: p3, Channel: two, Attendant: p.dee, Cells: 4, Amps: 0.6, Contained: true})
	p.refused(p.as(p.ben), PackAttend{Pack: p3}, 14)
	p.ok(p.as(p.ada), PackAttend{Pack: p3})
}

func TestRule14WhoStaysWithAChargeWorksWhereItIsInSight(t *testing.T) {
	for name, c := range map[string]struct {
		sees    func(p *pit)
		refused bool
	}{
		"nobody has said where the robot is": {func(*pit) {}, true},
		"at a bench that does not see it":    {func(p *pit) { p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench}) }, true},
		"at a bench that sees it": {func(p *pit) {
			p.captain(PlaceChange{Place: p.bench, PlaceFields: PlaceFields{Name: "bench 1", Kind: PlaceBench, InSight: []PlaceID{p.shelf}}})
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
		}, false},
		"at the charging table itself": {func(p *pit) { p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.shelf}) }, false},
		"and someone took it over": {func(p *pit) {
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
			p.ok(p.as(p.dee), PackAttend{Pack: p.p2})
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			for _, begins := range []func(p *pit) Command{
				func(p *pit) Command { return TagOn{Robot: p.moth} },
				func(p *pit) Command { return JobStart{Job: p.theJob()} },
			} {
				p := newPit(t)
				p.makeSafe()
				p.loose(AtRobot)
				p.ok(p.as(p.ben), p.charges(p.ben))
				c.sees(p)
				if !c.refused {
					p.ok(p.as(p.ben), begins(p))
					continue
				}
				bad := p.refused(p.as(p.ben), begins(p), 14)
				sentenceHas(t, bad, "P2")
				p.ok(p.as(p.dee), PackAttend{Pack: p.p2})
				p.ok(p.as(p.ben), begins(p))
				p.refused(p.as(p.ben), PackAttend{Pack: p.p2}, 14)
			}
		})
	}
}

func TestWhatALatePhoneSaysOfWorkAwayFromAChargeIsTaken(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	job := p.loose(AtRobot)
	p.ok(p.as(p.ben), p.charges(p.ben))
	p.now += 60_000
	require.Nil(t, p.lateAt(p.as(p.ben), JobStart{Job: job}, 30_000))
	require.Equal(t, []OutOfSight{{Pack: p.p2, Job: job, Robot: p.moth}}, p.s.OutOfSight())
	p.ok(p.as(p.ben), HandsOn{Robot: p.moth})
	require.Contains(t, p.s.OutOfSight(), OutOfSight{Pack: p.p2, Robot: p.moth}, "hands near are a fact, and no attendant is where they are")
	p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 14)
}

func TestAChargeIsNoOlderThanWhatItRestsOn(t *testing.T) {
	p := newPit(t)
	c := p.charges(p.ben)
	p.now += 3600_000
	require.Nil(t, p.lateAt(p.as(p.ben), c, 50*60_000))
	require.Equal(t, p.now-50*60_000, p.s.Packs[p.p2].UsedAt, "what is true is taken late")

	p = newPit(t)
	p.now += 3600_000
	c = p.charges(p.ben)
	read := p.now
	p.now += 60_000
	require.Nil(t, p.lateAt(p.as(p.ben), c, 50*60_000))
	for _, at := range []Moment{p.s.Packs[p.p2].UsedAt, p.s.Packs[p.p2].Since, p.s.Packs[p.p2].AttendAt} {
		require.Equal(t, read, at, "it began after the pack was read")
	}
}

func TestAfterARestartAChargeThatMayRunIsNobodysUntilSomeoneSays(t *testing.T) {
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.ok(Itself(), BoardStart{Why: "restart"})
	is := p.s.Packs[p.p2]
	require.True(t, is.Unsure)
	require.Zero(t, is.AttendAt)
	require.Equal(t, p.cast.A1, is.Channel, "nobody puts another on its channel")
	p.ok(p.as(p.ben), PackAttend{Pack: p.p2})
	require.False(t, p.s.Packs[p.p2].Unsure)
	require.NotZero(t, p.s.Packs[p.p2].AttendAt)
	p.ok(Itself(), BoardStart{Why: "restart"})
	p.ok(p.as(p.dee), PackOff{Pack: p.p2})
	require.Equal(t, PackUnread, p.s.Packs[p.p2].State)
	require.False(t, p.s.Packs[p.p2].Unsure)
}

func TestWhatIsSaidToBeInSightIsPrintedAsRelaxed(t *testing.T) {
	p := newPit(t)
	require.Empty(t, p.s.Relaxed())
	p.captain(PlaceChange{Place: p.bench, PlaceFields: PlaceFields{Name: "bench 1", Kind: PlaceBench, InSight: []PlaceID{p.shelf}}})
	require.Equal(t, []string{"Whoever stays with a charge at charging table may work at bench 1: it is in sight."}, p.s.Relaxed())
}
