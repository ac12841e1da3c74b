package boardtest

import (
	"reflect"
	"slices"

	"pgregory.net/rapid"

	. "mendline/board"
	"mendline/board/charge"
)

// records enters, changes and takes off what the board keeps of things and people,
// mostly of what was entered on the way, so that the cast stays together. Names are
// few, so that they clash.
func (w *Walker) records() Command {
	return evenly(w, "record", []func() Command{
		w.people, w.robots, w.places, w.stations, w.stocks, w.circuits, w.channels, w.packRecords, w.templates,
		w.parts, w.joints, w.modules, w.setups, w.constructions, w.settings,
	})()
}

// record enters one, changes one of a table or takes one off.
func record[ID ~string, N any](w *Walker, table map[ID]N, add Command, change func(ID, N) Command, retire func(ID) Command) Command {
	all := ordered(table)
	own := slices.DeleteFunc(slices.Clone(all), func(id ID) bool { return w.Cast.holds(string(id)) })
	switch what := evenly(w, "what", []int{0, 1, 2, 3, 4, 5, 6, 7}); {
	case what < 3 && len(all) > 0:
		id := rapid.SampledFrom(all).Draw(w.RT, "changed")
		return change(id, table[id])
	case what < 5 && len(own) > 0:
		return retire(rapid.SampledFrom(own).Draw(w.RT, "own"))
	case what == 5 && len(all) > 0 && rapid.Bool().Draw(w.RT, "of the cast"):
		return retire(rapid.SampledFrom(all).Draw(w.RT, "any"))
	}
	return add
}

// holds tells whether an id is of one of the cast.
func (c Cast) holds(id string) bool {
	v := reflect.ValueOf(c)
	for i := range v.NumField() {
		if v.Field(i).String() == id {
			return true
		}
	}
	return false
}

func (w *Walker) name() string {
	return evenly(w, "name", []string{"one", "two", "three", "four", "five", "six", "seven", " spaced", "", "One", "ＴＷＯ", "three ", "fo\u200bur", "Test  Box"})
}

func (w *Walker) number(label string, low, high int) int {
	return rapid.IntRange(low, high).Draw(w.RT, label)
}

func (w *Walker) place() PlaceID {
	return rapid.SampledFrom(append(ordered(w.state.Places), "")).Draw(w.RT, "place")
}

func (w *Walker) people() Command {
	authority := rapid.SampledFrom([][]EnergyKind{nil, {EnergyDrive}, {EnergyWeapon, EnergyDrive, EnergySpin, EnergyGas, EnergyCapacitor}}).Draw(w.RT, "authority")
	return record(w, w.state.People,
		PersonAdd{PersonFields: PersonFields{Name: w.name(), Role: RoleCrew, Authorised: authority, Guest: rapid.Bool().Draw(w.RT, "guest")}},
		func(id PersonID, p Person) Command {
			p.Authorised, p.Signer = authority, rapid.Bool().Draw(w.RT, "signer")
			p.Name = rapid.SampledFrom([]string{p.Name, p.Name, w.name()}).Draw(w.RT, "renamed")
			return PersonChange{Person: id, PersonFields: p.PersonFields, Reason: rapid.SampledFrom([]string{"", "has seen many"}).Draw(w.RT, "why")}
		},
		func(id PersonID) Command { return PersonRetire{Person: id} })
}

func (w *Walker) robots() Command {
	f := w.moth()
	f.Name, f.Number = w.name(), w.number("number", 0, 4)
	return record(w, w.state.Robots, RobotAdd{RobotFields: f, Reason: rapid.SampledFrom([]string{"", "as it is built"}).Draw(w.RT, "why")},
		func(id RobotID, r Robot) Command {
			r.Lead, r.SecondVerifier = rapid.SampledFrom([]PersonID{w.Ada, w.Ben, ""}).Draw(w.RT, "lead"), rapid.Bool().Draw(w.RT, "second")
			r.Class.Limit = rapid.SampledFrom([]float64{2.9, 3, 3.1}).Draw(w.RT, "limit")
			r.Name = rapid.SampledFrom([]string{r.Name, r.Name, r.Name, w.name()}).Draw(w.RT, "renamed")
			return evenly(w, "of robot", []Command{
				RobotChange{Robot: id, RobotFields: r.RobotFields, Reason: rapid.SampledFrom([]string{"", "a slip"}).Draw(w.RT, "why")}, RobotWithdraw{Robot: id}, RobotBackIn{Robot: id},
			})
		},
		func(id RobotID) Command { return RobotRetire{Robot: id} })
}

