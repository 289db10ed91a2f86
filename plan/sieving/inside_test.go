package sieving

import (
	"math"
	"reflect"
	"testing"

	"hopperful/answer"
	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Grains of pictures measured larger or smaller than they are: what passes moves along the
// sizes, between the sieves on the logarithm, beyond them by the powers of the text above.
func TestResizedGrains(t *testing.T) {
	t.Parallel()
	a := sieve.Analysis{Sieves: []sieve.Sieve{{Opening: 4e-3}, {Opening: 2e-3}, {Opening: 1e-3}}, Passing: []float64{0.9, 0.4, 0.1}}
	for times, want := range map[float64][3]float64{
		1:          {0.9, 0.4, 0.1},
		2:          {0.4, 0.1, 0.1 * math.Pow(0.5, 1.5)}, // the finest sieve passes what passed half of it
		0.5:        {1 - 0.1*math.Pow(0.5, 3), 0.9, 0.4},
		math.Sqrt2: {0.65, 0.25, 0.1 * math.Pow(2, -0.75)}, // half way between two sieves
		1e6:        {0.1 * math.Pow(1e-6*4, 1.5), 0.1 * math.Pow(1e-6*2, 1.5), 0.1 * math.Pow(1e-6, 1.5)},
	} {
		got := resized(a, times)
		for i, v := range got {
			if math.Abs(v-want[i]) > 1e-9 {
				t.Errorf("%g times as large: %v passes, wanted %v", times, got, want)
				break
			}
		}
	}
}

// The net makes 63.2 % of the RRSB law the zero of its axis and leaves out what is no point of it.
func TestTheNet(t *testing.T) {
	t.Parallel()
	p := onNet(answer.Points{Key: "k", Name: "n", X: []float64{1e-4, 1e-3, 1e-2, 1}, Y: []float64{0, 1 - 1/math.E, 1 - math.Exp(-10), 1}})
	if p.Key != "k" || p.Name != "n" || len(p.X) != 2 || math.Abs(p.X[0]+3) > 1e-12 || math.Abs(p.Y[0]) > 1e-12 || math.Abs(p.Y[1]-1) > 1e-12 {
		t.Errorf("%+v", p)
	}
	// From 1 to 2 mm the sizes 0.5, 1 and 2 mm are written on; 5 mm is two steps away.
	x, y := netTicks([]answer.Points{{X: []float64{-3, math.Log10(2e-3)}, Y: []float64{netY(0.1), netY(0.5)}}})
	if len(x) != 3 || math.Abs(x[0].At-math.Log10(0.5e-3)) > 1e-12 || math.Abs(x[2].At-math.Log10(2e-3)) > 1e-12 {
		t.Errorf("sizes %+v", x)
	}
	// Half a decade either side: ln(1/(1 − Q)) from 0.0333 to 2.19 is 3.3 to 88.8 %.
	if len(y) != 7 || y[0].At != netY(0.05) || y[6].At != netY(0.8) {
		t.Errorf("shares %+v", y)
	}
}

// A curve is set against a forecast sieve by sieve, where the forecast has the size.
func TestAgainstAForecast(t *testing.T) {
	t.Parallel()
	f := answer.Curve{X: []float64{1, 2, 3}, Low: []float64{0.2, 0.4, 0.6}, High: []float64{0.3, 0.5, 0.7}}
	for _, c := range []struct {
		x, mid []float64
		code   string
		n      float64
	}{
		{[]float64{1, 2, 3}, []float64{0.2, 0.5, 0.65}, "sieving.within_band", 0},
		{[]float64{1, 2, 3}, []float64{0.19, 0.39, 0.65}, "sieving.coarser_than_band", 2},
		{[]float64{1, 2, 3}, []float64{0.31, 0.45, 0.65}, "sieving.finer_than_band", 1},
		{[]float64{1, 2, 3}, []float64{0.31, 0.39, 0.71}, "sieving.outside_band", 3},
		{[]float64{4, 5}, []float64{0, 1}, "sieving.within_band", 0}, // sizes nobody foretold
	} {
		said := against(answer.Curve{X: c.x, Mid: c.mid}, f)
		n, _ := said.Fact("n")
		of := said.Text("of")
		if said.Code != c.code || n.Value != c.n || c.n > 0 && of != "3" {
			t.Errorf("%v: %s %g of %q, wanted %s %g", c.mid, said.Code, n.Value, of, c.code, c.n)
		}
	}
}

// Holes are the same within half a percent, as people round them; two nobody noted are too.
func TestSameHole(t *testing.T) {
	t.Parallel()
	p := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		a, b *float64
		same bool
	}{{p(3e-3), p(3.0149e-3), true}, {p(3e-3), p(3.0152e-3), false}, {p(3.016e-3), p(3e-3), false}, {p(3e-3), p(2.98e-3), false}, {p(3e-3), nil, false}, {nil, p(3e-3), false}, {nil, nil, true}} {
		if sameHole(c.a, c.b) != c.same {
			t.Errorf("%v and %v: the same is not %t", c.a, c.b, c.same)
		}
	}
}

