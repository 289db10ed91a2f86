package drawing

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"hopperful/internal/say"
	"hopperful/plan/books"
	"hopperful/quantity"
)

// The picture of the books: columns from scrap to prints, a band as wide as the mass
// that went that way.
const (
	flowWide, flowHigh = 720.0, 285.0
	flowNode           = 14.0 // width of a place
	flowGap            = 34.0 // between places of a column, with room for their words
	flowMost           = 150.0
	flowSide           = 44.0 // at either side, for what comes round again
)

// flowColumns are the columns of places, from the left.
var flowColumns = [][]books.Place{{books.ScrapPlace, books.VirginPlace}, {books.RegrindPlace}, {books.BlendPlace}, {books.PrintPlace, books.MillPlace, books.LostPlace}}

// flowPlace is where a place stands.
type flowPlace struct {
	x, y, high  float64
	in, out     float64 // mass [kg]
	inAt, outAt float64 // where the next band begins
	column      int
}

// Flow draws streams as bands; empty without any.
func Flow(p *say.Printer, streams []books.Stream) template.HTML {
	places, scale := layFlow(streams)
	if scale == 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="books-flow" viewBox="0 0 %g %g" role="img" aria-label="%s">`, flowWide, flowHigh, template.HTMLEscapeString(p.Line("page.books_flow")))
	for _, x := range streams {
		from, to := places[x.From], places[x.To]
		if from == nil || to == nil || x.Mass <= 0 {
			continue
		}
		wide := x.Mass * scale
		y0, y1 := from.y+from.outAt+wide/2, to.y+to.inAt+wide/2
		from.outAt, to.inAt = from.outAt+wide, to.inAt+wide
		says := p.Say(books.FlowSays(x))
		if to.column <= from.column { // comes round again: a loop below
			fmt.Fprintf(&b, `<path class="band again" d="M%.1f %.1fC%.1f %.1f %.1f %.1f %.1f %.1f" stroke-width="%.2f"><title>%s</title></path>`,
				from.x+flowNode, y0, from.x+flowNode+70, flowHigh-10, to.x-70, flowHigh-10, to.x, y1, math.Max(wide, 0.75), template.HTMLEscapeString(says))
			continue
		}
		mid := (from.x + flowNode + to.x) / 2
		fmt.Fprintf(&b, `<path class="band%s" d="M%.1f %.1fC%.1f %.1f %.1f %.1f %.1f %.1f" stroke-width="%.2f"><title>%s</title></path>`,
			lostBand(x.To), from.x+flowNode, y0, mid, y0, mid, y1, to.x, y1, math.Max(wide, 0.75), template.HTMLEscapeString(says))
	}
	for c, column := range flowColumns {
		for _, name := range column {
			n := places[name]
			if n == nil {
				continue
			}
			fmt.Fprintf(&b, `<rect class="place" x="%.1f" y="%.1f" width="%g" height="%.1f"/>`, n.x, n.y, flowNode, math.Max(n.high, 1))
			anchor, x := "start", n.x
			if c == len(flowColumns)-1 {
				anchor, x = "end", n.x+flowNode
			}
			fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="%s">%s, %s</text>`, x, n.y-6, anchor, template.HTMLEscapeString(p.Fact(books.PlaceWord("place", name))), template.HTMLEscapeString(p.Number(quantity.Mass.Rough(math.Max(n.in, n.out)))))
		}
	}
	b.WriteString("</svg>")
	return template.HTML(b.String()) // our own drawing, its text escaped
}

func lostBand(to books.Place) string {
	if to == books.LostPlace {
		return " gone"
	}
	return ""
}

// layFlow places the columns, and says how many pixels a kilogram takes.
func layFlow(streams []books.Stream) (map[books.Place]*flowPlace, float64) {
	places := map[books.Place]*flowPlace{}
	at := func(name books.Place) *flowPlace {
		if places[name] == nil {
			places[name] = &flowPlace{}
		}
		return places[name]
	}
	for _, x := range streams {
		if x.Mass > 0 {
			at(x.From).out += x.Mass
			at(x.To).in += x.Mass
		}
	}
	most := 0.0
	for _, column := range flowColumns {
		sum := 0.0
		for _, name := range column {
			if n := places[name]; n != nil {
				sum += math.Max(n.in, n.out)
			}
		}
		most = math.Max(most, sum)
	}
	if most == 0 {
		return places, 0
	}
	scale := flowMost / most
	for c, column := range flowColumns {
		y := flowGap
		for _, name := range column {
			if n := places[name]; n != nil {
				n.column, n.x, n.y, n.high = c, flowSide+float64(c)*(flowWide-2*flowSide-flowNode)/float64(len(flowColumns)-1), y, math.Max(n.in, n.out)*scale
				y += n.high + flowGap
			}
		}
	}
	return places, scale
}
