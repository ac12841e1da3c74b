package board

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
)

// Rev numbers the board's changes from 1, without gaps.
type Rev uint64

// Kind names a noun as it stands in keys: "job" in "job/0192…".
type Kind string

// The kinds of noun.
const (
	KindEvent        Kind = "event"
	KindPerson       Kind = "person"
	KindRobot        Kind = "robot"
	KindPower        Kind = "power"
	KindPlace        Kind = "place"
	KindStation      Kind = "station"
	KindStock        Kind = "stock"
	KindPack         Kind = "pack"
	KindChannel      Kind = "channel"
	KindCircuit      Kind = "circuit"
	KindTemplate     Kind = "template"
	KindFight        Kind = "fight"
	KindSighting     Kind = "sighting"
	KindDamage       Kind = "damage"
	KindJob          Kind = "job"
	KindSheet        Kind = "sheet"
	KindTag          Kind = "tag"
	KindHands        Kind = "hands"
	KindNote         Kind = "note"
	KindNotice       Kind = "notice"
	KindEmergency    Kind = "emergency"
	KindMark         Kind = "mark"
	KindWording      Kind = "wording"
	KindFollow       Kind = "follow"
	KindLearn        Kind = "learn"
	KindForetold     Kind = "foretold"
	KindPackLog      Kind = "packlog"
	KindPart         Kind = "part"
	KindJoint        Kind = "joint"
	KindModule       Kind = "module"
	KindSetup        Kind = "setup"
	KindConstruction Kind = "construction"
	KindFit          Kind = "fit"
	KindClock        Kind = "clock"
)

// Key is where a noun stands on the wire and on disk: kind/id.
type Key string

// KeyOf joins kind and id.
func KeyOf[ID ~string](kind Kind, id ID) Key { return Key(string(kind) + "/" + string(id)) }

// Split gives the key's kind and id.
func (k Key) Split() (Kind, string) {
	kind, id, _ := strings.Cut(string(k), "/")
	return Kind(kind), id
}

// Noun is anything the board keeps. The interface is sealed: the nouns are those
// of this package. Nouns are values and are never changed in place.
type Noun interface {
	// Key is where the noun stands.
	Key() Key
	// Rev is the revision of the noun's last change.
	Rev() Rev

	stamp(Rev) Noun
	// valid says what is wrong with the noun in the state that holds it, or nil.
	// It is asked of every noun that any command puts.
	valid(State) *Refusal
}

// Encode gives a noun's bytes on the wire and on disk: a JSON object with its
// last revision as "v".
func Encode(n Noun) []byte {
	b, err := json.Marshal(n, json.Deterministic(true))
	if err != nil {
		panic(fmt.Sprintf("board: encode %s: %v", n.Key(), err))
	}
	return b
}

// ErrNewer is in the error for a noun of a kind, or with a field, that this program does
// not know: a newer one wrote it.
var ErrNewer = errors.New("written by a newer mendline")

// DecodeNoun reads a noun that Encode wrote. An unknown kind or field is ErrNewer, and
// a key that is not the noun's own an error too.
func DecodeNoun(key Key, data []byte) (Noun, error) {
	kind, _ := key.Split()
	row, ok := kindRow(kind)
	if !ok {
		return nil, fmt.Errorf("decode %s: no such kind of noun: %w", key, ErrNewer)
	}
	n, err := row.decode(data)
	if errors.Is(err, json.ErrUnknownName) {
		return nil, fmt.Errorf("decode %s: %w: %w", key, ErrNewer, err)
	}
	if err != nil {
		return nil, fmt.Errorf("decode %s: %w", key, err)
	}
	if n.Key() != key {
		return nil, fmt.Errorf("decode %s: the object is %s", key, n.Key())
	}
	return n, nil
}

// Title tells people which noun stands, or stood, at a key, as well as it can be told.
func (s State) Title(key Key) string {
	kind, id := key.Split()
	words := string(kind)
	switch kind {
	case KindPower:
		words = "what is known of the power of"
	case KindFit:
		words = "what is fitted on"
	case KindPackLog:
		words = "the readings of pack"
	}
	switch n, _ := s.Get(key); n := n.(type) {
	case Power, Fit:
		return words + " " + s.Robots[RobotID(id)].Name
	case PackLog:
		return words + " " + s.Packs[PackID(id)].Name
	case Job:
		return fmt.Sprintf("job %d", n.Number)
	case Damage:
		return fmt.Sprintf("damage %d of %s", n.Number, s.Robots[n.Robot].Name)
	case named:
		name, _, _ := n.called()
		return words + " " + name
	}
	return "a " + words
}

// kind is all the board must know of a kind of noun.
type kind struct {
	kind   Kind
	decode func([]byte) (Noun, error)
	put    func(*draft, Noun)
	del    func(*draft, string)
	get    func(State, string) (Noun, bool)
	all    func(State) []Noun
}

