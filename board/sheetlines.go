package board

import (
	"slices"
	"strings"
)

// sheetVersion numbers the wording below. A sheet keeps the lines it was begun
// with.
const sheetVersion = 5

// The parts of the make-safe sheet, in their order.
const (
	partDown    = "down"
	partIsolate = "isolate"
	partVerify  = "verify"
	partSign    = "sign"
)

const massUnit = "g"

// linesOf writes a robot's sheet. The steps and their order follow 29 CFR
// 1910.147(d) and (e) in our own words; the wording is ours.
func (s State) linesOf(r Robot, list SheetList) []Line {
	return s.worded(r, list, s.ownLinesOf(r, list))
}

// SheetLines are the lines that a robot's sheet would be begun with now.
func (s State) SheetLines(r Robot, list SheetList) []Line { return s.linesOf(r, list) }

// OfVerifying tells whether the line is part of verifying.
func (l Line) OfVerifying() bool { return l.Part == partVerify }

// ownLinesOf are the lines of a sheet in the board's own words.
func (s State) ownLinesOf(r Robot, list SheetList) []Line {
	switch list {
	case ListMakeSafe:
		return s.makeSafeLines(r)
	case ListFirstIn:
		return s.firstInLines(r)
	case ListInspect:
		return inspectLines(r)
	case ListReopen:
		return reopenLines(r)
	case ListCloseUp:
		return s.closeUpLines(r)
	case ListReady:
		return s.readyLines(r)
	case ListLoadIn:
		return loadInLines(r)
	case ListOvernight:
		return overnightLines(r)
	case ListPackUp:
		return packUpLines(r)
	}
	return nil
}

func (s State) makeSafeLines(r Robot) []Line {
	lines := append(lockLines(r, partDown), linkLines(r, partDown)...)
	lines = append(lines, Line{
		ID: "radio", Part: partDown, Kind: LineDo, Ask: "Transmitter: off, and in whose hands?", Touch: "the transmitter",
		Say: "OFF, HELD", Not: "still on", Covers: []System{SysRadio},
	})
	for i, energy := range r.Energies {
		if l, ok := energyLine(energy, i); ok && energy.Reach == Outside {
			l.Part = partIsolate
			lines = append(lines, l)
		}
	}
	for _, p := range s.packsIn(r.ID) {
		lines = append(lines, Line{
			ID: "look-" + string(p.ID), Part: partIsolate, Kind: LineLook, Pack: p.ID,
			Ask: "Pack " + p.Name + " from outside: whole, no smoke, swelling or smell?", Touch: "nothing yet",
			Say: "LOOKS WHOLE", Not: "set aside", Covers: []System{SysPack},
		})
	}
	return append(lines,
		Line{ID: "blocks", Part: partIsolate, Kind: LineDo, Ask: "Blocked up, nothing raised or loaded left to move?", Touch: "the blocks",
			Say: "BLOCKED UP", Not: "not yet"},
		Line{ID: "try", Part: partVerify, Kind: LineDo, Ask: "People away, tried to start by transmitter: did all stay still?", Touch: "nothing",
			Say: "STAYED STILL", Not: "it moved", Verifies: true, Covers: []System{SysWeapon, SysDrive}},
		Line{ID: "light", Part: partVerify, Kind: LineDo, Ask: "Power light: dark?", Touch: "the light",
			Say: "DARK", Not: "lit", NotFitted: true, Verifies: true, Covers: []System{SysLight}},
	)
}

// reopenLines ask for the lock and the link again, and for what may have built up
// while the robot was closed.
func reopenLines(r Robot) []Line {
	lines := append(lockLines(r, partDown), linkLines(r, partDown)...)
	for i, energy := range r.Energies {
		if l, ok := energyLine(energy, i); ok && energy.Reach == Outside && energy.Kind.buildsUp() {
			l.Part = partDown
			lines = append(lines, l)
		}
	}
	return lines
}

// linkLines asks once for each isolator of electric power, in the robot's order.
func linkLines(r Robot, part string) []Line {
	var lines []Line
	for i, energy := range r.links() {
		lines = append(lines, Line{
			ID: "link-" + itoa(i+1), Part: part, Kind: LineDo, Ask: upper(energy.Isolator) + ": out, and in a pocket?", Touch: "the link",
			Say: "LINK OUT", Not: "not out", Covers: []System{SysLink}, Energy: energy.Kind,
		})
	}
	return lines
}

// links are the isolators of electric power that are reached from outside, each
// with the first energy it isolates.
func (r Robot) links() []Energy {
	var list []Energy
	for _, energy := range r.Energies {
		electric := energy.Kind == EnergyWeapon || energy.Kind == EnergyDrive
		if electric && energy.Reach == Outside && !slices.ContainsFunc(list, func(o Energy) bool { return o.Isolator == energy.Isolator }) {
			list = append(list, energy)
		}
	}
	return list
}

