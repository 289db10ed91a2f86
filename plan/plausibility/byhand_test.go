package plausibility

import (
	"testing"

	"hopperful/fact"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A field is known by its own name, or by the last part of a path to it; else it stands as it is.
func TestFieldsByTheirNames(t *testing.T) {
	t.Parallel()
	for path, want := range map[string]fact.Saying{
		"charge_kg": fact.Say("plausibility.charge"), "from.mass_kg": fact.Say("plausibility.mass"), "a.b.level": fact.Say("plausibility.level"), ".run_s": fact.Say("plausibility.run"),
		"bodies.unheard": fact.Verbatim("unheard"), "unheard": fact.Verbatim("unheard"),
	} {
		if got := Named(path); got.Code != want.Code || len(got.Facts) != len(want.Facts) || len(want.Facts) > 0 && got.Facts[0].Text != want.Facts[0].Text {
			t.Errorf("%q is %+v, wanted %+v", path, got, want)
		}
	}
}

// How a jar is too dense, in its own word: of a solid of 1.24 g/cm³, 1 l of 0.64 of it is as much
// as shaken spheres hold and no matter of doubt (RandomClosePack2026), 0.74 as equal spheres can.
func TestHowDenseAJarIs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		share float64
		word  string
	}{
		{0.35, ""}, {0.64, ""}, {0.6401, "plausibility.denser_than_shaken"}, {0.74, "plausibility.denser_than_shaken"}, {0.741, "plausibility.denser_than_spheres"},
		{1, "plausibility.denser_than_spheres"}, {1.001, "plausibility.denser_than_solid"}, {0.001, "plausibility.no_granulate"},
	} {
		f, asks := TooDense("PLA", c.share*1240*2e-3, 2e-3, 1240)
		if asks != (c.word != "") {
			t.Errorf("%g of the solid: asks %t", c.share, asks)
			continue
		}
		if !asks {
			continue
		}
		word, _ := f.Fact("word")
		share, _ := f.Fact("share")
		if word.Parts[0].Code != c.word || share.Value < 0.9999*c.share || share.Value > 1.0001*c.share || len(f.Remedies) != 1 {
			t.Errorf("%g of the solid: %+v, share %g", c.share, word.Parts, share.Value)
		}
	}
}

// A jar is told by its share where lot, plastic and jar are known, and not otherwise.
func TestJarsNobodyKnows(t *testing.T) {
	t.Parallel()
	bare, jarred := shoptest.Mill(), shoptest.Mill()
	bare.Name, bare.Jar = "Bare", nil
	jarred.Name, jarred.Jar = "Jarred", shoptest.P(2e-4)
	lot := func(id shop.LotID, polymer string) *shop.TakenIn {
		return &shop.TakenIn{Lot: id, Class: shop.Regrind, Polymer: polymer, Mass: 1, Halogen: shop.No}
	}
	s := shoptest.Bin(t, &shop.MillSet{Mill: bare}, &shop.MillSet{Mill: jarred}, shoptest.Scrap("PLA", "black", 5), lot("R1", "PLA"), lot("R2", ""),
		&shop.Ground{Mill: "Jarred", From: "S1", Into: "R1", Charge: 0.2, Product: shoptest.P(0.18), Run: 60}, &shop.Ground{Mill: "Bare", From: "S1", Into: "R1", Charge: 0.2, Product: shoptest.P(0.18), Run: 60})
	full, empty := s.History.At(s.History.Len()-2), s.History.At(s.History.Len()-1)
	weighed := shop.Record{Body: &shop.JarWeighed{Lot: "R1", Jar: 2e-4, Poured: 0.19}}
	for name, c := range map[string]struct {
		r    shop.Record
		lot  shop.LotID
		tell bool
	}{
		"a jar": {weighed, "R1", true}, "the mill's": {full, "R1", true}, "of a mill without one": {empty, "R1", false}, "of a lot that is not there": {weighed, "R9", false},
		"of a plastic nobody knows": {weighed, "R2", false}, "of another record": {shop.Record{Body: &shop.Weighed{Lot: "R1", Mass: 1}}, "R1", false},
		"of no volume": {shop.Record{Body: &shop.JarWeighed{Lot: "R1", Poured: 0.19}}, "R1", false},
	} {
		f, told := jar(s, c.r, shop.Ask{Lot: c.lot, Value: 0.19})
		if told != c.tell {
			t.Errorf("%s: told %t", name, told)
		}
		if told {
			if share, _ := f.Fact("share"); share.Value < 0.76 || share.Value > 0.78 { // 0.95 of 1.24 g/cm³
				t.Errorf("%s: %g of the solid", name, share.Value)
			}
		}
	}
}