// kinds is the fixed table of kinds, in the order in which a whole board is
// written out.
var kinds = []kind{
	kindOf(KindEvent, func(s *State) *map[string]Event { return &s.event }),
	kindOf(KindPlace, func(s *State) *map[PlaceID]Place { return &s.Places }),
	kindOf(KindPerson, func(s *State) *map[PersonID]Person { return &s.People }),
	kindOf(KindRobot, func(s *State) *map[RobotID]Robot { return &s.Robots }).readBy(decodeRobot),
	kindOf(KindPower, func(s *State) *map[RobotID]Power { return &s.Powers }),
	kindOf(KindStation, func(s *State) *map[StationID]Station { return &s.Stations }),
	kindOf(KindStock, func(s *State) *map[StockID]Stock { return &s.Stocks }),
	kindOf(KindCircuit, func(s *State) *map[CircuitID]Circuit { return &s.Circuits }),
	kindOf(KindChannel, func(s *State) *map[ChannelID]Channel { return &s.Channels }),
	kindOf(KindPack, func(s *State) *map[PackID]Pack { return &s.Packs }),
	kindOf(KindPackLog, func(s *State) *map[PackID]PackLog { return &s.PackLogs }),
	kindOf(KindTemplate, func(s *State) *map[TemplateID]Template { return &s.Templates }),
	kindOf(KindPart, func(s *State) *map[PartID]Part { return &s.Parts }),
	kindOf(KindJoint, func(s *State) *map[JointID]Joint { return &s.Joints }),
	kindOf(KindModule, func(s *State) *map[ModuleID]Module { return &s.Modules }),
	kindOf(KindSetup, func(s *State) *map[SetupID]Setup { return &s.Setups }),
	kindOf(KindConstruction, func(s *State) *map[ConstructionID]Construction { return &s.Constructions }),
	kindOf(KindFit, func(s *State) *map[RobotID]Fit { return &s.Fits }),
	kindOf(KindFight, func(s *State) *map[FightID]Fight { return &s.Fights }),
	kindOf(KindSighting, func(s *State) *map[SightingID]Sighting { return &s.Sightings }),
	kindOf(KindDamage, func(s *State) *map[DamageID]Damage { return &s.Damages }),
	kindOf(KindJob, func(s *State) *map[JobID]Job { return &s.Jobs }),
	kindOf(KindSheet, func(s *State) *map[SheetID]Sheet { return &s.Sheets }),
	kindOf(KindTag, func(s *State) *map[TagID]Tag { return &s.Tags }),
	kindOf(KindHands, func(s *State) *map[HandsID]Hands { return &s.Hands }),
	kindOf(KindNote, func(s *State) *map[NoteID]Note { return &s.Notes }),
	kindOf(KindNotice, func(s *State) *map[NoticeID]Notice { return &s.Notices }),
	kindOf(KindEmergency, func(s *State) *map[EmergencyID]Emergency { return &s.Emergencies }),
	kindOf(KindWording, func(s *State) *map[SheetList]Wording { return &s.Wordings }),
	kindOf(KindMark, func(s *State) *map[AlarmID]Mark { return &s.Marks }),
	kindOf(KindFollow, func(s *State) *map[string]Follow { return &s.follow }),
	kindOf(KindLearn, func(s *State) *map[LearnKind]Learn { return &s.Learns }),
	kindOf(KindClock, func(s *State) *map[string]Clock { return &s.clock }),
	kindOf(KindForetold, func(s *State) *map[FightID]Foretold { return &s.Foretolds }),
}

// readBy reads a kind's nouns in a way of their own, where boards of an earlier program
// hold fields that nothing reads any more.
func (k kind) readBy(decode func([]byte) (Noun, error)) kind { k.decode = decode; return k }

func kindRow(k Kind) (kind, bool) {
	i := slices.IndexFunc(kinds, func(r kind) bool { return r.kind == k })
	if i < 0 {
		return kind{}, false
	}
	return kinds[i], true
}

func kindOf[ID ~string, N Noun](k Kind, table func(*State) *map[ID]N) kind {
	return kind{
		kind: k,
		decode: func(data []byte) (Noun, error) {
			var n N
			err := json.Unmarshal(data, &n, json.RejectUnknownMembers(true))
			return n, err
		},
		put: func(d *draft, n Noun) {
			_, id := n.Key().Split()
			own(d, k, table(&d.state))[ID(id)] = n.(N)
		},
		del: func(d *draft, id string) {
			delete(own(d, k, table(&d.state)), ID(id))
		},
		get: func(s State, id string) (Noun, bool) {
			n, ok := (*table(&s))[ID(id)]
			return n, ok
		},
		all: func(s State) []Noun {
			m := *table(&s)
			list := make([]Noun, 0, len(m))
			for _, n := range m {
				list = append(list, n)
			}
			slices.SortFunc(list, func(a, b Noun) int { return strings.Compare(string(a.Key()), string(b.Key())) })
			return list
		},
	}
}
