package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/charge"
)

// Sequences as in attack_test.go, about packs that gave power.

func TestRule11APackThatRanATestIsReadBeforeTheSignature(t *testing.T) {
	tested := func(p *pit) { p.tests(); p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth}) }
	read := func(p *pit, volts float64) { p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(volts)}) }
	for name, c := range map[string]struct {
		between func(p *pit)
		says    string
	}{
		"no test":                    {func(*pit) {}, ""},
		"a test":                     {tested, "Nobody has read the cells of pack P2"},
		"a test whose time was over": {func(p *pit) { p.tests(); p.now += 6 * minute; p.ok(Itself(), BoardTick{}) }, "Nobody has read"},
		"read after it":              {func(p *pit) { tested(p); read(p, 4.0) }, ""},
		"read, and low":              {func(p *pit) { tested(p); read(p, 3.15) }, "none goes into a fight below"},
		"read while it ran":          {func(p *pit) { p.tests(); read(p, 4.0); p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth}) }, "Nobody has read"},
		"read before, heard after": {func(p *pit) {
			tested(p)
			require.Nil(p.t, p.lateAt(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.0)}, minute))
		}, "Nobody has read"},
		"only its temperature": {func(p *pit) { tested(p); p.ok(p.as(p.ben), PackRead{Pack: p.p2, TempC: degrees(25)}) }, "Nobody has read"},
		"read, and tested again": {func(p *pit) {
			tested(p)
			read(p, 4.0)
			p.makeSafe()
			p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
			p.walk(p.as(p.ben), ListCloseUp)
			tested(p)
		}, "Nobody has read"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.closedUp()
			p.now += 2 * minute
			c.between(p)
			if p.state() == Unknown {
				p.closesUpAgain()
			}
			p.toTheSignature()
			sign := p.said(ListReady, "sign", SaidDone)
			if c.says == "" {
				p.ok(p.as(p.nia), sign)
				return
			}
			sentenceHas(t, p.refused(p.as(p.nia), sign, 11), c.says)
			read(p, 4.0)
			p.ok(p.as(p.nia), sign)
		})
	}
	p := newPit(t)
	p.closedUp()
	tested(p)
	p.closesUpAgain()
	p.tests() // a second test asks for no reading
}

// sender enters a pack for the robot's transmitter, read to a figure.
func (p *pit) sender(name string, volts float64) PackID {
	p.t.Helper()
	f := PackFields{Name: name, Chemistry: charge.LiIon, Cells: 1, Parallel: 1, CapacityAh: 2, ChargeAmpsMost: 1, Use: UseTransmitter, Fits: []RobotID{p.moth}}
	id := PackID(p.made(p.captain(PackAdd{f})))
	p.ok(p.as(p.ben), PackMove{Pack: id, Place: p.bench})
	if volts != 0 {
		p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: []float64{volts}})
	}
	return id
}

func TestRule11ThePackOfTheTransmitterIsNamedAndRead(t *testing.T) {
	p := newPit(t)
	p.sender("T1", 4.0)
	p.sender("T2", 0)
	p.sender("T3", 3.1)
	p.closedUp()
	say := func(name string) SheetAnswer {
		c := p.said(ListReady, "sender", SaidDone)
		c.Choice = name
		return c
	}
	p.walkUntil(ListReady, "sender")
	sentenceHas(t, p.refused(p.as(p.ben), say("T2"), 11), "Nobody has read the cells of pack T2")
	sentenceHas(t, p.refused(p.as(p.ben), say("T3"), 11), "3.10 V")
	_, bad := p.try(p.as(p.ben), say("P1"))
	require.Equal(t, "choice", bad.Field)
	p.ok(p.as(p.ben), say("T1"))
	_, bad = p.sign(p.nia)
	require.Nil(t, bad)

	p = newPit(t)
	p.sender("T1", 0)
	p.closedUp()
	p.walkUntil(ListReady, "sender")
	p.ok(p.as(p.ben), p.said(ListReady, "sender", SaidNotFitted))
	_, bad = p.sign(p.nia)
	require.Nil(t, bad, "none of the board's is in it, by name and on the sheet")

	p = newPit(t)
	p.closedUp()
	ready, _ := p.s.Sheet(p.moth, ListReady)
	require.Equal(t, "failsafe", ready.Lines[0].ID, "the board has no pack for it, and asks for none")
}

