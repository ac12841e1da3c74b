package debrief

import (
	"fmt"
	"iter"
	"slices"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

// Record is what a journal says: the board as it ended, and what its end no longer
// shows.
type Record struct {
	State board.State
	// From and To are the first and the last line's moments.
	From, To board.Moment
	Lines    int
	uses     []use
	waits    []wait
}

// use is pieces of a spare taken out of the box, at the prices of that moment.
type use struct {
	by    string // the command
	job   board.JobID
	stock board.Stock
	count int
}

// wait is a stretch in which a job was held; to is 0 while it is.
type wait struct {
	by       string
	job      board.JobID
	why      board.HoldWhy
	from, to board.Moment
}

// line is what the account reads of a journal line.
type line struct {
	Rev  board.Rev                    `json:"rev"`
	At   board.Moment                 `json:"at"`
	ID   string                       `json:"id"`
	Do   string                       `json:"do"`
	With jsontext.Value               `json:"with"`
	Put  map[board.Key]jsontext.Value `json:"put"`
	Del  []board.Key                  `json:"del"`
}

// Read folds a journal, each line as board.JournalLine is written, from its first
// line to its last. It is an error if a line or a noun cannot be read or a revision
// is missing.
func Read(lines iter.Seq2[[]byte, error]) (Record, error) {
	f := folding{nouns: map[board.Key]jsontext.Value{}, jobs: map[board.JobID]board.Job{}, stocks: map[board.StockID]board.Stock{}}
	for data, err := range lines {
		if err != nil {
			return Record{}, fmt.Errorf("read journal: %w", err)
		}
		var l line
		if err := json.Unmarshal(data, &l); err != nil {
			return Record{}, fmt.Errorf("read journal after revision %d: %w", f.rev, err)
		}
		if l.Rev != f.rev+1 {
			return Record{}, fmt.Errorf("read journal: revision %d comes after %d", l.Rev, f.rev)
		}
		if err := f.fold(l); err != nil {
			return Record{}, fmt.Errorf("read journal line %d: %w", l.Rev, err)
		}
	}
	return f.record()
}

// folding is a journal read so far. Jobs and spares are decoded as they change, all
// else once, at the end.
type folding struct {
	rev    board.Rev
	nouns  map[board.Key]jsontext.Value
	jobs   map[board.JobID]board.Job
	stocks map[board.StockID]board.Stock
	rec    Record
}

func (f *folding) fold(l line) error {
	f.rev = l.Rev
	if f.rec.Lines == 0 {
		f.rec.From = l.At
	}
	f.rec.To = l.At
	f.rec.Lines++
	if l.Do == "undo" {
		var back board.Undo
		if err := json.Unmarshal(l.With, &back); err != nil {
			return err
		}
		f.takeBack(back.Command.String())
	}
	for _, key := range sortedKeys(l.Put) {
		if err := f.put(l, key, l.Put[key]); err != nil {
			return err
		}
	}
	for _, key := range l.Del {
		delete(f.nouns, key)
	}
	return nil
}

func sortedKeys(put map[board.Key]jsontext.Value) []board.Key {
	keys := make([]board.Key, 0, len(put))
	for k := range put {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func (f *folding) put(l line, key board.Key, data jsontext.Value) error {
	f.nouns[key] = data
	kind, _ := key.Split()
	if kind != board.KindJob && kind != board.KindStock {
		return nil
	}
	n, err := board.DecodeNoun(key, data)
	if err != nil {
		return err
	}
	switch n := n.(type) {
	case board.Job:
		f.job(l, f.jobs[n.ID], n)
		f.jobs[n.ID] = n
	case board.Stock:
		f.stock(l, n)
		f.stocks[n.ID] = n
	}
	return nil
}

// job notes what a job's change means: spares it used, a wait begun or ended.
func (f *folding) job(l line, was, is board.Job) {
	if l.Do == "job.finish" && !handsDone(was.State) && handsDone(is.State) {
		for _, need := range is.Fix().Stock {
			f.rec.uses = append(f.rec.uses, use{by: l.ID, job: is.ID, stock: f.stocks[need.Stock], count: need.Count})
		}
	}
	if was.State == board.JobHeld && (is.State != board.JobHeld || is.HeldFor != was.HeldFor) {
		f.endWait(is.ID, l.At)
	}
	if is.State == board.JobHeld && (was.State != board.JobHeld || is.HeldFor != was.HeldFor) {
		from := l.At
		if was.State == board.JobRunning {
			from = lastEnd(is)
		}
		f.rec.waits = append(f.rec.waits, wait{by: l.ID, job: is.ID, why: is.HeldFor, from: from})
	}
}

// lastEnd is when the last of those who were on a held job left it.
func lastEnd(j board.Job) board.Moment {
	var end board.Moment
	for _, st := range j.Stints {
		end = max(end, st.To)
	}
	return end
}

func handsDone(s board.JobState) bool { return s == board.JobFinished || s == board.JobClosed }

// endWait ends a job's wait where the next stretch of work began, or at a moment.
func (f *folding) endWait(id board.JobID, at board.Moment) {
	for i := range slices.Backward(f.rec.waits) {
		if w := &f.rec.waits[i]; w.job == id && w.to == 0 {
			w.to = max(w.from, at)
			return
		}
	}
}

// stock notes pieces taken out of the box by themselves.
func (f *folding) stock(l line, is board.Stock) {
	if was, ok := f.stocks[is.ID]; ok && l.Do == "stock.use" && was.Count > is.Count {
		f.rec.uses = append(f.rec.uses, use{by: l.ID, stock: is, count: was.Count - is.Count})
	}
}

// takeBack forgets what followed from a command that was undone.
func (f *folding) takeBack(command string) {
	f.rec.uses = slices.DeleteFunc(f.rec.uses, func(u use) bool { return u.by == command })
	f.rec.waits = slices.DeleteFunc(f.rec.waits, func(w wait) bool { return w.by == command })
}

func (f *folding) record() (Record, error) {
	nouns := make([]board.Noun, 0, len(f.nouns))
	for _, key := range sortedKeys(f.nouns) {
		n, err := board.DecodeNoun(key, f.nouns[key])
		if err != nil {
			return Record{}, fmt.Errorf("read journal: %w", err)
		}
		nouns = append(nouns, n)
	}
	f.rec.State = board.FromNouns(f.rev, nouns, nil)
	return f.rec, nil
}
