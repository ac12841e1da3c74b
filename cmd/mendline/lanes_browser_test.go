package main

import (
	"bytes"
	"cmp"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// narrows is a way to the board on which photos come to a halt: their first bytes are
// taken and go nowhere until it is freed, and so does one socket when it is told to stall.
// All else passes.
type narrows struct {
	*served
	stalls atomic.Bool
	// held hears of each photo that came to a halt.
	held  chan struct{}
	freed chan struct{}
	free  func()
}

func (s *served) narrows(t testing.TB) *narrows {
	t.Helper()
	n := &narrows{held: make(chan struct{}, 16), freed: make(chan struct{})}
	n.free = sync.OnceFunc(func() { close(n.freed) })
	n.served = s.by(t, func(phone, hall net.Conn) {
		_ = phone.(*net.TCPConn).SetReadBuffer(4096) // the photo waits on the phone, not here
		live := false
		pass(phone, hall, func(b []byte) {
			live = live || bytes.HasPrefix(b, []byte("GET /live "))
			if live && n.stalls.CompareAndSwap(true, false) {
				<-n.freed
			}
			if !bytes.Contains(b, []byte("POST /api/photos ")) {
				return
			}
			select {
			case n.held <- struct{}{}:
			default:
			}
			<-n.freed
		})
	})
	t.Cleanup(n.free)
	return n
}

// grainyPhoto is a picture that no phone can make small: it takes a while on the way.
func grainyPhoto(t testing.TB) string {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, 1600, 1200))
	grain := rand.New(rand.NewPCG(1, 2))
	for i := range picture.Pix {
		picture.Pix[i] = byte(grain.Uint32())
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture, nil))
	file := filepath.Join(t.TempDir(), "grain.jpg")
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o600))
	return file
}

// reports takes a phone from a robot's damage page to the page that asks for a photo.
func (s *served) reports(d *device, robot board.Robot, part string) {
	d.t.Helper()
	d.open(s.url + "/#/damage/" + string(robot.ID))
	d.types("part", part)
	d.press("what does it need")
	d.press("mend or swap it before we fight")
	d.press("report it")
	d.sees("A photo of it?")
}

// wrote lists which of these commands the journal has behind a revision, in its order.
func (s *served) wrote(t testing.TB, since board.Rev, what ...string) []string {
	t.Helper()
	lines, err := s.desk.Store().Journal(uint64(since), 500)
	require.NoError(t, err)
	pattern := regexp.MustCompile(`"do":"(` + strings.Join(what, "|") + `)"`)
	var did []string
	for _, l := range lines {
		if m := pattern.FindSubmatch(l.Data); m != nil {
			did = append(did, string(m[1]))
		}
	}
	return did
}

func (s *served) emergencies() int { return len(s.desk.View().State.Emergencies) }

func (s *served) photosOf(part string) int { return len(s.damage(part).Photos) }

func eventually(t testing.TB, holds func() bool, what string) {
	t.Helper()
	require.Eventually(t, holds, patience, 20*time.Millisecond, what)
}

func TestBrowserAnEmergencyPassesAPhotoThatHangs(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	n := s.narrows(t)
	slow := n.served
	wall := newDevice(t, "wall", 1920, 1080, false)
	pia := newDevice(t, "pia", 390, 664, true)
	s.joins(wall, board.RoleViewer, "")
	slow.joins(pia, board.RoleCrew, "Pia")
	since := s.desk.View().State.Rev
	robot := s.robot("Nettlepip")
	slow.reports(pia, robot, "Rear fork")
	pia.do(chromedp.SetUploadFiles(chromedp.ID("choose"), []string{grainyPhoto(t)}))
	<-n.held
	pia.waits(`/photo 1: (on its way|\d+ % sent)/.test(document.body.innerText)`, "the photo on its way")

	pia.press("raise alarm")
	pia.press("2 Nettlepip")
	pia.hold("EMERGENCY at 2 Nettlepip", `!/press and hold/.test(document.body.innerText)`)
	eventually(t, func() bool { return s.emergencies() == 1 }, "the emergency on the board")
	wall.sees("raised by Pia")
	pia.sees("raised by Pia")
	pia.seesNot("not sent. shout")
	require.Zero(t, s.photosOf("Rear fork"), "the photo still hangs")

	n.free()
	eventually(t, func() bool { return s.photosOf("Rear fork") == 1 }, "the photo on the board")
	require.Equal(t, []string{"damage.report", "emergency.raise", "damage.photo"}, s.wrote(t, since, "damage.report", "emergency.raise", "damage.photo"))
}

