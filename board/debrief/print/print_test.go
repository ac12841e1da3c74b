package print_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/debrief"
	"mendline/board/debrief/print"
)

// sunday is an account with something in each part of it, constructed by us.
func sunday() debrief.Account {
	list, paid, kg, perFight := 1.11, .66, .147, 123450.
	r := debrief.Range{P10: 600, P50: 1200, P90: 2400, Mean: 1300}
	bill := debrief.Bill{
		Name: "=Tin <Moth>, hit 2", Hit: debrief.Hit{Fight: "f", Number: 2}, ListCents: 710000, PaidCents: 420000, ListShare: &list, PaidShare: &paid,
		Cost: debrief.Cost{MaterialList: 290000, MachiningList: 420000, MachiningPaid: 420000},
		Sec:  map[debrief.Spend]int{debrief.WaitPart: 540}, WaitSec: 540, LeadDays: 21, Damages: 4, FoundLater: 2, LeftOff: []string{"3 paint"},
	}
	return debrief.Account{
		Event: "Shed Meet", Currency: "crowns", Lines: 12, Fought: 4, Robots: []debrief.Section{{
			Name: "Tin Moth", ByRepeat: []debrief.Share{{Name: "rail, left", Amount: 2, Cumulative: 1, N: 3}}, ByJoint: []debrief.Share{{Name: "corner joint", Amount: 1, Cumulative: 1, N: 1}},
		}}, Hits: []debrief.Bill{bill, {Name: "Tin Moth, no hit known", WorkSec: 70, Quiet: true}}, Fights: []debrief.Bill{bill},
		All: debrief.Section{
			Headline: "The day cost 7100.00 crowns at list price.", Called: "2 calls with a chance given before: 1 met.", Bill: bill, ByRepeat: []debrief.Share{{Name: "rail, left", Amount: 2, Cumulative: 1, N: 3}},
			ByJoint: []debrief.Share{{Name: "corner joint", Amount: 1, Cumulative: 1, N: 1}},
			Jobs:    []debrief.Timed{{Number: 1, LikelySec: 600, ActualSec: 600}, {Number: 2, LikelySec: 600, ActualSec: 610, Open: true}},
			Figures: []debrief.Figure{{Name: "cost per fight", Value: &perFight, Unit: "cents", N: 3}, {Name: "cost per damaging hit", Unit: "cents", Trap: "not 0"}},
		},
		Compared: []debrief.Compared{{Name: "Tin Moth", Comparison: debrief.Comparison{
			Verdict: "In 96 of 100 replays", Built: debrief.Outcome{Name: "bolted rails", Sec: r}, Other: debrief.Outcome{Name: "one frame", Sec: r, Guessed: true},
		}}},
		Calls: []debrief.Called{{Name: "Tin Moth, Box 3", Of10: 8, Met: true}, {Name: "Tin Moth, Box 5", Of10: 8}},
		Bring: debrief.Bring{Fights: 5, Rows: []debrief.BringRow{{Name: "blade", Exact: 2, Have: 1}}, LastKg: &kg},
		After: debrief.After{
			Shop: []debrief.Buy{{Name: "blade", Pieces: 1, LeadDays: 14}}, Loans: []debrief.Loan{{Name: "hub", From: "the next bench", Left: 1}},
			Packs: []debrief.PackTo{{Pack: board.PackID("p"), Name: "P1", Do: "to storage charge"}},
		},
	}
}

func TestThePageSaysAllAndWritesNamesAsText(t *testing.T) {
	page, err := print.HTML([]debrief.Account{sunday()})
	require.NoError(t, err)
	for _, want := range []string{
		"=Tin &lt;Moth&gt;, hit 2", "7100.00", "1.11 / 0.66", "4 (2)", "waiting for a part 9.0 min", "1234.50 crowns", "–", "<strong>The day cost 7100.00 crowns at list price.</strong>",
		"list, crowns", "paid, crowns", `</svg> 2</td>`, "0.00 crowns", "In 96 of 100 replays",
		"one frame (guessed)", "give back 1 of hub to the next bench", "pack P1: to storage charge", "The last kilogram bought 15 %",
		"1 more with no money, no damage and under 2 minutes", "8 of 10", "call met", "n 2 jobs, hands on", `<circle cx="150" cy="42" r="4"/>`, `<path d="M151 33m4 0h7`, "Nothing else was worked on",
		"2 calls with a chance given before: 1 met. A dot above the line", "from 10 calls on", `<circle cx="232" cy="9" r="4"/>`, `<circle cx="232" cy="21" r="3.5" fill="none"`,
	} {
		require.Contains(t, string(page), want)
	}
	require.NotContains(t, string(page), "%!")
	require.NotContains(t, string(page), "<Moth>")
}

func TestThePageBillsByFightTooAndNamesPacksTogether(t *testing.T) {
	a := sunday()
	a.Fights = []debrief.Bill{{Name: "Tin Moth, Box 3 against Gnat", ListCents: 123400, WorkSec: 90, LeftOff: []string{"3 paint"}}}
	for _, name := range []string{"P2", "P3"} {
		a.After.Packs = append(a.After.Packs, debrief.PackTo{Name: name, Do: "to storage charge"})
	}
	a.After.Packs = append(a.After.Packs, debrief.PackTo{Name: "P4", Do: "set aside"})
	page, err := print.HTML([]debrief.Account{a})
	require.NoError(t, err)
	for _, want := range []string{"Bills by fight", "Tin Moth, Box 3 against Gnat</td><td class=\"n\">1234.00", "packs P1, P2, P3: to storage charge", "pack P4: set aside"} {
		require.Contains(t, string(page), want)
	}
	require.Equal(t, 1, strings.Count(string(page), "left off: 3 paint"), "under its hit alone")
}

func TestARowForEachHitThatNoSpreadsheetReadsAsAFormula(t *testing.T) {
	out, err := print.CSV([]debrief.Account{sunday(), sunday()})
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(out))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 5, "also those of which nothing is worth a row in print")
	require.Equal(t, "'=Tin <Moth>, hit 2", rows[1][1])
	require.Len(t, rows[1], len(rows[0]))
	require.Equal(t, "1.11", rows[1][8])
}

func TestSeveralEventsSetPartsBesideEachOther(t *testing.T) {
	other := sunday()
	other.Event, other.Fought = "Barn Bash", 3
	other.Robots = []debrief.Section{{Name: "Tin Moth", ByJoint: other.Robots[0].ByJoint}, {Name: "Grumlow", ByRepeat: other.Robots[0].ByRepeat}}
	text := print.Text([]debrief.Account{sunday(), other})
	require.Contains(t, text, "Tin Moth, rail, left: Shed Meet (n 4 fights) 2, Barn Bash (n 3 fights) 0")
	require.Contains(t, text, "Grumlow, rail, left: Shed Meet (n 4 fights) 0, Barn Bash (n 3 fights) 2", "another robot's part of the same name")
	require.Contains(t, text, "Tin Moth, corner joint: Shed Meet (n 4 fights) 1, Barn Bash (n 3 fights) 1")
	page, err := print.HTML([]debrief.Account{sunday(), other})
	require.NoError(t, err)
	require.Contains(t, string(page), `<th class="n">Barn Bash (n 3 fights)</th>`)
	require.Contains(t, string(page), `<td>Tin Moth, rail, left</td><td class="n">2</td><td class="n">0</td>`)
	require.Contains(t, text, "7100.00")
	require.NotContains(t, text, "%!")
	require.NotContains(t, print.Text([]debrief.Account{other}), "Parts by event")
}
