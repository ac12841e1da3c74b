package board

import (
	"encoding/hex"
	"strings"

	"github.com/google/uuid"
)

// Ids of nouns. All are canonical lower-case UUIDs in text form, a type a kind,
// so that a robot cannot be passed for a job.
type (
	PersonID       string
	RobotID        string
	PlaceID        string
	StationID      string
	StockID        string
	PackID         string
	ChannelID      string
	CircuitID      string
	TemplateID     string
	FightID        string
	SightingID     string
	DamageID       string
	JobID          string
	SheetID        string
	TagID          string
	HandsID        string
	NoteID         string
	NoticeID       string
	PhotoID        string
	EmergencyID    string
	PartID         string
	JointID        string
	ModuleID       string
	SetupID        string
	ConstructionID string
)

// CommandID names one command. It is a version 7 UUID, so that the store's list
// of commands done is in the order of time.
type CommandID [16]byte

// ParseCommandID reads a version 7 UUID in its canonical text form.
func ParseCommandID(text string) (CommandID, bool) {
	u, err := uuid.Parse(text)
	if err != nil || u.Version() != 7 || u.Variant() != uuid.RFC4122 || u.String() != text {
		return CommandID{}, false
	}
	return CommandID(u), true
}

// String is the canonical text form.
func (id CommandID) String() string { return uuid.UUID(id).String() }

// Moment is the time inside the id, to the millisecond.
func (id CommandID) Moment() Moment {
	var ms int64
	for _, b := range id[:6] {
		ms = ms<<8 | int64(b)
	}
	return Moment(ms)
}

// MarshalText gives the canonical text form.
func (id CommandID) MarshalText() ([]byte, error) { return []byte(id.String()), nil }

// UnmarshalText reads any UUID in canonical form.
func (id *CommandID) UnmarshalText(text []byte) error {
	u, err := uuid.ParseBytes(text)
	*id = CommandID(u)
	return err
}

// NewID makes the id of a noun that command cmd brings into being: a version 5
// UUID over the command's id as name space, the kind, and a name that is unique
// within that command and kind (RFC 9562 §5.5).
func NewID(cmd CommandID, kind Kind, name string) string {
	return uuid.NewSHA1(uuid.UUID(cmd), []byte(string(kind)+"/"+name)).String()
}

// isID tells whether text is a canonical lower-case UUID.
func isID(text string) bool {
	if len(text) != 36 || strings.ToLower(text) != text {
		return false
	}
	_, err := hex.DecodeString(strings.ReplaceAll(text, "-", ""))
	return err == nil && text[8] == '-' && text[13] == '-' && text[18] == '-' && text[23] == '-'
}
