package team_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
)

// What people and their spreadsheets do to a folder: it loads as it was meant, or one
// fault names the cell. Common practice, no source.
func TestAFolderAsSpreadsheetsLeaveItLoadsOrNamesItsCellOnce(t *testing.T) {
	const event = "setting,value\nname,Small Open\n"
	const order = "arena,number,robot,not_before\nBox,4,Tin Moth,"
	files := func(more map[string]string) fstest.MapFS {
		f := fstest.MapFS{"event.csv": {Data: []byte(event)}, "robots.csv": {Data: []byte("name\nTin Moth\nWasp\n")}}
		for name, text := range more {
			f[name] = &fstest.MapFile{Data: []byte(text)}
		}
		return f
	}
	stock := func(l board.TeamLoad) any { return l.Stocks[0].MassGrams }
	price := func(l board.TeamLoad) any { return l.Stocks[0].ListCents }
	limit := func(l board.TeamLoad) any { return l.Robots[0].Class.Limit }
	at := func(l board.TeamLoad) any { return l.Fights[0].NotBefore.Time().UTC().Format("2006-01-02 15:04") }
	robots := func(l board.TeamLoad) any { return len(l.Robots) }
	for _, c := range []struct {
		name  string
		files map[string]string
		gives func(board.TeamLoad) any
		want  any    // where it loads
		where string // else, of the one fault
		says  string
	}{
		{"decimal commas between semicolons", map[string]string{"robots.csv": "name;class;limit;unit;rule_set\nTin Moth;beetle;1,36;kg;ours\n"}, limit, 1.36, "", ""},
		{"a decimal comma in quotes", map[string]string{"robots.csv": "name,class,limit,unit,rule_set\nTin Moth,beetle,\"1,36\",kg,ours\n"}, limit, 1.36, "", ""},
		{"three decimals between semicolons", map[string]string{"robots.csv": "name;class;limit;unit;rule_set\nTin Moth;beetle;1,360;kg;ours\n"}, limit, 1.36, "", ""},
		{"a comma that may be either", map[string]string{"robots.csv": "name,class,limit,unit,rule_set\nTin Moth,beetle,\"1,360\",kg,ours\n"}, nil, nil, "robots.csv 2 limit", "may be 1360 or 1.36"},
		{"a point that may be either", map[string]string{"robots.csv": "name;class;limit;unit;rule_set\nTin Moth;beetle;1.360;kg;ours\n"}, nil, nil, "robots.csv 2 limit", "may be 1360 or 1.36"},
		{"thousands with commas", map[string]string{"spares.csv": "name,count,list_price\nbelt,1,\"1,250.00\"\n"}, price, 125000, "", ""},
		{"thousands with points", map[string]string{"spares.csv": "name;count;list_price\nbelt;1;1.250,00\n"}, price, 125000, "", ""},
		{"thousands with narrow blanks", map[string]string{"spares.csv": "name;count;mass_g\nbelt;1;1\u202f250\n"}, stock, 1250, "", ""},
		{"a whole number with decimals", map[string]string{"spares.csv": "name,count,mass_g\nbelt,1.0,12.00\n"}, stock, 12, "", ""},
		{"money with its sign", map[string]string{"spares.csv": "name,count,list_price\nbelt,1,$24.90\n"}, price, 2490, "", ""},
		{"a time by twice twelve", map[string]string{"order.csv": order + "2026-11-30 9:05 PM\n"}, at, "2026-11-30 21:05", "", ""},
		{"noon and midnight", map[string]string{"order.csv": order + "2026-11-30 12:05\u202fAM\n"}, at, "2026-11-30 00:05", "", ""},
		{"the month first, beyond doubt", map[string]string{"order.csv": order + "11/30/2026 9:05\n"}, at, "2026-11-30 09:05", "", ""},
		{"the day first, beyond doubt", map[string]string{"order.csv": order + "30/11/26 9:05\n"}, at, "2026-11-30 09:05", "", ""},
		{"points, so the day first", map[string]string{"order.csv": order + "09.05.2026 9:05\n"}, at, "2026-05-09 09:05", "", ""},
		{"either first", map[string]string{"order.csv": order + "11/12/2026 9:05\nBox,5,Wasp,10/12/2026 9:15\n"}, nil, nil, "order.csv 2 not_before", "day or month first?"},
		{"either first, and said", map[string]string{"event.csv": event + "date_order,month-day\n", "order.csv": order + "11/12/2026 9:05\n"}, at, "2026-11-12 09:05", "", ""},
		{"said, and not so", map[string]string{"event.csv": event + "date_order,day-month\n", "order.csv": order + "11/30/2026 9:05\n"}, at, "2026-11-30 09:05", "", ""},
		{"a time without a day", map[string]string{"order.csv": order + "9:05 AM\n"}, nil, nil, "order.csv 2 not_before", "the day too"},
		{"a time without a day, and said", map[string]string{"event.csv": event + "date,30.11.2026\n", "order.csv": order + "9:05 AM\n"}, at, "2026-11-30 09:05", "", ""},
		{"a day that no month has", map[string]string{"order.csv": order + "31.11.2026 9:05\n"}, nil, nil, "order.csv 2 not_before", "such as 2026-05-09 14:30"},
		{"a line that names the separator", map[string]string{"robots.csv": "sep=;\nname;number\nTin Moth;7\n"}, robots, 1, "", ""},
		{"a lock of the spreadsheet, and what systems leave", map[string]string{"~$robots.csv": "\x00", ".DS_Store": "\x00", "._robots.csv": "\x00", "Thumbs.db": "\x00"}, robots, 2, "", ""},
		{"a name with the workbook's before it", map[string]string{"robots.csv": "name\nTin Moth\n", "Our Team - crew (1).csv": "name\nBo\n"}, func(l board.TeamLoad) any { return l.People[0].Name }, "Bo", "", ""},
		{"people by another name", map[string]string{"People.CSV": "Name\nBo\n"}, func(l board.TeamLoad) any { return l.People[0].Role }, board.RoleCrew, "", ""},
		{"the same table twice", map[string]string{"robots (1).csv": "name\nTin Moth\n"}, nil, nil, "robots.csv 0 ", "there are two"},
		{"a spreadsheet's own file", map[string]string{"packs.xlsx": "PK"}, nil, nil, "packs.xlsx 0 ", `as "CSV UTF-8"`},
		{"one wrong column", map[string]string{"robots.csv": "name,class,limit,unit,rule_set\nA,b,3,pounds,r\nB,b,3,pounds,r\nC,b,3,lbs.,r\nD,b,3,pounds,r\n"}, nil, nil, "robots.csv 2 unit", "one of g, kg, lb"},
		{"names alone", nil, func(l board.TeamLoad) any { return []int{l.Robots[0].Number, l.Robots[1].Number} }, []int{1, 2}, "", ""},
		{"a mass where importance stood once", map[string]string{"robots.csv": "name,limit,unit,weight\nTin Moth,3,lb,3\n"}, nil, nil, "robots.csv 1 ", "now called importance; how much its calls matter, 1 to 9, and not what it weighs"},
		{"half a class", map[string]string{"robots.csv": "name,class\nTin Moth,beetle\n"}, nil, nil, "robots.csv 2 limit", "leave class, limit, unit and all else of it blank"},
	} {
		t.Run(c.name, func(t *testing.T) {
			load, errs := team.Read(files(c.files), loadID(t))
			if c.where == "" {
				require.Empty(t, errs)
				require.Equal(t, c.want, c.gives(load))
				return
			}
			require.Len(t, errs, 1)
			require.Zero(t, load)
			e := errs[0]
			require.Equal(t, c.where, strings.Join([]string{e.File, string(rune('0' + e.Line)), e.Column}, " "))
			require.Contains(t, e.Error(), c.says)
		})
	}
}

