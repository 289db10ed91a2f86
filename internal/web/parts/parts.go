// Package parts holds templates: what several pages are drawn with: the layout, figures, charts, forms.
package parts

import "embed"

// Files are the templates.
//
//go:embed *.html
var Files embed.FS
