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
		Kind: "sorted", Title: "Sort a lot", Submit: "Record the sorting", Place: "stock", Timed: true,
		Intro: "Weigh each heap. What is not weighed out stays in the lot.",
		Groups: []group{{Fields: []field{
			{Path: "from", Label: "Sorted from", As: asSelect, Must: true, First: d.query("lot"),
				Choices: d.lotOptions("choose a lot", shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print)},
			amount("metal_kg", "Metal cut out", quantity.Mass, "g", "Inserts, screws, magnets, tape."),
			amount("waste_kg", "Thrown away", quantity.Mass, "g", "What cannot be used."),
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
		amount(at("mass_kg"), "Mass", quantity.Mass, "g", ""),
		d.polymerField(at("polymer"), "Empty keeps what the lot says."),
		amount(at("sure"), "How sure you are of the plastic", quantity.Share, "%", "Below 90 % it is not ground with others of that name."),
		d.colourField(at("colour")),
		amount(at("pieces.largest_m"), "Longest side of the largest piece", quantity.Length, "mm", ""),
		amount(at("pieces.wall_m"), "Wall thickness", quantity.Length, "mm", ""),
		amount(at("pieces.infill"), "Infill", quantity.Share, "%", ""),
		text(at("name"), "Your own name for it", ""),
		yesNo(at("halogen"), "Could it contain chlorine or a flame retardant", "A heap that may is kept away from mill and printer. Sorting clears no suspicion."),
		text(at("lot"), "Into the lot", "Empty makes a new one."),
	}}
}
