package board_test

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// harmless are the settings that ask for less in no value they may have, and why.
var harmless = map[string]map[string]string{
	"event": {
		"name": "a name", "currency": "what money is called", "offsetMin": "another makes every robot unknown", "activationOrder": "rule 20 asks for it, and it has no default",
		"deactivationOrder": "rule 20 asks for it, and it has no default", "leadFights": "a time of the plan", "leadSec": "a time of the plan",
		"restSec": "a time of the plan", "restFrom": "a time of the plan", "restTo": "a time of the plan", "postponeSec": "a time of the plan",
		"postponeFor": "a time of the plan", "fightMeanSec": "a time of the plan", "fightMeanWorth": "a time of the plan", "breaks": "a time of the plan",
		"emergencyContact": "rule 20 asks for it",
		"tightBelow":       "what is called tight", "wontBelow": "what is called tight", "card": "the officials' own text",
	},
	"robot": {
		"name": "a name", "number": "a name", "size": "a choice of jobs", "lead": "rule 5 says who may", "driver": "rule 5 says who may",
		"hands": "a figure of the plan", "beforeSec": "a time of the plan", "afterSec": "a time of the plan", "weight": "a figure of the plan",
	},
	"place":    {},
	"template": {"name": "a name", "size": "a choice of robots"},
}

func TestEverySettingSaysWhereItAsksForLessOrCannot(t *testing.T) {
	for kind, fields := range map[string]reflect.Type{
		"event": reflect.TypeFor[EventFields](), "robot": reflect.TypeFor[RobotFields](), "place": reflect.TypeFor[PlaceFields](),
		"template": reflect.TypeFor[TemplateFields](),
	} {
		var names []string
		for i := range fields.NumField() {
			name, _, _ := strings.Cut(fields.Field(i).Tag.Get("json"), ",")
			names = append(names, name)
			_, cannot := harmless[kind][name]
			require.NotEqual(t, cannot, slices.Contains(RelaxedFields()[kind], name),
				"%s.%s: say in relaxed.go where it asks for less, or in harmless why it cannot", kind, name)
		}
		for _, name := range slices.Concat(RelaxedFields()[kind], slices.Collect(maps.Keys(harmless[kind]))) {
			require.Contains(t, names, name, kind)
		}
	}
}

