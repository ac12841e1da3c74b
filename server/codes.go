package server

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base32"
	"fmt"
	"maps"
	"strings"
	"sync"

	"mendline/board"
	"mendline/server/store"
)

// codeLeast is the least length of a join code, its separators not counted: joinLimits
// lets a network guess 7,220 times in 12 hours, which finds one of four codes of 40 bits
// with a probability of 2.6e-8; two hundred networks find one with 5.3e-6 (by hand).
const codeLeast = 8

// Crockford's base 32: no I, L, O or U (D. Crockford, "Base 32",
// crockford.com/base32.html; from memory).
var crockford = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

// joinRoles are the roles a code gives, in the order in which they are shown.
var joinRoles = [...]board.Role{board.RoleCaptain, board.RoleSafety, board.RoleCrew, board.RoleViewer}

// codes are the join codes, one a role.
type codes struct {
	keep func(...store.KV) error

	mu     sync.Mutex
	byRole map[board.Role]string
}

// loadCodes takes each role's code as given, else as kept, else makes one and
// keeps it.
func loadCodes(given map[board.Role]string, kept map[string][]byte, keep func(...store.KV) error) (*codes, error) {
	c := &codes{keep: keep, byRole: map[board.Role]string{}}
	var made []store.KV
	for _, role := range joinRoles {
		switch old := kept[codeKey(role)]; {
		case given[role] != "":
			c.byRole[role] = given[role]
		case old != nil:
			c.byRole[role] = string(old)
		default:
			c.byRole[role] = newCode()
			made = append(made, store.KV{Key: codeKey(role), Value: []byte(c.byRole[role])})
		}
	}
	if err := c.check(); err != nil {
		return nil, err
	}
	if len(made) == 0 {
		return c, nil
	}
	return c, keep(made...)
}

func (c *codes) check() error {
	owner := map[string]board.Role{}
	for _, role := range joinRoles {
		plain := plainCode(c.byRole[role])
		if len(plain) < codeLeast {
			return fmt.Errorf("join code of %s: %d letters and digits, want %d or more", role, len(plain), codeLeast)
		}
		if other, taken := owner[plain]; taken {
			return fmt.Errorf("join codes of %s and %s are the same: give each role its own", other, role)
		}
		owner[plain] = role
	}
	return nil
}

func codeKey(role board.Role) string { return "code/" + string(role) }

func newCode() string {
	var b [5]byte
	rand.Read(b[:])
	return crockford.EncodeToString(b[:])
}

// plainCode is a code as it is compared: what people mistype is one.
func plainCode(text string) string {
	return strings.NewReplacer("-", "", " ", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(text))
}

// role is the role whose code this is. It takes as long whatever the code.
func (c *codes) role(text string) (board.Role, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	typed := sha256.Sum256([]byte(plainCode(text)))
	var found board.Role
	for _, role := range joinRoles {
		own := sha256.Sum256([]byte(plainCode(c.byRole[role])))
		if subtle.ConstantTimeCompare(typed[:], own[:]) == 1 {
			found = role
		}
	}
	return found, found != ""
}

// change gives a role a new code. Errors are the store's; the old code stays then.
func (c *codes) change(role board.Role) (string, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	code := newCode()
	if err := c.keep(store.KV{Key: codeKey(role), Value: []byte(code)}); err != nil {
		return "", fmt.Errorf("change join code of %s: %w", role, err)
	}
	c.byRole[role] = code
	return code, nil
}

func (c *codes) all() map[board.Role]string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return maps.Clone(c.byRole)
}
