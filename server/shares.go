package server

import (
	"cmp"
	"net/netip"
	"slices"
	"time"

	"mendline/board"
	"mendline/server/store"
)

// shareOf is how many devices may have joined with a role's code: whoever has one code
// takes no place from the others. One network has half of them at most.
func shareOf(role board.Role) int {
	switch role {
	case board.RoleCrew:
		return 500
	case board.RoleViewer:
		return 150
	}
	return 50
}

// add lets a session in and gives those that made room: all that are over, and where
// its role or its network has its share already, the one without a socket that was
// heard of longest ago. Captain and safety find a place even where all are connected;
// for others there is none then.
func (l *sessions) add(n *session, now time.Time) (gone []*session, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	share := shareOf(n.Role)
	var mates, near []*session
	byNetwork := map[netip.Addr]int{}
	for _, old := range l.byKey {
		switch {
		case old.over(now):
			gone = append(gone, old)
			continue
		case old.Role != n.Role:
			continue
		case old.Network == n.Network:
			near = append(near, old)
		}
		mates = append(mates, old)
		byNetwork[old.Network]++
	}
	if len(near) >= share/2 && n.Network.IsValid() {
		mates = near
	} else if len(mates) < share {
		mates = nil
	}
	if mates != nil {
		first := slices.MinFunc(mates, func(a, b *session) int {
			return cmp.Or(
				cmp.Compare(min(len(a.sockets), 1), min(len(b.sockets), 1)),
				cmp.Compare(byNetwork[b.Network], byNetwork[a.Network]),
				cmp.Compare(a.seen.Load(), b.seen.Load()), cmp.Compare(a.Since, b.Since), cmp.Compare(a.ID, b.ID))
		})
		if len(first.sockets) > 0 && n.Role != board.RoleCaptain && n.Role != board.RoleSafety {
			return nil, false
		}
		gone = append(gone, first)
	}
	for _, old := range gone {
		delete(l.byKey, old.key)
	}
	l.byKey[n.key] = n
	return gone, true
}

// undo puts back what add changed.
func (l *sessions) undo(n *session, gone []*session) {
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(l.byKey, n.key)
	for _, old := range gone {
		l.byKey[old.key] = old
	}
}

// letIn gives a device its place, once keep has what the store is to hold of it.
func (s *Server) letIn(n *session, keep func(sessions []store.KV) *board.Refusal) *board.Refusal {
	gone, ok := s.sessions.add(n, s.o.Now())
	if !ok {
		return slowDown("As many devices have joined with this code as the board takes, and all are connected. The captain can end some.")
	}
	if refusal := keep(append(without(gone), n.pair())); refusal != nil {
		s.sessions.undo(n, gone)
		return refusal
	}
	s.dismiss(gone)
	return nil
}
