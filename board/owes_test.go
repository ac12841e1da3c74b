package board_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

// burrs adds a job at the grinder, off the robot, and has Ben do it.
func (p *pit) burrs() JobID {
	p.t.Helper()
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "dress the burrs", Triage: Should, Fixes: []Fix{boardtest.DressBurrs()},
	}})))
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	return job
}

// afterATest brings the robot out of a test, with P2 in it, the covers closed since and
// a job finished off the robot.
func afterATest(t *testing.T) (*pit, JobID) {
	p := newPit(t)
	p.closedUp()
	p.tests()
	p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
	job := p.burrs()
	require.Equal(t, JobFinished, p.jobState(job))
	return p, job
}

// A job whose hands are done stands in the way until it is closed. Whatever is asked
// of it then, or of its robot, a refusal that names it says what it owes.
func TestEveryRefusalAboutAFinishedJobSaysWhatItOwes(t *testing.T) {
	for name, p := range finishedJobs(t) {
		t.Run(name, func(t *testing.T) {
			job := onlyJob(t, p)
			require.Equal(t, JobFinished, job.State)
			named := 0
			for _, c := range Commands() {
				with, err := json.Marshal(aboutJob(c, p, job))
				require.NoError(t, err)
				cmd, bad := Decode(c.Do, with)
				if bad != nil {
					continue
				}
				p.n++
				_, bad = Apply(p.s, cmd, Ask{ID: newID(p.now, p.n), Seen: p.seen(cmd)}, Actor{Person: p.ada, Role: RoleCaptain}, p.now)
				if bad == nil || !strings.Contains(bad.Sentence, "ob 1") {
					continue
				}
				named++
				assert.Equal(t, job.ID, bad.Job, c.Do)
				if !slices.Contains([]string{"job.change", "job.start", "job.resume", "job.join"}, c.Do) {
					assert.NotContains(t, bad.Sentence, "Reopen it first", "%s is for more work alone", c.Do)
				}
				assert.NotContains(t, bad.Sentence, "do it, or", c.Do)
				for _, owed := range p.owes(job.ID) {
					assert.Contains(t, bad.Sentence, owed, c.Do)
				}
			}
			require.Greater(t, named, 5)
		})
	}
}

// finishedJobs are boards with one job that is finished and not closed, for each thing
// that it can owe and each way in which that can stand in the way.
func finishedJobs(t *testing.T) map[string]*pit {
	unknown, _ := afterATest(t)
	verified, _ := afterATest(t)
	verified.makeSafe()
	closing, _ := afterATest(t)
	closing.closesUpAgain()
	two := newPit(t)
	two.closedUp()
	weapon := two.s.Packs[two.p2].PackFields
	weapon.Name, weapon.Use = "W1", UseWeapon
	w1 := PackID(two.made(two.captain(PackAdd{weapon})))
	two.read(w1)
	two.ok(two.as(two.ben), PackMove{Pack: w1, Robot: two.moth})
	two.strapped(w1)
	two.testedWithAJob()
	two.allOff()
	two.makeSafe()
	two.ok(two.as(two.ada), RobotCloseUp{Robot: two.moth})
	two.reads(two.p2)
	two.reads(w1)
	two.walkUntil(ListCloseUp, "pack-2")
	hurt, _ := hurtUncovered(t)
	return map[string]*pit{
		"the robot is unknown":          unknown,
		"first in is not answered":      verified,
		"its pack came back":            closing,
		"two packs came back":           two,
		"worked on without any lockout": hurt,
	}
}

// owes says in words what a job owes.
func (p *pit) owes(id JobID) []string {
	var says []string
	for _, owed := range p.s.Owes(p.s.Jobs[id], p.now) {
		says = append(says, owed.Says)
	}
	return says
}

// closesUpAgain walks a robot whose covers stayed closed to its last line, the signature.
func (p *pit) closesUpAgain() {
	p.t.Helper()
	p.allOff()
	p.makeSafe()
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	p.toTheSignature()
}

func (p *pit) toTheSignature() {
	p.t.Helper()
	for {
		sheet, ok := p.s.Sheet(p.moth, ListReady)
		require.True(p.t, ok)
		l, _ := sheet.OpenLine()
		if l.Kind == LineSign {
			return
		}
		p.answer(p.as(p.ben), ListReady)
	}
}

// hurtUncovered is a robot closed up with damage that can hurt people, mended while the
// robot was not locked out: the job is finished and not closed.
func hurtUncovered(t *testing.T) (*pit, JobID) {
	p := newPit(t)
	damage := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: GX}})))
	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "swap blade", Triage: Must, Fixes: []Fix{swapBlade(p.blade)}, Damages: []DamageID{damage},
	}})))
	from := p.now
	p.now += 600_000
	p.open()
	_, bad := p.tryAsk(p.as(p.ben), JobStart{Job: job}, Ask{ID: newID(p.now, 1<<21), At: from})
	require.Nil(t, bad)
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.makeSafeAgain()
	p.walk(p.as(p.ben), ListInspect)
	_, bad = p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	p.toTheSignature()
	return p, job
}

func onlyJob(t *testing.T, p *pit) Job {
	require.Len(t, p.s.Jobs, 1)
	for _, j := range p.s.Jobs {
		return j
	}
	return Job{}
}

