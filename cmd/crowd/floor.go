package main

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"
)

const pageBytes = 4096

// floor is the least that a board could do on this machine: write a command's
// bytes to a page of a file and flush it, then write them to as many sockets as
// there are devices. It opens as many bare TCP connections on loopback, each with
// a goroutine that reads; close ends them.
type floor struct {
	file *os.File
	ends []net.Conn // written to
	wg   sync.WaitGroup

	begun time.Time
	left  atomic.Int64  // readers that have not read the message yet
	last  atomic.Int64  // when the last so far had, in ns since begun
	read  chan struct{} // one slot: all have
}

func openFloor(dir string, sockets int) (*floor, error) {
	file, err := os.OpenFile(filepath.Join(dir, "floor"), os.O_CREATE|os.O_RDWR|os.O_TRUNC, 0o600)
	if err != nil {
		return nil, fmt.Errorf("open floor: %w", err)
	}
	f := &floor{file: file, begun: time.Now(), read: make(chan struct{}, 1)}
	if err := f.connect(sockets); err != nil {
		return nil, errors.Join(fmt.Errorf("open floor: %w", err), f.close())
	}
	return f, nil
}

func (f *floor) connect(sockets int) error {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	defer l.Close()
	for range sockets {
		far, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			return err
		}
		near, err := l.Accept()
		if err != nil {
			return errors.Join(err, far.Close())
		}
		f.ends = append(f.ends, near)
		f.wg.Go(func() { f.reader(far) }) // ends when close closes the other end
	}
	return nil
}

func (f *floor) close() error {
	var err error
	for _, c := range f.ends {
		err = errors.Join(err, c.Close())
	}
	f.wg.Wait()
	return errors.Join(err, f.file.Close(), os.Remove(f.file.Name()))
}

// reader reads messages, each behind its length in four bytes, about what a
// WebSocket frame has.
func (f *floor) reader(c net.Conn) {
	defer c.Close()
	var length [4]byte
	var body []byte
	for {
		if _, err := io.ReadFull(c, length[:]); err != nil {
			return
		}
		n := int(binary.BigEndian.Uint32(length[:]))
		if cap(body) < n {
			body = make([]byte, n)
		}
		if _, err := io.ReadFull(c, body[:n]); err != nil {
			return
		}
		f.hasRead(time.Since(f.begun))
	}
}

func (f *floor) hasRead(at time.Duration) {
	for {
		old := f.last.Load()
		if int64(at) <= old || f.last.CompareAndSwap(old, int64(at)) {
			break
		}
	}
	if f.left.Add(-1) == 0 {
		f.read <- struct{}{}
	}
}

// one takes one message, due at sent, and tells when it was on disk and when the
// last socket had it.
func (f *floor) one(ctx context.Context, data []byte) (flushed, everywhere time.Time, err error) {
	pages := make([]byte, (len(data)+pageBytes-1)/pageBytes*pageBytes)
	copy(pages, data)
	if _, err := f.file.WriteAt(pages, 0); err != nil {
		return flushed, everywhere, fmt.Errorf("floor: %w", err)
	}
	if err := flush(f.file); err != nil {
		return flushed, everywhere, fmt.Errorf("floor: flush: %w", err)
	}
	flushed = time.Now()
	f.left.Store(int64(len(f.ends)))
	message := append(binary.BigEndian.AppendUint32(nil, uint32(len(data))), data...)
	for _, c := range f.ends {
		if _, err := c.Write(message); err != nil {
			return flushed, everywhere, fmt.Errorf("floor: %w", err)
		}
	}
	select {
	case <-f.read:
		return flushed, f.begun.Add(time.Duration(f.last.Load())), nil
	case <-ctx.Done():
		return flushed, everywhere, context.Cause(ctx)
	}
}

// floorTimes are how long the floor took to flush, and until the last socket had
// the bytes, a value for each message.
type floorTimes struct{ flush, everywhere []time.Duration }

// replay takes messages at the moments at which they are due, counted from now;
// one that is due while another is on its way waits.
func (f *floor) replay(ctx context.Context, due []time.Duration, messages [][]byte) (floorTimes, error) {
	var t floorTimes
	pacing, stop := context.WithCancel(ctx)
	defer stop()
	type item struct {
		at   time.Time
		data []byte
	}
	queue := make(chan item, len(messages))
	go func() { // ends with the last message or by stop
		defer close(queue)
		_ = pace(pacing, due[:len(messages)], func(i int) error { // replay sees for itself that ctx ended
			queue <- item{time.Now(), messages[i]}
			return nil
		})
	}()
	for it := range queue {
		flushed, everywhere, err := f.one(ctx, it.data)
		if err != nil {
			return t, err
		}
		t.flush = append(t.flush, flushed.Sub(it.at))
		t.everywhere = append(t.everywhere, everywhere.Sub(it.at))
	}
	return t, context.Cause(ctx)
}
