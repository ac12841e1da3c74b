package team_test

import (
	"bytes"
	"io/fs"
	"os"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
)

// loadID is the command that loads in these tests.
func loadID(t require.TestingT) board.CommandID {
	id, ok := board.ParseCommandID("019e0000-0000-7000-8000-000000000001")
	require.True(t, ok)
	return id
}

// folder is the full team, every field of which is filled.
func folder(t testing.TB) fstest.MapFS {
	files := fstest.MapFS{}
	full := os.DirFS("testdata/full")
	names, err := fs.Glob(full, "*.csv")
	require.NoError(t, err)
	require.Len(t, names, 17)
	for _, name := range names {
		data, err := fs.ReadFile(full, name)
		require.NoError(t, err)
		files[name] = &fstest.MapFile{Data: data}
	}
	return files
}

func inFolder(files map[string][]byte) fstest.MapFS {
	folder := fstest.MapFS{}
	for name, data := range files {
		folder[name] = &fstest.MapFile{Data: data}
	}
	return folder
}

// onBoard loads a folder into an empty board.
func onBoard(t require.TestingT, fsys fs.FS) board.State {
	load, errs := team.Read(fsys, loadID(t))
	require.Empty(t, errs)
	return apply(t, load)
}

func apply(t require.TestingT, load board.TeamLoad) board.State {
	id := loadID(t)
	change, refusal := board.Apply(board.State{}, load, board.Ask{ID: id}, board.Actor{Role: board.RoleCaptain}, id.Moment())
	require.Nil(t, refusal)
	return board.State{}.With(change)
}

func nouns(s board.State) []string {
	var all []string
	for _, n := range s.Nouns() {
		all = append(all, string(n.Key())+" "+string(board.Encode(n)))
	}
	return all
}

func TestATeamReadsTheSameAfterADump(t *testing.T) {
	first := onBoard(t, folder(t))

	files, err := team.Write(first)
	require.NoError(t, err)

	require.Equal(t, nouns(first), nouns(onBoard(t, inFolder(files))))
}

func TestADumpOfADumpIsTheSameBytes(t *testing.T) {
	files, err := team.Write(onBoard(t, folder(t)))
	require.NoError(t, err)

	again, err := team.Write(onBoard(t, inFolder(files)))
	require.NoError(t, err)

	require.Equal(t, files, again)
}

// mayBeEmpty lists what the board's own rules keep from being filled in every
// row; each is filled in another row.
var mayBeEmpty = map[string]string{
	"Person.Authorised":               "a minor or guest can hold no authority",
	"Person.Signer":                   "a minor or guest signs nothing",
	"Person.Minor":                    "a captain is none",
	"Person.Guest":                    "a captain is none",
	"Robot.Energies.RestSec":          "a spring does not go by itself",
	"Fight.After":                     "the first fight hangs on none",
	"Fight.If":                        "the first fight hangs on none",
	"Template.Fixes.WorksPct":         "only a patch leaves a part of it working",
	"Part.First":                      "something lies bare",
	"Construction.Built":              "a robot is built one way",
	"Construction.Guessed":            "what is built was mended",
	"Construction.Mends.Parts":        "a group names its parts once",
	"Construction.Mends.AccessSec":    "the way in is said once",
	"Construction.Mends.AccessBadSec": "the way in is said once",
	"Construction.Mends.Joints":       "fasteners are counted once",
	"Construction.Mends.Each":         "some work is done once a fight",
	"Construction.Mends.CostCents":    "straightening uses nothing up",
}

