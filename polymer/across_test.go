package polymer

import (
	"math"
	"testing"

	"hopperful/process/moisture"
	"hopperful/quantity"
)

// Rules across properties: a value that is changed by itself leaves what the others
// and the trade say of it.

// A grain of 3 mm of so much water, dried as the books say, is dry within the hours the
// books give, as far as a diffusivity known to a factor can tell: the forecast for grains all
// alike lies between an eighth of the least and twice the most of those hours. What plastics
// are dried only of surface water is left out, and what the model refuses (PVA).
func TestDiffusivityAndHoursAgree(t *testing.T) {
	t.Parallel()
	surface := map[string]bool{"HIPS": true, "PP": true, "PE-HD": true, "PVA": true, Unknown: true}
	each(t, func(p Polymer) {
		times := p.All(DryingTime)
		if len(times) == 0 || surface[p.Name] {
			return
		}
		kelvin, hours := si(t, p, DryingTemperature).Value, times[0]
		least, most := hours.Low, hours.High
		for _, v := range times { // another maker's hours at about the same heat widen them
			if v.Grade == times[0].Grade && math.Abs(heatOf(t, v)-heatOf(t, times[0])) < 15 {
				least, most = math.Min(least, v.Low), math.Max(most, v.High)
			}
		}
		d := si(t, p, WaterDiffusivity).Value * math.Exp(-si(t, p, WaterActivation).Value/8.314*(1/kelvin-1/323.15))
		left := math.Max(0.02, math.Min(0.9, si(t, p, MoistureLimit).Value/si(t, p, WaterRoom).Value))
		// Fick's sphere beyond its first terms: M/M0 = 6/π² exp(−π² D t/R²).
		forecast := math.Max(0, math.Log(6/(math.Pi*math.Pi)/left)) * 1.5e-3 * 1.5e-3 / (math.Pi * math.Pi * d)
		if forecast < least/8 || forecast > most*2 {
			t.Errorf("%s: a grain is dry after %.3g h at %.0f °C, the books say %.3g to %.3g h: see diffusivity, activation, temperature and limit",
				p.Name, forecast/3600, kelvin-zero, least/3600, most/3600)
		}
	})
}

// heatOf is the temperature a drying time names, the middle of a span.
func heatOf(t *testing.T, v Value) float64 {
	t.Helper()
	var sum, n float64
	word := ""
	for _, r := range v.At + " " {
		if r >= '0' && r <= '9' || r == '.' && word != "" {
			word += string(r)
			continue
		}
		if word != "" {
			if k, err := quantity.Temperature.ParseOr(word, "°C"); err == nil && k > zero+40 {
				sum, n = sum+k, n+1
			}
			word = ""
		}
	}
	return sum / math.Max(n, 1)
}

