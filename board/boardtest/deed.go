package boardtest

import (
	"regexp"
	"strings"

	. "mendline/board"
)

// deeds are what nobody may be told to do with a pack that is hot, smells, smokes or
// swells: to carry it in any way, or to do anything about its heat.
var deeds = regexp.MustCompile(`(?i)\b(carry|move|take|bring|put|lift|remove|unplug(ged)?|bag|bury|drop|cool|looked at and read|read (each|it)|douse|vent|pour|out of|place (it|the pack|them))\b`)

// Deed is the first word in what the board says of a pack that was set aside, or is hot on
// its charger, that tells someone to handle it; "" where the text names no such pack or no
// deed.
func Deed(s State, texts ...string) string {
	text := strings.Join(texts, " ")
	for _, p := range s.Packs {
		if (SetAside(p) || hotOnCharger(p)) && regexp.MustCompile(`\b`+regexp.QuoteMeta(p.Name)+`\b`).MatchString(text) {
			return deeds.FindString(text)
		}
	}
	return ""
}

// hotOnCharger tells whether a pack on a charger was read at 50 °C or more since it went on.
func hotOnCharger(p Pack) bool {
	r := p.Reading
	at := r.At
	if r.TempAt != 0 {
		at = r.TempAt
	}
	return p.State == PackCharging && r.TempC != nil && *r.TempC >= 50 && at >= p.UsedAt
}

// SetAside tells whether a pack is shut to use and still somewhere here.
func SetAside(p Pack) bool {
	return !p.Retired && (p.State == PackSuspect || p.State == PackQuarantined)
}
