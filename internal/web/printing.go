package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// printSheet takes granulate out of a lot into a print.
func printSheet(d *desk) sheet {
	return sheet{
		Kind: "printed", Title: "Record a print", Submit: "Record this print", Place: "stock", Timed: true,
		Groups: []group{
			{Fields: []field{
				{Path: "from", Label: "Printed from", As: asSelect, Must: true, First: d.query("lot"),
					Choices: d.lotOptions("choose a lot", shop.Regrind, shop.Blend, shop.Virgin)},
				text("print", "Name of the part", "").must(),
				amount("mass_kg", "Granulate used", quantity.Mass, "g", "What left the hopper, purge included.").must(),
				yesNo("good", "Is the part good", ""),
			}},
			{Title: "More", Folded: true, Fields: []field{
				{Path: "need", Label: "For the need", As: asSelect, Choices: needOptions(d.state)},
				amount("purged_kg", "Of it purge, skirts and spill", quantity.Mass, "g", ""),
				{Path: "why", Label: "If it failed, why", As: asLong},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Printed).From) },
	}
}

func needOptions(st *shop.State) []option {
	opts := []option{{"", "none"}}
	for _, n := range st.Needs {
		opts = append(opts, option{n.Name, n.Name})
	}
	return opts
}
