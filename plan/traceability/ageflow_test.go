package traceability_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/process/ageing"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// tested is a melt-flow test of so many g/10 min, at 230 °C under 2.16 kg as the
// books' polypropylene.
func tested(lot shop.LotID, grams float64) *shop.FlowTested {
	cut := grams / 600 * 10 / 1000 // ten seconds
	return &shop.FlowTested{Lot: lot, Temperature: shoptest.P(503.15), Load: shoptest.P(2.16), CutTime: shoptest.P(10), Cuts: []float64{cut, cut, cut}}
}

func pp(id shop.LotID) *shop.TakenIn {
	return &shop.TakenIn{Lot: id, Class: shop.Virgin, Polymer: "PP", Mass: 4}
}

// loops prints a lot over and over: P1 has one pass, P2 two, and so on.
func loops(from shop.LotID, passes int) []shop.Body {
	var all []shop.Body
	mass := 3.0
	for n := 1; n <= passes; n++ {
		into := shop.LotID(fmt.Sprintf("P%d", n))
		all = append(all, &shop.Printed{From: from, Into: into, Print: "vase", Mass: mass})
		from, mass = into, mass*0.8
	}
	return all
}

// What is measured is where the descendants start: a lot of 12 g/10 min printed
// once is forecast as 12 × the factor of a pass, and a blend by its mass on the
// logarithm (own derivation, Nielsen1977).
func TestDescendantsStartFromTheYoungestMeasured(t *testing.T) {
	t.Parallel()
	prior, _, err := ageing.PerPass("PP", ageing.MeltFlow)
	if err != nil {
		t.Fatal(err)
	}
	bodies := append([]shop.Body{pp("V1"), tested("V1", 12)}, loops("V1", 3)...)
	s := shoptest.Bin(t, append(bodies, &shop.Blended{From: []shop.Portion{{Lot: "P1", Mass: 0.2}, {Lot: "V1", Mass: 0.6}}, Into: "B1"})...)
	near := func(id shop.LotID, want float64) *figure.Figure {
		t.Helper()
		f := aged(t, s, id).MeltFlow
		if f == nil || math.Abs(f.Value*6e5/want-1) > 1e-6 || f.Basis != figure.Reckoned || len(f.Records) == 0 {
			t.Fatalf("%s: got %+v, want %g g/10 min", id, f, want)
		}
		return f
	}
	one, two := near("P1", 12*prior.Median), near("P2", 12*math.Pow(prior.Median, 2))
	near("B1", 12*math.Pow(prior.Median, 0.25))
	if two.High/two.Low <= one.High/one.Low {
		t.Error("the forecast of a lot farther from its test is no wider")
	}
	// Measured in between, the younger test counts and the range is narrower.
	s, err = s.With(shop.Record{At: shoptest.Noon, Body: tested("P2", 20)})
	if err != nil {
		t.Fatal(err)
	}
	a := aged(t, s, "P3")
	if a.PerPass.Basis != figure.Learned || math.Abs(a.MeltFlow.Value*6e5/20/a.PerPass.Value-1) > 1e-6 {
		t.Errorf("P3 is forecast as %+v with %+v", a.MeltFlow, a.PerPass)
	}
	if want := []int64{5, 10}; !slices.Equal(a.PerPass.Records, want) {
		t.Errorf("taught by records %v, want %v", a.PerPass.Records, want)
	}
	if n := a.Tables[0].Notes; len(n) == 0 || n[len(n)-1].Code != "age.taught" || a.Taught != 2 || len(a.PerPass.Records) != 2 {
		t.Errorf("it says %+v", n)
	}
}