func (w *Walker) places() Command {
	kind := rapid.SampledFrom([]PlaceKind{PlaceBench, PlaceTestBox, PlaceArena, PlaceWatch, PlaceCharging, "roof"}).Draw(w.RT, "kind of place")
	return record(w, w.state.Places, PlaceAdd{PlaceFields: PlaceFields{Name: w.name(), Kind: kind}},
		func(id PlaceID, p Place) Command {
			p.Kind, p.Name = kind, rapid.SampledFrom([]string{p.Name, p.Name, "safe corner", "the corner", w.name()}).Draw(w.RT, "called")
			return PlaceChange{Place: id, PlaceFields: p.PlaceFields}
		},
		func(id PlaceID) Command { return PlaceRetire{Place: id} })
}

func (w *Walker) stations() Command {
	kind := rapid.SampledFrom([]StationKind{StationBench, StationGrind, StationWeld}).Draw(w.RT, "kind of station")
	return record(w, w.state.Stations, StationAdd{StationFields: StationFields{Name: w.name(), Kind: kind, Count: 1, Place: w.place()}},
		func(id StationID, station Station) Command {
			station.Kind, station.Place = kind, w.place()
			return StationChange{Station: id, StationFields: station.StationFields}
		},
		func(id StationID) Command { return StationRetire{Station: id} })
}

func (w *Walker) stocks() Command {
	return record(w, w.state.Stocks, StockAdd{StockFields: StockFields{Name: w.name(), Count: w.number("count", -1, 3)}},
		func(id StockID, stock Stock) Command {
			stock.Count = w.number("count", 0, 9)
			return StockChange{Stock: id, StockFields: stock.StockFields}
		},
		func(id StockID) Command { return StockRetire{Stock: id} })
}

func (w *Walker) circuits() Command {
	return record(w, w.state.Circuits, CircuitAdd{CircuitFields: CircuitFields{Name: w.name(), Volts: 230, RatingAmps: 16, SaidBy: "the hall"}},
		func(id CircuitID, circuit Circuit) Command {
			circuit.OtherAmps = float64(w.number("other amps", 0, 20))
			return CircuitChange{Circuit: id, CircuitFields: circuit.CircuitFields}
		},
		func(id CircuitID) Command { return CircuitRetire{Circuit: id} })
}

func (w *Walker) channels() Command {
	circuit := rapid.SampledFrom(append(ordered(w.state.Circuits), "")).Draw(w.RT, "circuit")
	return record(w, w.state.Channels, ChannelAdd{ChannelFields: ChannelFields{
		Name: w.name(), Charger: "twin", AmpsMost: 5, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Circuit: circuit, Place: w.place(),
	}},
		func(id ChannelID, channel Channel) Command {
			channel.Circuit, channel.Place, channel.AmpsMost = circuit, w.place(), float64(w.number("amps", 0, 5))
			return ChannelChange{Channel: id, ChannelFields: channel.ChannelFields}
		},
		func(id ChannelID) Command { return ChannelRetire{Channel: id} })
}

func (w *Walker) packRecords() Command {
	return record(w, w.state.Packs, PackAdd{PackFields: PackFields{
		Name: w.name(), Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.65, ChargeAmpsMost: 0.65, Use: UseMain, Fits: []RobotID{w.Moth},
	}},
		func(id PackID, p Pack) Command {
			p.Cells, p.Use = w.number("cells", 3, 4), rapid.SampledFrom([]PackUse{UseMain, UseWeapon}).Draw(w.RT, "use")
			return PackChange{Pack: id, PackFields: p.PackFields}
		},
		func(id PackID) Command { return PackRetire{Pack: id} })
}

func (w *Walker) templates() Command {
	fix := SwapBlade(w.Blade)
	fix.LikelySec = w.number("likely", 0, 600)
	return record(w, w.state.Templates, TemplateAdd{TemplateFields: TemplateFields{Name: w.name(), Size: Light, Triage: Should, Fixes: []Fix{fix}}},
		func(id TemplateID, template Template) Command {
			template.Fixes = []Fix{fix}
			return TemplateChange{Template: id, TemplateFields: template.TemplateFields}
		},
		func(id TemplateID) Command { return TemplateRetire{Template: id} })
}

