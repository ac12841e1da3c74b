package plan

import (
	"math"

	"mendline/board/random"
)

// Settings of the search. They were chosen on generated projects and days;
// halving or doubling one changes little.
const (
	mostChanges    = 6     // ways changed in one iteration, at most
	teamPercent    = 30    // how often an iteration asks for another team
	forgetOften    = 50    // how often, in percent, it lets teams be chosen again
	slackMilli     = 3_000 // over the tasks: a schedule so much worse than the current one is still justified
	mostSlackMilli = 100
	fewestFails    = 150
	failsPerTask   = 12    // iterations without a better schedule before a restart, at least fewestFails
	hopeless       = 3_000 // schedules without a better one after which the search stops
)

// search looks for a good schedule within a limit of start times given. A
// population of schedules is bred first; then the best is changed bit by bit.
type search struct {
	m     *model
	d     *decoder
	list  *lister
	ways  *chooser
	r     random.Source
	limit int64
	pass  int64 // start times one forward pass can cost at most
	goal  Score // no schedule is better
	found int64 // start times given when the best schedule was found

	try      candidate // being decoded
	got      schedule  // what try decodes to, with the list it was built in
	gotList  []int32
	cur      schedule // being changed, with the list it is built in
	curList  []int32
	best     schedule
	bestList []int32
	held     schedule // what people follow, with new times
	kept     bool     // best is held
	others   runnersUp
	breed    breed
}

func newSearch(m *model, budget Budget, seed uint64) *search {
	n := len(m.tasks)
	s := &search{
		m: m, d: newDecoder(m), list: newLister(m), ways: newChooser(m), r: random.Source(seed),
		limit: int64(budget) * int64(n), goal: m.goal(),
		try: newCandidate(n), got: newSchedule(n),
		cur: newSchedule(n), curList: make([]int32, n), gotList: make([]int32, n), bestList: make([]int32, n), best: newSchedule(n), held: newSchedule(n),
	}
	for i := range m.tasks {
		s.pass += int64(max(len(m.tasks[i].ways), 1))
	}
	s.breed = newBreed(s, int(0.45*math.Sqrt(float64(budget))))
	return s
}

// run begins with the LFT list with all optional work and with none.
func (s *search) run() {
	if s.m.follows {
		s.hold()
	}
	s.firstPass()
	s.withoutOptional()
	s.breed.run(s.breedUntil())
	s.cur.copyFrom(&s.best)
	copy(s.curList, s.bestList)
	for fails := 0; s.goes(); fails++ {
		if fails >= max(fewestFails, failsPerTask*len(s.m.tasks)) {
			fails = 0
			s.restart()
		}
		if s.step() {
			fails = 0
		}
	}
	s.keepFollowed()
}

// breedUntil returns the start times that breeding may use: the more work a
// pass is and the larger the budget, the more, but not the better half.
func (s *search) breedUntil() int64 {
	share := math.Sqrt(15 * float64(s.pass) * float64(s.limit) * float64(len(s.m.tasks)))
	return min(int64(share), s.limit*6/10)
}

// goes reports whether another forward pass is allowed and of use.
func (s *search) goes() bool {
	n := int64(len(s.m.tasks))
	return s.d.starts+s.pass <= s.limit && s.d.starts-s.found < max(hopeless*n, s.limit/2) &&
		s.best.score.Compare(s.goal) != 0
}

func (s *search) firstPass() {
	s.list.latestFinish(s.try.list)
	s.ways.quickest(s.try.way, true, &s.r)
	s.forgetTeams()
	s.d.forward(&s.try, nil)
	s.take()
	if !s.m.follows {
		s.best.copyFrom(&s.got)
		copy(s.bestList, s.gotList)
	}
	s.justify()
	s.remember()
	s.adopt()
}

func (s *search) withoutOptional() {
	if !s.goes() || !s.m.optional {
		return
	}
	s.list.latestFinish(s.try.list)
	s.ways.quickest(s.try.way, false, &s.r)
	s.forgetTeams()
	s.decode()
}

