package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/cmd/mendline/demo"
	"mendline/frontend"
	"mendline/frontend/browsertest"
)

// testCodes are the join codes of boards under test.
var testCodes = map[board.Role]string{
	board.RoleCaptain: "CAPTAIN1", board.RoleCrew: "CREWCODE", board.RoleSafety: "SAFETY11", board.RoleViewer: "VIEWER11",
}

// served is the whole program serving a board, in this process.
type served struct {
	*host
	url  string
	stop func()
	// skipped is how far the board's time runs ahead of the machine's, joined the pages
	// whose time runs with it.
	skipped *atomic.Int64
	joined  []*device
}

// rests lets the time pass that what a line is about takes to come to rest, on the board
// and on every page; the pages that show the line count it down.
func (s *served) rests(robot board.RobotID, l board.Line, showing ...*device) {
	wait := s.desk.View().State.RestsAt(robot, l).Sub(s.desk.Now())
	if wait <= 0 {
		return
	}
	for _, d := range showing {
		d.waits(`!!document.querySelector(".resting")`, "the time that it takes")
	}
	s.skipped.Add(int64(wait))
	for _, d := range s.joined { // a page whose day jumps asks the board for the time
		d.runs(fmt.Sprintf(`{ const today = Date.now; Date.now = () => today() + %d; }`, wait.Milliseconds()))
	}
	for _, d := range s.joined {
		d.waits(`!document.querySelector(".resting, pit-age[data-old]")`, "the page's time with the board's")
	}
}

// serveTeam serves the demo's team on a board where its day has not begun.
func serveTeam(t testing.TB) *served {
	t.Helper()
	dir := t.TempDir() + "/team"
	require.NoError(t, demo.WriteTo(dir))
	return serveBoard(t, settings{team: dir, now: time.Now}, nil)
}

// serveDemo serves the demo's team in the middle of its day.
func serveDemo(t testing.TB) *served {
	t.Helper()
	day, err := newPlay(time.Now())
	require.NoError(t, err)
	return serveBoard(t, settings{now: day.now}, day)
}

// serveSources serves the demo's board with each module as it was written, so that a test
// reaches the one that the page has.
func serveSources(t testing.TB) *served {
	t.Helper()
	day, err := newPlay(time.Now())
	require.NoError(t, err)
	return serveBoard(t, settings{now: day.now, pages: asWritten}, day)
}

// pages are what browsers get, made once for all tests.
var pages = sync.OnceValues(frontend.Bundled)

func asWritten() (map[string][]byte, error) {
	files := map[string][]byte{}
	return files, fs.WalkDir(frontend.Files, ".", func(name string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			files[name], err = frontend.Files.ReadFile(name)
		}
		return err
	})
}

// restarts serves the same data at the same address, after stop.
func (s *served) restarts(t testing.TB) *served {
	t.Helper()
	again := s.settings
	again.addr = s.listener.Addr().String()
	return serveBoard(t, again, nil)
}

func serveBoard(t testing.TB, s settings, day *play) *served {
	t.Helper()
	skipped, machine := new(atomic.Int64), s.now
	s.now = func() time.Time { return machine().Add(time.Duration(skipped.Load())) }
	s.hosts, s.codes = []string{browsertest.PitName}, testCodes
	if s.pages == nil {
		s.pages = pages
	}
	if s.addr == "" {
		s.addr, s.data = "127.0.0.1:0", dataDir(t.TempDir())
	}
	var out, log bytes.Buffer
	h, err := open(terminal{out: &out, err: &log}, s)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	ready, ended := make(chan struct{}), make(chan error, 1)
	go func() { // ended by cancel, waited for by stop
		ended <- h.run(ctx, func(ctx context.Context) error {
			defer close(ready)
			if day != nil {
				return day.play(ctx, h.desk)
			}
			return s.loadTeam(ctx, terminal{out: &out, err: &log}, h.desk)
		})
	}()
	<-ready
	stop := sync.OnceFunc(func() {
		cancel()
		assert.NoError(t, <-ended)
		assert.NotContains(t, log.String(), `"level":"ERROR"`)
	})
	t.Cleanup(stop)
	_, port, _ := strings.Cut(h.listener.Addr().String(), ":")
	return &served{host: h, url: "http://" + browsertest.PitName + ":" + port, stop: stop, skipped: skipped}
}

// joins takes a device through the join page as a person.
func (s *served) joins(d *device, role board.Role, name string) {
	d.t.Helper()
	s.joined = append(s.joined, d)
	d.joins(s.url, role, name)
}

