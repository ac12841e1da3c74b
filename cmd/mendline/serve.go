package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/board/plan"
	"mendline/frontend"
	"mendline/server"
	"mendline/server/copies"
	"mendline/server/desk"
	"mendline/server/photo"
	"mendline/server/store"
)

// forecastBudget is how many schedules one forecast may try: work, not time, so
// that the same board has the same forecast on any machine.
const forecastBudget plan.Budget = 10_000

// stopWithin is how long an orderly stop may take.
const stopWithin = 10 * time.Second

// memoryMost is what the program keeps to, as far as what it holds lets it: a board of
// 100,000 lines and the largest photo have room in it.
const memoryMost = 320 << 20

// limitMemory sets that limit, unless the environment says another, which the runtime
// has taken already.
func limitMemory(t terminal) {
	if t.env["GOMEMLIMIT"] == "" {
		debug.SetMemoryLimit(memoryMost)
	}
}

// settings are what serve and demo are asked for.
type settings struct {
	addr      string
	data      dataDir
	team      string
	hosts     []string
	cert, key string
	codes     map[board.Role]string
	// now is the laptop's clock, boot the time since it was started: see desk.Options.
	now     func() time.Time
	boot    func() time.Duration
	backups []string // folders for copies
	// pages gives what browsers get; nil for frontend.Bundled.
	pages func() (map[string][]byte, error)
	// noForecast leaves the forecast out.
	noForecast bool
	// logAs is how what an operator should hear of is written: json or text.
	logAs string
}

// codeRoles are the roles that join by a code.
var codeRoles = []board.Role{board.RoleCaptain, board.RoleCrew, board.RoleSafety, board.RoleViewer}

// serve serves the board of a data folder until ctx ends.
func serve(ctx context.Context, t terminal, args []string) error {
	return settings{now: time.Now, boot: desk.BootClock()}.serve(ctx, t, args)
}

// serve is the command, on a laptop with the clocks of s.
func (s settings) serve(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("serve", flag.ContinueOnError)
	s.codes = map[board.Role]string{}
	data := dataFlag(f)
	f.StringVar(&s.team, "team", "", "")
	f.StringVar(&s.cert, "cert", "", "")
	f.StringVar(&s.key, "key", "", "")
	f.BoolFunc("no-forecast", "", func(string) error { s.noForecast = true; return nil })
	f.Func("host", "", func(name string) error { s.hosts = append(s.hosts, name); return nil })
	f.Func("backup", "", func(folder string) error { s.backups = append(s.backups, folder); return nil })
	s.hostFlags(f, t)
	if _, err := parse(f, args); err != nil {
		return err
	}
	if (s.cert == "") != (s.key == "") {
		return misuse("-cert and -key go together")
	}
	s.data = dataDir(*data)
	limitMemory(t)
	h, err := open(t, s)
	if err != nil {
		return err
	}
	return h.run(ctx, func(ctx context.Context) error { return s.loadTeam(ctx, t, h.desk) })
}

// hostFlags are the flags that serve and demo share.
func (s *settings) hostFlags(f *flag.FlagSet, t terminal) {
	f.StringVar(&s.addr, "addr", ":8080", "")
	s.logAs = "json"
	f.Func("log", "", func(as string) error {
		if s.logAs = as; as != "json" && as != "text" {
			return errors.New("it is json or text")
		}
		return nil
	})
	for _, role := range codeRoles {
		if code := t.env["MENDLINE_"+strings.ToUpper(string(role))+"_CODE"]; code != "" {
			s.codes[role] = code
		}
		f.Func(string(role)+"-code", "", func(code string) error { s.codes[role] = code; return nil })
	}
}

// loadTeam loads the team that -team names, if the board is still empty.
func (s settings) loadTeam(ctx context.Context, t terminal, own *desk.Desk) error {
	if s.team == "" {
		return nil
	}
	if len(own.View().State.Robots) > 0 {
		fmt.Fprintf(t.err, "the board in %s holds a team already; %s is not loaded\n", s.data, s.team)
		return nil
	}
	id, cmd, err := readTeam(t.err, s.team)
	if err != nil {
		return err
	}
	return giveTeam(ctx, own, id, cmd)
}

