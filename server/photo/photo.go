// Package photo keeps damage photos. It takes what a phone uploads, believes
// nothing about it, and keeps two clean JPEGs: the picture and a thumbnail.
//
// An upload may cost its limits and no more: its size is checked while it
// comes in, the memory it takes before it is decoded, and one upload at a
// time is decoded. Photos are on disk before Add returns, so a command may name them.
package photo

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"image/jpeg"
	"io"
	"os"
	"runtime/debug"
	"sync"

	"github.com/google/uuid"
)

// Limits of an upload.
const (
	BodyBytesMost = 12 << 20   // bytes of the file as sent
	PixelsMost    = 25_000_000 // width × height
	SidePxMost    = 10_000     // either side

	// hugeBytes is what a decoding takes from which on its memory is given back at once.
	hugeBytes = 32 << 20

	// scansMost bounds the work a small JPEG can ask for: each scan of a
	// progressive file walks the whole picture. Encoders write about ten; the
	// limit is ours.
	scansMost = 64
)

// What is kept.
const (
	fullSidePx  = 1600 // long side of the picture
	thumbSidePx = 320  // long side of the thumbnail
	jpegQuality = 80
)

// Size chooses one of the two pictures kept of each photo.
type Size int

// The two sizes, by their long sides.
const (
	Full  Size = iota // at most 1600 px
	Thumb             // at most 320 px
)

// Photo describes a kept photo.
type Photo struct {
	ID                string // the UUID it was added under
	WidthPx, HeightPx int    // of the picture kept, upright
	SizeBytes         int64  // of the picture kept
}

// Store keeps photos in one folder. Its methods may be called at the same time.
type Store struct {
	root      *os.Root
	measuring sync.Mutex // one upload at a time is read to be measured
	turns     turns      // and one is decoded and kept
}

// OpenStore opens the folder dir, made if need be, and removes what a crash
// left half done there. One process at a time may have a folder open.
func OpenStore(dir string) (*Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("make photo folder: %w", err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("open photo folder: %w", err)
	}
	s := &Store{root: root}
	if err := s.sweep(); err != nil {
		return nil, errors.Join(fmt.Errorf("sweep photo folder %s: %w", dir, err), root.Close())
	}
	return s, nil
}

// Close closes the folder; call it when no Add is running.
func (s *Store) Close() error { return s.root.Close() }

// Add reads an upload to its end and keeps it under id, a canonical lower-case
// UUID. When it returns without error, both pictures are on disk.
//
// A photo is never replaced: where id is kept already, Add changes nothing and
// describes the photo that is there, so a phone may send again.
//
// ctx ends the wait for other uploads; reading ends when body does. The error
// is a *Refused where the sender must send something else.
func (s *Store) Add(ctx context.Context, id string, body io.Reader) (Photo, error) {
	if !validID(id) {
		return Photo{}, refuseBadID()
	}
	upload, err := s.receive(body)
	if err != nil {
		return Photo{}, err
	}
	defer s.discard(upload)
	is, err := s.measured(upload)
	if err != nil {
		return Photo{}, err
	}
	if err := s.turns.wait(ctx, is.bytes); err != nil {
		return Photo{}, fmt.Errorf("wait to decode photo %s: %w", id, err)
	}
	defer s.turns.next()
	if is.bytes > hugeBytes {
		defer debug.FreeOSMemory() // before the next one begins
	}
	return s.take(id, upload)
}

// measured reads an upload's declared size; its bytes are let go before it waits.
func (s *Store) measured(upload *os.File) (measured, error) {
	s.measuring.Lock()
	defer s.measuring.Unlock()
	file, err := whole(upload)
	if err != nil {
		return measured{}, err
	}
	return measure(file)
}

func whole(upload *os.File) ([]byte, error) {
	size, err := upload.Seek(0, io.SeekEnd)
	file := make([]byte, size)
	if err == nil {
		_, err = upload.ReadAt(file, 0)
	}
	if err != nil {
		return nil, fmt.Errorf("read upload again: %w", err)
	}
	return file, nil
}

// Open opens a kept photo for reading; the caller closes it. The error wraps
// fs.ErrNotExist where there is none of that id, and is a *Refused where id is
// not a canonical lower-case UUID.
func (s *Store) Open(id string, size Size) (*os.File, error) {
	if !validID(id) {
		return nil, refuseBadID()
	}
	file, err := s.root.Open(fileName(id, size))
	if err != nil {
		return nil, fmt.Errorf("open photo: %w", err)
	}
	return file, nil
}

// receive copies an upload to a file of its own, so that uploads that wait
// for their turn, or trickle in, take no memory.
func (s *Store) receive(body io.Reader) (*os.File, error) {
	head := make([]byte, sniffBytes)
	n, err := io.ReadFull(body, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return nil, fmt.Errorf("read upload: %w", err)
	}
	if _, refused := sniff(head[:n]); refused != nil {
		return nil, refused
	}
	upload, err := s.root.OpenFile("upload-"+rand.Text()+tempSuffix, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("make upload file: %w", err)
	}
	whole := io.MultiReader(bytes.NewReader(head[:n]), body)
	size, err := io.Copy(upload, io.LimitReader(whole, BodyBytesMost+1))
	if err != nil {
		s.discard(upload)
		return nil, fmt.Errorf("read upload: %w", err)
	}
	if size > BodyBytesMost {
		s.discard(upload)
		return nil, refuseTooBig()
	}
	return upload, nil
}

// take decodes and keeps an upload, unless id is kept already. It is the caller's turn.
func (s *Store) take(id string, upload *os.File) (Photo, error) {
	switch kept, err := s.describe(id); {
	case err == nil:
		return kept, s.syncFolder()
	case !errors.Is(err, os.ErrNotExist):
		return Photo{}, err
	}
	file, err := whole(upload)
	if err != nil {
		return Photo{}, err
	}
	picture, err := cleanse(file)
	if err != nil {
		return Photo{}, err
	}
	if err := s.keep(id, picture); err != nil {
		return Photo{}, fmt.Errorf("keep photo %s: %w", id, err)
	}
	return Photo{ID: id, WidthPx: picture.widthPx, HeightPx: picture.heightPx, SizeBytes: int64(len(picture.full))}, nil
}

// describe reads what is kept under id; fs.ErrNotExist unless both pictures are.
func (s *Store) describe(id string) (Photo, error) {
	if _, err := s.root.Stat(fileName(id, Thumb)); err != nil {
		return Photo{}, fmt.Errorf("look for thumbnail: %w", err)
	}
	file, err := s.Open(id, Full)
	if err != nil {
		return Photo{}, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return Photo{}, fmt.Errorf("read size of photo: %w", err)
	}
	config, err := jpeg.DecodeConfig(file)
	if err != nil {
		return Photo{}, fmt.Errorf("read kept photo %s: %w", id, err)
	}
	return Photo{ID: id, WidthPx: config.Width, HeightPx: config.Height, SizeBytes: info.Size()}, nil
}

// validID reports whether id is a UUID as RFC 9562 section 4 writes it, in
// lower case: so it holds no separator, and one photo has one name.
func validID(id string) bool {
	parsed, err := uuid.Parse(id)
	return err == nil && parsed.String() == id
}

func fileName(id string, size Size) string {
	if size == Thumb {
		return id + ".thumb.jpg"
	}
	return id + ".jpg"
}
