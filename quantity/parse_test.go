package quantity

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"hopperful/source"
)

// Each row's wanted value is what scipy 1.10 scipy.constants gives (second
// library, Scipy2020), or follows from the definition of the unit in the SI
// Brochure (BIPM2019). Relative tolerance 1e-15·8: scipy multiplies in floating
// point, we round once.
func TestFactorsAgainstScipy(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind   Kind
		text   string
		want   float64
		source string
	}{
		{Mass, "1 oz", 0.028349523124999998, "scipy ounce"},
		{Mass, "1 lb", 0.45359236999999997, "scipy pound"},
		{Length, "1 in", 0.0254, "scipy inch"},
		{Length, "1 ft", 0.30479999999999996, "scipy foot"},
		{Length, "1 mil", 2.5399999999999997e-05, "scipy mil"},
		{Area, "1 in²", 0.00064516, "scipy inch²"},
		{Volume, "1 in³", 1.6387064e-05, "scipy inch³"},
		{Volume, "1 gal (US)", 0.0037854117839999997, "scipy gallon_US"},
		{Volume, "1 fl oz (US)", 2.9573529562499998e-05, "scipy fluid_ounce_US"},
		{Power, "1 hp", 745.6998715822701, "scipy hp"},
		{Pressure, "1 psi", 6894.757293168361, "scipy psi"},
		{Temperature, "64 °F", 290.92777777777775, "scipy convert_temperature"},
		{Temperature, "18 °C", 291.15, "scipy convert_temperature"},
		{Temperature, "-40 °C", 233.15, "scipy convert_temperature"},
		{Density, "1 lb/ft³", 16.018463373960145, "scipy pound/foot³"},
		{VolumeFlow, "1 cfm", 0.0004719474431999998, "scipy foot³/60"},
		{MassFlow, "1 lb/h", 0.00012599788055555553, "scipy pound/3600"},
		{Rotation, "1 rpm", 0.10471975511965977, "scipy pi/30"},
		{Speed, "1 ft/min", 0.0050799999999999994, "scipy foot/60"},
		{Speed, "1 km/h", 0.2777777777777778, "scipy kmh"},
		{Power, "1 hp (metric)", 735.49875, "75 kgf m/s with g = 9.80665 m/s²"},
		{Energy, "1 kWh", 3.6e6, "SI Brochure, table 8: hour"},
		{Pressure, "1 bar", 1e5, "scipy bar"},
		{Volume, "1 L", 1e-3, "SI Brochure, table 8: litre"},
		{Mass, "1 t", 1e3, "SI Brochure, table 8: tonne"},
		{Duration, "1 d", 86400, "SI Brochure, table 8: day"},
		{MeltFlow, "6 g/10 min", 1e-5, "0.006 kg in 600 s"},
		{MoneyPerMass, "1 per lb", 1 / 0.45359237, "scipy 1/pound"},
	} {
		got, err := c.kind.Parse(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if math.Abs(got-c.want) > 8e-16*math.Abs(c.want) {
			t.Errorf("%s: got %.17g, wanted %.17g (%s)", c.text, got, c.want, c.source)
		}
	}
}

func TestEveryUnitHasAKnownSource(t *testing.T) {
	t.Parallel()
	for _, u := range table {
		if _, ok := source.Lookup(u.source); !ok {
			t.Errorf("%s %s: source %q is not in the bibliography", u.kind, u.symbol, u.source)
		}
	}
}

