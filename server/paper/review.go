package paper

import (
	"fmt"
	"io"
	"math"

	"mendline/board"
	"mendline/board/review"
)

// Review prints the look back at the day.
func (p *Printer) Review(w io.Writer, r review.Review) error {
	return p.print(w, "Review", part{Review: p.tables(r)})
}

// table is a heading, what it measures, and rows under columns.
type table struct {
	Title, Note string
	Columns     []string
	Rows        [][]string
}

func (p *Printer) tables(r review.Review) []table {
	return []table{
		p.turnarounds(r), p.fast(r), p.overridden(r), p.relaxed(r), p.alarms(r), p.classes(r), p.tagsLeft(r), p.late(r), p.uncovered(r), p.loosened(r), p.marked(r),
	}
}

func num(n int) string { return fmt.Sprint(n) }

func span(sec int) string {
	if sec < 60 {
		return fmt.Sprintf("%d s", sec)
	}
	return board.MinutesOfWork.Say(sec)
}

func (p *Printer) turnarounds(r review.Review) table {
	t := table{
		Title: "Turnarounds", Note: "From the first word about a robot, or from its last fight, to its next.",
		Columns: []string{"robot", "from", "ready, signed by", "to", "too fast", "overrides", "tags left", "late", "paper", "not covered", "alarms"},
	}
	row := func(name, from, ready, to string, c review.Counts) {
		t.Rows = append(t.Rows, []string{name, from, ready, to, num(c.Fast), num(c.Overrides), num(c.Tags), num(c.Late), num(c.Paper), num(c.Uncovered), num(c.Alarms)})
	}
	for _, n := range r.Turnarounds {
		ready := "not signed"
		if n.ReadyAt != 0 {
			ready = p.hour(n.ReadyAt) + " " + n.ReadyBy
		}
		row(n.Name, p.hour(n.From), ready, p.hour(n.To), n.Counts)
	}
	row("the whole event", "", "", "", r.Whole)
	return t
}

func (p *Printer) fast(r review.Review) table {
	t := table{
		Title:   "Sheets answered faster than they can be read",
		Note:    "Shown, not blocked. Measured from the first answer to the last, against 300 words a minute: the upper end of what most adults read silently (Brysbaert 2019, Journal of Memory and Language 109, 104047: 175 to 300).",
		Columns: []string{"robot", "sheet", "by", "last answer", "lines after the first", "took", "reading takes"},
	}
	for _, f := range r.Fast {
		t.Rows = append(t.Rows, []string{
			f.Name, listName(f.List), join(f.By), p.hour(f.At), num(f.Lines), fmt.Sprintf("%.0f s", f.Sec), fmt.Sprintf("%.0f s", math.Ceil(f.ReadSec)),
		})
	}
	return t
}

func (p *Printer) overridden(r review.Review) table {
	t := table{Title: "Overrides", Columns: []string{"robot", "whose", "by", "second", "at", "reason", "owner read it"}}
	for _, o := range r.Overrides {
		second := o.Second
		if o.On != "" {
			second += ", with a PIN set on one device with " + o.On
		}
		t.Rows = append(t.Rows, []string{o.Name, o.Owner, o.By, second, p.hour(o.At), o.Reason, p.orNot(o.Taken)})
	}
	return t
}

func (p *Printer) relaxed(r review.Review) table {
	t := table{Title: "Relaxed settings", Note: "Each asks for less than the board would by itself.", Columns: []string{"setting", "from", "to"}}
	for _, x := range r.Relaxed {
		to := "still in force"
		if x.To != 0 {
			to = p.clock(x.To)
		}
		t.Rows = append(t.Rows, []string{x.Text, p.clock(x.From), to})
	}
	return t
}