func TestEverySettingThatAsksForLessPrints(t *testing.T) {
	event := func(change func(p *pit, f *EventFields)) func(*pit) {
		return func(p *pit) {
			f := p.s.Event().EventFields
			change(p, &f)
			p.captain(EventSet{EventFields: f, Reason: "the event says so"})
		}
	}
	robot := func(change func(p *pit, f *RobotFields)) func(*pit) {
		return func(p *pit) {
			f := p.s.Robots[p.moth].RobotFields
			f.Energies = slices.Clone(f.Energies)
			change(p, &f)
			p.captain(RobotChange{Robot: p.moth, RobotFields: f, Reason: "as it is built"})
		}
	}
	place := func(id func(p *pit) PlaceID, change func(f *PlaceFields)) func(*pit) {
		return func(p *pit) {
			f := p.s.Places[id(p)].PlaceFields
			change(&f)
			p.captain(PlaceChange{Place: id(p), PlaceFields: f, Reason: "moved"})
		}
	}
	bench, shelf := func(p *pit) PlaceID { return p.bench }, func(p *pit) PlaceID { return p.shelf }
	all := func(deeds ...func(*pit)) func(*pit) {
		return func(p *pit) {
			for _, do := range deeds {
				do(p)
			}
		}
	}
	worded := func(list SheetList, id, ask string) func(*pit) {
		return func(p *pit) {
			var lines []WordedLine
			for _, l := range Lists() {
				for _, own := range l.Lines {
					if l.List == list {
						lines = append(lines, WordedLine{ID: own.ID})
						if own.ID == id {
							lines[len(lines)-1].Ask = ask
						}
					}
				}
			}
			p.ok(p.as(p.ada), WordingSet{List: list, Lines: lines})
		}
	}
	for says, c := range map[string]struct{ less, back func(*pit) }{
		"The person who finished the last repair may sign.": {
			event(func(_ *pit, f *EventFields) { f.RepairerMaySign = true }), event(func(_ *pit, f *EventFields) { f.RepairerMaySign = false })},
		"Minors may drive; an adult sees to lock and link and declares the robot live.": {
			event(func(_ *pit, f *EventFields) { f.MinorsDrive = true }), event(func(_ *pit, f *EventFields) { f.MinorsDrive = false })},
		"Gas and capacitors again after 20 min, not 15.": {
			event(func(_ *pit, f *EventFields) { f.RecheckSec = 1200 }), event(func(_ *pit, f *EventFields) { f.RecheckSec = 600 })},
		"A rotor counts as at rest 1 s after the power is off, not 60.": {
			event(func(_ *pit, f *EventFields) { f.SpinDownSec = 1 }), event(func(_ *pit, f *EventFields) { f.SpinDownSec = 90 })},
		"Nobody has entered how long a rotor takes to stop: none is waited for.": {
			event(func(_ *pit, f *EventFields) { f.SpinDownSec = 0 }), event(func(_ *pit, f *EventFields) { f.SpinDownSec = 60 })},
		"Tin Moth: its class limit was raised: 2268.0 g, once 1360.8 g.": {
			robot(func(_ *pit, f *RobotFields) { f.Class.Limit = 5 }), robot(func(_ *pit, f *RobotFields) { f.Class.Limit = 3 })},
		"One person may stay with 4 charges at once.": {
			event(func(_ *pit, f *EventFields) { f.AttendantMost = 4 }), event(func(_ *pit, f *EventFields) { f.AttendantMost = 1 })},
		"Packs are charged where it is no charging place: bench 1, a bench.": {
			event(func(p *pit, f *EventFields) { f.ChargingPlaces = append(f.ChargingPlaces, p.bench) }), event(func(p *pit, f *EventFields) { f.ChargingPlaces = []PlaceID{p.shelf} })},
		"No load-in inspection any more before a test or signature.": {
			all(event(func(_ *pit, f *EventFields) { f.LoadIn = true }), event(func(_ *pit, f *EventFields) { f.LoadIn = false })), event(func(_ *pit, f *EventFields) { f.LoadIn = true })},
		"No permit any more to grind and weld.": {
			all(event(func(_ *pit, f *EventFields) { f.HotWork.Needed = true }), event(func(_ *pit, f *EventFields) { f.HotWork.Needed = false })), event(func(_ *pit, f *EventFields) { f.HotWork.Needed = true })},
		"Tin Moth: no spinning-mass any more.": {
			robot(func(_ *pit, f *RobotFields) { f.Energies = f.Energies[:2] }),
			robot(func(_ *pit, f *RobotFields) {
				f.Energies = append(f.Energies, Energy{Kind: EnergySpin, Isolator: "rotor", Reach: Outside})
			})},
		"Tin Moth: less time for spinning-mass to come to rest.": {
			all(robot(func(_ *pit, f *RobotFields) { f.Energies[2].RestSec = 90 }), robot(func(_ *pit, f *RobotFields) { f.Energies[2].RestSec = 0 })),
			robot(func(_ *pit, f *RobotFields) { f.Energies[2].RestSec = 90 })},
		"Tin Moth: spinning-mass asked about under the covers only.": {
			robot(func(_ *pit, f *RobotFields) { f.Energies[2].Reach = Inside }), robot(func(_ *pit, f *RobotFields) { f.Energies[2].Reach = Outside })},
		"Tin Moth: weapon-power asked about under the covers only; drive-power asked about under the covers only; 0 to take out for its power, not 1.": {
			robot(func(_ *pit, f *RobotFields) { f.Energies[0].Reach, f.Energies[1].Reach = Inside, Inside }),
			robot(func(_ *pit, f *RobotFields) { f.Energies[0].Reach, f.Energies[1].Reach = Outside, Outside })},
		"Tin Moth: its weapon is held by less than once: weapon lock and weapon strap.": {
			all(robot(func(_ *pit, f *RobotFields) { f.Locks = []Lock{LockPlain, LockStrap} }), robot(func(_ *pit, f *RobotFields) { f.Locks = []Lock{LockStrap} })),
			robot(func(_ *pit, f *RobotFields) { f.Locks = []Lock{LockPin, LockStrap} })},
		"Tin Moth: how many main packs are in it at the signature: 1, once 2.": {
			all(robot(func(_ *pit, f *RobotFields) { f.MainPacks = 2 }), robot(func(_ *pit, f *RobotFields) { f.MainPacks = 0 })), robot(func(_ *pit, f *RobotFields) { f.MainPacks = 3 })},
		"Tin Moth: how many weapon packs are in it at the signature: 0, once 1.": {
			all(robot(func(_ *pit, f *RobotFields) { f.WeaponPacks = 1 }), robot(func(_ *pit, f *RobotFields) { f.WeaponPacks = 0 })), robot(func(_ *pit, f *RobotFields) { f.WeaponPacks = 1 })},
		"Tin Moth: whoever isolated it may verify it; once a second person did.": {
			all(robot(func(_ *pit, f *RobotFields) { f.SecondVerifier = true }), robot(func(_ *pit, f *RobotFields) { f.SecondVerifier = false })),
			robot(func(_ *pit, f *RobotFields) { f.SecondVerifier = true })},
		"Whoever stays with a charge at charging table may work at bench 1: it is in sight.": {
			func(p *pit) {
				place(bench, func(f *PlaceFields) { f.InSight = []PlaceID{p.shelf} })(p)
			}, place(bench, func(f *PlaceFields) { f.InSight = nil })},
		"bench 1 was of the kind bench and is of the kind test-box now.": {
			place(bench, func(f *PlaceFields) { f.Kind = PlaceTestBox }), place(bench, func(f *PlaceFields) { f.Kind = PlaceBench })},
		"the table was called charging table.": {
			place(shelf, func(f *PlaceFields) { f.Name = "the table" }), place(shelf, func(f *PlaceFields) { f.Name = "charging table" })},
		"The close-up sheet has other words for: covers.": {
			worded(ListCloseUp, "covers", "Lids on?"), func(p *pit) { p.ok(p.as(p.ada), WordingSet{List: ListCloseUp}) }},
		"The make-safe sheet has other words for: try.": {
			worded(ListMakeSafe, "try", "Tried?"), worded(ListMakeSafe, "try", "People away, tried to start by transmitter: did all stay still?")},
	} {
		t.Run(says, func(t *testing.T) {
			p := newPit(t)
			require.Empty(t, p.s.Relaxed())
			c.less(p)
			require.Equal(t, []string{says}, p.s.Relaxed())
			c.back(p)
			require.Empty(t, p.s.Relaxed())
		})
	}
}

