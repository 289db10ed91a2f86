package label

import (
	"fmt"
	"strings"

	"hopperful/internal/pdf"
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
			fmt.Fprintf(&c, "BT /%s %.2f Tf %.2f %.2f Td (%s) Tj ET\n", font, w.size*pt, w.x*pt, (s.size.PageH-w.y)*pt, pdf.Latin(w.text))
		}
		at := len(objects) + 1
		kids = append(kids, fmt.Sprintf("%d 0 R", at))
		objects = append(objects,
			fmt.Sprintf("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %.3f %.3f] /Resources << /Font << /F1 3 0 R /F2 4 0 R >> >> /Contents %d 0 R >>", s.size.PageW*pt, s.size.PageH*pt, at+1),
			fmt.Sprintf("<< /Length %d >>\nstream\n%sendstream", c.Len(), c.String()))
	}
	objects[0] = "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>"
	objects[1] = fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d >>", strings.Join(kids, " "), len(kids))
	return pdf.Document(objects...)
}
