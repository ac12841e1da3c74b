package chance

import "mendline/board/plan"

// Why is what a group waited for, or lacked, on the days it missed its call. Task
// is the task that waited; for ByClock the one that ran over.
type Why struct {
	Kind  plan.CauseKind
	Index int
	Task  int
	// MeanSec is how long, on average over the days missed.
	MeanSec float64
}

// leastWaitSec is the shortest wait that is worth a name: below it the clock is to
// blame.
const leastWaitSec = 60

// Why says what matters most for group g: over the days it missed, the person, pool
// or room that the chain of tasks which led to its end waited for longest; where
// that is less than a minute, the task of the chain that ran over most. Kind is
// NoCause if no day was missed.
func (o *Outcome) Why(g int) Why {
	t := tally{}
	likelySec := make([]float64, len(o.net.Tasks))
	for i, task := range o.net.Tasks {
		likelySec[i] = task.Work.Time.After(task.Work.SpentSec).LeftSec(0.5)
	}
	missed := 0
	for r, met := range o.met[g] {
		if !met && o.net.Groups[g].Call != NoCall {
			missed++
			o.trace(g, r, likelySec, &t)
		}
	}
	if missed == 0 {
		return Why{Task: NoTask}
	}
	worst := t.worst(func(k Why) bool { return k.Kind != plan.ByClock })
	if worst.MeanSec < leastWaitSec*float64(missed) {
		worst = t.worst(func(k Why) bool { return k.Kind == plan.ByClock })
	}
	worst.MeanSec /= float64(missed)
	return worst
}

// trace walks back the chain that led to the end of group g on day r.
func (o *Outcome) trace(g, r int, likelySec []float64, t *tally) {
	i := NoTask
	for k, task := range o.net.Tasks {
		if task.Group == g && (i == NoTask || o.finish[k][r] > o.finish[i][r]) {
			i = k
		}
	}
	for i != NoTask {
		t.add(Why{Kind: plan.ByClock, Index: NoTask, Task: i, MeanSec: max(o.work[i][r]-likelySec[i], 0)})
		o.traceAway(i, r, t)
		i = o.binding(i, r, t)
	}
}

// traceAway counts how long task i was put off or interrupted by absences.
func (o *Outcome) traceAway(i, r int, t *tally) {
	task := &o.net.Tasks[i]
	if lost := o.finish[i][r] - o.begun(i, r) - o.work[i][r]; lost > 0 && len(task.Away) > 0 {
		t.add(Why{Kind: plan.ByPerson, Index: task.Away[0].Person, Task: i, MeanSec: lost})
	}
}

// begun is when task i could begin on day r but for absences.
func (o *Outcome) begun(i, r int) float64 {
	at := max(o.released(i, r), o.waited(i, r))
	for _, a := range o.net.Tasks[i].After {
		at = max(at, o.finish[a.From][r])
	}
	return at
}

func (o *Outcome) released(i, r int) float64 {
	task := &o.net.Tasks[i]
	if task.Drift > 0 {
		return max(task.ReleaseSec+o.shift[task.Drift-1][r], 0)
	}
	return task.ReleaseSec
}

// waited is when what task i waits for beside other tasks is there on day r.
func (o *Outcome) waited(i, r int) float64 {
	if task := &o.net.Tasks[i]; task.WaitKey != 0 {
		return o.draws.TimesSec(task.WaitKey, task.Wait)[o.from+r]
	}
	return 0
}

// binding is the task for whose end task i waited on day r, NoTask if it began as
// soon as it could. A wait for a person or thing counts from when all that comes
// before the task was finished.
func (o *Outcome) binding(i, r int, t *tally) int {
	task := &o.net.Tasks[i]
	free := o.released(i, r)
	before := NoTask
	for _, a := range task.After {
		if end := o.finish[a.From][r]; a.Kind == plan.ByClock && end >= free {
			free, before = end, a.From
		}
	}
	at, held := free, Arc{From: NoTask}
	for _, a := range task.After {
		if end := o.finish[a.From][r]; a.Kind != plan.ByClock && end > at {
			at, held = end, a
		}
	}
	if late := o.waited(i, r); late > at {
		t.add(Why{Kind: plan.ByStock, Index: NoTask, Task: i, MeanSec: late - at})
		return NoTask
	}
	if held.From == NoTask {
		return before
	}
	t.add(Why{Kind: held.Kind, Index: held.Index, Task: i, MeanSec: at - free})
	return held.From
}

// tally adds up what was waited for.
type tally struct{ list []Why }

func (t *tally) add(w Why) {
	for k := range t.list {
		if l := &t.list[k]; l.Kind == w.Kind && l.Index == w.Index && l.Task == w.Task {
			l.MeanSec += w.MeanSec
			return
		}
	}
	t.list = append(t.list, w)
}

// worst is the cause with the longest sum among those that count. Its task is the
// one that waited longest for it.
func (t *tally) worst(counts func(Why) bool) Why {
	worst := Why{Task: NoTask}
	for _, w := range t.list {
		if !counts(w) {
			continue
		}
		sum, longest := Why{Kind: w.Kind, Index: w.Index, Task: w.Task}, 0.0
		for _, other := range t.list {
			if other.Kind != w.Kind || other.Index != w.Index || w.Kind == plan.ByClock && other.Task != w.Task {
				continue
			}
			sum.MeanSec += other.MeanSec
			if other.MeanSec > longest {
				longest, sum.Task = other.MeanSec, other.Task
			}
		}
		if sum.MeanSec > worst.MeanSec || worst.Kind == plan.NoCause {
			worst = sum
		}
	}
	return worst
}
