package main

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

const (
	killsOfAFolder = 25 // before the next begins, so that each start stays short
	restoreEach    = 5  // of so many kills one is a restore's
)

// TestNothingAcknowledgedIsLostToKillsAmongPhotosAndRestores kills the program as it
// serves and as it restores, MENDLINE_KILLS times, and keeps a ledger of its own.
func TestNothingAcknowledgedIsLostToKillsAmongPhotosAndRestores(t *testing.T) {
	t.Parallel()
	kills := 10
	if text := os.Getenv("MENDLINE_KILLS"); text != "" {
		var err error
		kills, err = strconv.Atoi(text)
		require.NoError(t, err, "MENDLINE_KILLS")
	}
	rng := rand.New(rand.NewPCG(13, 14))
	var sum struct{ commands, photos, cuts, restores int }
	for left := kills; left > 0; left -= killsOfAFolder {
		l := &folderLedger{t: t, rng: rng, folder: filepath.Join(t.TempDir(), "event"), photos: map[string][]byte{}}
		l.begin()
		for n := range min(left, killsOfAFolder) {
			if n%restoreEach == restoreEach-1 {
				l.killedInARestore()
			} else {
				l.killedServing()
			}
		}
		l.looksAgain().stop()
		sum.photos += len(l.photos)
		sum.commands, sum.cuts, sum.restores = sum.commands+l.all, sum.cuts+l.cuts, sum.restores+l.restores
	}
	require.Positive(t, sum.photos)
	t.Logf("%d kills, %d commands acknowledged, %d photos, %d of %d restores cut off", kills, sum.commands, sum.photos, sum.cuts, sum.restores)
}

// acked is a command as it was acknowledged, and what the board holds since.
type acked struct {
	sent  []byte
	rev   board.Rev
	holds string
}

// folderLedger is what a data folder was told and answered.
type folderLedger struct {
	t      *testing.T
	rng    *rand.Rand
	folder string
	token  string
	robot  board.RobotID

	mu     sync.Mutex
	acked  []acked
	looked int               // how many of these the last look saw
	photos map[string][]byte // by id, as the board gave them; nil before it has
	since  int               // answers since the last start
	cut    bool              // a restore, since the last start

	all, cuts, restores int
}

func (l *folderLedger) begin() {
	p := startProcess(l.t, l.folder)
	var me struct {
		Token  string         `json:"token"`
		Person board.PersonID `json:"person"`
	}
	require.Equal(l.t, http.StatusOK, p.ask("", http.MethodPost, "/api/join", adaJoins, &me))
	l.token = me.Token
	id := newCommand()
	l.robot = board.RobotID(board.NewID(id, board.KindRobot, "Tin Moth"))
	require.True(l.t, l.do(p, id, board.RobotAdd{RobotFields: board.RobotFields{
		Name: "Tin Moth", Number: 1, Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules 2"}, Size: board.Light,
		Energies: []board.Energy{{Kind: board.EnergyDrive, Isolator: "removable link", Reach: board.Outside}},
		Lead:     me.Person, Driver: me.Person, Hands: 2, BeforeSec: 540, AfterSec: 300, Weight: 1,
	}}, string(l.robot)))
	p.stop()
}

func newCommand() board.CommandID { return board.CommandID(uuid.Must(uuid.NewV7())) }

// killedServing lets three phones send, of which one sends photos, and kills the board
// behind a few answers.
func (l *folderLedger) killedServing() {
	p := l.looksAgain()
	kill := 1 + l.rng.IntN(20)
	l.since = 0
	picture := grain(l.t, l.rng)
	var phones sync.WaitGroup
	phones.Go(func() {
		for l.sendsAPhoto(p, picture) {
			l.killsAfter(p, kill)
		}
	})
	for range 2 {
		phones.Go(func() {
			for l.note(p) {
				l.killsAfter(p, kill)
			}
		})
	}
	phones.Wait()
}

func (l *folderLedger) killsAfter(p *process, answers int) {
	l.mu.Lock()
	over := l.since >= answers
	l.mu.Unlock()
	if over {
		p.kill()
	}
}

func (l *folderLedger) note(p *process) bool {
	text := uuid.NewString()
	return l.do(p, newCommand(), board.NoteAdd{Text: text}, text)
}

func (l *folderLedger) sendsAPhoto(p *process, picture []byte) bool {
	var got struct {
		Photo board.PhotoID `json:"photo"`
	}
	switch status := l.post(p, "/api/photos", picture, &got); status {
	case 0:
		return false
	case http.StatusTooManyRequests:
		return true
	default:
		require.Equal(l.t, http.StatusOK, status)
	}
	l.mu.Lock()
	l.photos[string(got.Photo)] = nil
	l.since++
	l.mu.Unlock()
	id := newCommand()
	damage := board.DamageID(board.NewID(id, board.KindDamage, ""))
	return l.do(p, id, board.DamageReport{DamageFields: board.DamageFields{Robot: l.robot, Part: "fork", Grade: board.G1}}, string(damage)) &&
		l.do(p, newCommand(), board.DamagePhoto{Damage: damage, Photo: got.Photo}, string(got.Photo))
}

