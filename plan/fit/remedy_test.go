package fit_test

import (
	"slices"
	"testing"

	"hopperful/answer"
	"hopperful/plan/fit"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// dusty is a sieving of R1 with such a share of 100 g below 0.5 mm.
func dusty(fines float64) *shop.Sieved {
	return &shop.Sieved{Lot: "R1", Series: shop.OwnSet, Holes: shop.WovenWire, Charge: 0.1, Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.01}, {Opening: 1e-3, Mass: 0.09 - 0.1*fines}, {Opening: 0.5e-3, Mass: 0}}, Pan: 0.1 * fines}
}

// What sieving takes away is not there to print.
func TestSievingCountsWhenThereIsBarelyEnough(t *testing.T) {
	t.Parallel()
	s := ground(t, "PLA", dusty(0.03))
	mass := 0.9 * 1.1 / 1.12 // of 1.1 kg: enough with the dust, not without
	before := itemOf(t, judge(t, s, fit.Request{Lot: "R1", Need: vase(mass, "PLA"), Draws: 240}), "enough")
	s = ground(t, "PLA", dusty(0.25))
	f := judge(t, s, fit.Request{Lot: "R1", Need: vase(mass, "PLA"), Draws: 240})
	x, sizes := itemOf(t, f, "enough"), itemOf(t, f, "sizes")
	if sizes.Change == nil || sizes.Change.Takes == nil || *sizes.Change.Takes < 0.15 || *sizes.Change.Takes > 0.3 {
		t.Fatalf("sizes: %+v", sizes.Change)
	}
	if x.Chance > before.Chance-0.5 || x.Says.Code != "fit.says_enough_sieved" {
		t.Errorf("chance %v before, %v after sieving: %s", before.Chance, x.Chance, x.Says.Code)
	}
}

// No remedy that cannot work: new pellets are neither sieved nor ground, and
// nothing is sifted through a sieve its grains do not pass.
func TestRemediesCanWork(t *testing.T) {
	t.Parallel()
	pellets := shoptest.Bin(t, &shop.PrinterSet{Printer: shop.Printer{Name: "Thin", Nozzle: shoptest.P(0.4e-3), LargestIn: shoptest.P(2e-3), ScrewBore: shoptest.P(12e-3)}},
		&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Sure: shoptest.P(1), Halogen: shop.No, Mass: 2})
	for _, x := range judge(t, pellets, fit.Request{Lot: "V1", Need: vase(0.2, "PLA")}).Items {
		for _, code := range []string{"do.sift", "do.dedust", "fit.coarse_off"} {
			if x.Change != nil && x.Change.Do.Code == code {
				t.Errorf("pellets, %s: %s", x.Key, code)
			}
		}
	}
	for _, nozzle := range []float64{0.4e-3, 0.8e-3, 1.2e-3} {
		s := ground(t, "PLA", dusty(0.2), &shop.PrinterSet{Printer: shop.Printer{Name: "Puddle", Nozzle: shoptest.P(nozzle), ScrewBore: shoptest.P(16e-3)}},
			&shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1"})
		x := itemOf(t, judge(t, s, fit.Request{Lot: "R1", Need: vase(0.2, "PLA")}), "open")
		if x.Change == nil || x.Change.Do.Code != "do.sift" {
			continue
		}
		if hole, _ := x.Change.Do.Fact("hole"); hole.Value < known(t, judge(t, s, fit.Request{Lot: "R1", Need: vase(0.2, "PLA")}), "d95").Value {
			t.Errorf("nozzle %g: sift it through %g", nozzle, hole.Value)
		}
	}
}

