package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What people found who attacked the board anew, each beside the nearest honest act.

func TestRule7NobodyTriesWhetherARobotStartsWhileAnyoneIsOnIt(t *testing.T) {
	try := func(p *pit) SheetAnswer { return p.said(ListMakeSafe, "try", SaidDone) }
	for name, c := range map[string]struct{ on, off func(p *pit) }{
		"hands near": {
			func(p *pit) { p.ok(p.as(p.kit), HandsOn{Robot: p.moth}) },
			func(p *pit) { near, _ := p.s.HandsOf(p.moth, p.kit); p.ok(p.as(p.kit), HandsOff{Hands: near.ID}) },
		},
		"a late tag": {
			func(p *pit) { require.Nil(p.t, p.lateAt(p.as(p.dee), TagOn{Robot: p.moth}, 11_000)) },
			func(p *pit) { p.ok(p.as(p.dee), TagOff{Tag: p.tagOf(p.dee)}) },
		},
		"a job": {
			func(p *pit) { p.ok(p.as(p.kit), JobStart{Job: p.loose(AtRobot)}) },
			func(p *pit) { p.ok(p.as(p.kit), JobLeave{Job: p.theJob()}) },
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.walkUntil(ListMakeSafe, "try")
			c.on(p)
			sentenceHas(t, p.refused(p.as(p.ben), try(p), 7), "nobody tries whether it starts")
			require.Equal(t, Isolated, p.state())
			c.off(p)
			p.ok(p.as(p.ben), try(p))
			c.on(p)
			bad := p.refused(p.as(p.ben), p.said(ListMakeSafe, "light", SaidDone), 7)
			sentenceHas(t, bad, "nobody looks whether it is really off")
			require.NotContains(t, bad.Sentence, "tries", "nobody tries anything for that")
		})
	}
	p := newPit(t)
	p.walkUntil(ListMakeSafe, "try")
	p.ok(p.as(p.kit), HandsOn{Robot: p.moth})
	p.ok(p.as(p.ben), p.said(ListMakeSafe, "try", SaidNo))
	require.Equal(t, Unknown, p.state(), "that it moved is always heard")
}

func TestHandsOfWhichTheBoardHearsLateTakeTheTryBack(t *testing.T) {
	for ago, want := range map[Moment]PowerState{5 * minute: Unknown, 11_000: Isolated} {
		p := newPit(t)
		p.walkUntil(ListMakeSafe, "try")
		p.now += 3 * minute
		p.ok(p.as(p.ben), p.said(ListMakeSafe, "try", SaidDone))
		p.now += minute
		require.Nil(t, p.lateAt(p.as(p.kit), HandsOn{Robot: p.moth}, ago))
		require.Equal(t, want, p.state(), ago)
	}
}

func TestRule3APackIsOutByTheWordOfThoseWhoMaySaySo(t *testing.T) {
	out := func(p *pit) PackMove { return PackMove{Pack: p.p1, Place: p.watch} }
	p := newPit(t)
	p.walkUntil(ListMakeSafe, "try")
	for _, who := range []PersonID{p.gus, p.kit, p.nia} {
		p.refused(p.as(who), out(p), 3)
	}
	p.ok(p.as(p.dee), out(p))
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.refused(p.as(p.dee), TagOn{Robot: p.moth}, 3)
	p.walk(p.as(p.ben), ListFirstIn)
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})

	p = newPit(t)
	p.walkUntil(ListMakeSafe, "try")
	p.ok(p.as(p.ada), out(p))
	p.ok(p.as(p.ben), PackRead{Pack: p.p1, CellVolts: even(3.7), TempC: degrees(21)})
	p.ok(p.as(p.nia), PackCharge{Pack: p.p1, Channel: p.cast.A1, Attendant: p.nia, Cells: 4, Amps: 0.6, Contained: true})
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	require.Equal(t, PackCharging, p.s.Packs[p.p1].State, "who counted its cells has it in hand")
}

