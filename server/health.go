package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"time"

	"mendline/board"
	"mendline/server/copies"
	"mendline/server/desk"
	"mendline/server/store"
)

const healthWait = 2 * time.Second

// Fact is one thing that whoever looks after the board should know.
type Fact struct {
	Says string `json:"says"`
	// Bad: somebody should do something about it.
	Bad bool `json:"bad"`
}

// Health is how the board is. It names nobody and no robot: anyone may ask.
type Health struct {
	// Health is "ok", or in a few words why the board takes no commands.
	Health string `json:"health"`
	// Start is how the board came up, Copy how old the newest copy is, Disk the room that
	// is left.
	Start Fact `json:"start"`
	Copy  Fact `json:"copy"`
	Disk  Fact `json:"disk"`
	// Clock is how far the laptop's clock is off the board's time, if it is.
	Clock string `json:"clock,omitzero"`
}

// facts are those of the line, in its order.
func (h Health) facts() []Fact { return []Fact{h.Start, h.Copy, h.Disk, {h.Clock, h.Clock != ""}} }

// Line is all of it in one line, for the start, the end and the captain: what somebody
// should look at comes first, and "ok" stands only where there is nothing of that.
func (h Health) Line() string {
	var look, more []string
	for _, f := range h.facts() {
		switch {
		case f.Says == "":
		case f.Bad:
			look = append(look, "LOOK: "+f.Says)
		default:
			more = append(more, f.Says)
		}
	}
	if h.Health != "ok" || len(look) == 0 {
		look = append([]string{h.Health}, look...)
	}
	return strings.Join(append(look, more...), "; ")
}

// Bad tells whether somebody should do something.
func (h Health) Bad() bool {
	bad := h.Health != "ok"
	for _, f := range h.facts() {
		bad = bad || f.Bad
	}
	return bad
}

// Health asks the desk and the disk. Every place that says how the board is asks here.
func (s *Server) Health(ctx context.Context) Health {
	ctx, cancel := context.WithTimeout(ctx, healthWait)
	defer cancel()
	v, err := s.desk.State(ctx)
	own := s.desk.Store()
	h := Health{Health: "ok", Start: start(own.Opening()), Disk: disk(own.Free()), Clock: s.desk.ClockSaid()}
	if s.o.Copies != nil {
		h.Copy = copied(s.o.Copies.State(), s.desk.Now())
	}
	switch {
	case s.closing():
		h.Health = "restarting"
	case err != nil:
		h.Health = "the desk does not answer"
	case v.ReadOnly != "" || own.Healthy() != nil:
		h.Health = "read-only"
	}
	return h
}

// start is the fact of how the board came up.
func start(o store.Opening) Fact {
	says, bad := desk.Brief(o)
	return Fact{says, bad}
}

// copied is the fact of the copies of the board.
func copied(c copies.Copies, now board.Moment) Fact {
	if len(c.Folders)+len(c.Laptops) == 0 {
		return Fact{Says: "no copies kept"}
	}
	newest, failing, current := board.Moment(0), false, false
	for _, f := range c.Folders {
		newest, failing, current = max(newest, f.At), failing || f.Failing != "", current || f.Current
	}
	for _, l := range c.Laptops {
		newest, failing, current = max(newest, l.At), failing || l.Failing != "", current || l.Current
	}
	f := Fact{Says: "not copied yet", Bad: failing}
	if newest != 0 {
		f.Says = "last copy " + minutes(now.Sub(newest))
	}
	if current {
		f.Says += ", nothing changed since"
	}
	if failing {
		f.Says += ", a copy fails"
	}
	return f
}

// disk is the fact of the room on the board's disk, none where the system does not tell.
// It is bad before commands are refused.
func disk(free, least int64, known bool) Fact {
	if !known {
		return Fact{}
	}
	return Fact{Says: "disk " + bytesText(free) + " free", Bad: free/4 < least}
}

func minutes(ago time.Duration) string {
	switch {
	case ago < time.Minute:
		return "just now"
	case ago < 2*time.Hour:
		return fmt.Sprintf("%d min ago", ago/time.Minute)
	}
	return fmt.Sprintf("%d h ago", ago/time.Hour)
}

func bytesText(n int64) string {
	if n < 10<<30 {
		return fmt.Sprintf("%d MiB", n>>20)
	}
	return fmt.Sprintf("%d GiB", n>>30)
}

// healthz answers 200 when the desk answers and the board can be written to.
func (s *Server) healthz(w http.ResponseWriter, r *http.Request) {
	h := s.Health(r.Context())
	status := http.StatusOK
	if h.Health != "ok" {
		status = http.StatusServiceUnavailable
	}
	writeJSON(w, status, h)
}

// healthAnswer is how the board is, for its captain: by name.
type healthAnswer struct {
	Health
	Line string `json:"line"`
	// Bad: somebody should do something. Recovered says what was amiss with the board's
	// file when it was opened.
	Bad       bool     `json:"bad"`
	Recovered []string `json:"recovered"`
}

func (s *Server) health(w http.ResponseWriter, r *http.Request, _ caller) {
	h := s.Health(r.Context())
	writeJSON(w, http.StatusOK, healthAnswer{h, h.Line(), h.Bad(), s.Recovered()})
}

// Recovered says, with names, what was amiss with the board's file when it was opened.
func (s *Server) Recovered() []string {
	return desk.Recovered(s.desk.Store().Opening(), s.desk.View().State)
}
