package shop

import (
	"errors"
	"hopperful/quantity"
	"math"
	"strings"
	"testing"
	"time"
)

func kg(x float64) *float64 { return &x }

// bench is a shop with two lots of scrap, a described mill and a run behind it.
func bench(t testing.TB) *State {
	t.Helper()
	s, err := Fold([]Record{
		{At: monday, Body: &MillSet{Mill: Mill{Name: "shredder", Chamber: kg(0.002), Controller: &Control{Levels: 5}}}},
		{At: monday, Body: &MillSet{Mill: Mill{Name: "plain"}}},
		{At: monday, Body: &NeedSet{Need{Name: "bracket", From: "typed", Mass: kg(0.3)}}},
		{At: monday, Body: &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 1}},
		{At: monday, Body: &TakenIn{Class: Scrap, Polymer: "PETG", Mass: 1}},
		{At: monday.Add(time.Hour), Body: &Ground{Mill: "shredder", From: "S1", Charge: 0.24, Product: kg(0.23), Left: kg(0.005), Run: 180}},
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// run is a run that is fine but for what change does to it.
func run(change func(*Ground)) *Ground {
	g := &Ground{Mill: "shredder", From: "S1", Charge: 0.24, Product: kg(0.23), Run: 180}
	change(g)
	return g
}

func level(n int) *int { return &n }

// refusals are entries that cannot be right, and what is said of them.
var refusals = map[string]struct {
	body  Body
	code  Code
	field string
	say   string
}{
	"charge above the chamber": {run(func(g *Ground) { g.From = "S2"; g.Charge = 2.4 }), Invalid, "charge_kg",
		"A charge of 2.4 kg does not fit the chamber of " + quantity.Volume.Show(0.002) + ": packed as densely as can be it holds 1.664 kg."},
	"run of no time":      {run(func(g *Ground) { g.Run = 0 }), Invalid, "run_s", "The run 0 s is outside 1 s to 24 h."},
	"run over a day":      {run(func(g *Ground) { g.Run = 86401 }), Invalid, "run_s", "The run 86401 s is outside 1 s to 24 h."},
	"charge as hot as no": {run(func(g *Ground) { g.ChargeAfter = kg(18273.15) }), Invalid, "charge_after_k", "The temperature of the charge after 18000 °C is outside -30 °C to 300 °C."},
	"level zero":          {run(func(g *Ground) { g.Level = level(0) }), Invalid, "level", "The level 0 is outside 1 to 1000."},
	"negative mass":       {run(func(g *Ground) { g.Charge = -0.1 }), Invalid, "charge_kg", "The charge -100 g is outside"},
	"a ton and more":      {&TakenIn{Class: Scrap, Mass: 1001}, Invalid, "mass_kg", "The mass 1001 kg is outside 0.001 g to 1000 kg."},
	"not a number":        {&TakenIn{Class: Scrap, Mass: math.NaN()}, Invalid, "mass_kg", "Mass is no number."},
	"no end":              {&Weighed{Lot: "S1", Mass: math.Inf(1)}, Invalid, "mass_kg", "Mass is no number."},
	"unknown lot":         {run(func(g *Ground) { g.From = "S3" }), NotFound, "from", "There is no lot S3 at that time. Did you mean S1 or S2?"},
	"unknown mill":        {run(func(g *Ground) { g.Mill = "shreder" }), NotFound, "mill", "There is no mill shreder. Did you mean shredder?"},
	"no lot":              {&Weighed{Mass: 1}, NotFound, "lot", "The record names no lot."},
	"into itself":         {run(func(g *Ground) { g.From = "R1"; g.Into = "R1"; g.Charge = 0.1; g.Product = nil }), Conflict, "into", "Lot R1 cannot come out of itself."},
	"into another matter": {run(func(g *Ground) { g.From = "S2"; g.Into = "R1" }), Conflict, "into", "Lot R1 is PLA and this is PETG."},
	"into scrap":          {run(func(g *Ground) { g.Into = "S1" }), Invalid, "into", "S1 is no label of a regrind lot."},
	"no label":            {&TakenIn{Class: Scrap, Lot: "bin", Mass: 1}, Invalid, "lot", `"bin" is no lot's label.`},
	"no class":            {&TakenIn{Class: "dust", Mass: 1}, Invalid, "class", `"dust" is no class of lot.`},
	"unknown need":        {&Printed{From: "R1", Need: "brackt", Mass: 0.1}, NotFound, "need", "There is no need brackt. Did you mean bracket?"},
	"print of a sponge":   {&Printed{From: "R1", Mass: 0.1, Moisture: kg(0.2)}, Invalid, "moisture", "The moisture 20 % is outside 0 % to 10 %."},
	"purge above print":   {&Printed{From: "R1", Mass: 0.1, Purged: kg(0.11)}, Invalid, "purged_kg", "The purge 110 g is more than the 100 g taken"},
	"nothing sorted":      {&Sorted{From: "S1"}, Invalid, "into", "Nothing was sorted out of lot S1."},
	"heap twice":          {&Sorted{From: "S1", Into: []Part{{Lot: "S8", Mass: 0.1}, {Lot: "S8", Mass: 0.1}}}, Invalid, "into.1.lot", "Two heaps go into lot S8."},
	"heap's wall":         {&Sorted{From: "S1", Into: []Part{{Mass: 0.1, Pieces: Pieces{Largest: kg(0.01), Wall: kg(0.02)}}}}, Invalid, "into.0.pieces.wall_m", "is thicker than the largest piece"},
	"blend of nothing":    {&Blended{}, Invalid, "from", "The blend is made of nothing."},
	"blended twice":       {&Blended{From: []Portion{{"S1", 0.1}, {"S1", 0.1}}}, Invalid, "from.1.lot", "Lot S1 is named twice."},
	"colour code":         {&TakenIn{Class: Scrap, RGB: "#12g456", Mass: 1}, Invalid, "rgb", "The colour code #12g456 is none."},
	"heap cleared":        {&Sorted{From: "S1", Into: []Part{{Halogen: "perhaps", Mass: 0.1}}}, Invalid, "into.0.halogen", `"perhaps" is neither yes nor no.`},
	"neither yes nor no":  {&TakenIn{Class: Scrap, Halogen: "perhaps", Mass: 1}, Invalid, "halogen", `"perhaps" is neither yes nor no.`},
	"long name":           {&TakenIn{Class: Scrap, Name: strings.Repeat("x", 81), Mass: 1}, Invalid, "name", "The text has 81 characters; 80 fit."},
	"control character":   {&TakenIn{Class: Scrap, Name: "a\x07b", Mass: 1}, Invalid, "name", "The text holds a control character (U+0007)."},
	"line in a name":      {&TakenIn{Class: Scrap, Name: "a\nb", Mass: 1}, Invalid, "name", "control character (U+000A)"},
	"spaced name":         {&PersonSet{Name: " Ann"}, Invalid, "name", `The text " Ann" begins or ends with a space.`},
	"broken text":         {&PersonSet{Name: "a\xff"}, Invalid, "name", "The text is not readable."},
	"no name":             {&PersonSet{}, Invalid, "name", "The person has no name."},
	"no chamber":          {&MillSet{Mill: Mill{Name: "m", Chamber: kg(0)}}, Invalid, "mill.chamber_m3", "The chamber 0"},
	"rotor too fast":      {&MillSet{Mill: Mill{Name: "m", RotorSpeed: kg(70000 * 2 * math.Pi / 60)}}, Invalid, "mill.rotor_rad_s", "The speed of the rotor 70000 rpm is outside"},
	"hole above chamber":  {&MillSet{Mill: Mill{Name: "m", Chamber: kg(1e-5), Screen: Screen{Hole: kg(0.05)}}}, Invalid, "mill.screen.hole_m", "A screen hole of 50.0 mm does not fit a chamber of " + quantity.Volume.Show(1e-5) + "."},
	"wall of wood":        {&MillSet{Mill: Mill{Name: "m", WallMetal: "wood"}}, Invalid, "mill.wall_metal", "The wall's metal must be steel"},
	"more than rated":     {&MillSet{Mill: Mill{Name: "m", RatedPower: kg(500), ContinuousPower: kg(600)}}, Invalid, "mill.continuous_w", "above its rated power"},
	"place of a reading":  {&MillSet{Mill: Mill{Name: "m", Thermometer: "pocket"}}, Invalid, "mill.thermometer", `"pocket" is no place for the thermometer.`},
	"watts of no level":   {&MillSet{Mill: Mill{Name: "m", Controller: &Control{Levels: 3, Watts: []LevelWatts{{4, 100}}}}}, Invalid, "mill.controller.watts.0.level", "Level 4 is outside the controller's levels 1 to 3."},
	"scale of one digit":  {&ScaleSet{Scale{Name: "s", Resolution: 0.1, Capacity: kg(0.1)}}, Invalid, "scale.capacity_kg", "is not above one of its digits"},
	"scale of no digit":   {&ScaleSet{Scale{Name: "s"}}, Invalid, "scale.resolution_kg", "The scale's resolution 0 g is outside"},
	"nozzle above barrel": {&PrinterSet{Printer{Name: "p", Nozzle: kg(0.02), ScrewBore: kg(0.01)}}, Invalid, "printer.nozzle_m", "wider than the barrel"},
	"need of nothing":     {&NeedSet{Need{Name: "n", From: "typed"}}, Invalid, "need.mass_kg", "has neither a mass nor a volume"},
	"need from the sky":   {&NeedSet{Need{Name: "n", From: "sky", Mass: kg(1)}}, Invalid, "need.from", "must be g-code, mesh or typed"},
	"mean above peak":     {&NeedSet{Need{Name: "n", From: "typed", Mass: kg(1), MeanFlow: kg(2e-8), PeakFlow: kg(1e-8)}}, Invalid, "need.mean_flow_m3_s", "above the peak flow"},
	"volume out of range": {&NeedSet{Need{Name: "n", From: "mesh", Volume: kg(1e-4), VolumeLo: kg(2e-4)}}, Invalid, "need.volume_m3", "between its low and its high end"},
	"value out of range":  {&MaterialSet{Polymer: "PLA", Property: "x", Value: 1, Low: 2, High: 3}, Invalid, "value", "between its low and its high end"},
	"value of nothing":    {&MaterialSet{Property: "x"}, Invalid, "polymer", "which polymer"},
	"humid beyond":        {&ShopSet{Name: "s", RoomHumidity: kg(45)}, Invalid, "room_humidity", "The humidity of the room"},
	"void of nothing":     {&Void{Why: "x"}, Invalid, "corrects", "must say which one"},
	"too many heaps":      {&Sorted{From: "S1", Into: make([]Part, 101)}, Invalid, "into", "101 entries are more than the 100"},
}

// TestRefusals: each entry is refused with the field, the code or words with the values
// and a way out.
func TestRefusals(t *testing.T) {
	t.Parallel()
	for name, c := range refusals {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := bench(t)
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

// TestDates: not in the future, not before the year 2000, else any.
func TestDates(t *testing.T) {
	t.Parallel()
	s, now := bench(t), monday.Add(9*time.Hour)
	for _, c := range []struct {
		at  time.Time
		say string
	}{
		{now.Add(4 * time.Minute), ""},
		{now.Add(6 * time.Minute), "The date 2026-05-04 17:06 is in the future; it is 2026-05-04 17:00 now."},
		{time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC), ""},
		{time.Date(1999, 12, 31, 0, 0, 0, 0, time.UTC), "The date 1999-12-31 is before the year 2000."},
	} {
		err := s.Check(Record{At: c.at, Body: &TakenIn{Class: Scrap, Mass: 1}}, now)
		if (err == nil) != (c.say == "") || err != nil && !strings.Contains(inWords(err), c.say) {
			t.Errorf("at %s: got %v, want %q", c.at, err, c.say)
		}
	}
	if _, err := s.With(Record{Body: &TakenIn{Class: Scrap, Mass: 1}}); err == nil {
		t.Error("a record without a date was taken outside of any moment")
	}
}

// TestUnknownNeverBlocks: a mill of which only the name is known can be ground
// with, and every pointer may be nil.
func TestUnknownNeverBlocks(t *testing.T) {
	t.Parallel()
	s := bench(t)
	for _, b := range []Body{
		&Ground{Mill: "plain", From: "S1", Charge: 0.1, Run: 60},
		&TakenIn{Class: Scrap, Mass: 1},
		&ShopSet{}, &PrinterSet{Printer{Name: "p"}},
		&Printed{From: "R1", Mass: 0.1},
	} {
		if err := s.Check(Record{Body: b}, monday.Add(9*time.Hour)); err != nil {
			t.Errorf("%s: %v", b.Kind(), err)
		}
	}
}