// Six prints of which five went well are evidence no gate stands against; one
// that failed alone is not, and good prints of its like count too.
func TestPrintsAreEvidence(t *testing.T) {
	t.Parallel()
	gate := dusty(0.35) // three and a half times the default of 10 %
	prints := func(lot shop.LotID, good ...shop.YesNo) []shop.Body {
		var all []shop.Body
		for _, g := range good {
			all = append(all, &shop.Printed{From: lot, Print: "cup", Mass: 0.05, Good: g})
		}
		return all
	}
	sizes := func(more ...shop.Body) fit.Item {
		return itemOf(t, judge(t, ground(t, "PLA", append([]shop.Body{gate}, more...)...), fit.Request{Lot: "R1", Need: vase(0.2, "PLA"), Draws: 120}), "sizes")
	}
	none, five := sizes(), sizes(prints("R1", shop.Yes, shop.Yes, shop.No, shop.Yes, shop.Yes, shop.Yes)...)
	if none.Verdict != answer.No || none.Chance > 0.05 {
		t.Fatalf("without prints: %v, %v", none.Verdict, none.Chance)
	}
	if slices.Contains([]answer.Verdict{answer.No, answer.Unlikely}, five.Verdict) || five.Chance < 0.45 || !says(five.Says, "fit.prints_of_it") {
		t.Errorf("five of six: %v, %v: %s", five.Verdict, five.Chance, five.Says.Code)
	}
	whole := func(more ...shop.Body) float64 {
		return judge(t, ground(t, "PLA", append([]shop.Body{gate}, more...)...), fit.Request{Lot: "R1", Need: vase(0.02, "PLA"), Draws: 120}).Chance.Value
	}
	// Draws that all fail count as four prints: half of ten, less what doubt of the plastic takes.
	if bare, proven := whole(), whole(prints("R1", shop.Yes, shop.Yes, shop.No, shop.Yes, shop.Yes, shop.Yes)...); bare > 0.05 || proven < 0.25 || proven > 0.65 {
		t.Errorf("all at once: %v, after five good prints of six %v", bare, proven)
	}
	if failed := sizes(prints("R1", shop.No, shop.No, shop.No)...); failed.Chance > none.Chance {
		t.Errorf("failed prints raise it to %v", failed.Chance)
	}
	like := sizes(append([]shop.Body{&shop.Ground{Mill: "Rattle", From: "S1", Into: "R2", Charge: 0.5, Product: shoptest.P(0.45), Run: 120}}, prints("R2", shop.Yes, shop.Yes, shop.Yes, shop.Yes)...)...)
	if like.Chance <= none.Chance || like.Chance >= five.Chance {
		t.Errorf("four good prints of its like: %v, between %v and %v wanted", like.Chance, none.Chance, five.Chance)
	}
}

// With no printer described what is assumed says so, and describing it is the
// first remedy.
func TestWithoutAPrinterItIsAssumed(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Halogen: shop.No, Mass: 2})
	f := judge(t, s, fit.Request{Lot: "R1", Need: vase(0.2, "PLA")})
	if f.Document.Steps[0].Do.Code != "do.describe_printer" || f.Document.Steps[0].Why.Code != "fit.printer_assumed" {
		t.Errorf("%+v", f.Document.Steps)
	}
	if x := itemOf(t, f, "runs"); x.Says.Code != "fit.says_runs_assumed" {
		t.Errorf("the hopper: %s", x.Says.Code)
	}
}

// A lot of the wrong plastic is mended by no work on it: another is taken, or one planned,
// even where there is also too little of it and nobody described a printer.
func TestAWrongPlasticWantsAnotherLot(t *testing.T) {
	t.Parallel()
	rain := vase(5, "PETG")
	rain.Name = "rain"
	for want, more := range map[string][]shop.Body{
		"do.plan":     nil,
		"do.take_lot": {&shop.TakenIn{Lot: "V7", Class: shop.Virgin, Polymer: "PETG", Halogen: shop.No, Mass: 2}},
	} {
		f := judge(t, ground(t, "PLA", more...), fit.Request{Lot: "R1", Need: rain, Draws: 240})
		if f.Verdict != answer.No || f.Decides != "polymer" || len(f.Document.Steps) != 1 || f.Document.Steps[0].Do.Code != want {
			t.Errorf("%s decides %s; the steps are %+v, wanted %s alone", f.Decides, f.Verdict, f.Document.Steps, want)
		}
		if lot, _ := f.Document.Steps[0].Do.Fact("lot"); want == "do.take_lot" && lot.Text != "V7" {
			t.Errorf("take %s", lot.Text)
		}
	}
}