func TestOneWrongColumnNamesEachLine(t *testing.T) {
	_, errs := team.Read(fstest.MapFS{
		"event.csv":  {Data: []byte("setting,value\nname,Small Open\n")},
		"robots.csv": {Data: []byte("name,size\nA,big\nB,big\nC,light\nD,big\nE,small\n")},
	}, loadID(t))
	require.Len(t, errs, 1)
	require.EqualError(t, errs[0], `robots.csv line 2, column "size" (column 2), "big": one of heavy, light; so too on line 3, 5 to 6`)
}

func TestWhatIsPassedOverIsSaid(t *testing.T) {
	g := team.Given{Files: map[string][]byte{
		"our/event.csv": []byte("setting,value\nname,Small Open\n"), "our/.DS_Store": nil, "__MACOSX/our/._event.csv": nil,
		"our/~$robots.csv": nil, "our/notes.txt": nil, "our/README.txt": nil,
	}}
	_, errs := g.Read(loadID(t))
	require.Empty(t, errs)
	require.Equal(t, []string{"__MACOSX/our/._event.csv", "our/.DS_Store", "our/notes.txt", "our/~$robots.csv"}, g.Skipped())
}

func TestWhatTheFolderLeavesOpenIsAskedAndThenSaid(t *testing.T) {
	g := team.Given{Files: map[string][]byte{
		"robots.csv": []byte("name\nTin Moth\n"), "order.csv": []byte("arena,number,robot,not_before\nBox,4,Tin Moth,11/12/2026 9:05\nBox,6,Tin Moth,9:45\n"),
	}}
	_, errs := g.Read(loadID(t))
	asked := map[string]bool{}
	for _, e := range errs {
		asked[e.Ask] = true
	}
	require.Equal(t, map[string]bool{"name": true, "date_order": true, "date": true}, asked)

	g.Said = map[string]string{"name": "Small Open", "date_order": "day-month", "date": "2026-12-11", "utc_offset_min": "60"}
	load, errs := g.Read(loadID(t))
	require.Empty(t, errs)
	require.Equal(t, "Small Open", load.Event.Name)
	require.Equal(t, "2026-12-11 08:05", load.Fights[0].NotBefore.Time().UTC().Format("2006-01-02 15:04"))
	require.Equal(t, "2026-12-11 08:45", load.Fights[1].NotBefore.Time().UTC().Format("2006-01-02 15:04"))
}
