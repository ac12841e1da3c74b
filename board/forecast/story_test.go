package forecast_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/forecast"
)

var rewrite = flag.Bool("rewrite", false, "write the stories' outcomes again; review the diff")

// TestStories plays each story to an empty board. Where someone asks, what the
// forecast says then stands indented below, as people would say it; where someone
// hears, the alarms that sound.
func TestStories(t *testing.T) {
	files, err := filepath.Glob("../../testdata/stories/forecast/*.txt")
	require.NoError(t, err)
	require.Len(t, files, 6)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			told, err := os.ReadFile(file)
			require.NoError(t, err)
			got := tell(t, string(told))
			if *rewrite {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
				return
			}
			require.Equal(t, string(told), got)
		})
	}
}

// midnight begins the day of the stories.
var midnight = noon.Add(-12 * time.Hour)

func tell(t *testing.T, story string) string {
	p := &pit{t: t}
	teller := &boardtest.Teller{
		Midnight: midnight, State: func() board.State { return p.s },
		Give: func(at board.Moment, by board.Actor, ask board.Ask, c board.Command) (*board.Refusal, error) {
			change, refusal := board.Apply(p.s, c, ask, by, at)
			if refusal == nil {
				p.s = p.s.With(change)
			}
			return refusal, nil
		},
	}
	var out strings.Builder
	for _, text := range strings.Split(strings.TrimSuffix(story, "\n"), "\n") {
		if strings.HasPrefix(text, "    ") {
			continue
		}
		fmt.Fprintln(&out, text)
		line, does, err := boardtest.ReadLine(text, midnight)
		require.NoError(t, err)
		if !does {
			continue
		}
		p.now = line.At
		said := p.asked(line)
		switch line.Do {
		case "asks":
		case "hears":
			said = p.heard()
		default:
			said, err = teller.Tell(line)
			require.NoError(t, err)
		}
		p.takesThePlan()
		for _, s := range said {
			fmt.Fprintln(&out, "    "+s)
		}
	}
	return out.String()
}

// takesThePlan gives people the plan that the forecast has for them, as the desk does.
func (p *pit) takesThePlan() {
	p.t.Helper()
	if next := p.make().Replace; next != nil {
		_, refusal := p.try(*next, board.Itself())
		require.Nil(p.t, refusal, "%+v", refusal)
	}
}

// heard is every alarm that sounds, people first.
func (p *pit) heard() []string {
	var said []string
	for _, a := range p.make().Alarms {
		if a.Class != forecast.ClassC {
			said = append(said, a.What+". "+a.Act+".")
		}
	}
	if said == nil {
		return []string{"nothing"}
	}
	return said
}

// asked is what the forecast says to one who asks: of a robot, or of all alarms
// that a call is due.
func (p *pit) asked(l boardtest.StoryLine) []string {
	if l.Do != "asks" {
		return nil
	}
	f := p.make()
	robot, ok := boardtest.Named(p.s, board.KindRobot, l.Of("robot"))
	require.True(p.t, ok, l.Text)
	r := board.RobotID(robot)
	c := find(p.t, f.Calls, func(c forecast.Call) bool { return c.Robot == r })
	said := []string{callWords(c, p.now), workWords(c)}
	for _, k := range f.Chances {
		if k.Robot == r {
			said = append(said, chanceWords(k))
		}
	}
	if c.Postpone != nil {
		said = append(said, postponeWords(*c.Postpone))
	}
	for _, a := range f.Alarms {
		if a.Class == forecast.ClassB && a.Robot == r {
			said = append(said, "alarm: "+a.What+". "+a.Act+".")
		}
	}
	for _, list := range f.LeaveOff {
		if list.Robot == r {
			said = append(said, p.remedyWords(list)...)
		}
	}
	return said
}

// callWords says minutes as the screens do: whole ones that are left.
func callWords(c forecast.Call, now board.Moment) string {
	if c.CallNow {
		return fmt.Sprintf("fight %s %d: call now", c.Arena, c.Number)
	}
	at := func(m board.Moment) string { return m.Time().Format("15:04") }
	return fmt.Sprintf("fight %s %d: call in %d min, at %s (%s to %s); it starts at %s", c.Arena, c.Number,
		int(c.CallAt.Median.Sub(now).Minutes()), at(c.CallAt.Median), at(c.CallAt.Early), at(c.CallAt.Late), at(c.StartAt.Median))
}

func workWords(c forecast.Call) string {
	said := fmt.Sprintf("hands-on minutes %d, work of %d: ", c.HandsOnSec/60, c.NeedSec/60)
	switch c.Flag {
	case forecast.FlagNone:
		return said + "not flagged"
	case forecast.FlagTight:
		said += "tight"
	case forecast.FlagWontFinish:
		said += "won't finish"
	}
	if c.ShortSec > 0 {
		said += fmt.Sprintf(", short by %d min", c.ShortSec/60)
	}
	return said + ". " + c.Cause.Text
}

func chanceWords(k forecast.Chance) string {
	if k.Ready == nil {
		return fmt.Sprintf("not inspected: %d to %d min of work, no chance", k.NeedLowSec/60, k.NeedHighSec/60)
	}
	return ofTen(*k.Ready)
}

func ofTen(n int) string {
	switch n {
	case 0:
		return "under 1 of 10"
	case 10:
		return "over 9 of 10"
	}
	return fmt.Sprintf("%d of 10", n)
}

func postponeWords(k forecast.Postpone) string {
	switch {
	case k.Granted != 0:
		return "postponed at " + k.Granted.Time().Format("15:04")
	case k.May:
		return fmt.Sprintf("a postponement of %d min may be asked for", k.Sec/60)
	}
	return "no postponement: " + k.Why
}

func (p *pit) remedyWords(list forecast.LeaveOff) []string {
	var said []string
	for _, x := range list.List {
		words := fmt.Sprintf("%s, then %s", ofTen(list.Ready), ofTen(x.Then))
		for _, o := range x.Others {
			words += fmt.Sprintf("; %s %s, then %s", p.s.Robots[o.Robot].Name, ofTen(o.Ready), ofTen(o.Then))
		}
		said = append(said, fmt.Sprintf("%d. %s: %s", x.Rank, x.Text, words))
	}
	return said
}
