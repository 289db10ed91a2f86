package sheets

import (
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/quantity"
	"hopperful/shop"
)

// anyLot are the classes a lot may be of.
var anyLot = []shop.Class{shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print}

// weighSheet recounts a lot.
func weighSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "weighed", Title: "form.weigh_a_lot", Submit: "form.record_the_weight", Place: "stock", Timed: true,
		Intro: "form.weighed_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			{Path: "lot", Label: "form.lot", As: forms.AsSelect, Must: true, Choices: d.LotOptions("form.choose_a_lot", anyLot...), First: d.Query("lot")},
			forms.Amount("mass_kg", "form.it_weighs", quantity.Mass, "g", "form.less_the_bin").Needed(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Weighed).Lot) },
	}
}

// discardSheet throws material away.
func discardSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "discarded", Title: "form.throw_material_away", Submit: "form.record_it_as_thrown_away", Place: "stock", Timed: true,
		Groups: []forms.Group{{Fields: []forms.Field{
			{Path: "lot", Label: "form.from_the_lot", As: forms.AsSelect, Must: true, Choices: d.LotOptions("form.choose_a_lot", anyLot...), First: d.Query("lot")},
			forms.Amount("mass_kg", "form.how_much", quantity.Mass, "g", "").Needed(),
			forms.Text("why", "form.why", "form.void_why_help").Needed(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Discarded).Lot) },
	}
}
