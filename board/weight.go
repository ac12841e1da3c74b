package board

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mendline/board/estimate"
)

// MassBasis says what a mass is computed from.
type MassBasis string

// The bases: the last reading of a scale with modules and packs exchanged; the
// masses of the part map; nothing, so that the mass is not known.
const (
	FromScale MassBasis = "scale"
	FromParts MassBasis = "parts"
	FromNone  MassBasis = "none"
)

// MassWord says how a mass stands to the class limit.
type MassWord string

// The words. Close: the scale's step leaves it open.
const (
	MassUnder   MassWord = "under"
	MassOver    MassWord = "over"
	MassClose   MassWord = "close"
	MassUnknown MassWord = "unknown"
)

// Mass is what a robot weighs, or would weigh, in a choice of modules.
type Mass struct {
	Grams      float64
	LimitGrams float64
	// StepGrams is the step of the scale that was read; half of it either way is
	// not known.
	StepGrams float64
	Basis     MassBasis
}

// OverGrams is how far the mass is over the limit, negative where under.
func (mass Mass) OverGrams() float64 { return mass.Grams - mass.LimitGrams }

// convertGrams is what converting units may add to a mass, in grams: it alone
// never puts a robot over.
const convertGrams = 1e-6

// Word compares with the limit.
func (mass Mass) Word() MassWord {
	half := mass.StepGrams / 2
	switch over := mass.OverGrams(); {
	case mass.Basis == FromNone, mass.LimitGrams == 0:
		return MassUnknown
	case over > half+convertGrams:
		return MassOver
	case over > -half+convertGrams:
		return MassClose
	}
	return MassUnder
}

// Text says the difference in kilograms or grams, and in the rule's own unit:
// "over by 0.20 kg (0.45 lb)".
func (mass Mass) Text(unit MassUnit) string {
	if mass.LimitGrams == 0 {
		return "not known: nobody has said the class limit"
	}
	by := mass.inUnits(unit)
	switch mass.Word() {
	case MassUnknown:
		return "not known: weigh it once"
	case MassOver:
		return "over by " + by
	case MassClose:
		return "at the limit, within the scale's step: weigh it on the event's scale"
	}
	if mass.OverGrams() > -0.05 {
		return "at the limit to the gram: any scale may say over"
	}
	return "under by " + by
}

func (mass Mass) inUnits(unit MassUnit) string {
	off := math.Abs(mass.OverGrams())
	heavy := mass.LimitGrams >= 10000
	said := fmt.Sprintf("%.1f g", off)
	switch {
	case heavy && off >= 5:
		said = fmt.Sprintf("%.2f kg", off/1000)
	case off < 0.05:
		said = fmt.Sprintf("%.3f g", off)
	}
	switch {
	case unit == Pound && heavy:
		return said + fmt.Sprintf(" (%.2f lb)", off/Pound.grams())
	case unit == Pound:
		return said + fmt.Sprintf(" (%.4f lb)", off/Pound.grams())
	case unit == Kilogram && !heavy:
		return said + fmt.Sprintf(" (%.4f kg)", off/1000)
	}
	return said
}

// MassIn is what a robot would weigh with modules on and the packs that are in
// it; with none in, the heaviest that fit.
func (s State) MassIn(robot RobotID, modules []ModuleID) Mass {
	mass := Mass{LimitGrams: s.Robots[robot].Class.LimitGrams(), Basis: FromNone}
	w := s.Fits[robot].Weighed
	if w.At != 0 {
		mass.Basis, mass.StepGrams = FromScale, w.StepGrams
		mass.Grams = w.Grams - s.moduleGrams(w.Modules) + s.moduleGrams(modules) + s.packsSince(robot, w.Packs)
		return mass
	}
	for _, part := range inOrder(s.Parts) {
		if part.Robot == robot && !part.Retired && part.MassGrams > 0 {
			mass.Basis = FromParts
			mass.Grams += part.MassGrams
		}
	}
	if mass.Basis == FromParts {
		mass.Grams += s.moduleGrams(modules) + s.packsSince(robot, nil)
	}
	return mass
}

func (s State) moduleGrams(modules []ModuleID) float64 {
	sum := 0.0
	for _, id := range modules {
		sum += s.Modules[id].MassGrams
	}
	return sum
}

// packsSince is the mass of the packs that count now less those of a weighing; 0
// where a mass is not known.
func (s State) packsSince(robot RobotID, was []PackID) float64 {
	now := s.fitted(robot)
	if len(now) == 0 {
		now = s.heaviestPacks(robot)
	}
	sum := 0.0
	for i, id := range slices.Concat(now, was) {
		grams := s.Packs[id].MassGrams
		switch {
		case grams == 0:
			return 0
		case i < len(now):
			sum += grams
		default:
			sum -= grams
		}
	}
	return sum
}

// heaviestPacks are, for each use, the heaviest packs that fit a robot and are not
// set aside, as many as it takes.
func (s State) heaviestPacks(robot RobotID) []PackID {
	var ids []PackID
	for _, use := range []PackUse{UseMain, UseWeapon} {
		fit := Sorted(s.Packs, func(p Pack) string { return string(p.ID) })
		fit = slices.DeleteFunc(fit, func(p Pack) bool {
			return p.Use != use || p.Retired || p.State.setAside() || !slices.Contains(p.Fits, robot)
		})
		slices.SortStableFunc(fit, func(a, b Pack) int { return cmp.Compare(b.MassGrams, a.MassGrams) })
		for _, p := range fit[:min(len(fit), s.Robots[robot].Takes(use))] {
			ids = append(ids, p.ID)
		}
	}
	return ids
}

