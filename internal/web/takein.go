package web

import (
	"hopperful/shop"
)

// takeInSheet brings material in: a bin of scrap, a bag of virgin granulate.
func takeInSheet(d *desk) sheet {
	ask := asking("taken_in")
	return sheet{
		Kind: "taken_in", Title: "form.take_in_material", Submit: "form.take_it_in", Place: "stock", Timed: true,
		Intro: "form.weigh_it_say_what_it",
		Groups: []group{
			{Fields: []field{
				ask("mass_kg"), ask("class").first(string(shop.Scrap)),
				ask("polymer").suggesting(d.materials().Names()), ask("colour").suggesting(d.colours()),
			}},
			{Title: "form.what_the_pieces_look_like", Intro: "form.for_scrap_the_mills_time", Fields: all(ask,
				"pieces.largest_m", "pieces.wall_m", "pieces.infill", "metal")},
			{Title: "form.more", Folded: true, Fields: []field{
				ask("name"), ask("sure"), ask("halogen"), ask("rgb"), ask("price").helped(d.currencyHelp()), ask("lot").as(asText),
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.TakenIn).Lot) },
	}
}

// polymerField asks what plastic it is and offers the known ones.
func (d *desk) polymerField(path, help string) field {
	return field{Path: path, Label: "form.plastic", As: asText, Help: help, Suggest: d.materials().Names()}
}

// colourField asks for the colour in words.
func (d *desk) colourField(path string) field {
	return field{Path: path, Label: "form.colour", As: asText, Suggest: d.colours()}
}

func (d *desk) currencyHelp() string {
	if d.state.Shop.Currency == "" {
		return ""
	}
	return "In " + d.state.Shop.Currency + "."
}

func lotPath(id shop.LotID) string { return "/stock/" + pathSegment(string(id)) }
