package plan

import "mendline/board/random"

// Island returns the seed of an island: a search of its own for the same
// problem. The package starts no goroutines: a caller with several cores solves
// with Island(seed, 0), Island(seed, 1) and so on at once, and takes the [Best]
// of the plans in that order. The answer is then the same on any number of
// cores. Island 0 is seed itself.
func Island(seed uint64, island int) uint64 {
	if island == 0 {
		return seed
	}
	r := random.Source(seed ^ uint64(island)*0xd1342543de82ef95)
	return r.Next()
}

// Best returns the plan with the best score, the first of equals. With a plan
// that people follow, one that is not noticeably better than the first that
// keeps to it does not win. It panics without plans.
func Best(plans ...Plan) Plan {
	best := plans[0]
	for _, p := range plans[1:] {
		if p.Score.Compare(best.Score) < 0 && (!best.Held || p.Score.Noticeably(best.Score)) {
			best = p
		}
	}
	return best
}
