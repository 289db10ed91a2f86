package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// shopSheet names the shop and its surroundings.
func shopSheet(d *desk) sheet {
	return sheet{
		Kind: "shop_set", Title: "form.the_shop_title", Submit: "form.keep_these_settings", Place: "machines",
		Groups: []group{{Fields: []field{
			text("name", "form.name_of_the_shop", ""),
			text("currency", "form.currency", "form.three_letters_such_as_eur"),
			amount("electricity_per_j", "form.price_of_electricity", quantity.MoneyPerEnergy, "per kWh", ""),
			amount("room_k", "form.usual_room_temperature", quantity.Temperature, "°C", ""),
			amount("room_humidity", "form.usual_humidity_of_the_room", quantity.Humidity, "%RH", ""),
			amount("handling_s", "form.time_to_empty_weigh_and", quantity.Duration, "min", ""),
			{Path: "decimal_comma", Label: "form.write_numbers_with_a_decimal", As: asCheck},
		}}, {Title: "form.limits_of_verdicts", Folded: true, Intro: "form.no_book_gives_these_they", Fields: []field{
			amount("most_dust", "form.most_dust_in_what_is", quantity.Share, "%", "form.default_tenth"),
			amount("most_metal", "form.most_metal_left_in_it", quantity.Share, "mg/kg", "form.our_default_10_mg_kg"),
			amount("chip_share", "form.share_of_the_nozzle_from", quantity.Share, "%", "form.default_third"),
			amount("least_strength", "form.strength_a_part_must_keep", quantity.Share, "%", "form.of_a_fresh_prints_our"),
			amount("most_pressure_pa", "form.pressure_the_printers_head_bears", quantity.Pressure, "MPa", "form.our_default_about_12_mpa"),
			amount("most_blocked", "form.prints_that_may_meet_a", quantity.Share, "%", "form.our_default_5_one_in"),
			amount("least_sure", "form.how_sure_of_a_polymer", quantity.Share, "%", "form.default_nine_tenths"),
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// personSheet adds a person, or says that one no longer works here.
func personSheet(*desk) sheet {
	return sheet{
		Kind: "person_set", Title: "form.a_person", Submit: "form.keep_this_person", Place: "machines",
		Intro: "form.people_are_named_on_records",
		Groups: []group{{Fields: []field{
			text("name", "form.name", "").must(),
			{Path: "retired", Label: "form.no_longer_works_here", As: asCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// needSheet is a typed or corrected need.
func needSheet(d *desk) sheet {
	return sheet{
		Kind: "need_set", Title: "form.a_need", Submit: "form.keep_this_need", Place: "plan",
		Groups: []group{{Fields: []field{
			text("need.name", "form.what_will_be_printed", "").must(),
			amount("need.mass_kg", "form.plastic_it_eats", quantity.Mass, "g", "form.empty_reckons_it_from_the"),
			d.polymerField("need.polymer", ""),
			d.colourField("need.colour"),
			{Path: "need.rgb", Label: "form.its_colour_on_the_screen", As: asColour, Help: "form.a_blend_for_it_is"},
			{Path: "need.from", As: asHidden, First: "typed"},
			{Path: "need.done", Label: "form.printed_or_given_up", As: asCheck},
		}}},
		After: func(_ *shop.State, r shop.Record) string { return planPath(r.Body.(*shop.NeedSet).Need.Name) },
	}
}

func planPath(need string) string { return "/plan/" + pathSegment(need) }
