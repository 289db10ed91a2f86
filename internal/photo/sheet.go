package photo

import (
	"fmt"
	"strings"

	"hopperful/internal/pdf"
	"hopperful/process/grain"
)

// Ground is what grains are spread on.
type Ground string

// The grounds: white paper, a field printed black, and a window to be cut out and
// laid on black card or before a lit screen.
const (
	White  Ground = "white"
	Black  Ground = "black"
	Window Ground = "window"
)

// Grounds are all of them.
var Grounds = []Ground{White, Black, Window}

// A page of A4, and where the middle of the marks lies on it [mm].
const (
	pageW, pageH = 210.0, 297.0
	middleX      = pageW / 2
	middleY      = 92.0
)

// box is a rectangle [mm], a text, or an outline.
type box struct {
	x, y, w, h float64
	shade      float64 // 0 black … 1 white
	outline    bool
	ink        [3]uint8 // instead of a shade, where it is not all nothing
}

// Page is a sheet ready to be drawn: boxes in millimetres from the top left, and
// what is written on it.
type Page struct {
	boxes []box
	words []words
}

type words struct {
	x, y, size float64
	text       string
}

// patchInks are what a printer mixes colours from, pale enough to be printed by any: in a
// picture they show a cast of the light.
var patchInks = [3][3]uint8{{0x30, 0xa0, 0xd0}, {0xd0, 0x40, 0x90}, {0xe8, 0xd0, 0x30}}

// fill is a box's colour.
func (x box) fill() [3]uint8 {
	if x.ink != [3]uint8{} {
		return x.ink
	}
	s := uint8(x.shade*255 + 0.5)
	return [3]uint8{s, s, s}
}

// Layout lays a sheet out on a page, with the lines of text below it.
func Layout(s grain.Sheet, g Ground, lineName string, below []string) Page {
	var p Page
	mm := func(m float64) float64 { return m * 1e3 }
	add := func(cx, cy, w, h, shade float64) {
		p.boxes = append(p.boxes, box{x: cx - w/2, y: cy - h/2, w: w, h: h, shade: shade})
	}
	switch g {
	case Black:
		add(middleX, middleY, mm(s.W), mm(s.H), 0)
	case Window:
		p.boxes = append(p.boxes, box{x: middleX - mm(s.W)/2, y: middleY - mm(s.H)/2, w: mm(s.W), h: mm(s.H), shade: 0.6, outline: true})
	}
	for i, m := range s.Middles() {
		x, y, side := middleX+mm(m.X), middleY+mm(m.Y), mm(s.Mark)
		add(x, y, side, side, 0)
		add(x, y, side*grain.HoleShare, side*grain.HoleShare, 1)
		if s.Dotted[i] {
			add(x, y, side*grain.DotShare, side*grain.DotShare, 0)
		}
	}
	// The line to be measured, its ends square so that a ruler has an edge to meet.
	y, long := 186.0, mm(grain.LineLength)
	add(middleX, y, long, 0.5, 0)
	p.boxes = append(p.boxes, box{x: middleX - long/2, y: y - 3, w: 0.3, h: 6}, box{x: middleX + long/2 - 0.3, y: y - 3, w: 0.3, h: 6})
	p.words = append(p.words, words{middleX - long/2 + 2, y - 2, 3.6, lineName})
	for i, shade := range []float64{0.2, 0.5, 0.8} { // the patch: greys that show a picture too dark or too light
		p.boxes = append(p.boxes, box{x: middleX + long/2 + 10 + 8*float64(i), y: y - 4, w: 8, h: 8, shade: shade})
	}
	for i, ink := range patchInks {
		p.boxes = append(p.boxes, box{x: middleX + long/2 + 10 + 8*float64(i), y: y + 4, w: 8, h: 8, ink: ink})
	}
	for i, text := range below {
		p.words = append(p.words, words{18, 202 + 6.4*float64(i), 3.8, text})
	}
	return p
}

// SVG draws the page; on paper a millimetre is a millimetre. Where the paper is too
// short for it, as between a browser's margins, its foot is cut and nothing shrinks.
func (p Page) SVG() string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="grain-paper" width="%gmm" height="%gmm" viewBox="0 0 %g %g" preserveAspectRatio="xMidYMin slice"><rect width="%g" height="%g" fill="#fff"/>`, pageW, pageH, pageW, pageH, pageW, pageH)
	for _, x := range p.boxes {
		c := x.fill()
		hex := fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2])
		if x.outline {
			fmt.Fprintf(&b, `<rect x="%.3f" y="%.3f" width="%.3f" height="%.3f" fill="none" stroke="%s" stroke-width="0.3" stroke-dasharray="3 2"/>`, x.x, x.y, x.w, x.h, hex)
			continue
		}
		fmt.Fprintf(&b, `<rect x="%.3f" y="%.3f" width="%.3f" height="%.3f" fill="%s"/>`, x.x, x.y, x.w, x.h, hex)
	}
	for _, w := range p.words {
		fmt.Fprintf(&b, `<text x="%.2f" y="%.2f" font-size="%.2f" font-family="sans-serif" fill="#000">%s</text>`, w.x, w.y, w.size, escaped.Replace(w.text))
	}
	b.WriteString("</svg>\n")
	return b.String()
}

var escaped = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

// PDF draws the page as a document of one page (ISO 32000-1), which every printer
// takes and which keeps its size.
func (p Page) PDF() []byte {
	const pt = 72 / 25.4
	var c strings.Builder
	for _, x := range p.boxes {
		if x.outline {
			fmt.Fprintf(&c, "%.3f G 0.8 w [8 6] 0 d %.3f %.3f %.3f %.3f re S\n", x.shade, x.x*pt, (pageH-x.y-x.h)*pt, x.w*pt, x.h*pt)
			continue
		}
		f := x.fill()
		fmt.Fprintf(&c, "%.3f %.3f %.3f rg %.3f %.3f %.3f %.3f re f\n", float64(f[0])/255, float64(f[1])/255, float64(f[2])/255, x.x*pt, (pageH-x.y-x.h)*pt, x.w*pt, x.h*pt)
	}
	for _, w := range p.words {
		fmt.Fprintf(&c, "BT 0 g /F1 %.2f Tf %.2f %.2f Td (%s) Tj ET\n", w.size*pt, w.x*pt, (pageH-w.y)*pt, pdf.Latin(w.text))
	}
	return pdf.Document(
		"<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		fmt.Sprintf("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %.3f %.3f] /Resources << /Font << /F1 4 0 R >> >> /Contents 5 0 R >>", pageW*pt, pageH*pt),
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
		fmt.Sprintf("<< /Length %d >>\nstream\n%sendstream", c.Len(), c.String()),
	)
}
