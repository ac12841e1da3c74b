package demo

import "mendline/board"

// The robots of the team, and the arenas they fight in.
const (
	heavy  = "Grobblequill"
	beetle = "Nettlepip"
	ant    = "Tumsy Vole"

	bigBox    = "Big Box"
	littleBox = "Little Box"
)

// How each robot is walked through its sheets when nothing is special.

func heavyWalk(pack string) walk {
	return walk{
		robot: heavy, by: "Bramwell", second: "Pia", signer: "Juno", to: "Charging table", pack: pack, told: "Wim",
		massGrams: 113100, failsafe: board.SaidOwed,
	}
}

func beetleWalk(pack string) walk {
	return walk{
		robot: beetle, by: "Pia", signer: "Edda", to: "Charging shelf", pack: pack, told: "Wim",
		massGrams: 1352, failsafe: board.SaidOwed,
	}
}

func antWalk(pack string) walk {
	return walk{
		robot: ant, by: "Wim", signer: "Juno", to: "Charging shelf", pack: pack, told: "Pia",
		massGrams: 449, failsafe: board.SaidOwed,
	}
}

// loadTeam fills the empty board and enters what the organisers said this
// morning.
func (d *day) loadTeam() {
	d.give(Step{By: board.Actor{Role: board.RoleCaptain}, Command: d.load})
	e := d.load.Event
	e.OffsetMin = d.offsetMin
	e.Breaks = []board.Break{
		{From: d.now - 256*minute, To: d.now - 158*minute},
		{From: d.now - 62*minute, To: d.now - 33*minute},
		{From: d.now + 150*minute, To: d.now + 165*minute},
	}
	e.HotWork = board.HotWork{
		Needed: true, Text: "Grinding and welding at the grinder and the welding bay only, with a bucket of sand beside it (invented)",
		By: "Perpetua Quillfeather, hall steward (invented)", Until: d.now + 180*minute,
	}
	d.do("Ottoline", board.EventSet{EventFields: e})
	for _, who := range []string{"Ottoline", "Bramwell", "Pia", "Wim", "Juno", "Tilly", "Edda"} { // not Gus, who came later
		d.briefed(who)
	}
	d.do("Ottoline", board.NoteAdd{Text: "Hall doors shut at eight. Everyone signs out with Juno."})
	for _, at := range [][2]string{{heavy, "Big bench"}, {beetle, "Little bench"}, {ant, "Little bench"}} {
		d.do("Ottoline", board.RobotPlace{Robot: d.robot(at[0]), Place: d.place(at[1])})
	}
	for _, on := range [][2]string{{heavy, "Plough"}, {beetle, "Short forks"}, {ant, "Thin lid"}} {
		d.do("Ottoline", board.RobotFit{Robot: d.robot(on[0]), Setup: d.setup(on[0], on[1])})
	}
	d.do("Ottoline", board.RobotWeigh{Robot: d.robot(heavy), Grams: 113100, Scale: "event scale, big", StepGrams: 50})
	d.do("Pia", board.RobotWeigh{Robot: d.robot(beetle), Grams: 1352, Scale: "event scale, small", StepGrams: 1})
	d.do("Wim", board.RobotWeigh{Robot: d.robot(ant), Grams: 449, Scale: "event scale, small", StepGrams: 1})
	for _, pack := range []string{"G1", "G2", "G3", "N1", "N2", "N4", "V1", "V2", "V3"} {
		d.read("Juno", pack, 4.18, 21, true)
	}
	d.read("Juno", "N3", 4.33, 21, true)
	d.read("Juno", "G4", 3.84, 20, false)
	d.do("Juno", board.PackSet{Pack: d.pack("G4"), State: board.PackStorage, Why: "kept for tomorrow"})
}

// morning readies the three robots, and two of them fight.
func (d *day) morning() {
	d.ago(185)
	d.ready(heavyWalk("G1"))
	d.ready(beetleWalk("N1"))
	d.ready(antWalk("V1"))
	d.ago(153)
	d.seen("Tilly", bigBox, 2)
	d.seen("Gus", littleBox, 1)
	d.ago(142)
	d.seen("Tilly", bigBox, 3)
	d.seen("Gus", littleBox, 3)
	d.ago(132)
	d.live("Pia", beetle, littleBox, 5)
	d.ago(131)
	d.live("Wim", heavy, bigBox, 4)
	d.ago(129)
	d.back("Pia", beetle, littleBox, 5, board.Won, "Little bench")
	d.ago(128)
	d.back("Ottoline", heavy, bigBox, 4, board.Won, "Big bench")
}

