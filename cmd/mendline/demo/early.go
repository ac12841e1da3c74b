package demo

import "mendline/board"

// early is the heavy's first fight, before the others': what it bent is put right
// until the morning's fights, and its pack is charged again.
func (d *day) early() {
	d.ready(heavyWalk("G3"))
	d.ago(262)
	d.live("Wim", heavy, bigBox, 1)
	d.ago(258)
	d.back("Ottoline", heavy, bigBox, 1, board.Won, "Big bench")

	d.ago(256)
	d.makeSafe(heavyWalk(""))
	d.goIn(heavyWalk(""))
	d.read("Juno", "G3", 3.69, 29, false)
	hit := board.DamageFields{
		Robot: d.robot(heavy), Part: "Corner block, front left", What: "Tab sheared, block turned in its slot", Grade: board.G3,
		Fight: d.fight(bigBox, 1), Hit: 1, Severity: board.Hard, Touches: []board.System{board.SysStructure},
	}
	corner := d.job("Bramwell", heavy, "Swap modular rail or corner", d.found("Bramwell", hit))
	hit.Part, hit.What = "Side rail, right", "Bent in by 11 mm"
	rail := d.job("Bramwell", heavy, "Swap modular rail or corner", d.found("Bramwell", hit))
	d.do("Ottoline", board.JobFix{Job: rail, Chosen: 1}) // there is no spare rail
	d.start("Bramwell", corner)
	d.ago(248)
	d.charge("Juno", "G3", "Kettle 1", 12)
	d.ago(241)
	d.recheck("Bramwell", heavy)
	d.ago(228)
	d.recheck("Bramwell", heavy)
	d.finish("Bramwell", corner)
	d.start("Bramwell", rail)
	d.ago(214)
	d.recheck("Bramwell", heavy)
	d.ago(200)
	d.recheck("Bramwell", heavy)
	d.ago(194)
	d.finish("Bramwell", rail)
	d.tagOff("Bramwell", heavy)
	d.ago(188)
	d.read("Juno", "G3", 4.18, 27, true)
}
