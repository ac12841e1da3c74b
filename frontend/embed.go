// Package frontend holds the screens: HTML, style sheets and ES modules, as they
// are served. Nothing is built.
package frontend

import "embed"

// Files holds what a browser may ask for, by its path from the root, and the
// notice of the vendored library.
//
//go:embed index.html icon.svg *.js */*.js */*.css vendor/preact.mjs vendor/LICENSE
var Files embed.FS
