package traceability_test

import (
	"math"
	"slices"
	"testing"

	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// dusty is a sieving of R1 with so much below half a millimetre.
func dusty(share float64) *shop.Sieved {
	return &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire,
		Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.02}, {Opening: 0.5e-3, Mass: 0.08 - 0.1*share}}, Pan: 0.1 * share}
}

// borne is what Bayes' rule makes of a log-normal belief and some prints, by a sum over
// a hundred thousand equal steps of the logarithm: the words of the comment, no code of
// the program's. A factor off at 10 % and 90 % is 1.28155 standard deviations; one from
// one in six to five in six is 0.96742 (standard normal table) on either side.
func borne(limit, doubt float64, prints []struct {
	dust float64
	good bool
}) (low, median, high float64) {
	const steps = 100_000
	sd, choke := math.Log(doubt)/1.2815515655, math.Log(1.3)/0.9674215661
	x, w := make([]float64, steps), make([]float64, steps)
	sum := 0.0
	for i := range x {
		z := 6 * (2*(float64(i)+0.5)/steps - 1)
		x[i], w[i] = math.Log(limit)+z*sd, math.Exp(-z*z/2)
		for _, p := range prints {
			bears := 0.05 + 0.9*(1+math.Erf((x[i]-math.Log(p.dust))/choke/math.Sqrt2))/2
			if p.good {
				w[i] *= bears
			} else {
				w[i] *= (1-bears)/3 + 2.0/3*0.5
			}
		}
		sum += w[i]
	}
	at := func(share float64) float64 {
		for i, below := 0, 0.0; i < steps; i++ {
			if below += w[i] / sum; below >= share {
				return math.Exp(x[i])
			}
		}
		return math.NaN()
	}
	return at(0.1), at(0.5), at(0.9)
}

// What prints teach of the dust a printer bears is Bayes' rule (own derivation, by a finer
// sum), for good and bad prints, the default limit and the shop's own.
func TestDustBorneIsBayesRule(t *testing.T) {
	t.Parallel()
	own := &shop.ShopSet{Name: "s", MostDust: shoptest.P(0.2)}
	for name, c := range map[string]struct {
		set         []shop.Body
		limit, wide float64
		dust        float64
		good        []bool
	}{
		"good":           {nil, 0.10, 1.6, 0.16, []bool{true, true, true}},
		"bad":            {nil, 0.10, 1.6, 0.07, []bool{false, false}},
		"both":           {nil, 0.10, 1.6, 0.11, []bool{true, false, true, false, true}},
		"our own, good":  {[]shop.Body{own}, 0.20, 1.25, 0.25, []bool{true, true, true, true}},
		"our own, twice": {[]shop.Body{own}, 0.20, 1.25, 0.19, []bool{false, true}},
	} {
		bodies := append(slices.Clone(c.set), &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 5}, dusty(c.dust))
		var prints []struct {
			dust float64
			good bool
		}
		for _, good := range c.good {
			p := &shop.Printed{From: "R1", Print: "cup", Mass: 0.02, Good: shop.No}
			if good {
				p.Good = shop.Yes
			}
			bodies = append(bodies, p)
			prints = append(prints, struct {
				dust float64
				good bool
			}{c.dust, good})
		}
		// Neither teaches: how it went is not known, and nothing of that lot was sieved.
		bodies = append(bodies, &shop.Printed{From: "R1", Print: "cup", Mass: 0.02},
			&shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.Printed{From: "R2", Print: "cup", Mass: 0.02, Good: shop.Yes})
		got := traceability.DustBorneBy(shoptest.Bin(t, bodies...))
		if got.Prints != len(prints) || len(got.Records) != len(prints) || got.Own != (c.set != nil) {
			t.Errorf("%s: %+v", name, got)
		}
		low, median, high := borne(c.limit, c.wide, prints)
		for what, v := range map[string][2]float64{"low": {got.Low, low}, "median": {got.Median, median}, "high": {got.High, high}} {
			if math.Abs(v[0]/v[1]-1) > 0.04 { // two hundred steps, each 2 to 3 % wide
				t.Errorf("%s: %s is %.4g, by the finer sum %.4g", name, what, v[0], v[1])
			}
		}
	}
}

// Without prints the limit stands as it was believed, and a lot is judged by the sieving
// before its print, not by one after it.
func TestDustBorneBeforeAnyPrint(t *testing.T) {
	t.Parallel()
	near := func(got, want float64) bool { return math.Abs(got-want) < 1e-12 }
	b := traceability.DustBorneBy(shoptest.Bin(t))
	if !near(b.Median, 0.1) || !near(b.Low, 0.1/1.6) || !near(b.High, 0.16) || b.Prints != 0 {
		t.Errorf("nothing on record: %+v", b)
	}
	b = traceability.DustBorneBy(shoptest.Bin(t, &shop.ShopSet{Name: "s", MostDust: shoptest.P(0.9)}))
	if !near(b.Median, 0.9) || !near(b.Low, 0.72) || !near(b.High, 0.99) {
		t.Errorf("a limit near all: %+v", b)
	}
	lot := &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 5}
	print := &shop.Printed{From: "R1", Print: "cup", Mass: 0.02, Good: shop.Yes}
	if b = traceability.DustBorneBy(shoptest.Bin(t, lot, print, dusty(0.3))); b.Prints != 0 {
		t.Errorf("a print taught by a sieving after it: %+v", b)
	}
	first := traceability.DustBorneBy(shoptest.Bin(t, lot, dusty(0.3), print))
	again := traceability.DustBorneBy(shoptest.Bin(t, lot, dusty(0.05), dusty(0.3), print, dusty(0.05)))
	if first.Median != again.Median || first.Prints != 1 {
		t.Errorf("the last sieving before the print says %+v, with others around it %+v", first, again)
	}
}

