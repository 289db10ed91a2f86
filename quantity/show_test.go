package quantity

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// below and above a threshold in SI, as near as float64 allows.
func below(v float64) float64 { return math.Nextafter(v, math.Inf(-1)) }

func TestShowOnBothSidesOfEachThreshold(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind        Kind
		si          float64
		show, rough string
	}{
		// A number printed as 1000 belongs into the next unit: 999.5 g is the
		// first that three digits round up, 995 g the first that two do.
		{Mass, 0.99949999, "999 g", "1.0 kg"}, {Mass, 0.99950001, "1.00 kg", "1.0 kg"}, {Mass, 0.99995, "1.00 kg", "1.0 kg"},
		{Mass, 0.99499999, "995 g", "990 g"}, {Mass, 0.99500001, "995 g", "1.0 kg"}, {Mass, 1, "1.00 kg", "1.0 kg"},
		{Mass, 0.00099949999, "999 mg", "1.0 g"}, {Mass, 0.00099950001, "1.00 g", "1.0 g"},
		{Mass, 9994.9999, "9990 kg", "10 t"}, {Mass, 9995.0001, "10.0 t", "10 t"},
		{Mass, 0.24, "240 g", "240 g"}, {Mass, 1.2449, "1.24 kg", "1.2 kg"}, {Mass, -0.24, "-240 g", "-240 g"}, {Mass, 0, "0 g", "0 g"},
		{Length, 9.994e-5, "99.9 µm", "0.10 mm"}, {Length, 9.996e-5, "0.100 mm", "0.10 mm"}, {Length, 0.99949, "999 mm", "1.0 m"}, {Length, 0.9996, "1.00 m", "1.0 m"},
		{Power, 2200, "2.20 kW", "2.2 kW"}, {Power, 999.4, "999 W", "1.0 kW"}, {Power, 999.6, "1.00 kW", "1.0 kW"},
		{Energy, 3.596e6, "999 Wh", "1.0 kWh"}, {Energy, 3.598e6, "999 Wh", "1.0 kWh"}, {Energy, 3.5999e6, "1.00 kWh", "1.0 kWh"}, {Energy, 359800, "99.9 Wh", "100 Wh"}, {Energy, 350000, "97.2 Wh", "97 Wh"},
		{Density, 99.94, "99.9 kg/m³", "0.10 g/cm³"}, {Density, 99.96, "0.100 g/cm³", "0.10 g/cm³"}, {Density, 480, "0.480 g/cm³", "0.48 g/cm³"},
		{Density, 4e-6, "4.00 mg/m³", "4.0 mg/m³"}, {Pressure, 2.1e9, "2.10 GPa", "2.1 GPa"}, {Pressure, 101325, "101 kPa", "100 kPa"},
		{VolumeFlow, 999.6e-9, "1.00 cm³/s", "1.0 cm³/s"}, {VolumeFlow, 1.0 / 3600, "1.00 m³/h", "1.0 m³/h"},
		{Rate, 0.01, "36.0 1/h", "36 1/h"}, {Viscosity, 0.9996, "1.00 Pa s", "1.0 Pa s"}, {Viscosity, 1234, "1230 Pa s", "1200 Pa s"},
		{Temperature, 291.15, "18.0 °C", "18 °C"}, {Temperature, 373.09, "99.9 °C", "100 °C"}, {Temperature, 373.11, "100 °C", "100 °C"},
		{Temperature, 273.1499, "0.0 °C", "0 °C"}, {Temperature, 255.15, "-18.0 °C", "-18 °C"}, {TemperatureDifference, 12.34, "12.3 K", "12 K"},
		{SoundLevel, 86.44, "86.4 dB(A)", "86 dB(A)"},
		{Share, 0.62, "62 %", "62 %"}, {Share, 0.6234, "62.3 %", "62 %"}, {Share, 0.0004, "0.04 %", "0.04 %"}, {Share, 1, "100 %", "100 %"}, {Share, 0, "0 %", "0 %"},
		{Humidity, 0.6, "60 %RH", "60 %RH"}, {Rotation, math.Pi, "30.0 rpm", "30 rpm"}, {MassFlow, 12.0 / 3600, "12.0 kg/h", "12 kg/h"},
		{MeltFlow, 1e-5, "6.00 g/10 min", "6.0 g/10 min"}, {Diffusivity, 1.2e-12, "1.20e-12 m²/s", "1.2e-12 m²/s"},
		{Number, 3, "3", "3"}, {Number, 1.2345, "1.23", "1.2"}, {Number, 1234, "1230", "1200"}, {Number, 1.2e9, "1.2e+09", "1.2e+09"}, {Count, 1234, "1234", "1234"}, {Count, 1.6, "2", "2"},
		{Money, 12.4, "12.40", "12"}, {Money, 1234.567, "1234.57", "1200"}, {Money, 0, "0.00", "0.00"}, {Money, 1.26, "1.26", "1.30"}, {Money, 9.96, "9.96", "10"},
		{Money, 0.0312, "0.0312", "0.031"}, {Money, 0.0994, "0.0994", "0.099"}, {Money, 0.09996, "0.10", "0.10"}, {MoneyPerEnergy, 0.3 / 3.6e6, "0.30 per kWh", "0.30 per kWh"},
		{Mass, math.NaN(), "not a number", "not a number"}, {Duration, math.Inf(1), "infinite", "infinite"},
	} {
		if got := c.kind.Show(c.si); got != c.show {
			t.Errorf("%s %v shows as %q, wanted %q", c.kind, c.si, got, c.show)
		}
		if got := c.kind.Rough(c.si); got != c.rough {
			t.Errorf("%s %v is roughly %q, wanted %q", c.kind, c.si, got, c.rough)
		}
	}
}

