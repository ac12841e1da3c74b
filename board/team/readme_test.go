package team_test

import (
	"encoding/csv"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendline/board/team"
)

var (
	readMeFile  = regexp.MustCompile(`^([a-z]+\.csv): (.+)$`)
	readMeEntry = regexp.MustCompile(`^  ([a-z0-9_]+)( \(needed\))?: (.+)\.$`)
	readMeLike  = regexp.MustCompile(`^      (.+)\. Example: (.+)$`)
)

// example is a table as the read-me has it: its columns in order, and an example of each.
type example struct{ columns, cells []string }

func examples(t *testing.T) map[string]*example {
	files, err := team.Blank()
	require.NoError(t, err)
	all := map[string]*example{}
	var file string
	for line := range strings.SplitSeq(strings.ReplaceAll(string(files[team.ReadMe]), "\r\n", "\n"), "\n") {
		if m := readMeFile.FindStringSubmatch(line); m != nil {
			file = m[1]
			all[file] = &example{}
		} else if m := readMeEntry.FindStringSubmatch(line); m != nil {
			all[file].columns = append(all[file].columns, m[1])
		} else if m := readMeLike.FindStringSubmatch(line); m != nil {
			all[file].cells = append(all[file].cells, m[2])
		}
	}
	return all
}

func TestTheReadMeTellsEveryColumnAndSettingWithAnExample(t *testing.T) {
	blank, err := team.Blank()
	require.NoError(t, err)
	all := examples(t)
	require.Len(t, all, len(blank)-1)
	for file, told := range all {
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(blank[file]), "\ufeff"))).ReadAll()
		require.NoError(t, err)
		want := rows[0]
		if file == "event.csv" {
			want = nil
			for _, row := range rows[1:] {
				want = append(want, row[0])
			}
		}
		require.Equal(t, want, told.columns, file)
		require.Len(t, told.cells, len(want), file)
	}
}

// A row a file, as the examples are.
func TestTheExamplesOfTheReadMeAreATeam(t *testing.T) {
	folder := fstest.MapFS{}
	for file, told := range examples(t) {
		rows := [][]string{told.columns, told.cells}
		switch file {
		case "event.csv":
			rows = [][]string{{"setting", "value"}}
			for i, name := range told.columns {
				rows = append(rows, []string{name, told.cells[i]})
			}
		case "parts.csv":
			rows = append(rows, append([]string{"Nettlepip", "cover"}, make([]string, len(told.columns)-2)...))
		case "order.csv":
			require.Equal(t, "after_branch", told.columns[9])
			told.cells[9] = "" // for two fights of one number
			rows = append(rows, append([]string{"Box", "4", "Nettlepip"}, make([]string, len(told.columns)-3)...))
		}
		var b strings.Builder
		require.NoError(t, csv.NewWriter(&b).WriteAll(rows))
		folder[file] = &fstest.MapFile{Data: []byte(b.String())}
	}
	load, errs := team.Read(folder, loadID(t))
	require.Empty(t, errs)
	require.Len(t, load.Fights, 2)
	apply(t, load)
}

func TestABlankFolderWantsTheEventsNameAlone(t *testing.T) {
	files, err := team.Blank()
	require.NoError(t, err)
	_, errs := team.Read(inFolder(files), loadID(t))
	require.Len(t, errs, 1)
	require.Equal(t, "name", errs[0].Ask)

	files["event.csv"] = []byte(strings.Replace(string(files["event.csv"]), "name,", "name,Small Open", 1))
	_, errs = team.Read(inFolder(files), loadID(t))
	require.Empty(t, errs)
}

func TestEveryFileOfADumpHasAMarkThatItIsUTF8(t *testing.T) {
	files, err := team.Write(onBoard(t, folder(t)))
	require.NoError(t, err)
	for name, data := range files {
		require.True(t, strings.HasPrefix(string(data), "\ufeff"), name)
	}
}
