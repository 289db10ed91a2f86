package sheets

import (
	"fmt"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/quantity"
	"hopperful/shop"
)

// mostHeaps is how many heaps one sheet of sorting asks for. More are written
// on a second sheet.
const mostHeaps = 4

// sortSheet splits a lot into heaps, metal and waste.
func sortSheet(d *desk.Desk) forms.Sheet {
	sh := forms.Sheet{
		Kind: "sorted", Title: "form.sort_a_lot", Submit: "form.record_the_sorting", Place: "stock", Timed: true,
		Intro: "form.sorted_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			{Path: "from", Label: "form.sorted_from", As: forms.AsSelect, Must: true, First: d.Query("lot"),
				Choices: d.LotOptions("form.choose_a_lot", shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print)},
			forms.Amount("metal_kg", "form.metal_cut_out", quantity.Mass, "g", "form.inserts_screws_magnets_tape"),
			forms.Amount("waste_kg", "form.thrown_away_title", quantity.Mass, "g", "form.what_cannot_be_used"),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Sorted).From) },
	}
	for i := range mostHeaps {
		sh.Groups = append(sh.Groups, heapGroup(d, i))
	}
	return sh
}

// heapGroup asks about one heap.
func heapGroup(d *desk.Desk, i int) forms.Group {
	at := func(name string) string { return fmt.Sprintf("into.%d.%s", i, name) }
	return forms.Group{Title: fmt.Sprintf("Heap %d", i+1), Folded: i > 0, Fields: []forms.Field{
		forms.Amount(at("mass_kg"), "form.mass", quantity.Mass, "g", ""),
		PolymerField(d, at("polymer"), "form.lot_kept_help"),
		forms.Amount(at("sure"), "form.polymer_sureness", quantity.Share, "%", "form.sureness_help"),
		ColourField(d, at("colour")),
		forms.Amount(at("pieces.largest_m"), "form.longest_side", quantity.Length, "mm", ""),
		forms.Amount(at("pieces.wall_m"), "form.wall_thickness", quantity.Length, "mm", ""),
		forms.Amount(at("pieces.infill"), "form.infill", quantity.Share, "%", ""),
		forms.Text(at("name"), "form.your_own_name_for_it", ""),
		forms.YesNo(at("halogen"), "form.chlorine_suspected", "form.suspected_heap_help"),
		forms.Text(at("lot"), "form.into_the_lot", "form.empty_makes_a_new_one"),
	}}
}
