package store

import (
	"encoding/binary"
	"hash/fnv"
	"io"
)

// head is what one of the two meta pages of bbolt says: where the tree begins, and of
// which transaction it is.
type head struct {
	pageBytes int64
	root      uint64
	free      uint64
	pages     uint64
	txID      uint64
}

const (
	metaPageBytes = headBytes + 8
	metaPages     = headBytes + 40
	pageBytesMost = 64 << 10
)

// readHead reads the head at an offset, and false where its own sum is another: such a
// one bbolt passes over without a word, and takes the other, which may be a transaction
// older.
func readHead(file io.ReaderAt, at int64) (head, bool) {
	page := make([]byte, metaEnd)
	if _, err := file.ReadAt(page, at); err != nil {
		return head{}, false
	}
	sum := fnv.New64a()
	sum.Write(page[headBytes:metaSum])
	h := head{
		pageBytes: int64(binary.NativeEndian.Uint32(page[metaPageBytes:])),
		root:      binary.NativeEndian.Uint64(page[metaRoot:]),
		free:      binary.NativeEndian.Uint64(page[metaFree:]),
		pages:     binary.NativeEndian.Uint64(page[metaPages:]),
		txID:      binary.NativeEndian.Uint64(page[metaTxID:]),
	}
	ok := sum.Sum64() == binary.NativeEndian.Uint64(page[metaSum:]) && h.pageBytes >= 512 && h.pageBytes <= pageBytesMost
	return h, ok
}

// readHeads reads the heads that hold, the newest first.
func readHeads(file io.ReaderAt) []head {
	first, ok := readHead(file, 0)
	sizes := []int64{first.pageBytes}
	if !ok {
		sizes = []int64{pageBytes, 2 * pageBytes, 4 * pageBytes, 8 * pageBytes, pageBytesMost}
	}
	var heads []head
	if ok {
		heads = append(heads, first)
	}
	for _, size := range sizes {
		second, ok := readHead(file, size)
		if !ok || second.pageBytes != size {
			continue
		}
		if len(heads) > 0 && second.txID > first.txID {
			return []head{second, first}
		}
		return append(heads, second)
	}
	return heads
}
