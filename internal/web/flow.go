package web

import (
	"fmt"
	"html/template"
	"strings"

	"hopperful/plan"
)

// drawFlow shows where every gram of a campaign goes, as one ruler cut into
// product, what stays in the mill, and what is lost.
func drawFlow(b plan.Balance, comma bool) template.HTML {
	const width, left, top, high = 560.0, 2.0, 24.0, 22.0
	in := b.In.Value
	if in <= 0 {
		return ""
	}
	parts := []struct {
		name, shown string
		mass        float64
		class       string
	}{
		{"product", b.Product.Shown(), b.Product.Value, "out"},
		{"stays in the mill", b.Left.Shown(), b.Left.Value, "held"},
		{"lost as dust and spill", b.Lost.Shown(), b.Lost.Value, "lost"},
	}
	var s strings.Builder
	fmt.Fprintf(&s, `<svg class="flow" viewBox="0 0 %g 82" role="img" aria-label="Of %s that go in, %s come out as product, %s stay in the mill and %s are lost.">`,
		width+2*left, word(b.In.Shown(), comma), word(b.Product.Shown(), comma), word(b.Left.Shown(), comma), word(b.Lost.Shown(), comma))
	fmt.Fprintf(&s, `<text x="%g" y="14">%s in</text>`, left, word(b.In.Shown(), comma))
	x := left
	for i, p := range parts {
		w := max(1.5, width*p.mass/in)
		fmt.Fprintf(&s, `<rect class="%s" x="%.1f" y="%g" width="%.1f" height="%g"/>`, p.class, x, top, w, high)
		tx, anchor := left, "start"
		if i > 0 {
			tx, anchor = left+width, "end"
		}
		y := top + high + 17
		if i == 2 {
			y += 16
		}
		fmt.Fprintf(&s, `<text x="%.1f" y="%.1f" text-anchor="%s">%s <tspan class="soft">%s</tspan></text>`, tx, y, anchor, word(p.shown, comma), p.name)
		x += w
	}
	s.WriteString(`</svg>`)
	return template.HTML(s.String())
}

func word(s string, comma bool) string { return template.HTMLEscapeString(localised(s, comma)) }
