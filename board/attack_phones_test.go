package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about phones that tell of hands too late.

func TestRule7HandsOnWhileSomeoneTriedWithdrawItFromTheFirstTenSeconds(t *testing.T) {
	for name, c := range map[string]struct {
		before Moment
		want   PowerState
	}{
		"on before the try":      {1000, Unknown},
		"on after it was proven": {-1000, Verified},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.makeSafe()
			then := p.power().VerifiedAt - c.before
			p.now = then + 20*second
			require.Nil(t, p.at(p.as(p.gus), HandsOn{Robot: p.moth}, then))
			require.Equal(t, c.want, p.state())
		})
	}
}

func TestRule7WorkThatComesLateToAJobThatIsDoneIsTaken(t *testing.T) {
	for name, c := range map[string]struct {
		do func(job JobID) Command
		// end is where the job stands when it comes.
		end func(p *pit, job JobID)
		// then is how the job stands after it.
		then JobState
	}{
		"joined, and finished since":  {func(job JobID) Command { return JobJoin{Job: job} }, nil, JobFinished},
		"started, and finished since": {func(job JobID) Command { return JobStart{Job: job} }, nil, JobFinished},
		"resumed, and finished since": {func(job JobID) Command { return JobResume{Job: job} }, nil, JobFinished},
		"started, and dropped since":  {func(job JobID) Command { return JobStart{Job: job} }, func(p *pit, job JobID) { p.ok(p.as(p.ada), JobDrop{Job: job, Reason: "it holds"}) }, JobDropped},
		"started, and left off since": {func(job JobID) Command { return JobStart{Job: job} }, func(p *pit, job JobID) { p.ok(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "it holds"}) }, JobDeferred},
	} {
		for _, power := range []PowerState{Work, Ready} {
			t.Run(name+", "+string(power), func(t *testing.T) {
				p := newPit(t)
				p.open()
				job := p.job()
				then := p.now + 1000
				if c.end == nil {
					p.doJob(job)
					then = p.s.Jobs[job].Stints[0].From
				} else {
					c.end(p, job)
				}
				if power == Ready {
					p.ready()
				}
				p.now += minute
				require.Nil(t, p.at(p.as(p.nia), c.do(job), then))
				last := p.s.Jobs[job].Stints[len(p.s.Jobs[job].Stints)-1]
				require.Equal(t, p.nia, last.By, "what was worked is in the record")
				require.NotZero(t, last.Late)
				require.Equal(t, c.then, p.jobState(job), "nobody's tag or hands near covers it")
				require.Equal(t, power == Ready, p.state() == Unknown)
				require.Equal(t, power == Ready, p.power().Conflict)
				require.NotNil(t, p.at(p.as(p.nia), c.do(job), then), "once")
			})
		}
	}
}

func TestRule12WhoeverJoinedFromAPhoneWithNoNetworkDoesNotSign(t *testing.T) {
	for _, joined := range []bool{true, false} {
		p := newPit(t)
		p.open()
		p.ok(p.as(p.dee), TagOn{Robot: p.moth})
		job := p.job()
		p.ok(p.as(p.ben), JobStart{Job: job})
		then := p.now + 1000
		p.now += minute
		p.ok(p.as(p.ben), JobFinish{Job: job})
		_, bad := p.tagOff(p.as(p.dee), p.dee)
		require.Nil(t, bad)
		p.now += minute
		if joined {
			require.Nil(t, p.at(p.as(p.dee), JobJoin{Job: job}, then))
			require.Equal(t, JobClosed, p.jobState(job), "her own tag was on through it")
		}
		if bad := p.at(p.as(p.dee), JobJoin{Job: job}, p.now); !joined {
			require.NotNil(t, bad, "at once there is nothing to join")
		}
		p.closeUpAgain()
		_, bad = p.sign(p.dee)
		if !joined {
			require.Nil(t, bad)
			continue
		}
		require.NotNil(t, bad)
		require.Equal(t, 12, bad.Rule)
		p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
	}
}
