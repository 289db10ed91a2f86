package shop

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// TestUnweighedProductWaits: nothing is invented until the scale has spoken.
func TestUnweighedProductWaits(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Ground{Mill: "plain", From: "S2", Charge: 0.24, Run: 180}})
	m, _ := s.Mill("plain")
	wantMass(t, "S2", s.Lots.At("S2").Mass, 0.76)
	wantMass(t, "R2", s.Lots.At("R2").Mass, 0)
	wantMass(t, "the mill's hold", m.Held, 0.24)
	if a := write(t, s, Record{Body: &Weighed{Lot: "R2", Mass: 0.25}}).Asks(); len(a) != 1 || a[0].Code != MoreThanGround || a[0].Bound != 0.24 {
		t.Errorf("weighed more than was ground, asked was %+v", a)
	}
	w := write(t, s, Record{Body: &Weighed{Lot: "R2", Mass: 0.232}})
	m, _ = w.Mill("plain")
	wantMass(t, "R2", w.Lots.At("R2").Mass, 0.232)
	wantMass(t, "the mill's hold", m.Held, 0)
	wantMass(t, "lost", BalanceOf(w).Losses[LostGrinding], 0.005+0.008)
	if p := w.Lots.At("R2").Parents; len(p) != 1 || p[0].Lot != "S2" || math.Abs(p[0].Mass-0.232) > 1e-12 {
		t.Errorf("R2 came from %+v", p)
	}
	// A second run into the same lot may tell both products at once.
	b := write(t, s, Record{Body: &Ground{Mill: "plain", From: "S2", Into: "R2", Charge: 0.24, Product: kg(0.47), Run: 180}})
	m, _ = b.Mill("plain")
	wantMass(t, "R2", b.Lots.At("R2").Mass, 0.47)
	wantMass(t, "the mill's hold", m.Held, 0)
}

// TestResidueMixesWithTheNextCharge: 5 g of S1 stayed in; 240 g of S1 would
// have hidden it, 245 g of S2 do not: 5 of 250 g of product are of S1.
func TestResidueMixesWithTheNextCharge(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Ground{Mill: "shredder", From: "S2", Charge: 0.245, Product: kg(0.2), Left: kg(0.05), Run: 180}})
	want := map[LotID]float64{"S1": 0.2 * 5 / 250, "S2": 0.2 * 245 / 250}
	for _, e := range s.Lots.At("R2").Parents {
		wantMass(t, "from "+string(e.Lot), e.Mass, want[e.Lot])
	}
	shares := s.Composition("R2")
	if len(shares) != 2 || shares[0].Lot != "S1" || math.Abs(shares[0].Mass-0.02) > 1e-9 || math.Abs(shares[1].Mass-0.98) > 1e-9 {
		t.Errorf("R2 consists of %+v", shares)
	}
	m, _ := s.Mill("shredder")
	wantMass(t, "the mill's hold", m.Held, 0.05)
	wantMass(t, "ground", m.Ground, 0.485)
	if m.HeldOf != "S2" || len(m.Runs) != 2 {
		t.Errorf("the mill holds %s after runs %v", m.HeldOf, m.Runs)
	}
	if a := s.Ancestors("R2"); len(a) != 2 {
		t.Errorf("R2 came from %v", a)
	}
	if d := s.Descendants("S1"); len(d) != 2 {
		t.Errorf("S1 went to %v", d)
	}
}

// TestScaleDecidesWhatIsTooHeavy: with a kitchen scale's gram 241 g out of
// 240 g pass, as a named difference; 245 g do not.
func TestScaleDecidesWhatIsTooHeavy(t *testing.T) {
	t.Parallel()
	s := bench(t)
	run := func(product float64) Record {
		return Record{At: s.Last, Body: &Ground{Mill: "plain", From: "S1", Charge: 0.24, Product: &product, Run: 180}}
	}
	n := write(t, s, run(0.241))
	wantMass(t, "difference", BalanceOf(n).Losses[Difference], -0.001)
	// 2 weighings × 2 digits of 1 g + 0.5 % of 240 g = 5.2 g
	if a := write(t, s, run(0.2451)).Asks(); len(a) > 0 {
		t.Errorf("asked %+v", a)
	}
	if a := write(t, s, run(0.2453)).Asks(); len(a) != 1 || a[0].Code != MoreOutThanIn || a[0].Bound != 0.24 {
		t.Errorf("asked %+v", a)
	}
	fine := write(t, s, Record{Body: &ScaleSet{Scale{Name: "jewellery", Resolution: 1e-5, Capacity: kg(0.2)}}})
	if r := fine.Resolution(0.1); r != 1e-5 {
		t.Errorf("100 g are weighed to %g kg", r)
	}
	if r := fine.Resolution(0.3); r != 1e-3 {
		t.Errorf("300 g, more than it carries, are weighed to %g kg", r)
	}
}

