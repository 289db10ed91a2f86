package fields

import "hopperful/quantity"

// mill is a mill as its owner knows it.
var mill = []Field{
	{Path: "mill.name", As: Text, Label: "field.its_name", Help: "field.as_people_call_it", Must: true, Flag: "name", Usage: "field.what_you_call_it"},
	{Path: "mill.rated_w", As: Amount, Kind: quantity.Power, Unit: "W", Lo: 1, Hi: mostWatts, Words: "number.rated_power",
		Label: "field.rated_power", Help: "field.motor_label_help", Flag: "rated", Usage: "field.rated_usage"},
	{Path: "mill.chamber_m3", As: Amount, Kind: quantity.Volume, Unit: "L", Lo: leastHold, Hi: mostHold, Words: "number.chamber", Label: "field.chamber_volume",
		Help: "field.pot_volume_help",
		Flag: "chamber", Usage: "field.chamber_usage"},
	{Path: "mill.screen.hole_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-4, Hi: 0.1, Words: "number.screen_hole",
		Label: "field.hole_of_the_screen", Help: "field.screen_help", Flag: "hole", Usage: "field.hole_of_the_screen_2mm"},
	{Path: "mill.jar_m3", As: Amount, Kind: quantity.Volume, Unit: "L", Lo: leastHold, Hi: mostHold, Words: "number.jar",
		Label: "field.container_under_the_outlet", Help: "field.jar_help", Flag: "jar", Usage: "field.container_under_the_outlet_300ml"},
	{Path: "mill.inlet_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-3, Hi: 2, Words: "number.inlet",
		Label: "field.inlet_label", Flag: "inlet", Usage: "field.widest_piece_that_goes_in"},
	{Path: "mill.thermometer", As: Pick, Label: "field.temperatures_are_read", Flag: "thermometer", Usage: "field.probe_usage",
		Pick: []Choice{{"", "field.not_at_all"}, {"outer wall", "field.at_the_outer_wall"}, {"in the charge", "field.in_the_charge"}}},
	guard("mill.protective_earth", "field.earthed_label", "earth", "field.metal_parts_are_earthed"),
	guard("mill.lid_switch", "field.lid_switch", "lid-switch", "field.lid_switch_usage"),
	guard("mill.residual_current", "field.residual_current", "rcd", "field.residual_current_usage"),
	guard("mill.magnet", "field.magnet_label", "magnet", "field.a_magnet_at_the_outlet"),
	{Path: "mill.controller.levels", As: Whole, Kind: quantity.Count, Lo: 1, Hi: 1000, Words: "number.number_of_levels",
		Label: "field.number_of_levels", Help: "field.the_highest_is_full_power", Flag: "controller-levels", Usage: "field.levels_usage"},
	{Path: "mill.controller.continuous_w", As: Amount, Kind: quantity.Power, Unit: "W", Lo: 1, Hi: mostWatts, Words: "number.continuous_power",
		Label: "field.controller_rating", Help: "field.motor_rating_help", Flag: "controller-continuous", Usage: "field.controller_rating_usage"},
	{Path: "mill.controller.watts", As: Levels, Kind: quantity.Power, Hi: mostWatts, Words: "number.measured_power",
		Label: "field.watts_while_grinding", Help: "field.level_lines_usage", Flag: "watts", Usage: "field.measured_while_grinding_level_power"},
	{Path: "mill.controller.idle_watts", As: Levels, Kind: quantity.Power, Hi: mostWatts, Words: "number.measured_power",
		Label: "field.watts_while_empty", Help: "field.level_lines_help", Flag: "idle-watts", Usage: "field.measured_empty_level_power"},
	{Path: "mill.wall_metal", As: Pick, Label: "field.pot_and_plate_are_of", Flag: "wall-metal", Usage: "field.pot_matter_usage",
		Pick: []Choice{{"", "field.dont_know_or_another"}, {"steel", "field.steel"}, {"stainless steel", "field.stainless_steel"}, {"aluminium", "field.aluminium"}, {"cast iron", "field.cast_iron"}}},
	{Path: "mill.wall_kg", As: Amount, Kind: quantity.Mass, Unit: "kg", Lo: 0.01, Hi: Heaviest, Words: "number.mass_of_the_wall",
		Label: "field.pot_mass", Flag: "wall-mass", Usage: "field.pot_mass_help"},
	{Path: "mill.painted", As: YesNo, Label: "field.painted_or_dark_outside", Help: "field.dark_walls_help", Flag: "painted", Usage: "field.dark_walls_usage"},
	{Path: "mill.rotor_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 0.01, Hi: 2, Words: "number.rotor", Label: "field.rotor_tip_to_tip", Flag: "rotor", Usage: "field.blade_tip_to_tip"},
	{Path: "mill.rotor_kg", As: Amount, Kind: quantity.Mass, Unit: "kg", Lo: 1e-3, Hi: Heaviest, Words: "number.mass_of_the_rotor",
		Label: "field.mass_of_rotor_and_blades", Flag: "rotor-mass", Usage: "field.rotor_usage"},
	{Path: "mill.rotor_rad_s", As: Amount, Kind: quantity.Rotation, Unit: "rpm", Lo: 0.1, Hi: 60000 * rpm, Words: "number.speed_of_the_rotor",
		Label: "field.rotor_speed_at_full_power", Flag: "speed", Usage: "field.at_full_power_14000rpm"},
	{Path: "mill.continuous_w", As: Amount, Kind: quantity.Power, Unit: "W", Lo: 1, Hi: mostWatts, Words: "number.continuous_power",
		Label: "field.motor_rating", Help: "field.controller_rating_help", Flag: "continuous", Usage: "field.motor_rating_usage"},
	{Path: "mill.screen.open_share", As: Amount, Kind: quantity.Share, Unit: "%", Lo: 0.01, Hi: 0.95, Words: "number.open_share_of_the_screen",
		Label: "field.open_share_of_the_screen", Help: "field.hole_area_over_sheet_area", Flag: "open-share", Usage: "field.open_share_usage"},
	{Path: "mill.noise_db", As: Amount, Kind: quantity.SoundLevel, Unit: "dB(A)", Lo: 30, Hi: 140, Words: "number.noise",
		Label: "field.noise_at_your_ear", Help: "field.while_it_grinds", Flag: "noise", Usage: "field.noise_usage"},
	{Path: "mill.retired", As: Check, Label: "field.retired_label", Flag: "retired", Usage: "field.no_longer_used"},
	{Path: "means", As: Pick, Label: "field.what_is_different_now", Flag: "means", Usage: "field.change_usage", Pick: []Choice{
		{"", "field.change_parts"}, {"change", "field.change_now"}, {"correction", "field.change_always"}}},
}

// guard is what keeps a person whole. A missing answer never counts as yes.
func guard(path, label, flag, usage string) Field {
	return Field{Path: path, As: YesNo, Label: label, Flag: flag, Usage: usage}
}