// The widest gap is the one with the largest ratio, not the longest.
func TestWidestGap(t *testing.T) {
	t.Parallel()
	at := func(openings ...float64) *sifting {
		f := &sifting{}
		for _, x := range openings {
			f.a.Sieves = append(f.a.Sieves, sieve.Sieve{Opening: x})
		}
		return f
	}
	if above, below, ok := at(8e-3, 5e-3, 1e-3, 0.5e-3).widest(); above != 5e-3 || below != 1e-3 || !ok {
		t.Errorf("%g to %g %t", above, below, ok)
	}
	if above, below, ok := at(4e-3, 2e-3, 1e-3).widest(); above != 4e-3 || below != 2e-3 || !ok { // the first of alike ones
		t.Errorf("%g to %g %t", above, below, ok)
	}
	if _, _, ok := at(4e-3).widest(); ok {
		t.Error("one sieve has a gap")
	}
}

// The sizes of a forecast reach from half the finest sieve to the coarsest, or to just over
// the hole of the screen.
func TestForecastSizes(t *testing.T) {
	t.Parallel()
	if x := forecastSizes([]float64{0.5e-3, 2e-3}, nil); len(x) != 26 || x[0] != 0.25e-3 || x[len(x)-1] != 2e-3 { // 25 steps, two of them sieves
		t.Errorf("%d sizes from %g to %g", len(x), x[0], x[len(x)-1])
	}
}

// What each kind of sieve and series is kept as.
func TestKindsOfSieves(t *testing.T) {
	t.Parallel()
	for holes, want := range map[shop.Holes]sieve.Form{shop.RoundHoles: sieve.PlateRound, shop.SquareHoles: sieve.PlateSquare, shop.WovenWire: sieve.Woven} {
		one, err := sieveOf(3.21e-3, shop.OwnSet, holes)
		if err != nil || one.Form != want || (Stack{Stack: sieve.Stack{Sieves: []sieve.Sieve{one}}}).holes() != holes {
			t.Errorf("%s: %+v %v", holes, one, err)
		}
	}
	known := sieve.Openings(sieve.ASTME11)[3]
	if one, err := sieveOf(known.Opening*(1+0.9e-6), shop.ASTME11, shop.WovenWire); err != nil || one != known {
		t.Errorf("%+v is not %+v: %v", one, known, err)
	}
	if one, err := sieveOf(known.Opening*(1+2e-6), shop.ASTME11, shop.WovenWire); err != nil || one == known {
		t.Errorf("%+v is taken for another: %v", one, err)
	}
}

// Runs that are carried are those the log tells, however few of them are; where some are not
// carried any more the log is read.
func TestCarriedRunsAreThoseOfTheLog(t *testing.T) {
	t.Parallel()
	bodies := []shop.Body{shoptest.Scrap("PLA", "black", 60)}
	for i := range 24 {
		run := &shop.Ground{Mill: "Rattle", From: "S1", Into: shop.LotID([]string{"R1", "R2", "R3"}[i/5%3]), Charge: 0.1 + float64(i)/1000,
			Product: shoptest.P(0.08), Left: shoptest.P(0.01), Run: 60}
		if i%4 == 1 {
			run.Hole = shoptest.P(4e-3 + float64(i)*1e-5)
		}
		bodies = append(bodies, run)
	}
	s := shoptest.Bin(t, bodies...)
	b := newScreenBook(s, "Rattle")
	for most, whole := range map[int]int{1: 0, 5: 0, 8: 1, 12: 3, 100: 3} {
		var known latestRuns
		for _, r := range s.Records.Of((*shop.Ground)(nil)) {
			known.add(asRan(r.ID, r.Body.(*shop.Ground)), most)
		}
		told := 0
		for _, lot := range []shop.LotID{"R1", "R2", "R3"} {
			if got, ok := b.carried(&known, lot); ok {
				told++
				if want := b.written(lot); len(want) < 5 || !reflect.DeepEqual(got, want) {
					t.Errorf("at least %d carried, %s: %v, in the log %v", most, lot, got, want)
				}
			}
		}
		if told != whole {
			t.Errorf("at least %d carried: the runs into %d lots are known, wanted %d", most, told, whole)
		}
	}
}
