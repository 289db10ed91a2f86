package fields

import "hopperful/quantity"

// takenIn is a bin of scrap or a bag of granulate that came in.
var takenIn = []Field{
	{Path: "mass_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Lo: Grain, Hi: Heaviest, Words: "number.mass", Must: true,
		Label: "field.how_much", Help: "field.scrap_mass_help"},
	{Path: "class", As: Pick, Label: "field.what_is_it", Must: true, Flag: "class", Usage: "field.what_state_it_is_in", Pick: []Choice{
		{"scrap", "field.scrap_before_grinding"}, {"virgin", "field.virgin_granulate"}, {"regrind", "field.ground_already"}, {"blend", "field.a_blend"}, {"print", "field.a_print"}}},
	{Path: "polymer", As: Text, Label: "field.plastic", Help: "field.polymer_help",
		Flag: "polymer", Usage: "field.polymer_usage"},
	{Path: "colour", As: Text, Label: "field.colour", Flag: "colour", Usage: "field.your_word_for_the_colour"},
	{Path: "pieces.largest_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-4, Hi: 3, Words: "number.largest_piece",
		Label: "field.longest_side", Flag: "largest", Usage: "field.longest_side_usage"},
	{Path: "pieces.wall_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-5, Hi: 0.5, Words: "number.wall_of_the_prints",
		Label: "field.wall_thickness_of_the_prints", Help: "field.feed_grain_help", Flag: "wall", Usage: "field.wall_usage"},
	{Path: "pieces.infill", As: Amount, Kind: quantity.Share, Unit: "%", Hi: 1, Words: "number.infill",
		Label: "field.infill", Help: "field.infill_help", Flag: "infill", Usage: "field.infill_usage"},
	{Path: "metal", As: Text, Label: "field.metal_in_it", Help: "field.inserts_help", Flag: "metal", Usage: "field.inserts_usage"},
	{Path: "name", As: Text, Label: "field.your_own_name_for_it", Help: "field.origin_help", Flag: "name", Usage: "field.your_own_words_for_it"},
	{Path: "sure", As: Amount, Kind: quantity.Share, Unit: "%", Hi: 1, Words: "number.certainty",
		Label: "field.sureness", Help: "field.sureness_help", Flag: "sure", Usage: "field.sureness_usage"},
	{Path: "halogen", As: YesNo, Label: "field.chlorine",
		Help: "field.chlorine_help", Flag: "halogen", Usage: "field.chlorine_usage"},
	{Path: "rgb", As: Colour, Label: "field.its_colour_on_the_screen", Help: "field.colour_guess_help",
		Flag: "rgb", Usage: "field.the_colour_as_rrggbb"},
	{Path: "price", As: Amount, Kind: quantity.Money, Hi: 1e9, Words: "number.price", Label: "field.price_label", Flag: "price", Usage: "field.paid_for_all_of_it"},
	{Path: "lot", As: Lot, Label: "field.its_own_label", Help: "field.label_help", Flag: "lot", Usage: "field.label_usage"},
}
