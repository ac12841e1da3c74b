package main

import (
	"bytes"
	"fmt"
	"io"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

// lateMostMs is how late a command may be sent before the figures say more about
// the machine than about the board. Our choice, no source.
const lateMostMs = 25

// figures are the outcome of a run.
type figures struct {
	Devices int     `json:"devices"`
	Rate    float64 `json:"commandsPerSec"`
	Seconds int     `json:"seconds"`
	Steady  bool    `json:"steady"`
	Seed    uint64  `json:"seed"`
	// Jobs were entered before the load; Forecasts came to one device under it.
	Jobs      int `json:"jobs"`
	Forecasts int `json:"forecasts"`
	Commands  int `json:"commands"`
	// LateMs is the most a command was sent after it was due: the crowd's own lag.
	LateMs float64 `json:"lateMs"`

	Ack        spread `json:"ack"`        // command sent → its answer
	Everywhere spread `json:"everywhere"` // command sent → patch at every device
	Flush      spread `json:"floorFlush"`
	Floor      spread `json:"floor"`
	Ratio      ratio  `json:"ratio"` // Everywhere / Floor

	Rev         board.Rev `json:"rev"`
	Nouns       int       `json:"nouns"`
	Cuts        int       `json:"cuts"`
	DeviceBytes int64     `json:"deviceBytes"` // received by the device that received most

	Board *usageFigures `json:"board,omitempty"`
	Back  *backFigures  `json:"back,omitempty"`
	// Faults are what the checks found wrong.
	Faults []string `json:"faults"`
}

// usageFigures are what the board used. The processor times are of the Seconds
// under load alone.
type usageFigures struct {
	memory   `json:",inline"`
	Seconds  float64 `json:"loadedSec"`
	BoardCPU float64 `json:"boardCPUSec"`
	CrowdCPU float64 `json:"crowdCPUSec"`
}

func (f *figures) writeJSON(w io.Writer) error {
	return json.MarshalWrite(w, f, json.Deterministic(true), jsontext.WithIndent("  "))
}

func (f *figures) writeTable(w io.Writer) error {
	var b bytes.Buffer
	arrivals := "random arrivals"
	if f.Steady {
		arrivals = "evenly spaced"
	}
	fmt.Fprintf(&b, "%d devices, %d commands in %d s (%g/s, %s, seed %d); milliseconds\n\n", f.Devices, f.Commands, f.Seconds, f.Rate, arrivals, f.Seed)
	fmt.Fprintf(&b, "%-34s %6s %8s %8s %8s %8s\n", "", "n", "p50", "p95", "p99", "max")
	row := func(what string, s spread) {
		fmt.Fprintf(&b, "%-34s %6d %8.2f %8.2f %8.2f %8.2f\n", what, s.Count, s.P50, s.P95, s.P99, s.Max)
	}
	row("command sent → acknowledged", f.Ack)
	row("command sent → every device", f.Everywhere)
	row("floor: one flush", f.Flush)
	row(fmt.Sprintf("floor: flush, then %d bare sockets", f.Devices), f.Floor)
	fmt.Fprintf(&b, "%-34s %6s %7.1f× %7.1f× %7.1f× %7.1f×\n\n", "every device / floor", "", f.Ratio.P50, f.Ratio.P95, f.Ratio.P99, f.Ratio.Max)
	if f.Back != nil {
		row("answers again → back, after a stop", f.Back.Stopped)
		row("answers again → back, after a kill", f.Back.Killed)
		fmt.Fprintf(&b, "the board did not answer for %.0f ms and %.0f ms\n\n", f.Back.DownMs[0], f.Back.DownMs[1])
	}
	f.writeUsage(&b)
	f.writeChecks(&b)
	_, err := w.Write(b.Bytes())
	return err
}

func (f *figures) writeUsage(b *bytes.Buffer) {
	const mb = 1e6
	if u := f.Board; u != nil {
		fmt.Fprintf(b, "board: at most %.1f MB resident, now %.1f MB, of it %.1f MB its own (the rest is mapped files)\n",
			float64(u.Peak)/mb, float64(u.Resident)/mb, float64(u.Own)/mb)
		fmt.Fprintf(b, "processor under load, of one core: board %.0f %%, crowd %.0f %%\n", 100*u.BoardCPU/u.Seconds, 100*u.CrowdCPU/u.Seconds)
	}
	fmt.Fprintf(b, "%d open jobs were entered before the load; %d forecasts came under it\n", f.Jobs, f.Forecasts)
	fmt.Fprintf(b, "a device received up to %.2f MB; a command was sent at most %.1f ms late\n", float64(f.DeviceBytes)/mb, f.LateMs)
	if f.LateMs > lateMostMs {
		fmt.Fprintln(b, "the machine was too busy with other things for these figures to mean much: measure again when it is not")
	}
}

func (f *figures) writeChecks(b *bytes.Buffer) {
	fmt.Fprintf(b, "connections cut: %d\n", f.Cuts)
	if len(f.Faults) == 0 {
		fmt.Fprintf(b, "checked: %d copies equal the board at revision %d, %d nouns; %d commands acknowledged, each once in the stream\n",
			f.Devices, f.Rev, f.Nouns, f.Commands)
		return
	}
	fmt.Fprintf(b, "FAULTS: %d\n", len(f.Faults))
	for _, what := range f.Faults {
		fmt.Fprintf(b, "  %s\n", what)
	}
}
