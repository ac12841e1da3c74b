package store

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"
)

func TestCheckNamesEachFault(t *testing.T) {
	put := func(bucket []byte, key, value string) func(*bolt.Tx) error {
		return func(tx *bolt.Tx) error { return tx.Bucket(bucket).Put([]byte(key), []byte(value)) }
	}
	rev := func(n uint64) string { return string(bigEndian(n)) }
	for name, c := range map[string]struct {
		change func(*bolt.Tx) error
		want   string
	}{
		"a noun changed":          {put(bucketNouns, "job/02", `{"v":2,"title":"other"}`), "noun job/02 differs from the journal"},
		"a noun too new":          {put(bucketNouns, "job/02", `{"v":11}`), "noun job/02 is of revision 11, the board at 10"},
		"a noun without revision": {put(bucketNouns, "job/02", `{}`), "noun job/02 has no v"},
		"a noun that is no JSON":  {put(bucketNouns, "job/02", `{`), "noun job/02: unexpected end"},
		"a noun from nowhere":     {put(bucketNouns, "job/99", `{"v":1}`), "noun job/99 is stored, but the journal has none"},
		"a noun gone": {func(tx *bolt.Tx) error { return tx.Bucket(bucketNouns).Delete([]byte("job/02")) },
			"noun job/02 is in the journal, but not stored"},
		"a gap in the journal": {func(tx *bolt.Tx) error { return tx.Bucket(bucketLines).Delete([]byte(rev(5))) },
			"journal goes from revision 4 to 6"},
		"a line that is no JSON":   {put(bucketLines, rev(5), `{"rev":5`), "journal line 5: jsontext: unexpected EOF"},
		"two lines in one":         {put(bucketLines, rev(5), `{"rev":5}{}`), "journal line 5: something stands behind it"},
		"a line of text":           {put(bucketLines, rev(5), `{"rev":"5"}`), "journal line 5: rev is no number"},
		"a line of lists":          {put(bucketLines, rev(5), `{"rev":5,"put":["job/05"]}`), "journal line 5: [ where { should be"},
		"a line out of place":      {put(bucketLines, rev(5), `{"rev":6}`), "journal line 5 calls itself 6"},
		"an id ahead of the board": {put(bucketIDs, "0123456789abcdef", string(encodeDone(&Entry{Rev: 11}))), "has revision 11 of 10"},
	} {
		t.Run(name, func(t *testing.T) {
			path := meddled(t, c.change)
			r, err := Check(path)
			require.NoError(t, err)
			require.Empty(t, r.Damage)
			require.ErrorContains(t, r.Err(), c.want)

			s, err := Open(path, Options{})
			require.NoError(t, err, "a board is not kept shut over it")
			require.Equal(t, r.Faults, s.Report().Faults)
			require.NoError(t, s.Close())
		})
	}
}

func TestWhatCheckCallsDamageIsNotOpened(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*bolt.Tx) error
		want   string
	}{
		"no journal": {func(tx *bolt.Tx) error { return tx.DeleteBucket(bucketLines) }, "bucket jnl is missing"},
		"the newest line gone": {func(tx *bolt.Tx) error { return tx.Bucket(bucketLines).Delete(bigEndian(10)) },
			"journal ends at revision 9, the board is at 10"},
		"an answer cut": {func(tx *bolt.Tx) error { return tx.Bucket(bucketIDs).Put(make([]byte, 16), []byte("x")) },
			"command id 00000000000000000000000000000000 can't be read"},
		"no format": {func(tx *bolt.Tx) error { return tx.Bucket(bucketMeta).Delete(metaSchema) }, "no format number"},
		"no moment": {func(tx *bolt.Tx) error { return tx.Bucket(bucketMeta).Delete(metaCreated) }, "created: "},
	} {
		t.Run(name, func(t *testing.T) {
			path := meddled(t, c.change)
			r, err := Check(path)
			require.NoError(t, err)
			require.ErrorIs(t, r.Err(), ErrDamaged)
			require.ErrorContains(t, r.Err(), c.want)
			_, err = Open(path, Options{})
			require.ErrorIs(t, err, ErrDamaged)
		})
	}
}

func TestSpacingAndOrderOfMembersAreNoFault(t *testing.T) {
	path := meddled(t, func(tx *bolt.Tx) error {
		return tx.Bucket(bucketNouns).Put([]byte("job/02"), []byte("{ \"title\": \"swap the \\u003cleft> wheel\",\n\"v\":2 }"))
	})
	requireSound(t, path)
}

func TestAReportNamesTheFirstAndCountsTheRest(t *testing.T) {
	path := meddled(t, func(tx *bolt.Tx) error {
		for n := range namedMost + 5 {
			if err := tx.Bucket(bucketNouns).Put(fmt.Appendf(nil, "x/%02d", n), []byte(`{"v":1}`)); err != nil {
				return err
			}
		}
		return nil
	})
	r, err := Check(path)
	require.NoError(t, err)
	require.Len(t, r.Faults, namedMost+1)
	require.Equal(t, "and 5 more", r.Faults[namedMost])
}
