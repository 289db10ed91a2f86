package identify

// Chances, counts and the search for a liquid with their sums written out.

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= within*math.Abs(want)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// The liquid that parts best is the best of all tried by fives from 800 to 1390 kg/m³.
func TestPartingLiquidAgainstAll(t *testing.T) {
	t.Parallel()
	b := Books()
	for n := range 6 {
		shares, sum := make([]float64, len(b.Candidates)), 0.0
		for i := range shares {
			if (i+n)%3 == 0 || n > 3 {
				shares[i] = 1 + float64((i*7+n*5)%11)
			}
			sum += shares[i]
		}
		for i := range shares {
			shares[i] /= sum
		}
		got, err := b.PartingLiquid(shares)
		if err != nil {
			t.Fatal(err)
		}
		best, at := 0.0, 0.0
		for rho := 800.0; rho <= 1390; rho += 5 {
			if w, err := b.Informs(shares, Test{Name: "floats", Kind: Float, At: rho, Seconds: 60}); err != nil {
				t.Fatal(err)
			} else if w.Bits > best {
				best, at = w.Bits, rho
			}
		}
		if math.Abs(got.At-at) > 2 || math.Abs(got.Bits-best) > 0.02 || got.Liquid == "" || got.Seconds <= 0 {
			t.Errorf("parts by %g bit at %g, wanted %g at %g", got.Bits, got.At, best, at)
		}
	}
	water, err := WaterDensity(293.15)
	if err != nil {
		t.Fatal(err)
	}
	for off, want := range map[float64]Liquid{0: Water, 1.9: Water, -1.9: Water, 2.1: Brine} {
		l, rho, err := liquidOf(water + off)
		if err != nil || l != want || (l == Water) != (rho == water) {
			t.Errorf("%g off water: %s of %g (%v)", off, l, rho, err)
		}
	}
	if l, _, err := liquidOf(water - 2.1); err != nil || l != Ethanol {
		t.Errorf("a little lighter than water: %s (%v)", l, err)
	}
}

// Chances by hand: slips of two in a hundred on either side of the normal distribution; of a piece bubbles slip within 50 kg/m³;
// a weighing is spread by density, voids and scale, 2 % off the mean for voids.
func TestChancesByHand(t *testing.T) {
	t.Parallel()
	below := func(x, mean, spread float64) float64 {
		return distuv.Normal{Mu: mean, Sigma: spread}.CDF(x)
	}
	got, err := FloatChance(1100, 1050, 20)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "floats", got, 0.02+0.96*below(1100, 1050, 20), 1e-9)
	for _, x := range []float64{900, 1000, 1050, 1100} {
		d := math.Max(0, 1050-x) / 50
		slip := 0.0005 + 0.0195*math.Exp(-d*d)
		near(t, "a piece floats", floated(x, normal{1050, 20}), slip+(0.98-slip)*below(x, 1050, 20), 1e-9)
	}
	if floated(1000, normal{}) != unlisted || lapsed(1000, normal{}) != unlisted {
		t.Error("what is not listed has a chance of its own")
	}
	b := Books()
	all, err := b.Chances(Finding{Test: Weighed, At: 1230, Within: 12})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range b.Candidates {
		want := 1.0 / 900
		if mean, spread := c.Density(); spread > 0 {
			sd := math.Sqrt(spread*spread + math.Pow(0.015*mean, 2) + 144)
			want = 0.04/900 + 0.96*distuv.Normal{Mu: 0.98 * mean, Sigma: sd}.Prob(1230)
		}
		near(t, c.Name+" weighed", all[i], want, 1e-9)
	}
	for _, c := range []struct {
		f  Finding
		ok bool
	}{
		{Finding{Test: "floats", At: 700}, true}, {Finding{Test: "floats", At: 699}, false}, {Finding{Test: "floats", At: 1500}, true}, {Finding{Test: "floats", At: 1501}, false},
		{Finding{Test: "sticks", At: 313.15}, true}, {Finding{Test: "sticks", At: 313}, false}, {Finding{Test: "sticks", At: 573.15}, true}, {Finding{Test: "sticks", At: 573.3}, false},
		{Finding{Test: Weighed, At: 700, Within: 1}, true}, {Finding{Test: Weighed, At: 699, Within: 1}, false}, {Finding{Test: Weighed, At: 1600, Within: 200}, true}, {Finding{Test: Weighed, At: 1601, Within: 200}, false},
		{Finding{Test: Weighed, At: 1000, Within: 0.99}, false}, {Finding{Test: Weighed, At: 1000, Within: 201}, false},
	} {
		if _, err := b.Chances(c.f); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.f, err)
		}
	}
}

