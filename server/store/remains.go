package store

import (
	"bytes"
	"encoding/binary"
	"io"
	"os"
	"slices"
)

const (
	keyBytesMost   = 32 << 10 // bbolt's own limit
	valueBytesMost = 64 << 20 // a longer one is taken for damage
	elementsMost   = pageBytesMost / elementBytes
)

// remains are the pairs of a damaged file whose sums hold. What pages say of
// themselves, and of where things lie, is tried and never trusted.
type remains struct {
	file      *os.File
	bytes     int64
	pageBytes int64
	// behind: the head that was followed is the only one, or not the newest, so that a
	// transaction after it may be on stray pages.
	behind bool
	// older: the newest head holds, and what it leads to does not.
	older bool

	// meta and want, the digests in it, are nil and nought where meta is not as it was
	// written.
	meta map[string][]byte
	want digests
	// tree are the pairs that a head leads to, by sealed bucket. stray are nouns and
	// journal lines on pages it does not lead to: older, or of the transaction after it.
	tree, stray [len(digests{})]map[string][]byte
	reached     map[uint64]bool
}

// gather reads all that holds in the file at path.
func gather(path string) (*remains, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	m := &remains{file: f, bytes: info.Size(), pageBytes: pageBytes, behind: true}
	m.empty()
	heads := readHeads(f)
	for i, h := range heads {
		m.empty()
		m.pageBytes = h.pageBytes
		if m.fromRoot(h.root) {
			m.behind, m.older = i > 0 || len(heads) < 2, i > 0
			break
		}
	}
	m.strays()
	return m, nil
}

func (m *remains) empty() {
	m.meta, m.want, m.reached = nil, digests{}, map[uint64]bool{}
	for i := range m.tree {
		m.tree[i], m.stray[i] = map[string][]byte{}, map[string][]byte{}
	}
}

// fromRoot walks the tree under a root page, as far as it leads. false: nowhere.
func (m *remains) fromRoot(root uint64) bool {
	m.mark(root)
	found := false
	for _, e := range m.leaf(m.file, int64(root)*m.pageBytes, m.bytes) {
		name := []byte(e.Key)
		if len(e.Value) < 16 || !slices.ContainsFunc(buckets(), func(b []byte) bool { return bytes.Equal(b, name) }) {
			continue
		}
		found = true
		if bytes.Equal(name, bucketMeta) {
			m.readMeta(e.Value)
			continue
		}
		if root := binary.NativeEndian.Uint64(e.Value); root != 0 {
			m.subtree(bucketIndex(name), root)
		} else {
			m.take(bucketIndex(name), m.leaf(bytes.NewReader(e.Value), 16, int64(len(e.Value))))
		}
	}
	return found
}

// readMeta reads the bucket meta, which never outgrows a page, from its entry.
func (m *remains) readMeta(entry []byte) {
	var found []KV
	if root := binary.NativeEndian.Uint64(entry); root != 0 {
		m.mark(root)
		found = m.leaf(m.file, int64(root)*m.pageBytes, m.bytes)
	} else {
		found = m.leaf(bytes.NewReader(entry), 16, int64(len(entry)))
	}
	i := slices.IndexFunc(found, func(kv KV) bool { return kv.Key == string(metaSums) })
	if i < 0 {
		return
	}
	want, ok := parseSums(found[i].Value)
	if ok && bytes.Equal(found[i].Value, sumsOverPairs(found, want)) {
		m.meta, m.want = asMap(found), want
	}
}

// subtree takes the pairs of the leaves under a page. Which of both it is shows by what
// holds on it.
func (m *remains) subtree(bucket int, id uint64) {
	if id < 2 || m.reached[id] || int64(id) >= m.bytes/m.pageBytes {
		return
	}
	head := m.mark(id)
	if m.take(bucket, m.leaf(m.file, int64(id)*m.pageBytes, m.bytes)) > 0 || binary.NativeEndian.Uint16(head[8:]) == leafPage {
		return
	}
	for _, child := range m.branch(int64(id) * m.pageBytes) {
		m.subtree(bucket, child)
	}
}

// mark marks a page and those it overflows into, and returns its header.
func (m *remains) mark(id uint64) []byte {
	head := make([]byte, headBytes)
	m.file.ReadAt(head, int64(id)*m.pageBytes) // what is not there is nought
	overflow := binary.NativeEndian.Uint32(head[12:])
	m.reached[id] = true
	for n := uint64(1); n <= uint64(overflow) && n < valueBytesMost/uint64(m.pageBytes); n++ {
		m.reached[id+n] = true
	}
	return head
}

