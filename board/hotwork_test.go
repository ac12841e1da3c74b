package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

func (p *pit) grinding(where Where) JobID {
	p.t.Helper()
	fix := boardtest.DressBurrs()
	fix.Where = where
	p.makeSafe()
	return p.jobWith(p.as(p.ada), Should, fix)
}

func TestRule15NoGrindingBesideAPackAndNoPackBesideGrinding(t *testing.T) {
	for name, c := range map[string]struct {
		where   Where
		station bool
		before  func(p *pit) // what stands on the board when the job is started
		after   func(p *pit) (Actor, Command)
		refused bool
	}{
		"a pack lies at the grinder": {OffRobot, true, func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.cast.Corner}) }, nil, true},
		"a pack lies elsewhere":      {OffRobot, true, func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.bench}) }, nil, false},
		"nobody said which grinder":  {OffRobot, false, func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.cast.Corner}) }, nil, true},
		"at the robot, a pack in it": {AllRobot, true, func(p *pit) {}, nil, true},
		"at the robot, its pack out": {AllRobot, true, func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch}) }, nil, false},
		"a robot with its pack in stands there": {OffRobot, true, func(p *pit) {
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.cast.Corner})
		}, nil, true},
		"a pack is moved there while it runs": {OffRobot, true, func(p *pit) {}, func(p *pit) (Actor, Command) {
			return p.as(p.ben), PackMove{Pack: p.p2, Place: p.cast.Corner}
		}, true},
		"a pack is moved elsewhere while it runs": {OffRobot, true, func(p *pit) {}, func(p *pit) (Actor, Command) {
			return p.as(p.ben), PackMove{Pack: p.p2, Place: p.bench}
		}, false},
		"the robot is put there while it runs": {OffRobot, true, func(p *pit) {}, func(p *pit) (Actor, Command) {
			return p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.cast.Corner}
		}, true},
		"the station is moved to the pack": {OffRobot, true, func(p *pit) {}, func(p *pit) (Actor, Command) {
			return p.as(p.ada), StationChange{Station: p.cast.Grinder, StationFields: StationFields{Name: "grinder", Kind: StationGrind, Count: 1, Place: p.watch}}
		}, true},
		"a pack that is gone hurts nobody": {OffRobot, true, func(p *pit) {
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.cast.Corner})
			p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackGone})
		}, nil, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			job := p.grinding(c.where)
			c.before(p)
			by, do := p.as(p.ben), Command(JobStart{Job: job})
			if c.station {
				do = JobStart{Job: job, Station: p.cast.Grinder}
			}
			if c.after != nil {
				p.ok(by, do)
				by, do = c.after(p)
			}
			if c.refused {
				p.refused(by, do, 15)
			} else {
				p.ok(by, do)
			}
		})
	}
}

func TestRule15HoldsForAResumeToo(t *testing.T) {
	p := newPit(t)
	job := p.grinding(OffRobot)
	p.ok(p.as(p.ben), JobStart{Job: job, Station: p.cast.Grinder})
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPerson})
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.cast.Corner})
	p.refused(p.as(p.ben), JobResume{Job: job, Station: p.cast.Grinder}, 15)
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
	p.ok(p.as(p.ben), JobResume{Job: job, Station: p.cast.Grinder})
}

func TestAJobIsStartedAtAStationOfItsKind(t *testing.T) {
	p := newPit(t)
	job := p.grinding(OffRobot)
	weld := StationID(p.made(p.captain(StationAdd{StationFields{Name: "torch", Kind: StationWeld, Count: 1}})))
	_, bad := p.try(p.as(p.ben), JobStart{Job: job, Station: weld})
	require.Equal(t, "station", bad.Field)
	_, bad = p.try(p.as(p.ben), JobStart{Job: job, Station: "nowhere"})
	require.Equal(t, CodeUnknown, bad.Code)
	p.ok(p.as(p.ben), JobStart{Job: job, Station: p.cast.Grinder})
	require.Equal(t, p.cast.Grinder, p.s.Jobs[job].Stints[0].Station)
}

func TestGrindingWaitsForThePermitThatTheVenueAsksFor(t *testing.T) {
	p := newPit(t)
	job := p.grinding(OffRobot)
	whole := HotWork{Needed: true, Text: "grinder in the corner only", By: "the hall keeper", Until: p.now + 3600_000}
	for name, leave := range map[string]func(h *HotWork){
		"no text": func(h *HotWork) { h.Text = "" }, "nobody gave it": func(h *HotWork) { h.By = "" },
		"no end": func(h *HotWork) { h.Until = 0 }, "over": func(h *HotWork) { h.Until = p.now },
	} {
		f := p.settings()
		f.HotWork = whole
		leave(&f.HotWork)
		p.captain(EventSet{EventFields: f})
		_, bad := p.try(p.as(p.ben), JobStart{Job: job})
		require.NotNil(t, bad, name)
		sentenceHas(t, bad, "permit")
	}
	f := p.settings()
	f.HotWork = whole
	p.captain(EventSet{EventFields: f})
	p.ok(p.as(p.ben), JobStart{Job: job})
	require.Equal(t, whole.Until, Due(p.s, p.now))
	p.now = whole.Until + 5000
	p.ok(Itself(), BoardTick{})
	require.Equal(t, JobHeld, p.jobState(job))
	require.Equal(t, whole.Until, p.s.Jobs[job].Stints[0].To, "what was worked under it counts")
}

func TestAPlaceWithAStationIsNotRetired(t *testing.T) {
	p := newPit(t)
	_, bad := p.try(p.as(p.ada), PlaceRetire{Place: p.cast.Corner})
	require.NotNil(t, bad)
	sentenceHas(t, bad, "grinder")
	p.captain(StationRetire{Station: p.cast.Grinder})
	p.captain(PlaceRetire{Place: p.cast.Corner})
}