// Counting by the beta distribution of the library gonum (Clopper and Pearson's range); how many pieces show a share of a tenth:
// ln 0.05/ln 0.9 = 28.4.
func TestCountsByHand(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]int{{0, 1}, {0, 20}, {3, 20}, {20, 20}, {7, 400}} {
		x, n := float64(c[0]), float64(c[1])
		low, high, err := CountRange(c[0], c[1], 0.9)
		if err != nil {
			t.Fatal(err)
		}
		wantLow, wantHigh := 0.0, 1.0
		if x > 0 {
			wantLow = distuv.Beta{Alpha: x, Beta: n - x + 1}.Quantile(0.05)
		}
		if x < n {
			wantHigh = distuv.Beta{Alpha: x + 1, Beta: n - x}.Quantile(0.95)
		}
		near(t, "low", low, wantLow, 1e-7)
		near(t, "high", high, wantHigh, 1e-7)
	}
	for _, c := range []struct {
		limit, level float64
		want         int
	}{{0.1, 0.9, 29}, {0.5, 0.5, 2}, {1e-4, 0.999, 76006}} {
		if got, err := PiecesFor(c.limit, c.level); err != nil || got != c.want {
			t.Errorf("%g at %g: %d pieces, wanted %d (%v)", c.limit, c.level, got, c.want, err)
		}
	}
	for _, c := range []struct {
		seen, wrong, right, want float64
		ok                       bool
	}{{0.5, 0.9, 0.1, 0.5, true}, {0.1, 0.9, 0.1, 0, true}, {0.05, 0.9, 0.1, 0, true}, {0.95, 0.9, 0.1, 1, true}, {0.5, 0.75, 0.25, 0.5, true}, {0.5, 0.74, 0.25, 0, false}, {1.1, 0.9, 0.1, 0, false}} {
		got, err := TrueShare(c.seen, Parting{Wrong: c.wrong, Right: c.right})
		if (err == nil) != c.ok {
			t.Errorf("%+v: %v", c, err)
		}
		near(t, "true share", got, c.want, 1e-9)
	}
}

// No list of findings says more than 500 to 1: evidence is capped, and so is the surest share.
func TestCapsByHand(t *testing.T) {
	t.Parallel()
	out := capLogs([]float64{-3, -3 - math.Log(400), -3 - math.Log(600)}, 500)
	for i, want := range []float64{1, 1.0 / 400, 1.0 / 500} {
		near(t, "capped evidence", out[i], want, 1e-9)
	}
	shares := capped([]float64{0.0006, 0.999, 0.0004})
	for i, want := range []float64{0.6 / 501, 500.0 / 501, 0.4 / 501} {
		near(t, "capped share", shares[i], want, 1e-9)
	}
	if same := capped([]float64{0.002, 0.998}); same[1] != 0.998 {
		t.Errorf("below the cap %v", same)
	}
	for i, want := range []float64{0.1 * 3 / 1.3, 0.5 * 2 / 1.3, 0} {
		near(t, "product", product([]float64{0.1, 0.5, 0.4}, []float64{3, 2, 0})[i], want, 1e-12)
	}
	near(t, "entropy", Entropy([]float64{0.5, 0.25, 0.25, 0}), 1.5, 1e-12)
	for off, want := range map[float64]bool{0: true, 4: true, -4: true, 4.1: false, -4.1: false} {
		if got := done(Test{Name: "floats", At: 1000}, []Finding{{Test: "sticks", At: 1000}, {Test: "floats", At: 1000 + off}}); got != want {
			t.Errorf("tried %g off: done %t", off, got)
		}
	}
}
