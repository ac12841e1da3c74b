package partmap_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/partmap"
)

// A beetle in small, constructed by us: a motor under the top cover or behind the
// left rail; the battery under the top cover; the rails behind the wheels.
var beetle = partmap.Map{
	Parts: []partmap.Part{
		{Cost: 60},                           // 0 top cover
		{Cost: 30},                           // 1 wheel, left
		{Cost: 90, First: [][]int{{1}}},      // 2 rail, left
		{Cost: 50, First: [][]int{{2}, {0}}}, // 3 motor
		{Cost: 10, First: [][]int{{0}}},      // 4 battery
		{Cost: 20, First: [][]int{{3, 4}}},   // 5 bottom plate
	},
	Joints: []partmap.Joint{{Parts: []int{0, 2}, Cost: 40}, {Parts: []int{1, 2}, Cost: 5}},
}

func TestTheCheapestWayIsTaken(t *testing.T) {
	for _, c := range []struct {
		name    string
		targets []int
		off     []int
		joints  []int
		cost    float64
	}{
		{"a part that lies bare", []int{1}, nil, nil, 0},
		{"the cheaper of two ways, its joint counted", []int{3}, []int{0}, []int{0}, 100},
		{"two jobs share the cover", []int{3, 4}, []int{0}, []int{0}, 100},
		{"a part on the way is taken off though it is a target", []int{4, 5}, []int{0, 3, 4}, []int{0}, 160},
		{"behind the wheel", []int{2}, []int{1}, []int{1}, 35},
		{"nothing to reach", nil, nil, nil, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			w, ok := beetle.Reach(c.targets, 1000)
			require.True(t, ok)
			require.True(t, w.Exact)
			require.Equal(t, c.off, w.Off)
			require.Equal(t, c.joints, w.Joints)
			require.InDelta(t, c.cost, w.Cost, 1e-9)
		})
	}
}

func TestASharedWayCanBeCheaperThanTheTwoCheapest(t *testing.T) {
	m := partmap.Map{Parts: []partmap.Part{
		{Cost: 10}, {Cost: 10}, {Cost: 15},
		{First: [][]int{{0}, {2}}}, {First: [][]int{{1}, {2}}},
	}}
	for _, target := range []int{3, 4} {
		w, _ := m.Reach([]int{target}, 1000)
		require.InDelta(t, 10, w.Cost, 1e-9)
	}
	w, ok := m.Reach([]int{3, 4}, 1000)
	require.True(t, ok)
	require.Equal(t, []int{2}, w.Off)
	require.InDelta(t, 15, w.Cost, 1e-9)
}

func TestPartsThatWaitForThemselvesAreFound(t *testing.T) {
	for name, c := range map[string]struct {
		parts []partmap.Part
		never []int
	}{
		"none":                       {beetle.Parts, nil},
		"two that wait for another":  {[]partmap.Part{{First: [][]int{{1}}}, {First: [][]int{{0}}}, {}}, []int{0, 1}},
		"one behind a ring":          {[]partmap.Part{{First: [][]int{{1}}}, {First: [][]int{{0}}}, {First: [][]int{{0}}}}, []int{0, 1, 2}},
		"a ring with a way out":      {[]partmap.Part{{First: [][]int{{1}, {2}}}, {First: [][]int{{0}}}, {}}, nil},
		"a pile open at both ends":   {[]partmap.Part{{}, {First: [][]int{{0}, {2}}}, {First: [][]int{{1}, {3}}}, {}}, nil},
		"a part that waits for both": {[]partmap.Part{{}, {First: [][]int{{0, 1}}}}, []int{1}},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.never, partmap.Map{Parts: c.parts}.CannotComeOff())
		})
	}
}