// do gives a command till it is taken, and notes the answer; false when the board has
// gone.
func (l *folderLedger) do(p *process, id board.CommandID, c board.Command, holds string) bool {
	sent, err := json.Marshal(map[string]any{"id": id.String(), "do": board.Name(c), "with": c})
	require.NoError(l.t, err)
	rev, ok := l.gives(p, sent)
	if !ok {
		return false
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.acked = append(l.acked, acked{sent: sent, rev: rev, holds: holds})
	l.since++
	l.all++
	return true
}

func (l *folderLedger) gives(p *process, sent []byte) (board.Rev, bool) {
	for {
		var got struct {
			Rev     board.Rev     `json:"rev"`
			Refusal board.Refusal `json:"refusal"`
		}
		switch l.post(p, "/api/do", sent, &got) {
		case http.StatusOK:
			return got.Rev, true
		case http.StatusTooManyRequests:
		case 0:
			return 0, false
		default:
			require.Fail(l.t, "refused", "%s: %s", sent, got.Refusal.Sentence)
		}
	}
}

// post gives the status, 0 when the board has gone.
func (l *folderLedger) post(p *process, path string, body []byte, answer any) int {
	b, status := l.ask(p, http.MethodPost, path, body)
	if status != 0 {
		require.NoError(l.t, json.Unmarshal(b, answer), string(b))
	}
	return status
}

func (l *folderLedger) ask(p *process, method, path string, body []byte) ([]byte, int) {
	r, err := http.NewRequestWithContext(l.t.Context(), method, p.note.URL+path, bytes.NewReader(body))
	require.NoError(l.t, err)
	r.Header.Set("Authorization", "Bearer "+l.token)
	r.Header.Set("Content-Type", http.DetectContentType(body))
	if path == "/api/do" {
		r.Header.Set("Content-Type", "application/json")
	}
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		return nil, 0
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		return nil, 0
	}
	return b, res.StatusCode
}

// looksAgain starts the board on what the kill left. All that was acknowledged is there,
// every photo as it was, and what is sent again changes nothing.
func (l *folderLedger) looksAgain() *process {
	l.t.Helper()
	report, err := store.Check(dataDir(l.folder).board())
	require.NoError(l.t, err)
	require.NoError(l.t, report.Err())
	p := startProcess(l.t, l.folder)
	if _, status := l.ask(p, http.MethodGet, "/api/me", nil); status == http.StatusUnauthorized {
		require.True(l.t, l.cut, "only a restore ends sessions")
		l.token = p.joinsAs(adaJoins)
	}
	l.cut = false
	all, status := l.ask(p, http.MethodGet, "/api/board", nil)
	require.Equal(l.t, http.StatusOK, status)
	for _, a := range l.acked {
		require.Contains(l.t, string(all), a.holds, "acknowledged: %s", a.sent)
	}
	for id, was := range l.photos {
		is, status := l.ask(p, http.MethodGet, "/photos/"+id, nil)
		require.Equal(l.t, http.StatusOK, status, "photo %s", id)
		require.True(l.t, was == nil || bytes.Equal(was, is), "photo %s is another", id)
		l.photos[id] = is
	}
	for _, a := range l.acked[l.looked:] {
		rev, ok := l.gives(p, a.sent)
		require.True(l.t, ok)
		require.Equal(l.t, a.rev, rev, "done twice: %s", a.sent)
	}
	l.looked = len(l.acked)
	return p
}

// killedInARestore makes a backup, sends on, kills the board and then the restore of the
// backup. The board that is there then is one of the two, whole; the newer is kept.
func (l *folderLedger) killedInARestore() {
	p := l.looksAgain()
	file := filepath.Join(l.t.TempDir(), "noon.db")
	on := terminal{out: io.Discard, err: io.Discard}
	require.NoError(l.t, backup(l.t.Context(), on, []string{"-data", l.folder, file}))
	then := len(l.acked)
	for range 3 {
		require.True(l.t, l.note(p))
	}
	p.kill()
	before := len(l.kept())
	cmd := exec.Command("mendline", "restore", "-data", l.folder, file)
	require.NoError(l.t, cmd.Start())
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	for moment, looks := l.rng.IntN(3), l.rng.IntN(200); looks > 0 && len(ended) == 0; {
		_, errHeld := os.Stat(dataDir(l.folder).held())
		_, errNew := os.Stat(dataDir(l.folder).board() + ".new")
		if moment == 0 && errHeld == nil || moment == 1 && errNew == nil || moment == 2 && len(l.kept()) > before {
			looks--
		}
	}
	cmd.Process.Kill()
	if <-ended != nil {
		l.cuts++
	}
	l.restores++
	l.cut = true
	if l.holdsAll(dataDir(l.folder).board()) {
		return
	}
	require.True(l.t, slices.ContainsFunc(l.kept(), l.holdsAll), "the board that was replaced is nowhere")
	l.acked, l.looked = l.acked[:then], then
}

// kept are the boards that restores replaced.
func (l *folderLedger) kept() []string {
	paths, err := filepath.Glob(dataDir(l.folder).board() + ".replaced-*")
	require.NoError(l.t, err)
	return paths
}

// holdsAll tells whether the board in a file is whole and has all that was acknowledged.
func (l *folderLedger) holdsAll(path string) bool {
	if report, err := store.Check(path); err != nil || report.Err() != nil {
		return false
	}
	s, err := stateOfCopy(path)
	require.NoError(l.t, err)
	var all strings.Builder
	for _, n := range s.Nouns() {
		b, err := json.Marshal(n)
		require.NoError(l.t, err)
		all.Write(b)
	}
	for _, a := range l.acked {
		if !strings.Contains(all.String(), a.holds) {
			return false
		}
	}
	return true
}

// grain is a picture like no other.
func grain(t *testing.T, rng *rand.Rand) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 40, 40))
	for i := range m.Pix {
		m.Pix[i] = byte(rng.Uint32())
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	return b.Bytes()
}
