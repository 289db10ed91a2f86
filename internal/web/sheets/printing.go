package sheets

import (
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// printSheet takes granulate out of a lot into a print.
func printSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "printed", Title: "form.record_a_print", Submit: "form.record_this_print", Place: "stock", Timed: true,
		Groups: []forms.Group{
			{Fields: []forms.Field{
				{Path: "from", Label: "form.printed_from", As: forms.AsSelect, Must: true, First: d.Query("lot"),
					Choices: d.LotOptions("form.choose_a_lot", shop.Regrind, shop.Blend, shop.Virgin)},
				forms.Text("print", "form.name_of_the_part", "").Needed(),
				forms.Amount("mass_kg", "form.granulate_used", quantity.Mass, "g", "form.printed_mass_help").Needed(),
				forms.YesNo("good", "form.is_the_part_good", ""),
			}},
			{Title: "form.more", Folded: true, Fields: []forms.Field{
				{Path: "need", Label: "form.for_the_need", As: forms.AsSelect, Choices: needOptions(d.State)},
				forms.Amount("purged_kg", "form.purged_share", quantity.Mass, "g", ""),
				forms.Amount("moisture", "form.moisture_at_hopper", quantity.Share, "%", DryEnough(d)),
				forms.Amount("energy_j", "form.energy_by_the_meter", quantity.Energy, "Wh", "form.meter_printing"),
				{Path: "why", Label: "form.if_it_failed_why", As: forms.AsLong},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Printed).From) },
	}
}

// DryEnough says how little water the polymers of the granulate on hand should
// have, by the table of materials.
func DryEnough(d *desk.Desk) string {
	how := d.Say.Line("form.moisture_help")
	table, asked := d.Materials(), d.Query("lot")
	var words, seen []string
	lots := d.State.Stock(Granulate...)
	if l, ok := d.State.Lot(shop.LotID(asked)); ok {
		lots = []*shop.Lot{l}
	}
	for _, l := range lots {
		p, err := table.Find(l.Polymer)
		if err != nil || slices.Contains(seen, p.Name) || !slices.Contains(Granulate, l.Class) {
			continue
		}
		seen = append(seen, p.Name)
		if v, err := p.Value(polymer.MoistureLimit); err == nil {
			words = append(words, p.Name+" "+d.Say.Number(quantity.Share.Plain(v.Value)))
		}
	}
	if len(words) == 0 {
		return d.Say.Line("form.dryness_in_materials", fact.Name("how", how+" "))
	}
	return d.Say.Line("form.dry_enough_at", fact.Name("how", how+" "), fact.Name("join", strings.Join(words, ", ")))
}

func needOptions(st *shop.State) []forms.Option {
	opts := []forms.Option{{Value: "", Say: "form.none"}}
	for _, n := range st.Needs {
		opts = append(opts, forms.Option{Value: n.Name, Say: n.Name})
	}
	return opts
}
