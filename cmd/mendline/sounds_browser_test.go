package main

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// bellScript rings a bell of its own at moments that it makes up and counts its
// tones: four for class A, one for class B.
const bellScript = `import("/core/bell.js").then(async ({Bell}) => {
  const real = performance.now.bind(performance);
  const Tone = OscillatorNode;
  let at = 1_000_000, tones = 0;
  window.OscillatorNode = class extends Tone { constructor(...a) { super(...a); tones++; } };
  performance.now = () => at;
  const bell = new Bell();
  const ring = (sec, ...alarms) => { at = 1_000_000 + sec * 1000; tones = 0; bell.ring(alarms, at); return tones; };
  const stamp = (sec) => new Date(1_000_000 + sec * 1000).toISOString();
  const A = ["alarm/A-x", {class: "A", since: "s"}], B = ["alarm/B-x", {class: "B", since: "s"}], C = ["alarm/C-x", {class: "C", since: "s"}];
  const taken = [A[0], {...A[1], takenBy: "p", takenAt: stamp(25)}];
  const shelved = ["alarm/B-y", {class: "B", since: "s", shelvedUntil: stamp(900)}];
  const before = ring(0, A, B, C);
  await bell.allow();
  const out = [before, ring(0, A, B, C), ring(5, A, B, C), ring(10, A, B, C), ring(20, A, B), ring(30, taken, B), ring(100, taken, B), ring(204, taken, B), ring(205, taken, B), ring(210, taken, B), ring(215, taken, shelved), ring(240, B), ring(306, C), ring(307, B)];
  bell.stop();
  performance.now = real;
  window.OscillatorNode = Tone;
  return out;
})`

func TestBrowserTheBellSoundsByClassAndRestsWhenSomeoneSeesToIt(t *testing.T) {
	inBrowser(t)
	s := serveSources(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	s.joins(wall, board.RoleViewer, "")
	wall.sees("Grobblequill")
	require.Equal(t, []int{
		0,          // nobody has allowed sound
		5, 0, 4, 4, // A and B; between; A again every 10 s
		0, 0, 0, 4, 0, // taken at 25 s: quiet for 3 min, then again, and not before 10 s more
		4, 0, // A again; what is snoozed never
		0, 1, // B back within a minute is no new alarm; a minute later it is
	}, gets[[]int](wall, bellScript))
}

// countTones counts the tones that a page sounds from now on.
const countTones = `window.tones = 0; { const start = OscillatorNode.prototype.start; OscillatorNode.prototype.start = function (...a) { tones++; return start.apply(this, a); }; }`

// heard waits until the page has sounded n tones or more.
func (d *device) heard(n int, what string) {
	d.t.Helper()
	d.waits(fmt.Sprintf("tones >= %d", n), "the sound of "+what)
}

// quiet lets a page come to a whole second, at which it sounds what it knows of, and past
// it: it has sounded nothing.
func (d *device) quiet(why string) {
	d.t.Helper()
	d.runs(`window.since = performance.now()`)
	d.waits(`performance.now() - since > 1500`, "a whole second")
	require.Zero(d.t, gets[int](d, "tones"), why)
}

func TestBrowserAPhoneSoundsForItsRobotsCallAndForAnyEmergency(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	hers, other := newDevice(t, "hers", 390, 844, true), newDevice(t, "other", 390, 844, true)
	s.joins(hers, board.RoleCrew, "Pia")     // leads Nettlepip
	s.joins(other, board.RoleSafety, "Juno") // has no robot of her own
	for _, d := range []*device{hers, other} {
		d.runs(countTones)
		d.press("more")
		d.runs(fmt.Sprintf(`location.hash = "#/robot/%s"`, s.robot("Nettlepip").ID))
		d.sees("something new")
	}
	hers.quiet("nothing is new about her robot")
	other.runs("tones = 0")

	s.does(t, "Wim", board.FightNow{Arena: "Little Box", Number: 26})
	hers.heard(1, "the call of Nettlepip")
	hers.runs("tones = 0")
	other.sees("CALL NOW")
	other.quiet("it is no robot of hers")
	s.does(t, "Juno", board.EmergencyRaise{Robot: s.robot("Grobblequill").ID})
	hers.heard(4, "an emergency at another’s robot")
	other.heard(4, "the same emergency")
}
