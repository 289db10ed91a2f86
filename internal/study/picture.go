package study

import (
	"fmt"
	"strings"
)

// The picture: two frames side by side, errors left, coverage right.
const (
	frameWidth, frameHeight = 300.0, 200.0
	margin, between         = 56.0, 76.0
)

// frame places points of one diagram.
type frame struct {
	left float64 // of the frame in the picture
	n    int     // points along x
	top  float64 // value at the upper edge
}

// at is the place of point i of value v.
func (f frame) at(i int, v float64) (x, y float64) {
	x = f.left + frameWidth*(float64(i)+0.5)/float64(f.n)
	return x, margin + frameHeight*(1-v/f.top)
}

// line draws a value a point.
func (f frame) line(b *strings.Builder, values []float64, colour, dash, name string) {
	fmt.Fprintf(b, `<polyline fill="none" stroke="%s" stroke-width="2"%s points="`, colour, dash)
	for i, v := range values {
		x, y := f.at(i, v)
		fmt.Fprintf(b, "%.1f,%.1f ", x, y)
	}
	b.WriteString("\"/>\n")
	x, y := f.at(len(values)-1, values[len(values)-1])
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" fill="%s">%s</text>`+"\n", x+6, y+4, colour, name)
}

// Picture draws the results as SVG.
func Picture(results []Result) string {
	var b strings.Builder
	width := 2*margin + 2*frameWidth + between + 40
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="sans-serif" font-size="11">`+"\n", width, frameHeight+2*margin)
	b.WriteString("<title>Errors of forecasts and coverage of ranges by number of records</title>\n")
	fmt.Fprintf(&b, `<rect width="%.0f" height="%.0f" fill="#fff"/>`+"\n", width, frameHeight+2*margin)
	column := func(each func(Result) float64) []float64 {
		all := make([]float64, len(results))
		for i, r := range results {
			all[i] = each(r)
		}
		return all
	}
	product, rise := column(func(r Result) float64 { return 100 * r.Product }), column(func(r Result) float64 { return 10 * r.Rise })
	errors := frame{left: margin, n: len(results), top: 1.1 * max(product[0], rise[0], 1)}
	errors.axes(&b, results, "median error of new charges: product %, rise 0.1 K", errors.top/4)
	errors.line(&b, product, "#9a3412", "", "product")
	errors.line(&b, rise, "#1d4ed8", ` stroke-dasharray="6 3"`, "rise")
	covers := frame{left: margin + frameWidth + between, n: len(results), top: 100}
	covers.axes(&b, results, "truths inside the 50, 80 and 95 % ranges, %", 25)
	for s, share := range Shares {
		_, y := covers.at(0, 100*share)
		fmt.Fprintf(&b, `<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="#9ca3af" stroke-dasharray="2 3"/>`+"\n", covers.left, y, covers.left+frameWidth, y)
		covers.line(&b, column(func(r Result) float64 { return 100 * r.Covers[s] }), "#9a3412", "", "")
		covers.line(&b, column(func(r Result) float64 { return 100 * r.CoversBook[s] }), "#1d4ed8", ` stroke-dasharray="6 3"`, "")
	}
	fmt.Fprintf(&b, `<text x="%.1f" y="%.1f"><tspan fill="#9a3412">solid: forecasts</tspan> <tspan fill="#1d4ed8">dashed: parameters</tspan> <tspan fill="#6b7280">dotted: as stated</tspan></text>`+"\n", covers.left, margin+frameHeight+44)
	b.WriteString("</svg>\n")
	return b.String()
}

// axes draws a diagram's frame, its title and its numbers.
func (f frame) axes(b *strings.Builder, results []Result, title string, step float64) {
	fmt.Fprintf(b, `<rect x="%.1f" y="%.1f" width="%.0f" height="%.0f" fill="none" stroke="#374151"/>`+"\n", f.left, margin, frameWidth, frameHeight)
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-weight="bold">%s</text>`+"\n", f.left, margin-14, title)
	for i, r := range results {
		x, _ := f.at(i, 0)
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle">%d records</text>`+"\n", x, margin+frameHeight+18, r.Records)
	}
	for v := 0.0; v <= f.top*1.0001; v += step {
		_, y := f.at(0, v)
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="end">%.0f</text>`+"\n", f.left-6, y+4, v)
	}
}
