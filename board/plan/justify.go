package plan

import "slices"

// justifyRight moves every kept task of d.out as late as it can go without
// moving the ready time of any group, in order of falling finish; running
// tasks stay. Ways and teams are kept, so every task can at worst stay where
// it is. list must be the list d.out was decoded from. It leaves scores alone.
func (d *decoder) justifyRight(list []int32) {
	d.tl.copyFrom(&d.m.base)
	d.keys = d.keys[:0]
	for k, i := range list {
		d.keys = append(d.keys, uint64(d.out.finishSec[i])<<32|uint64(k))
	}
	slices.Sort(d.keys)
	for k := len(d.keys) - 1; k >= 0; k-- {
		d.pushRight(list[uint32(d.keys[k])])
	}
}

func (d *decoder) pushRight(i int32) {
	t := &d.m.tasks[i]
	d.starts++
	if t.running || d.out.way[i] == blocked {
		return
	}
	hi := d.readySec[t.group]
	if d.out.way[i] < 0 {
		hi = HorizonSec
	}
	for _, s := range t.succs {
		hi = min(hi, d.out.startSec[s])
	}
	if d.out.way[i] < 0 {
		d.out.startSec[i], d.out.finishSec[i] = hi, hi
		return
	}
	w := &t.ways[d.out.way[i]]
	team := w.teams[d.out.team[i]]
	start := d.tl.latest(d.out.startSec[i], hi, w, team)
	d.tl.takeWay(start, w, team)
	d.out.startSec[i], d.out.finishSec[i] = start, start+w.durSec
}
