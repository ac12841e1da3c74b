package server

import (
	"errors"
	"mime"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"mendline/board"
)

// Bytes of a request's body.
const (
	bodyMost  = 64 << 10
	photoMost = 13 << 20 // more than the photo store takes, so that it can say so
	loadMost  = 16 << 20
)

// policy is the Content-Security-Policy: our own files and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; " +
	"manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; " +
	"require-trusted-types-for 'script'; trusted-types 'none'"

// guarded puts the guards in front of all routes.
func (s *Server) guarded(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Permissions-Policy", "geolocation=(), camera=(), microphone=()")
		h.Set("Cache-Control", "no-store")
		if !s.hosts.allows(r.Host) {
			refuseWith(w, http.StatusMisdirectedRequest, forbidden("This board does not answer to the name in the address. Use the address on its start screen, or start it with -host and this name."))
			return
		}
		if err := cross.Check(r); err != nil {
			refuse(w, foreignPage())
			return
		}
		if refusal := limitBody(w, r); refusal != nil {
			refuse(w, refusal)
			return
		}
		if refusal := wrongType(r); refusal != nil {
			refuseWith(w, http.StatusUnsupportedMediaType, refusal)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// limitBody bounds every body. One that says it is larger is refused before it is
// sent, if its sender waits for that.
func limitBody(w http.ResponseWriter, r *http.Request) *board.Refusal {
	most := int64(bodyMost)
	switch r.URL.Path {
	case "/api/photos":
		most = photoMost
	case "/admin/load", "/api/team":
		most = loadMost
	}
	if r.ContentLength > most && r.Header.Get("Expect") != "" {
		return tooLarge()
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	return nil
}

func tooLarge() *board.Refusal {
	return &board.Refusal{Code: codeTooBig, Sentence: "This is larger than the board reads at once. Send less."}
}

// wrongType asks what changes something for the type that its route takes, which
// a page of another origin cannot give without asking first, but for files: these have
// the session's check of their origin alone.
func wrongType(r *http.Request) *board.Refusal {
	if safe(r.Method) {
		return nil
	}
	want := "application/json"
	typ, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch r.URL.Path {
	case "/api/photos":
		want = "image/"
	case "/api/team":
		if want = filesType; typ == zipType {
			want = zipType
		}
	}
	if err != nil || !strings.HasPrefix(typ, want) {
		return &board.Refusal{Code: board.CodeMalformed, Field: "Content-Type", Sentence: "Send this with Content-Type " + strings.TrimSuffix(want, "/") + "."}
	}
	return nil
}

func safe(method string) bool {
	return method == http.MethodGet || method == http.MethodHead || method == http.MethodOptions
}

// hostList holds the names, in lower case, that the board answers to besides IP
// addresses. A page elsewhere can make a name of its own lead here, but not an
// address.
type hostList map[string]bool

// add takes a name with or without a port.
func (l hostList) add(name string) {
	if name = strings.ToLower(strings.TrimSuffix(hostOf(strings.TrimSpace(name)), ".")); name != "" {
		l[name] = true
	}
}

func (l hostList) allows(hostport string) bool {
	host := hostOf(hostport)
	if _, err := netip.ParseAddr(host); err == nil {
		return true
	}
	if strings.HasPrefix(hostport, "[") {
		return false // brackets are for addresses
	}
	return l[strings.ToLower(strings.TrimSuffix(host, "."))]
}

// hostOf takes port and brackets off.
func hostOf(hostport string) string {
	if host, port, err := net.SplitHostPort(hostport); err == nil {
		if strings.Trim(port, "0123456789") != "" {
			return ""
		}
		return host
	}
	if strings.HasPrefix(hostport, "[") && strings.HasSuffix(hostport, "]") {
		return hostport[1 : len(hostport)-1]
	}
	if strings.ContainsAny(hostport, ":[]") {
		return ""
	}
	return hostport
}

// sameOrigin tells whether the request says that it comes from a page of the
// address it goes to, port and all. One that says nothing does not.
func sameOrigin(r *http.Request) bool {
	u, err := url.Parse(r.Header.Get("Origin"))
	if err != nil || (u.Scheme != "http" && u.Scheme != "https") {
		return false
	}
	return u.Host != "" && strings.EqualFold(u.Host, r.Host)
}

func foreignPage() *board.Refusal {
	return forbidden("This request comes from another page than the board's own. Open the board's own address and do it there; a script gives its token as a bearer.")
}

// isLoopback tells whether the request came from this machine.
func isLoopback(r *http.Request) bool {
	return addressOf(r.RemoteAddr).IsLoopback()
}

// addressOf is the address without its port, invalid where there is none.
func addressOf(remote string) netip.Addr {
	ap, err := netip.ParseAddrPort(remote)
	if err != nil {
		return netip.Addr{}
	}
	return ap.Addr().Unmap()
}

func tooBig(err error) bool {
	var most *http.MaxBytesError
	return errors.As(err, &most)
}
