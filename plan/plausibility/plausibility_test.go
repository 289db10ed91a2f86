package plausibility_test

import (
	"math"
	"testing"
	"time"

	"hopperful/fact"
	"hopperful/plan/plausibility"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A yield of 188 g from 200 ml is denser than loose granules of PLA can be:
// 0.94 of 1.24 g/cm³ is 0.76, above the 0.64 of shaken spheres
// (RandomClosePack2026).
func TestAJarHeavierThanLooseGranulesIsAskedAbout(t *testing.T) {
	t.Parallel()
	small := shoptest.Mill()
	small.Jar = shoptest.P(0.0002)
	for name, c := range map[string]struct {
		body shop.Body
		asks bool
	}{
		"jar of 188 g":    {&shop.JarWeighed{Lot: "R1", Jar: 0.0002, Poured: 0.188}, true},
		"jar of 96 g":     {&shop.JarWeighed{Lot: "R1", Jar: 0.0002, Poured: 0.096}, false},
		"run of 188 g":    {&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.19, Product: shoptest.P(0.188), Run: 120}, true},
		"run of 90 g":     {&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: 120}, false},
		"nothing weighed": {&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Run: 120}, false},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			regrind := &shop.TakenIn{Class: shop.Regrind, Polymer: "PLA", Colour: "black", Mass: 0.5}
			s := shoptest.Bin(t, &shop.MillSet{Mill: small}, shoptest.Scrap("PLA", "black", 2), regrind)
			s, err := s.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon.Add(-time.Minute), Body: c.body})
			if err != nil {
				t.Fatal(err)
			}
			doubts := plausibility.Of(s, s.Newest().ID)
			if (len(doubts) > 0) != c.asks {
				t.Fatalf("asks %t: %+v", !c.asks, doubts)
			}
			if c.asks && (doubts[0].Saying.Code != "plausibility.jar" || !is(doubts[0].Saying, "share", 0.76) || len(doubts[0].Remedies) == 0) {
				t.Errorf("%+v", doubts[0])
			}
		})
	}
	if plausibility.Of(shoptest.Bin(t), 999) != nil {
		t.Error("a record that is not there is no matter of doubt")
	}
}

// A print far from any colour its parents could give is asked about, once its
// colour no longer holds it is not.
func TestAStrangeColourIsAskedAbout(t *testing.T) {
	t.Parallel()
	bodies := []shop.Body{shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 1), shoptest.Painted("R2", shop.Regrind, "#f5c400", 1),
		shoptest.Blended("B1", shop.Portion{Lot: "R1", Mass: 0.5}, shop.Portion{Lot: "R2", Mass: 0.1}), &shop.Printed{From: "B1", Into: "P1", Print: "chip", Mass: 0.05}}
	for code, asks := range map[string]bool{"#1e5aa8": true, "#f0e090": false} {
		s := shoptest.Bin(t, append(bodies, &shop.Coloured{Lot: "P1", How: shop.CardPhoto, RGB: code})...)
		id := s.Newest().ID
		if d := plausibility.Of(s, id); (len(d) > 0) != asks {
			t.Errorf("%s: %+v", code, d)
		}
		s, err := s.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon, Body: &shop.Coloured{Lot: "P1", How: shop.CardPhoto, RGB: "#f0e090"}})
		if err != nil {
			t.Fatal(err)
		}
		if d := plausibility.Of(s, id); len(d) > 0 {
			t.Errorf("%s is asked about although a newer one holds: %+v", code, d)
		}
	}
}

// is reports whether a saying carries that number, to a hundredth.
func is(s fact.Saying, name string, want float64) bool {
	f, ok := s.Fact(name)
	return ok && math.Abs(f.Value-want) < 0.01*want
}