func TestBrowserWhatStallsOnOneConnectionGoesOverAnother(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	n := s.narrows(t)
	pia := newDevice(t, "pia", 390, 664, true)
	slow := n.served
	slow.joins(pia, board.RoleCrew, "Pia")
	since := s.desk.View().State.Rev
	pia.open(slow.url + "/#/damage/" + string(s.robot("Nettlepip").ID))
	pia.types("part", "Rear fork")
	pia.press("what does it need")
	pia.press("mend or swap it before we fight")
	n.stalls.Store(true)
	pia.press("report it")
	eventually(t, func() bool { return len(s.wrote(t, since, "damage.report")) == 1 }, "the damage on the board")
	require.False(t, n.stalls.Load(), "a socket stalled")
	require.Equal(t, 2, s.sockets(t), "the board has not hung up on the one that stalls")
	pia.sees("A photo of it?")
}

// sockets is how many the board has open.
func (s *served) sockets(t testing.TB) (open int) {
	res, err := http.Get("http://" + s.listener.Addr().String() + "/metrics")
	require.NoError(t, err)
	defer res.Body.Close()
	all, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	m := regexp.MustCompile(`(?m)^mendline_ws_clients (\d+)$`).FindSubmatch(all)
	require.NotNil(t, m)
	open, err = strconv.Atoi(string(m[1]))
	require.NoError(t, err)
	return open
}

func TestBrowserWithoutAHangAPhotoAndAnEmergencyComeAsGiven(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 390, 664, true)
	s.joins(pia, board.RoleCrew, "Pia")
	since := s.desk.View().State.Rev
	s.reports(pia, s.robot("Nettlepip"), "Rear fork")
	pia.do(chromedp.SetUploadFiles(chromedp.ID("choose"), []string{grainyPhoto(t)}))
	pia.sees("photo 1: on the board")
	pia.press("raise alarm")
	pia.press("2 Nettlepip")
	pia.hold("EMERGENCY at 2 Nettlepip", `location.hash === "#/me"`)
	pia.sees("raised by Pia")
	require.Equal(t, []string{"damage.report", "damage.photo", "emergency.raise"}, s.wrote(t, since, "damage.report", "emergency.raise", "damage.photo"))
}

// A photo that stands still is given up and tried again; the next one does not wait.
func TestBrowserAPhotoThatStandsStillIsTriedAgain(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	n := s.narrows(t)
	slow := n.served
	pia := newDevice(t, "pia", 390, 664, true)
	slow.joins(pia, board.RoleCrew, "Pia")
	slow.reports(pia, s.robot("Nettlepip"), "Rear fork")
	pia.runs(ahead)
	pia.do(chromedp.SetUploadFiles(chromedp.ID("choose"), []string{grainyPhoto(t)}))
	<-n.held
	pia.runs(`skip = 25_000`)
	pia.sees("1 thing not sent yet")
	require.Empty(t, n.held, "it is given time")
	pia.runs(`skip = 60_000`)
	<-n.held
	n.free()
	pia.sees("photo 1: on the board")
	require.Equal(t, 1, s.photosOf("Rear fork"))
}