// TestOverdraftWithinADigit takes the lot to nothing and names the difference.
func TestOverdraftWithinADigit(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Printed{From: "R1", Print: "x", Mass: 0.231}})
	wantMass(t, "R1", s.Lots.At("R1").Mass, 0)
	wantMass(t, "difference", BalanceOf(s).Losses[Difference], -0.001)
}

// TestWayBackIsClosed: no lot becomes its own ancestor, not even by what an
// earlier run left in the mill or what waits to be weighed.
func TestWayBackIsClosed(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Ground{Mill: "plain", From: "R1", Charge: 0.1, Product: kg(0.09), Left: kg(0.005), Run: 60}})
	for say, g := range map[string]*Ground{
		"Lot R2 came out of lot R1 and cannot go back into it.":                        {Mill: "shredder", From: "R2", Into: "R1", Charge: 0.05, Run: 60},
		"Lot R1 cannot come out of itself. The mill still holds some of lot R1. Leave": {Mill: "plain", From: "S1", Into: "R1", Charge: 0.1, Run: 60},
	} {
		if _, err := s.With(Record{At: s.Last, Body: g}); err == nil || !strings.Contains(inWords(err), say) {
			t.Errorf("got %v, want %q", err, say)
		}
	}
}

// TestMixedLotsKeepWarnings: what two heaps do not share is no longer known.
func TestMixedLotsKeepWarnings(t *testing.T) {
	t.Parallel()
	s := write(t, mustFold(t, nil),
		Record{At: monday, Body: &TakenIn{Class: Scrap, Polymer: "PLA", Sure: kg(0.9), Colour: "red", Halogen: No, Mass: 1}},
		Record{Body: &TakenIn{Lot: "S1", Class: Scrap, Mass: 1}}, // more of the same
		Record{Body: &TakenIn{Class: Scrap, Colour: "blue", Halogen: Yes, Metal: "screws", Mass: 1}},
		Record{Body: &Blended{From: []Portion{{"S1", 0.5}, {"S2", 0.5}}, Name: "try"}})
	if l := s.Lots.At("S1"); l.Polymer != "PLA" || *l.Sure != 0.9 || l.Halogen != No || l.Mass != 1.5 {
		t.Errorf("S1 is %+v", l)
	}
	if l := s.Lots.At("B1"); l.Polymer != "" || l.Sure != nil || l.Colour != "mixed" || l.Halogen != Yes || l.Metal != "screws" || l.Name != "try" || l.Mass != 1 {
		t.Errorf("B1 is %+v", l)
	}
}

// TestSortingSplits: heaps, metal and waste leave, the rest stays.
func TestSortingSplits(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Sorted{From: "S2", Into: []Part{{Mass: 0.5}, {Mass: 0.2, Polymer: "ABS", Colour: "white"}},
		Metal: kg(0.03), Waste: kg(0.07)}})
	wantMass(t, "S2", s.Lots.At("S2").Mass, 0.2)
	wantMass(t, "S3", s.Lots.At("S3").Mass, 0.5)
	if s.Lots.At("S3").Polymer != "PETG" || s.Lots.At("S4").Polymer != "ABS" || s.Lots.At("S4").Colour != "white" {
		t.Errorf("heaps %+v %+v", s.Lots.At("S3"), s.Lots.At("S4"))
	}
	b := BalanceOf(s)
	wantMass(t, "metal", b.Losses[MetalCut], 0.03)
	wantMass(t, "waste", b.Losses[ThrownAway], 0.07)
	r := write(t, s, Record{Body: &Weighed{Lot: "S2", Mass: 0.19}})
	wantMass(t, "recount", BalanceOf(r).Losses[Recount], 0.01)
}

func TestAHeapIsMarkedAndNeverCleared(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Sorted{From: "S2", Into: []Part{{Mass: 0.2, Halogen: Yes}, {Mass: 0.2}, {Mass: 0.1, Halogen: No}}}})
	for id, want := range map[LotID]YesNo{"S3": Yes, "S4": s.Lots.At("S2").Halogen, "S5": No} {
		if got := s.Lots.At(id).Halogen; got != want {
			t.Errorf("%s is %q, wanted %q", id, got, want)
		}
	}
	_, err := s.With(Record{At: s.Last, Body: &Sorted{From: "S3", Into: []Part{{Mass: 0.1, Halogen: No}}}})
	var e *Error
	if !errors.As(err, &e) || e.Field != "into.0.halogen" {
		t.Errorf("a suspicion was sorted away: %v", err)
	}
}