// drawMap makes a small map, rings and all.
func drawMap(t *rapid.T) partmap.Map {
	var m partmap.Map
	n := rapid.IntRange(1, 8).Draw(t, "parts")
	some := rapid.SliceOfNDistinct(rapid.IntRange(0, n-1), 1, 2, rapid.ID[int])
	for range n {
		m.Parts = append(m.Parts, partmap.Part{
			Cost:  float64(rapid.IntRange(0, 9).Draw(t, "cost")),
			First: rapid.SliceOfN(some, 0, 3).Draw(t, "first"),
		})
	}
	for range rapid.IntRange(0, 4).Draw(t, "joints") {
		m.Joints = append(m.Joints, partmap.Joint{Parts: some.Draw(t, "joined"), Cost: float64(rapid.IntRange(0, 9).Draw(t, "undo"))})
	}
	return m
}

// leastCost tries every set of parts there is.
func leastCost(m partmap.Map, targets []int) float64 {
	least := math.Inf(1)
	for set := range 1 << len(m.Parts) {
		off := 0
		for more := true; more; {
			more = false
			for i := range m.Parts {
				if set>>i&1 == 1 && off>>i&1 == 0 && lies(m.Parts[i], off) {
					off |= 1 << i
					more = true
				}
			}
		}
		if off != set || slices.ContainsFunc(targets, func(i int) bool { return !lies(m.Parts[i], off) }) {
			continue
		}
		cost := 0.0
		for i, p := range m.Parts {
			cost += p.Cost * float64(set>>i&1)
		}
		for _, j := range m.Joints {
			if slices.ContainsFunc(j.Parts, func(i int) bool { return set>>i&1 == 1 }) {
				cost += j.Cost
			}
		}
		least = min(least, cost)
	}
	return least
}

func lies(p partmap.Part, off int) bool {
	if len(p.First) == 0 {
		return true
	}
	for _, set := range p.First {
		mask := 0
		for _, i := range set {
			mask |= 1 << i
		}
		if off&mask == mask {
			return true
		}
	}
	return false
}

func TestNoSetOfPartsIsCheaperThanTheWayFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMap(t)
		targets := rapid.SliceOfNDistinct(rapid.IntRange(0, len(m.Parts)-1), 0, 3, rapid.ID[int]).Draw(t, "targets")
		w, ok := m.Reach(targets, 1_000_000)
		least := leastCost(m, targets)
		require.Equal(t, !math.IsInf(least, 1), ok)
		if ok {
			require.True(t, w.Exact)
			require.InDelta(t, least, w.Cost, 1e-9)
		}
	})
}

func TestAWayIsFoundOnAnyBudgetAndSaidToBeInexact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMap(t)
		targets := []int{rapid.IntRange(0, len(m.Parts)-1).Draw(t, "target")}
		full, reached := m.Reach(targets, 1_000_000)
		w, ok := m.Reach(targets, rapid.IntRange(1, 4).Draw(t, "budget"))
		require.Equal(t, reached, ok)
		require.GreaterOrEqual(t, w.Cost, full.Cost-1e-9)
		if w.Exact {
			require.InDelta(t, full.Cost, w.Cost, 1e-9)
		}
		off := 0
		for _, i := range w.Off {
			require.True(t, lies(m.Parts[i], off), "%d comes off too early in %v", i, w.Off)
			off |= 1 << i
		}
		require.True(t, !ok || lies(m.Parts[targets[0]], off))
	})
}

func BenchmarkReachInARobotOf80Parts(b *testing.B) {
	m := partmap.Map{}
	for i := range 80 {
		p := partmap.Part{Cost: float64(1 + i*7%13)}
		if i >= 10 {
			p.First = [][]int{{i - 10}, {(i - 7) % i, (i - 3) % i}}
		}
		m.Parts = append(m.Parts, p)
		if i > 0 {
			m.Joints = append(m.Joints, partmap.Joint{Parts: []int{i - 1, i}, Cost: float64(i % 5)})
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := m.Reach([]int{79, 55, 31}, 20000); !ok {
			b.Fatal("no way")
		}
	}
}
