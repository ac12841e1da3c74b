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

// Read folds a whole journal, each line as board.JournalLine is written. It is an
// error if a line or a noun cannot be read or a revision is missing.
func Read(lines iter.Seq2[[]byte, error]) (Record, error) {
	r := NewReading()
	for data, err := range lines {
		if err != nil {
			return Record{}, fmt.Errorf("read journal: %w", err)
		}
		if err := r.Read(data); err != nil {
			return Record{}, err
		}
	}
	return r.Record()
}

// Reading is a journal read so far, from its first line on. Jobs and spares are decoded
// as they change, all else when a record is asked for. It is not to be used after an
// error of Read.
type Reading struct {
	rev    board.Rev
	nouns  map[board.Key]noun
	jobs   map[board.JobID]board.Job
	stocks map[board.StockID]board.Stock
	rec    Record
	// shiftSec is by how much the board's time had been moved.
	shiftSec int
}

// noun is one as the newest line wrote it, decoded where that was asked for.
type noun struct {
	data jsontext.Value
	is   board.Noun
}

// NewReading is of a journal of which no line was read.
func NewReading() *Reading {
	return &Reading{nouns: map[board.Key]noun{}, jobs: map[board.JobID]board.Job{}, stocks: map[board.StockID]board.Stock{}}
}

// Read takes the next line, which may come behind lines that a damaged file lost.
func (r *Reading) Read(data []byte) error {
	var l line
	if err := json.Unmarshal(data, &l); err != nil {
		return fmt.Errorf("read journal after revision %d: %w", r.rev, err)
	}
	if l.Rev <= r.rev {
		return fmt.Errorf("read journal: revision %d comes after %d", l.Rev, r.rev)
	}
	if err := r.fold(l); err != nil {
		return fmt.Errorf("read journal line %d: %w", l.Rev, err)
	}
	return nil
}

func (r *Reading) fold(l line) error {
	r.rev = l.Rev
	if r.rec.Lines == 0 {
		r.rec.From = l.At
	}
	r.rec.To = l.At
	r.rec.Lines++
	if data, set := l.Put[board.Clock{}.Key()]; set {
		var clock board.Clock
		if err := json.Unmarshal(data, &clock); err != nil {
			return err
		}
		r.move(board.Moment(clock.ShiftSec-r.shiftSec) * 1000)
		r.shiftSec = clock.ShiftSec
	}
	if l.Do == "undo" {
		var back board.Undo
		if err := json.Unmarshal(l.With, &back); err != nil {
			return err
		}
		r.takeBack(back.Command.String())
	}
	for _, key := range sortedKeys(l.Put) {
		if err := r.put(l, key, l.Put[key]); err != nil {
			return err
		}
	}
	for _, key := range l.Del {
		delete(r.nouns, key)
	}
	return nil
}

// move has what was noted so far go along with a time that was set.
func (r *Reading) move(by board.Moment) {
	r.rec.From += by
	for i := range r.rec.waits {
		w := &r.rec.waits[i]
		w.from += by
		if w.to != 0 {
			w.to += by
		}
	}
}

func sortedKeys[V any](put map[board.Key]V) []board.Key {
	keys := make([]board.Key, 0, len(put))
	for k := range put {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func (r *Reading) put(l line, key board.Key, data jsontext.Value) error {
	r.nouns[key] = noun{data: data}
	kind, _ := key.Split()
	if kind != board.KindJob && kind != board.KindStock {
		return nil
	}
	n, err := board.DecodeNoun(key, data)
	if err != nil {
		return err
	}
	r.nouns[key] = noun{is: n}
	switch n := n.(type) {
	case board.Job:
		r.job(l, r.jobs[n.ID], n)
		r.jobs[n.ID] = n
	case board.Stock:
		r.stock(l, n)
		r.stocks[n.ID] = n
	}
	return nil
}

// job notes what a job's change means: spares it used, a wait begun or ended.
func (r *Reading) job(l line, was, is board.Job) {
	if l.Do == "job.finish" && !handsDone(was.State) && handsDone(is.State) {
		for _, need := range is.Fix().Stock {
			r.rec.uses = append(r.rec.uses, use{by: l.ID, job: is.ID, stock: r.stocks[need.Stock], count: need.Count})
		}
	}
	if was.State == board.JobHeld && (is.State != board.JobHeld || is.HeldFor != was.HeldFor) {
		r.endWait(is.ID, l.At)
	}
	if is.State == board.JobHeld && (was.State != board.JobHeld || is.HeldFor != was.HeldFor) {
		from := l.At
		if was.State == board.JobRunning {
			from = lastEnd(is)
		}
		r.rec.waits = append(r.rec.waits, wait{by: l.ID, job: is.ID, why: is.HeldFor, from: from})
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
func (r *Reading) endWait(id board.JobID, at board.Moment) {
	for i := range slices.Backward(r.rec.waits) {
		if w := &r.rec.waits[i]; w.job == id && w.to == 0 {
			w.to = max(w.from, at)
			return
		}
	}
}

// stock notes pieces taken out of the box by themselves.
func (r *Reading) stock(l line, is board.Stock) {
	if was, ok := r.stocks[is.ID]; ok && l.Do == "stock.use" && was.Count > is.Count {
		r.rec.uses = append(r.rec.uses, use{by: l.ID, stock: is, count: was.Count - is.Count})
	}
}

// takeBack forgets what followed from a command that was undone.
func (r *Reading) takeBack(command string) {
	r.rec.uses = slices.DeleteFunc(r.rec.uses, func(u use) bool { return u.by == command })
	r.rec.waits = slices.DeleteFunc(r.rec.waits, func(w wait) bool { return w.by == command })
}

// Record is what the lines read so far say. Later lines do not change it.
func (r *Reading) Record() (Record, error) {
	nouns := make([]board.Noun, 0, len(r.nouns))
	for _, key := range sortedKeys(r.nouns) {
		n := r.nouns[key]
		if n.is == nil {
			var err error
			if n.is, err = board.DecodeNoun(key, n.data); err != nil {
				return Record{}, fmt.Errorf("read journal: %w", err)
			}
			r.nouns[key] = noun{is: n.is}
		}
		nouns = append(nouns, n.is)
	}
	rec := r.rec
	rec.uses, rec.waits = slices.Clone(rec.uses), slices.Clone(rec.waits)
	rec.State = board.FromNouns(r.rev, nouns, nil)
	return rec, nil
}
