package main

import (
	"fmt"
	"io"
	"net"
	"sort"
	"strings"

	"rsc.io/qr"

	"mendline/board"
	"mendline/server"
)

// banner prints where the board can be reached, the join codes, and a QR code
// that joins a phone as crew; then how the board is, and what was amiss with its file.
func banner(w io.Writer, urls []string, codes map[board.Role]string, is server.Health, recovered []string) error {
	fmt.Fprintf(w, "\nThe board is served. On a phone in the same Wi-Fi, open\n\n")
	for _, u := range urls {
		fmt.Fprintf(w, "    %s\n", u)
	}
	fmt.Fprintf(w, "\nJoin codes (captain and safety: not for posters)\n\n")
	for _, role := range []board.Role{board.RoleCaptain, board.RoleSafety, board.RoleCrew, board.RoleViewer} {
		what := ""
		if role == board.RoleViewer {
			what = "   for the wall"
		}
		fmt.Fprintf(w, "    %-8s %s%s\n", role, codes[role], what)
	}
	join := urls[0] + "/j#" + codes[board.RoleCrew]
	fmt.Fprintf(w, "\nCrew: point a phone at this, or open %s\n\n", join)
	code, err := qr.Encode(join, qr.M)
	if err != nil {
		return fmt.Errorf("draw the QR code: %w", err)
	}
	fmt.Fprint(w, halfBlocks(code))
	fmt.Fprintln(w, "\nOn plain http anyone on this Wi-Fi can read along: use a router of your own.")
	fmt.Fprintln(w, "The board senses nothing. The event's safety officer comes first. Stop with Ctrl-C.")
	fmt.Fprintf(w, "\nHow the board is: %s.\n", is.Line())
	for _, said := range recovered {
		fmt.Fprintln(w, said)
	}
	if is.Clock != "" {
		fmt.Fprintf(w, "\n%s The board goes by its own time; the captain can set it.\n", is.Clock)
	}
	return nil
}

// quietZone is the light border a QR code needs, in modules (ISO/IEC 18004).
const quietZone = 4

// halfBlocks draws a QR code with two modules to a character, dark on light
// whatever the terminal's colours are.
func halfBlocks(c *qr.Code) string {
	var b strings.Builder
	dark := func(x, y int) bool { return x >= 0 && y >= 0 && x < c.Size && y < c.Size && c.Black(x, y) }
	for y := -quietZone; y < c.Size+quietZone; y += 2 {
		b.WriteString("\x1b[30;107m")
		for x := -quietZone; x < c.Size+quietZone; x++ {
			switch top, bottom := dark(x, y), dark(x, y+1); {
			case top && bottom:
				b.WriteRune('█')
			case top:
				b.WriteRune('▀')
			case bottom:
				b.WriteRune('▄')
			default:
				b.WriteRune(' ')
			}
		}
		b.WriteString("\x1b[0m\n")
	}
	return b.String()
}

// reachable lists the addresses at which a phone can reach a listener, those of
// the LAN first.
func reachable(listen net.Addr, scheme string) ([]string, error) {
	host, port, err := net.SplitHostPort(listen.String())
	if err != nil {
		return nil, fmt.Errorf("read the address %s: %w", listen, err)
	}
	url := func(host string) string { return scheme + "://" + net.JoinHostPort(host, port) }
	if ip := net.ParseIP(host); ip != nil && !ip.IsUnspecified() {
		return []string{url(host)}, nil
	}
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return nil, fmt.Errorf("list this machine's addresses: %w", err)
	}
	var ips []net.IP
	for _, a := range addrs {
		if n, ok := a.(*net.IPNet); ok && !n.IP.IsLinkLocalUnicast() {
			ips = append(ips, n.IP)
		}
	}
	sort.SliceStable(ips, func(i, j int) bool { return rank(ips[i]) < rank(ips[j]) })
	var urls []string
	for _, ip := range ips {
		urls = append(urls, url(ip.String()))
	}
	if len(urls) == 0 {
		urls = []string{url("127.0.0.1")}
	}
	return urls, nil
}

// rank puts private IPv4 first, then other IPv4, IPv6, and this machine itself.
func rank(ip net.IP) int {
	switch {
	case ip.IsLoopback():
		return 3
	case ip.To4() == nil:
		return 2
	case !ip.IsPrivate():
		return 1
	}
	return 0
}
