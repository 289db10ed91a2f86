package web

import (
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// printSheet takes granulate out of a lot into a print.
func printSheet(d *desk) sheet {
	return sheet{
		Kind: "printed", Title: "form.record_a_print", Submit: "form.record_this_print", Place: "stock", Timed: true,
		Groups: []group{
			{Fields: []field{
				{Path: "from", Label: "form.printed_from", As: asSelect, Must: true, First: d.query("lot"),
					Choices: d.lotOptions("form.choose_a_lot", shop.Regrind, shop.Blend, shop.Virgin)},
				text("print", "form.name_of_the_part", "").must(),
				amount("mass_kg", "form.granulate_used", quantity.Mass, "g", "form.what_left_the_hopper_purge").must(),
				yesNo("good", "form.is_the_part_good", ""),
			}},
			{Title: "form.more", Folded: true, Fields: []field{
				{Path: "need", Label: "form.for_the_need", As: asSelect, Choices: needOptions(d.state)},
				amount("purged_kg", "form.of_it_purge_skirts_and", quantity.Mass, "g", ""),
				amount("moisture", "form.water_in_the_granulate_as", quantity.Share, "%", d.dryEnough()),
				amount("energy_j", "form.energy_by_the_meter", quantity.Energy, "Wh", "form.meter_printing"),
				{Path: "why", Label: "form.if_it_failed_why", As: asLong},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Printed).From) },
	}
}

// dryEnough says how little water the polymers of the granulate on hand should
// have, by the table of materials.
func (d *desk) dryEnough() string {
	how := d.say.Line("form.by_mass_empty_if_nobody")
	table, asked := d.materials(), d.query("lot")
	var words, seen []string
	lots := d.state.Stock(granulate...)
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
			words = append(words, p.Name+" "+d.say.Number(quantity.Share.Plain(v.Value)))
		}
	}
	if len(words) == 0 {
		return d.say.Line("form.the_materials_say_how_dry", fact.Name("how", how+" "))
	}
	return d.say.Line("form.dry_enough_to_print_at", fact.Name("how", how+" "), fact.Name("join", strings.Join(words, ", ")))
}

func needOptions(st *shop.State) []option {
	opts := []option{{"", "form.none"}}
	for _, n := range st.Needs {
		opts = append(opts, option{n.Name, n.Name})
	}
	return opts
}
