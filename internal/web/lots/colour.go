package lots

import (
	"fmt"
	"html/template"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/plan/traceability"
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
	Figures []figures.View
	Learned []string
	Notes   []string
	Missing []address.Link // lots to take the colour of
	Take    address.Link
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
func viewColourOf(d *desk.Desk, l *shop.Lot) (lotColourView, []answer.Finding, error) {
	v := lotColourView{Lot: l.ID, Take: takeColour(l.ID, d.Say.Line("page.take_colour"))}
	c, err := d.Palette.ColourOf(d.State, l.ID)
	if err != nil {
		return v, nil, err
	}
	v.Answer, v.Learned, v.Notes = d.Say.Say(c.Head.Saying), d.Say.All(c.Learned), d.Say.All(c.Notes)
	if c.Mixed == nil {
		for _, id := range c.Missing {
			if id != l.ID {
				v.Missing = append(v.Missing, takeColour(id, d.Say.Line("do.take_colour", fact.Lot("lot", string(id), ""))))
			}
		}
		return v, nil, nil
	}
	v.Known = true
	v.Ends = endsOf(d.Say, c)
	if len(c.Parts) > 1 {
		for _, p := range c.Parts {
			v.Parts = append(v.Parts, partRow(d.Say, p))
		}
	}
	v.Strip = drawStrip(d.Say, c)
	v.Figures = append(v.Figures, figures.Of(d.Say, *c.Doubt))
	if c.Apart.Value >= seenApart {
		v.Figures = append(v.Figures, figures.Of(d.Say, *c.Apart))
	}
	if c.Off != nil {
		v.Figures = append(v.Figures, figures.Of(d.Say, *c.Off))
	}
	return v, c.Doubts, nil
}

// seenApart is the colour difference from which two colours side by side are
// told apart (common practice, no source).
const seenApart = 1

func takeColour(id shop.LotID, say string) address.Link {
	return address.Link{To: "/record/colour?lot=" + string(id), Say: say}
}

// endsOf are the colours there are, the melt first. Where nobody can tell both
// ends apart they are one.
func endsOf(p *say.Printer, c traceability.LotColour) []colourRow {
	var rows []colourRow
	add := func(what string, s *traceability.Shade, more string) {
		if s != nil {
			rows = append(rows, shadeRow(p, p.Line(what), *s, more))
		}
	}
	seen := ""
	if c.Seen != nil {
		seen = p.Say(c.Seen.Taken())
	}
	if c.Apart.Value < seenApart {
		add("colour.this_lot", c.Mixed, seen)
		add("colour.forecast", c.Forecast, "")
		return rows
	}
	side := ""
	if c.Seen != nil && !c.Seen.Melted {
		seen, side = "", seen
	}
	add("colour.melted_well", c.Mixed, seen)
	add("colour.side_by_side", c.Unmixed, side)
	switch {
	case c.Forecast == nil:
	case c.Seen.Melted:
		add("colour.melted_forecast", c.Forecast, "")
	default:
		add("colour.side_forecast", c.Forecast, "")
	}
	return rows
}

func shadeRow(p *say.Printer, what string, s traceability.Shade, more string) colourRow {
	row := colourRow{What: what, Name: s.Name, Code: s.RGB, Lab: p.Number(fmt.Sprintf("L* %s, a* %s, b* %s", one(s.Lab[0]), one(s.Lab[1]), one(s.Lab[2]))), Swatch: drawSwatch(s.RGB), More: more}
	if !s.Exact {
		row.More = strings.TrimPrefix(row.More+"; "+p.Line("colour.no_screen"), "; ")
	}
	return row
}

// one shows a coordinate with one decimal.
func one(v float64) string { return strings.Replace(fmt.Sprintf("%.1f", v), "-0.0", "0.0", 1) }

func partRow(w *say.Printer, p traceability.ColourPart) colourPartRow {
	row := colourPartRow{colourRow: shadeRow(w, "", p.Shade, ""), Lot: p.Lot, Share: w.Number(quantity.Share.Rough(p.Share)), Basis: w.Say(p.Basis.Said()), Tints: w.WithRange(p.Scatter), From: w.Line("colour.nothing_yet")}
	if n := p.Scatter.Runs; n > 0 {
		row.From = w.Line("colour.melted_mixes", fact.Count("n", n))
	}
	return row
}

// drawSwatch is a colour as a small square; its name and code stand beside it.
func drawSwatch(code string) template.HTML {
	c, _ := drawing.ParseHex(code)
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
func drawStrip(w *say.Printer, c traceability.LotColour) []stripRow {
	var rows []stripRow
	if len(c.Parts) > 1 {
		var codes, words []string
		var shares []float64
		sum := 0.0
		for _, p := range c.Parts {
			codes, shares, sum = append(codes, p.Shade.RGB), append(shares, p.Share), sum+p.Share
			words = append(words, w.Number(quantity.Share.Rough(p.Share))+" "+string(p.Lot))
		}
		for i := range shares {
			shares[i] /= sum
		}
		if len(words) > 4 {
			words = append(words[:3], w.Line("family.more", fact.Count("n", len(words)-3)))
		}
		rows = append(rows, stripRow{w.Line("colour.made_of", fact.Names("lots", words)), drawRow(codes, shares)})
	}
	half := []float64{0.5, 0.5}
	if c.Apart.Value < seenApart {
		rows = append(rows, stripRow{w.Line("colour.looks", fact.Name("one", named(c.Mixed))), drawRow([]string{c.Mixed.RGB}, []float64{1})})
	} else {
		rows = append(rows, stripRow{w.Line("colour.left_melted", fact.Name("one", named(c.Mixed)), fact.Name("other", named(c.Unmixed))), drawRow([]string{c.Mixed.RGB, c.Unmixed.RGB}, half)})
	}
	if c.Forecast != nil {
		rows = append(rows, stripRow{w.Line("colour.left_seen", fact.Name("one", named(&c.Seen.Shade)), fact.Name("other", named(c.Forecast))),
			drawRow([]string{c.Seen.RGB, c.Forecast.RGB}, half)})
	}
	return rows
}

func named(s *traceability.Shade) string { return s.Name + " (" + s.RGB + ")" }

// drawRow draws colours beside each other by their share.
func drawRow(codes []string, shares []float64) template.HTML {
	var out strings.Builder
	x := 0.0
	for i, code := range codes {
		fill, _ := drawing.ParseHex(code)
		w := stripWide * shares[i]
		fmt.Fprintf(&out, `<rect x="%.1f" y="0" width="%.1f" height="%.0f" fill="%s"/>`, x, w, stripTall, fill)
		x += w
	}
	return template.HTML(fmt.Sprintf(`<svg class="colour-strip" viewBox="0 0 %.0f %.0f" preserveAspectRatio="none" aria-hidden="true">%s</svg>`, stripWide, stripTall, out.String()))
}