func TestShowDurationOnBothSidesOfEachThreshold(t *testing.T) {
	t.Parallel()
	const h, d = 3600.0, 86400.0
	for _, c := range []struct {
		si          float64
		show, rough string
	}{
		{0, "0 s", "0 s"}, {0.25, "250 ms", "250 ms"}, {0.9994, "999 ms", "1.0 s"}, {0.9996, "1.00 s", "1.0 s"}, {45.24, "45.2 s", "45 s"},
		{59.94, "59.9 s", "1 min"}, {59.96, "1 min", "1 min"}, {below(60), "1 min", "1 min"}, {60, "1 min", "1 min"},
		{200, "3 min 20 s", "3 min 20 s"}, {203, "3 min 23 s", "3 min 20 s"}, {594, "9 min 54 s", "9 min 50 s"}, {596, "9 min 56 s", "10 min"},
		{h - 0.6, "59 min 59 s", "1 h"}, {h - 0.4, "1 h", "1 h"}, {h, "1 h", "1 h"}, {7500, "2 h 5 min", "2 h 10 min"},
		{10*h - 301, "9 h 55 min", "9 h 50 min"}, {10*h - 299, "9 h 55 min", "10 h"},
		{48*h - 31, "47 h 59 min", "2 d"}, {48*h - 29, "2 d", "2 d"}, {3 * d, "3 d", "3 d"}, {3*d + 11*h, "3 d 11 h", "3 d 12 h"},
		{100*d - 1801, "99 d 23 h", "100 d"}, {100*d - 1799, "100 d", "100 d"}, {1e7, "116 d", "120 d"}, {-200, "-3 min 20 s", "-3 min 20 s"},
	} {
		if got := Duration.Show(c.si); got != c.show {
			t.Errorf("%v s shows as %q, wanted %q", c.si, got, c.show)
		}
		if got := Duration.Rough(c.si); got != c.rough {
			t.Errorf("%v s is roughly %q, wanted %q", c.si, got, c.rough)
		}
	}
}

