package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// The classes of lots that some records are about.
var (
	granulate = []shop.Class{shop.Regrind, shop.Virgin, shop.Blend}
	anything  = []shop.Class{shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print}
)

// lotField asks which lot, the one in the address first.
func (d *desk) lotField(path, label string, classes ...shop.Class) field {
	return field{Path: path, Label: label, As: asSelect, Must: true, First: d.query("lot"), Choices: d.lotOptions("form.choose_a_lot", classes...)}
}

// mostRuns is how many runs are offered.
const mostRuns = 8

// runField asks which run of a mill it came out of; the newest into the lot of
// the address are offered, or into any.
func (d *desk) runField() field {
	f := field{Path: "run", Label: "form.out_of_the_run", As: asWhole, Help: "form.the_number_of_that_runs"}
	for _, r := range d.state.Records.LatestOf(&shop.Ground{}) {
		if len(f.Choices) == mostRuns {
			break
		}
		if g, ok := r.Body.(*shop.Ground); ok && (d.query("lot") == "" || d.query("lot") == string(g.Into)) {
			f.Choices = append(f.Choices, option{toString(r.ID), d.clock(r.At) + ", " + d.say.Say(shop.Describe(g))})
		}
	}
	return f
}

// magnetSheet writes down what hung on the magnet.
func magnetSheet(d *desk) sheet {
	return sheet{
		Kind: "passed_magnet", Title: "form.past_the_magnet", Submit: "form.record_the_magnet", Place: "stock", Timed: true,
		Intro: "form.let_it_run_over_the",
		Groups: []group{{Fields: []field{
			d.lotField("lot", "form.lot", granulate...),
			amount("metal_kg", "form.metal_caught", quantity.Mass, "g", "form.0_if_nothing_hung_on").must(),
			amount("passed_kg", "form.let_over_the_magnet", quantity.Mass, "g", "form.empty_if_nobody_weighed_it"),
			d.runField(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.PassedMagnet).Lot) },
	}
}

// dedustSheet takes the dust off a lot.
func dedustSheet(d *desk) sheet {
	return sheet{
		Kind: "dedusted", Title: "form.take_the_dust_off", Submit: "form.record_the_dust", Place: "stock", Timed: true,
		Intro: "form.sieve_or_winnow_it_and",
		Groups: []group{{Fields: []field{
			d.lotField("lot", "form.lot", granulate...),
			amount("dust_kg", "form.dust_taken_off", quantity.Mass, "g", "").must(),
			amount("opening_m", "form.opening_of_the_sieve", quantity.Length, "mm", "form.empty_if_it_was_blown"),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Dedusted).Lot) },
	}
}

// drySheet writes down a stay in the dryer. Two weighings make it a measurement.
func drySheet(d *desk) sheet {
	return sheet{
		Kind: "dried", Title: "form.dry_a_lot", Submit: "form.record_the_drying", Place: "stock", Timed: true,
		Intro: "form.weighed_before_and_after_a",
		Groups: []group{
			{Fields: []field{
				d.lotField("lot", "form.lot", granulate...),
				{Path: "way", Label: "form.dried_in", As: asSelect, Must: true, Choices: []option{{"", "form.choose"},
					{string(shop.Oven), "form.an_oven"}, {string(shop.Dehydrator), "form.a_food_dehydrator"}, {string(shop.DesiccantBox), "form.a_box_with_desiccant"},
					{string(shop.DryAir), "form.a_dryer_with_dry_air"}, {string(shop.OtherWay), "form.something_else"}}},
				amount("temperature_k", "form.temperature", quantity.Temperature, "°C", "").must(),
				amount("time_s", "form.time", quantity.Duration, "h", "").must(),
				amount("in_kg", "form.weighed_before", quantity.Mass, "g", ""),
				amount("out_kg", "form.weighed_after", quantity.Mass, "g", "form.warm_straight_out_of_the"),
			}},
			{Title: "form.what_else_is_known", Folded: true, Fields: []field{
				amount("dew_point_k", "form.dew_point_of_its_air", quantity.Temperature, "°C", "form.if_the_dryer_shows_it"),
				amount("bed_m", "form.depth_of_the_heap", quantity.Length, "mm", ""),
				amount("energy_j", "form.energy_by_the_meter", quantity.Energy, "Wh", "form.meter_drying"),
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Dried).Lot) },
	}
}

// jarSheet fills a jar and weighs it.
func jarSheet(d *desk) sheet {
	sh := sheet{
		Kind: "jar_weighed", Title: "form.weigh_a_jar_of_it", Submit: "form.record_the_jar", Place: "stock", Timed: true,
		Intro: "form.how_dense_it_lies_decides",
		Groups: []group{{Fields: []field{
			d.lotField("lot", "form.lot", granulate...),
			amount("jar_m3", "form.the_jar_holds", quantity.Volume, "ml", "form.what_water_it_takes_filled").must(),
			amount("poured_kg", "form.poured_in_struck_off", quantity.Mass, "g", "form.without_the_jar").must(),
			amount("tapped_kg", "form.tapped_down_and_filled_up", quantity.Mass, "g", "form.tap_some_fifty_times_fill"),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.JarWeighed).Lot) },
	}
	for _, r := range d.state.Records.LatestOf(&shop.JarWeighed{}) {
		if j, ok := r.Body.(*shop.JarWeighed); ok { // the same jar again
			f := &sh.Groups[0].Fields[1]
			f.First = d.say.Typed(f.Kind, j.Jar, f.Unit)
			break
		}
	}
	return sh
}

// flowSheet writes down what a printer gave in a minute, or the cuts of a
// melt-flow test.
func flowSheet(d *desk) sheet {
	printers := []option{{"", "form.no_printer_a_melt_flow"}}
	first := d.query("printer")
	for _, p := range d.state.Printers {
		if !p.Retired {
			printers = append(printers, option{p.Name, p.Name})
		}
	}
	if first == "" && len(printers) == 2 {
		first = printers[1].Value
	}
	return sheet{
		Kind: "flow_tested", Title: "form.test_the_flow", Submit: "form.record_the_flow", Place: "stock", Timed: true,
		Intro: "form.let_the_printer_run_a",
		Groups: []group{
			{Fields: []field{
				d.lotField("lot", "form.lot", granulate...),
				{Path: "printer", Label: "form.printer", As: asSelect, Choices: printers, First: first},
				amount("temperature_k", "form.temperature_of_the_melt", quantity.Temperature, "°C", ""),
				amount("screw_rad_s", "form.speed_of_the_screw", quantity.Rotation, "rpm", ""),
				amount("time_s", "form.time", quantity.Duration, "s", ""),
				amount("extruded_kg", "form.what_came_out", quantity.Mass, "g", ""),
			}},
			{Title: "form.melt_flow_test_instead", Folded: true, Intro: "form.with_a_piston_and_a", Fields: []field{
				amount("load_kg", "form.load_on_the_melt_piston", quantity.Mass, "kg", "form.2_16_kg_is_usual"),
				amount("cut_s", "form.time_between_two_cuts", quantity.Duration, "s", ""),
				{Path: "cuts_kg", Label: "form.masses_of_the_cuts", As: asList, Kind: quantity.Mass, Unit: "g", Help: "form.one_a_line_or_with"},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.FlowTested).Lot) },
	}
}