func TestBrowserAnEmergencyWithoutANetworkSaysShoutAndGoesFirst(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	for _, at := range []struct {
		size          string
		width, height int64
		robot         string
	}{{"360x640", 360, 640, "2 Nettlepip"}, {"390x664", 390, 664, "1 Grobblequill"}} {
		t.Run(at.size, func(t *testing.T) {
			robot := s.robot(at.robot[2:])
			part := "Fork " + at.size
			pia := newDevice(t, "pia-"+at.size, at.width, at.height, true)
			s.joins(pia, board.RoleCrew, "Pia")
			pia.keepsItsPages()
			raised := s.emergencies()
			pia.press("raise alarm")
			pia.sees("Hold the button")
			pia.runs(`location.hash = "#/me/notes"`)
			pia.sees("write it down")

			// The first thing given finds out that the network is gone; it may yet arrive.
			pia.offline(true)
			pia.types("note", "the fork is on the bench")
			pia.press("write it down")
			pia.sees("1 thing not sent yet")
			since := s.desk.View().State.Rev
			pia.runs(`location.hash = "#/damage/` + string(robot.ID) + `"`)
			pia.types("part", part)
			pia.press("what does it need")
			pia.press("mend or swap it before we fight")
			pia.press("report it")
			pia.sees("A photo of it?")
			pia.do(chromedp.SetUploadFiles(chromedp.ID("choose"), []string{grainyPhoto(t)}))
			pia.sees("photo 1: not sent yet, it goes by itself")
			pia.runs(`location.hash = "#/robot/` + string(robot.ID) + `"`)
			pia.press("my hands are near")
			pia.sees("4 things not sent yet")

			pia.press("raise alarm")
			pia.hold("EMERGENCY at "+at.robot, `location.hash === "#/me"`)
			pia.sees("NOT SENT. SHOUT.")
			pia.sees("Shout and step back. Fetch the hall steward in the green sash")
			require.Equal(t, 0, gets[int](pia, `scrollY + document.querySelector(".middle").scrollTop`))
			require.False(t, gets[bool](pia, `/every screen/i.test(document.body.innerText)`), "no word of success")
			pia.shot("emergency-not-sent-" + at.size)
			require.Empty(t, pia.accessible("emergency not sent"))
			require.Equal(t, raised, s.emergencies())

			pia.offline(false)
			eventually(t, func() bool { return s.photosOf(part) == 1 }, "all on the board")
			pia.seesNot("NOT SENT. SHOUT.")
			pia.seesNot("not sent yet")
			pia.sees("raised by Pia")
			order := []string{"emergency.raise", "hands.on", "damage.report", "damage.photo"}
			require.Equal(t, order, s.wrote(t, since, order...))
		})
	}
}

// uploadsSlowly lets a device send no more than so many bytes a second, 0 for any.
func (d *device) uploadsSlowly(bytesPerSec float64) {
	d.t.Helper()
	require.NoError(d.t, emulateNetwork(d.ctx, false, cmp.Or(bytesPerSec, -1)))
}

// How much of a photo has gone is said while it goes, on the damage page and elsewhere.
func TestBrowserAPhotoSaysHowMuchOfItIsSent(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	for _, at := range []struct {
		size          string
		width, height int64
	}{{"360x640", 360, 640}, {"390x664", 390, 664}} {
		t.Run(at.size, func(t *testing.T) {
			pia := newDevice(t, "pia-"+at.size, at.width, at.height, true)
			s.joins(pia, board.RoleCrew, "Pia")
			pia.keepsItsPages()
			part := "Fork " + at.size
			s.reports(pia, s.robot("Nettlepip"), part)
			pia.uploadsSlowly(20_000)
			pia.do(chromedp.SetUploadFiles(chromedp.ID("choose"), []string{grainyPhoto(t)}))
			pia.waits(`/photo 1: [3-6]0 % sent/.test(document.body.innerText)`, "how much is sent")
			pia.shot("photo-part-sent-" + at.size)
			pia.runs(`location.hash = "#/me"`)
			pia.waits(`/photo of a damage: [3-9]0 % sent/.test(document.body.innerText)`, "the same on another page")
			pia.shot("photo-part-sent-me-" + at.size)
			pia.uploadsSlowly(0)
			pia.seesNot("not sent yet")
			eventually(t, func() bool { return s.photosOf(part) == 1 }, "the photo on the board")
		})
	}
}

// Who is to fetch a part and says so while there is no network reads that it was not heard.
func TestBrowserWhoFetchesAPartReadsThatNobodyHeardIt(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	s.does(t, "Ottoline", board.JobHold{Job: s.job("Ask Halfpenny Forge for a drive pod").ID, Why: board.HoldPart, Minutes: 15})
	tilly := newDevice(t, "tilly", 390, 844, true)
	s.joins(tilly, board.RoleCrew, "Tilly")
	tilly.sees("I’ll fetch it")
	tilly.offline(true)
	tilly.press("I’ll fetch it")
	tilly.sees("Not done: say that you fetch it")
	tilly.press("I have read it")
	tilly.offline(false)
	tilly.seesNot("offline")
	tilly.press("I’ll fetch it")
	tilly.sees("it is here")
}
