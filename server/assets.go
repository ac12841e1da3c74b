package server

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"path"
	"strings"

	"mendline/board"
)

// asset is one file of the pages, ready to be sent.
type asset struct {
	contentType string
	keep        string // Cache-Control
	plain, gzip variant
}

// variant is a file's bytes with the ETag that their hash makes.
type variant struct {
	data []byte
	etag string
}

// assetTypes by the end of a name. What is not here is plain text.
var assetTypes = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".mjs":  "text/javascript; charset=utf-8",
	".svg":  "image/svg+xml",
	".png":  "image/png",
	".json": "application/json",
}

// readAssets compresses all files.
func readAssets(read func() (map[string][]byte, error)) (map[string]asset, error) {
	files, err := read()
	if err != nil {
		return nil, err
	}
	all := map[string]asset{}
	for name, data := range files {
		all["/"+name] = makeAsset(name, data)
	}
	index, ok := all["/index.html"]
	if !ok {
		return nil, errors.New("there is no index.html")
	}
	all["/"] = index
	for _, role := range []board.Role{board.RoleCaptain, board.RoleCrew, board.RoleSafety, board.RoleViewer} {
		if _, own := all[home(role)]; !own {
			all[home(role)] = index
		}
	}
	return all, nil
}

func makeAsset(name string, data []byte) asset {
	a := asset{contentType: assetTypes[path.Ext(name)], keep: "no-cache", plain: variantOf(data)}
	if a.contentType == "" {
		a.contentType = "text/plain; charset=utf-8"
	}
	if strings.HasPrefix(name, "made/") {
		a.keep = "max-age=31536000, immutable"
	}
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the level is one there is
	z.Write(data)
	z.Close()
	if b.Len() < len(data) {
		a.gzip = variantOf(b.Bytes())
	}
	return a
}

func variantOf(data []byte) variant {
	sum := sha256.Sum256(data)
	return variant{data: data, etag: `"` + hex.EncodeToString(sum[:12]) + `"`}
}

// joinPage is where a QR code leads: the first page, with the code in the
// fragment, which no browser sends.
const joinPage = "/j"

// home is the first page of a device that has joined. It loads at once what its role sees
// first.
func home(role board.Role) string { return "/home/" + string(role) + ".html" }

// page answers with a file of the pages. A browser asks each time whether its copy of a
// name that stays still holds, so that a new program shows at the next load.
func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	path := r.URL.Path
	if path == joinPage {
		path = "/"
	}
	assets, err := s.assets()
	if err != nil {
		s.log.Error("make the pages", "error", err)
		http.Error(w, "The pages of the board could not be made. The laptop's log says why.", http.StatusInternalServerError)
		return
	}
	a, ok := assets[path]
	if path == "/" {
		if by, refusal := s.caller(r); refusal == nil {
			a = assets[home(by.actor.Role)]
		}
	}
	if !ok {
		s.member(noPage)(w, r)
		return
	}
	v := a.plain
	h := w.Header()
	h.Set("Content-Type", a.contentType)
	h.Set("Cache-Control", a.keep)
	h.Set("Vary", "Accept-Encoding")
	if a.gzip.data != nil && takesGzip(r) {
		v = a.gzip
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("ETag", v.etag)
	if hasETag(r.Header.Get("If-None-Match"), v.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Write(v.data)
}

func noPage(w http.ResponseWriter, _ *http.Request, _ caller) {
	refuse(w, &board.Refusal{Code: board.CodeUnknown, Sentence: "There is nothing at this address. Go to the board's first page."})
}

// hasETag reads If-None-Match (RFC 9110 §13.1.2).
func hasETag(list, etag string) bool {
	for part := range strings.SplitSeq(list, ",") {
		part = strings.TrimPrefix(strings.TrimSpace(part), "W/")
		if part == etag || part == "*" {
			return true
		}
	}
	return false
}
