package site

import (
	"fmt"
	"html/template"
	"io"
	"net/http"
	"regexp"
	"strings"

	"hopperful/internal/web/assets"
)

// A drawing made here takes its look from the page's style sheet. As a file it
// has to carry that itself, in the colours of paper.

// drawingStyle is the part of the style sheet that drawings use, its tokens
// replaced by what they stand for in the light.
var drawingStyle = func() string {
	read := func(name string) string {
		text, err := assets.Files.ReadFile("css/" + name)
		if err != nil {
			panic(err) // only a broken build can bring this about
		}
		return string(text)
	}
	light, _, _ := strings.Cut(read("1-tokens.css"), "@media")
	tokens := map[string]string{}
	for _, m := range token.FindAllStringSubmatch(light, -1) {
		tokens[m[1]] = m[2]
	}
	return tokenUse.ReplaceAllStringFunc(read("5-drawing.css"), func(use string) string {
		return tokens[tokenUse.FindStringSubmatch(use)[1]]
	})
}()

var (
	token    = regexp.MustCompile(`(--[a-z0-9-]+):\s*([^;]+);`)
	tokenUse = regexp.MustCompile(`var\((--[a-z0-9-]+)\)`)
)

// drawingFont makes letters smaller where the page's own, which are narrow, may
// not be at hand.
const drawingFont = ".kintree, .ages, .kintree .note { font-size: 11px; }"

// SendDrawing sends a drawing of a page as a file of its own.
func SendDrawing(w http.ResponseWriter, name string, drawing template.HTML) {
	Attach(w, "image/svg+xml", name)
	head, body, _ := strings.Cut(string(drawing), ">")
	head = strings.Replace(head, "<svg", `<svg xmlns="http://www.w3.org/2000/svg"`, 1)
	io.WriteString(w, head+"><style>"+template.HTMLEscapeString(drawingStyle+drawingFont)+"</style>"+
		`<rect width="100%" height="100%" fill="#ffffff"/>`+body)
}

// Attach says that what follows is a file of that name.
func Attach(w http.ResponseWriter, kind, name string) {
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
}