// Tests of new granulate alone teach nothing; a
// test of an older lot narrows what a pass does for every lot of the polymer.
func TestFlowTestsTeachThePass(t *testing.T) {
	t.Parallel()
	bodies := append([]shop.Body{pp("V1"), pp("V2")}, loops("V1", 2)...)
	bodies = append(bodies, &shop.Printed{From: "V2", Into: "P9", Print: "bowl", Mass: 1})
	width := func(more ...shop.Body) (float64, traceability.LotAge) {
		a := aged(t, shoptest.Bin(t, append(slices.Clone(bodies), more...)...), "P9")
		return math.Log(a.PerPass.High / a.PerPass.Low), a
	}
	none, a := width()
	if a.PerPass.Basis != figure.Books || saidOf(a, "age.taught") {
		t.Errorf("nothing taught %+v: %+v", a.PerPass, a.Tables[0].Notes)
	}
	if fresh, _ := width(tested("V1", 10)); fresh != none {
		t.Errorf("new granulate alone narrows %g to %g", none, fresh)
	}
	alone, _ := width(tested("P2", 15))
	both, a := width(tested("V1", 10), tested("P2", 15))
	if alone >= none || both >= alone {
		t.Errorf("ranges %g without, %g with one, %g with new granulate tested too", none, alone, both)
	}
	// √1.5 = 1.225 a pass, nearer than the books' 1.25.
	if math.Abs(a.PerPass.Value-math.Sqrt(1.5)) > 0.02 || a.MeltFlow.Basis != figure.Reckoned {
		t.Errorf("learned %+v", a.PerPass)
	}
	// Another load is a lesson of its own; what it leaves open the first one tells.
	other := tested("P2", 90)
	other.Load = shoptest.P(5)
	if more, _ := width(tested("V1", 10), tested("P2", 15), other); more > both {
		t.Errorf("another load widens %g to %g", both, more)
	}
}

// made is a shop of polypropylene in which every pass multiplies the flow alike.
func made(t testing.TB, luck *rand.Rand, factor float64) *shop.State {
	t.Helper()
	var bodies []shop.Body
	for v := range 3 {
		id := shop.LotID(fmt.Sprintf("V%d", v+1))
		grade := 10 * math.Exp(0.4*luck.NormFloat64())
		measured := func(lot shop.LotID, passes float64) {
			bodies = append(bodies, tested(lot, grade*math.Pow(factor, passes)*math.Exp(0.05*luck.NormFloat64())))
		}
		bodies = append(bodies, pp(id))
		if v < 2 { // the third is never tested new
			measured(id, 0)
		}
		from, mass := id, 3.0
		for n := 1; n <= 1+luck.IntN(4); n++ {
			into := shop.LotID(fmt.Sprintf("P%d", 10*v+n))
			bodies = append(bodies, &shop.Printed{From: from, Into: into, Print: "vase", Mass: mass})
			if luck.IntN(2) == 0 {
				measured(into, float64(n))
			}
			from, mass = into, mass*0.7
		}
	}
	return shoptest.Bin(t, bodies...)
}

// A shop whose factor is drawn from the books' range has it in the range learned
// in eight cases of ten, 10 to 90 %: of 150, 120 ± 4 standard deviations of the
// binomial law above and below, with the little more that a lot's own luck gives.
func TestAMadeUpShopsFactorIsRecovered(t *testing.T) {
	t.Parallel()
	prior, _, err := ageing.PerPass("PP", ageing.MeltFlow)
	if err != nil {
		t.Fatal(err)
	}
	spread := math.Log(prior.High/prior.Low) / 2 / 1.2815515655446004
	luck := rand.New(rand.NewPCG(3, 4))
	const shops = 150
	inside, taught := 0, 0
	for range shops {
		truth := prior.Median * math.Exp(spread*luck.NormFloat64())
		s := made(t, luck, truth)
		f := aged(t, s, "P1").PerPass
		if f.Low <= truth && truth <= f.High {
			inside++
		}
		if f.Basis == figure.Learned {
			taught++
			if f.High/f.Low >= prior.High/prior.Low {
				t.Errorf("learning widened %v to %g to %g", prior, f.Low, f.High)
			}
		} else if f.Low != prior.Low || f.High != prior.High {
			t.Errorf("nothing taught %+v", f)
		}
	}
	if sd := math.Sqrt(shops * 0.8 * 0.2); math.Abs(float64(inside)-0.8*shops) > 4*sd || taught < shops/2 {
		t.Errorf("%d of %d inside, %d taught", inside, shops, taught)
	}
}
