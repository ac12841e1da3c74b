package board

import (
	"fmt"
	"slices"
	"strings"
)

// spinDownSec is the time for a rotor to stop that most rules of the sport allow at
// most, in seconds (rules of a US group, 2026, derived from a widely used set: seen in
// summary). An event that gives less asks for less.
const spinDownSec = 60

// attendedMost is how many charges one person stays with, where less is not asked: our
// decision.
const attendedMost = 1

// relaxes says of one setting, by its name on the wire, where it asks for less than the
// board would by itself or than it did once; "" is nowhere.
type relaxes[N any] struct {
	field string
	says  func(State, N) string
}

func when(so bool, format string, args ...any) string {
	if !so {
		return ""
	}
	return fmt.Sprintf(format, args...)
}

var eventRelaxes = []relaxes[Event]{
	{"repairerMaySign", func(_ State, e Event) string {
		return when(e.RepairerMaySign, "The person who finished the last repair may sign.")
	}},
	{"minorsDrive", func(_ State, e Event) string {
		return when(e.MinorsDrive, "Minors may drive; an adult sees to lock and link and declares the robot live.")
	}},
	{"recheckSec", func(_ State, e Event) string {
		return when(e.RecheckSec > recheckSec, "Gas and capacitors again after %d min, not %d.", (e.RecheckSec+59)/60, recheckSec/60)
	}},
	{"spinDownSec", func(s State, e Event) string {
		if e.SpinDownSec == 0 {
			return when(s.spinsUntimed(), "Nobody has entered how long a rotor takes to stop: none is waited for.")
		}
		return when(e.SpinDownSec < spinDownSec, "A rotor counts as at rest %d s after the power is off, not %d.", e.SpinDownSec, spinDownSec)
	}},
	{"attendantMost", func(_ State, e Event) string {
		return when(e.AttendantMost > attendedMost, "One person may stay with %d charges at once.", e.AttendantMost)
	}},
	{"chargingPlaces", func(s State, e Event) string {
		var names []string
		for _, id := range e.ChargingPlaces {
			if place := s.Places[id]; place.Kind != PlaceCharging {
				names = append(names, place.Name+", "+place.Kind.one())
			}
		}
		return when(len(names) > 0, "Packs are charged where it is no charging place: %s.", strings.Join(names, "; "))
	}},
	{"loadIn", func(_ State, e Event) string {
		return when(e.Once.LoadIn && !e.LoadIn, "No load-in inspection any more before a test or signature.")
	}},
	{"failsafeAt", func(_ State, e Event) string {
		return when(e.Once.Failsafe && e.mayOweFailsafe(), "The failsafe may be owed to the officials; once it was proven under power.")
	}},
	{"hotWork", func(_ State, e Event) string {
		return when(e.Once.HotWork && !e.HotWork.Needed, "No permit any more to grind and weld.")
	}},
}

var robotRelaxes = []relaxes[Robot]{
	{"energies", func(_ State, r Robot) string {
		once := Robot{RobotFields: RobotFields{Energies: r.Once.Energies}}
		less := energyLess(once, r)
		if n, had := len(r.links()), r.Once.Links; n < had {
			less = append(less, fmt.Sprintf("%d to take out for its power, not %d", n, had))
		}
		return when(len(less) > 0, "%s: %s.", r.Name, strings.Join(less, "; "))
	}},
	{"locks", func(_ State, r Robot) string {
		had := Robot{RobotFields: RobotFields{Locks: r.Once.Locks}}
		return when(len(r.Once.Locks) > len(r.heldBy()), "%s: its weapon is held by less than once: %s.", r.Name, had.lockName())
	}},
	{"mainPacks", func(_ State, r Robot) string {
		return when(r.Once.MainPacks > r.Takes(UseMain), "%s: how many main packs are in it at the signature: %d, once %d.", r.Name, r.Takes(UseMain), r.Once.MainPacks)
	}},
	{"weaponPacks", func(s State, r Robot) string {
		takes := s.takesForWeapon(r)
		return when(r.Once.WeaponPacks > takes, "%s: how many weapon packs are in it at the signature: %d, once %d.", r.Name, takes, r.Once.WeaponPacks)
	}},
	{"class", func(_ State, r Robot) string {
		had := r.Once.LimitGrams
		return when(had > 0 && r.Class.LimitGrams() > had*(1+1e-9), "%s: its class limit was raised: %.1f g, once %.1f g.", r.Name, r.Class.LimitGrams(), had)
	}},
	{"secondVerifier", func(_ State, r Robot) string {
		return when(r.Once.SecondVerifier && !r.SecondVerifier, "%s: whoever isolated it may verify it; once a second person did.", r.Name)
	}},
}

