package web

import (
	"fmt"

	"hopperful/quantity"
	"hopperful/shop"
)

// mostHeaps is how many heaps one sheet of sorting asks for. More are written
// on a second sheet.
const mostHeaps = 4

// sortSheet splits a lot into heaps, metal and waste.
func sortSheet(d *desk) sheet {
	sh := sheet{
		Kind: "sorted", Title: "form.sort_a_lot", Submit: "form.record_the_sorting", Place: "stock", Timed: true,
		Intro: "form.weigh_each_heap_what_is",
		Groups: []group{{Fields: []field{
			{Path: "from", Label: "form.sorted_from", As: asSelect, Must: true, First: d.query("lot"),
				Choices: d.lotOptions("form.choose_a_lot", shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print)},
			amount("metal_kg", "form.metal_cut_out", quantity.Mass, "g", "form.inserts_screws_magnets_tape"),
			amount("waste_kg", "form.thrown_away_title", quantity.Mass, "g", "form.what_cannot_be_used"),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Sorted).From) },
	}
	for i := range mostHeaps {
		sh.Groups = append(sh.Groups, heapGroup(d, i))
	}
	return sh
}

// heapGroup asks about one heap.
func heapGroup(d *desk, i int) group {
	at := func(name string) string { return fmt.Sprintf("into.%d.%s", i, name) }
	return group{Title: fmt.Sprintf("Heap %d", i+1), Folded: i > 0, Fields: []field{
		amount(at("mass_kg"), "form.mass", quantity.Mass, "g", ""),
		d.polymerField(at("polymer"), "form.empty_keeps_what_the_lot"),
		amount(at("sure"), "form.how_sure_you_are_of", quantity.Share, "%", "form.below_90_it_is_not"),
		d.colourField(at("colour")),
		amount(at("pieces.largest_m"), "form.longest_side_of_the_largest", quantity.Length, "mm", ""),
		amount(at("pieces.wall_m"), "form.wall_thickness", quantity.Length, "mm", ""),
		amount(at("pieces.infill"), "form.infill", quantity.Share, "%", ""),
		text(at("name"), "form.your_own_name_for_it", ""),
		yesNo(at("halogen"), "form.could_it_contain_chlorine_or", "form.a_heap_that_may_is"),
		text(at("lot"), "form.into_the_lot", "form.empty_makes_a_new_one"),
	}}
}
