package work_test

import (
	"encoding/binary"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/view"
	"mendline/board/work"
)

var (
	noon    = board.MomentOf(time.Date(2026, 5, 9, 12, 0, 0, 0, time.UTC))
	captain = board.Actor{Role: board.RoleCaptain}
)

// pit is a board with a light robot, Sprat: Ada leads it, Ben may make it safe too, Cy may
// not, Kim is a minor.
type pit struct {
	t                 *testing.T
	s                 board.State
	n                 uint64
	r                 board.RobotID
	ada, ben, cy, kim board.PersonID
}

func newPit(t *testing.T) *pit {
	p := &pit{t: t}
	p.give(captain, board.EventSet{EventFields: board.EventFields{Name: "Harbour Hall Open", SpinDownSec: 60, EmergencyContact: "the desk"}})
	person := func(f board.PersonFields) board.PersonID {
		f.Role = board.RoleCrew
		return board.PersonID(p.give(captain, board.PersonAdd{PersonFields: f}))
	}
	both := []board.EnergyKind{board.EnergyWeapon, board.EnergyDrive}
	p.ada, p.ben = person(board.PersonFields{Name: "Ada", Authorised: both}), person(board.PersonFields{Name: "Ben", Authorised: both})
	p.cy, p.kim = person(board.PersonFields{Name: "Cy"}), person(board.PersonFields{Name: "Kim", Minor: true})
	p.r = board.RobotID(p.give(captain, board.RobotAdd{RobotFields: board.RobotFields{
		Name: "Sprat", Number: 1, Size: board.Light, Hands: 1, BeforeSec: 9 * 60, AfterSec: 5 * 60, Weight: 1, Lead: p.ada,
		Class:    board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules"},
		Energies: []board.Energy{{Kind: board.EnergyWeapon, Isolator: "link", Reach: board.Outside}, {Kind: board.EnergyDrive, Isolator: "link", Reach: board.Outside}},
	}}))
	return p
}

// give gives a command and returns the id of what it made first.
func (p *pit) give(by board.Actor, c board.Command) (made string) {
	p.t.Helper()
	p.n++
	var id board.CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(noon)<<16|7<<12)
	binary.BigEndian.PutUint64(id[8:], 1<<63|p.n)
	change, refusal := board.Apply(p.s, c, board.Ask{ID: id, Seen: boardtest.Seen(p.s, c)}, by, noon)
	require.Nil(p.t, refusal, "%+v", refusal)
	p.s = p.s.With(change)
	if len(change.Done.Made) > 0 {
		_, made = change.Done.Made[0].Split()
	}
	return made
}

func (p *pit) by(who board.PersonID, c board.Command) {
	p.t.Helper()
	p.give(board.Actor{Person: who, Role: board.RoleCrew}, c)
}

// until answers the lines of a list until the robot is in a state.
func (p *pit) until(state board.PowerState, list board.SheetList, who board.PersonID) {
	p.t.Helper()
	for p.s.Powers[p.r].State != state {
		answer, open := boardtest.NextAnswer(p.s, p.r, list, who)
		require.True(p.t, open)
		p.by(who, answer)
	}
}

// of is the work on the robot, step by step; a minute later than the last answer.
func (p *pit) of() map[work.Step]work.Item {
	items := map[work.Step]work.Item{}
	for _, i := range work.Of(p.s, p.s.Robots[p.r], noon.Add(time.Minute), view.Learnt{}) {
		items[i.Step] = i
	}
	return items
}

func TestTheWorkOnARobotIsItsSheetsForThoseWhoMayAnswerThem(t *testing.T) {
	p := newPit(t)
	all := p.of()
	crew := []board.PersonID{p.ada, p.ben, p.cy}
	for step, may := range map[work.Step][]board.PersonID{
		work.MakeSafe: {p.ada, p.ben}, work.Verify: {p.ada, p.ben}, work.Inspect: crew, work.CloseUp: {p.ada, p.ben}, work.Weigh: crew,
		work.Test: {p.ada}, work.Sign: {p.ada},
	} {
		require.ElementsMatch(t, may, all[step].May, step)
		require.Equal(t, 1, all[step].Hands, step)
	}
	var sec float64
	for _, i := range all {
		sec += i.Times.LikelySec
		require.Equal(t, 2*i.Times.LikelySec, i.Times.BadSec, i.Step)
	}
	require.InDelta(t, 14*60, sec, 1e-6)
}

func TestASecondVerifierIsAnotherPersonThanWhoIsolated(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.r].RobotFields
	f.SecondVerifier = true
	p.give(captain, board.RobotChange{Robot: p.r, RobotFields: f})
	require.Equal(t, 2, p.of()[work.Verify].Hands, "nobody knows yet who isolates it")

	p.until(board.Isolated, board.ListMakeSafe, p.ben)

	all := p.of()
	require.NotContains(t, all, work.MakeSafe)
	require.Equal(t, []board.PersonID{p.ada}, all[work.Verify].May)
	require.Equal(t, 1, all[work.Verify].Hands)
}

func TestWhoAnsweredLastIsOnWhatIsDue(t *testing.T) {
	p := newPit(t)
	p.until(board.PoweredDown, board.ListMakeSafe, p.ben)
	all := p.of()
	require.Equal(t, p.ben, all[work.MakeSafe].On)
	require.Empty(t, all[work.Verify].On)
	require.Less(t, all[work.MakeSafe].Times.LikelySec, 3.5*60, "some of it is answered")

	later := work.Of(p.s, p.s.Robots[p.r], noon.Add(10*time.Minute), view.Learnt{})
	require.Empty(t, later[0].On, "not for ever")
}

func TestJobsStandBetweenTheSheetsBeforeThemAndThoseBehind(t *testing.T) {
	p := newPit(t)
	fix := board.Fix{Name: "swap", Way: board.WaySwap, LikelySec: 600, BadSec: 900, Hands: []board.Skill{board.SkillAny}, Station: board.StationNone, Where: board.AtRobot, Lockout: true}
	off := fix
	off.Where, off.Lockout = board.OffRobot, false
	for _, f := range []board.Fix{fix, off} {
		p.give(captain, board.JobAdd{JobFields: board.JobFields{Robot: p.r, Name: "belt", Triage: board.Must, Fixes: []board.Fix{f}}})
	}
	var steps []work.Step
	for _, i := range work.Of(p.s, p.s.Robots[p.r], noon, view.Learnt{}) {
		steps = append(steps, i.Step)
	}
	require.Equal(t, []work.Step{
		work.MakeSafe, work.Verify, work.FirstIn, work.Inspect, work.Job, work.Job, work.CloseUp, work.Test, work.Weigh, work.Sign,
	}, steps)
}

func TestATestIsAtTheTestAreaAndTheWeighingAtTheScaleWhereThereIsOne(t *testing.T) {
	p := newPit(t)
	require.Equal(t, board.StationNone, p.of()[work.Test].Station)
	p.give(captain, board.StationAdd{StationFields: board.StationFields{Name: "box", Kind: board.StationTest, Count: 1}})
	p.give(captain, board.StationAdd{StationFields: board.StationFields{Name: "scale", Kind: board.StationScale, Count: 1}})
	all := p.of()
	require.Equal(t, board.StationTest, all[work.Test].Station)
	require.Equal(t, board.StationScale, all[work.Weigh].Station)
}
