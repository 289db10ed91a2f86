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
	flowNode = 14.0  // width of a place
	flowMost = 150.0 // the highest column without its gaps
	flowLine = 18.0  // from one line of words to the next
	flowEdge = 11.0  // below everything
)

// flowSize is how much room a picture of the books takes [px].
type flowSize struct {
	class   string
	wide    float64
	gap     float64 // between places of a column, with room for their words
	side    float64 // at either side, for what comes round again
	round   float64 // how far that swings out
	stacked bool    // a place's mass stands under its name
}

// flowSizes are the picture for a desk and for paper, and the one for a phone, whose words
// are as large: a stylesheet shows one of them.
var flowSizes = []flowSize{
	{class: "broad", wide: 720, gap: 34, side: 44, round: 24},
	{class: "slim", wide: 352, gap: 46, side: 28, round: 16, stacked: true},
}

// flowColumns are the columns of places, from the left.
var flowColumns = [][]books.Place{{books.ScrapPlace, books.VirginPlace}, {books.RegrindPlace}, {books.BlendPlace}, {books.PrintPlace, books.MillPlace, books.LostPlace}}

// flowPlace is where a place stands.
type flowPlace struct {
	x, y, high  float64
	in, out     float64 // mass [kg]
	inAt, outAt float64 // where the next band begins
	column      int
	last        bool // below another one, at the foot of its column
}

// flowPicture is where everything of the picture stands; flow.html draws it.
type flowPicture struct {
	Class      string
	Wide, High float64
	Says       string // to who cannot see it
	Bands      []flowBand
	Places     []flowBox
}

// flowBand is a stream: a curve from one place to another, as wide as its mass; what comes
// round again runs down from NearY to Turn, along Below and up to FarY.
type flowBand struct {
	Class                                    string
	X, Y, NearX, NearY, FarX, FarY, ToX, ToY float64
	Wide, Turn, Below                        float64
	Says                                     string
}

// flowBox is a place with its words.
type flowBox struct {
	X, Y, Wide, High, WordX float64
	Anchor                  string
	Lines                   []flowWords
}

// flowWords are a line of them.
type flowWords struct {
	Y   float64
	Say string
}

// Flow draws streams as bands, for a desk and for a phone; empty without any.
func Flow(p *say.Printer, streams []books.Stream) template.HTML {
	var both template.HTML
	for _, size := range flowSizes {
		both += flowOf(p, streams, size)
	}
	return both
}

// flowOf is the picture in one size.
func flowOf(p *say.Printer, streams []books.Stream, size flowSize) template.HTML {
	places, scale := layFlow(streams, size)
	if scale == 0 {
		return ""
	}
	v := flowPicture{Class: size.class, Wide: size.wide, High: foot(places, size) + flowEdge, Says: p.Line("page.books_flow")}
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
		if to.column <= from.column { // comes round again: a loop below all words
			band.Class, band.Below, band.Turn = "band again", v.High+band.Wide/2, v.High+band.Wide/2-size.round
			band.NearX, band.NearY, band.FarX, band.FarY = band.X+size.round, y0+size.round, to.x-size.round, y1+size.round
			v.High += band.Wide + flowEdge
		}
		v.Bands = append(v.Bands, band)
	}
	for _, column := range flowColumns {
		for _, name := range column {
			if n := places[name]; n != nil {
				v.Places = append(v.Places, boxOf(p, name, n, size.stacked))
			}
		}
	}
	return draw("flow", v)
}

// foot is where the lowest place with its words ends.
func foot(places map[books.Place]*flowPlace, size flowSize) float64 {
	low := 0.0
	for _, n := range places {
		low = math.Max(low, n.y+n.high)
	}
	if size.stacked {
		return low + 2*flowLine
	}
	return low + flowLine
}

// boxOf is a place with its words above it, at the foot of a column below it, where no
// stream comes by; those at the right edge end there.
func boxOf(p *say.Printer, name books.Place, n *flowPlace, stacked bool) flowBox {
	box := flowBox{X: n.x, Y: n.y, Wide: flowNode, High: math.Max(n.high, 1), WordX: n.x, Anchor: "start"}
	switch n.column {
	case len(flowColumns) - 1:
		box.Anchor, box.WordX = "end", n.x+flowNode
	case len(flowColumns) - 2: // clear of the words on its right
		box.Anchor, box.WordX = "middle", n.x+flowNode/2
	}
	word, mass, last := p.Fact(books.PlaceWord("place", name)), p.Number(quantity.Mass.Rough(math.Max(n.in, n.out))), n.y-6
	if n.last {
		if last = n.y + box.High + flowLine - 3; stacked {
			last += flowLine
		}
	}
	if stacked {
		box.Lines = []flowWords{{last - flowLine, word}, {last, mass}}
	} else {
		box.Lines = []flowWords{{last, word + ", " + mass}}
	}
	return box
}

func lostBand(to books.Place) string {
	if to == books.LostPlace {
		return " gone"
	}
	return ""
}

// layFlow places the columns, and says how many pixels a kilogram takes.
func layFlow(streams []books.Stream, size flowSize) (map[books.Place]*flowPlace, float64) {
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
		y := size.gap
		var above *flowPlace
		for _, name := range column {
			if n := places[name]; n != nil {
				n.column, n.x, n.y, n.high = c, size.side+float64(c)*(size.wide-2*size.side-flowNode)/float64(len(flowColumns)-1), y, math.Max(n.in, n.out)*scale
				y += n.high + size.gap
				if n.last = above != nil; n.last {
					above.last = false
				}
				above = n
			}
		}
	}
	return places, scale
}