func (w *Walker) parts() Command {
	return record(w, w.state.Parts, PartAdd{PartFields: PartFields{Robot: w.Moth, Name: w.name(), Next: w.somePart()}},
		func(id PartID, part Part) Command {
			part.MassGrams, part.Next = float64(w.number("grams", -1, 400)), w.somePart()
			return PartChange{Part: id, PartFields: part.PartFields}
		},
		func(id PartID) Command { return PartRetire{Part: id} })
}

// somePart is one part, or none.
func (w *Walker) somePart() []PartID { return some(w, w.state.Parts) }

// some is one of a table, or none.
func some[ID ~string, N any](w *Walker, table map[ID]N) []ID {
	if len(table) == 0 || rapid.Bool().Draw(w.RT, "none") {
		return nil
	}
	return []ID{rapid.SampledFrom(ordered(table)).Draw(w.RT, "some")}
}

func (w *Walker) joints() Command {
	others := slices.DeleteFunc(ordered(w.state.Parts), func(id PartID) bool {
		part := w.state.Parts[id]
		return id == w.Rail || part.Retired || part.Robot != w.Moth
	})
	if len(others) == 0 {
		return PartAdd{PartFields: PartFields{Robot: w.Moth, Name: w.name()}}
	}
	between := []PartID{w.Rail, rapid.SampledFrom(others).Draw(w.RT, "joined")}
	return record(w, w.state.Joints, JointAdd{JointFields: JointFields{Robot: w.Moth, Name: w.name(), Parts: between, Fastening: "bolts", Count: 4}},
		func(id JointID, joint Joint) Command {
			joint.Parts = between
			return JointChange{Joint: id, JointFields: joint.JointFields}
		},
		func(id JointID) Command { return JointRetire{Joint: id} })
}

func (w *Walker) modules() Command {
	grams := float64(w.number("grams", -1, 90))
	return record(w, w.state.Modules, ModuleAdd{ModuleFields: ModuleFields{Robot: w.Moth, Slot: "front", Name: w.name(), MassGrams: grams, SwapSec: 200, SwapBadSec: 400}},
		func(id ModuleID, module Module) Command {
			module.MassGrams = grams
			return ModuleChange{Module: id, ModuleFields: module.ModuleFields}
		},
		func(id ModuleID) Command { return ModuleRetire{Module: id} })
}

func (w *Walker) setups() Command {
	modules := some(w, w.state.Modules)
	return record(w, w.state.Setups, SetupAdd{SetupFields: SetupFields{Robot: w.Moth, Name: w.name(), Modules: modules}},
		func(id SetupID, setup Setup) Command {
			setup.Modules = modules
			return SetupChange{Setup: id, SetupFields: setup.SetupFields}
		},
		func(id SetupID) Command { return SetupRetire{Setup: id} })
}

func (w *Walker) constructions() Command {
	built := rapid.Bool().Draw(w.RT, "built")
	return record(w, w.state.Constructions, ConstructionAdd{ConstructionFields: ConstructionFields{Robot: w.Moth, Name: w.name(), Built: built, Mends: []PartMend{
		{Group: "rails", Parts: []string{"rail"}, AccessSec: 60, AccessBadSec: 90, Name: "swap", From: 1, LikelySec: 60, BadSec: 90},
	}}},
		func(id ConstructionID, construction Construction) Command {
			construction.Built = built
			return ConstructionChange{Construction: id, ConstructionFields: construction.ConstructionFields}
		},
		func(id ConstructionID) Command { return ConstructionRetire{Construction: id} })
}

// settings are the event's, with something of what rule 20 asks for left out now and
// then.
func (w *Walker) settings() Command {
	e := w.Settings()
	if rapid.IntRange(0, 3).Draw(w.RT, "leave out") == 0 {
		e.ChargingPlaces, e.SpinDownSec = nil, 0
	}
	e.LoadIn, e.HotWork.Needed = rapid.Bool().Draw(w.RT, "load-in"), rapid.Bool().Draw(w.RT, "permit")
	if e.SpinDownSec > 0 {
		e.SpinDownSec, e.AttendantMost = rapid.SampledFrom([]int{60, 60, 20}).Draw(w.RT, "spin"), rapid.IntRange(1, 2).Draw(w.RT, "attends")
	}
	e.RecheckSec, e.PostponeSec = rapid.SampledFrom([]int{0, 600, 900}).Draw(w.RT, "recheck"), w.number("postpone", 0, 1200)
	return EventSet{EventFields: e, Reason: rapid.SampledFrom([]string{"the event says so", "the event says so", ""}).Draw(w.RT, "why")}
}
