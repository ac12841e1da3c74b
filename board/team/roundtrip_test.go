package team_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/team"
)

// names are what people call things, with all that trips a table up.
func names() *rapid.Generator[string] {
	rough := rapid.StringMatching(`[=+\-@'a-zA-ZéßK0-9;\\,"|][ =+\-@'a-z0-9;\\,"|×]{0,8}[=+\-@'a-z0-9;\\,"]`)
	odd := rapid.SampledFrom([]string{"-5", "+1e3", "'", "''", "=1+2", "a;b", `\`, `a\;`, "belt x2", "x2", `"`, "a, b", "yes", "won", "12 s", "İstanbul", "ß"})
	return rapid.OneOf(rough, odd)
}

func distinct(t *rapid.T, label string, most int) []string {
	return rapid.SliceOfNDistinct(names(), 0, most, board.FoldedLabel).Draw(t, label)
}

func one[T any](t *rapid.T, list ...T) T { return rapid.SampledFrom(list).Draw(t, "one") }

func number(t *rapid.T, low, high int) int { return rapid.IntRange(low, high).Draw(t, "number") }

func figure(t *rapid.T, low, high float64) float64 {
	return rapid.Float64Range(low, high).Draw(t, "figure")
}

func maybe[T any](t *rapid.T, list []T) T {
	var none T
	if len(list) == 0 || rapid.Bool().Draw(t, "none") {
		return none
	}
	return rapid.SampledFrom(list).Draw(t, "some")
}

// ofSeveral is what nobody is called, as short as names are drawn here.
var ofSeveral = regexp.MustCompile(`(?i)\b(us|we|all|teams?|crews?|group|staff|people|no ?one|nobody|anyone|any ?body|every ?one|some ?one|members|shared)\b|\pL.*[&+/|]| and `)

// drawTeam makes up a team that the board takes.
func drawTeam(t *rapid.T, id board.CommandID) board.TeamLoad {
	var c board.TeamLoad
	var places []board.PlaceID
	var people []board.PersonID
	var stocks []board.StockID
	var robots []board.RobotID
	for _, n := range distinct(t, "places", 3) {
		place := board.Place{ID: board.PlaceID(board.NewID(id, board.KindPlace, n)), PlaceFields: board.PlaceFields{Name: n, Kind: one(t, board.PlaceBench, board.PlaceCharging)}}
		c.Places, places = append(c.Places, place), append(places, place.ID)
	}
	called := map[string]bool{}
	for _, n := range distinct(t, "people", 3) {
		n, several := n+" Oak", ofSeveral.MatchString(n) // a person has a name with letters
		if several || called[board.FoldedPerson(n)] {
			continue
		}
		called[board.FoldedPerson(n)] = true
		person := board.Person{ID: board.PersonID(board.NewID(id, board.KindPerson, n)), PersonFields: board.PersonFields{
			Name: n, Role: one(t, board.RoleCrew, board.RoleSafety), Skills: rapid.SliceOfN(rapid.SampledFrom([]board.Skill{board.SkillAny, board.SkillWeld}), 0, 3).Draw(t, "skills"),
			Signer: rapid.Bool().Draw(t, "signer"), From: maybe(t, []string{"us", "=them"}),
		}}
		c.People, people = append(c.People, person), append(people, person.ID)
	}
	for _, n := range distinct(t, "stocks", 3) {
		stock := board.Stock{ID: board.StockID(board.NewID(id, board.KindStock, n)), StockFields: board.StockFields{
			Name: n, Count: number(t, 0, 9999), ListCents: number(t, 0, 99999999), PaidCents: number(t, 0, 120), LeadDays: number(t, 0, 999), Lender: maybe(t, []string{"=them"}),
		}}
		c.Stocks, stocks = append(c.Stocks, stock), append(stocks, stock.ID)
	}
	for i, n := range distinct(t, "robots", 3) {
		r := board.Robot{ID: board.RobotID(board.NewID(id, board.KindRobot, n)), RobotFields: board.RobotFields{
			Name: n, Number: i + 1, Class: board.Class{Name: "class", Limit: figure(t, 0.001, 1e6), Unit: one(t, board.Gram, board.Pound), RuleSet: n},
			Size: one(t, board.Heavy, board.Light), Lead: maybe(t, people), Driver: maybe(t, people), Hands: number(t, 1, 8),
			BeforeSec: number(t, 0, 7200), AfterSec: number(t, 0, 7200), Weight: number(t, 1, 9),
		}, Withdrawn: rapid.Bool().Draw(t, "withdrawn")}
		if rapid.Bool().Draw(t, "no class") {
			r.Class = board.Class{}
		}
		if lock := maybe(t, []board.Lock{board.LockStrap}); lock != "" {
			r.Locks = []board.Lock{board.LockProp, lock}
		}
		for range number(t, 0, 3) {
			r.Energies = append(r.Energies, board.Energy{Kind: one(t, board.EnergyGas, board.EnergySpin), Isolator: names().Draw(t, "isolator"), Reach: one(t, board.Inside, board.Outside)})
		}
		c.Robots, robots = append(c.Robots, r), append(robots, r.ID)
	}
	for _, n := range distinct(t, "packs", 3) {
		p := board.Pack{ID: board.PackID(board.NewID(id, board.KindPack, n)), Place: maybe(t, places), PackFields: board.PackFields{
			Name: n, Chemistry: charge.LiFe, Cells: number(t, 1, 24), Parallel: 1, CapacityAh: figure(t, 0.01, 200), ChargeAmpsMost: figure(t, 0.01, 200), Use: board.UseTool,
		}}
		for range number(t, 0, min(2, len(robots))) {
			p.Fits = append(p.Fits, rapid.SampledFrom(robots).Draw(t, "fits"))
		}
		c.Packs = append(c.Packs, p)
	}
	for _, n := range distinct(t, "jobs", 3) {
		size := one(t, board.Heavy, board.Light)
		template := board.Template{ID: board.TemplateID(board.NewID(id, board.KindTemplate, string(size)+" "+n)), TemplateFields: board.TemplateFields{Name: n, Size: size, Triage: board.Could}}
		for range number(t, 1, 3) {
			template.Fixes = append(template.Fixes, drawFix(t, stocks))
		}
		c.Templates = append(c.Templates, template)
	}
	for _, n := range distinct(t, "stations", 2) {
		c.Stations = append(c.Stations, board.Station{ID: board.StationID(board.NewID(id, board.KindStation, n)), StationFields: board.StationFields{
			Name: n, Kind: one(t, board.StationWeld, board.StationBench), Count: number(t, 1, 20), Place: maybe(t, places),
		}})
	}
	for _, r := range robots {
		drawMap(t, id, r, stocks, &c)
		drawSetups(t, id, r, &c)
		drawConstructions(t, id, r, &c)
	}
	c.Fights = drawFights(t, id, robots)
	c.Event = drawEvent(t, places)
	return c
}

// drawMap makes a part map in which a part waits only for parts before it, and a
// hit may run anywhere else.
func drawMap(t *rapid.T, id board.CommandID, robot board.RobotID, stocks []board.StockID, c *board.TeamLoad) {
	var ids []board.PartID
	first := len(c.Parts)
	some := func(most int) []board.PartID {
		if len(ids) == 0 {
			return nil
		}
		return rapid.SliceOfNDistinct(rapid.SampledFrom(ids), 1, min(most, len(ids)), rapid.ID[board.PartID]).Draw(t, "parts of it")
	}
	for _, n := range distinct(t, "parts", 4) {
		part := board.Part{ID: board.PartID(board.NewID(id, board.KindPart, string(robot)+" "+n)), PartFields: board.PartFields{
			Robot: robot, Name: n, Assembly: maybe(t, []string{"=drive"}), MassGrams: figure(t, 0, 5e5), MaterialListCents: number(t, 0, 1e8), MachiningPaidCents: number(t, 0, 99),
			OwnSec: number(t, 0, 9999), LeadDays: number(t, 0, 999), Stock: maybe(t, stocks), OffSec: number(t, 1, 600), OffBadSec: number(t, 600, 43200),
		}}
		for range number(t, 0, 2) {
			if set := some(2); set != nil {
				part.First = append(part.First, board.Access{Parts: set})
			}
		}
		if rapid.Bool().Draw(t, "serves") {
			part.Serves = []board.Serve{{Function: names().Draw(t, "function"), Share: number(t, 1, 100)}}
		}
		ids, c.Parts = append(ids, part.ID), append(c.Parts, part)
	}
	for i := range c.Parts[first:] {
		p := &c.Parts[first+i]
		p.Next = slices.DeleteFunc(some(3), func(o board.PartID) bool { return o == p.ID })
	}
	for _, n := range distinct(t, "joints", 2) {
		if len(ids) > 1 {
			c.Joints = append(c.Joints, board.Joint{ID: board.JointID(board.NewID(id, board.KindJoint, string(robot)+" "+n)), JointFields: board.JointFields{
				Robot: robot, Name: n, Parts: ids[:2], Fastening: names().Draw(t, "fastening"), Count: number(t, 0, 999), Tool: maybe(t, []string{"-key"}),
			}})
		}
	}
}

func drawSetups(t *rapid.T, id board.CommandID, robot board.RobotID, c *board.TeamLoad) {
	var ids []board.ModuleID
	for i, n := range distinct(t, "modules", 3) {
		module := board.Module{ID: board.ModuleID(board.NewID(id, board.KindModule, string(robot)+" "+n)), ModuleFields: board.ModuleFields{
			Robot: robot, Slot: "slot " + strconv.Itoa(i), Name: n, MassGrams: figure(t, 0, 5e5), SwapSec: number(t, 1, 60), SwapBadSec: number(t, 60, 999), Lasts: number(t, 0, 99),
		}}
		ids, c.Modules = append(ids, module.ID), append(c.Modules, module)
	}
	for _, n := range distinct(t, "setups", 2) {
		c.Setups = append(c.Setups, board.Setup{ID: board.SetupID(board.NewID(id, board.KindSetup, string(robot)+" "+n)), SetupFields: board.SetupFields{
			Robot: robot, Name: n, Modules: ids, Declared: rapid.Bool().Draw(t, "declared"),
			Against: rapid.SliceOfN(names(), 0, 2).Draw(t, "against"), Notes: maybe(t, []string{"=a\nb"}), NotNeeded: rapid.SliceOfN(names(), 0, 2).Draw(t, "not needed"),
		}})
	}
}

func drawFix(t *rapid.T, stocks []board.StockID) board.Fix {
	fix := board.Fix{
		Name: names().Draw(t, "fix"), Way: board.WayMend, LikelySec: number(t, 1, 600), BadSec: number(t, 600, 43200),
		Hands: []board.Skill{board.SkillAny}, Station: board.StationNone, Where: board.OffRobot,
		Touches: rapid.SliceOfN(rapid.SampledFrom([]board.System{board.SysLock, board.SysMass}), 0, 2).Draw(t, "touches"),
		Lockout: rapid.Bool().Draw(t, "lockout"), PackOut: rapid.Bool().Draw(t, "pack out"),
	}
	for range number(t, 0, min(2, len(stocks))) {
		fix.Stock = append(fix.Stock, board.Need{Stock: rapid.SampledFrom(stocks).Draw(t, "stock"), Count: number(t, 1, 99)})
	}
	return fix
}

// drawFights makes a running order in which each robot's fights hang on its
// first one, some as two branches in one place.
func drawFights(t *rapid.T, id board.CommandID, robots []board.RobotID) []board.Fight {
	var all []board.Fight
	add := func(f board.FightFields) board.FightID {
		n := board.FightID(board.NewID(id, board.KindFight, f.Arena+" "+strconv.Itoa(f.Number)+" "+string(f.Robot)+" "+string(f.If)))
		all = append(all, board.Fight{ID: n, FightFields: f})
		return n
	}
	arena := names().Draw(t, "arena")
	for _, r := range robots {
		first := add(board.FightFields{Robot: r, Arena: arena, Number: 4, NotBefore: board.Moment(rapid.Int64Range(1e12, 2e12).Draw(t, "time"))})
		won := add(board.FightFields{Robot: r, Arena: arena, Number: 9, After: first, If: board.Won})
		add(board.FightFields{Robot: r, Arena: arena, Number: 9, After: first, If: board.Lost})
		if rapid.Bool().Draw(t, "third round") {
			add(board.FightFields{Robot: robots[0], Arena: arena + "2", Number: 9 + len(all), After: won, If: board.Lost})
		}
	}
	return all
}

func drawEvent(t *rapid.T, places []board.PlaceID) board.EventFields {
	e := board.EventFields{
		Name: names().Draw(t, "event"), OffsetMin: number(t, -840, 840), ActivationOrder: rapid.SliceOfN(names(), 0, 3).Draw(t, "steps"),
		SpinDownSec: number(t, 0, 600), LeadSec: number(t, 0, 7200), RestFrom: maybe(t, []board.RestEnd{board.RestAtBench}), EmergencyContact: maybe(t, []string{"=gate 2"}),
		RepairerMaySign: rapid.Bool().Draw(t, "sign"), MinorsDrive: rapid.Bool().Draw(t, "minors"), RecheckSec: number(t, 0, 3600), LoadIn: rapid.Bool().Draw(t, "load-in"),
		HotWork: board.HotWork{Needed: rapid.Bool().Draw(t, "hot"), Text: names().Draw(t, "permit"), By: names().Draw(t, "keeper"), Until: board.Moment(rapid.Int64Range(1e12, 2e12).Draw(t, "until"))},
		Card:    board.Card{Text: rapid.StringMatching(`['=a" \n,;]{0,9}`).Draw(t, "card"), ApprovedBy: "A. Steward"},
	}
	for range number(t, 0, 2) {
		from := board.Moment(rapid.Int64Range(1e12, 2e12).Draw(t, "from"))
		e.Breaks = append(e.Breaks, board.Break{From: from, To: from + board.Moment(number(t, 1, 1e7))})
	}
	if place := maybe(t, places); place != "" {
		e.ChargingPlaces = append(e.ChargingPlaces, place)
	}
	return e
}

func TestAnyTeamReadsTheSameAfterADump(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := apply(t, drawTeam(t, loadID(t)))
		files, err := team.Write(s)
		require.NoError(t, err)
		require.Equal(t, nouns(s), nouns(onBoard(t, inFolder(files))))
	})
}