// host is a board being served.
type host struct {
	settings
	t        terminal
	log      *slog.Logger
	desk     *desk.Desk
	photos   *photo.Store
	copies   *copies.Keeper
	server   *server.Server
	listener net.Listener
	admin    string
	// last is how the board was when it began to stop.
	last server.Health
}

// open opens the board, its photos and the address. Nothing is served yet.
func open(t terminal, s settings) (*host, error) {
	h := &host{settings: s, t: t, admin: newToken(), log: newLog(t.err, s.logAs)}
	if s.pages == nil {
		s.pages = frontend.Bundled
	}
	if err := s.data.make(); err != nil {
		return nil, err
	}
	metrics := server.NewMetrics(version())
	foretell := h.derive
	if s.noForecast {
		foretell = nil
	}
	restored, err := s.data.restored()
	if err != nil {
		return nil, err
	}
	o := desk.Options{
		Path: s.data.board(), Store: store.Options{Program: version()}, Now: s.now, Boot: s.boot, Log: h.log, Forecast: foretell, Metrics: metrics.Desk(),
	}
	if restored != nil {
		o.Restored = &restored.Restored
	}
	if h.desk, err = desk.New(o); err != nil {
		return nil, whoHolds(err)
	}
	if err := s.data.takeOver(restored, h.desk.Store()); err != nil {
		return nil, errors.Join(err, h.closeDesk())
	}
	h.copies, err = copies.New(copies.Options{Desk: h.desk, Data: string(s.data), Photos: s.data.photos(), Folders: s.backups, Log: h.log})
	if err != nil {
		return nil, errors.Join(err, h.closeDesk())
	}
	if h.photos, err = photo.OpenStore(s.data.photos()); err != nil {
		return nil, errors.Join(err, h.closeDesk())
	}
	h.server, err = server.New(server.Options{
		Desk: h.desk, Photos: h.photos, Copies: h.copies, Files: s.pages, Hosts: s.hosts, TLS: s.cert != "", Codes: s.codes,
		AdminToken: h.admin, Version: version(), Metrics: metrics, Log: h.log, Now: h.desk.Steady,
	})
	if err != nil {
		return nil, errors.Join(err, h.photos.Close(), h.closeDesk())
	}
	l, err := net.Listen("tcp", s.addr)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("listen at %s: %w (choose another with -addr)", s.addr, err), h.photos.Close(), h.closeDesk())
	}
	h.listener = server.Limited(l)
	return h, nil
}

func newLog(w io.Writer, as string) *slog.Logger {
	if as == "text" {
		return slog.New(slog.NewTextHandler(w, nil))
	}
	return slog.New(slog.NewJSONHandler(w, nil))
}

// derive is the forecast as the desk wants it, with how the copies stand.
func (h *host) derive(s board.State, at board.Moment, seed uint64) desk.Derived {
	f := forecast.Make(s, at, seed, forecastBudget)
	made := desk.Derived{Nouns: map[board.Key][]byte{}}
	kept := h.copies.State()
	f.AlsoAlarm(s, kept.Alarms())
	if b := kept.Entry(); b != nil {
		made.Nouns["copies/event"] = b
	}
	for key, value := range f.Entries() {
		made.Nouns[key] = value
	}
	if f.Replace != nil {
		follows := s.Follow()
		made.Own = append(made.Own, desk.Own{Command: *f.Replace, Seen: map[board.Key]board.Rev{follows.Key(): follows.V}})
	}
	for _, c := range f.Say {
		made.Own = append(made.Own, desk.Own{Command: c, Seen: map[board.Key]board.Rev{board.KeyOf(board.KindForetold, c.Fight): 0}})
	}
	for _, c := range f.Judge {
		key := board.KeyOf(board.KindForetold, c.Fight)
		made.Own = append(made.Own, desk.Own{Command: c, Seen: map[board.Key]board.Rev{key: s.Foretolds[c.Fight].V}})
	}
	return made
}

// closeDesk lets a desk that never ran close its file.
func (h *host) closeDesk() error {
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	return h.desk.Run(ended)
}

