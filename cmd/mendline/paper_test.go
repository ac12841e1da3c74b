package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestBrowserAnAnswerOnPaperIsEnteredWithItsTimeAndTheLineIsAskedAnew(t *testing.T) {
	t.Parallel()
	browser := newBrowser(t)
	s := serveTeam(t)
	pia := newDevice(t, browser, "pia", 360, 740, true)
	s.joins(pia, board.RoleCrew, "Pia")
	robot := s.robot("Nettlepip").ID
	h, _ := s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	pia.open(s.url + "/#/sheet/" + string(h.ID))
	pia.press("or paper")
	pia.press("it was answered on paper")
	pia.shot("paper-lines")
	pia.press("enter this line")
	now := gets[string](pia, `import("/clock.js").then((m) => m.clock.hhmm(m.clock.now()))`)
	for _, digit := range now[:2] + now[3:] {
		pia.press(string(digit))
	}
	pia.shot("paper-time")
	pia.press("at " + now)
	pia.sees("from the paper")
	pia.shot("paper-line")
	line := h.Lines[0]
	pia.pressUntil(line.Say, `document.body.innerText.includes("Which line?")`)
	pia.press("back to the sheet")
	pia.sees("answer it anew")
	pia.shot("paper-on-record")

	h, _ = s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	require.Len(t, h.Answers, 1)
	require.True(t, h.Answers[0].Paper)
	require.True(t, h.Answers[0].Record)
	require.Equal(t, board.Unknown, s.desk.View().State.Powers[robot].State)
	open, _ := h.OpenLine()
	require.Equal(t, line.ID, open.ID)
}