func TestSpanTellsItsEndsApart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind      Kind
		low, high float64
		want      string
	}{
		{Mass, 1.1, 1.4, "1.1–1.4 kg"}, {Mass, 0.21, 0.29, "210–290 g"}, {Mass, 0.9, 1.2, "0.9–1.2 kg"}, {Mass, 1.234, 1.236, "1.234–1.236 kg"},
		{Mass, 0, 0, "0 g"}, {Mass, 1.2, 1.2, "1.20 kg"}, {TemperatureDifference, -1, 2, "-1.0 to 2.0 K"}, {TemperatureDifference, -20, -10, "-20 to -10 K"},
		{Temperature, 331.15, 339.15, "58–66 °C"}, {Temperature, 472.75, 473.55, "199.6–200.4 °C"}, {Share, 0.55, 0.7, "55–70 %"}, {Share, 0.02, 0.7, "2–70 %"},
		{Duration, 200, 250, "3 min 20 s to 4 min 10 s"}, {Duration, 200, 203, "3 min 20 s to 3 min 23 s"}, {Money, 11, 14, "11–14"}, {Money, 1.1, 1.4, "1.10–1.40"},
		{Count, 13, 15, "13–15"}, {Count, 14.1, 14.2, "14"}, {MoneyPerEnergy, 0.27 / 3.6e6, 0.33 / 3.6e6, "0.27–0.33 per kWh"}, {Diffusivity, 1e-12, 4e-12, "1.0e-12 to 4.0e-12 m²/s"},
		{Mass, math.NaN(), 1, "not a number to 1 kg"},
	} {
		if got := c.kind.Span(c.low, c.high); got != c.want {
			t.Errorf("%s %v to %v gives %q, wanted %q", c.kind, c.low, c.high, got, c.want)
		}
	}
}

func TestCommaSwapsDecimalPointsOnly(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"1.24 kg": "1,24 kg", "1.1–1.4 kg": "1,1–1,4 kg", "240 g": "240 g", "": "", ".": ".", "at most 2.00 kg.": "at most 2,00 kg.", "1.20e-12 m²/s": "1,20e-12 m²/s",
	} {
		if got := Comma(in); got != want {
			t.Errorf("%q became %q, wanted %q", in, got, want)
		}
	}
}

func TestEveryKindIsComplete(t *testing.T) {
	t.Parallel()
	for _, k := range Kinds() {
		if strings.HasPrefix(k.String(), "unknown") {
			t.Errorf("kind %d has no name", int(k))
		}
		for _, u := range append(k.Units(), k.SI(), k.Default()) {
			if _, err := k.ParseOr("1", u); err != nil {
				t.Errorf("%s does not read its own unit: %v", k, err)
			}
		}
		if v, err := k.ParseOr("1", k.SI()); err != nil || v != 1 {
			t.Errorf("%s: one %s is %v, %v", k, k.SI(), v, err)
		}
		for _, step := range ladders[k] {
			if e, ok := units.find(k, step.symbol); !ok || e.symbol != step.symbol {
				t.Errorf("%s is shown in %s, which is not in the table", k, step.symbol)
			}
		}
	}
	if got := Kind(99).String(); got != "unknown kind 99" {
		t.Errorf("got %q", got)
	}
}

func TestInConverts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind Kind
		si   float64
		unit string
		want float64
	}{
		{Mass, 0.24, "g", 240}, {Temperature, 291.15, "°C", 18}, {Temperature, 0, "°F", -459.67}, {Rotation, 100, "rpm", 954.9296585513720}, {Money, 12, "", 12},
	} {
		got, err := c.kind.In(c.si, c.unit)
		if err != nil || math.Abs(got-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("%v %s in %s: %v, %v; wanted %v", c.si, c.kind, c.unit, got, err, c.want)
		}
	}
	for _, bad := range []struct {
		si   float64
		unit string
	}{{1, "min"}, {1, ""}, {1, "kq"}, {math.NaN(), "g"}, {math.MaxFloat64, "mg"}} {
		if v, err := Mass.In(bad.si, bad.unit); err == nil {
			t.Errorf("%v in %q gave %v", bad.si, bad.unit, v)
		}
	}
}

func ExampleKind_Show() {
	fmt.Println(Mass.Show(0.99995), Mass.Show(0.24), Duration.Show(200), Temperature.Show(291.15))
	fmt.Println(Mass.Rough(1.2345), Mass.Span(1.1, 1.4), Comma(Mass.Show(1.24)))
	// Output:
	// 1.00 kg 240 g 3 min 20 s 18.0 °C
	// 1.2 kg 1.1–1.4 kg 1,24 kg
}