var templateRelaxes = []relaxes[Template]{
	{"triage", func(_ State, template Template) string {
		return when(template.Once.Must && template.Triage != Must, "%s (%s) is no must any more.", template.Name, template.Size)
	}},
	{"fixes", func(_ State, template Template) string {
		var less []string
		for _, fix := range template.Fixes {
			if once := template.Once.of(fix); len(once.asksMore(fix)) > 0 {
				less = append(less, fix.Name+" without "+listNames(once.asksMore(fix)))
			} else if fix.bare() {
				less = append(less, fix.Name+" in the robot without lockout")
			}
		}
		return when(len(less) > 0, "%s (%s): %s.", template.Name, template.Size, strings.Join(less, "; "))
	}},
}

var placeRelaxes = []relaxes[Place]{
	{"name", func(_ State, place Place) string {
		return when(place.Once.Name != "" && place.Once.Name != place.Name, "%s was called %s.", place.Name, place.Once.Name)
	}},
	{"kind", func(_ State, place Place) string {
		return when(place.Once.Kind != "" && place.Once.Kind != place.Kind, "%s was of the kind %s and is of the kind %s now.", place.Name, place.Once.Kind, place.Kind)
	}},
	{"inSight", func(s State, place Place) string {
		var seen []string
		for _, id := range place.InSight {
			seen = append(seen, s.Places[id].Name)
		}
		return when(len(seen) > 0, "Whoever stays with a charge at %s may work at %s: it is in sight.", listNames(seen), place.Name)
	}},
}

// Relaxed lists, in sentences, every setting that asks for less than the board
// would by itself, or than it did once. They are shown where everyone reads them.
func (s State) Relaxed() []string {
	all := s.relaxedForAll()
	for _, r := range Sorted(s.Robots, func(r Robot) string { return r.Name + string(r.ID) }) {
		if !r.Retired {
			all = append(all, said(s, r, robotRelaxes)...)
		}
	}
	for _, template := range Sorted(s.Templates, func(template Template) string { return template.Name + string(template.ID) }) {
		if !template.Retired {
			all = append(all, said(s, template, templateRelaxes)...)
		}
	}
	return all
}

// RelaxedFor lists those of them that matter to one robot.
func (s State) RelaxedFor(robot RobotID) []string {
	return append(s.relaxedForAll(), said(s, s.Robots[robot], robotRelaxes)...)
}

func (s State) relaxedForAll() []string {
	all := said(s, s.Event(), eventRelaxes)
	for _, list := range allLists {
		wording := s.Wordings[list]
		if out := wording.leftOut(); len(out) > 0 {
			all = append(all, fmt.Sprintf("The %s sheet leaves out: %s.", list, listNames(out)))
		}
		if other := wording.reworded(); len(other) > 0 {
			all = append(all, fmt.Sprintf("The %s sheet has other words for: %s.", list, listNames(other)))
		}
	}
	for _, place := range Sorted(s.Places, func(place Place) string { return place.Name + string(place.ID) }) {
		if !place.Retired {
			all = append(all, said(s, place, placeRelaxes)...)
		}
	}
	return all
}

// spinsUntimed tells whether a robot has a rotor and no time of its own for it to stop.
func (s State) spinsUntimed() bool {
	for _, r := range s.Robots {
		if !r.Retired && slices.ContainsFunc(r.Energies, func(energy Energy) bool { return energy.Kind == EnergySpin && energy.RestSec == 0 }) {
			return true
		}
	}
	return false
}

func said[N any](s State, n N, table []relaxes[N]) []string {
	var all []string
	for _, relax := range table {
		if text := relax.says(s, n); text != "" {
			all = append(all, text)
		}
	}
	return all
}

// reworded lists the lines of the board's own that a wording gives other words.
func (wording Wording) reworded() []string {
	if len(wording.Lines) == 0 {
		return nil
	}
	var ids []string
	for _, own := range listed(wording.List).Lines {
		for _, worded := range wording.Lines {
			other := func(is, own string) bool { return is != "" && is != own }
			if worded.ID == own.ID && (other(worded.Ask, own.Ask) || other(worded.Touch, own.Touch) || other(worded.Say, own.Say) || other(worded.Not, own.Not)) {
				ids = append(ids, own.ID)
			}
		}
	}
	return ids
}

// RobotOnce is the most that a robot has asked; EventOnce what the event has.
type RobotOnce struct {
	Energies       []Energy `json:"energies,omitempty"`
	Links          int      `json:"links,omitzero"`
	Locks          []Lock   `json:"locks,omitempty"`
	SecondVerifier bool     `json:"secondVerifier,omitzero"`
	MainPacks      int      `json:"mainPacks,omitzero"`
	WeaponPacks    int      `json:"weaponPacks,omitzero"`
	// LimitGrams is the lowest limit of its class.
	LimitGrams float64 `json:"limitGrams,omitzero"`
}

