package web

import (
	"strings"

	"hopperful/shop"
)

// said is a record in a sentence, with the lots it is about.
type said struct {
	What string // in two words
	Text string
	Lots []shop.LotID
}

// whats are the kinds of record whose name is not what a person would say.
var whats = map[string]string{
	"shop_set": "settings", "mill_set": "mill", "scale_set": "scale", "printer_set": "printer", "dryer_set": "dryer", "person_set": "person",
	"need_set": "need", "material_set": "material", "discarded": "thrown away", "void": "struck out",
	"passed_magnet": "magnet", "happened": "went wrong", "jar_weighed": "jar weighed", "flow_tested": "flow tested", "coloured": "colour taken", "pictured": "photograph",
}

// describe tells a record to a person.
func describe(r shop.Record) said {
	what, ok := whats[r.Body.Kind()]
	if !ok {
		what = strings.ReplaceAll(r.Body.Kind(), "_", " ")
	}
	text := shop.Describe(r.Body)
	return said{What: what, Text: capitalised(text) + ".", Lots: shop.LotsOf(r.Body)}
}
