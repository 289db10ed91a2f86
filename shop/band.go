package shop

import (
	"math"

	"hopperful/fact"
	"hopperful/quantity"
	table "hopperful/shop/fields"
)

// band is what a number of a record may be. Bands are judgement: they are meant
// to catch a slip of unit or decimal point, never a rare machine, so they reach
// well past both ends of what a workshop owns.
type band struct {
	words  string // "charge"
	kind   quantity.Kind
	lo, hi float64
}

// Ends that several bands share.
const (
	grain    = table.Grain
	heaviest = table.Heaviest
	coldest  = table.Coldest
	hottest  = table.Hottest
	hour     = table.Hour
	year     = table.Year
)

var (
	mass    = func(words string) band { return band{words, quantity.Mass, 0, heaviest} }
	some    = func(words string) band { return band{words, quantity.Mass, grain, heaviest} }
	warmth  = func(words string) band { return band{words, quantity.Temperature, coldest, hottest} }
	share   = func(words string) band { return band{words, quantity.Share, 0, 1} }
	watts   = func(words string, lo float64) band { return band{words, quantity.Power, lo, 1e5} }
	solid   = func(words string) band { return band{words, quantity.Volume, 1e-10, 1} }
	holds   = func(words string) band { return band{words, quantity.Volume, 1e-5, 1} }
	flow    = func(words string) band { return band{words, quantity.VolumeFlow, 0, 1e-3} }
	extent  = func(words string, lo, hi float64) band { return band{words, quantity.Length, lo, hi} }
	anyReal = func(words string) band { return band{words, quantity.Number, -1e15, 1e15} }
)

