package store

import (
	"encoding/binary"
	"fmt"
	"io"
	"os"

	bolt "go.etcd.io/bbolt"
)

// bbolt's pages, version 2 of its file format (bbolt v1.5.0, internal/common):
// a header of id (8 bytes), flags (2), count (2) and overflow (4), then count
// elements of 16 bytes, which say where from themselves their data lie. All
// numbers in the machine's own order.
const (
	headBytes    = 16
	elementBytes = 16
	branchPage   = 0x01
	leafPage     = 0x02
	bucketValue  = 0x01
)

// tree walks the pages of a file by plain reads. bbolt's own cursors and check
// trust what pages say: on a damaged file they may run in circles for ever, or
// off the end of the map, which no recover catches in another goroutine.
type tree struct {
	file      io.ReaderAt
	pageBytes int64
	pages     uint64
	reached   []bool
}

// checkTree returns nil if every page that tx can reach in the file at path
// lies in it, is reached once, and has its elements inside.
func checkTree(tx *bolt.Tx, path string, pageBytes int) error {
	if err := wholeFile(path, tx.Size()); err != nil {
		return err
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	pages := uint64(tx.Size()) / uint64(pageBytes)
	t := &tree{file: f, pageBytes: int64(pageBytes), pages: pages, reached: make([]bool, pages)}
	if err := t.visit(uint64(tx.Cursor().Bucket().RootPage())); err != nil {
		return fmt.Errorf("%s: %w: %w", path, ErrDamaged, err)
	}
	return nil
}

func (t *tree) visit(id uint64) error {
	page, err := t.read(id)
	if err != nil {
		return err
	}
	for _, child := range page.children {
		if err := t.visit(child); err != nil {
			return err
		}
	}
	return nil
}

func (t *tree) read(id uint64) (node, error) {
	head := make([]byte, headBytes)
	if id < 2 || id >= t.pages {
		return node{}, fmt.Errorf("page %d of %d is pointed at", id, t.pages)
	}
	if _, err := t.file.ReadAt(head, int64(id)*t.pageBytes); err != nil {
		return node{}, err
	}
	overflow := uint64(binary.NativeEndian.Uint32(head[12:]))
	if own := binary.NativeEndian.Uint64(head); own != id || id+overflow >= t.pages {
		return node{}, fmt.Errorf("page %d calls itself %d and %d more", id, own, overflow)
	}
	for n := id; n <= id+overflow; n++ {
		if t.reached[n] {
			return node{}, fmt.Errorf("page %d is reached twice", n)
		}
		t.reached[n] = true
	}
	data := make([]byte, int64(overflow+1)*t.pageBytes)
	if _, err := t.file.ReadAt(data, int64(id)*t.pageBytes); err != nil {
		return node{}, err
	}
	n, err := parseNode(data)
	if err != nil {
		return node{}, fmt.Errorf("page %d: %w", id, err)
	}
	return n, nil
}

// node is a page read: the pages it points at.
type node struct{ children []uint64 }

func parseNode(page []byte) (node, error) {
	flags, count := binary.NativeEndian.Uint16(page[8:]), int(binary.NativeEndian.Uint16(page[10:]))
	if headBytes+count*elementBytes > len(page) {
		return node{}, fmt.Errorf("%d elements do not fit", count)
	}
	var n node
	for at := headBytes; at < headBytes+count*elementBytes; at += elementBytes {
		var err error
		switch flags {
		case branchPage:
			err = n.branchElement(page, at)
		case leafPage:
			err = n.leafElement(page, at)
		default:
			err = fmt.Errorf("neither branch nor leaf (%x)", flags)
		}
		if err != nil {
			return node{}, err
		}
	}
	if flags == branchPage && count == 0 {
		return node{}, fmt.Errorf("a branch of nothing")
	}
	return n, nil
}

// branchElement: position, key size, page.
func (n *node) branchElement(page []byte, at int) error {
	e := page[at:]
	pos, keySize := int64(binary.NativeEndian.Uint32(e)), int64(binary.NativeEndian.Uint32(e[4:]))
	if int64(at)+pos+keySize > int64(len(page)) {
		return fmt.Errorf("a key outside the page")
	}
	n.children = append(n.children, binary.NativeEndian.Uint64(e[8:]))
	return nil
}

// leafElement: flags, position, key size, value size. A bucket's value is its
// root page and a sequence, then, where the root is 0, a small page inline.
func (n *node) leafElement(page []byte, at int) error {
	e := page[at:]
	flags, pos := binary.NativeEndian.Uint32(e), int64(binary.NativeEndian.Uint32(e[4:]))
	keySize, valueSize := int64(binary.NativeEndian.Uint32(e[8:])), int64(binary.NativeEndian.Uint32(e[12:]))
	from := int64(at) + pos + keySize
	if from+valueSize > int64(len(page)) {
		return fmt.Errorf("a value outside the page")
	}
	if flags&bucketValue == 0 {
		return nil
	}
	value := page[from : from+valueSize]
	if len(value) < 16 {
		return fmt.Errorf("a bucket of %d bytes", len(value))
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		n.children = append(n.children, root)
		return nil
	}
	if len(value) < 16+headBytes {
		return fmt.Errorf("an inline bucket of %d bytes", len(value))
	}
	inline, err := parseNode(value[16:])
	if err == nil && len(inline.children) > 0 {
		err = fmt.Errorf("an inline bucket with pages")
	}
	return err
}
