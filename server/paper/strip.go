package paper

import (
	"fmt"
	"slices"
	"strings"

	"mendline/board"
	"mendline/board/view"
)

// strip is a robot's sheets.
type strip struct {
	Robot  board.Robot
	Class  string
	Lead   string
	Stop   string
	Moves  []string
	Sheets []sheet
	// Stands is what is marked of the robot's signature, and the damage that it looks at.
	Stands []string
	// Recheck lists what is to be looked at again, every RecheckMin minutes.
	Recheck    []string
	RecheckMin int
}

// sheet is one list, in runs of lines that the same people may answer.
type sheet struct {
	Robot  string
	List   string
	Number int
	Ver    int
	Runs   []run
}

type run struct {
	First, Last int
	Who, Not    string
	Lines       []line
}

// line is one question with the answers it takes.
type line struct {
	N       int
	Ask     string
	Touch   string
	Answers []string
	// Blank is what is written in, before the answers: "reads" and a unit.
	Blank, Unit, Limit string
	Signature          bool
}

// listName is what a sheet is called, as on the phone.
func listName(l board.SheetList) string {
	return strings.ToUpper(strings.ReplaceAll(string(l), "-", " "))
}

func (p *Printer) strip(r board.Robot) *strip {
	power := p.State.Powers[r.ID]
	t := &strip{Robot: r, Class: classText(r.Class), Lead: p.State.People[r.Lead].Name}
	if power.Stop.At != 0 {
		t.Stop = fmt.Sprintf("Stopped by %s %s: %s", p.State.People[power.Stop.By].Name, p.hour(power.Stop.At), power.Stop.Why)
	}
	for _, energy := range r.Energies {
		if energy.Moves != "" {
			t.Moves = append(t.Moves, energy.Isolator+": "+energy.Moves)
		}
		if energy.Kind == board.EnergyGas || energy.Kind == board.EnergyCapacitor {
			t.Recheck = append(t.Recheck, fmt.Sprintf("%s, %s", energy.Kind, energy.Isolator))
		}
	}
	t.Stands = p.stands(r, power)
	t.RecheckMin = int(p.State.Event().Recheck() / 60_000)
	for _, h := range p.State.Printed(r.ID) {
		t.Sheets = append(t.Sheets, p.sheet(r, h))
	}
	return t
}

func classText(c board.Class) string {
	if !c.Said() {
		return "no class said yet"
	}
	return fmt.Sprintf("%s, %g %s", c.Name, c.Limit, c.Unit)
}

// stands lists what whoever signs, and whoever reads it later, is to know: what is
// relaxed, damage with who accepts it, who was told, and whose device it was signed on.
func (p *Printer) stands(r board.Robot, power board.Power) []string {
	var list []string
	for _, less := range p.State.RelaxedFor(r.ID) {
		list = append(list, "Relaxed: "+less)
	}
	for _, d := range view.Damages(p.State, r.ID) {
		list = append(list, "Damage "+d.Says+".")
	}
	if closed, ok := p.State.Sheet(r.ID, board.ListCloseUp); ok {
		if told, ok := closed.Answered("told"); ok && told.Said == board.SaidAlone {
			list = append(list, fmt.Sprintf("Closed up at %s by %s: nobody else at the bench was told.", p.hour(told.At), p.State.People[told.By].Name))
		}
	}
	if power.ReadyOn != "" {
		list = append(list, fmt.Sprintf("Signed ready at %s by %s, on one device with %s.", p.hour(power.Since), p.State.People[power.ReadyBy].Name, p.State.People[power.ReadyOn].Name))
	}
	return list
}

func (p *Printer) sheet(r board.Robot, h board.PrintedSheet) sheet {
	out := sheet{Robot: r.Name, List: listName(h.List), Number: h.Number, Ver: h.Version}
	for i, l := range h.Lines {
		who, not := p.names(l.Who), p.butNot(r, l.Line)
		if last := len(out.Runs) - 1; last < 0 || out.Runs[last].Who != who || out.Runs[last].Not != not || l.Part != h.Lines[i-1].Part {
			out.Runs = append(out.Runs, run{First: i + 1, Who: who, Not: not})
		}
		now := &out.Runs[len(out.Runs)-1]
		now.Last = i + 1
		now.Lines = append(now.Lines, p.line(i+1, l.Line))
	}
	return out
}

// butNot says who, of those listed, may still not answer.
func (p *Printer) butNot(r board.Robot, l board.Line) string {
	switch {
	case l.Kind == board.LineSign && !p.State.Event().RepairerMaySign:
		return "not whoever finished the last repair"
	case l.Part == "verify" && r.SecondVerifier:
		return "not whoever isolated it"
	}
	return ""
}

func (p *Printer) line(n int, l board.Line) line {
	out := line{N: n, Ask: l.Ask, Touch: l.Touch, Answers: []string{l.Say}}
	switch l.Kind {
	case board.LineNumber:
		out.Blank, out.Unit, out.Limit, out.Answers = l.Say, l.Unit, limit(l), nil
	case board.LinePlace:
		out.Blank = "where"
	case board.LinePack:
		out.Blank = "which pack"
	case board.LineTold:
		out.Blank = "who was told"
		if l.Part == "close-up" {
			out.Answers = append(out.Answers, "nobody else at the bench")
		}
	case board.LineChoice:
		out.Answers = slices.Clone(l.Choices)
	case board.LineProof:
		if at := p.State.Event().FailsafeAt; len(at) == 0 || slices.Contains(at, board.FailsafeOfficials) {
			out.Answers = append(out.Answers, "owed to the officials")
		}
	case board.LineSign:
		out.Signature = true
	}
	if l.Not != "" {
		out.Answers = append(out.Answers, l.Not)
	}
	if l.NotFitted {
		out.Answers = append(out.Answers, "not fitted")
	}
	return out
}

// limit says what a gauge or scale must read.
func limit(l board.Line) string {
	switch {
	case l.Least > 0 && l.Most > 0:
		return fmt.Sprintf("from %g to %g %s", l.Least, l.Most, l.Unit)
	case l.Most > 0:
		return "at most " + strings.TrimSuffix(fmt.Sprintf("%.1f", l.Most), ".0") + " " + l.Unit
	}
	return "must read 0 " + l.Unit
}