func TestParseReadsWhatPeopleWrite(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind Kind
		text string
		want float64
	}{
		{Mass, "240 g", 0.24}, {Mass, "240g", 0.24}, {Mass, "240 KG", 240}, {Mass, "0,5 kg", 0.5},
		{Mass, ".5 kg", 0.5}, {Mass, "0,500 kg", 0.5}, {Mass, "1.2e-3 kg", 0.0012}, {Mass, "+3 g", 0.003},
		{Mass, "1\u00a0240\u202fg", math.NaN()}, {Mass, "240\u00a0g", 0.24}, {Mass, "\u2009240\u202fg ", 0.24},
		{Mass, "2 lb 3 oz", 35 * 0.45359237 / 16}, {Length, "5 ft 3 in", 1.6002}, {Length, "2.5 mm", 0.0025},
		{Length, "300 µm", 3e-4}, {Length, "300 μm", 3e-4}, {Length, "300 um", 3e-4},
		{Duration, "3:20 min", 200}, {Duration, "1:02:03 h", 3723}, {Duration, "1:02:03", 3723}, {Duration, "1:15 h", 4500},
		{Duration, "3:20.5 min", 200.5}, {Duration, "3 min 20 s", 200}, {Duration, "2h 5min", 7500}, {Duration, "2h5min", 7500},
		{Duration, "2 hours, 5 minutes", 7500}, {Duration, "-1 h 30 min", -5400}, {Duration, "−3:20 min", -200}, {Duration, "1 d 2 h", 93600},
		{Temperature, "18 °C", 291.15}, {Temperature, "18C", 291.15}, {Temperature, "18 ℃", 291.15}, {Temperature, "18 ºC", 291.15},
		{Temperature, "−18 °C", 255.15}, {Temperature, "0 K", 0}, {Temperature, "-273.15 °C", 0},
		{TemperatureDifference, "18 °C", 18}, {TemperatureDifference, "9 °F", 5}, {TemperatureDifference, "-5 K", -5},
		{Power, "2.2 kW", 2200}, {Power, "2 MW", 2e6}, {Power, "2 mW", 0.002}, {Power, "2.2 KW", 2200},
		{Density, "0.48 g/cm³", 480}, {Density, "0.48 g/cm3", 480}, {Density, "0.48 g/cm^3", 480}, {Density, "0.48 kg / l", 480},
		{Humidity, "60 %RH", 0.6}, {Humidity, "60% RH", 0.6}, {Humidity, "60 %", 0.6}, {Share, "62,5 %", 0.625}, {Share, "800 ppm", 8e-4},
		{MassFlow, "12 kg/h", 12.0 / 3600}, {Volume, "500 ml", 5e-4}, {Volume, "2 US gal", 0.007570823568},
		{SpecificHeat, "1800 J/kgK", 1800}, {SpecificHeat, "1800 J/(kg·K)", 1800}, {SpecificHeat, "1.8 kJ/kg K", 1800},
		{HeatTransfer, "12 W/m2 K", 12}, {HeatTransfer, "12 W/(m²·K)", 12}, {Viscosity, "1200 Pa·s", 1200}, {Viscosity, "1200 mPas", 1.2},
		{MeltFlow, "6 g/10min", 1e-5}, {Rate, "3 1/min", 0.05}, {Rate, "3 per minute", 0.05}, {Rate, "3/min", 0.05},
		{Rotation, "30 1/min", math.Pi}, {Number, "12.5", 12.5}, {Number, "-2", -2}, {Count, "14", 14}, {Money, "12,50", 12.5},
		{MoneyPerEnergy, "0.36 per kWh", 1e-7}, {MoneyPerEnergy, "0.36/kWh", 1e-7}, {SoundLevel, "85 dB(A)", 85}, {SoundLevel, "85 dB (A)", 85},
	} {
		got, err := c.kind.Parse(c.text)
		if math.IsNaN(c.want) {
			if err == nil {
				t.Errorf("%q was read as %v", c.text, got)
			}
			continue
		}
		if err != nil || math.Abs(got-c.want) > 1e-15*math.Abs(c.want) {
			t.Errorf("%s: %q gave %v, %v; wanted %v", c.kind, c.text, got, err, c.want)
		}
	}
}

