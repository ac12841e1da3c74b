package forecast

import (
	"fmt"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

// Entries holds derived nouns by their keys, each as its bytes on the wire.
type Entries map[board.Key]jsontext.Value

// Entries encodes the forecast's nouns.
func (f Forecast) Entries() Entries {
	out := Entries{}
	add := func(kind, id string, noun any) {
		b, err := json.Marshal(noun)
		if err != nil {
			panic(fmt.Sprintf("forecast: encode %s/%s: %v", kind, id, err))
		}
		out[board.Key(kind+"/"+id)] = b
	}
	for _, n := range f.Calls {
		add("call", string(n.Robot), n)
	}
	for _, n := range f.Chances {
		add("chance", string(n.Robot), n)
	}
	for _, n := range f.LeaveOff {
		add("leaveoff", string(n.Robot), n)
	}
	for _, n := range f.Lanes {
		add("lane", string(n.Robot), n)
	}
	for _, n := range f.Plans {
		add("plan", string(n.Job), n)
	}
	for _, n := range f.Todos {
		add("todo", string(n.Person), n)
	}
	for _, n := range f.Strips {
		add("strip", string(n.Robot), n)
	}
	for _, n := range f.Packs {
		add("packview", string(n.Pack), n)
	}
	for _, n := range f.Works {
		add("works", string(n.Robot), n)
	}
	for _, n := range f.Costs {
		add("cost", string(n.Robot), n)
	}
	for _, n := range f.Setups {
		add("setups", string(n.Robot), n)
	}
	for _, n := range f.Access {
		add("access", string(n.Robot), n)
	}
	for _, n := range f.Bends {
		add("bends", string(n.Robot), n)
	}
	for _, n := range f.Health {
		add("packhealth", string(n.Pack), n)
	}
	for _, n := range f.Energies {
		add("fightenergy", string(n.Robot), n)
	}
	for _, n := range f.Channels {
		add("channelview", string(n.Channel), n)
	}
	for _, n := range f.Circuits {
		add("circuitview", string(n.Circuit), n)
	}
	for _, n := range f.FightPacks {
		add("fightpacks", string(n.Fight), n)
	}
	for _, n := range f.Alarms {
		add("alarm", n.Slug, n)
	}
	for _, n := range f.Scarce {
		add("scarce", string(n.Stock), n)
	}
	for _, n := range f.Absent {
		add("absent", string(n.Person), n)
	}
	if f.Tests != nil {
		add("tests", "event", f.Tests)
	}
	if f.Calibration != nil {
		add("calibration", "event", f.Calibration)
	}
	for _, n := range f.Learned {
		add("learned", string(n.Kind), n)
	}
	if f.First != nil {
		add("first", "event", f.First)
	}
	if len(f.Owed.List) > 0 {
		add("owed", "event", f.Owed)
	}
	if len(f.Relaxed.List) > 0 {
		add("relaxed", "event", f.Relaxed)
	}
	return out
}