// aboutJob fills a command's fields with what the board has that is about the job.
func aboutJob(c Described, p *pit, job Job) map[string]any {
	with := map[string]any{}
	for _, f := range c.Fields {
		switch f.Name {
		case "job":
			with["job"] = job.ID
		case "robot":
			with["robot"] = p.moth
		case "damage":
			for id := range p.s.Damages {
				with["damage"] = id
			}
		case "sheet":
			sheet, _ := p.s.Sheet(p.moth, ListReady)
			l, _ := sheet.OpenLine()
			with["sheet"], with["line"], with["said"] = sheet.ID, l.ID, SaidDone
		case "place":
			with["place"] = p.box
		case "what", "reason", "name":
			with[f.Name] = "as it is"
		case "minutes":
			with["minutes"] = 3
		case "why":
			with["why"] = HoldPart
		case "acceptor":
			with["acceptor"] = p.ada
		case "tasks":
			with["tasks"] = []map[string]any{{"job": job.ID, "fix": 0, "people": []PersonID{}}}
		case "triage":
			with["triage"] = Must
		case "fixes":
			with["fixes"] = job.Fixes
		}
	}
	return with
}

// What the board says a job owes is what it takes: whoever does as it says closes it.
func TestWhatAFinishedJobOwesClosesIt(t *testing.T) {
	for name, p := range finishedJobs(t) {
		t.Run(name, func(t *testing.T) {
			id := onlyJob(t, p).ID
			for range 20 {
				owes := p.s.Owes(p.s.Jobs[id], p.now)
				if len(owes) == 0 {
					break
				}
				p.pays(id, owes[0])
			}
			require.Equal(t, JobClosed, p.jobState(id))
		})
	}
}

// pays does what a finished job owes, by the button that stands at it.
func (p *pit) pays(job JobID, owed JobOwes) {
	p.t.Helper()
	switch {
	case owed.Line != "":
		p.reads(owed.Pack)
		p.ok(p.as(p.ben), SheetAnswer{Sheet: owed.Sheet, Line: owed.Line, Said: SaidDone, Pack: owed.Pack})
	case owed.Sheet != "":
		if _, on := p.s.TagOf(p.moth, p.ben); p.s.Sheets[owed.Sheet].List == ListFirstIn && !on {
			p.ok(p.as(p.ben), TagOn{Robot: p.moth})
		}
		p.answer(p.as(p.ben), p.s.Sheets[owed.Sheet].List)
	case owed.Pack != "":
		p.ok(p.as(p.ben), PackMove{Pack: owed.Pack, Place: p.watch})
	default:
		require.NotEmpty(p.t, owed.Looks, owed.Says)
		p.ok(p.as(owed.Looks[0]), JobReinspect{Job: job})
	}
}

// reads reads the cells of a pack where that is owed.
func (p *pit) reads(id PackID) {
	p.t.Helper()
	if p.s.Packs[id].Unread {
		p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(4.05)})
	}
}

// After a test the covers stayed closed, and the pack is in: the shortest honest way
// does not open them again.
func TestAfterATestAnsweringForThePackClosesTheJobWithTheCoversOn(t *testing.T) {
	p, job := afterATest(t)
	p.closesUpAgain()
	sheet, _ := p.s.Sheet(p.moth, ListReady)
	sign := SheetAnswer{Sheet: sheet.ID, Line: "sign", Said: SaidDone}
	bad := p.refused(p.as(p.dee), sign, 11)
	require.Contains(t, bad.Sentence, "pack P2")
	owed := p.s.Owes(p.s.Jobs[job], p.now)
	require.Len(t, owed, 1)
	p.pays(job, owed[0])
	require.Equal(t, JobClosed, p.jobState(job))
	p.ok(p.as(p.dee), sign)
	require.Equal(t, Ready, p.state())
}

// Whoever worked on a job does not look at it again: where that is everyone, an
// official does, on the captain's device.
func TestALoneCaptainsUncoveredWorkIsLookedAtByAnOfficialOnTheirDevice(t *testing.T) {
	p, job := hurtUncovered(t)
	for _, id := range []PersonID{p.dee, p.nia} {
		p.captain(PersonRetire{Person: id})
	}
	p.ok(p.as(p.ada), JobReopen{Job: job})
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ada), ListReopen)
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	p.walk(p.as(p.ada), ListFirstIn)
	p.ok(p.as(p.ada), JobStart{Job: job})
	p.ok(p.as(p.ada), JobFinish{Job: job})
	require.Contains(t, p.owes(job)[0], "An official, whom the captain enters as a signer, looks at the work again")
	require.Contains(t, p.refused(p.as(p.ada), JobReinspect{Job: job}, 0).Sentence, "An official")
	oda := p.person(PersonFields{Name: "Oda", Role: RoleCrew, Signer: true, From: "the officials"})
	p.refused(p.as(p.ada), JobReinspect{Job: job, Person: oda}, 5)
	p.ok(Actor{Person: p.ada, Role: RoleCaptain, Proved: []PersonID{oda}}, JobReinspect{Job: job, Person: oda})
	require.Equal(t, JobClosed, p.jobState(job))
}

// A job that was taken up again is looked at as one that is held is: else it could be neither
// dropped nor left off.
func TestAReopenedJobWithUncoveredTimeIsLookedAtAndThenDropped(t *testing.T) {
	p, job := hurtUncovered(t)
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.ok(p.as(p.ada), JobReopen{Job: job})
	drop := JobDrop{Job: job, Reason: "another way"}
	sentenceHas(t, p.refused(p.as(p.ada), drop, 8), "looks at the work again first")
	p.ok(p.as(p.dee), JobReinspect{Job: job})
	p.ok(p.as(p.ada), drop)
	fresh := p.jobWith(p.as(p.ada), Must, boardtest.DressBurrs())
	bad := p.refused(p.as(p.dee), JobReinspect{Job: fresh}, 0)
	require.Equal(t, fresh, bad.Job, "nobody has worked on it yet")
}