// firstTurn mends what the first fights broke, while the ant fights.
func (d *day) firstTurn() {
	d.ago(126)
	d.makeSafe(heavyWalk(""))
	d.goIn(heavyWalk(""))
	d.read("Juno", "G1", 3.71, 38, false)
	wheel := d.job("Bramwell", heavy, "Swap wheel", d.found("Bramwell", board.DamageFields{
		Robot: d.robot(heavy), Part: "Wheel, rear right", What: "Tyre torn off the hub", Grade: board.G3,
		Fight: d.fight(bigBox, 4), Hit: 1, Severity: board.Solid, Touches: []board.System{board.SysDrive},
	}))
	pod := d.job("Bramwell", heavy, "Swap drive motor or pod", d.found("Bramwell", board.DamageFields{
		Robot: d.robot(heavy), Part: "Drive pod, rear right", What: "Gears skip under load", Grade: board.G3,
		Fight: d.fight(bigBox, 4), Hit: 1, Severity: board.Solid, Touches: []board.System{board.SysDrive},
	}))
	d.start("Bramwell", wheel)

	d.ago(122)
	d.makeSafe(beetleWalk(""))
	d.goIn(beetleWalk(""))
	belt := d.job("Pia", beetle, "Swap weapon belt", d.found("Pia", board.DamageFields{
		Robot: d.robot(beetle), Part: "Weapon belt", What: "Frayed on one side", Grade: board.G3,
		Fight: d.fight(littleBox, 5), Hit: 2, Severity: board.Glancing, Touches: []board.System{board.SysWeapon},
	}))
	d.start("Pia", belt)
	d.ago(117)
	d.live("Wim", ant, littleBox, 8)
	d.ago(116)
	d.finish("Bramwell", wheel)
	d.start("Bramwell", pod)
	d.ago(115.5)
	d.finish("Pia", belt)
	d.tagOff("Pia", beetle)
	d.ago(114)
	d.back("Wim", ant, littleBox, 8, board.Won, "Little bench")
	d.beetleTest()
	d.antQuickTurn()

	d.ago(95)
	d.finish("Bramwell", pod)
	d.tagOff("Bramwell", heavy)
	d.closeUp(heavyWalk("G2"))
	d.sign(heavyWalk("G2"))
}

// found reports a damage and gives what a job says of it.
func (d *day) found(who string, f board.DamageFields) board.JobFields {
	return board.JobFields{Damages: []board.DamageID{d.damage(who, f)}}
}

// beetleTest tests the beetle in the box, and has a helper's hands come near
// when it is ready: a conflict, and the walk again.
func (d *day) beetleTest() {
	w := beetleWalk("N2")
	d.ago(113)
	d.recheck("Bramwell", heavy)
	d.closeUp(w)
	d.do("Pia", board.RobotTest{Robot: d.robot(beetle), What: "drive and drum at low speed", Place: d.place("Test box"), Minutes: 4})
	d.ago(109.5)
	d.do("Pia", board.RobotTestEnd{Robot: d.robot(beetle)})
	d.do("Pia", board.RobotPlace{Robot: d.robot(beetle), Place: d.place("Little bench")})
	d.read("Pia", "N2", 4.08, 31, false)
	d.ready(w)
	d.ago(105.5)
	d.do("Tilly", board.HandsOn{Robot: d.robot(beetle)})
	d.do("Juno", board.NoteAdd{About: board.KeyOf(board.KindRobot, d.robot(beetle)), Text: "Tilly wiped the floor beside it while it was signed ready. Nobody hurt; walked again from make-safe."})
	d.ago(104.5)
	d.handsOff("Tilly", beetle)
	d.ready(w)
}

func (d *day) antQuickTurn() {
	w := antWalk("V2")
	d.ago(101)
	d.recheck("Bramwell", heavy)
	d.makeSafe(w)
	d.goIn(w)
	d.read("Juno", "V1", 3.79, 33, false)
	d.tagOff("Wim", ant)
	d.closeUp(w)
	d.sign(w)
}

// secondTurn has heavy and beetle fight again: the heavy takes a hard hit.
func (d *day) secondTurn() {
	d.ago(84)
	d.do("Ottoline", board.RobotPlace{Robot: d.robot(heavy), Place: d.place("Big Box queue")})
	d.ago(77.5)
	d.live("Pia", beetle, littleBox, 16)
	d.ago(76)
	d.live("Wim", heavy, bigBox, 9)
	d.ago(74.5)
	d.back("Pia", beetle, littleBox, 16, board.Won, "Little bench")
	d.ago(73)
	d.back("Ottoline", heavy, bigBox, 9, board.Won, "Big bench")
}
