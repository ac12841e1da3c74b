// Package print puts an account on paper: as text for a terminal, as a page to
// print, as rows for a spreadsheet. It computes nothing but how wide a bar is.
package print

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"mendline/board/debrief"
	"mendline/board/spreadsheet"
)

//go:embed page.html
var pageText string

var page = template.Must(template.New("page").Funcs(template.FuncMap{
	"money": money[int], "moneyOf": money[float64], "minutes": minutes[int], "minutesOf": minutes[float64], "pct": pct, "ratio": ratio, "bar": bar, "figure": figure, "top": top, "strip": stripWidth, "spends": spends, "lists": lists, "met": metWords, "last": lastWords, "ratios": ratios, "costly": costly, "quiet": quiet, "across": across, "spent": spent, "last100": func(share *float64) string { return pct(*share) }, "called": called, "in": in, "price": price, "bills": billsBy, "packs": packsBy,
}).Parse(pageText))

// book is what the page is made of.
type book struct {
	Accounts []debrief.Account
	History  debrief.History
}

// HTML is the account of one or several events as a page that also prints in
// black and white.
func HTML(accounts []debrief.Account) ([]byte, error) {
	var b bytes.Buffer
	if err := page.Execute(&b, book{accounts, debrief.HistoryOf(accounts)}); err != nil {
		return nil, fmt.Errorf("write the page: %w", err)
	}
	return b.Bytes(), nil
}

// CSV is a row for each hit of each event.
func CSV(accounts []debrief.Account) ([]byte, error) {
	head := []string{"event", "bill", "material_list", "material_paid", "machining_list", "machining_paid", "list", "paid", "list_share", "paid_share", "own_min", "lead_days", "damages", "found_later", "hand_min"}
	for _, s := range debrief.Spends {
		head = append(head, strings.ReplaceAll(string(s), "-", "_")+"_min")
	}
	rows := [][]string{append(head, "left_off")}
	for _, a := range accounts {
		for _, h := range a.Hits {
			row := []string{
				a.Event, h.Name, money(h.MaterialList), money(h.MaterialPaid), money(h.MachiningList), money(h.MachiningPaid), money(h.ListCents), money(h.PaidCents),
				ratio(h.ListShare), ratio(h.PaidShare), minutes(h.OwnSec), strconv.Itoa(h.LeadDays), strconv.Itoa(h.Damages), strconv.Itoa(h.FoundLater), minutes(h.HandSec),
			}
			for _, s := range debrief.Spends {
				row = append(row, minutes(h.Sec[s]))
			}
			rows = append(rows, append(row, strings.Join(h.LeftOff, "; ")))
		}
	}
	b, err := spreadsheet.Encode(rows)
	if err != nil {
		return nil, fmt.Errorf("write the rows: %w", err)
	}
	return b, nil
}

// money is the bare amount, where a heading says the currency.
func money[N int | float64](cents N) string { return debrief.Money(float64(cents), "") }

func price(cents int, currency string) string { return debrief.Money(float64(cents), currency) }

// in is a currency behind a heading.
func in(currency string) string {
	if currency == "" {
		return ""
	}
	return ", " + currency
}

func minutes[N int | float64](sec N) string { return fmt.Sprintf("%.1f", float64(sec)/60) }

func ratio(share *float64) string {
	if share == nil {
		return ""
	}
	return fmt.Sprintf("%.2f", *share)
}