func TestRule8OnesOwnWorkEndsWithOnesOwnTag(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.dee), JobJoin{Job: job})
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	require.Equal(t, JobRunning, p.jobState(job), "Dee goes on")
	require.False(t, p.s.Jobs[job].IsAtWork(p.ben))
	p.ok(p.as(p.kit), HandsOn{Robot: p.moth})
	p.ok(p.as(p.kit), JobJoin{Job: job})
	near, _ := p.s.HandsOf(p.moth, p.kit)
	p.ok(p.as(p.kit), HandsOff{Hands: near.ID})
	require.False(t, p.s.Jobs[job].IsAtWork(p.kit))
	loose := p.loose(AtRobot)
	p.ok(p.as(p.ben), JobStart{Job: loose})
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	_, bad = p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	require.True(t, p.s.Jobs[loose].IsAtWork(p.ben), "it asks for no lockout")
	p.now += minute
	p.ok(Actor{Person: p.ben, Role: RoleCrew, Proved: []PersonID{p.ada}}, TagOverride{Tag: p.tagOf(p.dee), Second: p.ada, Override: Override{
		LookedWhere: "everywhere", CalledHow: "by phone", CalledAt: p.now, CheckedBy: p.ben, Reason: "she went home", Asked: true,
	}})
	require.Equal(t, JobHeld, p.jobState(job))
}

func TestRule11ARobotHasAsManyPacksAsItTakes(t *testing.T) {
	p := newPit(t)
	p.open()
	f := p.s.Robots[p.moth].RobotFields
	f.WeaponPacks = 1
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	p.toTheSignature()
	sign := p.said(ListReady, "sign", SaidDone)
	sentenceHas(t, p.refused(p.as(p.dee), sign, 11), "1 weapon pack")
	w := p.s.Packs[p.p2].PackFields
	w.Name, w.Use = "W1", UseWeapon
	w1 := PackID(p.made(p.captain(PackAdd{w})))
	p.read(w1)
	p.ok(p.as(p.ben), PackMove{Pack: w1, Robot: p.moth})
	p.strapped(w1)
	p.ok(p.as(p.dee), sign)
}

func TestRule23NoButtonSaysWhatTheOtherMeans(t *testing.T) {
	set := func(say, not string) WordingSet {
		lines := worded("inside", "pack", "bolts", "tools", "covers", "lock", "link", "told")
		for i := range lines {
			if lines[i].ID == "covers" {
				lines[i].Say, lines[i].Not = say, not
			}
		}
		return WordingSet{List: ListCloseUp, Lines: lines}
	}
	p := newPit(t)
	for _, c := range [][2]string{{"not on", "COVERS ON"}, {"Not on", ""}, {"", "covers on"}, {"LIDS", "lids"}} {
		p.refused(p.as(p.dee), set(c[0], c[1]), 23)
	}
	p.ok(p.as(p.dee), set("LIDS ON", "still off"))
}

func TestDamageThatWasMovedAfterABackupIsHeldOnBothRobots(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number = "Clay Wasp", 2
	wasp := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: f})))
	d, _ := p.damage(GX)
	backup := p.s
	p.ok(p.as(p.ada), DamageMove{Damage: d, Robot: wasp, Reason: "on the other one"})
	replaced := p.s.Replaced(BoardRestore{Why: "restored"})
	p.s = backup
	p.ok(Itself(), replaced)
	var on []RobotID
	for _, d := range p.s.Damages {
		require.Equal(t, GX, d.Grade)
		on = append(on, d.Robot)
	}
	require.ElementsMatch(t, []RobotID{p.moth, wasp}, on)
}

func TestRefusalsSayWhatIsSo(t *testing.T) {
	p := newPit(t)
	p.refused(p.as(p.ada), TagOn{Robot: p.moth}, 3)
	sentenceHas(t, p.refused(p.as(p.ada), Undo{Command: newID(p.now, p.n)}, 0), "the board refused that")
	job := p.twoOn()
	p.ok(p.as(p.kit), HandsOn{Robot: p.moth})
	p.ok(p.as(p.kit), JobJoin{Job: job})
	sentenceHas(t, p.refused(p.as(p.kit), JobFinish{Job: job}, 7), "Ben and Dee are on job 1 too: they leave it first")
	d, _ := p.damage(G3)
	sentenceHas(t, p.refused(p.as(p.ada), DamageRegrade{Damage: d, Grade: G1}, 11), "a few words why")
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackGone})
	sentenceHas(t, p.refused(p.as(p.ben), PackSet{Pack: p.p2, State: PackWaiting}, 13), "the captain says so")
	p.captain(PackAdd{PackFields: func() PackFields { f := p.s.Packs[p.p2].PackFields; f.Name = "P2b"; return f }()})
}