func TestTheFullTeamLeavesNoFieldOfAnyRowEmpty(t *testing.T) {
	load, errs := team.Read(folder(t), loadID(t))
	require.Empty(t, errs)

	filled := map[string]bool{}
	var empties []string
	var walk func(v reflect.Value, path string)
	walk = func(v reflect.Value, path string) {
		_, excused := mayBeEmpty[path]
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				f := v.Type().Field(i)
				if f.Anonymous {
					walk(v.Field(i), path)
				} else if ofFolder(v.Type(), f.Name) {
					walk(v.Field(i), path+"."+f.Name)
				}
			}
			return
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i), path)
			}
		}
		empty := v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0
		filled[path] = filled[path] || !empty
		if empty && !excused {
			empties = append(empties, path)
		}
	}
	v := reflect.ValueOf(load)
	for i := range v.NumField() {
		field := v.Field(i)
		require.False(t, field.IsZero(), v.Type().Field(i).Name)
		if field.Kind() != reflect.Slice {
			walk(field, "Event")
			continue
		}
		for k := range field.Len() {
			walk(field.Index(k), field.Index(k).Type().Name())
		}
	}
	require.Empty(t, empties, "fields that are empty in a row")
	for path, why := range mayBeEmpty {
		require.True(t, filled[path], "%s is filled in no row (%s)", path, why)
	}
	require.Greater(t, len(filled), 80)
}

// ofFolder tells what a team folder holds from what the day brings: of a noun its
// id, where a pack lies, and all that people say of it.
func ofFolder(typ reflect.Type, field string) bool {
	_, isNoun := typ.FieldByName("V")
	return !isNoun || field == "ID" || field == "Place"
}

func TestIdsAreThoseOfTheCommandsThatAddOneNoun(t *testing.T) {
	id := loadID(t)
	loaded := onBoard(t, folder(t))
	load, errs := team.Read(folder(t), id)
	require.Empty(t, errs)

	// A fight's and a pack's command refer to others, so each is given to a board
	// that holds the team without it.
	for _, c := range []struct {
		name string
		take func(*board.TeamLoad) (board.Command, board.Key)
	}{
		{"place", func(l *board.TeamLoad) (board.Command, board.Key) {
			n := l.Places[0]
			l.Places = l.Places[1:]
			return board.PlaceAdd{PlaceFields: n.PlaceFields}, n.Key()
		}},
		{"station", func(l *board.TeamLoad) (board.Command, board.Key) {
			n := l.Stations[0]
			l.Stations = nil
			return board.StationAdd{StationFields: n.StationFields}, n.Key()
		}},
		{"channel", func(l *board.TeamLoad) (board.Command, board.Key) {
			n := l.Channels[0]
			l.Channels = nil
			return board.ChannelAdd{ChannelFields: n.ChannelFields}, n.Key()
		}},
		{"pack", func(l *board.TeamLoad) (board.Command, board.Key) {
			n := l.Packs[0]
			l.Packs = nil
			return board.PackAdd{PackFields: n.PackFields}, n.Key()
		}},
		{"template", func(l *board.TeamLoad) (board.Command, board.Key) {
			n := l.Templates[0]
			l.Templates = nil
			return board.TemplateAdd{TemplateFields: n.TemplateFields}, n.Key()
		}},
		{"fight", func(l *board.TeamLoad) (board.Command, board.Key) {
			n := l.Fights[len(l.Fights)-1]
			l.Fights = l.Fights[:len(l.Fights)-1]
			return board.FightAdd{FightFields: n.FightFields}, n.Key()
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			rest := load
			add, key := c.take(&rest)
			change, refusal := board.Apply(apply(t, rest), add, board.Ask{ID: id}, board.Actor{Role: board.RoleCaptain}, id.Moment())
			require.Nil(t, refusal)
			require.Contains(t, change.Done.Made, key)
			_, there := loaded.Get(key)
			require.True(t, there)
		})
	}
}

