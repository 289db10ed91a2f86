package sheets

import (
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// Scale describes a weighing instrument.
func Scale(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "scale_set", Title: "form.a_scale", Submit: "form.keep_this_scale", Place: "machines",
		Intro: "form.scale_digit_help",
		Groups: []forms.Group{{Fields: []forms.Field{
			forms.Text("scale.name", "form.its_name", "").Needed().Begins(d.Say.Line("form.kitchen_scale")),
			forms.Amount("scale.resolution_kg", "form.smallest_step_it_shows", quantity.Mass, "g", "form.kitchen_scale_digit").Needed().Begins("1"),
			forms.Amount("scale.capacity_kg", "form.most_it_carries", quantity.Mass, "kg", ""),
			{Path: "scale.retired", Label: "form.no_longer_used", As: forms.AsCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// printerSheet describes a granule-fed printer.
func printerSheet(*desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "printer_set", Title: "form.a_printer", Submit: "form.keep_this_printer", Place: "machines",
		Intro: "form.name_alone_needed",
		Groups: []forms.Group{
			{Fields: []forms.Field{
				forms.Text("printer.name", "form.its_name", "").Needed(),
				forms.Amount("printer.nozzle_m", "form.nozzle_bore", quantity.Length, "mm", ""),
				forms.Amount("printer.largest_grain_m", "form.largest_grain_its_feed_takes", quantity.Length, "mm", ""),
			}},
			{Title: "form.screw_heaters_and_hopper", Folded: true, Fields: []forms.Field{
				forms.Amount("printer.screw_m", "form.barrel_bore", quantity.Length, "mm", ""),
				forms.Amount("printer.per_turn_m3", "form.melt_per_turn", quantity.Volume, "mm³", "form.if_you_measured_it"),
				forms.Amount("printer.heaters_w", "form.all_barrel_heaters_together", quantity.Power, "W", ""),
				forms.Amount("printer.idle_w", "form.idle_power", quantity.Power, "W", "form.idle_power_help"),
				forms.Amount("printer.hopper_m3", "form.hopper_volume", quantity.Volume, "L", ""),
				forms.Amount("printer.hopper_exit_m", "form.narrowest_opening_of_the_hopper", quantity.Length, "mm", ""),
				{Path: "printer.retired", Label: "form.no_longer_used", As: forms.AsCheck},
			}},
		},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// dryerSheet describes what dries granulate.
func dryerSheet(*desk.Desk) forms.Sheet {
	var kinds []forms.Option
	for _, w := range fit.DryWays() {
		kinds = append(kinds, forms.Option{Value: string(w), Say: WayOptions[w]})
	}
	return forms.Sheet{
		Kind: "dryer_set", Title: "form.a_dryer", Submit: "form.keep_this_dryer", Place: "machines",
		Intro: "form.dryer_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			forms.Text("dryer.name", "form.its_name", "").Needed(),
			{Path: "dryer.way", Label: "form.what_it_is", As: forms.AsSelect, Must: true, Choices: append([]forms.Option{{Value: "", Say: "form.choose"}}, kinds...)},
			forms.Amount("dryer.temperature_k", "form.the_hottest_it_holds", quantity.Temperature, "°C", "form.dryer_heater_help"),
			forms.Amount("dryer.bed_m", "form.dryer_bed_depth", quantity.Length, "mm", ""),
			forms.Amount("dryer.air_m3_s", "form.dryer_air_flow", quantity.VolumeFlow, "m³/h", ""),
			forms.Amount("dryer.dew_point_k", "form.dew_point_of_its_air", quantity.Temperature, "°C", "form.dew_point_help"),
			forms.Amount("dryer.box_humidity", "form.humidity_the_desiccant_keeps", quantity.Humidity, "%RH", "form.of_a_box_with_desiccant"),
			{Path: "dryer.retired", Label: "form.no_longer_used", As: forms.AsCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// WayOptions name the ways to dry.
var WayOptions = map[shop.Way]string{shop.Oven: "form.an_oven", shop.Dehydrator: "form.a_food_dehydrator", shop.DesiccantBox: "form.a_box_with_desiccant", shop.DryAir: "form.a_dryer_with_dry_air"}
