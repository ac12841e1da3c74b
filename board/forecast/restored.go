package forecast

import (
	"fmt"
	"strings"

	"mendline/board"
)

// restoreAlarm lists what a replaced board held back and nobody has settled since.
func restoreAlarm(s board.State) []Alarm {
	var said []string
	var since board.Moment
	for _, n := range board.Sorted(s.Notes, func(n board.Note) string { return n.Text }) {
		if n.Held && n.SettledAt == 0 {
			said, since = append(said, strings.TrimPrefix(n.Text, "Before the restore: ")), max(since, n.At)
		}
	}
	if len(said) == 0 {
		return nil
	}
	return []Alarm{{
		Slug: "restored", Class: ClassB, Since: since,
		What: fmt.Sprintf("The board was restored, and the one before it knew more: %s", strings.Join(said, " ")),
		Act:  roleName(s, board.RoleCaptain) + ": enter each again, then settle it among the notes",
	}}
}
