package board

import "github.com/go-json-experiment/json/jsontext"

// Change is what one command does to the board: the next revision, the nouns as
// they became and the keys of those that are gone.
type Change struct {
	Rev Rev
	Put []Noun
	Del []Key
	// Done says which command it was and how to take it back.
	Done Done
}

// Done is a command that happened.
type Done struct {
	ID   CommandID
	Rev  Rev
	At   Moment // when the board did it
	By   PersonID
	Role Role
	Do   string
	// Was holds the nouns that the command changed or deleted, as they were.
	Was []Noun
	// Made holds the keys of the nouns that the command brought into being.
	Made []Key
	// Final marks what cannot be undone.
	Final bool
}

// JournalLine is one line of the journal: a command with the nouns as they became and
// as they were. It is enough to fold the board from nothing and to walk it back.
type JournalLine struct {
	Rev  Rev                    `json:"rev"`
	At   Moment                 `json:"at"`
	ID   string                 `json:"id,omitzero"`
	By   PersonID               `json:"by,omitzero"`
	Role Role                   `json:"role"`
	Do   string                 `json:"do"`
	With jsontext.Value         `json:"with,omitzero"`
	Put  map[Key]jsontext.Value `json:"put,omitzero"`
	Del  []Key                  `json:"del,omitzero"`
	Was  map[Key]jsontext.Value `json:"was,omitzero"`
}

// undoFor is how long a command can be taken back, and undoMost how many are
// kept for it.
const (
	undoFor  = 10 * minute
	undoMost = 512
)

// remember appends c to the commands that may be undone and drops the old.
func remember(recent []*Done, c Change) []*Done {
	start := 0
	for start < len(recent) && (recent[start].At < c.Done.At-undoFor || len(recent)-start >= undoMost) {
		start++
	}
	next := make([]*Done, 0, len(recent)-start+1)
	next = append(next, recent[start:]...)
	return append(next, &c.Done)
}
