package debrief_test

import (
	"slices"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "mendline/board"
	"mendline/board/boardtest"
	"mendline/board/debrief"
)

func decode(t require.TestingT, data []byte, v any) { require.NoError(t, json.Unmarshal(data, v)) }

// taken counts from the journal alone, by the box and not by the jobs, how many
// blades went: what left the box less what came back by an undo.
func taken(t require.TestingT, lines [][]byte, blade StockID) int {
	type stock struct {
		Count int `json:"count"`
	}
	key := KeyOf(KindStock, blade)
	count, out := 0, 0
	for _, data := range lines {
		var l struct {
			Do  string        `json:"do"`
			Put map[Key]stock `json:"put"`
		}
		if json.Unmarshal(data, &l) != nil {
			continue
		}
		n, ok := l.Put[key]
		if ok && l.Do != "stock.count" && l.Do != "stock.add" && l.Do != "stock.change" {
			out += count - n.Count
		}
		if ok {
			count = n.Count
		}
	}
	return out
}

// A random day, constructed by the walker that the board's own rules are tested
// with: everything is counted once, under one hit.
func TestOnAnyDayEverySparePriceAndMinuteIsCountedOnce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := newPit(rt)
		p.do(p.Ada, StockChange{Stock: p.Blade, StockFields: StockFields{Name: "blade", Count: 900, ListCents: 700, PaidCents: 500}})
		w := &boardtest.Walker{RT: rt, Cast: p.Cast}
		for range rapid.IntRange(20, 120).Draw(rt, "commands") {
			c, by := w.Next(p.s)
			switch c.(type) {
			case StockCount, StockChange: // nothing is taken by them, nor by taking them back
				continue
			}
			p.now += Moment(rapid.IntRange(1, 240).Draw(rt, "seconds")) * 1000
			id := p.n + 1
			if _, bad := p.give(by, c); bad == nil {
				w.Done = append(w.Done, doneID(p, id))
			}
		}
		rec := p.record()
		inPieces(rt, p.lines, rec)
		entries := rec.Entries()
		a := account(t, rec)

		seen := map[string]bool{}
		sec, cents := 0, 0
		for _, e := range entries {
			require.False(rt, seen[e.Source], e.Source)
			seen[e.Source] = true
			require.GreaterOrEqual(rt, e.Sec, 0, e.Source)
			sec += e.Sec
			cents += e.Cost.List()
		}
		for _, bills := range [][]debrief.Bill{a.Hits, a.Fights, {a.All.Bill}} {
			s, c, damages := 0, 0, 0
			for _, b := range bills {
				s += b.WorkSec + b.WaitSec
				c += b.ListCents
				damages += b.Damages
			}
			require.Equal(rt, sec, s)
			require.Equal(rt, cents, c)
			require.Equal(rt, undropped(p.s), damages)
		}

		pieces := 0
		for _, u := range a.All.Bill.Used {
			if u.Name == "blade" {
				pieces += u.Pieces
			}
		}
		require.Equal(rt, taken(rt, p.lines, p.Blade), pieces)

		worked := 0
		for _, j := range p.s.Jobs {
			worked += onItSec(j, rec.To)
		}
		fixing := a.All.Bill.Sec[debrief.Fixing]
		for _, e := range entries {
			if e.Job != "" && e.Spend == debrief.Checking {
				fixing += e.Sec
			}
		}
		require.Equal(rt, worked, fixing)
	})
}

// onItSec counts the seconds in which anyone was on a job, one by one.
func onItSec(j Job, now Moment) int {
	n := 0
	var first, last Moment
	for _, st := range j.Stints {
		if first == 0 || st.From < first {
			first = st.From
		}
		last = max(last, stintEnd(st, now))
	}
	for at := first; at < last; at += 1000 {
		if slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.From <= at && at < stintEnd(st, now) }) {
			n++
		}
	}
	return n
}

func stintEnd(st Stint, now Moment) Moment {
	if st.To == 0 {
		return max(now, st.From)
	}
	return st.To
}

func undropped(s State) int {
	n := 0
	for _, d := range s.Damages {
		if !d.Dropped {
			n++
		}
	}
	return n
}

func doneID(p *pit, n uint32) CommandID {
	was := p.n
	p.n = n - 1
	id := p.command()
	p.n = was
	return id
}

// inPieces reads a journal up to some line, then on to its end: both records are those of
// a journal read at once.
func inPieces(rt *rapid.T, lines [][]byte, whole debrief.Record) {
	cut := rapid.IntRange(1, len(lines)-1).Draw(rt, "lines read first")
	r := debrief.NewReading()
	read := func(lines [][]byte) debrief.Record {
		for _, l := range lines {
			require.NoError(rt, r.Read(l))
		}
		rec, err := r.Record()
		require.NoError(rt, err)
		return rec
	}
	early := read(lines[:cut])
	require.Equal(rt, whole, read(lines[cut:]))
	before, err := debrief.Read(linesOf(lines[:cut]))
	require.NoError(rt, err)
	require.Equal(rt, before, early)
}
