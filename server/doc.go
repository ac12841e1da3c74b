// Package server is the board's outside: HTTP, the WebSocket, sessions, joining.
// It holds no rules of the pit; handlers decode, ask the desk, encode.
//
// # A request's way
//
// Every answer carries the security headers. A request passes, in this order: the
// host names the board answers to, the cross-origin guard, the type and size of
// its body, and then the route's own condition (routes.go): open to anyone, a
// session, a role, or the administrator's token.
//
// # Sessions
//
// A device joins with a role's code, and under a name with that person's PIN. Its
// token is in a cookie, for scripts also in the answer; only the token's hash is
// kept. What a session may do is asked again at each command: the role is the one
// that the roster gives the person now.
//
// # Goroutines
//
// A socket's handler reads and starts one writer, which ends when the socket's
// follower does; the handler waits for it. [Server.Close] ends all sockets and
// waits for their handlers.
package server
