package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"
)

// bbolt has no sum over its data pages, so each value outside meta begins with one of
// its own, CRC-32C (Castagnoli) over bucket, key and value: it finds every flipped bit,
// and tells which bucket a pair on a stray page belongs to. What went as a whole, or
// came back in an older state, is found by the digests: for each bucket the total of its
// sums, in meta, with a sum over meta.
const sumBytes = 4

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sealedBuckets are those whose values carry sums.
func sealedBuckets() [][]byte { return buckets()[1:] }

// digests are the totals of the sums of the sealed buckets.
type digests [5]uint64

const sumsBytes = 5*8 + sumBytes

func bucketIndex(bucket []byte) int {
	for i, name := range sealedBuckets() {
		if bytes.Equal(name, bucket) {
			return i
		}
	}
	panic(fmt.Sprintf("store: bucket %q carries no sums", bucket))
}

func sumOf(bucket, key, data []byte) uint32 {
	sum := crc32.Update(0, castagnoli, bucket)
	sum = crc32.Update(sum, castagnoli, binary.BigEndian.AppendUint32(nil, uint32(len(key))))
	sum = crc32.Update(sum, castagnoli, key)
	return crc32.Update(sum, castagnoli, data)
}

// seal puts the sum before the data.
func seal(bucket, key, data []byte) []byte {
	value := make([]byte, sumBytes, sumBytes+len(data))
	binary.BigEndian.PutUint32(value, sumOf(bucket, key, data))
	return append(value, data...)
}

// unseal gives the data of a value, shared with it, and false where the sum is another.
func unseal(bucket, key, value []byte) (data []byte, ok bool) {
	if len(value) < sumBytes {
		return nil, false
	}
	data = value[sumBytes:]
	return data, sumOf(bucket, key, data) == storedSum(value)
}

// storedSum is what stands before the data.
func storedSum(value []byte) uint32 {
	if len(value) < sumBytes {
		return 0
	}
	return binary.BigEndian.Uint32(value)
}

// writer is a transaction that writes, and keeps the digests.
type writer struct {
	tx      *bolt.Tx
	digests digests
}

// writing runs f and then brings the digests in meta up to date.
func writing(tx *bolt.Tx, f func(*writer) error) error {
	w := &writer{tx: tx}
	if meta := tx.Bucket(bucketMeta); meta != nil && meta.Get(metaSums) != nil {
		var ok bool
		if w.digests, ok = readSums(meta); !ok {
			return fmt.Errorf("meta: %w", ErrDamaged)
		}
	}
	if err := f(w); err != nil {
		return err
	}
	return w.tx.Bucket(bucketMeta).Put(metaSums, sumsOver(w.tx.Bucket(bucketMeta), w.digests))
}

func (w *writer) put(bucket, key, data []byte) error {
	w.drop(bucket, key)
	value := seal(bucket, key, data)
	w.digests[bucketIndex(bucket)] += uint64(storedSum(value))
	b := w.tx.Bucket(bucket)
	if bytes.Equal(bucket, bucketLines) {
		b.FillPercent = linesFill
	}
	return b.Put(key, value)
}

func (w *writer) del(bucket, key []byte) error {
	w.drop(bucket, key)
	return w.tx.Bucket(bucket).Delete(key)
}

// drop takes what stands at the key out of the digest.
func (w *writer) drop(bucket, key []byte) {
	if old := w.tx.Bucket(bucket).Get(key); old != nil {
		w.digests[bucketIndex(bucket)] -= uint64(storedSum(old))
	}
}

func (w *writer) putMeta(key, value []byte) error { return w.tx.Bucket(bucketMeta).Put(key, value) }

// sumsOver is the value of meta's own key: the digests, and a sum over them and all the
// rest of meta.
func sumsOver(meta *bolt.Bucket, d digests) []byte {
	return sumsOverPairs(pairs(meta), d)
}

// sumsOverPairs is sumsOver for pairs in the order of their keys.
func sumsOverPairs(meta []KV, d digests) []byte {
	var value []byte
	for _, total := range d {
		value = binary.BigEndian.AppendUint64(value, total)
	}
	sum := sumOf(bucketMeta, metaSums, value)
	for _, kv := range meta {
		if kv.Key != string(metaSums) {
			sum = crc32.Update(sum, castagnoli, seal(bucketMeta, []byte(kv.Key), kv.Value))
		}
	}
	return binary.BigEndian.AppendUint32(value, sum)
}

// readSums is the digests, and false where meta is not as it was written.
func readSums(meta *bolt.Bucket) (d digests, ok bool) {
	value := meta.Get(metaSums)
	d, ok = parseSums(value)
	return d, ok && bytes.Equal(value, sumsOver(meta, d))
}

func parseSums(value []byte) (d digests, ok bool) {
	if len(value) != sumsBytes {
		return d, false
	}
	for i := range d {
		d[i] = binary.BigEndian.Uint64(value[8*i:])
	}
	return d, true
}