// EventOnce is what the event has asked and may be without.
type EventOnce struct {
	LoadIn  bool `json:"loadIn,omitzero"`
	HotWork bool `json:"hotWork,omitzero"`
	// Failsafe says that it was to be proven under power.
	Failsafe bool `json:"failsafe,omitzero"`
}

// TemplateOnce is the most that a kind of job has asked, of each fix by its name.
type TemplateOnce struct {
	Must  bool  `json:"must,omitzero"`
	Fixes []Fix `json:"fixes,omitempty"`
}

// of is what a fix asked at most. One of another name asks less where it asks less than
// each that there was, and is held to the first.
func (once TemplateOnce) of(fix Fix) Fix {
	i := slices.IndexFunc(once.Fixes, func(o Fix) bool { return o.Name == fix.Name })
	if i >= 0 {
		return once.Fixes[i]
	}
	if len(once.Fixes) == 0 || slices.ContainsFunc(once.Fixes, func(o Fix) bool { return len(o.asksMore(fix)) == 0 }) {
		return fix
	}
	return once.Fixes[0]
}

func (once TemplateOnce) after(was TemplateFields) TemplateOnce {
	most := TemplateOnce{Must: once.Must || was.Triage == Must, Fixes: slices.Clone(once.Fixes)}
	for _, fix := range was.Fixes {
		i := slices.IndexFunc(most.Fixes, func(o Fix) bool { return o.Name == fix.Name })
		if i < 0 {
			if len(once.of(fix).asksMore(fix)) == 0 {
				most.Fixes = append(most.Fixes, fix)
			}
			continue
		}
		o := most.Fixes[i]
		o.Lockout, o.PackOut = o.Lockout || fix.Lockout, o.PackOut || fix.PackOut
		if fix.Where != OffRobot {
			o.Where = fix.Where
		}
		o.Touches = slices.Clone(o.Touches)
		for _, y := range fix.Touches {
			if !slices.Contains(o.Touches, y) {
				o.Touches = append(o.Touches, y)
			}
		}
		most.Fixes[i] = o
	}
	return most
}

// PlaceOnce is how a place was called, and what it was for, before it was changed.
type PlaceOnce struct {
	Name string    `json:"name,omitzero"`
	Kind PlaceKind `json:"kind,omitzero"`
}

// after is the most that a robot has asked, with what it asked before a change.
func (once RobotOnce) after(was Robot) RobotOnce {
	once.Energies = slices.Clone(once.Energies)
	for _, energy := range was.Energies {
		i := slices.IndexFunc(once.Energies, func(o Energy) bool { return o.Kind == energy.Kind })
		if i < 0 {
			once.Energies = append(once.Energies, energy)
			continue
		}
		once.Energies[i].RestSec = max(once.Energies[i].RestSec, energy.RestSec)
		if energy.Reach == Outside {
			once.Energies[i].Reach = Outside
		}
	}
	once.Links = max(once.Links, len(was.links()))
	if held := was.heldBy(); was.asksLock() && len(held) > len(once.Locks) {
		once.Locks = held
	}
	if had := was.Class.LimitGrams(); was.Class.Said() && (once.LimitGrams == 0 || had < once.LimitGrams) {
		once.LimitGrams = had
	}
	once.SecondVerifier = once.SecondVerifier || was.SecondVerifier
	once.MainPacks, once.WeaponPacks = max(once.MainPacks, was.MainPacks), max(once.WeaponPacks, was.WeaponPacks)
	return once
}

func (once EventOnce) after(was EventFields) EventOnce {
	return EventOnce{
		LoadIn: once.LoadIn || was.LoadIn, HotWork: once.HotWork || was.HotWork.Needed, Failsafe: once.Failsafe || !was.mayOweFailsafe(),
	}
}

// after keeps what a place was before the first change: of what it is for, and of its
// name while something stands there.
func (once PlaceOnce) after(was, is Place, used bool) PlaceOnce {
	if once.Kind == "" && was.Kind != is.Kind {
		once.Kind = was.Kind
	}
	if once.Name == "" && was.Name != is.Name && used {
		once.Name = was.Name
	}
	return once
}

// used tells whether anything is at a place, or is charged there.
func (s State) used(place PlaceID) bool {
	if len(s.standAt(place)) > 0 || slices.Contains(s.Event().ChargingPlaces, place) {
		return true
	}
	for _, p := range s.Packs {
		if p.Place == place && !p.Retired {
			return true
		}
	}
	return false
}