// strays takes the nouns and journal lines of all leaves that the tree does not lead to,
// the newest of each noun.
func (m *remains) strays() {
	head := make([]byte, headBytes)
	for id := uint64(2); int64(id) < m.bytes/m.pageBytes; id++ {
		at := int64(id) * m.pageBytes
		if _, err := m.file.ReadAt(head, at); err != nil {
			return
		}
		if m.reached[id] || binary.NativeEndian.Uint64(head) != id || binary.NativeEndian.Uint16(head[8:]) != leafPage {
			continue
		}
		end := at + m.pageBytes*int64(1+binary.NativeEndian.Uint32(head[12:]))
		for _, kv := range m.leaf(m.file, at, min(end, m.bytes)) {
			m.takeStray(kv)
			if name := []byte(kv.Key); bytes.Equal(name, bucketLines) || bytes.Equal(name, bucketNouns) { // small ones lie in the root
				for _, kv := range m.leaf(bytes.NewReader(kv.Value), 16, int64(len(kv.Value))) {
					m.takeStray(kv)
				}
			}
		}
	}
}

func (m *remains) takeStray(kv KV) {
	lines, nouns := m.stray[bucketIndex(bucketLines)], m.stray[bucketIndex(bucketNouns)]
	if data, ok := unseal(bucketLines, []byte(kv.Key), kv.Value); ok {
		lines[kv.Key] = data
	} else if data, ok := unseal(bucketNouns, []byte(kv.Key), kv.Value); ok && versionOf(data) >= versionOf(nouns[kv.Key]) {
		nouns[kv.Key] = data
	}
}

// take takes the pairs whose sums hold, and counts them.
func (m *remains) take(bucket int, found []KV) (n int) {
	for _, kv := range found {
		if data, ok := unseal(sealedBuckets()[bucket], []byte(kv.Key), kv.Value); ok {
			m.tree[bucket][kv.Key] = data
			n++
		}
	}
	return n
}

// whole reports whether the tree led to all that a bucket held.
func (m *remains) whole(bucket []byte) bool {
	i := bucketIndex(bucket)
	return m.meta != nil && digestOf(bucket, m.tree[i]) == m.want[i]
}

func digestOf(bucket []byte, pairs map[string][]byte) (total uint64) {
	for key, data := range pairs {
		total += uint64(sumOf(bucket, []byte(key), data))
	}
	return total
}

// leaf reads the elements of a leaf at an offset that lie before end.
func (m *remains) leaf(r io.ReaderAt, at, end int64) (found []KV) {
	for n := range elements(r, at) {
		e := make([]byte, elementBytes)
		place := at + headBytes + int64(n)*elementBytes
		if _, err := r.ReadAt(e, place); err != nil {
			break
		}
		from := place + int64(binary.NativeEndian.Uint32(e[4:]))
		key, value := int64(binary.NativeEndian.Uint32(e[8:])), int64(binary.NativeEndian.Uint32(e[12:]))
		if key == 0 || key > keyBytesMost || value > valueBytesMost || from+key+value > end {
			continue
		}
		data := make([]byte, key+value)
		if _, err := r.ReadAt(data, from); err == nil || err == io.EOF && from+key+value == end {
			found = append(found, KV{Key: string(data[:key]), Value: data[key:]})
		}
	}
	return found
}

// branch reads the pages that a branch at an offset points at.
func (m *remains) branch(at int64) (children []uint64) {
	for n := range elements(m.file, at) {
		e := make([]byte, elementBytes)
		if _, err := m.file.ReadAt(e, at+headBytes+int64(n)*elementBytes); err != nil {
			break
		}
		children = append(children, binary.NativeEndian.Uint64(e[8:]))
	}
	return children
}

// elements is how many a page has: by its header, or by where the data of the first begin,
// whichever says more. What is none has no sum that holds.
func elements(r io.ReaderAt, at int64) int {
	head := make([]byte, headBytes+8)
	if _, err := r.ReadAt(head, at); err != nil {
		return 0
	}
	said := int(binary.NativeEndian.Uint16(head[10:]))
	first := binary.NativeEndian.Uint32(head[headBytes:]) // of a branch
	if binary.NativeEndian.Uint16(head[8:]) == leafPage {
		first = binary.NativeEndian.Uint32(head[headBytes+4:])
	}
	return min(max(said, int(first/elementBytes)), elementsMost)
}
