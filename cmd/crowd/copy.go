package main

import (
	"bytes"
	"fmt"
	"maps"
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"mendline/board"
)

// boardCopy is the board as one device has it: each noun as it came.
type boardCopy struct {
	epoch string
	rev   board.Rev
	nouns map[board.Key]jsontext.Value
}

// replace takes a snapshot.
func (c *boardCopy) replace(m *message) {
	c.epoch, c.rev, c.nouns = m.Epoch, m.Rev, maps.Clone(m.Put)
}

// apply takes the next patch. The error is a patch that does not follow the last.
func (c *boardCopy) apply(p *patch) error {
	if p.Rev != c.rev+1 {
		return fmt.Errorf("at revision %d came the patch of %d", c.rev, p.Rev)
	}
	c.rev = p.Rev
	maps.Copy(c.nouns, p.Put)
	for _, key := range p.Del {
		delete(c.nouns, key)
	}
	return nil
}

// differences lists, in words and in the order of keys, where the copy is not
// the board: a noun missing, one too many, or one with another value. Spaces and
// the order of an object's fields do not count.
func (c *boardCopy) differences(b *message) []string {
	var list []string
	for _, key := range slices.Sorted(maps.Keys(b.Put)) {
		have, ok := c.nouns[key]
		switch {
		case !ok:
			list = append(list, fmt.Sprintf("%s is missing", key))
		case !sameJSON(have, b.Put[key]):
			list = append(list, fmt.Sprintf("%s is %s, on the board %s", key, have, b.Put[key]))
		}
	}
	for _, key := range slices.Sorted(maps.Keys(c.nouns)) {
		if _, ok := b.Put[key]; !ok {
			list = append(list, fmt.Sprintf("%s is not on the board", key))
		}
	}
	return list
}

func sameJSON(a, b jsontext.Value) bool {
	if bytes.Equal(a, b) {
		return true
	}
	a, b = slices.Clone(a), slices.Clone(b)
	return a.Canonicalize() == nil && b.Canonicalize() == nil && bytes.Equal(a, b)
}
