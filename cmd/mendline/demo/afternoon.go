package demo

import "mendline/board"

// afternoon is the last quarter of an hour: the beetle closes up for its call,
// the ant waits to be made safe, the running order moves on.
func (d *day) afternoon() {
	d.ago(14)
	d.closeUp(beetleWalk("N3"))
	d.packsAtCharge()
	d.ago(11.5)
	d.seen("Gus", littleBox, 22)

	d.ago(9)
	fork := d.found("Wim", board.DamageFields{
		Robot: d.robot(ant), Part: "Fork, right", What: "Bent up, drags", Grade: board.G3, Fight: d.fight(littleBox, 21), Hit: 4,
		Severity: board.Hard, Touches: []board.System{board.SysStructure},
	})
	fork.Triage = board.Must
	d.job("Wim", ant, "Forks, hinges or wedge swap", fork)
	d.ago(7)
	d.recheck("Bramwell", heavy)
	d.seen("Juno", bigBox, 12)
	d.do("Ottoline", board.NoteAdd{About: board.KeyOf(board.KindRobot, d.robot(heavy)), Text: "Halfpenny Forge may have a pod with the same flange. Tilly is asking."})
	d.ago(6)
	d.answer(antWalk(""), board.ListMakeSafe)
	d.answer(antWalk(""), board.ListMakeSafe)
	d.ago(4)
	d.seen("Juno", littleBox, 23)
	d.ago(2)
	d.answer(beetleWalk("N3"), board.ListReady)
	d.ago(1)
	d.recheck("Bramwell", heavy) // whoever opens the demo has a while before it falls due
}

// packsAtCharge says where the packs of the last fights lie, and puts two of them
// on charge.
func (d *day) packsAtCharge() {
	for _, at := range [][2]string{{"V1", "Charging shelf"}, {"N2", "Charging shelf"}, {"G3", "Big bench"}} {
		d.movePack("Juno", at[0], at[1])
	}
	d.read("Edda", "N1", 3.92, 24, false)
	d.read("Juno", "N4", 4.17, 22, true)
	d.charge("Juno", "G1", "Kettle 1", 12)
	d.charge("Edda", "N1", "Thimble 1", 1.5)
}
