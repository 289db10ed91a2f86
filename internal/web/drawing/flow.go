package drawing

import (
	"html/template"
	"math"

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

// flowPicture is where everything of the picture stands; flow.html draws it.
type flowPicture struct {
	Wide, High float64
	Says       string // to who cannot see it
	Bands      []flowBand
	Places     []flowBox
}

// flowBand is a stream: a curve from one place to another, as wide as its mass.
type flowBand struct {
	Class                                    string
	X, Y, NearX, NearY, FarX, FarY, ToX, ToY float64
	Wide                                     float64
	Says                                     string
}

// flowBox is a place with its words.
type flowBox struct {
	X, Y, Wide, High, WordX, WordY float64
	Anchor, Say                    string
}

// Flow draws streams as bands; empty without any.
func Flow(p *say.Printer, streams []books.Stream) template.HTML {
	places, scale := layFlow(streams)
	if scale == 0 {
		return ""
	}
	v := flowPicture{Wide: flowWide, High: flowHigh, Says: p.Line("page.books_flow")}
	for _, x := range streams {
		from, to := places[x.From], places[x.To]
		if from == nil || to == nil || x.Mass <= 0 {
			continue
		}
		wide := x.Mass * scale
		y0, y1 := from.y+from.outAt+wide/2, to.y+to.inAt+wide/2
		from.outAt, to.inAt = from.outAt+wide, to.inAt+wide
		mid := (from.x + flowNode + to.x) / 2
		band := flowBand{Class: "band" + lostBand(x.To), X: from.x + flowNode, Y: y0, NearX: mid, NearY: y0, FarX: mid, FarY: y1, ToX: to.x, ToY: y1,
			Wide: math.Max(wide, 0.75), Says: p.Say(books.FlowSays(x))}
		if to.column <= from.column { // comes round again: a loop below
			band.Class, band.NearX, band.NearY, band.FarX, band.FarY = "band again", from.x+flowNode+70, flowHigh-10, to.x-70, flowHigh-10
		}
		v.Bands = append(v.Bands, band)
	}
	for c, column := range flowColumns {
		for _, name := range column {
			n := places[name]
			if n == nil {
				continue
			}
			box := flowBox{X: n.x, Y: n.y, Wide: flowNode, High: math.Max(n.high, 1), WordX: n.x, WordY: n.y - 6, Anchor: "start",
				Say: p.Fact(books.PlaceWord("place", name)) + ", " + p.Number(quantity.Mass.Rough(math.Max(n.in, n.out)))}
			if c == len(flowColumns)-1 {
				box.Anchor, box.WordX = "end", n.x+flowNode
			}
			v.Places = append(v.Places, box)
		}
	}
	return draw("flow", v)
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
