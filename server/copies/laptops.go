package copies

import (
	"cmp"
	"crypto/rand"
	"encoding/base32"
	"fmt"
	"net/netip"
	"os"
	"slices"
	"strings"
	"sync"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

const (
	codeKey     = "copies" // of the secret that is the laptops' code
	laptopsMost = 8
	// missedAfter is how long a laptop may not ask before people are told.
	missedAfter = board.Moment(3 * 60 * 1000)
)

// laptops are those that ask for copies, by address.
type laptops struct {
	mu    sync.Mutex
	code  string // "" while no laptop may have a copy
	known []*laptop
}

type laptop struct {
	from  netip.Addr
	heard board.Moment
	has   Copy
}

// crockford is base 32 without I, L, O and U (D. Crockford, "Base 32",
// crockford.com/base32.html; from memory).
var crockford = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

// NewCode makes another code for laptops: those that have the old one get no more
// copies, and are forgotten. Its 125 bits are more than anyone who heard a copy pass by
// can try.
//
// Errors: those of the store; the old code stays then.
func (k *Keeper) NewCode() (string, error) {
	var b [20]byte
	rand.Read(b[:]) // never fails (crypto/rand)
	text := crockford.EncodeToString(b[:])
	code := strings.Join([]string{text[:5], text[5:10], text[10:15], text[15:20], text[20:25]}, "-")
	return code, k.setCode(code)
}

// NoCode lets no laptop have a copy any more.
func (k *Keeper) NoCode() error { return k.setCode("") }

func (k *Keeper) setCode(code string) error {
	k.laptops.mu.Lock()
	defer k.laptops.mu.Unlock()
	pair := store.KV{Key: codeKey}
	if code != "" {
		pair.Value = []byte(code)
	}
	if err := k.o.Desk.Store().SetSecrets(pair); err != nil {
		return fmt.Errorf("change the code for copies: %w", err)
	}
	k.laptops.code, k.laptops.known = code, nil
	return nil
}

// Code is what a laptop needs to have copies, "" while none may.
func (k *Keeper) Code() string {
	k.laptops.mu.Lock()
	defer k.laptops.mu.Unlock()
	return k.laptops.code
}

// Asked notes that a laptop with the code asked, and has the copy of that tag whole and
// examined. It gives the copy it should have, open, or nothing where it has that. One is
// made every minute at most, however often anyone asks.
func (k *Keeper) Asked(from netip.Addr, tag string) (Copy, *os.File, error) {
	k.laptops.hear(from, tag, k.o.Desk.Now())
	c, in, err := k.fresh(copyEvery)
	if err != nil {
		return Copy{}, nil, err
	}
	if c.Tag() == tag {
		return c, nil, in.Close()
	}
	return c, in, nil
}

// Tag names this copy and no other.
func (c Copy) Tag() string { return strings.TrimSuffix(c.name(), ".db") }

// Tagged is what a tag says of a copy.
func Tagged(tag string) (Copy, bool) { return parseName(tag + ".db") }

func (l *laptops) hear(from netip.Addr, tag string, at board.Moment) {
	l.mu.Lock()
	defer l.mu.Unlock()
	i := slices.IndexFunc(l.known, func(n *laptop) bool { return n.from == from })
	if i < 0 {
		if len(l.known) == laptopsMost {
			l.known = slices.DeleteFunc(l.known, func(n *laptop) bool { return n == l.oldest() })
		}
		i, l.known = len(l.known), append(l.known, &laptop{from: from})
	}
	l.known[i].heard = at
	if c, ok := Tagged(tag); ok {
		l.known[i].has = c
	}
}

func (l *laptops) oldest() *laptop {
	return slices.MinFunc(l.known, func(a, b *laptop) int { return cmp.Compare(a.heard, b.heard) })
}

func (l *laptops) state(at board.Moment, v *desk.View) []Laptop {
	l.mu.Lock()
	defer l.mu.Unlock()
	list := []Laptop{}
	for _, n := range l.known {
		s := Laptop{Address: n.from.String(), At: n.has.At, Current: n.has.Rev == v.State.Rev}
		if at > n.heard+missedAfter {
			s.Failing, s.Since = "it has stopped asking for one", n.heard+missedAfter
		}
		list = append(list, s)
	}
	return list
}