func TestRule11ThePackOfTheTransmitterIsReadAgainAfterPower(t *testing.T) {
	for name, c := range map[string]struct {
		then func(p *pit, t1 PackID)
		rule int
	}{
		"nothing":        {func(*pit, PackID) {}, 0},
		"its cells fell": {func(p *pit, t1 PackID) { p.ok(p.as(p.ben), PackRead{Pack: t1, CellVolts: []float64{3.1}}) }, 11},
		"another chemistry": {func(p *pit, t1 PackID) {
			f := p.s.Packs[t1].PackFields
			f.Chemistry = charge.LiFe
			p.captain(PackChange{Pack: t1, PackFields: f})
		}, 11},
		"set aside": {func(p *pit, t1 PackID) { p.ok(p.as(p.ben), PackSet{Pack: t1, State: PackSuspect}) }, 11},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			t1 := p.sender("T1", 4.0)
			p.closedUp()
			p.toTheSignature()
			c.then(p, t1)
			if c.rule != 0 {
				p.refused(p.as(p.nia), p.said(ListReady, "sign", SaidDone), c.rule)
				return
			}
			p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
			p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
			require.Equal(t, PackUnread, p.s.Packs[t1].State)
		})
	}
}

func TestRule11ThePackOfTheTransmitterStaysFitAfterTheSignature(t *testing.T) {
	for name, c := range map[string]struct {
		then func(p *pit, t1 PackID)
		says string
	}{
		"nothing":        {func(*pit, PackID) {}, ""},
		"read again":     {func(p *pit, t1 PackID) { p.ok(p.as(p.ben), PackRead{Pack: t1, CellVolts: []float64{4.0}}) }, ""},
		"its cells fell": {func(p *pit, t1 PackID) { p.ok(p.as(p.ben), PackRead{Pack: t1, CellVolts: []float64{3.1}}) }, "3.10 V"},
		"set aside":      {func(p *pit, t1 PackID) { p.ok(p.as(p.ben), PackSet{Pack: t1, State: PackSuspect}) }, "no pack T1 for the transmitter"},
		"off the board":  {func(p *pit, t1 PackID) { p.captain(PackRetire{Pack: t1}) }, "no pack T1 for the transmitter"},
		"for another robot": {func(p *pit, t1 PackID) {
			f := p.s.Packs[t1].PackFields
			f.Use = UseTool
			p.captain(PackChange{Pack: t1, PackFields: f})
		}, "no pack T1 for the transmitter"},
		"on a charger": {func(p *pit, t1 PackID) {
			p.ok(p.as(p.ben), PackMove{Pack: t1, Place: p.shelf})
			p.ok(p.as(p.ben), PackCharge{Pack: t1, Channel: p.cast.A1, Attendant: p.ben, Cells: 1, Amps: 0.5, Contained: true})
		}, "on a charger"},
		"another takes its name, and it is low": {func(p *pit, t1 PackID) {
			was := p.s.Packs[t1].PackFields
			f := was
			f.Name = "T9"
			p.captain(PackChange{Pack: t1, PackFields: f})
			require.Equal(p.t, Ready, p.state())
			p.sender("T1", 4.0)
			p.ok(p.as(p.ben), PackRead{Pack: t1, CellVolts: []float64{3.1}})
		}, "A cell of pack T9 reads 3.10 V"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			t1 := p.sender("T1", 4.0)
			p.closedUp()
			p.toTheSignature()
			p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
			c.then(p, t1)
			if c.says == "" {
				p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
				require.Equal(t, PackUnread, p.s.Packs[t1].State)
				return
			}
			require.Equal(t, Unknown, p.state(), "the signature is withdrawn")
			require.Contains(t, p.s.Powers[p.moth].Why, c.says)
		})
	}
}

func TestRule11TheWeaponsOwnPackIsNamedWhereTheBoardHasOne(t *testing.T) {
	weapon := func(p *pit) PackID {
		f := p.s.Packs[p.p2].PackFields
		f.Name, f.Use = "W1", UseWeapon
		w1 := PackID(p.made(p.captain(PackAdd{f})))
		p.ok(p.as(p.ben), PackMove{Pack: w1, Place: p.watch})
		return w1
	}
	p := newPit(t)
	w1 := weapon(p)
	p.closedUp()
	p.toTheSignature()
	sentenceHas(t, p.refused(p.as(p.nia), p.said(ListReady, "sign", SaidDone), 11), "weapon packs for Tin Moth")
	f := p.s.Packs[w1].PackFields
	f.Fits = nil
	p.captain(PackChange{Pack: w1, PackFields: f})
	p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))

	p = newPit(t)
	w1 = weapon(p)
	p.read(w1)
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	p.allOff()
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walkUntil(ListCloseUp, "pack-2")
	say := p.said(ListCloseUp, "pack-2", SaidDone)
	say.Pack = w1
	p.ok(p.as(p.ben), say)
	p.walk(p.as(p.ben), ListCloseUp)
	_, bad := p.sign(p.nia)
	require.Nil(t, bad)
}
