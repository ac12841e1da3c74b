package debrief_test

import (
	"encoding/binary"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
	"mendline/board/debrief"
)

const minute = Moment(60_000)

// pit is a board with the cast on it that writes its journal.
type pit struct {
	boardtest.Cast
	t     require.TestingT
	s     State
	now   Moment
	n     uint32
	lines [][]byte
}

func newPit(t require.TestingT) *pit {
	p := &pit{t: t, now: 1_778_324_400_000}
	p.Cast = boardtest.NewCast(func(by Actor, c Command) []Key {
		change, bad := p.give(by, c)
		require.Nil(t, bad, "%T", c)
		return change.Done.Made
	})
	return p
}

func (p *pit) command() CommandID {
	var id CommandID
	p.n++
	binary.BigEndian.PutUint64(id[:8], uint64(p.now)<<16)
	id[6], id[8] = 0x70, 0x80
	binary.BigEndian.PutUint32(id[12:], p.n)
	return id
}

// give gives a command and writes the line that the desk would write.
func (p *pit) give(by Actor, c Command) (Change, *Refusal) {
	ask := Ask{ID: p.command(), Seen: boardtest.Seen(p.s, c)}
	change, bad := Apply(p.s, c, ask, by, p.now)
	if bad != nil {
		return change, bad
	}
	with, err := json.Marshal(c)
	require.NoError(p.t, err)
	put := map[Key]jsontext.Value{}
	for _, n := range change.Put {
		put[n.Key()] = Encode(n)
	}
	line, err := json.Marshal(JournalLine{
		Rev: change.Rev, At: change.Done.At, ID: ask.ID.String(), By: by.Person, Role: by.Role, Do: Name(c), With: with, Put: put, Del: change.Del,
	})
	require.NoError(p.t, err)
	p.lines = append(p.lines, line)
	p.s, p.now = p.s.With(change), change.Done.At
	return change, nil
}

// as gives a command as a person, and returns the id it made of a kind.
func (p *pit) as(who PersonID, c Command, kind Kind) string {
	change, bad := p.give(Actor{Person: who, Role: p.s.People[who].Role}, c)
	require.Nil(p.t, bad, "%T %v", c, bad)
	for _, key := range change.Done.Made {
		if k, id := key.Split(); k == kind {
			return id
		}
	}
	return ""
}

func (p *pit) do(who PersonID, c Command) { p.as(who, c, "") }

func (p *pit) fight(number int, opponent string) FightID {
	return FightID(p.as(p.Ada, FightAdd{FightFields: FightFields{Robot: p.Moth, Arena: "north", Number: number, Opponent: opponent}}, KindFight))
}

// fought lets a fight take place for three minutes.
func (p *pit) fought(id FightID, result Result) {
	p.do(p.Ada, FightNow{Arena: "north", Number: p.s.Fights[id].Number})
	p.now += 3 * minute
	p.do(p.Ada, FightEnd{Fight: id, Result: result})
}

func (p *pit) damage(f DamageFields) DamageID {
	f.Robot = p.Moth
	return DamageID(p.as(p.Ben, DamageReport{DamageFields: f}, KindDamage))
}

// job adds a job off the robot, so that no lockout is asked for.
func (p *pit) job(name string, fix Fix, damages ...DamageID) JobID {
	fix.Where, fix.Lockout, fix.PackOut = OffRobot, false, false
	return JobID(p.as(p.Ben, JobAdd{JobFields: JobFields{Robot: p.Moth, Name: name, Triage: Should, Fixes: []Fix{fix}, Damages: damages}}, KindJob))
}

// works does a job for so many minutes.
func (p *pit) works(id JobID, minutes float64) {
	p.do(p.Ben, JobStart{Job: id})
	p.now += Moment(minutes * float64(minute))
	p.do(p.Ben, JobFinish{Job: id})
}

func (p *pit) record() debrief.Record {
	rec, err := debrief.Read(linesOf(p.lines))
	require.NoError(p.t, err)
	return rec
}

func linesOf(lines [][]byte) func(func([]byte, error) bool) {
	return func(yield func([]byte, error) bool) {
		for _, l := range lines {
			if !yield(l, nil) {
				return
			}
		}
	}
}

func account(t testing.TB, r debrief.Record) debrief.Account {
	asked := debrief.Usual()
	asked.Replays = 500
	a, err := r.Account(asked)
	require.NoError(t, err)
	return a
}

func billOf(t testing.TB, bills []debrief.Bill, h debrief.Hit) debrief.Bill {
	for _, b := range bills {
		if b.Hit == h {
			return b
		}
	}
	require.Fail(t, "no such bill", "%+v", h)
	return debrief.Bill{}
}
