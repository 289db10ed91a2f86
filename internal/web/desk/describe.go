package desk

import (
	"hopperful/internal/say"
	"hopperful/shop"
)

// said is a record in a sentence, with the lots it is about.
type said struct {
	What string // in two words
	Text string
	Lots []shop.LotID
}

// Describe tells a record to a person.
func Describe(p *say.Printer, r shop.Record) said {
	return said{What: p.Line("kind." + r.Body.Kind()), Text: say.Capital(p.Say(shop.Describe(r.Body))) + ".", Lots: shop.LotsOf(r.Body)}
}
