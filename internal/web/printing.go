package web

import (
	"slices"
	"strings"

	"hopperful/polymer"
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
				amount("moisture", "Water in the granulate as it went into the hopper", quantity.Share, "%", d.dryEnough()),
				amount("energy_j", "Energy by the meter", quantity.Energy, "Wh", "What a plug-in meter counted. The books then know what printing costs."),
				{Path: "why", Label: "If it failed, why", As: asLong},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Printed).From) },
	}
}

// dryEnough says how little water the polymers of the granulate on hand should
// have, by the table of materials.
func (d *desk) dryEnough() string {
	const how = "By mass; empty if nobody measured it. "
	table, asked := d.materials(), d.query("lot")
	var words, seen []string
	lots := d.state.Stock("")
	if l, ok := d.state.Lot(shop.LotID(asked)); ok {
		lots = []*shop.Lot{l}
	}
	for _, l := range lots {
		p, err := table.Find(l.Polymer)
		if err != nil || slices.Contains(seen, p.Name) || !slices.Contains(granulate, l.Class) {
			continue
		}
		seen = append(seen, p.Name)
		if v, err := p.Value(polymer.MoistureLimit); err == nil {
			words = append(words, p.Name+" "+localised(quantity.Share.Plain(v.Value), d.comma))
		}
	}
	if len(words) == 0 {
		return how + "The materials say how dry each polymer should be."
	}
	return how + "Dry enough to print: at most " + strings.Join(words, ", ") + "."
}

func needOptions(st *shop.State) []option {
	opts := []option{{"", "none"}}
	for _, n := range st.Needs {
		opts = append(opts, option{n.Name, n.Name})
	}
	return opts
}
