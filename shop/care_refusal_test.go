package shop

import (
	"errors"
	"strings"
	"testing"
	"time"
)

// workbench is bench with a printer and two lots of granulate, the second not
// weighed yet.
func workbench(t testing.TB) *State {
	t.Helper()
	return write(t, bench(t), // records 1 to 6; 6 is the run into R1
		Record{Body: &PrinterSet{Printer{Name: "pellet"}}},
		Record{Body: &Ground{Mill: "plain", From: "S2", Charge: 0.24, Run: 180}}, // record 8: R2
	)
}

// stack is a sieve analysis that is fine but for what change does to it.
func stack(change func(*Sieved)) *Sieved {
	b := &Sieved{Lot: "R1", Run: 6, Charge: 0.1, Series: R20x3, Holes: WovenWire, Pan: 0.01,
		Sieves: []OnSieve{{Opening: 0.004, Mass: 0.02}, {Opening: 0.002, Mass: 0.05}, {Opening: 0.001, Mass: 0.019}}}
	change(b)
	return b
}

// full is stack weighed with the sieves, of 300 g each, and the pan of 200 g.
func full(change func(*Sieved)) *Sieved {
	return stack(func(b *Sieved) {
		b.Gross, b.Pan, b.PanTare = true, 0.21, kg(0.2)
		for i := range b.Sieves {
			b.Sieves[i].Mass, b.Sieves[i].Tare = b.Sieves[i].Mass+0.3, kg(0.3)
		}
		change(b)
	})
}

func dried(change func(*Dried)) *Dried {
	b := &Dried{Lot: "R1", Way: Oven, Temperature: 323.15, Time: 6 * hour, In: kg(0.2), Out: kg(0.199)}
	change(b)
	return b
}

func cuts(change func(*FlowTested)) *FlowTested {
	b := &FlowTested{Lot: "R1", Temperature: kg(463.15), Load: kg(2.16), CutTime: kg(10), Cuts: []float64{0.0010, 0.0011}}
	change(b)
	return b
}

func nozzle(change func(*FlowTested)) *FlowTested {
	b := &FlowTested{Lot: "R1", Printer: "pellet", Screw: kg(2), Time: kg(60), Extruded: kg(0.012)}
	change(b)
	return b
}

