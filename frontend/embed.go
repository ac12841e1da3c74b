// Package frontend holds the screens: HTML, style sheets and ES modules that a browser
// takes as they are, and joined when the board starts, so that a slow phone asks for few.
package frontend

import "embed"

// Files holds the sources by their path from the root, and the notice of the vendored
// library.
//
//go:embed index.html icon.svg *.js */*.js */*.css vendor/preact.mjs vendor/LICENSE
var Files embed.FS