// restart goes back to the best schedule or to a sampled one.
func (s *search) restart() {
	if s.r.Chance(50) {
		s.cur.copyFrom(&s.best)
		copy(s.curList, s.bestList)
		return
	}
	s.list.sample(s.try.list, &s.r)
	s.takeUp(&s.best)
	s.forgetTeams()
	s.ways.scatter(s.try.way, &s.r)
	s.decode()
	s.adopt()
}

// step changes the order, ways and teams of the current schedule and keeps the
// result if it is not worse. What stands before the first change is not
// decoded again. It reports whether the result is better.
func (s *search) step() bool {
	copy(s.try.list, s.curList)
	s.takeUp(&s.cur)
	s.list.perturb(s.try.list, &s.r)
	s.ways.change(&s.try, mostChanges, &s.r)
	s.varyTeams()
	keep := s.unchanged()
	if keep == len(s.try.list) {
		return false
	}
	limit := s.cur.score
	slack := min(slackMilli/int64(len(s.try.list)), mostSlackMilli)
	limit.LateSec += limit.LateSec * slack / 1000
	limit.ReadySec += limit.ReadySec * slack / 1000
	if !s.d.forwardFrom(&s.try, &s.cur, keep, &limit, &s.r) {
		return false
	}
	s.take()
	s.justify()
	s.remember()
	c := s.got.score.Compare(s.cur.score)
	if c <= 0 {
		s.adopt()
	}
	return c < 0
}

// takeUp makes the ways and teams of p those of try.
func (s *search) takeUp(p *schedule) {
	copy(s.try.team, p.team)
	for i, w := range p.way {
		s.try.way[i] = s.m.tasks[i].resume(w, &s.r)
	}
}

// resume returns way w, or a random one where a must was given up or work was
// not called for.
func (t *task) resume(w int16, r *random.Source) int16 {
	if (w == blocked || w == idle) && len(t.ways) > 0 {
		return int16(r.Below(len(t.ways)))
	}
	return w
}

func (s *search) varyTeams() {
	if !s.m.crowd {
		return
	}
	if s.r.Chance(forgetOften) {
		s.forgetTeams()
	}
	if s.r.Chance(teamPercent) {
		s.ways.askTeam(&s.try, &s.r)
	}
}

// unchanged returns how many tasks at the head of try are as in cur.
func (s *search) unchanged() int {
	for k, i := range s.try.list {
		if i != s.curList[k] || s.try.way[i] != s.cur.way[i] && s.cur.way[i] != idle {
			return k
		}
		if team := s.try.team[i]; team >= 0 && team != s.cur.team[i] {
			return k
		}
	}
	return len(s.try.list)
}

// decode turns try into got and justifies it.
func (s *search) decode() {
	s.d.forward(&s.try, &s.r)
	s.take()
	s.justify()
	s.remember()
}

// justify moves got to the right and decodes it forward again; got becomes the
// result if it is not worse. It needs the decoder as got left it.
func (s *search) justify() {
	if s.d.starts+int64(len(s.try.list))+s.pass > s.limit {
		return
	}
	s.d.justifyRight(s.try.list)
	s.list.byStart(s.try.list, s.d.out.startSec)
	s.takeUp(&s.d.out)
	s.keepAssigned()
	s.ways.repair(s.try.way, &s.r)
	if s.d.forwardFrom(&s.try, nil, 0, &s.got.score, &s.r) && s.d.out.score.Compare(s.got.score) <= 0 {
		s.take()
	}
}

// take makes what try was decoded to got.
func (s *search) take() {
	s.got.copyFrom(&s.d.out)
	copy(s.gotList, s.try.list)
}

// adopt makes got the current schedule.
func (s *search) adopt() {
	s.cur.copyFrom(&s.got)
	copy(s.curList, s.gotList)
}

func (s *search) remember() {
	s.others.offer(&s.got)
	if s.got.score.Compare(s.best.score) < 0 {
		s.best.copyFrom(&s.got)
		copy(s.bestList, s.gotList)
		s.found = s.d.starts
	}
}

func (s *search) forgetTeams() {
	for i := range s.try.team {
		s.try.team[i] = -1
	}
}

// keepAssigned asks for no team where a human named people: their order of
// preference stands.
func (s *search) keepAssigned() {
	for i := range s.try.team {
		if s.m.tasks[i].assigned {
			s.try.team[i] = -1
		}
	}
}
