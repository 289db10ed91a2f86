package sheets

import (
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/quantity"
	"hopperful/shop"
)

// shopSheet names the shop and its surroundings.
func shopSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "shop_set", Title: "form.the_shop_title", Submit: "form.keep_these_settings", Place: "machines",
		Groups: []forms.Group{{Fields: []forms.Field{
			forms.Text("name", "form.name_of_the_shop", ""),
			forms.Text("currency", "form.currency", "form.three_letters_such_as_eur"),
			forms.Amount("electricity_per_j", "form.price_of_electricity", quantity.MoneyPerEnergy, "per kWh", ""),
			forms.Amount("room_k", "form.usual_room_temperature", quantity.Temperature, "°C", ""),
			forms.Amount("room_humidity", "form.usual_humidity_of_the_room", quantity.Humidity, "%RH", ""),
			forms.Amount("handling_s", "form.time_between_runs", quantity.Duration, "min", ""),
			{Path: "decimal_comma", Label: "form.decimal_comma", As: forms.AsCheck},
		}}, {Title: "form.limits_of_verdicts", Folded: true, Intro: "form.own_limits_intro", Fields: []forms.Field{
			forms.Amount("most_dust", "form.dust_most", quantity.Share, "%", "form.default_tenth"),
			forms.Amount("most_metal", "form.most_metal_left_in_it", quantity.Share, "mg/kg", "form.our_default_10_mg_kg"),
			forms.Amount("chip_share", "form.chip_nozzle_share", quantity.Share, "%", "form.default_third"),
			forms.Amount("least_strength", "form.strength_a_part_must_keep", quantity.Share, "%", "form.melt_flow_default_help"),
			forms.Amount("most_pressure_pa", "form.pressure_the_printers_head_bears", quantity.Pressure, "MPa", "form.our_default_about_12_mpa"),
			forms.Amount("most_blocked", "form.chip_prints_most", quantity.Share, "%", "form.blocking_chance_help"),
			forms.Amount("least_sure", "form.polymer_sureness_least", quantity.Share, "%", "form.default_nine_tenths"),
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// personSheet adds a person, or says that one no longer works here.
func personSheet(*desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "person_set", Title: "form.a_person", Submit: "form.keep_this_person", Place: "machines",
		Intro: "form.person_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			forms.Text("name", "form.name", "").Needed(),
			{Path: "retired", Label: "form.no_longer_works_here", As: forms.AsCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// needSheet is a typed or corrected need.
func needSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "need_set", Title: "form.a_need", Submit: "form.keep_this_need", Place: "plan",
		Groups: []forms.Group{{Fields: []forms.Field{
			forms.Text("need.name", "form.what_will_be_printed", "").Needed(),
			forms.Amount("need.mass_kg", "form.plastic_it_eats", quantity.Mass, "g", "form.need_mass_help"),
			PolymerField(d, "need.polymer", ""),
			ColourField(d, "need.colour"),
			{Path: "need.rgb", Label: "form.its_colour_on_the_screen", As: forms.AsColour, Help: "form.wanted_colour_help"},
			{Path: "need.from", As: forms.AsHidden, First: "typed"},
			{Path: "need.done", Label: "form.printed_or_given_up", As: forms.AsCheck},
		}}},
		After: func(_ *shop.State, r shop.Record) string { return address.Plan(r.Body.(*shop.NeedSet).Need.Name) },
	}
}
