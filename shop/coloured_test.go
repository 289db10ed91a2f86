package shop

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"hopperful/process/colour"
)

// taken is a measured curve that is fine but for what change does to it.
func taken(change func(*Coloured)) *Coloured {
	b := &Coloured{Lot: "R1", How: Instrument}
	for nm := 400.0; nm <= 700; nm += 10 {
		b.Curve = append(b.Curve, TakenBand{nm * 1e-9, 0.1 + (nm-400)/1000})
	}
	change(b)
	return b
}

// TestColourRefusals: as TestRefusals, for colours.
func TestColourRefusals(t *testing.T) {
	t.Parallel()
	s := workbench(t)
	lab := func(l, a, b float64, observer int) *Coloured {
		return &Coloured{Lot: "R1", How: Instrument, Lab: &TakenLab{l, a, b, observer}}
	}
	for name, c := range map[string]struct {
		body  Body
		code  Code
		field string
		say   string
	}{
		"no colour":        {&Coloured{Lot: "R1", How: CardPhoto}, Invalid, "rgb", "The record says no colour. It is a colour code, or L*a*b*, or a curve"},
		"two colours":      {taken(func(b *Coloured) { b.RGB = "#1c1c1c" }), Invalid, "rgb", "The record says the colour twice."},
		"no lot":           {&Coloured{How: CardPhoto, RGB: "#1c1c1c"}, NotFound, "lot", "The record names no lot."},
		"another lot":      {&Coloured{Lot: "R9", How: CardPhoto, RGB: "#1c1c1c"}, NotFound, "lot", "There is no lot R9 at that time."},
		"half melted":      {taken(func(b *Coloured) { b.Melted = "half" }), Invalid, "melted", `"half" is neither yes nor no.`},
		"no way":           {&Coloured{Lot: "R1", RGB: "#1c1c1c"}, Invalid, "how", `"" is no way to take a colour.`},
		"no code":          {&Coloured{Lot: "R1", How: ByEye, RGB: "black"}, Invalid, "rgb", "The colour code black is none."},
		"lab by eye":       {&Coloured{Lot: "R1", How: ByEye, Lab: &TakenLab{50, 0, 0, 2}}, Invalid, "how", "L*a*b* and curves come from an instrument."},
		"lighter than all": {lab(120, 0, 0, 2), Invalid, "lab.l", "The lightness L* 120 is outside 0 to 100."},
		"no such surface":  {lab(95, 80, 80, 10), Invalid, "lab", "No surface under daylight can be as bright and colourful as L* 95.0, a* 80.0, b* 80.0."},
		"five degrees":     {lab(50, 0, 0, 5), Invalid, "lab.observer", "There is no standard observer of 5 degrees."},
		"not a number":     {lab(math.NaN(), 0, 0, 2), Invalid, "lab.l", "Lightness L* is no number."},
		"curve backwards":  {taken(func(b *Coloured) { b.Curve[3], b.Curve[4] = b.Curve[4], b.Curve[3] }), Invalid, "curve", "The curve goes from 440 nm to 430 nm."},
		"curve with a gap": {taken(func(b *Coloured) { b.Curve = append(b.Curve[:10], b.Curve[13:]...) }), Invalid, "curve", "Between 490 nm and 530 nm the curve says nothing."},
		"curve too short":  {taken(func(b *Coloured) { b.Curve = b.Curve[:25] }), Invalid, "curve", "The curve has 25 bands from 400 nm to 640 nm."},
		"brighter than 1":  {taken(func(b *Coloured) { b.Curve[5].Light = 35 }), Invalid, "curve.5.reflectance", "The light sent back 3500 % is outside"},
		"nm as m":          {taken(func(b *Coloured) { b.Curve[0].Wavelength = 400 }), Invalid, "curve.0.wavelength_m", "The wavelength 400 m is outside"},
		"too many bands":   {taken(func(b *Coloured) { b.Curve = make([]TakenBand, 101) }), Invalid, "curve", "101 entries are more than the 100"},
	} {
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

// TestNewestColourHolds: by the time it was taken, corrected and struck out
// like anything else; nothing leaves the lot.
func TestNewestColourHolds(t *testing.T) {
	t.Parallel()
	code := func(c string) *Coloured { return &Coloured{Lot: "R1", How: CardPhoto, RGB: c} }
	s := workbench(t) // records 1 to 8
	had := s.Lots.At("R1").Mass
	s = write(t, s, Record{At: monday.Add(20 * time.Hour), Body: code("#aaaaaa")}, // 9
		Record{At: monday.Add(19 * time.Hour), Body: code("#bbbbbb")}) // 10, written down late
	holds := func(want string, by RecordID) {
		t.Helper()
		l := s.Lots.At("R1")
		switch {
		case want == "" && l.Taken != nil:
			t.Errorf("got %+v, want none", l.Taken)
		case want != "" && (l.Taken == nil || l.Taken.RGB != want || l.TakenBy != by):
			t.Errorf("got %+v by %d, want %s by %d", l.Taken, l.TakenBy, want, by)
		}
	}
	holds("#aaaaaa", 9)
	s = write(t, s, Record{Corrects: 9, Body: code("#cccccc")})
	holds("#cccccc", 9)
	s = write(t, s, Record{Corrects: 9, Body: &Void{Why: "x"}})
	holds("#bbbbbb", 10)
	s = write(t, s, Record{Corrects: 10, Body: &Void{Why: "x"}})
	holds("", 0)
	wantMass(t, "R1", s.Lots.At("R1").Mass, had)
}

// TestTakenColourAndMixing: more of the same colour leaves it; another colour,
// one nobody named, or another sorted out ends it.
func TestTakenColourAndMixing(t *testing.T) {
	t.Parallel()
	scrap := func(id LotID, class Class, word string) Record {
		return Record{Body: &TakenIn{Lot: id, Class: class, Polymer: "PLA", Colour: word, Mass: 1}}
	}
	start := mustFold(t, []Record{{At: monday, Body: &MillSet{Mill: Mill{Name: "m"}}}})
	start = write(t, start, scrap("S1", Scrap, "black"), scrap("S2", Scrap, "white"), scrap("S3", Scrap, ""), scrap("V1", Virgin, ""),
		Record{Body: &Ground{Mill: "m", From: "S1", Into: "R1", Charge: 0.1, Product: kg(0.1), Left: kg(0), Run: 60}},
		Record{Body: &Ground{Mill: "m", From: "S3", Into: "R3", Charge: 0.1, Product: kg(0.1), Left: kg(0), Run: 60}})
	for _, id := range []LotID{"S1", "R1", "R3", "V1"} {
		start = write(t, start, Record{Body: &Coloured{Lot: id, How: CardPhoto, RGB: "#1c1c1c"}})
	}
	grind := func(from, into LotID) *Ground {
		return &Ground{Mill: "m", From: from, Into: into, Charge: 0.1, Product: kg(0.1), Left: kg(0), Run: 60}
	}
	for name, c := range map[string]struct {
		lot   LotID
		holds bool
		what  []Body
	}{
		"untouched":              {"R1", true, nil},
		"more of the same":       {"R1", true, []Body{grind("S1", "R1")}},
		"another colour":         {"R1", false, []Body{grind("S2", "R1")}},
		"a colour nobody named":  {"R3", false, []Body{grind("S3", "R3")}},
		"residue of another":     {"R1", false, []Body{&Ground{Mill: "m", From: "S2", Into: "R2", Charge: 0.1, Product: kg(0.08), Left: kg(0.02), Run: 60}, grind("S1", "R1")}},
		"weighed later":          {"R1", false, []Body{&Ground{Mill: "m", From: "S2", Into: "R1", Charge: 0.1, Run: 60}, &Weighed{Lot: "R1", Mass: 0.2}}},
		"not weighed yet":        {"R1", true, []Body{&Ground{Mill: "m", From: "S2", Into: "R1", Charge: 0.1, Run: 60}}},
		"recounted":              {"R1", true, []Body{&Weighed{Lot: "R1", Mass: 0.09}}},
		"more of the same bag":   {"V1", true, []Body{&TakenIn{Lot: "V1", Class: Virgin, Mass: 1}}},
		"a bag of another":       {"V1", false, []Body{&TakenIn{Lot: "V1", Class: Virgin, Colour: "red", Mass: 1}}},
		"some taken out":         {"S1", true, []Body{grind("S1", "R1"), &Discarded{Lot: "S1", Mass: 0.1, Why: "x"}}},
		"another colour sorted":  {"S1", false, []Body{&Sorted{From: "S1", Into: []Part{{Mass: 0.1, Colour: "red"}}}}},
		"the same colour sorted": {"S1", true, []Body{&Sorted{From: "S1", Into: []Part{{Mass: 0.1}}}}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := start
			for _, b := range c.what {
				s = write(t, s, Record{Body: b})
			}
			if got := s.Lots.At(c.lot).Taken != nil; got != c.holds {
				t.Errorf("holds is %t, want %t", got, c.holds)
			}
		})
	}
}

// TestReflectanceOfATakenColour: a curve comes back as measured, a code and
// L*a*b* look like what was said.
func TestReflectanceOfATakenColour(t *testing.T) {
	t.Parallel()
	c, lifted, err := taken(func(*Coloured) {}).Reflectance()
	if err != nil || lifted || math.Abs(c[12]-0.2) > 1e-12 { // 500 nm
		t.Errorf("got %v, %v, %v", c, lifted, err)
	}
	c, _, err = (&Coloured{Lab: &TakenLab{50, 20, -30, 10}}).Reflectance()
	if err != nil {
		t.Fatal(err)
	}
	if p, err := colour.LabOf(c, colour.TenDegrees); err != nil || math.Abs(p.L-50)+math.Abs(p.A-20)+math.Abs(p.B+30) > 1e-4 {
		t.Errorf("got %+v, %v", p, err)
	}
	c, lifted, err = (&Coloured{RGB: "#000000"}).Reflectance()
	if err != nil || !lifted || c[0] != colour.PhotoDarkest {
		t.Errorf("got %v, %v, %v", c, lifted, err)
	}
}
