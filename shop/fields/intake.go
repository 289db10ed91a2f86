package fields

import "hopperful/quantity"

// takenIn is a bin of scrap or a bag of granulate that came in.
var takenIn = []Field{
	{Path: "mass_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Lo: Grain, Hi: Heaviest, Words: "number.mass", Must: true,
		Label: "field.how_much", Help: "field.what_the_scale_shows_less_the"},
	{Path: "class", As: Pick, Label: "field.what_is_it", Must: true, Flag: "class", Usage: "field.what_state_it_is_in", Pick: []Choice{
		{"scrap", "field.scrap_before_grinding"}, {"virgin", "field.virgin_granulate"}, {"regrind", "field.ground_already"}, {"blend", "field.a_blend"}, {"print", "field.a_print"}}},
	{Path: "polymer", As: Text, Label: "field.plastic", Help: "field.empty_when_nobody_knows_unknown_plastic",
		Flag: "polymer", Usage: "field.pla_petg_abs_leave_out_when"},
	{Path: "colour", As: Text, Label: "field.colour", Flag: "colour", Usage: "field.your_word_for_the_colour"},
	{Path: "pieces.largest_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-4, Hi: 3, Words: "number.largest_piece",
		Label: "field.longest_side_of_the_largest_piece", Flag: "largest", Usage: "field.largest_dimension_of_the_largest_piece"},
	{Path: "pieces.wall_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-5, Hi: 0.5, Words: "number.wall_of_the_prints",
		Label: "field.wall_thickness_of_the_prints", Help: "field.usually_two_or_three_times_the", Flag: "wall", Usage: "field.wall_usage"},
	{Path: "pieces.infill", As: Amount, Kind: quantity.Share, Unit: "%", Hi: 1, Words: "number.infill",
		Label: "field.infill", Help: "field.0_is_hollow_100_is_solid", Flag: "infill", Usage: "field.how_full_they_are_0_hollow"},
	{Path: "metal", As: Text, Label: "field.metal_in_it", Help: "field.inserts_screws_magnets_you_can_see", Flag: "metal", Usage: "field.inserts_screws_magnets_seen_in_it"},
	{Path: "name", As: Text, Label: "field.your_own_name_for_it", Help: "field.for_example_where_it_came_from", Flag: "name", Usage: "field.your_own_words_for_it"},
	{Path: "sure", As: Amount, Kind: quantity.Share, Unit: "%", Hi: 1, Words: "number.certainty",
		Label: "field.how_sure_you_are_of_the_plastic", Help: "field.below_90_it_is_not_ground", Flag: "sure", Usage: "field.how_sure_you_are_of_the"},
	{Path: "halogen", As: YesNo, Label: "field.could_it_contain_chlorine_or_a",
		Help: "field.pvc_and_many_cable_and_appliance", Flag: "halogen", Usage: "field.suspected_to_hold_chlorine_or_a"},
	{Path: "rgb", As: Colour, Label: "field.its_colour_on_the_screen", Help: "field.a_first_guess_for_blends_take",
		Flag: "rgb", Usage: "field.the_colour_as_rrggbb"},
	{Path: "price", As: Amount, Kind: quantity.Money, Hi: 1e9, Words: "number.price", Label: "field.price_label", Flag: "price", Usage: "field.paid_for_all_of_it"},
	{Path: "lot", As: Lot, Label: "field.its_own_label", Help: "field.empty_gives_the_next_free_one", Flag: "lot", Usage: "field.label_of_the_lot_empty_the"},
}
