package plan

// Settings of the search.
const (
	samples     = 8   // sampled lists at the start
	patience    = 150 // iterations without a better schedule before a restart
	mostChanges = 6   // ways changed in one iteration, at most
	teamPercent = 30  // how often an iteration asks for another team
)

// search looks for a good candidate within a limit of start times given.
type search struct {
	m     *model
	d     *decoder
	list  *lister
	ways  *chooser
	r     rng
	limit int64
	pass  int64 // start times one forward pass can cost at most
	goal  Score // no schedule is better

	try  candidate // being decoded
	next candidate
	got  schedule // what try decodes to
	cur  candidate
	curS Score
	best candidate
	plan schedule // what best decodes to
}

func newSearch(m *model, budget Budget, seed uint64) *search {
	n := len(m.tasks)
	s := &search{
		m: m, d: newDecoder(m), list: newLister(m), ways: newChooser(m), r: rng{seed},
		limit: int64(budget) * int64(n), goal: m.goal(),
		try: newCandidate(n), next: newCandidate(n), got: newSchedule(n),
		cur: newCandidate(n), best: newCandidate(n), plan: newSchedule(n),
	}
	for i := range m.tasks {
		s.pass += int64(max(len(m.tasks[i].ways), 1))
	}
	return s
}

// run starts from the LFT list with all optional work and with none, goes on
// with sampled lists, and then changes the best list bit by bit until the
// limit or the goal is reached.
func (s *search) run() {
	s.firstPass()
	s.start(false)
	for range samples {
		s.start(true)
	}
	for fails := 0; s.goes(); fails++ {
		if fails >= patience {
			fails = 0
			s.restart()
		}
		if s.step() {
			fails = 0
		}
	}
}

// goes reports whether another forward pass is allowed and of use.
func (s *search) goes() bool {
	return s.d.starts+s.pass <= s.limit && s.plan.score.Compare(s.goal) != 0
}

func (s *search) firstPass() {
	s.list.latestFinish(s.try.list)
	s.ways.quickest(s.try.way, true, &s.r)
	s.forgetTeams()
	s.d.forward(&s.try, nil)
	s.got.copyFrom(&s.d.out)
	s.justify()
	s.adopt()
	s.best.copyFrom(&s.try)
	s.plan.copyFrom(&s.got)
}

// start tries a new beginning: the LFT list without optional work, or a
// sampled list with or without it.
func (s *search) start(sampled bool) {
	if !s.goes() {
		return
	}
	keep := false
	if sampled {
		s.list.sample(s.try.list, &s.r)
		keep = s.r.chance(50)
	} else {
		s.list.latestFinish(s.try.list)
	}
	s.ways.quickest(s.try.way, keep, &s.r)
	s.forgetTeams()
	s.decode()
	if s.got.score.Compare(s.curS) <= 0 {
		s.adopt()
	}
	s.remember()
}

// restart goes back to the best list or to a sampled one.
func (s *search) restart() {
	if s.r.chance(50) {
		s.cur.copyFrom(&s.best)
		s.curS = s.plan.score
		return
	}
	s.list.sample(s.cur.list, &s.r)
	copy(s.cur.way, s.best.way)
	s.curS = Score{Never: len(s.m.p.Groups) + 1}
}

// step changes the current list, ways and teams and keeps the result if it is
// not worse. It reports whether it is better.
func (s *search) step() bool {
	s.try.copyFrom(&s.cur)
	s.list.perturb(s.try.list, &s.r)
	s.ways.change(&s.try, mostChanges, &s.r)
	if s.r.chance(teamPercent) {
		s.ways.askTeam(&s.try, &s.r)
	}
	s.decode()
	c := s.got.score.Compare(s.curS)
	if c <= 0 {
		s.adopt()
	}
	s.remember()
	return c < 0
}

// decode turns try into got and justifies it.
func (s *search) decode() {
	s.d.forward(&s.try, &s.r)
	s.got.copyFrom(&s.d.out)
	copy(s.try.way, s.got.way)
	s.justify()
}

// justify moves got to the right and decodes it forward again; try and got
// become the result if it is not worse.
func (s *search) justify() {
	if s.d.starts+int64(len(s.try.list))+s.pass > s.limit {
		return
	}
	s.d.justifyRight(s.try.list)
	copy(s.next.list, s.try.list)
	s.list.byStart(s.next.list, s.d.out.startSec)
	copy(s.next.way, s.d.out.way)
	for i, team := range s.d.out.team {
		s.next.team[i] = team
		if s.m.tasks[i].assigned {
			s.next.team[i] = -1
		}
	}
	s.d.forward(&s.next, &s.r)
	if s.d.out.score.Compare(s.got.score) <= 0 {
		s.got.copyFrom(&s.d.out)
		s.try.copyFrom(&s.next)
		copy(s.try.way, s.got.way)
	}
}

func (s *search) adopt() {
	s.cur.copyFrom(&s.try)
	s.curS = s.got.score
}

func (s *search) remember() {
	if s.got.score.Compare(s.plan.score) < 0 {
		s.best.copyFrom(&s.try)
		s.plan.copyFrom(&s.got)
	}
}

func (s *search) forgetTeams() {
	for i := range s.try.team {
		s.try.team[i] = -1
	}
}
