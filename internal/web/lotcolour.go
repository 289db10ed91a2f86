package web

import (
	"fmt"
	"html/template"
	"strings"

	"hopperful/answer"
	"hopperful/plan/lineage"
	"hopperful/quantity"
	"hopperful/shop"
)

// lotColourView is what a lot looks like, on its page.
type lotColourView struct {
	Lot     shop.LotID
	Answer  string
	Known   bool
	Strip   []stripRow
	Parts   []colourPartRow // more than one lot stands behind it
	Ends    []colourRow
	Figures []figView
	Learned []string
	Notes   []string
	Missing []link // lots to take the colour of
	Take    link
}

// colourRow is one colour in words and numbers.
type colourRow struct {
	What   string
	Name   string
	Code   string
	Lab    string
	Swatch template.HTML
	More   string
}

// colourPartRow is a lot whose colour stands behind it.
type colourPartRow struct {
	colourRow
	Lot   shop.LotID
	Share string
	Basis string
	Tints string
	From  string
}

// viewColourOf shows a lot's colour.
func (d *desk) viewColourOf(l *shop.Lot) (lotColourView, []answer.Finding, error) {
	v := lotColourView{Lot: l.ID, Take: takeColour(l.ID, "Take its colour")}
	c, err := d.palette.colourOf(d.state, l.ID)
	if err != nil {
		return v, nil, err
	}
	v.Answer, v.Learned, v.Notes = c.Answer, c.Learned, c.Notes
	if c.Mixed == nil {
		for _, id := range c.Missing {
			if id != l.ID {
				v.Missing = append(v.Missing, takeColour(id, "Take the colour of "+string(id)))
			}
		}
		return v, nil, nil
	}
	v.Known = true
	v.Ends = endsOf(c)
	if len(c.Parts) > 1 {
		for _, p := range c.Parts {
			v.Parts = append(v.Parts, partRow(p))
		}
	}
	v.Strip = drawStrip(c)
	v.Figures = append(v.Figures, viewFigure(*c.Doubt))
	if c.Apart.Value >= seenApart {
		v.Figures = append(v.Figures, viewFigure(*c.Apart))
	}
	if c.Off != nil {
		v.Figures = append(v.Figures, viewFigure(*c.Off))
	}
	return v, c.Doubts, nil
}

// seenApart is the colour difference from which two colours side by side are
// told apart (common practice, no source).
const seenApart = 1

func takeColour(id shop.LotID, say string) link {
	return link{"/record/colour?lot=" + string(id), say}
}

// endsOf are the colours there are, the melt first. Where nobody can tell both
// ends apart they are one.
func endsOf(c lineage.LotColour) []colourRow {
	var rows []colourRow
	add := func(what string, s *lineage.Shade, more string) {
		if s != nil {
			rows = append(rows, shadeRow(what, *s, more))
		}
	}
	seen := ""
	if c.Seen != nil {
		seen = "as taken: " + string(c.Seen.How)
	}
	if c.Apart.Value < seenApart {
		add("this lot", c.Mixed, seen)
		add("forecast by its parents", c.Forecast, "")
		return rows
	}
	side := ""
	if c.Seen != nil && !c.Seen.Melted {
		seen, side = "", seen
	}
	add("melted well", c.Mixed, seen)
	add("side by side", c.Unmixed, side)
	switch {
	case c.Forecast == nil:
	case c.Seen.Melted:
		add("melted well, forecast by its parents", c.Forecast, "")
	default:
		add("side by side, forecast by its parents", c.Forecast, "")
	}
	return rows
}

func shadeRow(what string, s lineage.Shade, more string) colourRow {
	row := colourRow{What: what, Name: s.Name, Code: s.RGB, Lab: fmt.Sprintf("L* %s, a* %s, b* %s", one(s.Lab[0]), one(s.Lab[1]), one(s.Lab[2])), Swatch: drawSwatch(s.RGB), More: more}
	if !s.Exact {
		row.More = strings.TrimPrefix(row.More+"; no screen shows it exactly", "; ")
	}
	return row
}