func TestAnotherTimeOfTheEventMakesEveryRobotUnknown(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	f := p.settings()
	p.captain(EventSet{EventFields: f})
	require.Equal(t, Verified, p.state())
	f.OffsetMin = -60
	p.captain(EventSet{EventFields: f})
	require.Equal(t, Unknown, p.state(), "no day is made longer")
}

func TestRule23NothingIsWordedAsSafeOrClear(t *testing.T) {
	for _, text := range []string{"All clear?", "SAFE", "Is it safe now?", "all ok", "All okay?", "clear", "Cleared by the lead?", "everything all good", "S a f e ?", "s-a-f-e", "is it A.L.L. O.K.", "\uff33\uff21\uff26\uff25", "Is it \uff53\uff41\uff46\uff45?"} {
		p := newPit(t)
		lines := closeUp()
		lines[0].Ask = text
		require.Equal(t, "lines", p.refused(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines}, 23).Field, text)
		lines = closeUp()
		lines[0].Say = text
		p.refused(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines}, 23)
		own := WordedLine{ID: "own-box", Kind: LineChoice, Ask: "Which box?", Say: "THIS", Choices: []string{"ours", text}}
		p.refused(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: append(closeUp(), own)}, 23)
		require.Equal(t, "name", p.refused(p.as(p.ada), PlaceAdd{PlaceFields{Name: text, Kind: PlaceBench}}, 23).Field)
		f := p.s.Places[p.bench].PlaceFields
		f.Name = text
		p.refused(p.as(p.ada), PlaceChange{Place: p.bench, PlaceFields: f}, 23)
		pack := p.s.Packs[p.p2].PackFields
		pack.Name = text
		p.refused(p.as(p.ada), PackChange{Pack: p.p2, PackFields: pack}, 23)
		p.refused(p.as(p.ada), StationAdd{StationFields{Name: text, Kind: StationBench, Count: 1}}, 23)
	}
	p := newPit(t)
	for _, text := range []string{"People away?", "Unsafe until looked at", "Failsafe proven?", "Fail-safe proven?", "F a i l s a f e proven?", "Clearance 3 mm?", "Zoë's rack: bolts A, B, C, D and E in?", "Caf\u00e9 table left free?"} {
		lines := closeUp()
		lines[0].Ask = text
		p.ok(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines})
	}
	// A place of today's boards that is called so is used, and renamed, as it was.
	old := p.s.Places[p.bench]
	old.Name = "safe corner"
	p.s = FromNouns(p.s.Rev, append(p.s.Nouns(), old), nil)
	f := old.PlaceFields
	f.InSight = []PlaceID{p.shelf}
	p.captain(PlaceChange{Place: p.bench, PlaceFields: f})
	f.Name = "the corner"
	p.captain(PlaceChange{Place: p.bench, PlaceFields: f})
}

