package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

func TestADriverIsSentToTwoFightsAndBackFromBoth(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada", board.SkillMechanical)
	r := p.light("Sprat", 1, ada)
	bench, staging, arena := p.place("bench", board.PlaceBench), p.place("staging", board.PlaceStaging), p.place("arena", board.PlaceArena)
	p.captain(board.RobotPlace{Robot: r, Place: bench})
	pack := p.pack("P1", r)
	first, second := p.fight(board.FightFields{Robot: r, Number: 3}), p.fight(board.FightFields{Robot: r, Number: 9})
	isReady := func() {
		p.open(r, ada)
		p.charged(pack)
		p.by(ada, board.RobotCloseUp{Robot: r})
		p.walk(r, board.ListCloseUp, ada)
		for _, tag := range p.s.Tags {
			p.by(ada, board.TagOff{Tag: tag.ID})
		}
		p.walk(r, board.ListReady, ada)
		require.Equal(t, board.Ready, p.s.Powers[r].State)
	}
	goes := func(to board.PlaceID) func() { return func() { p.captain(board.RobotPlace{Robot: r, Place: to}) } }
	over := func(f board.FightID) func() {
		return func() {
			p.wait(3 * time.Minute)
			p.captain(board.FightEnd{Fight: f, Result: board.Won})
		}
	}
	for _, step := range []struct {
		what  string
		do    func()
		act   forecast.Act
		title string
	}{
		{"it is signed for and called", func() {
			isReady()
			p.made("", board.FightNow{Arena: "A", Number: 1}, captain)
		}, forecast.ActCarry, "Take Sprat to staging"},
		{"it is at staging", goes(staging), forecast.ActFight, "Fight A 3: Sprat"},
		{"it is live", func() { p.by(ada, board.RobotLive{Robot: r, Place: arena}) }, forecast.ActFight, "Fight A 3: Sprat"},
		{"it has fought", over(first), forecast.ActCarry, "Bring Sprat back"},
		{"it is back", goes(bench), forecast.ActSheet, "Weapon lock: in, and it stops the weapon by hand?"},
		{"it is signed for again", func() {
			isReady()
			p.made("", board.FightNow{Arena: "A", Number: 7}, captain)
		}, forecast.ActCarry, "Take Sprat to staging"},
		{"it is at staging again", goes(staging), forecast.ActFight, "Fight A 9: Sprat"},
		{"it is live again", func() { p.by(ada, board.RobotLive{Robot: r, Place: arena}) }, forecast.ActFight, "Fight A 9: Sprat"},
		{"it has fought again", over(second), forecast.ActCarry, "Bring Sprat back"},
		{"it is back again", goes(bench), forecast.ActSheet, "Weapon lock: in, and it stops the weapon by hand?"},
	} {
		step.do()
		todo := p.todo(ada)
		require.Equal(t, step.act, todo.Act, step.what)
		require.Equal(t, step.title, todo.Title, step.what)
	}
}
