package store

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCheckNamesEachFault(t *testing.T) {
	put := func(bucket []byte, key, value string) func(*writer) error {
		return func(w *writer) error { return w.put(bucket, []byte(key), []byte(value)) }
	}
	rev := func(n uint64) string { return string(bigEndian(n)) }
	for name, c := range map[string]struct {
		change func(*writer) error
		want   string
	}{
		"a noun changed":          {put(bucketNouns, "job/02", `{"v":2,"title":"other"}`), "noun job/02 differs from the journal"},
		"a noun too new":          {put(bucketNouns, "job/02", `{"v":11}`), "noun job/02 is of revision 11, the board at 10"},
		"a noun without revision": {put(bucketNouns, "job/02", `{}`), "noun job/02 has no v"},
		"a noun that is no JSON":  {put(bucketNouns, "job/02", `{`), "noun job/02: unexpected end"},
		"a noun from nowhere":     {put(bucketNouns, "job/99", `{"v":1}`), "noun job/99 is stored, but the journal has none"},
		"a noun gone": {func(w *writer) error { return w.del(bucketNouns, []byte("job/02")) },
			"noun job/02 is in the journal, but not stored"},
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
			require.NoError(t, s.Close())
		})
	}
}

func TestWhatTheFileSaysOfItselfIsNeverGuessed(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*writer) error
		want   string
	}{
		"no format": {func(w *writer) error { return w.tx.Bucket(bucketMeta).Delete(metaSchema) }, "no format number"},
		"no moment": {func(w *writer) error { return w.tx.Bucket(bucketMeta).Delete(metaCreated) }, "created: "},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := Check(meddled(t, c.change))
			require.NoError(t, err)
			require.ErrorIs(t, r.Err(), ErrDamaged)
			require.ErrorContains(t, r.Err(), c.want)
		})
	}
}

func TestSpacingAndOrderOfMembersAreNoFault(t *testing.T) {
	path := meddled(t, func(w *writer) error {
		return w.put(bucketNouns, []byte("job/02"), []byte("{ \"title\": \"swap the \\u003cleft> wheel\",\n\"v\":2 }"))
	})
	requireSound(t, path)
}

func TestAReportNamesTheFirstAndCountsTheRest(t *testing.T) {
	path := meddled(t, func(w *writer) error {
		for n := range namedMost + 5 {
			if err := w.put(bucketNouns, fmt.Appendf(nil, "x/%02d", n), []byte(`{"v":1}`)); err != nil {
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