func TestRule23NoLineHidesItsWordsBehindWhatNobodySees(t *testing.T) {
	for _, text := range []string{"Sa\u00adfe?", "Sa\u200bfe?", "Bolts\u2060 in?", "Bolts\u2800in?"} {
		for _, word := range []func(worded *WordedLine){
			func(worded *WordedLine) { worded.Ask = text }, func(worded *WordedLine) { worded.Touch = text },
			func(worded *WordedLine) { worded.Say = text }, func(worded *WordedLine) { worded.Not = text },
		} {
			p := newPit(t)
			lines := closeUp()
			word(&lines[0])
			bad := p.refused(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines}, 0)
			require.Equal(t, "lines", bad.Field)
			sentenceHas(t, bad, "The text holds a character that nobody can see")
		}
		p := newPit(t)
		own := WordedLine{ID: "own-box", Kind: LineChoice, Ask: "Which box?", Say: "THIS", Choices: []string{"ours", text}}
		sentenceHas(t, p.refused(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: append(closeUp(), own)}, 0), "nobody can see")
	}
	p := newPit(t)
	lines := closeUp()
	lines[0].Ask = "Bolts in? \U0001f527\ufe0f"
	p.ok(p.as(p.ada), WordingSet{List: ListCloseUp, Lines: lines})
}

func TestNoRotorIsWaitedForOnlyWhereOneTurns(t *testing.T) {
	const untimed = "Nobody has entered how long a rotor takes to stop: none is waited for."
	p := newPit(t)
	f := p.settings()
	f.SpinDownSec = 0
	p.captain(EventSet{EventFields: f, Reason: "the event says nothing"})
	require.Contains(t, p.s.Relaxed(), untimed)
	r := p.s.Robots[p.moth].RobotFields
	r.Energies = slices.Clone(r.Energies)
	r.Energies[2].RestSec = 45
	p.captain(RobotChange{Robot: p.moth, RobotFields: r})
	require.NotContains(t, p.s.Relaxed(), untimed, "its own time is waited for")
	r.Energies = r.Energies[:2]
	p.captain(RobotChange{Robot: p.moth, RobotFields: r, Reason: "it has no rotor"})
	require.NotContains(t, p.s.Relaxed(), untimed)
}

func TestAWeaponPackThatIsAskedForAsTheBoardHasOneIsNotRelaxed(t *testing.T) {
	p := newPit(t)
	f := p.s.Packs[p.p2].PackFields
	f.Name, f.Use = "W1", UseWeapon
	p.captain(PackAdd{f})
	p.captain(p.with(func(f *RobotFields) { f.WeaponPacks = 1 }))
	none := p.with(func(f *RobotFields) { f.WeaponPacks = 0 })
	none.Reason = "one pack for all now"
	p.captain(none)
	for _, said := range p.s.Relaxed() {
		require.NotContains(t, said, "weapon packs")
	}
}
