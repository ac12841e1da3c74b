package board

import "maps"

// State is a whole board at one revision. It is a value: With makes the next and
// leaves this one as it was, so any goroutine may read a State it holds. Nobody
// may write into its maps.
type State struct {
	Rev           Rev
	event         map[string]Event
	People        map[PersonID]Person
	Robots        map[RobotID]Robot
	Powers        map[RobotID]Power
	Places        map[PlaceID]Place
	Stations      map[StationID]Station
	Stocks        map[StockID]Stock
	Packs         map[PackID]Pack
	PackLogs      map[PackID]PackLog
	Channels      map[ChannelID]Channel
	Circuits      map[CircuitID]Circuit
	Templates     map[TemplateID]Template
	Fights        map[FightID]Fight
	Sightings     map[SightingID]Sighting
	Damages       map[DamageID]Damage
	Jobs          map[JobID]Job
	Sheets        map[SheetID]Sheet
	Tags          map[TagID]Tag
	Hands         map[HandsID]Hands
	Notes         map[NoteID]Note
	Notices       map[NoticeID]Notice
	Emergencies   map[EmergencyID]Emergency
	Marks         map[AlarmID]Mark
	Wordings      map[SheetList]Wording
	follow        map[string]Follow
	Learns        map[LearnKind]Learn
	Foretolds     map[FightID]Foretold
	Parts         map[PartID]Part
	Joints        map[JointID]Joint
	Modules       map[ModuleID]Module
	Setups        map[SetupID]Setup
	Constructions map[ConstructionID]Construction
	Fits          map[RobotID]Fit
	clock         map[string]Clock

	// recent holds the commands that may still be undone, oldest first. Nobody
	// writes to what it points at.
	recent []*Done
}

// Event is the event's settings; the zero Event on a board that has none yet.
func (s State) Event() Event { return s.event[eventID] }

// Get gives the noun at key.
func (s State) Get(key Key) (Noun, bool) {
	k, id := key.Split()
	row, ok := kindRow(k)
	if !ok {
		return nil, false
	}
	return row.get(s, id)
}

// Nouns lists every noun, kind by kind in a fixed order, by key within a kind.
func (s State) Nouns() []Noun {
	var all []Noun
	for _, row := range kinds {
		all = append(all, row.all(s)...)
	}
	return all
}

// FromNouns is the state that holds nouns at revision rev, with the commands
// that may still be undone.
func FromNouns(rev Rev, nouns []Noun, recent []Done) State {
	d := newDraft(State{})
	for _, n := range nouns {
		d.put(n)
	}
	d.state.Rev = rev
	for _, done := range recent {
		d.state.recent = append(d.state.recent, &done)
	}
	return d.state
}

// With is the state after change c. The nouns of c carry their revisions.
func (s State) With(c Change) State {
	d := newDraft(s)
	for _, n := range c.Put {
		d.put(n)
	}
	for _, k := range c.Del {
		d.del(k)
	}
	d.state.Rev = c.Rev
	d.state.recent = remember(s.recent, c)
	return d.state
}

// draft is a state in the making: each map is cloned the first time it is
// written to.
type draft struct {
	state State
	owned map[Kind]bool
}

func newDraft(s State) *draft { return &draft{state: s, owned: map[Kind]bool{}} }

func (d *draft) put(n Noun) {
	k, _ := n.Key().Split()
	row, _ := kindRow(k)
	row.put(d, n)
}

func (d *draft) del(key Key) {
	k, id := key.Split()
	if row, ok := kindRow(k); ok {
		row.del(d, id)
	}
}

func own[ID ~string, N any](d *draft, k Kind, m *map[ID]N) map[ID]N {
	if !d.owned[k] {
		if *m = maps.Clone(*m); *m == nil {
			*m = map[ID]N{}
		}
		d.owned[k] = true
	}
	return *m
}