func (d *device) joins(url string, role board.Role, name string) {
	d.t.Helper()
	d.open(url + "/j#" + testCodes[role])
	if role == board.RoleViewer {
		d.press("show the board")
		d.seesNot("show the board")
		return
	}
	d.press(name)
	d.types("pin", "135790")
	d.press("join as " + name)
	d.seesNot("join the board")
}

func TestBrowserTwoPhonesAndAWallAgree(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	pia := newDevice(t, "pia", 390, 844, true)
	bram := newDevice(t, "bram", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(bram, board.RoleCrew, "Bramwell")

	// The sheet is walked line by line on one phone; the others follow.
	pia.press("open the sheet")
	s.walks(pia, "Nettlepip", board.ListMakeSafe)
	wall.sees("checked by Pia")

	// Pia puts her tag on; both others see it. The sheet that comes next is left.
	pia.waits(fmt.Sprintf(`document.querySelector(".sheet-title span")?.textContent === %q`, listTitles[board.ListInspect]), "the sheet that comes next")
	pia.press("my next move")
	pia.press("put my tag on")
	wall.sees("WORK")
	s.walks(pia, "Nettlepip", board.ListInspect)

	// Damage becomes a job.
	pia.open(s.url + "/#/damage/" + string(s.robot("Nettlepip").ID))
	pia.types("part", "Drum tooth")
	pia.press("what does it need")
	pia.press("mend or swap it before we fight")
	pia.press("report it")
	pia.press("make a job of it")
	pia.press("Re-solder connector")
	pia.sees("added: Re-solder connector")
	job := s.job("Re-solder connector")
	wall.sees(fmt.Sprint(job.Number))

	// It is started on one phone and seen on the other.
	pia.open(s.url + "/#/me/job/" + string(job.ID))
	pia.sees("Re-solder connector")
	pia.press("start")
	bram.open(s.url + "/#/me/job/" + string(job.ID))
	bram.sees("on it")

	// Offline the job is finished; nobody else can know yet.
	pia.sees("done")
	pia.offline(true)
	pia.press("done")
	pia.sees("not sent yet")
	require.Equal(t, board.JobRunning, s.job("Re-solder connector").State)
	pia.offline(false)
	bram.sees("closed")
	pia.seesNot("not sent yet")
	wall.seesNot("Re-solder")

	finished := 0
	lines, err := s.desk.Store().Journal(0, 500)
	require.NoError(t, err)
	for _, l := range lines {
		if strings.Contains(string(l.Data), `"do":"job.finish"`) {
			finished++
		}
	}
	require.Equal(t, 1, finished)
	s.agree(wall, pia, bram)
}

func TestBrowserWithoutACodeSeesTheJoinPageAndNothingElse(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	rival := newDevice(t, "rival", 390, 844, true)
	for _, page := range []string{"/", "/#/wall", "/#/me", "/#/captain", "/j#WRONGCODE"} {
		rival.open("about:blank")
		rival.open(s.url + page)
		rival.sees("join the board")
		text, err := chromedp.Run(rival.ctx, chromedp.Evaluate[string](`document.documentElement.outerHTML`))
		require.NoError(t, err)
		for _, r := range s.desk.View().State.Robots {
			require.NotContains(t, text, r.Name)
		}
	}
	rival.forgive("status of 401")
	rival.forgive("status of 403")
}

// robot finds a robot on the board by its name.
func (s *served) robot(name string) board.Robot {
	for _, r := range s.desk.View().State.Robots {
		if r.Name == name {
			return r
		}
	}
	return board.Robot{}
}

func (s *served) job(name string) board.Job {
	for _, j := range s.desk.View().State.Jobs {
		if j.Name == name {
			return j
		}
	}
	return board.Job{}
}

// walks answers a robot's sheet on a device, line by line, by the words on its
// buttons.
func (s *served) walks(d *device, robot string, list board.SheetList) {
	d.t.Helper()
	sheet, ok := s.desk.View().State.Sheet(s.robot(robot).ID, list)
	require.True(d.t, ok, list)
	d.open(s.url + "/#/sheet/" + string(sheet.ID))
	for _, l := range sheet.Lines {
		if _, answered := sheet.Answered(l.ID); answered {
			continue
		}
		d.sees(l.Ask)
		s.rests(sheet.Robot, l, d)
		d.answers(l)
	}
	sheet, _ = s.desk.View().State.Sheet(s.robot(robot).ID, list)
	require.Equal(d.t, board.SheetComplete, sheet.State)
}

// agree waits until each device shows the server's newest revision.
func (s *served) agree(devices ...*device) {
	rev := s.desk.View().State.Rev
	for _, d := range devices {
		d.waits(fmt.Sprintf(`Number(document.documentElement.dataset.rev) === %d`, rev), "the newest revision")
	}
}
