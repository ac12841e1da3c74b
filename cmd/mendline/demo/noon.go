package demo

import "mendline/board"

// heavyWork is the heavy's list after its hard hit.
type heavyWork struct {
	hub, stuck, corner, pod, panel, arm, light, solder, belt, rail, fetch, armour board.JobID
}

// noon strips the heavy, finds its damage and begins to mend it until everyone
// goes to eat; the beetle is mended over lunch.
func (d *day) noon() {
	w := heavyWalk("")
	w.to = "Watch bucket"
	d.ago(72)
	d.makeSafe(w)
	d.goIn(w)
	d.read("Juno", "G2", 3.62, 63.5, false)
	d.do("Juno", board.NoteAdd{About: board.KeyOf(board.KindPack, d.pack("G2")), Text: "Too hot to hold, 63.5 °C. Stays in the bucket of sand; nobody carries it in."})
	j := d.heavyJobs()

	d.ago(66)
	d.tagOn("Wim", heavy)
	d.tagOn("Pia", heavy)
	d.seen("Gus", littleBox, 18)
	d.start("Wim", j.pod)
	d.do("Wim", board.JobHold{Job: j.pod, Why: board.HoldPart, Text: "the last drive pod went in after Big Box 4"})
	d.start("Bramwell", j.stuck)
	d.start("Pia", j.light)
	d.ago(62)
	d.finish("Pia", j.light)
	d.start("Pia", j.solder)
	d.ago(57)
	d.tagOff("Pia", heavy)
	d.tagOff("Wim", heavy)
	d.tagOff("Bramwell", heavy)

	// Pia's phone was out of reach: it tells now that she went on without a tag.
	d.ago(50)
	d.doLate("Pia", 57.2, board.JobResume{Job: j.solder})
	d.doLate("Pia", 53, board.JobFinish{Job: j.solder})
	d.beetleLunch()
	d.heavyAfterLunch(j)
}

// heavyJobs reports what the inspection found, a damage of every grade, and
// makes jobs of it.
func (d *day) heavyJobs() heavyWork {
	hit := func(part, what string, grade board.Grade, n int, severity board.Severity, touches ...board.System) board.DamageFields {
		return board.DamageFields{Robot: d.robot(heavy), Part: part, What: what, Grade: grade, Fight: d.fight(bigBox, 9), Hit: n, Severity: severity, Touches: touches}
	}
	var j heavyWork
	d.ago(69)
	d.damage("Tilly", hit("Front plate", "Paint and edges scuffed", board.G0, 1, board.Glancing))
	j.hub = d.job("Bramwell", heavy, "Swap weapon hub or bearings", d.found("Bramwell",
		hit("Weapon hub", "Crack from a bolt hole, 9 mm", board.GX, 3, board.Hard, board.SysWeapon)))
	stuck := hit("Corner block, front left", "Driven into the rail, will not come apart", board.G3, 3, board.Hard, board.SysStructure)
	stuck.Stuck = true
	work := d.found("Bramwell", stuck)
	j.stuck = d.job("Bramwell", heavy, "Free a stuck interlocking member", work)
	work.After = []board.JobID{j.stuck}
	j.corner = d.job("Bramwell", heavy, "Swap modular rail or corner", work)
	j.pod = d.job("Wim", heavy, "Swap drive motor or pod", d.found("Wim",
		hit("Drive pod, front left", "Gear teeth gone; none left in the box", board.G4, 3, board.Hard, board.SysDrive)))
	j.panel = d.job("Ottoline", heavy, "Armour panel swap", d.found("Ottoline",
		hit("Rear panel", "Split along the lower bolts", board.G2, 2, board.Solid, board.SysStructure)))
	most := 70
	stiff := hit("Lifting arm", "Stiff in the last third", board.G1, 2, board.Solid, board.SysWeapon)
	stiff.WorksPct = &most
	j.arm = d.job("Ottoline", heavy, "Self-righter or lifter rebuild", d.found("Ottoline", stiff))
	j.light = d.job("Pia", heavy, "Power light", board.JobFields{})
	j.solder = d.job("Pia", heavy, "Re-solder connector", board.JobFields{})
	j.belt = d.job("Wim", heavy, "Drive chain or belt", board.JobFields{})
	// What the early fight bent shows only now.
	j.rail = d.job("Bramwell", heavy, "Straighten a rail", d.found("Bramwell", board.DamageFields{
		Robot: d.robot(heavy), Part: "Side rail, left", What: "Bowed by 4 mm, seen with the plate off", Grade: board.G2,
		Fight: d.fight(bigBox, 1), Hit: 1, Severity: board.Hard, Touches: []board.System{board.SysStructure},
	}))
	j.fetch = d.job("Ottoline", heavy, "Fetch a spare from a neighbour", board.JobFields{Name: "Ask Halfpenny Forge for a drive pod"})
	j.armour = d.job("Ottoline", heavy, "Armour set change for the opponent", board.JobFields{})
	return j
}

