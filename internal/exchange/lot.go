package exchange

import (
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/quantity"
	"hopperful/shop"
)

// Lot is a lot as scripts read it.
type Lot struct {
	Label    shop.LotID      `json:"label"`
	Class    shop.Class      `json:"class"`
	Name     string          `json:"name"`
	Polymer  string          `json:"polymer"`
	Sure     *float64        `json:"sure,omitempty"`
	Colour   string          `json:"colour"`
	RGB      string          `json:"rgb,omitempty"`
	Halogen  string          `json:"halogen"`
	Bar      *Bar            `json:"bar,omitempty"`
	Metal    string          `json:"metal,omitempty"`
	Pieces   shop.Pieces     `json:"pieces"`
	Mass     figure.Figure   `json:"mass"`
	Records  []shop.RecordID `json:"records"`
	Parents  []Edge          `json:"parents"`
	Children []Edge          `json:"children"`
}

// Edge is what a lot got from another, or gave to it.
type Edge struct {
	Lot    shop.LotID    `json:"lot"`
	Mass   float64       `json:"mass_kg"`
	Record shop.RecordID `json:"record"`
}

// Bar is what keeps a lot from mill, dryer and printer.
type Bar struct {
	Code    shop.BarCode `json:"code"`
	Why     string       `json:"why"`
	Instead string       `json:"instead"`
}

func barOf(p *say.Printer, b *shop.Bar) *Bar {
	if b == nil {
		return nil
	}
	why, instead := b.Says()
	return &Bar{b.Code, p.Say(why), p.Say(instead)}
}

// LotOf is a lot on its way out.
func LotOf(p *say.Printer, l *shop.Lot) Lot {
	halogen := string(l.Halogen)
	if l.Halogen == shop.Unknown {
		halogen = "unknown"
	}
	return Lot{Bar: barOf(p, l.Bar()), Label: l.ID, Class: l.Class, Name: l.Name, Polymer: l.Polymer, Sure: l.Sure, Colour: l.Colour, RGB: l.RGB,
		Halogen: halogen, Metal: l.Metal, Pieces: l.Pieces, Mass: onHand(p, l),
		Records: append([]shop.RecordID{}, l.Records...), Parents: edgesOf(l.Parents), Children: edgesOf(l.Children)}
}

func edgesOf(edges []shop.Edge) []Edge {
	out := []Edge{}
	for _, e := range edges {
		out = append(out, Edge(e))
	}
	return out
}

// onHand is what the books say a lot holds, with the records that say so.
func onHand(p *say.Printer, l *shop.Lot) figure.Figure {
	f := figure.Exact("mass", "on hand", quantity.Mass, l.Mass, figure.Measured)
	f.How = p.Line("exchange.how_on_hand")
	for _, id := range l.Records {
		f.Records = append(f.Records, int64(id))
	}
	return f
}