// run serves until ctx ends, then stops in the order in which nothing is lost:
// joins and commands, sockets, pages, the desk with its file. before is called
// when the desk answers and nobody can join yet.
func (h *host) run(ctx context.Context, before func(context.Context) error) error {
	deskCtx, stopDesk := context.WithCancel(context.WithoutCancel(ctx))
	defer stopDesk()
	deskEnded := make(chan error, 1)
	go func() { deskEnded <- h.desk.Run(deskCtx) }() // ended by stopDesk, waited for below
	copyCtx, stopCopies := context.WithCancel(context.WithoutCancel(ctx))
	defer stopCopies()
	var copying sync.WaitGroup
	copying.Go(func() { h.copies.Run(copyCtx, stopWithin) }) // ended by stopCopies
	err := before(ctx)
	if err == nil {
		err = h.pages(ctx)
	}
	stopCopies()
	copying.Wait()
	stopDesk()
	err = errors.Join(err, <-deskEnded, h.photos.Close())
	if h.last.Health != "" {
		h.sayStopped(err)
	}
	return err
}

// sayStopped says at which revision the board was closed, and how it was.
func (h *host) sayStopped(err error) {
	rev, line := uint64(h.desk.View().State.Rev), h.last.Line()
	if err != nil {
		h.log.Error("stop", "rev", rev, "health", line, "error", err)
		return
	}
	h.log.Info("stop", "rev", rev, "health", line)
	fmt.Fprintf(h.t.out, "\nThe board was closed at revision %d: %s.\n", rev, line)
}

// pages answers requests until ctx ends.
func (h *host) pages(ctx context.Context) error {
	urls, err := reachable(h.listener.Addr(), h.scheme())
	if err != nil {
		return err
	}
	remove, err := h.data.leaveNote(h.own(urls), h.admin)
	if err != nil {
		return err
	}
	defer remove()
	web := h.server.HTTP(h.addr)
	if h.cert != "" {
		pair, err := tls.LoadX509KeyPair(h.cert, h.key)
		if err != nil {
			return fmt.Errorf("read the certificate: %w", err)
		}
		web.TLSConfig = &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12}
		h.listener = tls.NewListener(h.listener, web.TLSConfig)
	}
	served := make(chan error, 1)
	go func() { served <- web.Serve(h.listener) }() // ended by Shutdown below
	health := h.server.Health(ctx)
	h.log.Info("start", "version", version(), "data", h.data.full(), "addr", h.listener.Addr().String(), "rev", uint64(h.desk.View().State.Rev), "health", health.Line())
	if err := banner(h.t.out, urls, h.server.Codes(), health, h.server.Recovered()); err != nil {
		return err
	}
	select {
	case err = <-served:
	case <-ctx.Done():
	}
	h.last = h.server.Health(context.WithoutCancel(ctx))
	patience, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopWithin)
	defer cancel()
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	return errors.Join(err, h.server.Close(patience), shutDown(patience, web))
}

// shutDown lets requests end until ctx does. What stalls longer, such as an upload from a
// phone that walked off, is cut.
func shutDown(ctx context.Context, web *http.Server) error {
	err := web.Shutdown(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		return web.Close()
	}
	return err
}

func (h *host) scheme() string {
	if h.cert != "" {
		return "https"
	}
	return "http"
}

// own is the address at which this machine itself reaches the board.
func (h *host) own(urls []string) string {
	_, port, _ := net.SplitHostPort(h.listener.Addr().String())
	local := h.scheme() + "://127.0.0.1:" + port
	if ip := net.ParseIP(hostOf(h.listener.Addr().String())); ip != nil && !ip.IsUnspecified() {
		return urls[0]
	}
	return local
}

func hostOf(addr string) string {
	h, _, _ := net.SplitHostPort(addr)
	return h
}

// healthy asks a board on this machine whether it is well.
func healthy(ctx context.Context, _ terminal, args []string) error {
	f := flag.NewFlagSet("healthy", flag.ContinueOnError)
	addr := f.String("addr", ":8080", "")
	if _, err := parse(f, args); err != nil {
		return err
	}
	at := *addr
	if strings.HasPrefix(at, ":") {
		at = "127.0.0.1" + at
	}
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	res, err := runningBoard{URL: "http://" + at}.ask(ctx, http.MethodGet, "/healthz", nil)
	if err != nil {
		return fmt.Errorf("ask the board: %w", err)
	}
	defer res.Body.Close()
	return refusalOf(res)
}
