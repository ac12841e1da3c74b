package debrief_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/debrief"
)

func TestAJournalOutOfOrderOrWithAFaultIsNotRead(t *testing.T) {
	p, _, _ := brokenFrame(t)
	_, err := debrief.Read(linesOf(append(p.lines[:5:5], p.lines[3:]...)))
	require.ErrorContains(t, err, "revision 4 comes after 5")
	_, err = debrief.Read(linesOf([][]byte{[]byte("{")}))
	require.ErrorContains(t, err, "read journal")
	_, err = debrief.Read(func(yield func([]byte, error) bool) { yield(nil, errors.New("disk")) })
	require.ErrorContains(t, err, "disk")
}

// What a damaged file lost of its journal takes no more than itself out of the account.
func TestAJournalThatLostALineIsReadAllTheSame(t *testing.T) {
	p, _, _ := brokenFrame(t)
	whole, err := debrief.Read(linesOf(p.lines))
	require.NoError(t, err)
	rest, err := debrief.Read(linesOf(append(p.lines[:3:3], p.lines[4:]...)))
	require.NoError(t, err)
	require.Equal(t, whole.Lines-1, rest.Lines)
	require.Equal(t, whole.To, rest.To)
}

// twentyThousand is a journal of 20,000 lines of work and damage, constructed by us.
func twentyThousand(b *testing.B) [][]byte {
	p, f, rails := brokenFrame(b)
	mend := Fix{Name: "mend", Way: WayMend, LikelySec: 600, BadSec: 1800, Hands: []Skill{SkillAny}, Station: StationBench}
	for len(p.lines) < 2000 {
		d := p.damage(DamageFields{OnPart: rails[len(p.lines)%4], Grade: G3, Fight: f, Hit: len(p.lines) % 9})
		p.works(p.job("mend", mend, d), 5)
	}
	for len(p.lines) < 20000 {
		p.do(p.Ben, StockCount{Stock: p.Blade, Count: 3 + len(p.lines)%9})
	}
	return p.lines
}

func BenchmarkTheDebriefOfTwentyThousandLines(b *testing.B) {
	lines := twentyThousand(b)
	b.ReportAllocs()
	for b.Loop() {
		rec, err := debrief.Read(linesOf(lines))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := rec.Account(debrief.Usual()); err != nil {
			b.Fatal(err)
		}
	}
}