// bands is keyed by the JSON name of a number, or, where one name means
// different things, by the Go type and the name. A test asks that every number
// of every body is here.
var bands = map[string]band{
	"charge_kg":    some("number.charge"),
	"wanted_kg":    some("number.granulate_wanted"),
	"run_s":        {"number.run", quantity.Duration, 1, 24 * hour},
	"expect_kg":    mass("number.product_expected"),
	"wall_limit_k": warmth("number.limit_of_the_wall"),
	"rest_s":       {"number.rest", quantity.Duration, 0, year},
	"metal_kg":     mass("number.metal_cut_out"),
	"waste_kg":     mass("number.waste"),
	"purged_kg":    mass("number.purge"),
	"mass_kg":      some("number.mass"),

	"moisture":        {"number.moisture", quantity.Share, 0, 0.1}, // polyamide at rest with fog holds about so much
	"Weighed.mass_kg": mass("number.mass"),
	"Part.mass_kg":    some("number.mass_of_a_heap"),
	"sure":            share("number.certainty"),

	"room_k": {"number.temperature_of_the_room", quantity.Temperature, coldest, 273.15 + 60},

	"hole_m":        extent("number.screen_hole", 1e-4, 0.1),
	"jar_m3":        holds("number.jar"),
	"level":         {"number.level", quantity.Count, 1, 1000},
	"w":             watts("number.measured_power", 0),
	"resolution_kg": {"number.scales_resolution", quantity.Mass, 1e-7, 1},
	"capacity_kg":   {"number.scales_capacity", quantity.Mass, 1e-3, 1e4},

	"nozzle_m":        extent("number.nozzle", 1e-4, 0.05),
	"screw_m":         extent("number.barrel", 3e-3, 0.3),
	"heaters_w":       watts("number.power_of_the_heaters", 1),
	"idle_w":          watts("number.power_drawn_hot_and_idle", 1),
	"hopper_m3":       holds("number.hopper"),
	"hopper_exit_m":   extent("number.exit_of_the_hopper", 1e-3, 1),
	"per_turn_m3":     {"number.volume_a_turn", quantity.Volume, 1e-12, 1e-3},
	"largest_grain_m": extent("number.largest_grain", 1e-4, 0.05),

	"volume_m3":      solid("number.volume"),
	"volume_low_m3":  solid("number.low_end_of_the_volume"),
	"volume_high_m3": solid("number.high_end_of_the_volume"),
	"print_s":        {"number.printing_time", quantity.Duration, 1, year},
	"mean_flow_m3_s": flow("number.mean_flow"),
	"peak_flow_m3_s": flow("number.peak_flow"),

	"electricity_per_j": {"number.price_of_electricity", quantity.MoneyPerEnergy, 0, 1},
	"room_humidity":     {"number.humidity_of_the_room", quantity.Humidity, 0, 1},
	"most_dust":         share("number.most_dust"),
	"most_metal":        {"number.most_metal", quantity.Share, 0, 0.01},
	"chip_share":        {"number.chip_over_nozzle", quantity.Share, 0.05, 1},
	"least_strength":    {"number.least_strength", quantity.Share, 0.01, 1},
	"most_pressure_pa":  {"number.most_pressure", quantity.Pressure, 1e5, 2e8},
	"most_blocked":      {"number.prints_meeting_metal", quantity.Share, 1e-4, 0.9},
	"least_sure":        share("number.least_certainty"),
	"handling_s":        {"number.handling_between_runs", quantity.Duration, 0, 24 * hour},
	"value":             anyReal("number.value"),

	"opening_m":       extent("number.sieve_opening", 1e-5, 0.13),
	"OnSieve.mass_kg": mass("number.mass_on_a_sieve"),
	"tare_kg":         mass("number.weight_of_the_empty_sieve"),
	"pan_kg":          mass("number.mass_in_the_pan"),
	"pan_tare_kg":     mass("number.weight_of_the_empty_pan"),
	"record":          {"number.number_of_the_record", quantity.Count, 1, 1e9},
	"Pictured.record": {"number.number_of_the_record", quantity.Count, 0, 1e9},
	"run":             {"number.number_of_the_runs_record", quantity.Count, 0, 1e9},
	"campaign":        {"number.number_of_the_campaigns_record", quantity.Count, 1, 1e9},
	"charges":         {"number.number_of_charges", quantity.Count, 0, 1e4},
	"portions":        {"number.number_of_portions", quantity.Count, 0, 100},
	"long":            {"number.number_of_long_grains", quantity.Count, 0, 1e6},
	"pictures":        {"number.number_of_pictures", quantity.Count, 1, 100},
	"grains":          {"number.number_of_grains", quantity.Count, 1, 1e7},
	"effective":       {"number.grains_equal_mass", quantity.Count, 1, 1e7},
	"largest_share":   share("number.mass_in_one_grain"),
	"shape":           {"number.hole_over_width", quantity.Number, 0.3, 1.5},
	"spread":          {"number.spread_of_all_sizes_together", quantity.Number, 0, 1},
	"seen_m":          extent("number.smallest_grain_seen", 1e-6, 0.05),
	"struck":          {"number.number_of_grains_struck_out", quantity.Count, 0, 1e6},
	"parted":          {"number.number_of_grains_parted", quantity.Count, 0, 1e6},

	"PassedMagnet.metal_kg": mass("number.metal_caught"),
	"passed_kg":             mass("number.mass_let_over_the_magnet"),
	"dust_kg":               mass("number.dust_taken_off"),

	"Dried.temperature_k": warmth("number.temperature_of_the_dryer"),
	"Dryer.temperature_k": {"number.hottest_it_holds", quantity.Temperature, 273.15, 273.15 + 200},
	"air_m3_s":            {"number.air_through_the_granulate", quantity.VolumeFlow, 1e-6, 1},
	"box_humidity":        {"number.humidity_of_the_box", quantity.Humidity, 0, 1},
	"Dried.time_s":        {"number.drying_time", quantity.Duration, 60, year},
	"in_kg":               some("number.mass_put_into_the_dryer"),
	"out_kg":              mass("number.mass_out_of_the_dryer"),
	"dew_point_k":         {"number.dew_point", quantity.Temperature, 273.15 - 100, 273.15 + 60},
	"bed_m":               extent("number.depth_of_the_bed", 1e-4, 2),
	"energy_j":            {"number.energy", quantity.Energy, 0, 1e5 * hour},

	"poured_kg": some("number.mass_poured"),
	"tapped_kg": some("number.mass_tapped"),

	"l":            {"number.lightness_l", quantity.Number, 0, 100},
	"a":            {"number.a_of_the_colour", quantity.Number, -200, 200},
	"b":            {"number.b_of_the_colour", quantity.Number, -200, 200},
	"observer":     {"number.observer", quantity.Count, 2, 10},
	"wavelength_m": extent("number.wavelength", 200e-9, 2e-6),
	"reflectance":  share("number.light_sent_back"),

	"temperature_k": {"number.temperature_of_the_melt", quantity.Temperature, 273.15 + 40, 273.15 + 450},
	"screw_rad_s":   {"number.speed_of_the_screw", quantity.Rotation, 1e-3, 1000 * 2 * math.Pi / 60},
	"time_s":        {"number.time_of_the_test", quantity.Duration, 1, 4 * hour},
	"extruded_kg":   some("number.mass_extruded"),
	"load_kg":       {"number.load", quantity.Mass, 0.01, 100},
	"cut_s":         {"number.time_of_a_cut", quantity.Duration, 0.1, hour},
	"cuts_kg":       some("number.mass_of_a_cut"),

	"before_kg": {"number.weight_of_the_part_before", quantity.Mass, 1e-4, heaviest},
	"after_kg":  {"number.weight_of_the_part_after", quantity.Mass, 1e-4, heaviest},
	"since_kg":  mass("number.mass_since_it_last_happened"),
	"low":       anyReal("number.low_end"),
	"high":      anyReal("number.high_end"),
}

// refuse says that a number is outside the band, with digits enough to see it.
func (b band) refuse(x float64) *Error {
	fine := func(name string, x float64) fact.Fact { return fact.Set(name, b.kind, x) }
	if b.kind == quantity.Mass {
		fine = fact.Weighed
	} else if text := b.kind.Plain(x); text == b.kind.Plain(b.lo) || text == b.kind.Plain(b.hi) {
		return Refuse(Invalid, "", fact.Say("shop.number_outside", fact.Word("what", b.words), fact.Exactly("value", b.kind, x), fine("low", b.lo), fine("high", b.hi)), fact.Say("shop.do_check_unit"))
	}
	return Refuse(Invalid, "", fact.Say("shop.number_outside", fact.Word("what", b.words), fine("value", x), fine("low", b.lo), fine("high", b.hi)), fact.Say("shop.do_check_unit"))
}
