package board

// Note is a few words about something on the board.
type Note struct {
	ID    NoteID   `json:"id"`
	V     Rev      `json:"v"`
	About Key      `json:"about,omitzero"`
	Text  string   `json:"text"`
	By    PersonID `json:"by,omitzero"`
	At    Moment   `json:"at"`
	// Held marks what a replaced board held back, until SettledBy says that it is entered
	// again or no longer holds.
	Held      bool     `json:"held,omitzero"`
	SettledBy PersonID `json:"settledBy,omitzero"`
	SettledAt Moment   `json:"settledAt,omitzero"`
}

func (n Note) Key() Key         { return KeyOf(KindNote, n.ID) }
func (n Note) Rev() Rev         { return n.V }
func (n Note) stamp(r Rev) Noun { n.V = r; return n }

func (n Note) valid(s State) *Refusal {
	if n.Text == "" {
		return badField("text", "The note is empty.")
	}
	if _, ok := s.Get(n.About); n.About != "" && !ok {
		return missing("thing", "about")
	}
	return checkNote("text", n.Text)
}

// NoteAdd writes a note.
type NoteAdd struct {
	About Key    `json:"about,omitzero"`
	Text  string `json:"text"`
}

func (c NoteAdd) do(t *turn) *Refusal {
	t.put(Note{ID: NoteID(t.id(KindNote, "")), About: c.About, Text: c.Text, By: t.by.Person, At: t.when})
	return nil
}
