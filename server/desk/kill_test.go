package desk

import (
	"bufio"
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

const childEnv = "MENDLINE_DESK_CHILD"

// TestMain lets the test binary be the child that is killed: the variable holds
// the path of its board.
func TestMain(m *testing.M) {
	if path := os.Getenv(childEnv); path != "" {
		child(path)
	}
	os.Exit(m.Run())
}

// orphan stands in for a test in the child: a failure ends the process.
type orphan struct{ testing.TB }

func (orphan) Helper()                       {}
func (orphan) Errorf(text string, of ...any) { fmt.Fprintf(os.Stderr, text, of...) }
func (orphan) Fatalf(text string, of ...any) { fmt.Fprintf(os.Stderr, text, of...); os.Exit(3) }
func (orphan) FailNow()                      { os.Exit(3) }

// child runs a desk under load until it is killed. It says what it sends and
// what is acknowledged, a line each.
func child(path string) {
	d, err := New(Options{Path: path, Store: store.Options{FreeBytesLeast: -1}})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	go d.Run(context.Background())
	p := &pit{t: orphan{}, d: d}
	p.report()
	p.find()
	p.open()
	job := p.jobAgain()
	for n := range 3 {
		go p.load(rand.New(rand.NewPCG(uint64(os.Getpid()), uint64(n))))
	}
	p.onAndOff(job)
}

// line is one line of the child's output.
type line struct {
	Sent  *Request
	Acked *board.CommandID
	Rev   board.Rev
}

func (p *pit) report() {
	var mu sync.Mutex
	say := func(l line) {
		b, err := json.Marshal(l)
		require.NoError(p.t, err)
		mu.Lock()
		defer mu.Unlock()
		fmt.Printf("%s\n", b)
	}
	p.sent = func(r Request) { say(line{Sent: &r}) }
	p.got = func(r Request, a Answer) {
		if a.Refusal == nil {
			say(line{Acked: &r.ID, Rev: a.Rev})
		}
	}
}

// find learns who and what is on a board that was filled before.
func (p *pit) find() {
	s := p.state()
	for id, n := range s.People {
		switch n.Name {
		case "Ada":
			p.ada = id
		case "Ben":
			p.ben = id
		}
	}
	for id, n := range s.Places {
		switch n.Kind {
		case board.PlaceBench:
			p.bench = id
		case board.PlaceStore, board.PlaceWatch:
			p.away = id
		}
	}
	for id := range s.Robots {
		p.moth = id
	}
	for id := range s.Stocks {
		p.blade = id
	}
	for id := range s.Packs {
		p.pack = id
	}
}

// jobAgain resumes the job, or adds and starts it.
func (p *pit) jobAgain() board.JobID {
	for id, j := range p.state().Jobs {
		if j.State == board.JobOpen {
			p.ok(p.asBen(), board.JobStart{Job: id})
			return id
		}
		if j.State == board.JobHeld {
			p.ok(p.asBen(), board.JobResume{Job: id})
			return id
		}
	}
	return p.running()
}

// load sends commands for ever, of which some are refused.
func (p *pit) load(rng *rand.Rand) {
	for {
		switch rng.IntN(4) {
		case 0:
			p.do(p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: rng.IntN(5)}))
		case 1:
			p.do(p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1}))
		case 2:
			p.do(p.request(p.asBen(), board.PackMove{Pack: p.pack, Place: []board.PlaceID{p.bench, p.away}[rng.IntN(2)]}))
		case 3:
			p.do(p.request(p.asAda(), board.HandsOn{Robot: p.moth}))
		}
	}
}

// onAndOff takes Ben's tag off, which holds the job, puts it on again and
// resumes; most of the time it is on.
func (p *pit) onAndOff(job board.JobID) {
	for {
		for range 20 {
			p.do(p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 4}))
		}
		tag, _ := p.tag()
		r := p.request(p.asBen(), board.TagOff{Tag: tag})
		r.Seen = p.seen(board.KeyOf(board.KindTag, tag))
		p.do(r)
		p.ok(p.asBen(), board.TagOn{Robot: p.moth})
		p.ok(p.asBen(), board.JobResume{Job: job})
	}
}

// ledger is what the children said, and what the board was when one died.
type ledger struct {
	t     *testing.T
	path  string
	sent  map[board.CommandID]Request
	acked map[board.CommandID]board.Rev
	fresh []board.CommandID // acknowledged since the last look
	open  []Request         // sent and not acknowledged since the last look
	state board.State
	rev   board.Rev
	lines map[string]board.Rev // journal: rev by command id

	running, tagged int // kills that met a running job, a tag
}

