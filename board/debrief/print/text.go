package print

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"mendline/board/debrief"
)

// Text is the account of one or several events for a terminal.
func Text(accounts []debrief.Account) string {
	var b strings.Builder
	for i, a := range accounts {
		if i > 0 {
			b.WriteString("\n")
		}
		accountText(&b, a)
	}
	if len(accounts) > 1 {
		history(&b, accounts)
	}
	return b.String()
}

func accountText(b *strings.Builder, a debrief.Account) {
	fmt.Fprintf(b, "%s: from %d journal lines\n%s\n\n", a.Event, a.Lines, a.All.Headline)
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(w, "list%[1]s\tpaid%[1]s\twork min\twait min\tdamages\tfound later\t  \v\n", in(a.Currency))
	for _, f := range a.Fights {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%d\t%d\t  %s\v\n", money(f.ListCents), money(f.PaidCents), minutes(f.WorkSec), minutes(f.WaitSec), f.Damages, f.FoundLater, f.Name)
	}
	t := a.All.Bill
	fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%d\t%d\t  in all\v\n", money(t.ListCents), money(t.PaidCents), minutes(t.WorkSec), minutes(t.WaitSec), t.Damages, t.FoundLater)
	w.Flush()
	for _, s := range spends(t) {
		fmt.Fprintf(b, "  %s %s min\n", s.Name, minutes(s.Sec))
	}
	for _, l := range lists(a) {
		fmt.Fprintf(b, "\n%s\n", l.Title)
		for _, s := range top(l.Rows) {
			fmt.Fprintf(b, "  %10s  %s (n %d, %s so far)\n", l.Show(s.Amount), s.Name, s.N, pct(s.Cumulative))
		}
	}
	if len(a.All.Creeps) > 0 {
		b.WriteString("\nBent, measured more than once\n")
	}
	for _, c := range a.All.Creeps {
		fmt.Fprintf(b, "  %+10.2f  %s: %s\n", c.MMPer100, c.Name, c.Says)
	}
	b.WriteString("\nMeasures\n")
	for _, f := range a.All.Figures {
		fmt.Fprintf(b, "  %10s  %s (n %d: %s)", figure(f, a.Currency), f.Name, f.N, f.Of)
		if f.Trap != "" {
			fmt.Fprintf(b, "; %s", f.Trap)
		}
		b.WriteString("\n")
	}
	comparedText(b, a)
	nextText(b, a)
}

func comparedText(b *strings.Builder, a debrief.Account) {
	for _, c := range a.Compared {
		fmt.Fprintf(b, "\n%s: %s or %s\n", c.Name, c.Built.Name, c.Other.Name)
		for _, o := range []debrief.Outcome{c.Built, c.Other} {
			fmt.Fprintf(b, "  %s: %s min (%s to %s), %.1f calls missed, money%s %s (%s to %s), %d g, %d fasteners\n", o.Name,
				minutes(o.Sec.P50), minutes(o.Sec.P10), minutes(o.Sec.P90), o.Missed, in(a.Currency), money(o.Money.P50), money(o.Money.P10), money(o.Money.P90), o.Grams, o.Joints)
		}
		for _, s := range []string{c.Verdict, c.Condition, c.Assumes, c.Gap} {
			if s != "" {
				fmt.Fprintf(b, "  %s\n", s)
			}
		}
	}
}

func nextText(b *strings.Builder, a debrief.Account) {
	if len(a.Calls) > 0 {
		fmt.Fprintf(b, "\nChances given half an hour before, against what came\n  %s\n", a.All.Called)
	}
	for _, c := range a.Calls {
		fmt.Fprintf(b, "  %2d of 10  %s: %s\n", c.Of10, c.Name, metWords(c.Met))
	}
	if c := a.Chances; c != nil {
		fmt.Fprintf(b, "  mean squared error %.3f from %d calls, 0 is best; the same chance for all would get %.3f\n", c.Brier, c.N, c.Always)
	}
	if len(a.Bring.Rows) > 0 {
		fmt.Fprintf(b, "\nWhat to bring, for %d fights a robot: chance of no missed call %s; with what is in the box %s\n", a.Bring.Fights, pct(a.Bring.Exact.Chance), pct(a.Bring.Have.Chance))
		for _, r := range a.Bring.Rows {
			fmt.Fprintf(b, "  %3d  %s (have %d; %d taken in %d fights)%s\n", r.Exact, r.Name, r.Have, r.Taken, r.N, lastWords(r))
		}
	}
	if a.Bring.LastKg != nil {
		fmt.Fprintf(b, "  The last kilogram bought %s.\n", pct(*a.Bring.LastKg))
	}
	if len(a.After.Shop) > 0 {
		b.WriteString("\nTo get, longest lead first\n")
	}
	for _, s := range a.After.Shop {
		fmt.Fprintf(b, "  %3d  %s, %s, %d days\n", s.Pieces, s.Name, price(s.ListCents, a.Currency), s.LeadDays)
	}
	for _, l := range a.After.Loans {
		fmt.Fprintf(b, "  back to %s: %d of %s, %d used up\n", l.From, l.Left, l.Name, l.Taken)
	}
	for _, p := range a.After.Packs {
		fmt.Fprintf(b, "  pack %s: %s\n", p.Name, p.Do)
	}
}

func metWords(met bool) string {
	if met {
		return "call met"
	}
	return "call missed"
}

// lastWords say what the last piece is worth now and kept for the final.
func lastWords(r debrief.BringRow) string {
	if r.Last == nil {
		return ""
	}
	return fmt.Sprintf("; the last one: worth %.2f of a fight now, %.2f kept for the final", r.Last.Now, r.Last.Keep)
}

// history sets parts and joints against events: in how many fights each was damaged.
func history(b *strings.Builder, accounts []debrief.Account) {
	h := debrief.HistoryOf(accounts)
	for _, l := range []struct {
		title string
		rows  []debrief.HistoryRow
	}{{"Parts", h.Parts}, {"Joints", h.Joints}} {
		if len(l.rows) == 0 {
			continue
		}
		fmt.Fprintf(b, "\n%s by event: fights damaged in\n", l.title)
		events := eventsOf(h)
		for _, row := range l.rows {
			var cells []string
			for i, n := range row.Fights {
				cells = append(cells, fmt.Sprintf("%s %d", events[i], n))
			}
			fmt.Fprintf(b, "  %s: %s\n", row.Name, strings.Join(cells, ", "))
		}
	}
}
