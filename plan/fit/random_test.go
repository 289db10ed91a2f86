package fit_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/answer"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Whatever printer, need and material a shop may enter: an answer that is whole,
// or a refusal in words.
func TestFitTakesWhatAShopMayEnter(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(9, 9))
	maybe := func(lo, hi float64) *float64 {
		if rng.IntN(3) == 0 {
			return nil
		}
		return shoptest.P(lo * math.Pow(hi/lo, rng.Float64()))
	}
	answered := 0
	const tries = 60
	for range tries {
		name := polymer.Names()[rng.IntN(len(polymer.Names())-2)] // neither PVC nor unknown
		one := shop.Printer{Name: "Puddle", Nozzle: maybe(1e-4, 4e-3), ScrewBore: maybe(5e-3, 0.1), HeaterWatt: maybe(5, 5000), Hopper: maybe(1e-5, 0.1),
			HopperExit: maybe(1e-3, 0.3), PerTurn: maybe(1e-9, 1e-4), LargestIn: maybe(1e-4, 4e-3)}
		need := shop.Need{From: "typed", Mass: shoptest.P(math.Exp(rng.NormFloat64() * 3)), MeanFlow: maybe(1e-11, 1e-5)}
		s := ground(t, name, &shop.PrinterSet{Printer: one}, &shop.ShopSet{Name: "Test bench", RoomTemperature: maybe(273, 310), RoomHumidity: shoptest.P(rng.Float64())})
		f, err := fit.Judge(s, fit.Request{Lot: "R1", Need: need, Now: shoptest.Noon, Draws: 8, Seed: rng.Uint64()})
		var refused *shop.Error
		switch {
		case errors.As(err, &refused) && !refused.What.Empty():
		case err != nil:
			t.Errorf("%s, %+v, %+v: %v", name, one, need, err)
		default:
			answered++
			whole(t, f)
		}
	}
	if answered < tries*2/3 {
		t.Errorf("%d of %d answered", answered, tries)
	}
}

// A heap somebody sorted out of an unknown bin is what its sorter says.
func TestSortedHeapsAreWhatTheirSorterSays(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Mass: 2},
		&shop.Sorted{From: "S1", Into: []shop.Part{{Lot: "S2", Polymer: "PETG", Sure: shoptest.P(0.97), Mass: 0.8}}},
		&shop.Ground{Mill: "Rattle", From: "S2", Into: "R1", Charge: 0.7, Product: shoptest.P(0.65), Run: 120})
	f := judge(t, s, fit.Request{Lot: "R1", Need: vase(0.3, "PETG")})
	if f.Refused != nil || itemOf(t, f, "polymer").Verdict != answer.Yes {
		t.Errorf("%q", f.Document.Head.Code)
	}
	// A little of another plastic is borne by a jig and not by a part that holds.
	mixed := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1}, &shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PETG", Sure: shoptest.P(1), Mass: 1},
		&shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.98}, {Lot: "R2", Mass: 0.02}}, Into: "B1", Polymer: "PLA"})
	holds := itemOf(t, judge(t, mixed, fit.Request{Lot: "B1", Need: vase(0.3, "PLA")}), "polymer")
	jig := itemOf(t, judge(t, mixed, fit.Request{Lot: "B1", Need: vase(0.3, "PLA"), Strength: shoptest.P(0.5)}), "polymer")
	if holds.Verdict != answer.No || jig.Verdict == answer.No {
		t.Errorf("2 %% PETG in PLA: %s for a part that holds, %s for a jig", holds.Verdict, jig.Verdict)
	}
	wrong := itemOf(t, judge(t, mixed, fit.Request{Lot: "R2", Need: vase(0.3, "PLA")}), "polymer")
	if wrong.Verdict != answer.No {
		t.Errorf("PETG for a need of PLA: %s", wrong.Verdict)
	}
	scraps := itemOf(t, judge(t, ground(t, "PLA"), fit.Request{Lot: "S1", Need: vase(0.3, "PLA")}), "sizes")
	if scraps.Verdict != answer.No {
		t.Errorf("scrap is fit to print: %q", scraps.Says.Code)
	}
}

// What a check forecasts lies where published work found it.
func TestFitAgreesWithPublishedWork(t *testing.T) {
	t.Parallel()
	printer := func(one shop.Printer) *shop.State { return ground(t, "HIPS", &shop.PrinterSet{Printer: one}) }
	one := puddle()
	one.ScrewBore = shoptest.P(20e-3)
	turn := known(t, judge(t, printer(one), fit.Request{Lot: "R1", Need: vase(0.3, "HIPS"), Draws: 240}), "mass_per_turn")
	// ScrewOutput2025: a 20 mm screw gave 0.24 g a turn of HIPS, 0.31 g of recycled PP.
	for _, found := range []float64{0.24167e-3, 0.30833e-3} {
		if found < turn.Low || found > turn.High {
			t.Errorf("%g kg a turn were found, %g to %g are forecast", found, turn.Low, turn.High)
		}
	}
	one = puddle()
	one.HeaterWatt = shoptest.P(150)
	melts := itemOf(t, judge(t, ground(t, "PLA", &shop.PrinterSet{Printer: one}), vasePLA), "melts").Figure
	// Own derivation: 150 W at 60 % and 353.5 kJ/kg melt 0.917 kg/h.
	if want := 0.91655 / 3600; want < melts.Low || want > melts.High {
		t.Errorf("%g kg/s, %g to %g are forecast", want, melts.Low, melts.High)
	}
	// Owiki2026, rule of three: three kilograms without a block leave less than
	// one a kilogram at 95 %.
	s := shoptest.Bin(t, &shop.PrinterSet{Printer: puddle()}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 5},
		&shop.Printed{From: "R1", Print: "vases", Mass: 3, Good: shop.Yes})
	if open := itemOf(t, judge(t, s, vasePLA), "open").Figure; open.High > 1 {
		t.Errorf("%g to %g chips a kilogram after three clean ones", open.Low, open.High)
	}
}
