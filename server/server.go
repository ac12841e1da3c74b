package server

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"sync"
	"time"

	"mendline/board"
	"mendline/server/copies"
	"mendline/server/desk"
	"mendline/server/photo"
)

// Options of a server. Desk, Photos and Files are needed; the rest has defaults.
type Options struct {
	Desk   *desk.Desk
	Photos *photo.Store
	// Files gives the pages, by their path from the root, with index.html, when the first
	// is asked for. home/captain.html and the like stand in its place for who has that role.
	// Names in the folder made change with what is in them, so that browsers keep these files.
	Files func() (map[string][]byte, error)

	// Hosts are names, besides the machine's own, under which browsers reach the
	// board. By its IP addresses they always do.
	Hosts []string
	// TLS says that browsers speak https: cookies are Secure then.
	TLS bool

	// Copies keeps the board's copies; nil has none kept.
	Copies *copies.Keeper

	// Codes are join codes by role, of 8 letters and digits or more. A role without
	// one has the code of its last start, or else a new one.
	Codes map[board.Role]string

	// AdminToken opens /admin/… from this machine and /metrics from any; "" opens
	// them to nobody, and /metrics to this machine alone.
	AdminToken string

	// Version of the program, as the screens are told.
	Version string

	// Metrics is what the desk counts in too; nil makes one.
	Metrics *Metrics

	// Log takes what an operator should hear of; nil means nobody listens.
	Log *slog.Logger

	// Now is the clock of sessions and limits; nil means time.Now.
	Now func() time.Time

	pinRounds int // of the PIN's hash, fewer in tests
	waits         // of sockets, others in tests
}

func (o Options) withDefaults() Options {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Metrics == nil {
		o.Metrics = NewMetrics(o.Version)
	}
	if o.pinRounds == 0 {
		o.pinRounds = pinRounds
	}
	if o.waits == (waits{}) {
		o.waits = usualWaits
	}
	return o
}

// Server serves one board. Its methods may be called from any goroutine.
type Server struct {
	o        Options
	desk     *desk.Desk
	log      *slog.Logger
	hosts    hostList
	codes    *codes
	pins     *pins
	sessions *sessions
	joins    *joinLimits
	door     *door
	assets   func() (map[string]asset, error)
	handler  http.Handler

	claiming sync.Mutex // one claim at a time, or a PIN's end
	commands gate       // commands at the desk
	sockets  gate       // handlers of sockets

	reviewed  dayRead
	debriefed workRead
	album     albumRead
	photosOf  quota

	tidied chan struct{} // closed when nothing is tidied any more

	life context.Context // ends when Close loses patience
	kill context.CancelFunc
}

// New reads sessions and secrets from the desk's store and makes the join codes
// that are missing.
//
// Errors: a code that is too short or given twice, pages that cannot be read,
// those of the store.
func New(o Options) (*Server, error) {
	o = o.withDefaults()
	held, err := o.Desk.Store().Load(0)
	if err != nil {
		return nil, fmt.Errorf("start server: %w", err)
	}
	s := &Server{o: o, desk: o.Desk, log: o.Log, joins: newJoinLimits()}
	s.life, s.kill = context.WithCancel(context.Background())
	s.reviewed.tail, s.debriefed.tail, s.album.tail = newTail(), newTail(), newTail()
	s.hosts = allowedHosts(o.Hosts)
	if s.codes, err = loadCodes(o.Codes, held.Secrets, s.keepSecrets); err != nil {
		return nil, fmt.Errorf("start server: %w", err)
	}
	s.pins = loadPins(held.Secrets, o.pinRounds)
	s.door = loadDoor(held.Secrets)
	s.sessions = loadSessions(held.Sessions, o.Now())
	for _, n := range s.sessions.byKey {
		s.pins.knows(n.Person, n.ID)
	}
	if over := s.sessions.keptElsewhere(held.Sessions); len(over) > 0 {
		if err := s.desk.Store().SetSessions(over...); err != nil {
			s.log.Error("forget old sessions", "error", err)
		}
	}
	s.assets = sync.OnceValues(func() (map[string]asset, error) { return readAssets(o.Files) })
	s.o.Metrics.watch(s)
	s.handler = s.guarded(s.routes())
	s.tidied = make(chan struct{})
	go s.tidies() // ended by Close
	return s, nil
}

// Codes are the join codes, by role.
func (s *Server) Codes() map[board.Role]string { return s.codes.all() }

// Close ends what outlives a request: it refuses joins and new commands, waits
// for the answers of those the desk has, and closes each socket with 1012 behind
// its last acknowledgement. http.Server.Shutdown comes after it, and the end of
// the desk after that. When ctx ends first, the sockets are cut.
func (s *Server) Close(ctx context.Context) error {
	defer func() {
		s.kill()
		<-s.tidied
	}()
	err := s.commands.close(ctx)
	for _, k := range s.sessions.allSockets() {
		k.finish()
	}
	if err = errors.Join(err, s.sockets.close(ctx)); err == nil {
		return nil
	}
	s.kill()
	for _, k := range s.sessions.allSockets() {
		k.conn.Close()
	}
	return fmt.Errorf("close server: %w", err)
}

// closing tells whether Close was called.
func (s *Server) closing() bool { return s.commands.closed() }

func allowedHosts(names []string) hostList {
	list := hostList{"localhost": true}
	if own, err := os.Hostname(); err == nil {
		list.add(own)
		list.add(own + ".local")
	}
	for _, n := range names {
		list.add(n)
	}
	return list
}

// gate counts those inside and can be closed behind the last.
type gate struct {
	mu     sync.Mutex
	inside int
	shut   bool
	empty  chan struct{} // closed when shut and nobody is inside
}

// enter counts the caller in, unless the gate is closed. Who entered leaves.
func (g *gate) enter() bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.shut {
		return false
	}
	g.inside++
	return true
}

func (g *gate) leave() {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.inside--; g.inside == 0 && g.shut {
		close(g.empty)
	}
}

// close stops letting people in and waits until all have left, or for ctx.
func (g *gate) close(ctx context.Context) error {
	g.mu.Lock()
	if !g.shut {
		g.shut, g.empty = true, make(chan struct{})
		if g.inside == 0 {
			close(g.empty)
		}
	}
	empty := g.empty
	g.mu.Unlock()
	select {
	case <-empty:
		return nil
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}

func (g *gate) closed() bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.shut
}