// What a second source says a value must lie in, in workshop units. Bands are the ends of what
// makers and handbooks print; a value that leaves them is a slip. Sources beside each.
var across = []struct {
	polymer  string
	property Property
	low      float64
	high     float64
	source   string
}{
	{"PLA", WaterDiffusivity, 1e-11, 1e-10, "Siparsky1997: 0.20 to 1.0e-6 cm²/s at 50 °C, the lower end a factor of two below for neat resin"},
	{"ABS", WaterDiffusivity, 3e-12, 2.5e-11, "Flyermaken2026: from 0.35 to 0.10 % in 45 min at 98 °C; makers' 2 to 4 h at 80 °C"},
	{"TPU", WaterDiffusivity, 3e-12, 3e-11, "TpuSaline2026: 1.1 to 3.4e-12 m²/s at room temperature"},
	{"PET", WaterDiffusivity, 1.5e-12, 2e-11, "Transtutors2026's pair at 50 °C, and 2.5 to 6 times less by Stoughton2014"},
	{"PETG", WaterDiffusivity, 2e-12, 1.3e-11, "makers' 4 to 6 h at 65 °C"},
	{"ASA", WaterDiffusivity, 2e-12, 2e-11, "makers' 2 to 4 h at 80 °C"},
	{"PC", WaterDiffusivity, 5e-12, 3e-11, "makers' 2 to 4 h at 120 °C"},
	{"PA6", WaterDiffusivity, 8e-13, 7e-12, "AutodeskPa2014: 16 h at 80 °C in hot air"},
	{"PA12", WaterDiffusivity, 1.5e-12, 1.6e-11, "makers' 4 to 8 h at 80 °C"},
	{"HIPS", WaterDiffusivity, 1e-11, 1e-10, "polystyrene 2 to 3e-11, from memory"},
	{"PP", WaterDiffusivity, 1e-11, 1e-10, "from memory: 1e-11 at 25 °C, E 55 to 70 kJ/mol"},
	{"PE-HD", WaterDiffusivity, 1e-11, 1e-10, "from memory: 1 to 2e-11 at 25 °C"},
	{"PVA", WaterDiffusivity, 2e-12, 3e-11, "from memory: 1e-15 dry to 1e-11 damp"},
	{Unknown, WaterDiffusivity, 1e-12, 2e-11, "among those of the common plastics, above"},
	{"PLA", WaterRoom, 0.0016, 0.004, "LdMachinery2026: 0.2 % in an open room; Siparsky1997"},
	{"PETG", WaterRoom, 0.0012, 0.003, "from memory"},
	{"PET", WaterRoom, 0.001, 0.003, "pellets as delivered, 0.15 and 0.18 % (Stoughton2014)"},
	{"ABS", WaterRoom, 0.002, 0.003, "AbsMoisture2023: 0.25 %"},
	{"ASA", WaterRoom, 0.0025, 0.0045, "Luran2018"},
	{"PC", WaterRoom, 0.0010, 0.0018, "from memory: 0.12 to 0.15 %; Makrolon2026"},
	{"PA6", WaterRoom, 0.02, 0.03, "conduit maker's storage note: 2 to 3 %"},
	{"PA12", WaterRoom, 0.005, 0.012, "the same note: 0.8 to 1.2 %"},
	{"TPU", WaterRoom, 0.002, 0.008, "Schneider1968: 1.3 % saturated"},
	{"HIPS", WaterRoom, 1e-4, 1e-3, "below 0.1 %"},
	{"PA6", WaterSaturated, 0.08, 0.1, "8.0 to 9.5 %"},
	{"PLA", DryingTemperature, zero + 40, zero + 55, "amorphous prints: below the glass transition at 55 °C"},
	{"PETG", DryingTemperature, zero + 60, zero + 66, "AutodeskPetg2025: never above 66 °C"},
	{"PC", DryingTemperature, zero + 100, zero + 125, "makers' 120 °C; AutodeskPc2021"},
	{"ABS", DryingTemperature, zero + 75, zero + 93, "PlasticIndustry2026"},
	{"ASA", DryingTemperature, zero + 75, zero + 90, "makers' 80 °C"},
	{"PA6", DryingTemperature, zero + 70, zero + 85, "hot air: 80 °C"},
	{"PA12", DryingTemperature, zero + 75, zero + 90, "Plasticranger2026: 180 °F"},
	{"TPU", DryingTemperature, zero + 75, zero + 100, "makers' 85 to 95 °C"},
	{"TPU", MeltCeiling, zero + 225, zero + 252, "TpuBlends2019: 5 % lost at 267 °C, 15 K clear of it; makers mould at up to 235 °C: from memory"},
	{"PLA", MeltCeiling, zero + 230, zero + 255, "from memory: lactide from 240 °C"},
	{"PETG", MeltCeiling, zero + 270, zero + 300, "AutodeskPetg2025"},
	{"ABS", MeltCeiling, zero + 260, zero + 290, "from memory: 280 °C"},
	{"PC", MeltCeiling, zero + 320, zero + 350, "AutodeskPc2021"},
	{"PA6", MeltCeiling, zero + 280, zero + 310, "Ultramid2005: stable up to 310 °C"},
	{"PVA", MeltCeiling, zero + 200, zero + 225, "from memory: chars above"},
}

func TestValuesLieInASecondBand(t *testing.T) {
	t.Parallel()
	for _, c := range across {
		p, err := Find(c.polymer)
		if err != nil {
			t.Fatal(err)
		}
		if v := si(t, p, c.property); v.Value < c.low || v.Value > c.high {
			t.Errorf("%s of %s is %g, outside %g to %g: %s", c.property, c.polymer, v.Value, c.low, c.high, c.source)
		} else if water := c.property == WaterDiffusivity || c.property == WaterRoom; water && (v.Value/10 >= c.low || v.Value*10 <= c.high) {
			t.Errorf("%s of %s: a band that a tenth or ten times of it still lies in holds nothing", c.property, c.polymer)
		}
	}
}

// What is dried stays clear of what fuses, what is melted clear of what decomposes, and
// the limit of moisture below what a room gives, where drying matters at all.
func TestOrdersAcrossProperties(t *testing.T) {
	t.Parallel()
	each(t, func(p Polymer) {
		if _, refused := p.Refused(); refused || p.Name == Unknown {
			return
		}
		free := p.Name == "HIPS" || p.Name == "TPU" || p.Name == "PVA" // surface water only, no heat deflection of use, damp prints
		if dry := p.All(DryingTemperature); !free && len(dry) > 0 && dry[0].High > si(t, p, Softening).Low && dry[0].Value > si(t, p, Softening).Low-2 {
			t.Errorf("%s: dried at %.0f °C it fuses from %.0f °C on", p.Name, dry[0].Value-zero, si(t, p, Softening).Low-zero)
		}
		if room := si(t, p, MeltCeiling).Value - si(t, p, PrintTemperature).Value; room < 15 || room > 110 {
			t.Errorf("%s: %.0f K between printing and the ceiling", p.Name, room)
		}
		w50, sat, limit := si(t, p, WaterRoom).Value, si(t, p, WaterSaturated).Value, si(t, p, MoistureLimit).Value
		if ratio := sat / w50; ratio < 1.8 || ratio > 5 {
			t.Errorf("%s: saturated it holds %.2g times what a room gives", p.Name, ratio)
		}
		if limit > sat && sat > 0.001 {
			t.Errorf("%s: the limit of %g lies above all it can hold", p.Name, limit)
		}
		s := moisture.Sorption{Room: w50, Saturated: sat}
		if w, err := moisture.EquilibriumWater(s, 0.5); err != nil || math.Abs(w/w50-1) > 1e-9 {
			t.Errorf("%s: the uptake curve misses its own point: %g, %v", p.Name, w, err)
		}
	})
}