// careRefusals are entries about granulate and machines that cannot be right.
var careRefusals = map[string]struct {
	body  Body
	code  Code
	field string
	say   string
}{
	"no sieve":           {stack(func(b *Sieved) { b.Sieves = nil }), Invalid, "sieves", "The stack has no sieve."},
	"sieve twice":        {stack(func(b *Sieved) { b.Sieves[1].Opening = 0.004 }), Invalid, "sieves.1.opening_m", "The sieve of 4.00 mm stands twice in the stack."},
	"finest first":       {stack(func(b *Sieved) { b.Sieves[0].Opening = 0.0005 }), Invalid, "sieves.1.opening_m", "The sieve of 2.00 mm stands under the finer one of 0.500 mm."},
	"too many sieves":    {stack(func(b *Sieved) { b.Sieves = fine(41) }), Invalid, "sieves", "41 sieves are more than the 40 of a stack."},
	"less than nothing":  {stack(func(b *Sieved) { b.Sieves[2].Mass = -0.001 }), Invalid, "sieves.2.mass_kg", "The mass on a sieve -1 g is outside"},
	"all empty":          {stack(func(b *Sieved) { b.Sieves, b.Pan = []OnSieve{{Opening: 0.001}}, 0 }), Invalid, "sieves", "All sieves and the pan are empty."},
	"tare forgotten":     {stack(func(b *Sieved) { b.Sieves[0].Mass = 0.32 }), Conflict, "sieves", "The sieves and the pan hold 399 g together, but 100 g was put on them. Were they weighed with the sieve?"},
	"wrong tare":         {full(func(b *Sieved) { b.Sieves[0].Tare = kg(0.03) }), Conflict, "sieves", "but 100 g was put on them. Check the empty weights and the charge."},
	"no tare":            {full(func(b *Sieved) { b.Sieves[1].Tare = nil }), Invalid, "sieves.1.tare_kg", "The sieve of 2.00 mm was weighed full, but not empty."},
	"no tare of the pan": {full(func(b *Sieved) { b.PanTare = nil }), Invalid, "pan_tare_kg", "The pan was weighed full, but not empty."},
	"heavier empty":      {full(func(b *Sieved) { b.Sieves[1].Tare = kg(0.36) }), Invalid, "sieves.1.mass_kg", "The sieve of 2.00 mm weighs 350 g full and 360 g empty."},
	"pan heavier empty":  {full(func(b *Sieved) { b.PanTare = kg(0.22) }), Invalid, "pan_kg", "The pan weighs 210 g full and 220 g empty."},
	"full and portions":  {full(func(b *Sieved) { b.Portions = 2 }), Invalid, "portions", "hold the sieves an unknown number of times"},
	"no such series":     {stack(func(b *Sieved) { b.Series = "ISO 3310" }), Invalid, "series", `"ISO 3310" is no series of sieves known here. It is ISO 3310-1 R20/3`},
	"no form of hole":    {stack(func(b *Sieved) { b.Holes = "" }), Invalid, "holes", `"" is no form of opening.`},
	"no run":             {stack(func(b *Sieved) { b.Run = 4 }), NotFound, "run", "Record 4 is no run of a mill before that time."},
	"another lot's run":  {stack(func(b *Sieved) { b.Run = 8 }), Conflict, "run", "The run of record 8 did not go into lot R1."},
	"sieved nothing":     {stack(func(b *Sieved) { b.Lot = "" }), NotFound, "lot", "The record names no lot."},
	"half a grain":       {stack(func(b *Sieved) { n := -1; b.LongFound = &n }), Invalid, "long", "The number of long grains -1 is outside"},

	"more metal than pass": {&PassedMagnet{Lot: "R1", Metal: 0.02, Passed: kg(0.01)}, Invalid, "metal_kg", "The metal caught 20 g is more than the 10 g let over the magnet."},
	"magnet of no run":     {&PassedMagnet{Lot: "R1", Run: 99}, NotFound, "run", "Record 99 is no run of a mill"},
	"magnet of no lot":     {&PassedMagnet{Lot: "R9"}, NotFound, "lot", "There is no lot R9 at that time."},

	"dust of no lot":    {&Dedusted{Dust: 0.01}, NotFound, "lot", "The record names no lot."},
	"opening as a door": {&Dedusted{Lot: "R1", Dust: 0.01, Opening: kg(1)}, Invalid, "opening_m", "The sieve opening 1 m is outside"},

	"dew above the air":  {dried(func(b *Dried) { b.DewPoint = kg(330) }), Invalid, "dew_point_k", "The dew point 56.9 °C is above the temperature of the dryer, 50.0 °C."},
	"no way":             {dried(func(b *Dried) { b.Way = "sun" }), Invalid, "way", `"sun" is no way to dry.`},
	"dried in a blink":   {dried(func(b *Dried) { b.Time = 6 }), Invalid, "time_s", "The drying time 6 s is outside"},
	"dried at no degree": {dried(func(b *Dried) { b.Temperature = 50 }), Invalid, "temperature_k", "The temperature of the dryer -223 °C is outside"},
	"dried nothing":      {dried(func(b *Dried) { b.Lot = "R9" }), NotFound, "lot", "There is no lot R9 at that time."},

	"jar of lead":   {&JarWeighed{Lot: "R1", Jar: 1e-5, Poured: 0.2}, Invalid, "poured_kg", "200 g in a jar of 10.0 ml is 20 g/cm³; no granulate is."},
	"jar of air":    {&JarWeighed{Lot: "R1", Jar: 1e-3, Poured: 0.001}, Invalid, "poured_kg", "is 1 kg/m³; no granulate is."},
	"jar of no lot": {&JarWeighed{Jar: 3e-4, Poured: 0.15}, NotFound, "lot", "The record names no lot."},

	"unknown printer":    {nozzle(func(b *FlowTested) { b.Printer = "pelet" }), NotFound, "printer", "There is no printer pelet. Did you mean pellet?"},
	"both tests":         {nozzle(func(b *FlowTested) { b.Load = kg(2.16) }), Invalid, "cuts_kg", "A load and cuts belong to a melt-flow test"},
	"nothing extruded":   {nozzle(func(b *FlowTested) { b.Extruded = nil }), Invalid, "extruded_kg", "The test does not say how much came out."},
	"no time":            {nozzle(func(b *FlowTested) { b.Time = nil }), Invalid, "time_s", "The test does not say how long the printer ran."},
	"no setting":         {nozzle(func(b *FlowTested) { b.Screw = nil }), Invalid, "screw_rad_s", "neither the speed of the screw nor a temperature"},
	"flow of no printer": {nozzle(func(b *FlowTested) { b.Printer = "" }), Invalid, "printer", "The test names no printer."},
	"no cuts":            {cuts(func(b *FlowTested) { b.Cuts = nil }), Invalid, "cuts_kg", "The test has neither a printer nor cuts."},
	"cuts of no time":    {cuts(func(b *FlowTested) { b.CutTime = nil }), Invalid, "cut_s", "does not say how long each cut ran."},
	"cuts of no load":    {cuts(func(b *FlowTested) { b.Load = nil }), Invalid, "load_kg", "does not say which mass pressed on the melt."},
	"cuts of no heat":    {cuts(func(b *FlowTested) { b.Temperature = nil }), Invalid, "temperature_k", "does not say how hot the melt was."},
	"empty cut":          {cuts(func(b *FlowTested) { b.Cuts[1] = 0 }), Invalid, "cuts_kg.1", "The mass of a cut 0 g is outside"},
	"cut from no lot":    {cuts(func(b *FlowTested) { b.Lot = "R9" }), NotFound, "lot", "There is no lot R9 at that time."},

	"unknown mill's care": {&Serviced{Mill: "shreder", Part: BladePart, What: Inspected}, NotFound, "mill", "There is no mill shreder."},
	"damaged yet sound":   {&Serviced{Mill: "plain", Part: ScreenPart, What: FoundDamaged, Sound: Yes}, Invalid, "sound", "A screen found damaged is not sound."},
	"sharpened heavier":   {&Serviced{Mill: "plain", Part: BladePart, What: Sharpened, Before: kg(0.2), After: kg(0.21)}, Invalid, "after_kg", "Sharpened it weighs 210 g, more than the 200 g before."},
	"no part":             {&Serviced{Mill: "plain", Part: "lid", What: Inspected}, Invalid, "part", `"lid" is no part of a mill.`},
	"nothing done":        {&Serviced{Mill: "plain", Part: BladePart}, Invalid, "what", `"" is nothing done to a part.`},

	"happened nowhere":     {&Happened{What: Stalled}, Invalid, "mill", "The record names neither a mill nor a printer."},
	"nozzle of a mill":     {&Happened{What: BlockedNozzle, Mill: "plain"}, Invalid, "printer", "A blocked nozzle is a printer's."},
	"screen of a printer":  {&Happened{What: TornScreen, Printer: "pellet"}, Invalid, "mill", "A torn screen is a mill's."},
	"happened and how":     {&Happened{What: OtherMishap, Mill: "plain"}, Invalid, "note", "The record does not say what happened."},
	"happened at no mill":  {&Happened{What: Stalled, Mill: "big"}, NotFound, "mill", "There is no mill big."},
	"happened at none":     {&Happened{What: Stalled, Printer: "big"}, NotFound, "printer", "There is no printer big."},
	"happened with no lot": {&Happened{What: Stalled, Mill: "plain", Lot: "R9"}, NotFound, "lot", "There is no lot R9 at that time."},
	"nothing that happens": {&Happened{What: "boredom", Mill: "plain"}, Invalid, "what", `"boredom" is nothing that happens.`},
	"prints among others":  {&Printed{From: "R1", Into: "S1", Print: "x", Mass: 0.1}, Invalid, "into", "S1 is no label of a print lot."},
	"prints out of prints": {&Sorted{From: "S1", Into: []Part{{Lot: "P1", Mass: 0.1}}}, Invalid, "into.0.lot", "P1 is no label of a scrap lot."},
	"blade of a hair":      {&Serviced{Mill: "plain", Part: BladePart, What: Inspected, Before: kg(1e-5)}, Invalid, "before_kg", "The weight of the part before 0.01 g is outside"},
}

