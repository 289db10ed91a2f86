package label

import (
	"bytes"
	"fmt"
	"strings"
)

// SVG draws one page as a picture.
func (s Sheets) SVG(n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="label-paper" width="%gmm" height="%gmm" viewBox="0 0 %g %g"><rect width="%g" height="%g" fill="#fff"/>`, s.size.PageW, s.size.PageH, s.size.PageW, s.size.PageH, s.size.PageW, s.size.PageH)
	for _, x := range s.pages[n].boxes {
		fmt.Fprintf(&b, `<rect x="%.3f" y="%.3f" width="%.3f" height="%.3f" fill="#000" shape-rendering="crispEdges"/>`, x.x, x.y, x.w, x.h)
	}
	for _, w := range s.pages[n].words {
		weight := "400"
		if w.bold {
			weight = "700"
		}
		fmt.Fprintf(&b, `<text x="%.2f" y="%.2f" font-size="%.2f" font-family="sans-serif" font-weight="%s" fill="#000">%s</text>`, w.x, w.y, w.size, weight, escaped.Replace(w.text))
	}
	return b.String() + "</svg>\n"
}

var escaped = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

// PDF draws all pages as a document (ISO 32000-1) that keeps its size on paper.
func (s Sheets) PDF() []byte {
	const pt = 72 / 25.4
	var kids []string
	objects := []string{"", "", // catalogue and pages, once their number is known
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold /Encoding /WinAnsiEncoding >>"}
	for _, p := range s.pages {
		var c strings.Builder
		c.WriteString("0 g\n")
		for _, x := range p.boxes {
			fmt.Fprintf(&c, "%.3f %.3f %.3f %.3f re f\n", x.x*pt, (s.size.PageH-x.y-x.h)*pt, x.w*pt, x.h*pt)
		}
		for _, w := range p.words {
			font := "F1"
			if w.bold {
				font = "F2"
			}
			fmt.Fprintf(&c, "BT /%s %.2f Tf %.2f %.2f Td (%s) Tj ET\n", font, w.size*pt, w.x*pt, (s.size.PageH-w.y)*pt, latin(w.text))
		}
		at := len(objects) + 1
		kids = append(kids, fmt.Sprintf("%d 0 R", at))
		objects = append(objects,
			fmt.Sprintf("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %.3f %.3f] /Resources << /Font << /F1 3 0 R /F2 4 0 R >> >> /Contents %d 0 R >>", s.size.PageW*pt, s.size.PageH*pt, at+1),
			fmt.Sprintf("<< /Length %d >>\nstream\n%sendstream", c.Len(), c.String()))
	}
	objects[0] = "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>"
	objects[1] = fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d >>", strings.Join(kids, " "), len(kids))
	var b bytes.Buffer
	b.WriteString("%PDF-1.4\n")
	var at []int
	for i, object := range objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, object)
	}
	from := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, from)
	return b.Bytes()
}

// latin writes text in the Windows Latin encoding that every PDF reader has.
func latin(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '(' || r == ')' || r == '\\':
			b.WriteString(`\` + string(r))
		case r == '…':
			b.WriteByte(0x85)
		case r == '–' || r == '−':
			b.WriteByte(0x96)
		case r == '\u202f' || r == '\u2009':
			b.WriteByte(' ')
		case r < 0x20 || r > 0xff:
			b.WriteByte('?')
		default:
			b.WriteByte(byte(r))
		}
	}
	return b.String()
}