// SetupsOf lists a robot's setups by name.
func (s State) SetupsOf(robot RobotID) []Setup {
	all := Sorted(s.Setups, func(setup Setup) string { return setup.Name + string(setup.ID) })
	return slices.DeleteFunc(all, func(setup Setup) bool { return setup.Robot != robot || setup.Retired })
}

// HeaviestDeclared is the declared setup that the officials weigh, and its mass;
// false where none is declared.
func (s State) HeaviestDeclared(robot RobotID) (Setup, Mass, bool) {
	var heaviest Setup
	var most Mass
	found := false
	for _, setup := range s.SetupsOf(robot) {
		if mass := s.MassIn(robot, setup.Modules); setup.Declared && (!found || mass.Grams > most.Grams) {
			heaviest, most, found = setup, mass, true
		}
	}
	return heaviest, most, found
}

// DifferPct is how much the declared setups of a robot differ from each other at
// most: the heavier of what only one of two has on, in % of the class limit. Some
// rules allow 50 (differMostPct).
func (s State) DifferPct(robot RobotID) float64 {
	most := 0.0
	limit := s.Robots[robot].Class.LimitGrams()
	for _, a := range s.SetupsOf(robot) {
		for _, b := range s.SetupsOf(robot) {
			if a.Declared && b.Declared && limit > 0 {
				most = max(most, s.moduleGrams(without(a.Modules, b.Modules))/limit*100)
			}
		}
	}
	return most
}

// differMostPct is how much declared setups may differ where the rules say so.
// Source: a UK university's rules for its 1.5 kg class; title and year unknown.
const differMostPct = 50

// WeighWarnings says what the officials may refuse of a robot's setups whatever the
// scale reads now. Nothing is barred by it: rule sets differ.
func (s State) WeighWarnings(robot RobotID) []string {
	heaviest, most, ok := s.HeaviestDeclared(robot)
	if !ok {
		return nil
	}
	var list []string
	if most.Word() == MassOver {
		list = append(list, fmt.Sprintf("%s, the heaviest declared setup, is %s: lighten it, or take it off the declared ones before the weigh-in.", heaviest.Name, most.Text(s.Robots[robot].Class.Unit)))
	}
	if on, named := s.Setups[s.Fits[robot].Setup]; named && !on.Declared {
		list = append(list, fmt.Sprintf("%s is on and was not declared: declare it to the officials, or change it.", on.Name))
	}
	if pct := s.DifferPct(robot); pct > differMostPct {
		list = append(list, fmt.Sprintf("The declared setups differ by %.1f %% of the limit; some rule sets allow %d %%: ask the officials.", math.Ceil(pct*10)/10, differMostPct))
	}
	return list
}

func without(a, b []ModuleID) []ModuleID {
	return slices.DeleteFunc(slices.Clone(a), func(id ModuleID) bool { return slices.Contains(b, id) })
}

// SwapTo is the likely and the bad time, in seconds, to change a robot from what
// is on to a choice of modules, and how many of the changes have no time. A slot
// that stays empty counts as its module's own time.
func (s State) SwapTo(robot RobotID, modules []ModuleID) (likelySec, badSec, untimed int) {
	on := s.Fits[robot].Modules
	change := without(modules, on)
	for _, off := range without(on, modules) {
		if !slices.ContainsFunc(modules, func(id ModuleID) bool { return s.Modules[id].Slot == s.Modules[off].Slot }) {
			change = append(change, off)
		}
	}
	var times []estimate.Lognormal
	for _, id := range change {
		module := s.Modules[id]
		l, err := estimate.TwoPoint{LikelySec: float64(module.SwapSec), BadSec: float64(module.SwapBadSec)}.Lognormal()
		if err != nil {
			untimed++
			continue
		}
		times = append(times, l)
	}
	if sum, err := estimate.InARow(sameHands, times...); err == nil {
		both := sum.TwoPoint()
		likelySec, badSec = int(both.LikelySec+0.5), int(both.BadSec+0.5)
	}
	return likelySec, badSec, untimed
}

// SetupRecord is how a setup fared against one kind of opponent.
type SetupRecord struct {
	Kind                     string
	Fights, Won, Lost, Drawn int
}

// RecordOf lists how a setup fared, by kind of opponent; "" is of no kind said.
func (s State) RecordOf(setup SetupID) []SetupRecord {
	by := map[string]SetupRecord{}
	for _, f := range s.Fights {
		if f.Setup != setup || f.State != FightDone || !f.Result.fought() {
			continue
		}
		r := by[f.OpponentKind]
		r.Kind = f.OpponentKind
		r.Fights++
		switch f.Result {
		case Won:
			r.Won++
		case Lost:
			r.Lost++
		default:
			r.Drawn++
		}
		by[f.OpponentKind] = r
	}
	var list []SetupRecord
	for _, kind := range sortedNames(by) {
		list = append(list, by[kind])
	}
	return list
}
