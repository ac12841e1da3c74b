package plan

import (
	"math/bits"
	"slices"
)

// teamsMost bounds the teams written out for one way. Up to 15 people, or up to
// 3 hands among 32, every team fits; beyond it each person still leads some.
const teamsMost = 8192

// crew forms teams from people.
type crew struct {
	people   []Person
	scarcity []int64 // of each person: how much the problem asks for what they can do
}

func newCrew(p *Problem) *crew {
	var demand, supply [64]int64
	for i := range p.Tasks {
		w := &p.Tasks[i].Ways[0]
		for _, skills := range w.Team {
			eachSkill(skills, func(s int) { demand[s] += int64(capSec(w.DurationSec)) })
		}
	}
	for _, who := range p.People {
		eachSkill(who.Skills, func(s int) { supply[s]++ })
	}
	c := &crew{people: p.People, scarcity: make([]int64, len(p.People))}
	for i, who := range p.People {
		eachSkill(who.Skills, func(s int) { c.scarcity[i] += demand[s] / supply[s] })
	}
	return c
}

func eachSkill(set SkillSet, do func(skill int)) {
	for s := uint64(set); s != 0; s &= s - 1 {
		do(bits.TrailingZeros64(s))
	}
}

// able returns the people who have all of skills.
func (c *crew) able(skills SkillSet) uint64 {
	var mask uint64
	for i, who := range c.people {
		if who.Skills&skills == skills {
			mask |= 1 << i
		}
	}
	return mask
}

// teams returns the teams for hands, best first: those with most of assigned,
// then those whose skills are least asked for elsewhere. Where some hold all
// of assigned (or, if more are assigned than there are hands, nobody else),
// only those are returned. No hands give one empty team; hands that nobody can
// fill give none.
func (c *crew) teams(hands []SkillSet, assigned []int) []uint64 {
	var named uint64
	for _, a := range assigned {
		named |= 1 << a
	}
	if named != 0 && len(hands) > 0 {
		if teams := c.formed(hands, named); len(teams) > 0 {
			return c.ranked(teams, named)
		}
	}
	return c.ranked(c.formed(hands, 0), named)
}

// formed returns the sets of people who can fill hands; with named those that
// hold all of named or are held by it.
func (c *crew) formed(hands []SkillSet, named uint64) []uint64 {
	hands = slices.Clone(hands)
	slices.Sort(hands)
	if bits.OnesCount64(named) >= len(hands) && named != 0 {
		return c.filled(hands, named, 0)
	}
	return c.filled(hands, ^uint64(0), named)
}

// filled returns the sets of people within among that fill hands and hold all
// of required. Equal hands are neighbours and are filled in rising order, so
// that no set comes up more often than it must.
func (c *crew) filled(hands []SkillSet, among, required uint64) []uint64 {
	able := make([]uint64, len(hands))
	for h, skills := range hands {
		able[h] = c.able(skills) & among
	}
	seen := map[uint64]bool{}
	var out []uint64
	var fill func(h, above int, team uint64, quota int)
	fill = func(h, above int, team uint64, quota int) {
		if len(out) >= quota || bits.OnesCount64(required&^team) > len(hands)-h {
			return
		}
		if h == len(hands) {
			if !seen[team] {
				seen[team] = true
				out = append(out, team)
			}
			return
		}
		for left := able[h] &^ team; left != 0; left &= left - 1 {
			person := bits.TrailingZeros64(left)
			if h > 0 && hands[h] == hands[h-1] && person < above {
				continue
			}
			share := quota
			if h == 0 {
				share = len(out) + max(teamsMost/bits.OnesCount64(able[0]), 1)
			}
			fill(h+1, person, team|1<<person, share)
		}
	}
	fill(0, 0, 0, teamsMost)
	return out
}

func (c *crew) ranked(teams []uint64, named uint64) []uint64 {
	cost := func(team uint64) (sum int64) {
		for ; team != 0; team &= team - 1 {
			sum += c.scarcity[bits.TrailingZeros64(team)]
		}
		return sum
	}
	slices.SortFunc(teams, func(a, b uint64) int {
		if d := bits.OnesCount64(b&named) - bits.OnesCount64(a&named); d != 0 {
			return d
		}
		if ca, cb := cost(a), cost(b); ca != cb {
			if ca < cb {
				return -1
			}
			return 1
		}
		if a < b {
			return -1
		}
		return 1
	})
	return teams
}

// seats puts the people of a team, which can fill hands, on them: seats[h] is
// on hand h.
func (c *crew) seats(hands []SkillSet, team uint64) []int {
	out := make([]int, len(hands))
	var seat func(h int, left uint64) bool
	seat = func(h int, left uint64) bool {
		if h == len(hands) {
			return true
		}
		for free := left & c.able(hands[h]); free != 0; free &= free - 1 {
			out[h] = bits.TrailingZeros64(free)
			if seat(h+1, left&^(1<<out[h])) {
				return true
			}
		}
		return false
	}
	seat(0, team)
	return out
}
