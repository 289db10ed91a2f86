package web

import (
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// scaleSheet describes a weighing instrument.
func scaleSheet(*desk) sheet {
	return sheet{
		Kind: "scale_set", Title: "A scale", Submit: "Keep this scale", Place: "machines",
		Intro: "Its smallest step decides which differences mean something.",
		Groups: []group{{Fields: []field{
			text("scale.name", "Its name", "").must().first("kitchen scale"),
			amount("scale.resolution_kg", "Smallest step it shows", quantity.Mass, "g", "A kitchen scale shows 1 g.").must().first("1"),
			amount("scale.capacity_kg", "Most it carries", quantity.Mass, "kg", ""),
			{Path: "scale.retired", Label: "No longer used", As: asCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// printerSheet describes a granule-fed printer.
func printerSheet(*desk) sheet {
	return sheet{
		Kind: "printer_set", Title: "A printer", Submit: "Keep this printer", Place: "machines",
		Intro: "Everything but the name may stay empty.",
		Groups: []group{
			{Fields: []field{
				text("printer.name", "Its name", "").must(),
				amount("printer.nozzle_m", "Nozzle bore", quantity.Length, "mm", ""),
				amount("printer.largest_grain_m", "Largest grain its feed takes", quantity.Length, "mm", ""),
			}},
			{Title: "Screw, heaters and hopper", Folded: true, Fields: []field{
				amount("printer.screw_m", "Barrel bore", quantity.Length, "mm", ""),
				amount("printer.per_turn_m3", "Melt a turn of the screw gives", quantity.Volume, "mm³", "If you measured it."),
				amount("printer.heaters_w", "All barrel heaters together", quantity.Power, "W", ""),
				amount("printer.idle_w", "Power it draws hot and idle", quantity.Power, "W", "A plug-in meter tells, the bed off: what the barrel loses to the room."),
				amount("printer.hopper_m3", "Hopper volume", quantity.Volume, "L", ""),
				amount("printer.hopper_exit_m", "Narrowest opening of the hopper", quantity.Length, "mm", ""),
				{Path: "printer.retired", Label: "No longer used", As: asCheck},
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
		Kind: "dryer_set", Title: "A dryer", Submit: "Keep this dryer", Place: "machines",
		Intro: "How to dry a lot is answered for the dryers you have. Everything but name and kind may stay empty.",
		Groups: []group{{Fields: []field{
			text("dryer.name", "Its name", "").must(),
			{Path: "dryer.way", Label: "What it is", As: asSelect, Must: true, Choices: append([]option{{"", "choose"}}, kinds...)},
			amount("dryer.temperature_k", "The hottest it holds", quantity.Temperature, "°C", "A box without a heater: leave it empty."),
			amount("dryer.bed_m", "How deep the granulate lies in it", quantity.Length, "mm", ""),
			amount("dryer.air_m3_s", "Air it blows through the granulate", quantity.VolumeFlow, "m³/h", ""),
			amount("dryer.dew_point_k", "Dew point of its air", quantity.Temperature, "°C", "Of a dryer with dry air."),
			amount("dryer.box_humidity", "Humidity the desiccant keeps", quantity.Humidity, "%RH", "Of a box with desiccant."),
			{Path: "dryer.retired", Label: "No longer used", As: asCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}