// Taking off the dust that is too much leaves just what is borne, by the balance of mass.
func TestDustTooMuchLeavesWhatIsBorne(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]float64{{0.3, 0.1}, {0.11, 0.1}, {0.9, 0.5}, {0.2, 0}} {
		off := traceability.DustTooMuch(c[0], c[1])
		if left := (c[0] - off) / (1 - off); math.Abs(left-c[1]) > 1e-12 || off <= 0 {
			t.Errorf("%g of %g off leaves %g", off, c[0], left)
		}
	}
	for _, c := range [][2]float64{{0.1, 0.1}, {0.05, 0.1}, {1, 1}, {1.2, 1}} {
		if off := traceability.DustTooMuch(c[0], c[1]); off != 0 {
			t.Errorf("%g fines where %g is borne: %g taken off", c[0], c[1], off)
		}
	}
}

// The dust left is what a sieve kept back less what dusting took, balanced by hand: of 1 kg
// with 200 g of dust, dusted of 100 g by air, or of 120 g through 2 mm, of which only the
// share of dust in what falls through it is dust: 200 g of 800 g.
func TestDustLeftIsTheBalance(t *testing.T) {
	t.Parallel()
	left := func(bodies ...shop.Body) float64 {
		t.Helper()
		s := shoptest.Bin(t, append([]shop.Body{&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}}, bodies...)...)
		share, err := traceability.DustLeft(s.Lots.At("R1"), s.Sievings("R1")[0])
		if err != nil {
			t.Fatal(err)
		}
		return share
	}
	through := func(dust float64, hole *float64) *shop.Dedusted {
		return &shop.Dedusted{Lot: "R1", Dust: dust, Opening: hole}
	}
	afterAir := (0.2 - 0.1) / 0.9
	for name, c := range map[string]struct{ got, want float64 }{
		"sieved":           {left(dusty(0.2)), 0.2},
		"dusted before":    {left(through(0.1, nil), dusty(0.2)), 0.2},
		"by air":           {left(dusty(0.2), through(0.1, nil)), afterAir},
		"through its mesh": {left(dusty(0.2), through(0.1, shoptest.P(0.5e-3))), afterAir},
		"through a finer":  {left(dusty(0.2), through(0.1, shoptest.P(0.25e-3))), afterAir},
		"all of it":        {left(dusty(0.2), through(0.3, nil)), 0},
		"through 2 mm":     {left(dusty(0.2), through(0.12, shoptest.P(2e-3))), (0.2 - 0.12*0.2/0.8) / 0.88},
		"through 1 mm":     {left(dusty(0.2), through(0.12, shoptest.P(1e-3))), (0.2 - 0.12*0.2/0.5) / 0.88}, // halfway from 0.5 to 2 mm on the logarithm: half of it
		"by air twice":     {left(dusty(0.2), through(0.1, nil), through(0.05, nil)), (0.2 - 0.15) / 0.85},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: %.6g is dust, by the balance %.6g", name, c.got, c.want)
		}
	}
}

// What a lot cost and is made of follows its parents by mass, reckoned here by hand:
// a kilogram of bought PLA at 30 and 10, 3 kg of scrap that cost nothing, some PETG.
func TestMadeOfFollowsTheParents(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t,
		&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 1, Price: shoptest.P(30)},
		&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 1, Price: shoptest.P(10)},
		&shop.TakenIn{Lot: "V2", Class: shop.Virgin, Polymer: "PLA", Mass: 1},
		&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 3},
		&shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PETG", Mass: 1, Price: shoptest.P(5)},
		&shop.Blended{From: []shop.Portion{{Lot: "V1", Mass: 1}, {Lot: "R1", Mass: 1}}, Into: "B1", Polymer: "PLA"},
		&shop.Blended{From: []shop.Portion{{Lot: "B1", Mass: 0.9}, {Lot: "R2", Mass: 0.1}}, Into: "B2", Polymer: "PLA"},
		&shop.Blended{From: []shop.Portion{{Lot: "V2", Mass: 0.5}, {Lot: "B2", Mass: 0.5}}, Into: "B3", Polymer: "PLA"},
	)
	w := traceability.NewMadeOf(s)
	for id, want := range map[shop.LotID]float64{"V1": 20, "R1": 0, "R2": 5, "B1": 10, "B2": 9.5, "V2": 20, "B3": 14.75} {
		if got := w.Price(s.Lots.At(id)); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s cost %g a kilogram, by hand %g", id, got, want)
		}
	}
	w.Price(s.Lots.At("B3"))
	if !slices.Equal(w.Guessed, []shop.LotID{"V2"}) {
		t.Errorf("guessed the price of %v, only nobody wrote V2's", w.Guessed)
	}
	for id, want := range map[shop.LotID]float64{"B1": 0, "B2": 0.1, "B3": 0.05, "V1": 0} {
		all := traceability.StraysIn(s, s.Lots.At(id))
		got := 0.0
		for _, x := range all {
			if x.Polymer != "PETG" || len(all) != 1 {
				t.Errorf("%s: %+v", id, all)
			}
			got += x.Share
		}
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("%s holds %g of PETG, by hand %g", id, got, want)
		}
	}
	if all := w.Strays(s.Lots.At("R2"), "pla"); len(all) != 1 || all[0].Share != 1 {
		t.Errorf("against another host all of R2 is stray: %+v", all)
	}
	if all := w.Strays(s.Lots.At("R2"), "petg"); len(all) != 0 {
		t.Errorf("a host is none of its strays: %+v", all)
	}
}
