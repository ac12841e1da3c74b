package server

import (
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// paperPages are all pages of paper of a pit.
func (p *pit) paperPages() []string {
	return []string{"/sheet/", "/sheet/all", "/sheet/robot/" + string(p.moth), "/sheet/tags", "/sheet/hands", "/sheet/order", "/sheet/packs", "/rules"}
}

func TestPaperIsForWhoHasASession(t *testing.T) {
	p := newPit(t)
	for _, path := range append(p.paperPages(), "/sheet/print.css") {
		p.nobody().get(path).refused(http.StatusUnauthorized, codeNoSession)
		for _, d := range []device{p.crew(), p.wall()} {
			require.NotEmpty(t, d.get(path).ok().body, path)
		}
	}
	p.crew().get("/sheet/robot/nobody").refused(http.StatusNotFound, board.CodeUnknown)
	p.crew().get("/sheet/nothing").refused(http.StatusNotFound, board.CodeUnknown)
}

func TestPaperIsWellFormedAndPlain(t *testing.T) {
	p := newPit(t)
	p.told(board.RobotChange{Robot: p.moth, RobotFields: func() board.RobotFields {
		f := p.d.View().State.Robots[p.moth].RobotFields
		f.Name = `<script>alert("1")</script> & Moth`
		return f
	}()})
	for _, path := range p.paperPages() {
		a := p.crew().get(path).ok()
		require.Equal(t, "text/html; charset=utf-8", a.header.Get("Content-Type"))
		page := string(a.body)
		require.NotContains(t, page, "<script", path)
		require.NotContains(t, page, "style=", "the content policy allows none")
		wellFormed(t, page)
	}
}

// wellFormed fails unless every element of a page is closed, as XML asks.
func wellFormed(t *testing.T, page string) {
	t.Helper()
	for d := xml.NewDecoder(strings.NewReader(page)); ; {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err, page)
	}
}

func TestPaperSaysOfWhichBoardAndWhenItWasPrinted(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	page := string(ada.get("/sheet/robot/" + string(p.moth)).ok().body)
	require.Contains(t, page, "board revision "+string(encode(t, p.d.View().State.Rev)))
	require.Contains(t, page, "printed "+p.clock.Now().Format("2 Jan 15:04"))
	require.Contains(t, page, "Paper stands in while the board is down")
	require.Contains(t, page, "Tin Moth")
}

func TestEachRuleIsReadAtItsNumber(t *testing.T) {
	page := string(newPit(t).wall().get("/rules").ok().body)
	for _, r := range board.Rules() {
		_, from, ok := strings.Cut(page, fmt.Sprintf(`<section id="%d">`, r.Number))
		require.True(t, ok, r.Number)
		section, _, _ := strings.Cut(from, "</section>")
		for _, said := range []string{r.Says, r.After, r.Relaxed, r.Elsewhere} {
			require.Contains(t, html.UnescapeString(section), said, r.Number)
		}
	}
}