func pct(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// figure is a measure in words, "–" where it has no value.
func figure(f debrief.Figure, currency string) string {
	if f.Value == nil {
		return "–"
	}
	switch f.Unit {
	case "s":
		return minutes(*f.Value) + " min"
	case "cents":
		return debrief.Money(*f.Value, currency)
	case "share":
		return pct(*f.Value)
	}
	return fmt.Sprintf("%.2f %s", *f.Value, f.Unit)
}

// barMost is the widest bar, in units of the drawing.
const barMost = 300

// bar is how wide the bar of one item of a ranking is.
func bar(s debrief.Share, all []debrief.Share) int {
	return int(barMost * s.Amount / max(all[0].Amount, 1e-9))
}

// top is the first eight of a ranking.
func top(all []debrief.Share) []debrief.Share { return all[:min(8, len(all))] }

// stripWidth is where a time lies on a line as long as the longer P90 of the two.
func stripWidth(sec float64, c debrief.Compared) int {
	return int(barMost * sec / max(c.Built.Sec.P90, c.Other.Sec.P90, 1))
}

// point is a job on the strip of ratios: where, how high, and whether it is open.
type point struct {
	X, Y int
	Open bool
}

// ratioReach is how far the strip of ratios reaches to either side of 1.
const ratioReach = 8

// ratios lays the jobs on a strip, time taken over likely time: 1 in the middle,
// doubled and halved at equal steps, points that would lie on others above them.
func ratios(jobs []debrief.Timed) []point {
	var list []point
	stacked := map[int]int{}
	for _, j := range jobs {
		if j.ActualSec == 0 || j.LikelySec == 0 {
			continue
		}
		x := ratioAt(float64(j.ActualSec) / float64(j.LikelySec))
		list = append(list, point{x, 42 - 9*stacked[x/9], j.Open})
		stacked[x/9]++
	}
	return list
}

func ratioAt(r float64) int {
	r = min(max(r, 1.0/ratioReach), ratioReach)
	return int(math.Round(barMost/2 + (barMost/2-12)*math.Log(r)/math.Log(ratioReach)))
}

// sideBySide is one table of the history.
type sideBySide struct {
	Title  string
	Events []string
	Rows   []debrief.HistoryRow
}

func across(title string, h debrief.History, rows []debrief.HistoryRow) sideBySide {
	return sideBySide{title, eventsOf(h), rows}
}

// eventsOf names the events with how many fights each had.
func eventsOf(h debrief.History) []string {
	var all []string
	for i, e := range h.Events {
		all = append(all, fmt.Sprintf("%s (n %d fights)", e, h.Fought[i]))
	}
	return all
}

// calls lays chances on a line from 0 to 10 of 10: a call that was met above it, one
// that was missed below, points of one chance stacked.
type calls struct {
	Met, Missed  []point
	Line, Height int
	Ticks        []tick
}

type tick struct {
	X     int
	Words int
}

func called(list []debrief.Called) calls {
	var c calls
	met, missed := map[int]int{}, map[int]int{}
	for _, one := range list {
		if one.Met {
			met[one.Of10]++
		} else {
			missed[one.Of10]++
		}
	}
	most := func(m map[int]int) int { return slices.Max(append(slices.Collect(maps.Values(m)), 1)) }
	c.Line = 6 + 9*most(met)
	c.Height = c.Line + 22 + 9*most(missed)
	for of10 := range 11 {
		x := 12 + of10*(barMost-24)/10
		c.Ticks = append(c.Ticks, tick{x, of10})
		for k := range met[of10] {
			c.Met = append(c.Met, point{X: x, Y: c.Line - 6 - 9*k})
		}
		for k := range missed[of10] {
			c.Missed = append(c.Missed, point{X: x, Y: c.Line + 6 + 9*k})
		}
	}
	return c
}

// bills is one table of bills; All is their sum, where it stands under them.
type bills struct {
	Title, Of string
	Rows      []debrief.Bill
	All       *debrief.Bill
}

// billsBy are the bills of an account, hit by hit and fight by fight.
func billsBy(a debrief.Account) []bills {
	return []bills{{"Bills by hit", "hit", a.Hits, &a.All.Bill}, {"Bills by fight", "fight", withoutWork(a.Fights), nil}}
}

// withoutWork takes out of a list of bills what was left off: the hits' say it.
func withoutWork(list []debrief.Bill) []debrief.Bill {
	list = slices.Clone(list)
	for i := range list {
		list[i].LeftOff = nil
	}
	return list
}

// packsTo is what is to be done with packs.
type packsTo struct {
	Names []string
	Do    string
}

// Words name the packs: "packs G1, G3".
func (p packsTo) Words() string {
	if len(p.Names) == 1 {
		return "pack " + p.Names[0]
	}
	return "packs " + strings.Join(p.Names, ", ")
}

func packsBy(list []debrief.PackTo) []packsTo {
	var all []packsTo
	for _, p := range list {
		i := slices.IndexFunc(all, func(o packsTo) bool { return o.Do == p.Do })
		if i < 0 {
			i, all = len(all), append(all, packsTo{Do: p.Do})
		}
		all[i].Names = append(all[i].Names, p.Name)
	}
	return all
}

// costly keeps the bills on which anything was spent, quiet counts the others.
func costly(bills []debrief.Bill) []debrief.Bill {
	var list []debrief.Bill
	for _, b := range bills {
		if !b.Quiet {
			list = append(list, b)
		}
	}
	return list
}

// spent is money of a bill, "–" where nothing was used up.
func spent(b debrief.Bill, cents int) string {
	if b.ListCents+b.PaidCents == 0 {
		return "–"
	}
	return money(cents)
}

func quiet(bills []debrief.Bill) int { return len(bills) - len(costly(bills)) }

var spendWords = map[debrief.Spend]string{
	debrief.MakingSafe: "making safe", debrief.Finding: "finding", debrief.WaitPart: "waiting for a part", debrief.WaitPerson: "waiting for a person",
	debrief.WaitStation: "waiting for a station", debrief.WaitOther: "waiting for else", debrief.Fixing: "fixing", debrief.Checking: "checking",
}

// spend is one kind of minutes of a bill.
type spend struct {
	Name string
	Sec  int
}

func spends(b debrief.Bill) []spend {
	var list []spend
	for _, s := range debrief.Spends {
		if b.Sec[s] > 0 {
			list = append(list, spend{spendWords[s], b.Sec[s]})
		}
	}
	return list
}

// list is a ranking with its heading and how an amount reads.
type list struct {
	Title string
	Rows  []debrief.Share
	Show  func(float64) string
}

func lists(a debrief.Account) []list {
	s := a.All
	count := func(n float64) string { return fmt.Sprintf("%.0f", n) }
	var all []list
	for _, l := range []list{
		{"By minutes of work and waiting", s.ByMinutes, minutes[float64]}, {"By list price of what it took", s.ByMoney, func(cents float64) string { return debrief.Money(cents, a.Currency) }},
		{"By fights damaged in", s.ByRepeat, count}, {"Joints, by fights damaged in", s.ByJoint, count},
	} {
		if len(l.Rows) > 0 {
			all = append(all, l)
		}
	}
	return all
}
