package desk

import (
	"slices"

	"mendline/board"
)

// The patches kept for those who come back: this many, or this much.
const (
	ringPatches = 4096
	ringBytes   = 4 << 20
)

// patch is one command's patch, encoded.
type patch struct {
	rev  board.Rev
	json []byte
}

// ring keeps the newest patches, gapless.
type ring struct {
	patches []patch // oldest first
	bytes   int
}

// add appends a patch and forgets the oldest beyond the limits.
func (r *ring) add(p patch) {
	r.patches = append(r.patches, p)
	r.bytes += len(p.json)
	for len(r.patches) > ringPatches || (r.bytes > ringBytes && len(r.patches) > 0) {
		r.bytes -= len(r.patches[0].json)
		r.patches[0] = patch{}
		r.patches = r.patches[1:]
	}
}

// from is the oldest revision kept, or the next one when none is.
func (r *ring) from(now board.Rev) board.Rev {
	if len(r.patches) == 0 {
		return now + 1
	}
	return r.patches[0].rev
}

// since is a copy of the patches after rev, and their bytes. rev lies between
// from−1 and the newest.
func (r *ring) since(rev board.Rev) ([]patch, int) {
	if len(r.patches) == 0 {
		return nil, 0
	}
	list := slices.Clone(r.patches[rev+1-r.patches[0].rev:])
	bytes := 0
	for _, p := range list {
		bytes += len(p.json)
	}
	return list, bytes
}