// Every question is told value and bound, and what was meant is offered.
func TestEveryQuestionHasItsFacts(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		body                shop.Body
		code                shop.AskCode
		value, bound, meant float64 // 0: not held
	}{
		"ten charges":  {&shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.9, Run: 120}, shop.ChargeOverChamber, 0.9, 0, 0.09},
		"swapped":      {&shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.07, Product: shoptest.P(0.1), Run: 120}, shop.MoreOutThanIn, 0.1, 0, 0},
		"no such lot":  {&shop.Printed{From: "R1", Print: "x", Mass: 5}, shop.MoreThanLot, 5, 0.5, 0.5},
		"level of ten": {&shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.1, Run: 120, Level: known(100)}, shop.LevelOverLast, 100, 20, 10},
		"a cold wall":  {&shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.1, Run: 120, WallBefore: shoptest.P(320), WallAfter: shoptest.P(300)}, shop.ColderAfter, 300, 320, 0},
		"left of half": {&shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.1, Run: 120, Product: shoptest.P(0.007), Left: shoptest.P(0.01)}, shop.MassMissing, 0.007, 0.07, 0.07},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 4), &shop.TakenIn{Class: shop.Regrind, Polymer: "PLA", Colour: "black", Mass: 0.5}, c.body)
			all := plausibility.Of(s, s.Newest().ID)
			if len(all) == 0 || all[0].Code != c.code || !is(all[0].Saying, "value", c.value) || c.bound != 0 && !is(all[0].Saying, "bound", c.bound) {
				t.Fatalf("asks %+v", all)
			}
			first := all[0].Remedies[0]
			switch {
			case c.meant != 0 && (first.Code != "plausibility.was_it" || !is(first, "meant", c.meant)), name == "swapped" && first.Code != "plausibility.swapped":
				t.Errorf("offers %+v", first)
			}
			if open := plausibility.Open(s); len(open) != len(all) {
				t.Errorf("open are %+v", open)
			}
		})
	}
}

// The first run of a new shop may hold either slip: the question names both masses, what each
// may have been, and what would make them true. A chamber that cannot hold the one, or a lot that
// never held it, leaves the other.
func TestEitherMassMayBeTheSlip(t *testing.T) {
	t.Parallel()
	run := func(chamber *float64, scrap float64) []plausibility.Question {
		s := shoptest.Bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Tub", Chamber: chamber}}, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Mass: scrap},
			&shop.Ground{Mill: "Tub", From: "S1", Charge: 0.09, Product: shoptest.P(0.7), Run: 120})
		return plausibility.Open(s)
	}
	asked := run(nil, 3)
	if len(asked) != 1 || asked[0].Or == nil || len(asked[0].Remedies) != 2 {
		t.Fatalf("asked is %+v", asked)
	}
	q := asked[0]
	what, either, unless := q.Saying, q.Remedies[0], q.Remedies[1]
	if what.Code != "plausibility.more_out_either" || !is(what, "value", 0.09) || !is(what, "other_value", 0.7) || !is(what, "over", 0.61) {
		t.Errorf("asks %+v", what)
	}
	if either.Code != "plausibility.was_either" || !is(either, "meant", 0.9) || !is(either, "meant_other", 0.07) {
		t.Errorf("offers %+v", either)
	}
	if !is(unless, "over", 0.61) {
		t.Errorf("it can be so if %+v", unless)
	}
	for name, asked := range map[string][]plausibility.Question{"a chamber of a litre": run(shoptest.P(1e-3), 3), "a lot of half a kilogram": run(nil, 0.5)} {
		if len(asked) != 1 || asked[0].Or != nil || asked[0].Field != "product_kg" || !is(asked[0].Remedies[0], "meant", 0.07) || !is(asked[0].Remedies[1], "over", 0.61) {
			t.Errorf("%s: asked is %+v", name, asked)
		}
	}
}

func known(n int) *int { return &n }

// A level of a mill whose controller nobody described is asked about with the way to
// settle it, and that way settles it.
func TestALevelWaitsForItsController(t *testing.T) {
	t.Parallel()
	plain := shoptest.Mill()
	plain.Name, plain.Controller = "Tub", nil
	s := shoptest.Bin(t, &shop.MillSet{Mill: plain}, shoptest.Scrap("PLA", "black", 4), &shop.Ground{Mill: "Tub", From: "S1", Charge: 0.1, Run: 120, Level: known(14)})
	asked := plausibility.Open(s)
	if len(asked) != 1 || asked[0].Saying.Code != "plausibility.no_levels" || asked[0].Remedies[0].Code != "plausibility.describe_levels" {
		t.Fatalf("asked is %+v", asked)
	}
	plain.Controller = &shop.Control{Levels: 22}
	s, err := s.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon, Body: &shop.MillSet{Mill: plain}})
	if err != nil {
		t.Fatal(err)
	}
	if asked := plausibility.Open(s); len(asked) != 0 {
		t.Errorf("still asked: %+v", asked)
	}
}
