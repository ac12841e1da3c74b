package boardtest

import "mendline/board/charge"

import . "mendline/board"

// Cast is an invented team: a captain, two crew, a minor, a guest, a neighbour who
// signs, one robot with two packs, a part and a setup, and the places they need.
type Cast struct {
	Ada, Ben, Dee, Kit, Gus, Nia    PersonID
	Moth                            RobotID
	Bench, Box, Arena, Watch, Shelf PlaceID
	Corner                          PlaceID
	Grinder                         StationID
	P1, P2                          PackID
	Blade                           StockID
	Rail                            PartID
	Fork                            ModuleID
	Wedge                           SetupID
	Wall                            CircuitID
	A1                              ChannelID
}

// NewCast enters the cast on an empty board. give gives a command and returns the
// keys of the nouns it made.
func NewCast(give func(Actor, Command) []Key) Cast {
	var c Cast
	captain := func(cmd Command) string { return made(give(Actor{Role: RoleCaptain}, cmd)) }
	place := func(name string, kind PlaceKind) PlaceID {
		return PlaceID(captain(PlaceAdd{PlaceFields: PlaceFields{Name: name, Kind: kind}}))
	}
	person := func(f PersonFields) PersonID { return PersonID(captain(PersonAdd{PersonFields: f})) }
	pack := func(name string) PackID {
		return PackID(captain(PackAdd{PackFields: PackFields{
			Name: name, Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.65, ChargeAmpsMost: 0.65, Use: UseMain, Fits: []RobotID{c.Moth},
		}}))
	}
	all := []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin, EnergyGas, EnergyCapacitor}
	c.Bench, c.Box = place("bench 1", PlaceBench), place("test box", PlaceTestBox)
	c.Arena, c.Watch, c.Shelf = place("arena", PlaceArena), place("watch shelf", PlaceWatch), place("charging table", PlaceCharging)
	c.Corner = place("grinding corner", PlaceBench)
	c.Grinder = StationID(captain(StationAdd{StationFields: StationFields{Name: "grinder", Kind: StationGrind, Count: 1, Place: c.Corner}}))
	captain(EventSet{EventFields: c.Settings()})
	c.Ada = person(PersonFields{Name: "Ada", Role: RoleCaptain, Authorised: all, Skills: []Skill{SkillMechanical}})
	c.Ben = person(PersonFields{Name: "Ben", Role: RoleCrew, Authorised: all, Skills: []Skill{SkillElectrical}})
	c.Dee = person(PersonFields{Name: "Dee", Role: RoleSafety, Authorised: all, Signer: true})
	c.Kit = person(PersonFields{Name: "Kit", Role: RoleCrew, Minor: true})
	c.Gus = person(PersonFields{Name: "Gus", Role: RoleCrew, Guest: true})
	c.Nia = person(PersonFields{Name: "Nia", Role: RoleCrew, Signer: true, From: "the next bench"})
	c.Moth = RobotID(madeKind(KindRobot, give(Actor{Role: RoleCaptain}, RobotAdd{RobotFields: c.moth()})))
	c.Blade = StockID(captain(StockAdd{StockFields: StockFields{Name: "blade", Count: 2}}))
	captain(TemplateAdd{TemplateFields: TemplateFields{Name: "swap blade", Size: Light, Triage: Must, Fixes: []Fix{SwapBlade(c.Blade)}}})
	c.P1, c.P2 = pack("P1"), pack("P2")
	give(Actor{Person: c.Ada, Role: RoleCaptain}, PackMove{Pack: c.P1, Robot: c.Moth, Found: true})
	give(Actor{Person: c.Ada, Role: RoleCaptain}, PackMove{Pack: c.P2, Place: c.Watch})
	c.Rail = PartID(captain(PartAdd{PartFields: PartFields{Robot: c.Moth, Name: "rail"}}))
	c.Fork = ModuleID(captain(ModuleAdd{ModuleFields: ModuleFields{Robot: c.Moth, Slot: "front", Name: "fork", MassGrams: 60, SwapSec: 240, SwapBadSec: 600}}))
	c.Wedge = SetupID(captain(SetupAdd{SetupFields: SetupFields{Robot: c.Moth, Name: "wedge", Modules: []ModuleID{c.Fork}, Declared: true}}))
	c.Wall = CircuitID(captain(CircuitAdd{CircuitFields: CircuitFields{Name: "wall", Volts: 230, RatingAmps: 10, SaidBy: "the hall"}}))
	c.A1 = ChannelID(captain(ChannelAdd{ChannelFields: ChannelFields{
		Name: "A1", Charger: "twin", AmpsMost: 5, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Circuit: c.Wall, Place: c.Shelf,
	}}))
	return c
}

// Settings are the event's, with all that rule 20 asks for.
func (c Cast) Settings() EventFields {
	return EventFields{
		Name: "Shed Meet", SpinDownSec: 60, EmergencyContact: "desk by the door", ChargingPlaces: []PlaceID{c.Shelf}, AttendantMost: 1,
		ActivationOrder: []string{"place", "link in", "radio on"}, DeactivationOrder: []string{"radio off", "link out"},
	}
}

func (c Cast) moth() RobotFields {
	return RobotFields{
		Name: "Tin Moth", Number: 1, Class: Class{Name: "beetleweight", Limit: 3, Unit: Pound, RuleSet: "house rules 2"}, Size: Light,
		Energies: []Energy{
			{Kind: EnergyWeapon, Isolator: "removable link", Reach: Outside},
			{Kind: EnergyDrive, Isolator: "removable link", Reach: Outside},
			{Kind: EnergySpin, Isolator: "rotor", Reach: Outside},
		},
		Lead: c.Ada, Driver: c.Ada, Hands: 2, BeforeSec: 540, AfterSec: 300, Weight: 1,
	}
}

// Gassed is the robot with gas beside its other energies.
func (c Cast) Gassed(reach Reach) RobotFields {
	f := c.moth()
	f.Energies = append(f.Energies, Energy{Kind: EnergyGas, Isolator: "bleed valve", Reach: reach})
	return f
}

// SwapBlade is a fix that needs lockout, the packs out and a blade.
func SwapBlade(blade StockID) Fix {
	return Fix{
		Name: "swap blade", Way: WaySwap, LikelySec: 300, BadSec: 720, Hands: []Skill{SkillMechanical}, Station: StationBench, Where: AtRobot,
		Stock: []Need{{Stock: blade, Count: 1}}, Touches: []System{SysWeapon, SysMass}, Lockout: true, PackOut: true,
	}
}

// DressBurrs is a fix at the grinder, off the robot.
func DressBurrs() Fix {
	return Fix{
		Name: "dress the burrs", Way: WayMend, LikelySec: 300, BadSec: 720, Hands: []Skill{SkillMechanical}, Station: StationGrind, Where: OffRobot,
	}
}

func made(keys []Key) string {
	_, id := keys[0].Split()
	return id
}

func madeKind(kind Kind, keys []Key) string {
	for _, key := range keys {
		if k, id := key.Split(); k == kind {
			return id
		}
	}
	panic("boardtest: no " + string(kind) + " was made")
}
