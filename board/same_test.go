package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Where two could be named in a refusal, try asks often enough to see that chance
// names neither.
func TestOfTwoThatStandInTheWayTheSameIsNamedEachTime(t *testing.T) {
	const newt = RobotID("newt")
	tags := func(p *pit) []Noun {
		return []Noun{Tag{ID: "t1", Robot: p.moth, Person: p.ben, At: 1}, Tag{ID: "t2", Robot: newt, Person: p.ben, At: 1}}
	}
	charging := func(p *pit, name string) Noun {
		pack := p.s.Packs[p.p1]
		pack.ID, pack.Name, pack.State, pack.Robot, pack.Place, pack.Channel, pack.Attendant = PackID(name), name, PackCharging, "", p.shelf, p.cast.A1, p.ben
		return pack
	}
	built := func(p *pit, name string) Noun {
		return Construction{ID: ConstructionID(name), ConstructionFields: ConstructionFields{Robot: p.moth, Name: name, Built: true}}
	}
	for name, c := range map[string]struct {
		says  string
		there func(p *pit) []Noun
		ask   func(p *pit) (Actor, Command)
	}{
		"notices": {"has a notice to read first", func(p *pit) []Noun {
			return []Noun{Notice{ID: "n1", Person: p.ben, Robot: p.moth}, Notice{ID: "n2", Person: p.ben, Robot: newt}}
		}, func(p *pit) (Actor, Command) { return p.as(p.ben), TagOn{Robot: p.moth} }},
		"tags that need an authority": {"has a tag on", tags, func(p *pit) (Actor, Command) {
			return p.as(p.ada), PersonChange{Person: p.ben, PersonFields: PersonFields{Name: "Ben", Role: RoleCrew}}
		}},
		"tags of one who leaves": {"has a tag on", tags, func(p *pit) (Actor, Command) { return p.as(p.ada), PersonRetire{Person: p.ben} }},
		"hands of one who leaves": {"has hands near", func(p *pit) []Noun {
			return []Noun{Hands{ID: "h1", Robot: p.moth, Person: p.kit}, Hands{ID: "h2", Robot: newt, Person: p.kit}}
		}, func(p *pit) (Actor, Command) { return p.as(p.ada), PersonRetire{Person: p.kit} }},
		"packs at a place": {"has pack A at", func(p *pit) []Noun {
			return []Noun{Pack{ID: "a", PackFields: PackFields{Name: "A"}, Place: p.box}, Pack{ID: "b", PackFields: PackFields{Name: "B"}, Place: p.box}}
		}, func(p *pit) (Actor, Command) { return p.as(p.ada), PlaceRetire{Place: p.box} }},
		"robots at a place": {"is at test box", func(p *pit) []Noun {
			return []Noun{Power{Robot: p.moth, State: Unknown, Place: p.box}, Power{Robot: newt, State: Unknown, Place: p.box}}
		}, func(p *pit) (Actor, Command) { return p.as(p.ada), PlaceRetire{Place: p.box} }},
		"stations at a place": {"The station a stands", func(p *pit) []Noun {
			return []Noun{Station{ID: "a", StationFields: StationFields{Name: "a", Place: p.box}}, Station{ID: "b", StationFields: StationFields{Name: "b", Place: p.box}}}
		}, func(p *pit) (Actor, Command) { return p.as(p.ada), PlaceRetire{Place: p.box} }},
		"packs on a channel": {"is on channel", func(p *pit) []Noun { return []Noun{charging(p, "a"), charging(p, "b")} }, func(p *pit) (Actor, Command) {
			p.read(p.p2)
			return p.as(p.ben), PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
		}},
		"constructions that are built": {"is built as a already", func(p *pit) []Noun { return []Noun{built(p, "a"), built(p, "b")} }, func(p *pit) (Actor, Command) {
			return p.as(p.ada), ConstructionAdd{boltedRails(p)}
		}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			robot := p.s.Robots[p.moth]
			robot.ID, robot.Name, robot.Number = newt, "Brass Newt", 2
			p.s = FromNouns(p.s.Rev, append(append(p.s.Nouns(), robot), c.there(p)...), nil)
			by, command := c.ask(p)
			_, bad := p.try(by, command)
			require.NotNil(t, bad)
			sentenceHas(t, bad, c.says)
		})
	}
}