func TestNothingAcknowledgedIsLostWhenTheServerIsKilled(t *testing.T) {
	t.Parallel()
	kills := 10
	if text := os.Getenv("MENDLINE_KILLS"); text != "" {
		var err error
		kills, err = strconv.Atoi(text)
		require.NoError(t, err, "MENDLINE_KILLS")
	}
	rng := rand.New(rand.NewPCG(11, 12))
	acked, running, tagged := 0, 0, 0
	for left := kills; left > 0; left -= killsOfABoard {
		l := &ledger{
			t: t, path: filepath.Join(t.TempDir(), "board.db"), sent: map[board.CommandID]Request{},
			acked: map[board.CommandID]board.Rev{}, lines: map[string]board.Rev{},
		}
		newPit(t, Options{Path: l.path}).stop()
		for range min(left, killsOfABoard) {
			l.kill(1 + rng.IntN(60))
			l.look()
		}
		for id, rev := range l.acked {
			require.Equal(t, rev, l.lines[id.String()])
		}
		acked, running, tagged = acked+len(l.acked), running+l.running, tagged+l.tagged
	}
	require.Greater(t, running, kills/4, "the kills must meet running jobs")
	require.Greater(t, tagged, kills/4, "and tags")
	t.Logf("%d kills, %d acknowledged, %d with a job running, %d with a tag on", kills, acked, running, tagged)
}

// killsOfABoard is how often one file is killed before the next begins.
const killsOfABoard = 25

// kill runs a child and kills it when it has acknowledged so many commands.
func (l *ledger) kill(acks int) {
	l.t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childEnv+"="+l.path)
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.StdoutPipe()
	require.NoError(l.t, err)
	require.NoError(l.t, cmd.Start())
	sent := map[board.CommandID]Request{}
	l.fresh, l.open = nil, nil
	lines := bufio.NewScanner(out)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var said line
		if json.Unmarshal(lines.Bytes(), &said) != nil {
			continue // cut short by the kill
		}
		if said.Sent != nil {
			sent[said.Sent.ID] = *said.Sent
			continue
		}
		l.sent[*said.Acked] = sent[*said.Acked]
		delete(sent, *said.Acked)
		l.acked[*said.Acked] = said.Rev
		l.fresh = append(l.fresh, *said.Acked)
		if acks--; acks == 0 {
			require.NoError(l.t, cmd.Process.Kill())
		}
	}
	require.ErrorContains(l.t, cmd.Wait(), "killed", complaint.String())
	for _, r := range sent {
		l.open = append(l.open, r)
	}
}

// look starts a desk on what the kill left, and compares.
func (l *ledger) look() {
	l.t.Helper()
	p := served(l.t, Options{Path: l.path})
	require.Empty(l.t, p.d.Store().Report().Faults)
	before := l.fold(p)
	after := p.state()
	for _, power := range after.Powers {
		require.Equal(l.t, board.Unknown, power.State)
	}
	require.Equal(l.t, maps.Collect(maps.All(before.Tags)), maps.Collect(maps.All(after.Tags)))
	require.Equal(l.t, maps.Collect(maps.All(before.Hands)), maps.Collect(maps.All(after.Hands)))
	for id, j := range before.Jobs {
		is := after.Jobs[id]
		if j.State != board.JobRunning {
			require.Equal(l.t, j, is)
			continue
		}
		l.running++
		require.Equal(l.t, board.JobHeld, is.State)
		require.Equal(l.t, board.HoldLockout, is.HeldFor)
	}
	if len(before.Tags) > 0 {
		l.tagged++
	}
	for _, id := range l.fresh {
		require.Equal(l.t, l.acked[id], l.lines[id.String()], "acknowledged and not there")
	}
	l.resend(p)
	p.stop()
}

// fold reads the journal on from the last look: gapless, no id twice, the start
// last. It gives the state before the start.
func (l *ledger) fold(p *pit) board.State {
	l.t.Helper()
	lines := journal(l.t, p.d.Store(), uint64(l.rev))
	last := len(lines) - 1
	require.Equal(l.t, "board.start", lines[last].Do)
	for _, line := range lines[:last] {
		l.take(line)
	}
	before := l.state
	l.take(lines[last])
	return before
}

func (l *ledger) take(line board.JournalLine) {
	require.Equal(l.t, l.rev+1, line.Rev)
	require.Zero(l.t, l.lines[line.ID], "done twice")
	c := board.Change{Rev: line.Rev, Del: line.Del}
	for key, data := range line.Put {
		n, err := board.DecodeNoun(key, data)
		require.NoError(l.t, err)
		c.Put = append(c.Put, n)
	}
	l.state, l.rev, l.lines[line.ID] = l.state.With(c), line.Rev, line.Rev
}

// resend sends again what was acknowledged, which changes nothing, and what was
// not, which is done once by then or refused.
func (l *ledger) resend(p *pit) {
	l.t.Helper()
	rev := p.state().Rev
	for _, id := range l.fresh {
		require.Equal(l.t, l.acked[id], p.accepted(l.sent[id]).Rev)
	}
	require.Equal(l.t, rev, p.state().Rev)
	for _, r := range l.open {
		was, there := l.lines[r.ID.String()]
		if a := p.do(r); a.Refusal == nil {
			require.True(l.t, !there || was == a.Rev, "done twice")
			l.acked[r.ID], l.sent[r.ID] = a.Rev, r
		} else {
			require.False(l.t, there, "done and refused")
		}
	}
	for _, line := range journal(l.t, p.d.Store(), uint64(l.rev)) {
		l.take(line)
	}
}
