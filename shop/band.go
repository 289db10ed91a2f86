package shop

import (
	"math"
	"strconv"
	"strings"

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
	"charge_kg":    some("charge"),
	"wanted_kg":    some("granulate wanted"),
	"run_s":        {"run", quantity.Duration, 1, 24 * hour},
	"expect_kg":    mass("product expected"),
	"wall_limit_k": warmth("limit of the wall"),
	"rest_s":       {"rest", quantity.Duration, 0, year},
	"metal_kg":     mass("metal cut out"),
	"waste_kg":     mass("waste"),
	"purged_kg":    mass("purge"),
	"mass_kg":      some("mass"),

	"moisture":        {"moisture", quantity.Share, 0, 0.1}, // polyamide at rest with fog holds about so much
	"Weighed.mass_kg": mass("mass"),
	"Part.mass_kg":    some("mass of a heap"),
	"sure":            share("certainty"),

	"room_k": {"temperature of the room", quantity.Temperature, coldest, 273.15 + 60},

	"hole_m":        extent("screen hole", 1e-4, 0.1),
	"jar_m3":        holds("jar"),
	"level":         {"level", quantity.Count, 1, 1000},
	"w":             watts("measured power", 0),
	"resolution_kg": {"scale's resolution", quantity.Mass, 1e-7, 1},
	"capacity_kg":   {"scale's capacity", quantity.Mass, 1e-3, 1e4},

	"nozzle_m":        extent("nozzle", 1e-4, 0.05),
	"screw_m":         extent("barrel", 3e-3, 0.3),
	"heaters_w":       watts("power of the heaters", 1),
	"idle_w":          watts("power drawn hot and idle", 1),
	"hopper_m3":       holds("hopper"),
	"hopper_exit_m":   extent("exit of the hopper", 1e-3, 1),
	"per_turn_m3":     {"volume a turn", quantity.Volume, 1e-12, 1e-3},
	"largest_grain_m": extent("largest grain", 1e-4, 0.05),

	"volume_m3":      solid("volume"),
	"volume_low_m3":  solid("low end of the volume"),
	"volume_high_m3": solid("high end of the volume"),
	"print_s":        {"printing time", quantity.Duration, 1, year},
	"mean_flow_m3_s": flow("mean flow"),
	"peak_flow_m3_s": flow("peak flow"),

	"electricity_per_j": {"price of electricity", quantity.MoneyPerEnergy, 0, 1},
	"room_humidity":     {"humidity of the room", quantity.Humidity, 0, 1},
	"most_dust":         share("most dust"),
	"most_metal":        {"most metal", quantity.Share, 0, 0.01},
	"chip_share":        {"share of the nozzle a chip may have", quantity.Share, 0.05, 1},
	"least_strength":    {"least strength", quantity.Share, 0.01, 1},
	"most_pressure_pa":  {"most pressure", quantity.Pressure, 1e5, 2e8},
	"most_blocked":      {"share of prints that may meet a chip", quantity.Share, 1e-4, 0.9},
	"least_sure":        share("least certainty"),
	"handling_s":        {"handling between runs", quantity.Duration, 0, 24 * hour},
	"value":             anyReal("value"),

	"opening_m":       extent("sieve opening", 1e-5, 0.13),
	"OnSieve.mass_kg": mass("mass on a sieve"),
	"tare_kg":         mass("weight of the empty sieve"),
	"pan_kg":          mass("mass in the pan"),
	"pan_tare_kg":     mass("weight of the empty pan"),
	"record":          {"number of the record", quantity.Count, 1, 1e9},
	"Pictured.record": {"number of the record", quantity.Count, 0, 1e9},
	"run":             {"number of the run's record", quantity.Count, 0, 1e9},
	"campaign":        {"number of the campaign's record", quantity.Count, 1, 1e9},
	"charges":         {"number of charges", quantity.Count, 0, 1e4},
	"portions":        {"number of portions", quantity.Count, 0, 100},
	"long":            {"number of long grains", quantity.Count, 0, 1e6},
	"pictures":        {"number of pictures", quantity.Count, 1, 100},
	"grains":          {"number of grains", quantity.Count, 1, 1e7},
	"effective":       {"number of grains of equal mass", quantity.Count, 1, 1e7},
	"largest_share":   share("share of the mass in one grain"),
	"shape":           {"hole over width", quantity.Number, 0.3, 1.5},
	"spread":          {"spread of all sizes together", quantity.Number, 0, 1},
	"seen_m":          extent("smallest grain seen", 1e-6, 0.05),
	"struck":          {"number of grains struck out", quantity.Count, 0, 1e6},
	"parted":          {"number of grains parted", quantity.Count, 0, 1e6},

	"PassedMagnet.metal_kg": mass("metal caught"),
	"passed_kg":             mass("mass let over the magnet"),
	"dust_kg":               mass("dust taken off"),

	"Dried.temperature_k": warmth("temperature of the dryer"),
	"Dryer.temperature_k": {"hottest it holds", quantity.Temperature, 273.15, 273.15 + 200},
	"air_m3_s":            {"air through the granulate", quantity.VolumeFlow, 1e-6, 1},
	"box_humidity":        {"humidity of the box", quantity.Humidity, 0, 1},
	"Dried.time_s":        {"drying time", quantity.Duration, 60, year},
	"in_kg":               some("mass put into the dryer"),
	"out_kg":              mass("mass out of the dryer"),
	"dew_point_k":         {"dew point", quantity.Temperature, 273.15 - 100, 273.15 + 60},
	"bed_m":               extent("depth of the bed", 1e-4, 2),
	"energy_j":            {"energy by the meter", quantity.Energy, 0, 1e5 * hour},

	"poured_kg": some("mass poured"),
	"tapped_kg": some("mass tapped"),

	"l":            {"lightness L*", quantity.Number, 0, 100},
	"a":            {"a* of the colour", quantity.Number, -200, 200},
	"b":            {"b* of the colour", quantity.Number, -200, 200},
	"observer":     {"observer", quantity.Count, 2, 10},
	"wavelength_m": extent("wavelength", 200e-9, 2e-6),
	"reflectance":  share("light sent back"),

	"temperature_k": {"temperature of the melt", quantity.Temperature, 273.15 + 40, 273.15 + 450},
	"screw_rad_s":   {"speed of the screw", quantity.Rotation, 1e-3, 1000 * 2 * math.Pi / 60},
	"time_s":        {"time of the test", quantity.Duration, 1, 4 * hour},
	"extruded_kg":   some("mass extruded"),
	"load_kg":       {"load", quantity.Mass, 0.01, 100},
	"cut_s":         {"time of a cut", quantity.Duration, 0.1, hour},
	"cuts_kg":       some("mass of a cut"),

	"before_kg": {"weight of the part before", quantity.Mass, 1e-4, heaviest},
	"after_kg":  {"weight of the part after", quantity.Mass, 1e-4, heaviest},
	"since_kg":  mass("mass since it last happened"),
	"low":       anyReal("low end"),
	"high":      anyReal("high end"),
}

// refuse says that a number is outside the band, with digits enough to see it.
func (b band) refuse(x float64) *Error {
	show := b.kind.Plain
	if b.kind == quantity.Mass {
		show = grams
	}
	text, lo, hi := show(x), show(b.lo), show(b.hi)
	if text == lo || text == hi {
		text = b.kind.Fine(x)
	}
	return invalid("", "The "+b.words+" "+text+" is outside "+lo+" to "+hi+".", "Check the unit and the decimal point.")
}

// grams shows a mass with as many digits as a scale has, so that two masses
// that differ look different: 3 digits would not.
func grams(kg float64) string {
	unit, x, places := " g", kg*1e3, 1
	switch {
	case math.Abs(kg) >= 1:
		unit, x, places = " kg", kg, 4
	case math.Abs(x) < 1:
		places = 4
	}
	text := strconv.FormatFloat(x, 'f', places, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + unit
}

func warm(k float64) string    { return quantity.Temperature.Show(k) }
func length(m float64) string  { return quantity.Length.Show(m) }
func volume(m3 float64) string { return quantity.Volume.Show(m3) }
