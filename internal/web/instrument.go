package web

import (
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// scaleSheet describes a weighing instrument.
func scaleSheet(d *desk) sheet {
	return sheet{
		Kind: "scale_set", Title: "form.a_scale", Submit: "form.keep_this_scale", Place: "machines",
		Intro: "form.its_smallest_step_decides_which",
		Groups: []group{{Fields: []field{
			text("scale.name", "form.its_name", "").must().first(d.say.Line("form.kitchen_scale")),
			amount("scale.resolution_kg", "form.smallest_step_it_shows", quantity.Mass, "g", "form.kitchen_scale_digit").must().first("1"),
			amount("scale.capacity_kg", "form.most_it_carries", quantity.Mass, "kg", ""),
			{Path: "scale.retired", Label: "form.no_longer_used", As: asCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// printerSheet describes a granule-fed printer.
func printerSheet(*desk) sheet {
	return sheet{
		Kind: "printer_set", Title: "form.a_printer", Submit: "form.keep_this_printer", Place: "machines",
		Intro: "form.everything_but_the_name_may",
		Groups: []group{
			{Fields: []field{
				text("printer.name", "form.its_name", "").must(),
				amount("printer.nozzle_m", "form.nozzle_bore", quantity.Length, "mm", ""),
				amount("printer.largest_grain_m", "form.largest_grain_its_feed_takes", quantity.Length, "mm", ""),
			}},
			{Title: "form.screw_heaters_and_hopper", Folded: true, Fields: []field{
				amount("printer.screw_m", "form.barrel_bore", quantity.Length, "mm", ""),
				amount("printer.per_turn_m3", "form.melt_a_turn_of_the", quantity.Volume, "mm³", "form.if_you_measured_it"),
				amount("printer.heaters_w", "form.all_barrel_heaters_together", quantity.Power, "W", ""),
				amount("printer.idle_w", "form.power_it_draws_hot_and", quantity.Power, "W", "form.a_plug_in_meter_tells"),
				amount("printer.hopper_m3", "form.hopper_volume", quantity.Volume, "L", ""),
				amount("printer.hopper_exit_m", "form.narrowest_opening_of_the_hopper", quantity.Length, "mm", ""),
				{Path: "printer.retired", Label: "form.no_longer_used", As: asCheck},
			}},
		},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// dryerSheet describes what dries granulate.
func dryerSheet(*desk) sheet {
	var kinds []option
	for _, w := range fit.DryWays() {
		kinds = append(kinds, option{string(w), wayOptions[w]})
	}
	return sheet{
		Kind: "dryer_set", Title: "form.a_dryer", Submit: "form.keep_this_dryer", Place: "machines",
		Intro: "form.how_to_dry_a_lot",
		Groups: []group{{Fields: []field{
			text("dryer.name", "form.its_name", "").must(),
			{Path: "dryer.way", Label: "form.what_it_is", As: asSelect, Must: true, Choices: append([]option{{"", "form.choose"}}, kinds...)},
			amount("dryer.temperature_k", "form.the_hottest_it_holds", quantity.Temperature, "°C", "form.a_box_without_a_heater"),
			amount("dryer.bed_m", "form.how_deep_the_granulate_lies", quantity.Length, "mm", ""),
			amount("dryer.air_m3_s", "form.air_it_blows_through_the", quantity.VolumeFlow, "m³/h", ""),
			amount("dryer.dew_point_k", "form.dew_point_of_its_air", quantity.Temperature, "°C", "form.of_a_dryer_with_dry"),
			amount("dryer.box_humidity", "form.humidity_the_desiccant_keeps", quantity.Humidity, "%RH", "form.of_a_box_with_desiccant"),
			{Path: "dryer.retired", Label: "form.no_longer_used", As: asCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}
