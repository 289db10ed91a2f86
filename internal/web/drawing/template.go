package drawing

import (
	"embed"
	"fmt"
	"html/template"
	"strings"
)

//go:embed *.html
var files embed.FS

// drawings are the pictures as templates: what is reckoned here is where things stand.
// px is a length on the screen to the tenth of a pixel.
var drawings = template.Must(template.New("").Funcs(template.FuncMap{
	"px": func(x float64) string { return fmt.Sprintf("%.1f", x) },
}).ParseFS(files, "*.html"))

// draw fills a drawing with its places.
func draw(name string, places any) template.HTML {
	var b strings.Builder
	if err := drawings.ExecuteTemplate(&b, name, places); err != nil {
		panic(err) // a slip in a template, found by the first test that draws it
	}
	return template.HTML(b.String())
}