// energyLine asks for one stored energy. Electric power has its link line unless
// it can only be reached inside.
func energyLine(energy Energy, i int) (Line, bool) {
	l := Line{ID: string(energy.Kind) + "-" + itoa(i+1), Kind: LineDo, Touch: energy.Isolator, Energy: energy.Kind}
	switch energy.Kind {
	case EnergyWeapon, EnergyDrive:
		if energy.Reach == Outside {
			return Line{}, false
		}
		l.Ask, l.Say, l.Not = upper(energy.Isolator)+": unplugged?", "UNPLUGGED", "still in"
	case EnergyGas:
		l.Kind, l.Unit, l.Verifies = LineNumber, "bar", true
		l.Ask, l.Say, l.Not = "Gas shut off and bled: what does the gauge read?", "THE GAUGE READS", "not bled"
	case EnergyHydraulic:
		l.Kind, l.Unit, l.Verifies = LineNumber, "bar", true
		l.Ask, l.Say, l.Not = "Hydraulics bled: what does the gauge read?", "THE GAUGE READS", "not bled"
	case EnergySpring:
		l.Ask, l.Say, l.Not = "Spring: relaxed or pinned?", "RELAXED OR PINNED", "still loaded"
	case EnergySpin:
		l.Ask, l.Say, l.Not, l.Verifies = "Rotor: at rest, seen by eye?", "AT REST", "still turning", true
	case EnergyArm:
		l.Ask, l.Say, l.Not = "Arm: down, or propped?", "DOWN OR PROPPED", "still up"
	case EnergyCapacitor:
		l.Ask, l.Say, l.Not = "Capacitors: waited out as the maker says?", "WAITED OUT", "not yet"
	case EnergyHeat:
		l.Ask, l.Say, l.Not = "Hot parts: marked, or cool by now?", "MARKED OR COOL", "not yet"
	}
	return l, true
}

func (s State) firstInLines(r Robot) []Line {
	var lines []Line
	for i, energy := range r.Energies {
		if l, ok := energyLine(energy, i); ok && energy.Reach == Inside {
			l.Part = partFirstIn
			lines = append(lines, l)
		}
	}
	for _, p := range append(s.packsIn(r.ID), s.outUnsaid(r)...) {
		lines = append(lines, p.outLine())
	}
	return lines
}

// inspectLines are the five groups of the inspection, in a fixed order; what
// they find becomes damage.
func inspectLines(r Robot) []Line {
	ask, touch := "Armour, fasteners, and does "+r.lockTouch()+" still fit?", r.lockTouch()
	switch len(r.heldBy()) {
	case 0:
		ask, touch = "Armour and fasteners: all there and whole?", "each corner"
	case 1:
	default:
		ask = "Armour, fasteners, and do " + r.lockTouch() + " still fit?"
	}
	group := func(id, ask, touch string, covers ...System) Line {
		return Line{ID: id, Part: partInspect, Kind: LineDo, Ask: ask, Touch: touch, Say: "LOOKED AT", Not: "not yet", Covers: covers}
	}
	return []Line{
		group("weapon", "Weapon, hub, bearings, belt and motor: looked at for cracks?", "root and bolt holes", SysWeapon),
		group("frame", "Frame flat, joints, welds and inserts: looked at?", "each corner", SysStructure),
		group("drive", "Wheels, shafts, gearboxes and chains: turned by hand?", "each wheel", SysDrive),
		group("electrics", "Wires, connectors, controllers and radio: pulled gently?", "each connector", SysRadio, SysLight),
		group("lock", ask, touch, SysLock, SysStructure),
	}
}

func (s State) closeUpLines(r Robot) []Line {
	line := func(id, ask, touch, say, not string, covers ...System) Line {
		return Line{ID: id, Part: partCloseUp, Kind: LineDo, Ask: ask, Touch: touch, Say: say, Not: not, Covers: covers}
	}
	lines := append([]Line{
		line("inside", "Inside: no tool, swarf or loose bolt left?", "the floor of the robot", "NOTHING LEFT", "something there", SysStructure),
	}, s.packLines(r)...)
	lines = append(lines,
		line("bolts", "Bolts: tight, and each one marked?", "each marked bolt", "ALL MARKED", "not all", SysStructure),
		line("tools", "Tools counted: all back in their places?", "the tool roll", "ALL BACK", "one missing", SysStructure),
		line("covers", "Covers: on, all their bolts in?", "each cover", "COVERS ON", "not on", SysStructure),
	)
	lines = append(lines, lockLines(r, partCloseUp)...)
	lines = append(lines, linkLines(r, partCloseUp)...)
	return append(lines, Line{
		ID: "told", Part: partCloseUp, Kind: LineTold, Ask: "Who at the bench was told that it is closed up?", Touch: "nothing", Say: "TOLD", Not: "nobody yet",
	})
}

