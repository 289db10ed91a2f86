// Package pages holds templates: the page of each address, joined with the layout and all parts.
package pages

import "embed"

// Files are the templates.
//
//go:embed *.html
var Files embed.FS
