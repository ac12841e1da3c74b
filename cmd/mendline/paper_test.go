package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestBrowserAnAnswerOnPaperIsEnteredWithItsTimeAndTheLineIsAskedAnew(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	pia := newDevice(t, "pia", 360, 740, true)
	s.joins(pia, board.RoleCrew, "Pia")
	robot := s.robot("Nettlepip").ID
	sheet, _ := s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	pia.open(s.url + "/#/sheet/" + string(sheet.ID))
	pia.press("or paper")
	pia.press("it was answered on paper")
	pia.shot("paper-lines")
	pia.press("enter this line")
	now := s.desk.Now().Time().UTC().Add(time.Duration(s.desk.View().State.Event().OffsetMin) * time.Minute).Format("15:04")
	for _, digit := range now[:2] + now[3:] {
		pia.press(string(digit))
	}
	pia.shot("paper-time")
	pia.press("at " + now)
	pia.sees("from the paper")
	pia.shot("paper-line")
	line := sheet.Lines[0]
	pia.press(line.Say)
	pia.sees("Which line?")
	pia.press("back to the sheet")
	pia.sees("Answer it again")
	pia.shot("paper-on-record")

	sheet, _ = s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	require.Len(t, sheet.Answers, 1)
	require.True(t, sheet.Answers[0].Paper)
	require.True(t, sheet.Answers[0].Record)
	require.Equal(t, board.Unknown, s.desk.View().State.Powers[robot].State)
	open, _ := sheet.OpenLine()
	require.Equal(t, line.ID, open.ID)
}

// sheets of paper in inches: ISO 216 A4 (210 × 297 mm) and ANSI A (8.5 × 11 in).
var sheetSizes = map[string][2]float64{"a4": {210 / 25.4, 297 / 25.4}, "letter": {8.5, 11}}

func TestBrowserPrintedPagesKeepEachLineWholeOnA4AndLetter(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, s.named(board.RoleCaptain))
	captain.press("print")
	captain.sees("all that can be printed")
	for name, path := range s.printedPages() {
		captain.open(s.url + path)
		captain.sees("board revision")
		broken := gets[int](captain, `[...document.querySelectorAll("tr, .cut, .card")].filter((e) => getComputedStyle(e).breakInside !== "avoid").length`)
		require.Zero(t, broken, "%s: parts that a page's end may cut", path)
		wide := gets[int](captain, `document.body.scrollWidth - document.body.clientWidth`)
		require.Zero(t, wide, "%s: wider than its sheet", path)
		tallest := gets[float64](captain, `Math.max(...[...document.querySelectorAll("tr, .cut, .card")].map((e) => e.getBoundingClientRect().height))`)
		require.Less(t, tallest, 255*96/25.4, "%s: taller than a sheet", path)
		if name != "all" && os.Getenv("MENDLINE_SHOTS") == "" {
			continue // it is a part of all
		}
		for size, inches := range sheetSizes {
			captain.pdf("printed-"+name+"-"+size, inches)
		}
	}
}

// printedPages are the pages of paper by a short name.
func (s *served) printedPages() map[string]string {
	pages := map[string]string{
		"index": "/sheet/", "all": "/sheet/all", "tags": "/sheet/tags", "hands": "/sheet/hands", "order": "/sheet/order", "packs": "/sheet/packs",
	}
	for id, r := range s.desk.View().State.Robots {
		pages[r.Name] = "/sheet/robot/" + string(id)
	}
	return pages
}

// named is someone of the role.
func (s *served) named(role board.Role) string {
	for _, person := range s.desk.View().State.People {
		if person.Role == role && !person.Retired {
			return person.Name
		}
	}
	return ""
}

// pdf prints the page that the device shows, and turns it into pictures where
// Ghostscript is there and MENDLINE_SHOTS names a folder.
func (d *device) pdf(name string, inches [2]float64) {
	d.t.Helper()
	made, err := chromedp.Call(d.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: inches[0], PaperHeight: inches[1], PreferCSSPageSize: new(true)})
	require.NoError(d.t, err)
	require.True(d.t, bytes.HasPrefix(made.Data, []byte("%PDF-")))
	require.Positive(d.t, bytes.Count(made.Data, []byte("/Type /Page\n")))
	dir := os.Getenv("MENDLINE_SHOTS")
	gs, missing := exec.LookPath("gs")
	if dir == "" || missing != nil {
		return
	}
	path := filepath.Join(dir, name+".pdf")
	require.NoError(d.t, os.WriteFile(path, made.Data, 0o644))
	out, err := exec.Command(gs, "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pnggray", "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4", "-r75", "-o", filepath.Join(dir, name+"-%02d.png"), path).CombinedOutput()
	require.NoError(d.t, err, string(out))
}
