package sheets

import (
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/shop"
)

// TakeIn brings material in: a bin of scrap, a bag of virgin granulate.
func TakeIn(d *desk.Desk) forms.Sheet {
	ask := forms.Of("taken_in")
	return forms.Sheet{
		Kind: "taken_in", Title: "form.take_in_material", Submit: "form.take_it_in", Place: "stock", Timed: true,
		Intro: "form.take_in_intro",
		Groups: []forms.Group{
			{Fields: []forms.Field{
				ask("mass_kg"), ask("class").Begins(string(shop.Scrap)),
				ask("polymer").Suggesting(d.Materials().Names()), ask("colour").Suggesting(d.Colours()),
			}},
			{Title: "form.what_the_pieces_look_like", Intro: "form.scrap_looks_intro", Fields: forms.All(ask,
				"pieces.largest_m", "pieces.wall_m", "pieces.infill", "metal")},
			{Title: "form.more", Folded: true, Fields: []forms.Field{
				ask("name"), ask("sure"), ask("halogen"), ask("rgb"), ask("price").Helped(currencyHelp(d)), ask("lot").Asked(forms.AsText),
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.TakenIn).Lot) },
	}
}

// PolymerField asks what plastic it is and offers the known ones.
func PolymerField(d *desk.Desk, path, help string) forms.Field {
	return forms.Field{Path: path, Label: "form.plastic", As: forms.AsText, Help: help, Suggest: d.Materials().Names()}
}

// ColourField asks for the colour in words.
func ColourField(d *desk.Desk, path string) forms.Field {
	return forms.Field{Path: path, Label: "form.colour", As: forms.AsText, Suggest: d.Colours()}
}

func currencyHelp(d *desk.Desk) string {
	if d.State.Shop.Currency == "" {
		return ""
	}
	return "In " + d.State.Shop.Currency + "."
}
