package traceability_test

import (
	"math"
	"testing"

	"hopperful/plan/traceability"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// The newest colour taken counts before the code typed at the intake, and a
// measured curve comes back as it was measured.
func TestTakenColourCountsFirst(t *testing.T) {
	t.Parallel()
	flat, err := colour.Flat(0.4)
	if err != nil {
		t.Fatal(err)
	}
	start := []shop.Body{shoptest.Painted("R1", shop.Regrind, "#c0402a", 1), &shop.Coloured{Lot: "R1", How: shop.CardPhoto, RGB: "#1e5aa8"}}
	c := coloured(t, shoptest.Bin(t, start...), "R1")
	if c.Basis != traceability.ColourTaken || c.Mixed.RGB != "#1e5aa8" || c.Seen == nil || c.Seen.How != shop.CardPhoto || c.Seen.Record == 0 || c.Forecast != nil {
		t.Errorf("got %+v", c)
	}
	if c.Doubt.Value < 3 || c.Doubt.Value > 10 || c.Doubt.High > 16 { // a photo errs by 5 to 10
		t.Errorf("a photo is told to be off by %+v", c.Doubt)
	}
	c = coloured(t, shoptest.Bin(t, append(start, measured("R1", flat, shop.Unknown))...), "R1")
	if c.Mixed.RGB == "#1e5aa8" || c.Doubt.High > 4 {
		t.Errorf("got %+v", c)
	}
	for i, v := range c.Mixed.Curve {
		if math.Abs(v-0.4) > 1e-12 {
			t.Errorf("band %d: got %g", i, v)
		}
	}
	c = coloured(t, shoptest.Bin(t, append(start, &shop.Coloured{Lot: "R1", How: shop.Instrument, Lab: &shop.TakenLab{L: 50, A: 20, B: -30, Observer: 2}})...), "R1")
	if math.Abs(c.Mixed.Lab[0]-50)+math.Abs(c.Mixed.Lab[1]-20)+math.Abs(c.Mixed.Lab[2]+30) > 0.02 {
		t.Errorf("got %v", c.Mixed.Lab)
	}
}

// What is ground out of a lot looks like it, also when its colour was taken only
// afterwards; the code that came along says nothing of its own.
func TestGroundLotsLookLikeTheirScrap(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Colour: "red", RGB: "#c0402a", Mass: 1},
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.1), Left: shoptest.P(0), Run: 60},
		&shop.Coloured{Lot: "S1", How: shop.CardPhoto, RGB: "#b03020"})
	if c := coloured(t, s, "R1"); c.Basis != traceability.ColourParents || c.Mixed.RGB != "#b03020" || len(c.Parts) != 1 || c.Parts[0].Lot != "S1" {
		t.Errorf("got %+v", c)
	}
}

// A colour that no longer holds is told, so that nobody wonders where it went.
func TestAColourThatNoLongerHoldsIsTold(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 1}, &shop.Coloured{Lot: "V1", How: shop.CardPhoto, RGB: "#1e5aa8"},
		&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Colour: "red", Mass: 1})
	c := coloured(t, s, "V1")
	if c.Basis != traceability.ColourUnknown || len(c.Notes) != 1 || c.Notes[0].Code != "colour.no_longer_holds" {
		t.Errorf("got %+v", c)
	}
}

// Of a heap of grains the colour taken is the side-by-side end; of a melted piece
// it is the melt, beside its forecast.
func TestGrainsAndMeltAreTwoEnds(t *testing.T) {
	t.Parallel()
	start := []shop.Body{shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 1), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 1),
		shoptest.Blended("B1", portion("R1", 0.5), portion("R2", 0.1))}
	plain := coloured(t, shoptest.Bin(t, start...), "B1")
	grains := coloured(t, shoptest.Bin(t, append(start, &shop.Coloured{Lot: "B1", How: shop.CardPhoto, RGB: "#d0d0cc"})...), "B1")
	if grains.Unmixed.RGB != "#d0d0cc" || grains.Mixed.RGB != plain.Mixed.RGB || grains.Seen.Melted || grains.Off == nil {
		t.Errorf("got %+v", grains)
	}
	melted := coloured(t, shoptest.Bin(t, append(start, &shop.Coloured{Lot: "B1", How: shop.CardPhoto, RGB: "#606060", Melted: shop.Yes})...), "B1")
	if melted.Mixed.RGB != "#606060" || melted.Unmixed.RGB != plain.Unmixed.RGB || !melted.Seen.Melted || melted.Forecast == nil || len(melted.Learned) != 2 || len(melted.Parts) != 2 {
		t.Errorf("got %+v", melted)
	}
	if melted.Head.Code != "colour.seen_and_forecast" {
		t.Errorf("got %+v", melted.Head)
	}
	printedOf := coloured(t, shoptest.Bin(t, append(start, chipOf("B1", "P1"), &shop.Coloured{Lot: "P1", How: shop.CardPhoto, RGB: "#606060"})...), "B1")
	if printedOf.Mixed.RGB == plain.Mixed.RGB || printedOf.Basis != traceability.ColourParents || len(printedOf.Learned) != 2 {
		t.Errorf("a print taught nothing of its blend: %+v", printedOf)
	}
}

// A colour far from anything the parents could give is asked about, where it was
// written down and where it is read.
func TestAStrangeColourIsAskedAbout(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 1), shoptest.Painted("R2", shop.Regrind, "#f5c400", 1),
		shoptest.Blended("B1", portion("R1", 0.5), portion("R2", 0.1)), chipOf("B1", "P1"), &shop.Coloured{Lot: "P1", How: shop.CardPhoto, RGB: "#1e5aa8"})
	c := coloured(t, s, "P1")
	if len(c.Doubts) != 1 || c.Doubts[0].Code != "colour.strange" || c.Doubts[0].Text("lot") != "P1" || len(c.Doubts[0].Remedies) != 1 {
		t.Errorf("got %+v", c.Doubts)
	}
	if d := traceability.ColourDoubts(s, c.Seen.Record, "P1"); len(d) != 1 {
		t.Errorf("the record is not asked about: %+v", d)
	}
	s = shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 1), shoptest.Painted("R2", shop.Regrind, "#f5c400", 1),
		shoptest.Blended("B1", portion("R1", 0.5), portion("R2", 0.1)), chipOf("B1", "P1"), &shop.Coloured{Lot: "P1", How: shop.CardPhoto, RGB: "#f0e090"})
	if c := coloured(t, s, "P1"); len(c.Doubts) > 0 {
		t.Errorf("a usual colour is asked about: %+v", c.Doubts)
	}
}