// packLines asks for each pack that the robot takes, or that is in it, which one it is.
// All but the first may be left out.
func (s State) packLines(r Robot) []Line {
	l := Line{ID: "pack", Part: partCloseUp, Kind: LinePack, Ask: "Charged pack in, strapped, connector pulled: which one?", Touch: "the strap",
		Say: "PACK IN", Not: "not in", Covers: []System{SysPack}}
	in := slices.DeleteFunc(s.packsIn(r.ID), func(p Pack) bool { return p.Use == UseTransmitter })
	count := max(len(in), r.Takes(UseMain)+s.takesForWeapon(r))
	if count == 1 {
		return []Line{l}
	}
	var lines []Line
	for i := range count {
		if i > 0 {
			l.ID, l.NotFitted = "pack-"+itoa(i+1), true
		}
		l.Ask = "Charged pack " + itoa(i+1) + " of " + itoa(count) + " in, strapped, connector pulled: which one?"
		lines = append(lines, l)
	}
	return lines
}

func (s State) readyLines(r Robot) []Line {
	strap := Line{ID: "strap", Part: partReady, Kind: LineDo, Ask: "Link out, lifted or strapped for the way?", Touch: "the link", Say: "LINK OUT", Not: "not yet", Covers: []System{SysLock, SysLink}}
	if len(r.heldBy()) > 0 {
		strap.Ask = upper(r.lockPlaced(Lock.name)) + ", link out, lifted or strapped for the way?"
		strap.Touch, strap.Say = r.lockTouch(), r.lockSay()+", LINK OUT"
	}
	return append(s.senderLines(r), []Line{
		{ID: "failsafe", Part: partReady, Kind: LineProof, Ask: "Failsafe: proven with this radio, or owed to the officials?", Touch: "the transmitter",
			Say: "PROVEN", Not: "not yet", Covers: []System{SysRadio, SysDrive, SysWeapon}},
		{ID: "mass", Part: partReady, Kind: LineNumber, Unit: massUnit, Most: r.Class.LimitGrams(), Ask: "On the scale as it will fight: how many grams?", Touch: "the scale",
			Say: "THE SCALE READS", Not: "not weighed", Covers: []System{SysMass}},
		strap,
		{ID: "sign", Part: partSign, Kind: LineSign, Ask: "Looked it over with your own eyes: sign " + r.Name + " ready?", Touch: r.Name,
			Say: "SIGN " + strings.ToUpper(r.Name), Not: "not ready"},
	}...)
}

// loadInLines are what events look at when a robot arrives, with its power off;
// the event words them, takes out and adds what its own rules ask.
func loadInLines(r Robot) []Line {
	line := func(id, ask, touch, say, not string, covers ...System) Line {
		return Line{ID: id, Part: partLoadIn, Kind: LineDo, Ask: ask, Touch: touch, Say: say, Not: not, NotFitted: true, Covers: covers}
	}
	var lines []Line
	switch len(r.heldBy()) {
	case 0:
	case 1:
		lines = append(lines, line("lock", upper(r.lockName())+": fits, holds the weapon, seen from afar?", r.lockTouch(), "IT HOLDS", "not yet", SysLock))
	default:
		lines = append(lines, line("lock", upper(r.lockName())+": fit, hold the weapon, seen from afar?", r.lockTouch(), "THEY HOLD", "not yet", SysLock))
	}
	return append(lines,
		line("link", "Link or switch: reached from outside, out of the weapon's path?", "the link", "REACHED", "not yet", SysLink),
		line("light", "Power light: where it is seen from outside?", "the light", "SEEN", "not yet", SysLight),
		line("edges", "Sharp edges: covered?", "each edge", "COVERED", "not yet", SysStructure),
		line("blocks", "Blocks or stand: wheels or legs off the ground on it?", "the blocks", "OFF THE GROUND", "not yet"),
		line("packs", "Packs: held firmly, nothing sharp near them?", "the strap", "HELD", "not yet", SysPack))
}

func (r Robot) has(k EnergyKind) bool {
	for _, energy := range r.Energies {
		if energy.Kind == k {
			return true
		}
	}
	return false
}

// packsIn lists the packs recorded in a robot that are still for use.
func (s State) packsIn(robot RobotID) []Pack {
	var in []Pack
	for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name + string(p.ID) }) {
		if p.Robot == robot && !p.Retired {
			in = append(in, p)
		}
	}
	return in
}

// upper makes the first letter a capital.
func upper(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
