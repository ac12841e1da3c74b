package store

import (
	"fmt"
)

const formatSums = 3 // from here on values carry sums

// format3 puts a sum before each value.
func format3(w *writer) error {
	w.digests = digests{}
	for i, name := range sealedBuckets() {
		b := w.tx.Bucket(name)
		for _, kv := range pairs(b) {
			value := seal(name, []byte(kv.Key), kv.Value)
			w.digests[i] += uint64(storedSum(value))
			if err := b.Put([]byte(kv.Key), value); err != nil {
				return fmt.Errorf("%s %q: %w", name, kv.Key, err)
			}
		}
	}
	return nil
}