func TestParseRefusesWithAReason(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind             Kind
		text, part, says string
	}{
		{Duration, "240 g", "g", "g is the unit of a mass, wanted a duration: s, min, h"},
		{Temperature, "3 kW", "kW", "kW is the unit of a power, wanted a temperature: °C, K, °F"},
		{Mass, "3 g/cm3", "g/cm3", "g/cm3 is the unit of a density"},
		{Duration, "5 m", "m", "m is the unit of a length"},
		{Number, "3 kg", "kg", "wanted a number"},
		{Number, "3 kq", "kq", "a number, which has no unit"},
		{Mass, "3 kq", "kq", `"kq" is no unit known here for a mass; use g, kg`},
		{Pressure, "3 mPa", "mPa", "no unit known here"},
		{Mass, "45", "45", "45 has no unit; a mass takes g, kg"},
		{Mass, "", "", "it is empty; write a number with one of g, kg"},
		{Mass, " \t ", "", "it is empty"},
		{Mass, "abc", "abc", "it does not start with a number"},
		{Mass, "kg 3", "kg 3", "it does not start with a number"},
		{Mass, "1,234.5 g", "1,234.5", "unclear which sign is the decimal one"},
		{Mass, "1.234,5 g", "1.234,5", "unclear which sign is the decimal one"},
		{Mass, "1.234.567 g", "1.234.567", "unclear which sign"},
		{Mass, "1'234 g", "1'234", "unclear which sign"},
		{Mass, "1,234 g", "1,234", "write 1234 or 1.234"},
		{Mass, "5, g", "5,", "a digit is missing after the comma"},
		{Mass, "1 234 g", "1", "after 1 comes a gap or a sign"},
		{Mass, "1–2 kg", "1", "after 1 comes a gap or a sign"},
		{Mass, "1 kg -200 g", "-200", "a sign stands inside"},
		{Mass, "3 oz 2 lb", "lb", "write the larger unit first"},
		{Mass, "1 kg 2 kg", "kg", "write the larger unit first"},
		{Mass, "1 kg 200", "200", "200 has no unit"},
		{Duration, "3:20", "3:20", "Write 3:20 min or 3:20 h"},
		{Duration, "3:75 min", "75", "two digits below 60"},
		{Duration, "3:5 min", "5", "two digits below 60"},
		{Duration, "3.5:20 min", "3.5", "only the last field"},
		{Duration, "1:02:03 min", "min", "1:02:03 h"},
		{Duration, "1:02:03:04 h", "h", "1:02:03 h"},
		{Duration, "3:20 kg", "kg", "kg is the unit of a mass"},
		{Duration, "::", "", ""},
		{Temperature, "-300 °C", "", "below absolute zero"},
		{Mass, "NaN kg", "NaN kg", "does not start with a number"},
		{Mass, "Inf kg", "Inf kg", "does not start with a number"},
		{Mass, "1e999 kg", "1e999", "power of ten"},
		{Mass, "1e99999999999999999999 kg", "1e99999999999999999999", "power of ten"},
		{Mass, "1e307 t", "", "larger than a number here can hold"},
		{Mass, strings.Repeat("9", MaxText) + " g", "", "bytes long; a quantity has at most 100"},
		{Mass, "3 \xff", "", "bytes that are no text"},
		{Kind(99), "3", "", "no kind of quantity"},
		{Kind(-1), "3", "", "no kind of quantity"},
	} {
		v, err := c.kind.Parse(c.text)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q gave %v, %v", c.text, v, err)
			continue
		}
		if e.Kind != c.kind || (c.says != "" && (e.Part != c.part || !strings.Contains(e.Error(), c.says))) {
			t.Errorf("%q: part %q, message %q; wanted %q, %q", c.text, e.Part, e, c.part, c.says)
		}
		if len(e.Error()) > 400 {
			t.Errorf("%q: the message is %d bytes long", c.text, len(e.Error()))
		}
	}
}

func TestParseOrTakesTheFormsUnitForBareNumbersOnly(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind       Kind
		text, unit string
		want       float64
	}{
		{Duration, "45", "min", 2700}, {Duration, "45 s", "min", 45}, {Duration, "3:20", "min", 200}, {Duration, "3:20", "h", 12000},
		{Mass, "240", "g", 0.24}, {Mass, "1,5", "kg", 1.5}, {Share, "62", "%", 0.62}, {Number, "3", "", 3}, {Money, "3", "", 3},
		{Temperature, "-18", "°C", 255.15}, {Humidity, "55", "%RH", 0.55},
	} {
		got, err := c.kind.ParseOr(c.text, c.unit)
		if err != nil || got != c.want {
			t.Errorf("%q in %q gave %v, %v; wanted %v", c.text, c.unit, got, err, c.want)
		}
	}
	if _, err := Mass.ParseOr("3", "min"); err == nil || !strings.Contains(err.Error(), "min is the unit of a duration") {
		t.Errorf("a foreign form unit gave %v", err)
	}
}

func ExampleKind_Parse() {
	kg, _ := Mass.Parse("240 g")
	s, _ := Duration.Parse("3 min 20 s")
	_, err := Duration.Parse("240 g")
	fmt.Println(kg, s)
	fmt.Println(err)
	// Output:
	// 0.24 200
	// cannot read "240 g": g is the unit of a mass, wanted a duration: s, min, h, d, week, ms
}
