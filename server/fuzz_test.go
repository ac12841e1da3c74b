package server

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// Whatever a device sends as a command is either done or refused in words, and
// the desk goes on.
func FuzzCommand(f *testing.F) {
	p := newPit(f)
	ben := p.crew()
	id := p.newID().String()
	for _, body := range []string{
		`{"id":"` + id + `","do":"note.add","with":{"text":"x"}}`,
		`{"id":"` + id + `","do":"robot.doubt","with":{"robot":"` + string(p.moth) + `","why":"smoke"},"seen":{"power/` + string(p.moth) + `":3},"at":"2026-05-09T09:00:00.000Z"}`,
		`{"id":"` + id + `","do":"tag.on","with":{"robot":"` + string(p.moth) + `"},"pins":[{"person":"` + string(p.ben) + `","pin":"271828"}]}`,
		`{"id":"` + id + `","do":"undo","with":{"command":"` + id + `"}}`,
		`{"id":"","do":"","with":null}`, `[]`, `{"id":1}`, "{", "", `{"do":"note.add","do":"note.add"}`, "\xff\xfe{}",
	} {
		f.Add([]byte(body))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		p.clock.pass(time.Second)
		r := httptest.NewRequest(http.MethodPost, "/api/do", bytes.NewReader(body))
		r.Host = "127.0.0.1"
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Authorization", "Bearer "+ben.token)
		w := httptest.NewRecorder()
		before := p.d.View().State.Rev
		p.s.handler.ServeHTTP(w, r)
		if w.Code == http.StatusOK {
			require.LessOrEqual(t, decode[DoneAnswer](t, w.Body.Bytes()).Rev, p.d.View().State.Rev)
			return
		}
		refusal := decode[RefusedAnswer](t, w.Body.Bytes()).Refusal
		require.NotNil(t, refusal)
		require.NotEmpty(t, refusal.Sentence)
		require.Equal(t, statusOf(refusal.Code), w.Code)
		require.Less(t, w.Code, 500)
		require.Equal(t, before, p.d.View().State.Rev)
		require.NotContains(t, w.Body.String(), "fault of its own")
	})
}

// What a socket hears is one message it can write again, or a refusal.
func FuzzResume(f *testing.F) {
	for _, text := range []string{
		`{"t":"resume","epoch":"","rev":0}`, `{"t":"resume","epoch":"5b2c8f2e-0000-4000-8000-000000000000","rev":18446744073709551615}`,
		`{"t":"resume","rev":-1}`, `{"t":"resume","epoch":1}`, `{"t":"resume","epoch":"","rev":0,"more":1}`, `{"t":"resume","t":"echo"}`,
		`{"t":"echo","sent":1e308}`, `{"t":"echo","sent":1e400}`, `{"t":"do","id":"x"}`, `{"t":"hello"}`, `{}`, `null`, ``,
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		h := hear(text)
		if h.refusal != nil {
			require.NotEmpty(t, h.refusal.Sentence)
			require.Equal(t, board.CodeMalformed, h.refusal.Code)
			return
		}
		var m any
		switch {
		case h.resume != nil:
			require.Equal(t, "resume", h.resume.T)
			m = h.resume
		case h.echo != nil:
			require.Equal(t, "echo", h.echo.T)
			m = h.echo
		default:
			require.NotNil(t, h.ask)
			m = DoMessage{T: "do", Ask: *h.ask}
		}
		b, err := json.Marshal(m)
		require.NoError(t, err)
		require.Nil(t, hear(b).refusal)
	})
}

// A Host is let in only if it is, port aside, an address or a name of the list.
// This says so in another way than the guard does.
func FuzzHost(f *testing.F) {
	for _, host := range []string{
		"localhost", "localhost:8080", "LOCALHOST.", "127.0.0.1:80", "[::1]:8080", "[fe80::1%25eth0]", "example.com", "localhost.example", "a:b:c", "[localhost]", "", ":", "1.2.3.4.5", "١.١.١.١",
	} {
		f.Add(host)
	}
	list := hostList{"localhost": true, "pit-laptop.local": true}
	f.Fuzz(func(t *testing.T, host string) {
		if !list.allows(host) {
			return
		}
		var could []string
		for _, h := range []string{host, strings.TrimRight(host, "0123456789")} {
			h = strings.TrimSuffix(h, ":")
			could = append(could, h, strings.TrimSuffix(strings.ToLower(h), "."))
			if strings.HasPrefix(h, "[") && strings.HasSuffix(h, "]") {
				could = append(could, h[1:len(h)-1])
			}
		}
		known := slices.ContainsFunc(could, func(h string) bool {
			_, err := netip.ParseAddr(h)
			return err == nil || h == "localhost" || h == "pit-laptop.local"
		})
		require.True(t, known, "%q", host)
	})
}
