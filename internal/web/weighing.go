package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// anyLot are the classes a lot may be of.
var anyLot = []shop.Class{shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print}

// weighSheet recounts a lot.
func weighSheet(d *desk) sheet {
	return sheet{
		Kind: "weighed", Title: "form.weigh_a_lot", Submit: "form.record_the_weight", Place: "stock", Timed: true,
		Intro: "form.what_the_scale_says_the",
		Groups: []group{{Fields: []field{
			{Path: "lot", Label: "form.lot", As: asSelect, Must: true, Choices: d.lotOptions("form.choose_a_lot", anyLot...), First: d.query("lot")},
			amount("mass_kg", "form.it_weighs", quantity.Mass, "g", "form.less_the_bin").must(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Weighed).Lot) },
	}
}

// discardSheet throws material away.
func discardSheet(d *desk) sheet {
	return sheet{
		Kind: "discarded", Title: "form.throw_material_away", Submit: "form.record_it_as_thrown_away", Place: "stock", Timed: true,
		Groups: []group{{Fields: []field{
			{Path: "lot", Label: "form.from_the_lot", As: asSelect, Must: true, Choices: d.lotOptions("form.choose_a_lot", anyLot...), First: d.query("lot")},
			amount("mass_kg", "form.how_much", quantity.Mass, "g", "").must(),
			text("why", "form.why", "form.so_that_the_next_person").must(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Discarded).Lot) },
	}
}