func (p *Printer) alarms(r review.Review) table {
	a := r.Alarms
	t := table{
		Title: "Alarms by person",
		Note: fmt.Sprintf("Counted as someone would who looks at the board every %d s; one that comes back within a minute is the same one. To compare: about %g in 10 minutes for one person is very likely acceptable, %d in 10 minutes are a flood (EEMUA 191, quoted; the guide itself was not seen).",
			a.StepSec, a.Targets.Mean, a.Targets.Flood),
		Columns: []string{"who is to act", "all", "most in any 10 min", "from", "mean in 10 min"},
	}
	for _, o := range a.People {
		t.Rows = append(t.Rows, []string{o.Who, num(o.Total), num(o.Most), p.hour(o.MostAt), fmt.Sprintf("%.2f", o.Mean)})
	}
	return t
}

func (p *Printer) classes(r review.Review) table {
	t := table{Title: "Alarms by class", Note: "A is about people, B a fight at risk, C to do soon.", Columns: []string{"class", "alarms", "share", "aimed at"}}
	for _, c := range r.Alarms.Classes {
		t.Rows = append(t.Rows, []string{c.Class, num(c.Count), fmt.Sprintf("%d %%", c.Percent), fmt.Sprintf("%d %%", c.Target)})
	}
	return t
}

func (p *Printer) tagsLeft(r review.Review) table {
	t := table{Title: "Tags left on", Note: "Off by an override, or their owner did nothing on the board for 45 minutes.", Columns: []string{"robot", "whose", "on", "off", "owner quiet for"}}
	for _, g := range r.Tags {
		off := "still on"
		switch {
		case g.Override:
			off = p.hour(g.Off) + " by an override"
		case g.Off != 0:
			off = p.hour(g.Off)
		}
		t.Rows = append(t.Rows, []string{g.Name, g.Person, p.hour(g.On), off, span(g.QuietSec)})
	}
	return t
}

func (p *Printer) late(r review.Review) table {
	t := table{Title: "What came late, or from paper", Columns: []string{"robot", "sheet", "question or work", "by", "done", "heard", "how"}}
	for _, l := range r.Late {
		how := "late"
		if l.Paper {
			how = "from paper"
		}
		t.Rows = append(t.Rows, []string{l.Name, listName(l.List), l.Ask, l.By, p.hour(l.At), p.hour(l.Heard), how})
	}
	return t
}

func (p *Printer) loosened(r review.Review) table {
	t := table{Title: "What was made to ask less", Columns: []string{"robot", "job", "what", "why", "by", "when"}}
	for _, l := range r.Loosened {
		job := ""
		if l.Number != 0 {
			job = fmt.Sprintf("%d %s", l.Number, l.Job)
		}
		when := p.clock(l.At)
		if l.Until != 0 {
			when += " to " + p.clock(l.Until)
		}
		t.Rows = append(t.Rows, []string{l.Name, job, l.What, l.Reason, l.By, when})
	}
	return t
}

func (p *Printer) marked(r review.Review) table {
	t := table{Title: "Answers that are marked", Note: "Weights that the board asked about, what was said with nobody else there, what was signed on another's device, PINs forgotten, and who may do more than before.", Columns: []string{"robot or person", "sheet", "question", "answer", "by", "device of", "when"}}
	for _, m := range r.Marked {
		t.Rows = append(t.Rows, []string{m.Name, listName(m.List), m.Ask, m.What, m.By, m.On, p.clock(m.At)})
	}
	return t
}

func (p *Printer) uncovered(r review.Review) table {
	t := table{
		Title: "Work that no verified lockout covered", Note: "Only its lead's new look at the work closes such a job.",
		Columns: []string{"robot", "job", "began", "uncovered for", "looked at again"},
	}
	for _, u := range r.Uncovered {
		again := "by nobody yet"
		if u.When != 0 {
			again = p.hour(u.When) + " " + u.By
		}
		t.Rows = append(t.Rows, []string{u.Name, fmt.Sprintf("%d %s", u.Number, u.Job), p.hour(u.At), span(u.Sec), again})
	}
	return t
}

func (p *Printer) orNot(m board.Moment) string {
	if m == 0 {
		return "not yet"
	}
	return p.hour(m)
}
