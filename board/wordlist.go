package board

import (
	"slices"
	"strings"
)

// Listed is a list of lines in the board's own words, for those who reword it.
type Listed struct {
	List  SheetList    `json:"list"`
	Lines []ListedLine `json:"lines"`
}

// ListedLine is one line of a list, or a family of them: one for each link, pack
// or energy, with {name} for what it is about.
type ListedLine struct {
	ID   string   `json:"id"`
	Part string   `json:"part"`
	Kind LineKind `json:"kind,omitzero"`
	// Kept says that the line carries a rule and cannot be taken out; Many that its
	// question needs {name}.
	Kept  bool   `json:"kept,omitzero"`
	Many  bool   `json:"many,omitzero"`
	Ask   string `json:"ask,omitzero"`
	Touch string `json:"touch,omitzero"`
	Say   string `json:"say,omitzero"`
	Not   string `json:"not,omitzero"`
}

var allLists = []SheetList{ListMakeSafe, ListFirstIn, ListInspect, ListCloseUp, ListReopen, ListReady, ListLoadIn, ListOvernight, ListPackUp}

// Lists gives every list of lines in the board's own words and order.
func Lists() []Listed {
	var all []Listed
	for _, list := range allLists {
		all = append(all, listed(list))
	}
	return all
}

// listed is one of them.
func listed(list SheetList) Listed {
	s, r := patternRobot(list)
	lines := s.ownLinesOf(r, list)
	of := Listed{List: list}
	for _, k := range slots(list) {
		l := ListedLine{ID: k.id, Part: k.part, Kept: k.kept, Many: manyOf(list, k.id)}
		if i := slices.IndexFunc(lines, func(l Line) bool { return slotID(l) == k.id }); i >= 0 {
			from := lines[i]
			l.Kind, l.Ask, l.Touch, l.Say, l.Not = from.Kind, from.Ask, from.Touch, strings.ReplaceAll(from.Say, "{NAME}", "{name}"), from.Not
		}
		of.Lines = append(of.Lines, l)
	}
	return of
}

// patternRobot has every energy and a pack, each named {name}: all from inside for
// the first-in list, else from outside.
func patternRobot(list SheetList) (State, Robot) {
	const name = "{name}"
	r := Robot{ID: "pattern", RobotFields: RobotFields{Name: name}}
	reach := Outside
	if list == ListFirstIn {
		reach = Inside
	}
	for _, k := range []EnergyKind{EnergyWeapon, EnergyDrive, EnergyGas, EnergyHydraulic, EnergySpring, EnergySpin, EnergyArm, EnergyCapacitor, EnergyHeat} {
		r.Energies = append(r.Energies, Energy{Kind: k, Isolator: name, Reach: reach})
	}
	return State{Packs: map[PackID]Pack{"pattern": {ID: "pattern", PackFields: PackFields{Name: name}, Robot: r.ID}}}, r
}
