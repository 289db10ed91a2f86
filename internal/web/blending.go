package web

import (
	"fmt"
	"strconv"

	"hopperful/quantity"
	"hopperful/shop"
)

// usualPortions is how many lots a sheet of blending asks for; one that was
// weighed step by step may have more (?portions=7).
const usualPortions = 5

func portionsOf(d *desk) int {
	n, _ := strconv.Atoi(d.query("portions")) // nonsense counts as none
	return min(max(n, usualPortions), mostWeighed)
}

// blendSheet mixes several lots into one.
func blendSheet(d *desk) sheet {
	var portions []field
	for i := range portionsOf(d) {
		portions = append(portions,
			field{Path: fmt.Sprintf("from.%d.lot", i), Label: fmt.Sprintf("Lot %d", i+1), As: asSelect,
				Choices: d.lotOptions("none", shop.Regrind, shop.Virgin, shop.Blend)},
			amount(fmt.Sprintf("from.%d.mass_kg", i), "form.of_it", quantity.Mass, "g", ""))
	}
	return sheet{
		Kind: "blended", Title: "form.blend_lots", Submit: "form.record_the_blend", Place: "stock", Timed: true,
		Intro: "form.what_went_in_weighed_lot",
		Groups: []group{
			{Fields: portions},
			{Title: "form.the_blend", Fields: []field{
				{Path: "into", Label: "form.into", As: asSelect, Choices: d.lotOptions("form.a_new_lot", shop.Blend)},
				text("name", "form.your_own_name_for_it", ""),
				d.colourField("colour"),
				{Path: "polymer", As: asHidden},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Blended).Into) },
	}
}
