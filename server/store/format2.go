package store

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/go-json-experiment/json/jsontext"
	bolt "go.etcd.io/bbolt"
)

// format2 names three limits of chargers and packs as the others are named, in
// the nouns and in the journal: in its nouns as they became and as they were, and
// in what was asked.
func format2(w *writer) error {
	names := map[string]string{"maxAmps": "ampsMost", "maxWatts": "wattsMost", "maxChargeAmps": "chargeAmpsMost"}
	for _, b := range []*bolt.Bucket{w.tx.Bucket(bucketNouns), w.tx.Bucket(bucketLines)} {
		for _, kv := range pairs(b) {
			if err := b.Put([]byte(kv.Key), renameMembers(kv.Value, names)); err != nil {
				return fmt.Errorf("%q: %w", kv.Key, err)
			}
		}
	}
	return nil
}

// renameMembers renames members of the JSON objects in data, at any depth. Where
// there are none, or data cannot be read, it stays as it is.
func renameMembers(data []byte, names map[string]string) []byte {
	var out bytes.Buffer
	from, to := jsontext.NewDecoder(bytes.NewReader(data)), jsontext.NewEncoder(&out)
	found := false
	for {
		token, err := from.ReadToken()
		if errors.Is(err, io.EOF) && found {
			return bytes.TrimSuffix(out.Bytes(), []byte("\n"))
		}
		if err != nil {
			return data
		}
		if name, ok := names[memberName(from, token)]; ok {
			token, found = jsontext.String(name), true
		}
		if err := to.WriteToken(token); err != nil {
			return data
		}
	}
}

// memberName is the token that was just read, where it names a member.
func memberName(from *jsontext.Decoder, token jsontext.Token) string {
	kind, read := from.StackIndex(from.StackDepth())
	if kind != jsontext.BeginObject.Kind() || read%2 == 0 || token.Kind() != '"' {
		return ""
	}
	return token.String()
}
