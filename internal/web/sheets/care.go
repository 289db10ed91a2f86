package sheets

import (
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/quantity"
	"hopperful/shop"
)

// The classes of lots that some records are about.
var (
	Granulate = []shop.Class{shop.Regrind, shop.Virgin, shop.Blend}
	anything  = []shop.Class{shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print}
)

// lotField asks which lot, the one in the address first.
func lotField(d *desk.Desk, label string, classes ...shop.Class) forms.Field {
	return forms.Field{Path: "lot", Label: label, As: forms.AsSelect, Must: true, First: d.Query("lot"), Choices: d.LotOptions("form.choose_a_lot", classes...)}
}

// mostRuns is how many runs are offered.
const mostRuns = 8

// runField asks which run of a mill it came out of; the newest into the lot of
// the address are offered, or into any.
func runField(d *desk.Desk) forms.Field {
	f := forms.Field{Path: "run", Label: "form.out_of_the_run", As: forms.AsWhole, Help: "form.run_record_help"}
	for _, r := range d.State.Records.LatestOf(&shop.Ground{}) {
		if len(f.Choices) == mostRuns {
			break
		}
		if g, ok := r.Body.(*shop.Ground); ok && (d.Query("lot") == "" || d.Query("lot") == string(g.Into)) {
			f.Choices = append(f.Choices, forms.Option{Value: address.Number(r.ID), Say: d.Clock(r.At) + ", " + d.Say.Say(shop.Describe(g))})
		}
	}
	return f
}

// magnetSheet writes down what hung on the magnet.
func magnetSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "passed_magnet", Title: "form.past_the_magnet", Submit: "form.record_the_magnet", Place: "stock", Timed: true,
		Intro: "form.magnet_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			lotField(d, "form.lot", Granulate...),
			forms.Amount("metal_kg", "form.metal_caught", quantity.Mass, "g", "form.magnet_metal_help").Needed(),
			forms.Amount("passed_kg", "form.let_over_the_magnet", quantity.Mass, "g", "form.empty_if_nobody_weighed_it"),
			runField(d),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.PassedMagnet).Lot) },
	}
}

// dedustSheet takes the dust off a lot.
func dedustSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "dedusted", Title: "form.take_the_dust_off", Submit: "form.record_the_dust", Place: "stock", Timed: true,
		Intro: "form.dust_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			lotField(d, "form.lot", Granulate...),
			forms.Amount("dust_kg", "form.dust_taken_off", quantity.Mass, "g", "").Needed(),
			forms.Amount("opening_m", "form.opening_of_the_sieve", quantity.Length, "mm", "form.dust_opening_help"),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Dedusted).Lot) },
	}
}

// drySheet writes down a stay in the dryer. Two weighings make it a measurement.
func drySheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "dried", Title: "form.dry_a_lot", Submit: "form.record_the_drying", Place: "stock", Timed: true,
		Intro: "form.dried_intro",
		Groups: []forms.Group{
			{Fields: []forms.Field{
				lotField(d, "form.lot", Granulate...),
				{Path: "way", Label: "form.dried_in", As: forms.AsSelect, Must: true, Choices: []forms.Option{{Value: "", Say: "form.choose"},
					{Value: string(shop.Oven), Say: "form.an_oven"}, {Value: string(shop.Dehydrator), Say: "form.a_food_dehydrator"}, {Value: string(shop.DesiccantBox), Say: "form.a_box_with_desiccant"},
					{Value: string(shop.DryAir), Say: "form.a_dryer_with_dry_air"}, {Value: string(shop.OtherWay), Say: "form.something_else"}}},
				forms.Amount("temperature_k", "form.temperature", quantity.Temperature, "°C", "").Needed(),
				forms.Amount("time_s", "form.time", quantity.Duration, "h", "").Needed(),
				forms.Amount("in_kg", "form.weighed_before", quantity.Mass, "g", ""),
				forms.Amount("out_kg", "form.weighed_after", quantity.Mass, "g", "form.dried_weighed_help"),
			}},
			{Title: "form.what_else_is_known", Folded: true, Fields: []forms.Field{
				forms.Amount("dew_point_k", "form.dew_point_of_its_air", quantity.Temperature, "°C", "form.if_the_dryer_shows_it"),
				forms.Amount("bed_m", "form.depth_of_the_heap", quantity.Length, "mm", ""),
				forms.Amount("energy_j", "form.energy_by_the_meter", quantity.Energy, "Wh", "form.meter_drying"),
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Dried).Lot) },
	}
}

// jarSheet fills a jar and weighs it.
func jarSheet(d *desk.Desk) forms.Sheet {
	sh := forms.Sheet{
		Kind: "jar_weighed", Title: "form.weigh_a_jar_of_it", Submit: "form.record_the_jar", Place: "stock", Timed: true,
		Intro: "form.jar_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			lotField(d, "form.lot", Granulate...),
			forms.Amount("jar_m3", "form.the_jar_holds", quantity.Volume, "ml", "form.jar_volume_help").Needed(),
			forms.Amount("poured_kg", "form.poured_in_struck_off", quantity.Mass, "g", "form.without_the_jar").Needed(),
			forms.Amount("tapped_kg", "form.tapped", quantity.Mass, "g", "form.tapped_help"),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.JarWeighed).Lot) },
	}
	for _, r := range d.State.Records.LatestOf(&shop.JarWeighed{}) {
		if j, ok := r.Body.(*shop.JarWeighed); ok { // the same jar again
			f := &sh.Groups[0].Fields[1]
			f.First = d.Say.Typed(f.Kind, j.Jar, f.Unit)
			break
		}
	}
	return sh
}

// flowSheet writes down what a printer gave in a minute, or the cuts of a
// melt-flow test.
func flowSheet(d *desk.Desk) forms.Sheet {
	printers := []forms.Option{{Value: "", Say: "form.no_printer_option"}}
	first := d.Query("printer")
	for _, p := range d.State.Printers {
		if !p.Retired {
			printers = append(printers, forms.Option{Value: p.Name, Say: p.Name})
		}
	}
	if first == "" && len(printers) == 2 {
		first = printers[1].Value
	}
	return forms.Sheet{
		Kind: "flow_tested", Title: "form.test_the_flow", Submit: "form.record_the_flow", Place: "stock", Timed: true,
		Intro: "form.flow_test_intro",
		Groups: []forms.Group{
			{Fields: []forms.Field{
				lotField(d, "form.lot", Granulate...),
				{Path: "printer", Label: "form.printer", As: forms.AsSelect, Choices: printers, First: first},
				forms.Amount("temperature_k", "form.temperature_of_the_melt", quantity.Temperature, "°C", ""),
				forms.Amount("screw_rad_s", "form.speed_of_the_screw", quantity.Rotation, "rpm", ""),
				forms.Amount("time_s", "form.time", quantity.Duration, "s", ""),
				forms.Amount("extruded_kg", "form.what_came_out", quantity.Mass, "g", ""),
			}},
			{Title: "form.melt_flow_test_instead", Folded: true, Intro: "form.melt_flow_intro", Fields: []forms.Field{
				forms.Amount("load_kg", "form.piston_load", quantity.Mass, "kg", "form.2_16_kg_is_usual"),
				forms.Amount("cut_s", "form.time_between_two_cuts", quantity.Duration, "s", ""),
				{Path: "cuts_kg", Label: "form.masses_of_the_cuts", As: forms.AsList, Kind: quantity.Mass, Unit: "g", Help: "form.cuts_help"},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.FlowTested).Lot) },
	}
}