// fine is a stack of n sieves.
func fine(n int) []OnSieve {
	list := make([]OnSieve, n)
	for i := range list {
		list[i] = OnSieve{Opening: 0.1 / float64(i+1), Mass: 0.001}
	}
	return list
}

// TestCareRefusals: as TestRefusals, for granulate and machines.
func TestCareRefusals(t *testing.T) {
	t.Parallel()
	s := workbench(t)
	for name, c := range careRefusals {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			err := s.Check(Record{Body: c.body}, monday.Add(9*time.Hour))
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want a refusal", err)
			}
			if e.Code != c.code || e.Field != c.field || !strings.Contains(inWords(e), c.say) {
				t.Errorf("got %s, %s: %s\nwant %s, %s: %s", e.Code, e.Field, e, c.code, c.field, c.say)
			}
		})
	}
}

// TestUnrefusedCare: what the refusals change is fine unchanged, a loss on the
// sieves is no fault, and a lot that was not weighed may be sieved and poured.
func TestUnrefusedCare(t *testing.T) {
	t.Parallel()
	s := workbench(t)
	for name, b := range map[string]Body{
		"stack": stack(func(*Sieved) {}), "full stack": full(func(*Sieved) {}), "dried": dried(func(*Dried) {}),
		"nozzle": nozzle(func(*FlowTested) {}), "cuts": cuts(func(*FlowTested) {}),
		"half lost on the sieves": stack(func(b *Sieved) { b.Sieves = b.Sieves[:1] }),
		"a little gained":         stack(func(b *Sieved) { b.Pan = 0.06 }),
		"all through one sieve":   stack(func(b *Sieved) { b.Sieves, b.Pan = []OnSieve{{Opening: 0.001}}, 0.1 }),
		"not weighed, sieved":     stack(func(b *Sieved) { b.Lot, b.Run = "R2", 8 }),
		"not weighed, poured":     &JarWeighed{Lot: "R2", Jar: 3e-4, Poured: 0.15, Tapped: kg(0.16)},
		"no metal":                &PassedMagnet{Lot: "R1"},
		"no dust":                 &Dedusted{Lot: "R1"},
		"weighed wet only":        dried(func(b *Dried) { b.Out = nil }),
		"weighed dry only":        dried(func(b *Dried) { b.In = nil }),
		"replaced by a heavier":   &Serviced{Mill: "plain", Part: BladePart, What: Replaced, Before: kg(0.2), After: kg(0.25), Sound: Yes},
		"smoke":                   &Happened{What: SmellOrSmoke, Printer: "pellet", Lot: "R1", Since: kg(1)},
	} {
		if err := s.Check(Record{Body: b}, monday.Add(9*time.Hour)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := s.Check(Record{Body: &Happened{What: OtherMishap, Mill: "plain"}, Note: "rattles"}, monday.Add(9*time.Hour)); err != nil {
		t.Error(err)
	}
}