func TestWhatIsOffTheBoardIsLeftOutOfTheDump(t *testing.T) {
	s := onBoard(t, folder(t))
	retire := func(c board.Command) {
		id := loadID(t)
		change, refusal := board.Apply(s, c, board.Ask{ID: id}, board.Actor{Role: board.RoleCaptain}, id.Moment())
		require.Nil(t, refusal)
		s = s.With(change)
	}
	load, _ := team.Read(folder(t), loadID(t))
	bomp := load.Robots[1]
	retire(board.PersonRetire{Person: bomp.Driver})
	retire(board.RobotRetire{Robot: bomp.ID})
	retire(board.StockRetire{Stock: load.Stocks[1].ID})
	retire(board.FightDrop{Fight: load.Fights[2].ID})

	files, err := team.Write(s)
	require.NoError(t, err)
	again, errs := team.Read(inFolder(files), loadID(t))

	require.Empty(t, errs)
	require.Len(t, again.People, 1)
	require.Len(t, again.Robots, 1)
	require.Equal(t, []board.RobotID{load.Robots[0].ID}, again.Packs[0].Fits)
	require.Len(t, again.Stocks, 2, "a spare that a kind of job still needs is kept")
	require.Len(t, again.Fights, 1, "a fight of a retired robot, a dropped one and one that hangs on it are gone")
}

func TestAnEmptyBoardHasNoTeamToWrite(t *testing.T) {
	_, err := team.Write(board.State{})
	require.ErrorContains(t, err, "holds no team")
}

func TestAFolderOfEventSettingsAloneIsATeam(t *testing.T) {
	s := onBoard(t, fstest.MapFS{"event.csv": {Data: []byte("setting,value\nname,Small Open\n")}, "notes.txt": {Data: []byte("not ours")}})
	require.Equal(t, "Small Open", s.Event().Name)
}

func TestWhatIsWrongInAllFilesIsListedAndNothingIsLoaded(t *testing.T) {
	files := folder(t)
	replace(t, files, "crew.csv", "mechanical; drive", "mechanicla; drive")
	replace(t, files, "robots.csv", ",7,", ",seven,")
	replace(t, files, "robots.csv", ",12,", ",120,")
	replace(t, files, "spares.csv", ",4,drawer", ",-4,drawer")
	replace(t, files, "order.csv", "Box,14", ",14")

	load, errs := team.Read(files, loadID(t))

	require.Zero(t, load)
	var at []string
	for _, e := range errs {
		at = append(at, e.File+" "+e.Column)
	}
	require.Equal(t, []string{"crew.csv skills", "robots.csv number", "robots.csv number", "spares.csv count", "order.csv arena"}, at)
}

func replace(t testing.TB, files fstest.MapFS, file, old, new string) {
	t.Helper()
	text := string(files[file].Data)
	require.Equal(t, 1, strings.Count(text, old), "%s in %s", old, file)
	files[file] = &fstest.MapFile{Data: bytes.Replace([]byte(text), []byte(old), []byte(new), 1)}
}

func TestASpareEnteredAgainStandsForTheOneTakenOff(t *testing.T) {
	load, errs := team.Read(folder(t), loadID(t))
	require.Empty(t, errs)
	s := apply(t, load)
	for i, c := range []board.Command{
		board.StockRetire{Stock: load.Stocks[1].ID},
		board.StockAdd{StockFields: board.StockFields{Name: load.Stocks[1].Name, Count: 2}},
	} {
		id := loadID(t)
		id[15] += byte(i + 1)
		change, refusal := board.Apply(s, c, board.Ask{ID: id}, board.Actor{Role: board.RoleCaptain}, id.Moment())
		require.Nil(t, refusal)
		s = s.With(change)
	}
	files, err := team.Write(s)
	require.NoError(t, err)
	again, errs := team.Read(inFolder(files), loadID(t))
	require.Empty(t, errs)
	require.Len(t, again.Stocks, 2)
	require.Equal(t, load.Templates, again.Templates, "jobs need the spare of that name")
}

func TestFightsThatHangOnEachOtherAreNoPartOfADump(t *testing.T) {
	load, errs := team.Read(folder(t), loadID(t))
	require.Empty(t, errs)
	ring := load.Fights[0]
	ring.After, ring.If = load.Fights[1].ID, board.Lost

	files, err := team.Write(board.FromNouns(1, append(apply(t, load).Nouns(), ring), nil))

	require.NoError(t, err)
	again, errs := team.Read(inFolder(files), loadID(t))
	require.Empty(t, errs)
	require.Empty(t, again.Fights, "none of them can ever take place")
}
