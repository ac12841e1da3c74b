package copies

import (
	"bufio"
	"cmp"
	"compress/gzip"
	"crypto/aes"
	"crypto/cipher"
	"crypto/hkdf"
	"crypto/rand"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"io"
	"strings"
)

// What a laptop is sent is sealed with the code, which itself never travels: on plain
// http PINs could be worked out from a copy that anyone on the Wi-Fi took down.
//
// A sealed stream is a salt and then pieces of pieceBytes, the last one shorter, each
// under AES-256-GCM with a key of its own stream (HKDF-SHA-256, RFC 5869). The nonce
// counts the pieces and says which is the last, so that none can be left out, moved or
// cut off.
const (
	saltBytes  = 32
	pieceBytes = 64 << 10
)

// ErrSeal is in the error of a stream that was not sealed with this code and for this
// purpose, or that was changed or cut off since.
var ErrSeal = errors.New("it is not sealed with this code, or was changed on the way")

// AskWith is what a laptop with the code asks with, in place of the code.
func AskWith(code string) string { return hex.EncodeToString(keyFrom(code, nil, "ask for copies")) }

// keyFrom derives a key from a code as people type it.
func keyFrom(code string, salt []byte, purpose string) []byte {
	plain := strings.NewReplacer("-", "", " ", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(code))
	key, err := hkdf.Key(sha256.New, []byte(plain), salt, purpose, 32)
	if err != nil {
		panic("copies: derive key: " + err.Error()) // it asks for too many bytes
	}
	return key
}

func aead(code string, salt []byte, about string) cipher.AEAD {
	block, err := aes.NewCipher(keyFrom(code, salt, "copy "+about))
	if err != nil {
		panic("copies: " + err.Error()) // the key has the wrong length
	}
	gcm, err := cipher.NewGCM(block)
	if err != nil {
		panic("copies: " + err.Error())
	}
	return gcm
}

// nonce is the number of a piece, and whether it is the last.
func nonce(n uint64, last bool) []byte {
	b := make([]byte, 12)
	binary.BigEndian.PutUint64(b, n)
	if last {
		b[11] = 1
	}
	return b
}

// Seal writes all of r to w, compressed and sealed with the code, for what about says and
// nothing else.
func Seal(w io.Writer, r io.Reader, code, about string) error {
	salt := make([]byte, saltBytes)
	rand.Read(salt) // never fails (crypto/rand)
	if _, err := w.Write(salt); err != nil {
		return err
	}
	small, full := io.Pipe()
	defer small.Close() // which ends the goroutine
	go func() {
		z, err := gzip.NewWriterLevel(full, gzip.BestSpeed)
		if err == nil {
			_, err = io.Copy(z, r)
			err = errors.Join(err, z.Close())
		}
		full.CloseWithError(err)
	}()
	gcm := aead(code, salt, about)
	return pieces(small, pieceBytes, func(n uint64, piece []byte, last bool) error {
		_, err := w.Write(gcm.Seal(nil, nonce(n, last), piece, nil))
		return err
	})
}

// Unseal writes what Seal read to w. What it wrote counts only if it returns nil.
func Unseal(w io.Writer, r io.Reader, code, about string) error {
	salt := make([]byte, saltBytes)
	if _, err := io.ReadFull(r, salt); err != nil {
		return ErrSeal
	}
	small, full := io.Pipe()
	written := make(chan error, 1)
	go func() { // ends when full is closed, waited for below
		z, err := gzip.NewReader(small)
		if err == nil {
			_, err = io.Copy(w, z)
		}
		small.CloseWithError(err)
		written <- err
	}()
	gcm := aead(code, salt, about)
	err := pieces(r, pieceBytes+gcm.Overhead(), func(n uint64, piece []byte, last bool) error {
		plain, err := gcm.Open(nil, nonce(n, last), piece, nil)
		if err != nil {
			return ErrSeal
		}
		_, err = full.Write(plain)
		return err
	})
	full.CloseWithError(err)
	return cmp.Or(err, <-written)
}

// pieces hands out r in pieces of size bytes, and says which is the last: it may be
// shorter, or empty.
func pieces(r io.Reader, size int, use func(n uint64, piece []byte, last bool) error) error {
	ahead := bufio.NewReaderSize(r, size+1)
	piece := make([]byte, size)
	for n := uint64(0); ; n++ {
		got, err := io.ReadFull(ahead, piece)
		if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
			return err
		}
		_, err = ahead.Peek(1)
		last := err == io.EOF
		if err != nil && !last {
			return err
		}
		if err := use(n, piece[:got], last); err != nil || last {
			return err
		}
	}
}
