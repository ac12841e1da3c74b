package forecast

import (
	"fmt"
	"strings"

	"mendline/board"
)

// minutes is how long something takes, or by how much it is late, as people say it.
func minutes(sec int) string { return board.MinutesOfWork.Say(sec) }

func jobName(j board.Job) string { return fmt.Sprintf("job %d, %s", j.Number, j.Name) }

func fightName(f board.Fight) string { return fmt.Sprintf("fight %s %d", f.Arena, f.Number) }

func and(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

func isAre(names []string) string {
	if len(names) == 1 {
		return names[0] + " is"
	}
	return and(names) + " are"
}

func upper(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// stationWords name the kinds of station in a sentence.
var stationWords = map[board.StationKind]string{
	board.StationBench: "bench", board.StationPlate: "surface plate", board.StationGrind: "grinder",
	board.StationWeld: "welding place", board.StationCharge: "charging place", board.StationScale: "scale",
	board.StationTest: "test area", board.StationGas: "gas filling place", board.StationPress: "press",
}

func jobKey(j board.Job) string { return fmt.Sprintf("%08d", j.Number) }

func personKey(person board.Person) string { return person.Name }
