package server

import (
	"errors"
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPagesComeTypedPackedAndByTheirHash(t *testing.T) {
	p := newPit(t)
	for path, typ := range map[string]string{
		"/": "text/html; charset=utf-8", "/index.html": "text/html; charset=utf-8", "/app.js": "text/javascript; charset=utf-8",
		"/vendor/preact.mjs": "text/javascript; charset=utf-8", "/core/base.css": "text/css; charset=utf-8", "/icon.svg": "image/svg+xml",
		"/vendor/LICENSE": "text/plain; charset=utf-8",
	} {
		a := p.nobody().get(path).ok()
		require.Equal(t, typ, a.header.Get("Content-Type"), path)
		require.Equal(t, "no-cache", a.header.Get("Cache-Control"), path)
		require.Equal(t, "Accept-Encoding", a.header.Get("Vary"), path)
		require.NotEmpty(t, a.header.Get("ETag"), path)
	}
	plain := p.nobody().get("/app.js").ok()
	require.Equal(t, pages["app.js"], plain.body)
	packed := p.nobody().get("/app.js", header("Accept-Encoding", "gzip")).ok()
	require.Equal(t, "gzip", packed.header.Get("Content-Encoding"))
	require.Equal(t, plain.body, unpack(t, packed.body))
	require.NotEqual(t, plain.header.Get("ETag"), packed.header.Get("ETag"))
	small := p.nobody().get("/core/base.css", header("Accept-Encoding", "gzip")).ok()
	require.Empty(t, small.header.Get("Content-Encoding"), "what packing makes larger is not packed")

	head := p.nobody().ask("HEAD", "/app.js", nil).ok()
	require.Empty(t, head.body)
}

func TestAPageThatIsKnownIsNotSentAgain(t *testing.T) {
	p := newPit(t)
	etag := p.nobody().get("/app.js").header.Get("ETag")
	for _, known := range []string{etag, `"other", ` + etag, "W/" + etag, "*"} {
		a := p.nobody().get("/app.js", header("If-None-Match", known))
		require.Equal(t, http.StatusNotModified, a.status, known)
		require.Empty(t, a.body)
		require.Equal(t, etag, a.header.Get("ETag"))
	}
	p.nobody().get("/app.js", header("If-None-Match", `"other"`)).ok()
}

func TestAPageIsKeptWhoseNameChangesWithIt(t *testing.T) {
	p := newPit(t)
	require.Equal(t, "max-age=31536000, immutable", p.nobody().get("/made/app-ABC.js").ok().header.Get("Cache-Control"))
}

func TestTheFirstPageIsTheRolesOwn(t *testing.T) {
	p := newPit(t)
	require.Equal(t, pages["home/captain.html"], p.captain().get("/").ok().body)
	for _, c := range []device{p.crew(), p.nobody()} {
		require.Equal(t, pages["index.html"], c.get("/").ok().body)
	}
	known := p.nobody().get("/").header.Get("ETag")
	require.Equal(t, pages["home/captain.html"], p.captain().get("/", header("If-None-Match", known)).ok().body, "after joining on the same device")
}

func TestPagesNeedAnIndex(t *testing.T) {
	_, err := readAssets(func() (map[string][]byte, error) { return map[string][]byte{"app.js": nil}, nil })
	require.ErrorContains(t, err, "no index.html")
	_, err = readAssets(func() (map[string][]byte, error) { return nil, errors.New("they do not hold together") })
	require.ErrorContains(t, err, "they do not hold together")
}