// one shows a coordinate with one decimal.
func one(v float64) string { return strings.Replace(fmt.Sprintf("%.1f", v), "-0.0", "0.0", 1) }

func partRow(p lineage.ColourPart) colourPartRow {
	row := colourPartRow{colourRow: shadeRow("", p.Shade, ""), Lot: p.Lot, Share: quantity.Share.Rough(p.Share), Basis: string(p.Basis), Tints: p.Scatter.Shown(), From: "nothing yet"}
	if r := p.Scatter.ShownRange(); r != "" {
		row.Tints += " (" + r + ")"
	}
	switch n := p.Scatter.Runs; {
	case n == 1:
		row.From = "1 melted mix"
	case n > 1:
		row.From = fmt.Sprintf("%d melted mixes", n)
	}
	return row
}

// drawSwatch is a colour as a small square; its name and code stand beside it.
func drawSwatch(code string) template.HTML {
	c, _ := parseHex(code)
	return template.HTML(fmt.Sprintf(`<svg class="swatch" viewBox="0 0 10 10" aria-hidden="true"><rect width="10" height="10" fill="%s"/></svg>`, c))
}

// stripRow is a row of the colour strip with its words. The table says the same.
type stripRow struct {
	Say     string
	Picture template.HTML
}

// The size of a row.
const (
	stripWide = 600.0
	stripTall = 44.0
)

// drawStrip draws the lots behind a colour by their share, below it what becomes
// of them, melted well and side by side, and what was seen beside what had been
// forecast.
func drawStrip(c lineage.LotColour) []stripRow {
	var rows []stripRow
	if len(c.Parts) > 1 {
		var codes, words []string
		var shares []float64
		sum := 0.0
		for _, p := range c.Parts {
			codes, shares, sum = append(codes, p.Shade.RGB), append(shares, p.Share), sum+p.Share
			words = append(words, quantity.Share.Rough(p.Share)+" "+string(p.Lot))
		}
		for i := range shares {
			shares[i] /= sum
		}
		if len(words) > 4 {
			words = append(words[:3], fmt.Sprintf("%d more", len(words)-3))
		}
		rows = append(rows, stripRow{"Made of " + answer.List(words), drawRow(codes, shares)})
	}
	half := []float64{0.5, 0.5}
	if c.Apart.Value < seenApart {
		rows = append(rows, stripRow{"It looks " + named(c.Mixed), drawRow([]string{c.Mixed.RGB}, []float64{1})})
	} else {
		rows = append(rows, stripRow{"Left melted well, " + named(c.Mixed) + "; right side by side, " + named(c.Unmixed), drawRow([]string{c.Mixed.RGB, c.Unmixed.RGB}, half)})
	}
	if c.Forecast != nil {
		rows = append(rows, stripRow{"Left as seen, " + named(&c.Seen.Shade) + "; right as its parents forecast, " + named(c.Forecast),
			drawRow([]string{c.Seen.RGB, c.Forecast.RGB}, half)})
	}
	return rows
}

func named(s *lineage.Shade) string { return s.Name + " (" + s.RGB + ")" }

// drawRow draws colours beside each other by their share.
func drawRow(codes []string, shares []float64) template.HTML {
	var out strings.Builder
	x := 0.0
	for i, code := range codes {
		fill, _ := parseHex(code)
		w := stripWide * shares[i]
		fmt.Fprintf(&out, `<rect x="%.1f" y="0" width="%.1f" height="%.0f" fill="%s"/>`, x, w, stripTall, fill)
		x += w
	}
	return template.HTML(fmt.Sprintf(`<svg class="colour-strip" viewBox="0 0 %.0f %.0f" preserveAspectRatio="none" aria-hidden="true">%s</svg>`, stripWide, stripTall, out.String()))
}
