package server

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/photo"
)

func picture(t testing.TB, widthPx, heightPx int, encode func(io.Writer, image.Image) error) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, widthPx, heightPx))
	m.SetGray(widthPx/2, heightPx/2, color.Gray{Y: 200})
	var b bytes.Buffer
	require.NoError(t, encode(&b, m))
	return b.Bytes()
}

func asJPEG(w io.Writer, m image.Image) error { return jpeg.Encode(w, m, nil) }

func (d device) send(body []byte, typ string) answer {
	d.p.t.Helper()
	return d.ask("POST", "/api/photos", body, header("Content-Type", typ), header("Expect", "100-continue"))
}

// A phone walks out of the network's reach, or has something more urgent to send.
func TestAPhotoThatStopsOnItsWayIsNoFaultOfTheBoard(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	good := picture(t, 2000, 1000, asJPEG)
	c, err := net.Dial("tcp", p.addr)
	require.NoError(t, err)
	_, err = fmt.Fprintf(c, "POST /api/photos HTTP/1.1\r\nHost: %s\r\nAuthorization: Bearer %s\r\nContent-Type: image/jpeg\r\nContent-Length: %d\r\n\r\n%s",
		p.addr, ben.token, len(good), good[:len(good)/2])
	require.NoError(t, err)
	require.NoError(t, c.(*net.TCPConn).CloseWrite())
	got, err := http.ReadResponse(bufio.NewReader(c), nil)
	require.NoError(t, err)
	defer got.Body.Close()
	require.Equal(t, http.StatusTooManyRequests, got.StatusCode, "a phone sends it again")
	require.NoError(t, c.Close())
	require.NotContains(t, p.log.String(), `"level":"ERROR"`)
	ben.send(good, "image/jpeg").ok()
}

func long(b []byte, bytes int) []byte { return append(slices.Clone(b), make([]byte, bytes-len(b))...) }

func TestAPhotoIsKeptAndShown(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	a := decode[photoAnswer](t, ben.send(picture(t, 2000, 1000, asJPEG), "image/jpeg").ok().body)
	for path, longest := range map[string]int{"": 1600, "/thumb": 320} {
		shown := ben.get("/photos/" + string(a.Photo) + path).ok()
		require.Equal(t, "image/jpeg", shown.header.Get("Content-Type"))
		require.Equal(t, "private, max-age=57600, immutable", shown.header.Get("Cache-Control"))
		c, err := jpeg.DecodeConfig(bytes.NewReader(shown.body))
		require.NoError(t, err)
		require.Equal(t, longest, c.Width)
	}
	p.wall().get("/photos/" + string(a.Photo)).ok()
	ben.send(picture(t, 20, 10, png.Encode), "image/png").ok()
}

func TestAPhotoThatCannotBeKeptIsRefusedInWords(t *testing.T) {
	p := newPit(t)
	ben, wall := p.crew(), p.wall()
	good := picture(t, 40, 30, asJPEG)
	for name, tt := range map[string]struct {
		bad    func() answer
		status int
		code   board.Code
	}{
		"text":        {func() answer { return ben.send([]byte("<svg/>"), "image/jpeg") }, 415, board.Code(photo.NotAPicture)},
		"cut short":   {func() answer { return ben.send(good[:len(good)/2], "image/jpeg") }, 422, board.Code(photo.CannotRead)},
		"a wide one":  {func() answer { return ben.send(picture(t, 10_001, 1, png.Encode), "image/png") }, 413, board.Code(photo.TooManyPixels)},
		"too long":    {func() answer { return ben.send(long(good, photo.BodyBytesMost+1), "image/jpeg") }, 413, codeTooBig},
		"far longer":  {func() answer { return ben.send(long(good, 2*photo.BodyBytesMost), "image/jpeg") }, 413, codeTooBig},
		"of a screen": {func() answer { return wall.send(good, "image/jpeg") }, 403, board.CodeForbidden},
		"as JSON":     {func() answer { return ben.send(good, "application/json") }, 415, board.CodeMalformed},
		"by a page elsewhere": {func() answer {
			return ben.ask("POST", "/api/photos", good, header("Content-Type", "image/jpeg"), ben.page("http://elsewhere.example"))
		}, 403, board.CodeForbidden},
	} {
		t.Run(name, func(t *testing.T) {
			tt.bad().refused(tt.status, tt.code)
			ben.send(good, "image/jpeg").ok()
		})
	}
	for path, status := range map[string]int{
		"/photos/0192f0c1-aaaa-7aaa-8aaa-aaaaaaaaaaaa": 404, "/photos/..%2f..%2fboard.db": 404, "/photos/0192F0C1-AAAA-7AAA-8AAA-AAAAAAAAAAAA": 404,
	} {
		require.Equal(t, status, ben.get(path).status, path)
	}
	require.Equal(t, http.StatusNotFound, ben.get("/photos/%2e%2e/thumb").status)
}

func TestOnlyAPhotoThatTheBoardCouldNotKeepIsLoggedAsAnError(t *testing.T) {
	for name, tt := range map[string]struct {
		err  error
		code board.Code
		logs bool
	}{
		"the phone went away while it waited": {fmt.Errorf("wait to decode photo: %w", context.Canceled), board.CodeTooMany, false},
		"the network broke off":               {fmt.Errorf("receive photo: %w", io.ErrUnexpectedEOF), board.CodeTooMany, false},
		"the disk is full":                    {fmt.Errorf("keep photo: %w", syscall.ENOSPC), board.CodeReadOnly, true},
	} {
		t.Run(name, func(t *testing.T) {
			var log bytes.Buffer
			s := &Server{log: slog.New(slog.NewTextHandler(&log, nil))}
			w := httptest.NewRecorder()
			s.refusePhoto(w, tt.err)
			require.Contains(t, w.Body.String(), `"`+string(tt.code)+`"`)
			require.Equal(t, tt.logs, strings.Contains(log.String(), "level=ERROR"))
		})
	}
}
