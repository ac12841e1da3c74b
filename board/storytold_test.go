package board_test

// What a story's command did, in words.

import (
	"fmt"
	"slices"
	"strings"

	. "mendline/board"
)

// changes says in words what a command did.
func (s *teller) changes(before State, ch Change) []string {
	var said []string
	for _, n := range ch.Put {
		was, _ := before.Get(n.Key())
		if words := s.change(was, n); words != "" {
			said = append(said, words)
		}
	}
	for _, k := range ch.Del {
		was, _ := before.Get(k)
		switch n := was.(type) {
		case Tag:
			said = append(said, s.s.People[n.Person].Name+"'s tag is off "+s.s.Robots[n.Robot].Name)
		case Hands:
			said = append(said, s.s.People[n.Person].Name+"'s hands are away from "+s.s.Robots[n.Robot].Name)
		}
	}
	slices.Sort(said)
	return said
}

func (s *teller) change(was, is Noun) string {
	switch n := is.(type) {
	case Power:
		old, _ := was.(Power)
		switch {
		case old.Stop.At != 0 && n.Stop.At == 0:
			return s.s.Robots[n.Robot].Name + ": the stop is lifted"
		case old.State == n.State && old.Why == n.Why:
			return ""
		}
		why := ""
		if n.Why != "" {
			why = ", because: " + n.Why
		}
		return fmt.Sprintf("%s: %s -> %s%s", s.s.Robots[n.Robot].Name, string(old.State), string(n.State), why)
	case Job:
		old, _ := was.(Job)
		if on := s.atWork(n); on != "" && old.State == n.State {
			return fmt.Sprintf("job %d, %s: %s at work", n.Number, n.Name, on)
		}
		owes := ""
		if n.State == JobFinished {
			owes = "(" + strings.Join(s.owes(n.ID), " ") + ")"
		}
		return strings.TrimSpace(fmt.Sprintf("job %d, %s: %s -> %s %s", n.Number, n.Name, or(string(old.State), "new"), string(n.State), owes))
	case Sheet:
		old, _ := was.(Sheet)
		return s.sheet(old, n)
	case Tag:
		return s.s.People[n.Person].Name + "'s tag is on " + s.s.Robots[n.Robot].Name
	case Hands:
		return s.s.People[n.Person].Name + "'s hands are near " + s.s.Robots[n.Robot].Name
	case Pack:
		return fmt.Sprintf("pack %s: %s, %s", n.Name, string(n.State), or(or(s.s.Places[n.Place].Name, s.s.Robots[n.Robot].Name), "nowhere on the board"))
	case Damage:
		return s.damage(n)
	case Fight:
		return strings.TrimSpace(fmt.Sprintf("fight %s %d: %s %s", n.Arena, n.Number, string(n.State), n.Result))
	case Stock:
		return fmt.Sprintf("%s: %d left", n.Name, n.Count)
	case Notice:
		if n.Taken != 0 {
			return s.s.People[n.Person].Name + " has read the notice"
		}
		return s.s.People[n.Person].Name + " has a notice: others took their tag or hands near off"
	case Robot:
		return n.Name + map[bool]string{true: " is withdrawn", false: " is on the board"}[n.Withdrawn]
	case Person:
		return n.Name + " is on the roster" + map[bool]string{true: ", a signer", false: ""}[n.Signer]
	}
	return ""
}

func (s *teller) atWork(j Job) string {
	var names []string
	for _, st := range j.AtWork() {
		names = append(names, s.s.People[st.By].Name)
	}
	return strings.Join(names, ", ")
}

func (s *teller) damage(d Damage) string {
	said := fmt.Sprintf("damage %d: %s, %s", d.Number, d.Part, d.Grade)
	if d.Grade == GX {
		said += ", can hurt people"
	}
	if d.Acceptor != "" {
		said += ", accepted by " + s.s.People[d.Acceptor].Name
	}
	if d.Looked.At != 0 {
		said += ", looked at by " + s.s.People[d.Looked.By].Name
	}
	return said
}

func (s *teller) sheet(was, is Sheet) string {
	switch {
	case is.State != SheetOpen && is.State != was.State:
		return fmt.Sprintf("sheet %s is %s", is.List, is.State)
	case was.ID == "":
		return fmt.Sprintf("sheet %s begins, with %s", is.List, lines(len(is.Lines)))
	}
	l, open := is.OpenLine()
	if !open {
		return fmt.Sprintf("sheet %s: a line is answered again", is.List)
	}
	return fmt.Sprintf("sheet %s, next: %s", is.List, l.Ask)
}

func lines(n int) string {
	if n == 1 {
		return "1 line"
	}
	return fmt.Sprint(n, " lines")
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
