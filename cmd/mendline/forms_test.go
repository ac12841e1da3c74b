package main

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// formFields asks the page which fields each of the captain's forms has.
const formFields = `Promise.all([import("/captain/fields.js"), import("/captain/kinds.js")]).then(([f, m]) => {
  const names = (fields) => fields.map((f) => f.name);
  const out = {"event.set": names(f.eventFields), "fight.change": ["fight", ...names(f.fightFields)]};
  for (const k of Object.values(m).flat()) if (k && k.kind && k.fields && k.one) out[k.kind + ".change"] = [k.id, ...names(k.fields)];
  return JSON.stringify(out);
})`

// A change replaces all that is said of a thing. A form that lacked a field would
// wipe it at the first save.
func TestBrowserTheCaptainsFormsHoldEveryFieldTheyReplace(t *testing.T) {
	inBrowser(t)
	s := serveSources(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	var forms map[string][]string
	require.NoError(t, json.Unmarshal([]byte(gets[string](captain, formFields)), &forms))
	checked := 0
	for _, c := range board.Commands() {
		fields, ok := forms[c.Do]
		if !ok {
			continue
		}
		checked++
		for _, f := range c.Fields {
			if f.Name == "reason" {
				continue // asked of the change that asks less; nothing holds it to be replaced
			}
			require.Contains(t, fields, f.Name, c.Do)
		}
	}
	require.GreaterOrEqual(t, checked, 9, fmt.Sprint(forms))
}
