package team_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
)

// Each case changes one point of the full team, which is good as it stands; so
// the good twin of a case is the folder with good in place of bad.
func TestABadRowIsNamedByFileLineAndColumn(t *testing.T) {
	for _, c := range []struct {
		name      string
		file      string
		good, bad string
		want      team.RowError
		says      string
	}{
		{"a blank cell that is needed", "places.csv", "Box,arena", ",arena",
			team.RowError{Line: 3, Column: "name", Number: 1}, "something; the cell is empty"},
		{"a word that is near one", "places.csv", "Box,arena", "Box,areena",
			team.RowError{Line: 3, Column: "kind", Number: 2, Value: "areena"}, "did you mean arena?"},
		{"a word of another tongue", "places.csv", "Box,arena", "Box,Manege",
			team.RowError{Line: 3, Column: "kind", Number: 2, Value: "Manege"}, "one of bench, test-box, staging, arena"},
		{"a name that is there already, in capitals", "places.csv", "Box,arena", "CHARGING TABLE,arena",
			team.RowError{Line: 4, Column: "name", Number: 1, Value: "Charging table"}, "line 3 has it already"},
		{"a skill that is near one", "crew.csv", "mechanical; drive", "mechanical; dirve",
			team.RowError{Line: 2, Column: "skills", Number: 3, Value: "mechanical; dirve"}, "did you mean drive?"},
		{"neither yes nor no", "crew.csv", ",no,no,yes,us", ",no,no,maybe,us",
			team.RowError{Line: 2, Column: "signer", Number: 7, Value: "maybe"}, "yes or no"},
		{"a guest who signs", "crew.csv", ",yes,yes,no,Half", ",yes,yes,yes,Half",
			team.RowError{Line: 3, Column: "authorised", Number: 4}, "sign nothing"},
		{"a role that no roster has", "crew.csv", "Odo,captain", "Odo,system",
			team.RowError{Line: 2, Column: "role", Number: 2, Value: "system"}, "one of captain, crew, safety"},
		{"a name longer than the board takes", "crew.csv", "Half Moon School", strings.Repeat("Half Moon ", 9) + "School",
			team.RowError{Line: 3, Column: "from", Number: 8, Value: strings.Repeat("Half Moon ", 9) + "School"}, "longer than 80"},
		{"a person who is not in the crew", "robots.csv", "light,Odo,", "light,Ode,",
			team.RowError{Line: 2, Column: "lead", Number: 8, Value: "Ode"}, "the name of a person in crew.csv; did you mean Odo?"},
		{"a comma before three figures", "robots.csv", ",113.4,", `,"113,400",`,
			team.RowError{Line: 3, Column: "limit", Number: 4, Value: "113,400"}, "this may be 113400 or 113.4"},
		{"a figure with its unit", "robots.csv", ",113.4,kg", ",113.4 kg,kg",
			team.RowError{Line: 3, Column: "limit", Number: 4, Value: "113.4 kg"}, "without its unit"},
		{"a figure that is none", "robots.csv", ",113.4,", ",NaN,",
			team.RowError{Line: 3, Column: "limit", Number: 4, Value: "NaN"}, "a number such as"},
		{"a mass of nothing", "robots.csv", ",113.4,", ",0,",
			team.RowError{Line: 3, Column: "limit", Number: 4, Value: "0"}, "more than 0"},
		{"half a person", "robots.csv", "Odo,Odo,2,", "Odo,Odo,2.5,",
			team.RowError{Line: 2, Column: "hands", Number: 10, Value: "2.5"}, "a whole number"},
		{"more hands than the board takes", "robots.csv", "Odo,Odo,2,", "Odo,Odo,20,",
			team.RowError{Line: 2, Column: "hands", Number: 10, Value: "20"}, "Enter 1 to 8"},
		{"the number of another robot", "robots.csv", ",12,", ",7,",
			team.RowError{Line: 3, Column: "number", Number: 2, Value: "7"}, "Another robot has this number"},
		{"an energy of a robot that is not there", "energies.csv", "Wumpet,spring", "Wumpett,spring",
			team.RowError{Line: 3, Column: "robot", Number: 1, Value: "Wumpett"}, "did you mean Wumpet?"},
		{"a control character among a robot's energies", "energies.csv", "the flap jumps", "the flap\u202e jumps",
			team.RowError{Line: 3, Column: "energy", Number: 2, Value: "spring"}, "turns the writing direction"},
		{"a price with a currency", "spares.csv", ",4.90,", ",4.90 crowns,",
			team.RowError{Line: 2, Column: "list_price", Number: 5, Value: "4.90 crowns"}, "without a currency"},
		{"a price with a comma", "spares.csv", ",4.90,", `,"4,900",`,
			team.RowError{Line: 2, Column: "list_price", Number: 5, Value: "4,900"}, "this may be 4900 or 4.9"},
		{"a circuit that nobody answers for", "circuits.csv", "hall keeper", "",
			team.RowError{Line: 2, Column: "said_by", Number: 5}, "something; the cell is empty"},
		{"a circuit stronger than the board takes", "circuits.csv", ",230,", ",23000,",
			team.RowError{Line: 2, Column: "volts", Number: 2, Value: "23000"}, "Enter 10 to 500"},
		{"a channel on a circuit that is not there", "chargers.csv", "Wall left", "Wall right",
			team.RowError{Line: 2, Column: "circuit", Number: 7, Value: "Wall right"}, "the name of a circuit in circuits.csv"},
		{"a pack for a robot that is not there", "packs.csv", `Wumpet; =Bomp\; the`, `Wumpet; =Bomp; the`,
			team.RowError{Line: 2, Column: "fits", Number: 8, Value: "Wumpet; =Bomp; the"}, "the name of a robot in robots.csv"},
		{"a pack of too many cells", "packs.csv", "lipo,4,", "lipo,40,",
			team.RowError{Line: 2, Column: "cells", Number: 3, Value: "40"}, "Enter 1 to 24"},
		{"minutes of two decimals", "jobs.csv", "swap,swap,3,", "swap,swap,3.25,",
			team.RowError{Line: 2, Column: "likely_min", Number: 6, Value: "3.25"}, "one decimal at most"},
		{"minutes with a comma", "jobs.csv", "swap,swap,3,", `swap,swap,"3,25",`,
			team.RowError{Line: 2, Column: "likely_min", Number: 6, Value: "3,25"}, "one decimal at most"},
		{"no time at all", "jobs.csv", "swap,swap,3,", "swap,swap,0,",
			team.RowError{Line: 2, Column: "likely_min", Number: 6, Value: "0"}, "more than 0 minutes"},
		{"a bad case shorter than the likely time", "jobs.csv", "swap,swap,3,8,", "swap,swap,8,3,",
			team.RowError{Line: 2, Column: "bad_min", Number: 7, Value: "3"}, "no less than likely_min, 8"},
		{"a patch that leaves no limits", "jobs.csv", "one fight at half speed", "",
			team.RowError{Line: 3, Column: "limits", Number: 15}, "what the patch leaves weak"},
		{"another triage for the same job", "jobs.csv", "light,must,tape it", "light,should,tape it",
			team.RowError{Line: 3, Column: "triage", Number: 3, Value: "should"}, "must, as line 2"},
		{"a spare without its count", "jobs.csv", "in,-5 x1,", "in,-5,",
			team.RowError{Line: 3, Column: "spares", Number: 11, Value: "-5"}, "such as belt B2 x1"},
		{"no piece of a spare", "jobs.csv", "in,-5 x1,", "in,-5 x0,",
			team.RowError{Line: 3, Column: "fix", Number: 4, Value: "tape it"}, "Enter 1 to 99"},
		{"five pairs of hands", "jobs.csv", "20.5,any,", "20.5,any;any;any;any;any,",
			team.RowError{Line: 3, Column: "fix", Number: 4, Value: "tape it"}, "Enter 1 to 4"},
		{"a part of negative mass", "parts.csv", ",31.5,", ",-31.5,",
			team.RowError{Line: 2, Column: "mass_g", Number: 5, Value: "-31.5"}, "Enter 0 to"},
		{"a part off before itself", "parts.csv", ",1,2.5,,", `,1,2.5,"cover, top",`,
			team.RowError{Line: 2, Column: "off_first", Number: 15, Value: "cover, top"}, "before itself"},
		{"parts that wait for each other in a ring", "parts.csv", ",1,2.5,,", `,1,2.5,rail\; left,`,
			team.RowError{Line: 3, Column: "off_first", Number: 15, Value: "cover, top"}, "in a ring"},
		{"a part that is not there comes off first", "parts.csv", `,"cover, top",motor | 1,`, `,"cover, topp",motor | 1,`,
			team.RowError{Line: 3, Column: "off_first", Number: 15, Value: "cover, topp"}, "did you mean cover, top?"},
		{"another robot's part comes off first", "parts.csv", `,"cover, top",motor | 1,`, ",arm,motor | 1,",
			team.RowError{Line: 3, Column: "off_first", Number: 15, Value: "arm"}, "the name of a part of this robot"},
		{"a hit that runs into its own part", "parts.csv", `,"cover, top",motor | 1,`, `,"cover, top",rail\; left,`,
			team.RowError{Line: 3, Column: "hits_next", Number: 16, Value: `rail\; left`}, "not into itself"},
		{"a function without its share", "parts.csv", "weapon 100", "weapon",
			team.RowError{Line: 4, Column: "serves", Number: 17, Value: "weapon"}, "such as drive left 50"},
		{"more than a whole function", "parts.csv", "weapon 100", "weapon 101",
			team.RowError{Line: 4, Column: "serves", Number: 17, Value: "weapon 101"}, "Enter 1 to 100"},
		{"a bad case of a removal that is the shorter", "parts.csv", ",5,15,", ",15,5,",
			team.RowError{Line: 3, Column: "off_bad_min", Number: 14, Value: "5"}, "shorter than the likely time"},
		{"a joint to itself", "joints.csv", `"cover, top; rail\; left"`, `"cover, top; cover, top"`,
			team.RowError{Line: 2, Column: "parts", Number: 3, Value: "cover, top; cover, top"}, "joined to itself"},
		{"a joint of one part", "joints.csv", `"cover, top; rail\; left"`, `"cover, top"`,
			team.RowError{Line: 2, Column: "parts", Number: 3, Value: "cover, top"}, "2 to 12 parts"},
		{"a joint of a part that is not there", "joints.csv", `"arm; cover, top"`, `"armm; cover, top"`,
			team.RowError{Line: 3, Column: "parts", Number: 3, Value: "armm; cover, top"}, "did you mean arm?"},
		{"fewer than no fasteners", "joints.csv", ",8,hex", ",-8,hex",
			team.RowError{Line: 2, Column: "count", Number: 5, Value: "-8"}, "Enter 0 to 999"},
		{"a module of negative mass", "modules.csv", ",90.5,", ",-90.5,",
			team.RowError{Line: 2, Column: "mass_g", Number: 4, Value: "-90.5"}, "Enter 0 to"},
		{"a setup of another robot's module", "setups.csv", ",wide fork,", `,wide\; low,`,
			team.RowError{Line: 2, Column: "modules", Number: 3, Value: `wide\; low`}, "the name of a module of this robot"},
		{"a setup with two modules in a slot", "setups.csv", ",wide fork,", ",wide fork; wide fork,",
			team.RowError{Line: 2, Column: "modules", Number: 3, Value: "wide fork; wide fork"}, "both go into the slot"},
		{"a group that begins at two parts hit", "constructions.csv", ",straighten,1,", ",straighten,2,",
			team.RowError{Line: 3, Column: "group", Number: 8, Value: "frame"}, "begins at 2 parts hit"},
		{"rows of a group that do not rise", "constructions.csv", ",new frame,2,", ",new frame,1,",
			team.RowError{Line: 4, Column: "group", Number: 8, Value: "frame"}, "1 parts hit come after 1"},
		{"a mend whose bad case is the shorter", "constructions.csv", ",60,150,", ",150,60,",
			team.RowError{Line: 3, Column: "group", Number: 8, Value: "frame"}, "no shorter"},
		{"two constructions that are built", "constructions.csv", "one frame,no,yes", "one frame,yes,yes",
			team.RowError{Line: 3, Column: "built", Number: 3, Value: "yes"}, "Wumpet is built as "},
		{"a bonus that is none", "robots.csv", ",50,shuffles", ",500,shuffles",
			team.RowError{Line: 2, Column: "class", Number: 3, Value: "Beetleweight"}, "Enter 0 to 200"},
		{"a time that is none", "order.csv", "2026-05-09 13:00", "9.5.26 25:00",
			team.RowError{Line: 5, Column: "not_before", Number: 5, Value: "9.5.26 25:00"}, "such as 2026-05-09 14:30"},
		{"a result no branch has", "order.csv", "13:00,won", "13:00,drawn",
			team.RowError{Line: 5, Column: "only_if", Number: 6, Value: "drawn"}, "one of won, lost"},
		{"a fight that hangs on none", "order.csv", "won,Box,4,", "won,Box,5,",
			team.RowError{Line: 3, Column: "after_number", Number: 8, Value: "5"}, "a fight of that robot in this file"},
		{"a branch without its fight", "order.csv", "won,Box,4,Wumpet", "won,,,",
			team.RowError{Line: 3, Column: "after_number", Number: 8}, "the number of the fight"},
		{"a fight without its branch", "order.csv", "11:30,lost,", "11:30,,",
			team.RowError{Line: 4, Column: "only_if", Number: 6}, "won or lost, as the row names a fight"},
		{"two fights of a robot in one place", "order.csv", "Box,14,Wumpet,winner of 8,2026-05-09 13:00,won", "Box,9,Wumpet,winner of 8,2026-05-09 13:00,lost",
			team.RowError{Line: 5, Column: "number", Number: 2, Value: "9"}, "line 4 has this robot there already"},
		{"a setting that is near one", "event.csv", "lead_fights,2", "lead_fight,2",
			team.RowError{Line: 10, Column: "setting", Number: 1, Value: "lead_fight"}, "did you mean lead_fights?"},
		{"a setting said twice", "event.csv", "lead_fights,2", "rest_min,2",
			team.RowError{Line: 12, Column: "setting", Number: 1, Value: "rest_min"}, "line 10 has it already"},
		{"a setting out of range", "event.csv", "lead_fights,2", "lead_fights,200",
			team.RowError{Line: 10, Column: "value", Number: 2, Value: "200"}, "Enter 0 to 20"},
		{"a break that ends before it begins", "event.csv", "2026-05-09 12:45", "2026-05-09 11:45",
			team.RowError{Line: 19, Column: "value", Number: 2, Value: "2026-05-09 12:00 to 2026-05-09 11:45"}, "ends before it begins"},
		{"a break without its end", "event.csv", "2026-05-09 12:00 to 2026-05-09 12:45", "2026-05-09 12:00",
			team.RowError{Line: 19, Column: "value", Number: 2, Value: "2026-05-09 12:00"}, "two times at the event"},
		{"charging where there is no place", "event.csv", "charging_place,Charging table", "charging_place,Chargin table",
			team.RowError{Line: 24, Column: "value", Number: 2, Value: "Chargin table"}, "did you mean Charging table?"},
		{"a card that no official approved", "event.csv", "card_approved_by,A. Steward", "card_approved_by,",
			team.RowError{Line: 36, Column: "value", Number: 2, Value: "Example.\nShout FIRE; leave by gate 2."}, "name of the official"},
		{"an event without a name", "event.csv", `name,"Pebblewick Open, day 2"`, "activation_step,wait",
			team.RowError{Ask: "name"}, "a line that names the event"},
		{"a station where there is no place", "stations.csv", "bench,2,Box", "bench,2,Bax",
			team.RowError{Line: 2, Column: "place", Number: 4, Value: "Bax"}, "did you mean Box?"},
		{"a column nobody knows", "stations.csv", "jobs_at_once", "jobs_at_one",
			team.RowError{Line: 1, Number: 3, Value: "jobs_at_one"}, "did you mean jobs_at_once?"},
		{"a column under the name it had before", "chargers.csv", "amps_most,watts_most", "Max A,watts_most",
			team.RowError{Line: 1, Number: 3, Value: "Max A"}, "this column is now called amps_most"},
		{"a column under both its names", "packs.csv", "charge_amps_most,use,fits", "charge_amps_most,use,max_charge_a",
			team.RowError{Line: 1, Number: 8, Value: "max_charge_a"}, "this column is now called charge_amps_most"},
		{"a column there twice", "stations.csv", "name,kind,jobs_at_once", "name,kind,kind,jobs_at_once",
			team.RowError{Line: 1, Number: 3, Value: "kind"}, "each column once"},
		{"a column that is missing", "stations.csv", "name,kind,jobs_at_once", "name,kind,",
			team.RowError{Line: 1, Column: "jobs_at_once"}, "which is missing"},
		{"a cell under no column", "stations.csv", "Long bench,bench,2,Box", "Long bench,bench,2,Box,left over",
			team.RowError{Line: 2, Number: 5, Value: "left over"}, "no column is named above it"},
		{"a quote in the middle of a cell", "stations.csv", "Long bench,bench,2", `5" bench,bench,2`,
			team.RowError{Line: 2}, "the quote doubled"},
		{"a quote that never ends", "stations.csv", "Long bench,bench,2", `"Long bench,bench,2`,
			team.RowError{Line: 2}, "the quote doubled"},
		{"a letter in another encoding", "stations.csv", "Long bench", "L\xf6ng bench",
			team.RowError{Line: 2}, `save it again as "CSV UTF-8"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			good := folder(t)
			_, errs := team.Read(good, loadID(t))
			require.Empty(t, errs, "the good twin")

			bad := folder(t)
			replace(t, bad, c.file, c.good, c.bad)
			load, errs := team.Read(bad, loadID(t))

			require.NotEmpty(t, errs)
			require.Zero(t, load)
			got := errs[0]
			require.Contains(t, got.Want, c.says)
			c.want.File, got.Want = c.file, ""
			require.Equal(t, c.want, got)
		})
	}
}

func TestAFolderOfOldColumnsIsToldEachNewNameOnce(t *testing.T) {
	files := folder(t)
	replace(t, files, "chargers.csv", "amps_most,watts_most", "max_a,max_w")
	replace(t, files, "packs.csv", "charge_amps_most", "max_charge_a")

	_, errs := team.Read(files, loadID(t))

	require.Equal(t, []team.RowError{
		{File: "chargers.csv", Line: 1, Number: 3, Value: "max_a", Want: "this column is now called amps_most"},
		{File: "chargers.csv", Line: 1, Number: 4, Value: "max_w", Want: "this column is now called watts_most"},
		{File: "packs.csv", Line: 1, Number: 6, Value: "max_charge_a", Want: "this column is now called charge_amps_most"},
	}, errs)
}

func TestOneFaultMakesNoOthers(t *testing.T) {
	files := folder(t)
	replace(t, files, "robots.csv", ",12,", ",120,")
	replace(t, files, "spares.csv", ",4,drawer", ",-4,drawer")
	replace(t, files, "places.csv", "Charging table,charging", "Charging table,charging box")

	_, errs := team.Read(files, loadID(t))

	require.Len(t, errs, 3, "packs, jobs, fights and settings that name these are sound: %v", errs)
}

func TestFilesThatCannotBeATeamsAreRefused(t *testing.T) {
	for _, c := range []struct {
		name  string
		files func(fstest.MapFS)
		says  string
	}{
		{"no event", func(f fstest.MapFS) { delete(f, "event.csv") }, "event.csv: this file, which is missing"},
		{"a table nobody reads", func(f fstest.MapFS) { f["crews.csv"] = f["crew.csv"] }, "crews.csv: a file of a team folder; did you mean crew.csv?"},
		{"an empty table", func(f fstest.MapFS) { f["crew.csv"] = &fstest.MapFile{} }, "crew.csv line 1: a first line that names the columns"},
		{"UTF-16", func(f fstest.MapFS) { f["crew.csv"] = &fstest.MapFile{Data: []byte("\xff\xfen\x00a\x00")} }, "crew.csv line 1: UTF-8 text; this is UTF-16"},
		{"UTF-16, the other end first", func(f fstest.MapFS) { f["crew.csv"] = &fstest.MapFile{Data: []byte("\xfe\xff\x00n\x00a")} }, "this is UTF-16"},
		{"UTF-16 without a mark", func(f fstest.MapFS) { f["crew.csv"] = &fstest.MapFile{Data: []byte("n\x00a\x00")} }, "this is UTF-16"},
		{"a huge file", func(f fstest.MapFS) { f["crew.csv"] = &fstest.MapFile{Data: make([]byte, 1<<20+1)} }, "a file of at most 1048576 bytes"},
		{"too many rows", func(f fstest.MapFS) {
			f["places.csv"] = &fstest.MapFile{Data: []byte("name,kind\n" + strings.Repeat("x,bench\n", 2001))}
		}, "a file of at most 2000 rows"},
		{"too many people", func(f fstest.MapFS) {
			f["crew.csv"] = &fstest.MapFile{Data: []byte("name\n" + strings.Repeat("x\n", 301))}
		}, "a file of at most 300 rows"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := folder(t)
			c.files(files)
			_, errs := team.Read(files, loadID(t))
			var all []string
			for _, e := range errs {
				all = append(all, e.Error())
			}
			require.Contains(t, strings.Join(all, "\n"), c.says)
		})
	}
}

func TestFightsThatHangOnEachOtherAreRefused(t *testing.T) {
	files := folder(t)
	replace(t, files, "order.csv", "10:15,,,,,", "10:15,won,Box,14,Wumpet,won")
	replace(t, files, "order.csv", "13:00,won,Box,9,Wumpet,lost", "13:00,won,Box,4,Wumpet,")

	_, errs := team.Read(files, loadID(t))

	require.NotEmpty(t, errs)
	require.Contains(t, errs[0].Want, "in a ring")
}

func TestABranchMustBeToldWhereTwoShareAPlace(t *testing.T) {
	two := "Box,20,Wumpet,A,,won,Box,4,,\nBox,20,Wumpet,B,,lost,Box,4,,\n"
	files := folder(t)
	files["order.csv"] = &fstest.MapFile{Data: append(files["order.csv"].Data, two+"Box,30,Wumpet,C,,won,,20,,\n"...)}
	_, errs := team.Read(files, loadID(t))
	require.Len(t, errs, 1)
	require.Equal(t, "after_branch", errs[0].Column)

	files = folder(t)
	files["order.csv"] = &fstest.MapFile{Data: append(files["order.csv"].Data, two+"Box,30,Wumpet,C,,won,,20,,lost\n"...)}
	load, errs := team.Read(files, loadID(t))
	require.Empty(t, errs)
	require.Len(t, load.Fights, 7)
}

func TestARowErrorReadsAsOneLine(t *testing.T) {
	e := team.RowError{File: "crew.csv", Line: 4, Column: "skills", Number: 3, Value: "weld\ning", Want: "one of weld, drive"}
	require.EqualError(t, e, `crew.csv line 4, column "skills" (column 3), "weld\ning": one of weld, drive`)
	long := team.RowError{File: "event.csv", Line: 1, Value: strings.Repeat("é", 90), Want: "less"}
	require.EqualError(t, long, `event.csv line 1, "`+strings.Repeat("é", 60)+`…": less`)
}

// The board keeps its lists of words to itself and tells them in refusals; the
// words of the columns are compared with those.
func TestTheWordsOfTheColumnsAreThoseOfTheBoard(t *testing.T) {
	load, errs := team.Read(folder(t), loadID(t))
	require.Empty(t, errs)
	for _, c := range []struct {
		file, column, good, bad string
		spoil                   func(*board.TeamLoad)
	}{
		{"places.csv", "kind", "Box,arena", "Box,?", func(l *board.TeamLoad) { l.Places[0].Kind = "?" }},
		{"crew.csv", "role", "Odo,captain", "Odo,?", func(l *board.TeamLoad) { l.People[0].Role = "?" }},
		{"crew.csv", "skills", "mechanical; drive", "?", func(l *board.TeamLoad) { l.People[0].Skills = []board.Skill{"?"} }},
		{"crew.csv", "authorised", "weapon-power; drive-power", "?", func(l *board.TeamLoad) { l.People[0].Authorised = []board.EnergyKind{"?"} }},
		{"robots.csv", "unit", ",kg,", ",?,", func(l *board.TeamLoad) { l.Robots[0].Class.Unit = "?" }},
		{"robots.csv", "size", ",heavy,", ",?,", func(l *board.TeamLoad) { l.Robots[0].Size = "?" }},
		{"energies.csv", "reach", "rear\",outside", "rear\",?", func(l *board.TeamLoad) { l.Robots[0].Energies[0].Reach = "?" }},
		{"stations.csv", "kind", ",bench,", ",?,", func(l *board.TeamLoad) { l.Stations[0].Kind = "?" }},
		{"packs.csv", "chemistry", "lipo", "?", func(l *board.TeamLoad) { l.Packs[0].Chemistry = "?" }},
		{"packs.csv", "use", ",main,", ",?,", func(l *board.TeamLoad) { l.Packs[0].Use = "?" }},
		{"jobs.csv", "triage", "must,swap,swap", "?,swap,swap", func(l *board.TeamLoad) { l.Templates[0].Triage = "?" }},
		{"jobs.csv", "way", "swap,swap", "swap,?", func(l *board.TeamLoad) { l.Templates[0].Fixes[0].Way = "?" }},
		{"jobs.csv", "where", `in,"belt`, `?,"belt`, func(l *board.TeamLoad) { l.Templates[0].Fixes[0].Where = "?" }},
		{"jobs.csv", "touches", "weapon; lock", "?", func(l *board.TeamLoad) { l.Templates[0].Fixes[0].Touches = []board.System{"?"} }},
		{"order.csv", "only_if", "13:00,won", "13:00,?", func(l *board.TeamLoad) { l.Fights[3].If = "?" }},
		{"event.csv", "value", "match-end", "?", func(l *board.TeamLoad) { l.Event.RestFrom = "?" }},
		{"event.csv", "value", "rest_to,call", "rest_to,?", func(l *board.TeamLoad) { l.Event.RestTo = "?" }},
		{"event.csv", "value", "test-box", "?", func(l *board.TeamLoad) { l.Event.FailsafeAt = []board.FailsafePlace{"?"} }},
	} {
		t.Run(c.file+" "+c.column, func(t *testing.T) {
			files := folder(t)
			replace(t, files, c.file, c.good, c.bad)
			_, errs := team.Read(files, loadID(t))
			require.NotEmpty(t, errs)

			spoilt, again := team.Read(folder(t), loadID(t))
			require.Empty(t, again)
			c.spoil(&spoilt)
			id := loadID(t)
			_, refusal := board.Apply(board.State{}, spoilt, board.Ask{ID: id}, board.Actor{Role: board.RoleCaptain}, id.Moment())
			require.NotNil(t, refusal)
			_, list, ok := strings.Cut(refusal.Sentence, "Choose one of ")
			require.True(t, ok, refusal.Sentence)
			require.Equal(t, "one of "+strings.TrimSuffix(list, "."), strings.SplitN(errs[0].Want, ";", 2)[0])
		})
	}
	require.NotEmpty(t, load.Robots)
}

func TestAFolderWithAColumnThatNothingReadsAnyMoreLoads(t *testing.T) {
	files := folder(t)
	want := onBoard(t, files)
	replace(t, files, "robots.csv", ",withdrawn,", ",pack_in_outside,withdrawn,")
	replace(t, files, "robots.csv", "5.5,yes,5,yes,", "5.5,yes,5,yes,yes,")
	replace(t, files, "robots.csv", "20,yes,9,yes,", "20,yes,9,no,yes,")
	require.Equal(t, want, onBoard(t, files))
}
