package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"

	bolt "go.etcd.io/bbolt"
)

// bbolt's pages, version 2 of its file format (bbolt v1.5.0, internal/common):
// a header of id (8 bytes), flags (2), count (2) and overflow (4). In a branch
// or leaf follow count elements of 16 bytes, which say where from themselves
// their data lie; in the list of free pages their ids; in the two metas, at
// these offsets, the root page, the list's page, the transaction, and a sum
// over what is before it. All numbers are in the machine's own order.
const (
	headBytes    = 16
	elementBytes = 16
	branchPage   = 0x01
	leafPage     = 0x02
	freePage     = 0x10
	bucketValue  = 0x01

	metaRoot = headBytes + 16
	metaFree = headBytes + 32
	metaTxID = headBytes + 48
	metaSum  = headBytes + 56
	metaEnd  = headBytes + 64

	manyFree = 0xffff // a count that says: the count is the first id
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
	if err := t.check(uint64(tx.ID())); err != nil {
		return fmt.Errorf("%s: %w: %w", path, ErrDamaged, err)
	}
	return nil
}

func (t *tree) check(txID uint64) error {
	h, err := t.head(txID)
	if err != nil {
		return err
	}
	if err := t.checkFree(h.free); err != nil {
		return fmt.Errorf("list of free pages: %w", err)
	}
	return t.visit(h.root)
}

// head returns the meta page of the transaction.
func (t *tree) head(txID uint64) (head, error) {
	for n := range int64(2) {
		if h, ok := readHead(t.file, n*t.pageBytes); ok && h.txID == txID {
			return h, nil
		}
	}
	return head{}, fmt.Errorf("no meta page of transaction %d", txID)
}

func (t *tree) checkFree(id uint64) error {
	page, err := t.page(id)
	if err != nil {
		return err
	}
	if flags := binary.NativeEndian.Uint16(page[8:]); flags != freePage {
		return fmt.Errorf("page %d is none (%x)", id, flags)
	}
	count, rest := uint64(binary.NativeEndian.Uint16(page[10:])), page[headBytes:]
	if count == manyFree {
		count, rest = binary.NativeEndian.Uint64(rest), rest[8:]
	}
	if count > uint64(len(rest)/8) {
		return fmt.Errorf("%d ids do not fit", count)
	}
	for ; count > 0; count, rest = count-1, rest[8:] {
		if free := binary.NativeEndian.Uint64(rest); free < 2 || free >= t.pages {
			return fmt.Errorf("page %d of %d is in it", free, t.pages)
		}
	}
	return nil
}

func (t *tree) visit(id uint64) error {
	page, err := t.page(id)
	if err != nil {
		return err
	}
	children, err := parseNode(page)
	if err != nil {
		return fmt.Errorf("page %d: %w", id, err)
	}
	for _, child := range children {
		if err := t.visit(child); err != nil {
			return err
		}
	}
	return nil
}

// page reads a page with those it overflows into, and marks them reached.
func (t *tree) page(id uint64) ([]byte, error) {
	head := make([]byte, headBytes)
	if id < 2 || id >= t.pages {
		return nil, fmt.Errorf("page %d of %d is pointed at", id, t.pages)
	}
	if _, err := t.file.ReadAt(head, int64(id)*t.pageBytes); err != nil {
		return nil, err
	}
	overflow := uint64(binary.NativeEndian.Uint32(head[12:]))
	if own := binary.NativeEndian.Uint64(head); own != id || id+overflow >= t.pages {
		return nil, fmt.Errorf("page %d calls itself %d and %d more", id, own, overflow)
	}
	for n := id; n <= id+overflow; n++ {
		if t.reached[n] {
			return nil, fmt.Errorf("page %d is reached twice", n)
		}
		t.reached[n] = true
	}
	data := make([]byte, int64(overflow+1)*t.pageBytes)
	_, err := t.file.ReadAt(data, int64(id)*t.pageBytes)
	return data, err
}

// parseNode returns the pages that a branch or leaf points at.
func parseNode(page []byte) (children []uint64, err error) {
	flags, count := binary.NativeEndian.Uint16(page[8:]), int(binary.NativeEndian.Uint16(page[10:]))
	if flags != branchPage && flags != leafPage {
		return nil, fmt.Errorf("neither branch nor leaf (%x)", flags)
	}
	if headBytes+count*elementBytes > len(page) {
		return nil, fmt.Errorf("%d elements do not fit", count)
	}
	if flags == branchPage && count == 0 {
		return nil, errors.New("a branch of nothing")
	}
	for at := headBytes; at < headBytes+count*elementBytes; at += elementBytes {
		var more []uint64
		if flags == branchPage {
			more, err = branchElement(page, at)
		} else {
			more, err = leafElement(page, at)
		}
		if err != nil {
			return nil, err
		}
		children = append(children, more...)
	}
	return children, nil
}

// branchElement: position, key size, page.
func branchElement(page []byte, at int) ([]uint64, error) {
	e := page[at:]
	pos, keySize := int64(binary.NativeEndian.Uint32(e)), int64(binary.NativeEndian.Uint32(e[4:]))
	if int64(at)+pos+keySize > int64(len(page)) {
		return nil, errors.New("a key outside the page")
	}
	return []uint64{binary.NativeEndian.Uint64(e[8:])}, nil
}

// leafElement: flags, position, key size, value size. A bucket's value is its
// root page and a sequence, then, where the root is 0, a small page inline.
func leafElement(page []byte, at int) ([]uint64, error) {
	e := page[at:]
	flags, pos := binary.NativeEndian.Uint32(e), int64(binary.NativeEndian.Uint32(e[4:]))
	keySize, valueSize := int64(binary.NativeEndian.Uint32(e[8:])), int64(binary.NativeEndian.Uint32(e[12:]))
	from := int64(at) + pos + keySize
	if from+valueSize > int64(len(page)) {
		return nil, errors.New("a value outside the page")
	}
	if flags&bucketValue == 0 {
		return nil, nil
	}
	return bucketRoot(page[from : from+valueSize])
}

func bucketRoot(value []byte) ([]uint64, error) {
	if len(value) < 16 {
		return nil, fmt.Errorf("a bucket of %d bytes", len(value))
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		return []uint64{root}, nil
	}
	if len(value) < 16+headBytes {
		return nil, fmt.Errorf("an inline bucket of %d bytes", len(value))
	}
	inline, err := parseNode(value[16:])
	if err == nil && len(inline) > 0 {
		err = errors.New("an inline bucket with pages")
	}
	return nil, err
}