// FuzzFile puts any bytes in place of one file of the full team: Read must end
// with a team that survives a dump, or with faults that name the place.
func FuzzFile(f *testing.F) {
	full := folder(f)
	for name, file := range full {
		f.Add(name, file.Data)
	}
	f.Add("crew.csv", []byte("\xef\xbb\xbfname;role\r\"=a\";crew\r\n"))
	f.Add("jobs.csv", []byte("job\tsize\n'x\tlight"))
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		if _, known := full[name]; !known || strings.Count(string(data), "\n")+strings.Count(string(data), "\r") > 60 {
			return
		}
		files := fstest.MapFS{}
		for n, file := range full {
			files[n] = file
		}
		files[name] = &fstest.MapFile{Data: data}
		load, errs := team.Read(files, loadID(t))
		if len(errs) > 0 {
			require.Zero(t, load)
			for _, e := range errs {
				require.NotEmpty(t, e.File)
				require.NotEmpty(t, e.Want)
			}
			return
		}
		s := apply(t, load)
		written, err := team.Write(s)
		require.NoError(t, err)
		require.Equal(t, nouns(s), nouns(onBoard(t, inFolder(written))))
	})
}

// drawConstructions makes constructions of one group, of which one may be built.
func drawConstructions(t *rapid.T, id board.CommandID, robot board.RobotID, c *board.TeamLoad) {
	for i, n := range distinct(t, "constructions", 2) {
		f := board.ConstructionFields{
			Robot: robot, Name: n, Built: i == 0 && rapid.Bool().Draw(t, "built"), Guessed: rapid.Bool().Draw(t, "guessed"),
			MassGrams: figure(t, 0, 5e5), ListCents: number(t, 0, 1e8), Notes: maybe(t, []string{"=a\nb"}),
		}
		for from := range number(t, 1, 3) {
			m := board.PartMend{Group: "=frame", Name: names().Draw(t, "step"), From: from + 1, Each: rapid.Bool().Draw(t, "each"), LikelySec: number(t, 1, 60), BadSec: number(t, 60, 999), CostCents: number(t, 0, 999)}
			if from == 0 {
				m.Parts, m.AccessSec, m.AccessBadSec, m.Joints = []string{"-rail; left"}, 30, 60, number(t, 0, 99)
			}
			f.Mends = append(f.Mends, m)
		}
		c.Constructions = append(c.Constructions, board.Construction{ID: board.ConstructionID(board.NewID(id, board.KindConstruction, string(robot)+" "+n)), ConstructionFields: f})
	}
}
