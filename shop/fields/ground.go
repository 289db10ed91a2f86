package fields

import "hopperful/quantity"

// ground is one run of a mill on one charge.
var ground = []Field{
	{Path: "mill", As: Named, Label: "field.mill", Must: true, Flag: "mill", Usage: "field.mill_usage"},
	{Path: "from", As: Lot, Label: "field.ground_from", Must: true, Flag: "from", Usage: "field.from_usage"},
	{Path: "level", As: Whole, Kind: quantity.Count, Lo: 1, Hi: 1000, Words: "number.level", Label: "field.controller_level", Flag: "level", Usage: "field.level_of_the_controller"},
	{Path: "charge_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Lo: Grain, Hi: Heaviest, Words: "number.charge", Must: true,
		Label: "field.charge_in", Flag: "charge", Usage: "field.mass_put_in_90g"},
	{Path: "run_s", As: Amount, Kind: quantity.Duration, Unit: "min", Lo: 1, Hi: 24 * Hour, Words: "number.run", Must: true,
		Label: "field.run_time", Help: "field.run_time_help", Flag: "run", Usage: "field.run_time_usage"},
	{Path: "product_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Hi: Heaviest, Words: "number.product",
		Label: "field.product_out", Help: "field.product_help", Flag: "product", Usage: "field.mass_that_came_out"},
	{Path: "into", As: Lot, Label: "field.product_goes_into", Flag: "into", Usage: "field.into_usage"},
	{Path: "left_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Hi: Heaviest, Words: "number.mass_left_in_the_mill",
		Label: "field.left_in_the_mill", Help: "field.if_you_weighed_it", Flag: "left", Usage: "field.left_usage"},
	{Path: "swept_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Hi: Heaviest, Words: "number.mass_swept_up",
		Label: "field.dust_and_spill_swept_up", Flag: "swept", Usage: "field.swept_usage"},
	heat("charge_before_k", "number.temperature_of_the_charge_before", "field.charge_before", "", "charge-before"),
	heat("charge_after_k", "number.temperature_of_the_charge_after", "field.charge_after", "field.charge_after_help", "charge-after"),
	heat("wall_before_k", "number.temperature_of_the_wall_before", "field.wall_before", "", "wall-before"),
	heat("wall_after_k", "number.temperature_of_the_wall_after", "field.wall_after", "", "wall-after"),
	{Path: "room_k", As: Amount, Kind: quantity.Temperature, Unit: "°C", Lo: Coldest, Hi: 273.15 + 60, Words: "number.temperature_of_the_room",
		Label: "field.room", Flag: "room", Usage: "field.temperature_of_the_room"},
	{Path: "rest_before_s", As: Amount, Kind: quantity.Duration, Unit: "min", Hi: 10 * Year, Words: "number.rest_before_the_run",
		Label: "field.rest_since_the_run_before", Flag: "rest", Usage: "field.rest_usage"},
	{Path: "energy_j", As: Amount, Kind: quantity.Energy, Unit: "kWh", Hi: 1e5 * Hour, Words: "number.energy",
		Label: "field.energy_by_the_meter", Flag: "energy", Usage: "field.energy_usage"},
	{Path: "hole_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-4, Hi: 0.1, Words: "number.screen_hole",
		Label: "field.charge_hole", Flag: "hole", Usage: "field.charge_hole_usage"},
	{Path: "stalled", As: Check, Label: "field.the_blade_stalled", Flag: "stalled", Usage: "field.the_blade_stood_still"},
	{Path: "emptied", As: Check, Label: "field.mill_was_emptied", Flag: "emptied", Usage: "field.left_was_taken_out"},
}

// heat is a temperature read at the machine; the refusal's words are the flag's.
func heat(path, words, label, help, flag string) Field {
	return Field{Path: path, As: Amount, Kind: quantity.Temperature, Unit: "°C", Lo: Coldest, Hi: Hottest, Words: words, Label: label, Help: help, Flag: flag, Usage: words}
}
