package boardtest

import (
	"slices"

	. "mendline/board"
)

// standing lists whose tag or hands near stand, by key.
func standing(s State) map[Key]PersonID {
	on := map[Key]PersonID{}
	for _, tag := range s.Tags {
		on[tag.Key()] = tag.Person
	}
	for _, hands := range s.Hands {
		on[hands.Key()] = hands.Person
	}
	return on
}

// lookAtPINs notes what stands as a PIN is forgotten.
func (w *Witness) lookAtPINs(s State) {
	if w.forgot == nil {
		w.forgot = map[Key]bool{}
	}
	if s.Rev < w.last.Rev { // a backup knows what it knew
		w.forgot = map[Key]bool{}
		for key, owner := range standing(s) {
			n, _ := s.Get(key)
			w.forgot[key] = n.Rev() < s.People[owner].Forgotten.Rev
		}
		return
	}
	for key, owner := range standing(s) {
		if is := s.People[owner].Forgotten.At; is != 0 && is != w.last.People[owner].Forgotten.At {
			w.forgot[key] = true
		}
	}
}

func typedOld(by Actor, owner PersonID) bool {
	return slices.ContainsFunc(by.Before, func(pin BeforePIN) bool { return pin.Person == owner })
}

// outside tells whether a person may stand in for a lead.
func outside(s State, id PersonID) bool {
	who := s.People[id]
	return who.Role == RoleSafety || (who.Signer && who.From != "")
}