// beetleLunch is the beetle's second turnaround: two jobs, one of them a patch.
func (d *day) beetleLunch() {
	w := beetleWalk("")
	d.ago(49)
	d.makeSafe(w)
	d.goIn(w)
	d.read("Juno", "N2", 3.74, 41.5, false)
	d.do("Juno", board.PackSet{Pack: d.pack("N2"), State: board.PackCooling})
	hit := board.DamageFields{Robot: d.robot(beetle), Part: "Wheel, left", What: "Half the tyre gone", Grade: board.G3, Fight: d.fight(littleBox, 16), Hit: 1, Severity: board.Solid}
	wheel := d.job("Pia", beetle, "Swap wheel", d.found("Pia", hit))
	hit.Part, hit.What, hit.Grade = "Top panel", "Cracked across", board.G2
	panel := d.job("Pia", beetle, "Armour panel swap", d.found("Pia", hit))
	d.do("Pia", board.JobFix{Job: panel, Chosen: 1})
	d.start("Pia", wheel)
	d.ago(44)
	d.finish("Pia", wheel)
	d.start("Pia", panel)
	d.ago(37)
	d.finish("Pia", panel)
	d.tagOff("Pia", beetle)
}

// heavyAfterLunch takes the heavy's work up again.
func (d *day) heavyAfterLunch(j heavyWork) {
	d.ago(33)
	d.tagOn("Bramwell", heavy)
	d.answerAll(heavyWalk(""), board.ListFirstIn)
	d.tagOn("Ottoline", heavy)
	d.tagOn("Wim", heavy)
	d.do("Tilly", board.HandsOn{Robot: d.robot(heavy)})
	d.assign(j.hub, "Bramwell", "Ottoline")
	d.start("Bramwell", j.hub)
	d.do("Ottoline", board.JobFix{Job: j.panel, Chosen: 1})
	d.start("Ottoline", j.panel)
	d.start("Wim", j.belt)
	d.start("Tilly", j.fetch)
	d.ago(31)
	d.seen("Gus", littleBox, 19)
	d.ago(27)
	d.seen("Gus", bigBox, 10)
	d.ago(25.5)
	d.do("Wim", board.JobHold{Job: j.belt, Why: board.HoldPerson, Text: "Wim drives Tumsy Vole"})
	d.tagOff("Wim", heavy)
	d.antFight()
	d.ago(16.5)
	d.seen("Gus", bigBox, 11)
	d.finish("Ottoline", j.panel)
	d.start("Ottoline", j.rail)
	d.ago(15)
	d.do("Ottoline", board.JobHold{Job: j.rail, Why: board.HoldStation, Text: "the press is lent out until three"})
	d.do("Ottoline", board.JobDefer{Job: j.arm, Acceptor: d.person("Ottoline").ID, Reason: "it still rights itself; looked at after each fight"})
	d.do("Ottoline", board.JobDrop{Job: j.armour, Reason: "Ozzlemere brings no spinner"})
}

// antFight has the ant lose, and a visitor pull it out while the board says
// live.
func (d *day) antFight() {
	d.ago(24)
	d.do("Wim", board.RobotPlace{Robot: d.robot(ant), Place: d.place("Little Box queue")})
	d.ago(21)
	d.recheck("Bramwell", heavy)
	d.live("Wim", ant, littleBox, 21)
	d.ago(18.5)
	d.do("Gus", board.HandsOn{Robot: d.robot(ant)})
	d.ago(17.5)
	d.back("Wim", ant, littleBox, 21, board.Lost, "Little bench")
}
