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
		Kind: "weighed", Title: "Weigh a lot", Submit: "Record the weight", Place: "stock", Timed: true,
		Intro: "What the scale says the lot has now. A difference is kept as its own line, nothing is overwritten.",
		Groups: []group{{Fields: []field{
			{Path: "lot", Label: "Lot", As: asSelect, Must: true, Choices: d.lotOptions("choose a lot", anyLot...), First: d.query("lot")},
			amount("mass_kg", "It weighs", quantity.Mass, "g", "Less the bin.").must(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Weighed).Lot) },
	}
}

// discardSheet throws material away.
func discardSheet(d *desk) sheet {
	return sheet{
		Kind: "discarded", Title: "Throw material away", Submit: "Record it as thrown away", Place: "stock", Timed: true,
		Groups: []group{{Fields: []field{
			{Path: "lot", Label: "From the lot", As: asSelect, Must: true, Choices: d.lotOptions("choose a lot", anyLot...), First: d.query("lot")},
			amount("mass_kg", "How much", quantity.Mass, "g", "").must(),
			text("why", "Why", "So that the next person need not wonder.").must(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Discarded).Lot) },
	}
}
