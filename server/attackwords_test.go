package server

import (
	"time"

	"mendline/board"
)

// attacksByWords are about reasons in which there is nothing to read, and names that are
// nobody's.
func attacksByWords() []attack {
	override := func(d *doors, why string, asked bool) given {
		tag, _ := d.state().TagOf(d.cast.Moth, d.cast.Ben)
		return given{by: d.cast.Ada, proved: []board.PersonID{d.cast.Dee}, do: board.TagOverride{Tag: tag.ID, Second: d.cast.Dee, Override: board.Override{
			LookedWhere: "the whole hall", CalledHow: "by phone, twice", CalledAt: d.d.Now(), CheckedBy: d.cast.Dee, Reason: why, Asked: asked,
		}}}
	}
	long := func(d *doors) { d.open(); d.clock.pass(5 * time.Minute) }
	named := func(d *doors, who board.PersonID, name string) given {
		f := d.state().People[who].PersonFields
		f.Name = name
		return given{by: d.cast.Ada, do: board.PersonChange{Person: who, PersonFields: f}}
	}
	return []attack{
		{"an override for a reason that nobody sees", 6, long,
			func(d *doors) given { return override(d, "\u200b\u200b\u200b\u200b\u200b", false) }, nil,
			func(d *doors) given { return override(d, "he went home", false) }},
		{"an override of someone who tapped a moment ago", 6,
			func(d *doors) { long(d); d.by(d.cast.Ben, board.NoteAdd{Text: "at the grinder"}) },
			func(d *doors) given { return override(d, "he went home", true) },
			func(d *doors) { d.clock.pass(time.Minute) },
			func(d *doors) given { return override(d, "he went home", true) }},
		{"the team is a person", 5, func(*doors) {},
			func(d *doors) given { return named(d, d.cast.Nia, "The Team") }, nil,
			func(d *doors) given { return named(d, d.cast.Nia, "Tea Mollow") }},
		{"a tag's owner is called by another name", 5, (*doors).open,
			func(d *doors) given { return named(d, d.cast.Ben, "Bertram") },
			func(d *doors) {
				tag, _ := d.state().TagOf(d.cast.Moth, d.cast.Ben)
				d.by(d.cast.Ben, board.TagOff{Tag: tag.ID})
			},
			func(d *doors) given { return named(d, d.cast.Ben, "Bertram") }},
	}
}
