// Package paper prints the board for the time when it is down: blank sheets of
// every robot's strip, tags and slips to cut out, the running order with its
// calls, a pack log. Plain HTML with one style sheet, no scripts.
package paper

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"time"

	"mendline/board"
	"mendline/board/forecast"
)

//go:embed *.html print.css
var files embed.FS

// Style is the style sheet of every page.
func Style() []byte {
	b, err := files.ReadFile("print.css")
	if err != nil {
		panic("paper: " + err.Error())
	}
	return b
}

// Printer prints a board as it is at a moment.
type Printer struct {
	State board.State
	At    board.Moment
	// Calls holds what the forecast says of each robot's next fight.
	Calls map[board.RobotID]forecast.Call

	page *template.Template
}

// New makes a printer of s at at.
func New(s board.State, at board.Moment, calls map[board.RobotID]forecast.Call) *Printer {
	return &Printer{State: s, At: at, Calls: calls, page: template.Must(template.ParseFS(files, "*.html"))}
}

// page is a whole page: its parts are printed one after the other.
type page struct {
	Title string
	Head  head
	Parts []part
}

// head stands above everything that is printed.
type head struct {
	Event, Printed string
	Rev            board.Rev
	// Card is what to do in an emergency: the officials', or the little that the
	// board says by itself.
	Card, CardBy, Contact string
	Order                 []step
}

// step is how one list of the event's own steps reads.
type step struct {
	What  string
	Steps []string
}

// part is one of the things to print; the others are nil.
type part struct {
	Head   head
	Index  *index
	Strip  *strip
	Tags   []tag
	Hands  []tag
	Order  []fight
	Packs  []pack
	Review []table
	Rules  []board.Rule
}

// noCard is all that is said of an emergency where no official's card is entered.
const noCard = "Raise the alarm – get clear – tell event safety."

func (p *Printer) head() head {
	e := p.State.Event()
	h := head{Event: e.Name, Printed: p.clock(p.At), Rev: p.State.Rev, Card: noCard, Contact: e.EmergencyContact}
	if h.Event == "" {
		h.Event = "Event without a name"
	}
	if e.Card.Text != "" {
		h.Card, h.CardBy = e.Card.Text, fmt.Sprintf("card approved by %s, entered %s", e.Card.ApprovedBy, p.clock(e.Entered.Card))
	}
	for _, list := range []step{{"Switching on, this event's order", e.ActivationOrder}, {"Switching off, this event's order", e.DeactivationOrder}} {
		if len(list.Steps) > 0 {
			h.Order = append(h.Order, list)
		}
	}
	return h
}

// clock is a moment as date and time of the event.
func (p *Printer) clock(m board.Moment) string {
	return m.Add(time.Duration(p.State.Event().OffsetMin) * time.Minute).Time().Format("2 Jan 15:04")
}

func (p *Printer) hour(m board.Moment) string {
	if m == 0 {
		return ""
	}
	return p.State.Clock(m)
}

func (p *Printer) print(w io.Writer, title string, parts ...part) error {
	h := p.head()
	for i := range parts {
		parts[i].Head = h
	}
	if err := p.page.ExecuteTemplate(w, "page", page{Title: title, Head: h, Parts: parts}); err != nil {
		return fmt.Errorf("print %s: %w", title, err)
	}
	return nil
}

// robots are those on the board, by their short number.
func (p *Printer) robots() []board.Robot {
	var list []board.Robot
	for _, r := range p.State.Robots {
		if !r.Retired {
			list = append(list, r)
		}
	}
	slices.SortFunc(list, func(a, b board.Robot) int { return a.Number - b.Number })
	return list
}

func (p *Printer) names(ids []board.PersonID) string {
	var names []string
	for _, id := range ids {
		names = append(names, p.State.People[id].Name)
	}
	return join(names)
}

func join(names []string) string { return strings.Join(names, ", ") }

// index lists all that can be printed.
type index struct{ Robots []board.Robot }

// Index is the page from which the others are printed.
func (p *Printer) Index(w io.Writer) error {
	return p.print(w, "Paper", part{Index: &index{p.robots()}})
}

// All prints everything, one after the other.
func (p *Printer) All(w io.Writer) error {
	var parts []part
	for _, r := range p.robots() {
		parts = append(parts, part{Strip: p.strip(r)})
	}
	parts = append(parts, part{Tags: p.tags()}, part{Hands: p.tags()}, part{Order: p.order()}, part{Packs: p.packs()})
	return p.print(w, "Everything on paper", parts...)
}

// Strip prints a robot's sheets; false where there is no such robot.
func (p *Printer) Strip(w io.Writer, id board.RobotID) (bool, error) {
	r, ok := p.State.Robots[id]
	if !ok || r.Retired {
		return false, nil
	}
	return true, p.print(w, "Sheets of "+r.Name, part{Strip: p.strip(r)})
}

// Tags prints tags to cut out, some for each robot.
func (p *Printer) Tags(w io.Writer) error { return p.print(w, "Tags", part{Tags: p.tags()}) }

// Hands prints slips that say that hands are near.
func (p *Printer) Hands(w io.Writer) error { return p.print(w, "Hands near", part{Hands: p.tags()}) }

// Order prints the running order.
func (p *Printer) Order(w io.Writer) error {
	return p.print(w, "Running order", part{Order: p.order()})
}

// Packs prints the pack log.
func (p *Printer) Packs(w io.Writer) error { return p.print(w, "Pack log", part{Packs: p.packs()}) }

// Rules prints the rules that the board keeps, each at an anchor of its number.
func (p *Printer) Rules(w io.Writer) error { return p.print(w, "Rules", part{Rules: board.Rules()}) }
