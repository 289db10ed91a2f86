package sheets

import (
	"fmt"
	"strconv"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/quantity"
	"hopperful/shop"
)

// usualPortions is how many lots a sheet of blending asks for; one that was
// weighed step by step may have more (?portions=7).
const usualPortions = 5

func portionsOf(d *desk.Desk) int {
	n, _ := strconv.Atoi(d.Query("portions")) // nonsense counts as none
	return min(max(n, usualPortions), MostWeighed)
}

// blendSheet mixes several lots into one.
func blendSheet(d *desk.Desk) forms.Sheet {
	var portions []forms.Field
	for i := range portionsOf(d) {
		portions = append(portions,
			forms.Field{Path: fmt.Sprintf("from.%d.lot", i), Label: d.Say.Line("form.lot_title", fact.Name("id", strconv.Itoa(i+1))), As: forms.AsSelect,
				Choices: d.LotOptions("form.none", shop.Regrind, shop.Virgin, shop.Blend)},
			forms.Amount(fmt.Sprintf("from.%d.mass_kg", i), "form.of_it", quantity.Mass, "g", ""))
	}
	return forms.Sheet{
		Kind: "blended", Title: "form.blend_lots", Submit: "form.record_the_blend", Place: "stock", Timed: true,
		Intro: "form.blended_intro",
		Groups: []forms.Group{
			{Fields: portions},
			{Title: "form.the_blend", Fields: []forms.Field{
				{Path: "into", Label: "form.into", As: forms.AsSelect, Choices: d.LotOptions("form.a_new_lot", shop.Blend)},
				forms.Text("name", "form.your_own_name_for_it", ""),
				ColourField(d, "colour"),
				{Path: "polymer", As: forms.AsHidden},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Blended).Into) },
	}
}

// MostWeighed bounds the lots of one bucket.
const MostWeighed = 20
