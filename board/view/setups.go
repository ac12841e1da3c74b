package view

import (
	"fmt"
	"math"

	"mendline/board"
)

// Setups is what a robot weighs in each of its setups (setups/<robotID>); not
// there for a robot that has none and was never weighed.
type Setups struct {
	Robot board.RobotID `json:"robot"`
	// Limit is the class limit in the rule's own unit.
	Limit string `json:"limit"`
	// On is the setup that was named; Modules are those that are on.
	On      board.SetupID    `json:"on,omitzero"`
	Modules []board.ModuleID `json:"modules"`
	Now     Weight           `json:"now"`
	Weighed Reading          `json:"weighed,omitzero"`
	List    []SetupNow       `json:"list"`
	// Heaviest is the declared setup that rules the weigh-in.
	Heaviest board.SetupID `json:"heaviest,omitzero"`
	// DifferPct is how much the declared setups differ at most, in % of the limit.
	DifferPct float64 `json:"differPct,omitzero"`
	// Warns say what the officials may refuse; nothing is barred by it.
	Warns []string `json:"warns,omitempty"`
}

// Weight is a mass and how it stands to the limit.
type Weight struct {
	Grams float64         `json:"grams"`
	Word  board.MassWord  `json:"word"`
	Text  string          `json:"text"`
	Basis board.MassBasis `json:"basis"`
	// OverPct is how far it is over, in % of the limit; 0 where it is not.
	OverPct float64 `json:"overPct,omitzero"`
}

// Reading is the last weighing.
type Reading struct {
	Grams     float64      `json:"grams"`
	Scale     string       `json:"scale,omitzero"`
	StepGrams float64      `json:"stepGrams,omitzero"`
	By        string       `json:"by,omitzero"`
	At        board.Moment `json:"at"`
	// Stale says why it no longer holds; "" where it does.
	Stale string `json:"stale,omitzero"`
}

// SetupNow is one setup as it stands.
type SetupNow struct {
	Setup    board.SetupID `json:"setup"`
	Name     string        `json:"name"`
	Declared bool          `json:"declared"`
	Weight   Weight        `json:"weight"`
	// LikelySec and BadSec are the time to change to it from what is on, Untimed how
	// many of the changes have no time.
	LikelySec int       `json:"likelySec"`
	BadSec    int       `json:"badSec"`
	Untimed   int       `json:"untimed,omitzero"`
	Modules   []Wearing `json:"modules"`
	Against   []string  `json:"against"`
	Notes     string    `json:"notes,omitzero"`
	NotNeeded []string  `json:"notNeeded"`
	Record    []Fared   `json:"record"`
}

// Wearing is a module with what is left of it.
type Wearing struct {
	Module board.ModuleID `json:"module"`
	Slot   string         `json:"slot"`
	Name   string         `json:"name"`
	Grams  float64        `json:"grams"`
	On     bool           `json:"on"`
	// Left is how many fights it is still good for, below 0 where it is past them;
	// none where nobody said.
	Left *int `json:"left,omitzero"`
}

// Fared is how a setup did against one kind of opponent, "" for no kind said.
type Fared struct {
	Kind  string `json:"kind"`
	N     int    `json:"n"`
	Won   int    `json:"won"`
	Lost  int    `json:"lost"`
	Drawn int    `json:"drawn"`
}

func setupsOf(s board.State, r board.Robot) (Setups, bool) {
	fit := s.Fits[r.ID]
	v := Setups{Robot: r.ID, Limit: limitText(r.Class), On: fit.Setup, Modules: fit.Modules, Now: weightOf(s.MassIn(r.ID, fit.Modules), r.Class)}
	if w := fit.Weighed; w.At != 0 {
		v.Weighed = Reading{Grams: w.Grams, Scale: w.Scale, StepGrams: w.StepGrams, By: s.People[w.By].Name, At: w.At, Stale: s.WeighStale(r.ID)}
	}
	for _, setup := range s.SetupsOf(r.ID) {
		v.List = append(v.List, setupNow(s, r, setup))
	}
	if setup, _, ok := s.HeaviestDeclared(r.ID); ok {
		v.Heaviest, v.DifferPct = setup.ID, tenth(s.DifferPct(r.ID))
	}
	v.Warns = s.WeighWarnings(r.ID)
	return v, len(v.List) > 0 || v.Weighed.At != 0
}

func setupNow(s board.State, r board.Robot, setup board.Setup) SetupNow {
	n := SetupNow{
		Setup: setup.ID, Name: setup.Name, Declared: setup.Declared, Weight: weightOf(s.MassIn(r.ID, setup.Modules), r.Class),
		Against: setup.Against, Notes: setup.Notes, NotNeeded: setup.NotNeeded,
	}
	n.LikelySec, n.BadSec, n.Untimed = s.SwapTo(r.ID, setup.Modules)
	for _, id := range setup.Modules {
		n.Modules = append(n.Modules, wearing(s, s.Modules[id]))
	}
	for _, a := range s.RecordOf(setup.ID) {
		n.Record = append(n.Record, Fared{a.Kind, a.Fights, a.Won, a.Lost, a.Drawn})
	}
	return n
}

func wearing(s board.State, module board.Module) Wearing {
	w := Wearing{Module: module.ID, Slot: module.Slot, Name: module.Name, Grams: module.MassGrams}
	for _, id := range s.Fits[module.Robot].Modules {
		w.On = w.On || id == module.ID
	}
	if module.Lasts > 0 {
		left := module.Lasts - module.Worn
		w.Left = &left
	}
	return w
}

func weightOf(mass board.Mass, c board.Class) Weight {
	w := Weight{Grams: tenth(mass.Grams), Word: mass.Word(), Text: mass.Text(c.Unit), Basis: mass.Basis}
	if w.Word == board.MassOver {
		w.OverPct = math.Ceil(mass.OverGrams()/mass.LimitGrams*1000) / 10
	}
	return w
}

// limitText says a class limit in the rule's own unit, and in kilograms or grams.
func limitText(c board.Class) string {
	if !c.Said() {
		return "not said yet"
	}
	text := fmt.Sprintf("%g %s", c.Limit, c.Unit)
	if c.BonusPct > 0 {
		text += fmt.Sprintf(" and %g %%", c.BonusPct)
		if c.Bonus != "" {
			text += " for " + c.Bonus
		}
	}
	if g := c.LimitGrams(); g >= 10000 {
		return text + fmt.Sprintf(" (%.2f kg)", g/1000)
	} else if c.Unit != board.Gram || c.BonusPct > 0 {
		return text + fmt.Sprintf(" (%.1f g)", g)
	}
	return text
}

func tenth(x float64) float64 { return math.Round(x*10) / 10 }
