package upkeep

// Beliefs and fits with their sums written out, and against distributions of the library gonum.

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/process"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= within*math.Abs(want)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// How likely a life is: of one seen as it failed the density, of a window what failed in it, of one in use what has not failed.
// A window so narrow that its ends are alike is one seen.
func TestLikelihoodsOfLives(t *testing.T) {
	t.Parallel()
	for _, law := range []Weibull{{Shape: 0.8, Scale: 40}, {Shape: 1, Scale: 5}, {Shape: 3.2, Scale: 90}} {
		d := distuv.Weibull{K: law.Shape, Lambda: law.Scale}
		for _, x := range []float64{1, 12, 70} {
			near(t, "seen", law.logWindow(Window{x, x}), d.LogProb(x), 1e-9)
			near(t, "as good as seen", law.logWindow(Window{x, x * (1 + 0.9e-9)}), d.LogProb(x), 1e-7)
			near(t, "in use", law.logWindow(Window{x, math.Inf(1)}), math.Log(d.Survival(x)), 1e-9)
			near(t, "in a window", law.logWindow(Window{x, 1.5 * x}), math.Log(d.CDF(1.5*x)-d.CDF(x)), 1e-7)
			near(t, "from the start", law.logWindow(Window{0, x}), math.Log(d.CDF(x)), 1e-9)
		}
		l := Lives{Failed: []float64{3, 20, 55}, Running: []float64{9, 70}}
		sum := math.Log(d.Survival(9)) + math.Log(d.Survival(70))
		for _, x := range l.Failed {
			sum += d.LogProb(x)
		}
		near(t, "of all", l.weibullLikelihood(law), sum, 1e-9)
		normal := distuv.LogNormal{Mu: math.Log(law.Scale), Sigma: law.Shape}
		sum = math.Log(normal.Survival(9)) + math.Log(normal.Survival(70))
		for _, x := range l.Failed { // the library's density is of the life, ours too: 1/(t σ √(2π)) e^(−z²/2)
			sum += normal.LogProb(x)
		}
		near(t, "of all, log-normal", l.logNormalLikelihood(normal.Mu, normal.Sigma), sum, 1e-9)
	}
	for _, z := range []float64{-3, 0, 1.5, 6, 29, 29.9, 30.1, 40} {
		want := distuv.UnitNormal.Prob(z) / distuv.UnitNormal.Survival(z)
		if z > 8 { // a continued fraction: z + 1/(z + 2/(z + 3/(z + …)))
			tail := z
			for k := 40; k > 0; k-- {
				tail = z + float64(k)/tail
			}
			want = tail
		}
		near(t, "hazard", hazard(z), want, 1e-5)
	}
	if h := hazard(30.5); math.Abs(h-(30.5+1/30.5)) > 1e-12 {
		t.Errorf("far out the hazard is %.15g, wanted its two first terms", h)
	}
}

// Where parts failed and run, the fitted laws are likelier than any near them, and by hand with their sums.
func TestFitsAreLikeliest(t *testing.T) {
	t.Parallel()
	l := Lives{Failed: []float64{3, 20, 55, 31}, Running: []float64{9, 70, 40}}
	w, err := FitWeibull(l)
	if err != nil {
		t.Fatal(err)
	}
	n, err := FitLogNormal(l)
	if err != nil {
		t.Fatal(err)
	}
	mu := math.Log(n.Median)
	near(t, "likelihood", w.LogLikelihood, l.weibullLikelihood(w), 1e-12)
	near(t, "likelihood, log-normal", n.LogLikelihood, l.logNormalLikelihood(mu, n.Sigma), 1e-9)
	for k := range 16 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 8)
		if got := l.weibullLikelihood(Weibull{Shape: w.Shape * (1 + 1e-3*sin), Scale: w.Scale * (1 + 1e-3*cos)}); got >= w.LogLikelihood {
			t.Errorf("a step aside the law is as likely: %.12g, %.12g", got, w.LogLikelihood)
		}
		if got := l.logNormalLikelihood(mu+1e-3*cos, n.Sigma*(1+1e-3*sin)); got >= n.LogLikelihood {
			t.Errorf("a step aside the log-normal law is as likely: %.12g, %.12g", got, n.LogLikelihood)
		}
	}
	sum, logs := l.powers(2, 70)
	want, wantLogs := 0.0, 0.0
	for _, x := range append(slices.Clone(l.Failed), l.Running...) {
		want, wantLogs = want+x*x/4900, wantLogs+x*x/4900*math.Log(x/70)
	}
	near(t, "sum of squares", sum, want, 1e-12)
	near(t, "and of logarithms", logs, wantLogs, 1e-12)
	near(t, "slope", l.slope(2, 70), wantLogs/want-0.5, 1e-12)
	near(t, "longest", l.longest(), 70, 0)
	a, b := Lives{Failed: []float64{2, 8}}.logMoments()
	near(t, "middle", a, math.Log(4), 1e-12)
	near(t, "scatter", b, math.Ln2, 1e-12)
	for name, c := range map[string]struct {
		l  Lives
		ok bool
	}{
		"two": {Lives{Failed: []float64{1, 2}}, true}, "one": {Lives{Failed: []float64{1}, Running: []float64{5}}, false}, "alike": {Lives{Failed: []float64{2, 2, 2}, Running: []float64{9}}, false},
		"the last apart": {Lives{Failed: []float64{2, 2, 3}}, true}, "shortest": {Lives{Failed: []float64{1e-9, 2}}, true}, "shorter": {Lives{Failed: []float64{0.9e-9, 2}}, false},
		"longest": {Lives{Failed: []float64{1, 2}, Running: []float64{1e12}}, true}, "longer": {Lives{Failed: []float64{1, 2}, Running: []float64{1.1e12}}, false},
	} {
		if _, err := FitWeibull(c.l); (err == nil) != c.ok {
			t.Errorf("%s: %v", name, err)
		}
		if err := c.l.check(); err == nil && (c.l.spread() == nil) != c.ok {
			t.Errorf("%s: spread %v", name, c.l.spread())
		}
	}
}

// A belief with its sums written out: 41 by 81 laws, three and a half deviations to either side, each weighing what was believed
// times how likely the lives are under it.
func TestBeliefBySums(t *testing.T) {
	t.Parallel()
	p := Prior{Shape: 1.7, ShapeSpread: 0.3, Scale: 60, ScaleSpread: 0.5}
	lives := []Window{{20, 30}, {45, 45}, {0, 80}, {50, math.Inf(1)}}
	b, err := Believe(p, lives)
	if err != nil || len(b.laws) != 41*81 || len(b.weights) != 41*81 {
		t.Fatal(len(b.laws), err)
	}
	type one struct{ shape, scale, weight float64 }
	var all []one
	sum := 0.0
	for i := -20; i <= 20; i++ {
		for k := -40; k <= 40; k++ {
			u, v := 3.5*float64(i)/20, 3.5*float64(k)/40
			d := distuv.Weibull{K: 1.7 * math.Exp(0.3*u), Lambda: 60 * math.Exp(0.5*v)}
			w := math.Exp(-u*u/2-v*v/2) * (d.CDF(30) - d.CDF(20)) * d.Prob(45) * d.CDF(80) * d.Survival(50)
			all, sum = append(all, one{d.K, d.Lambda, w}), sum+w
		}
	}
	for i := range all {
		all[i].weight /= sum
		if math.Abs(b.weights[i]-all[i].weight) > 1e-9*all[i].weight+1e-16 || math.Abs(b.laws[i].Shape/all[i].shape-1) > 1e-12 || math.Abs(b.laws[i].Scale/all[i].scale-1) > 1e-12 {
			t.Fatalf("law %d: %+v weighs %g, wanted %+v", i, b.laws[i], b.weights[i], all[i])
		}
	}
	fails := func(done, more float64) (p float64) {
		for _, l := range all {
			d := distuv.Weibull{K: l.shape, Lambda: l.scale}
			p -= l.weight * math.Expm1(d.LogSurvival(done+more)-d.LogSurvival(done))
		}
		return p
	}
	for _, c := range [][2]float64{{0, 10}, {50, 0}, {50, 20}, {10, 200}} {
		got, err := b.Fails(c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "chance", got, fails(c[0], c[1]), 1e-7)
	}
	shares := []float64{1e-6, 0.1, 0.5, 0.9, 0.999}
	for _, done := range []float64{0, 50} {
		left, err := b.Remaining(done, shares...)
		if err != nil || len(left) != len(shares) {
			t.Fatal(left, err)
		}
		for i, share := range shares {
			near(t, "chance of what remains", fails(done, left[i]), share, 1e-6)
		}
	}
	rate, low, high, err := b.Rate(50, 5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rate", rate, -math.Log(1-fails(50, 5))/5, 1e-6)
	rates := slices.Clone(all)
	of := func(l one) float64 { return (math.Pow(55/l.scale, l.shape) - math.Pow(50/l.scale, l.shape)) / 5 }
	slices.SortFunc(rates, func(x, y one) int { return cmp.Compare(of(x), of(y)) })
	at := func(p float64, of func(one) float64, list []one) float64 {
		s := 0.0
		for _, l := range list {
			if s += l.weight; s >= p {
				return of(l)
			}
		}
		return 0
	}
	near(t, "least rate", low, at(0.1, of, rates), 1e-9)
	near(t, "most rate", high, at(0.9, of, rates), 1e-9)
	if rate, _, _, err = b.Rate(0, 1e6); err != nil || math.Abs(rate/(-math.Log(1e-12)/1e6)-1) > 1e-9 { // sure to fail: as far as 1 in 10¹² is told apart
		t.Errorf("what is sure to fail does so at %g (%v)", rate, err)
	}
	// Of the shape the weight of each of its 41 values stands in its middle; between two the share rises with the logarithm.
	for _, share := range []float64{0.1, 0.5, 0.9} {
		shape, scale, err := b.Law(share)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "shape", shape, inMiddle(41, share, func(k int) (v, w float64) {
			for j := range 81 {
				w += all[k*81+j].weight
			}
			return all[k*81].shape, w
		}), 1e-6)
		near(t, "scale", scale, inMiddle(81, share, func(k int) (v, w float64) {
			for j := range 41 {
				w += all[j*81+k].weight
			}
			return all[k].scale, w
		}), 1e-6)
	}
	shape, scale, err := b.Law(1e-6)
	if err != nil || shape < all[0].shape || scale < all[0].scale {
		t.Errorf("the least of all: %g and %g (%v)", shape, scale, err)
	}
}

// inMiddle is where so much weight lies below, each of n values' weight standing at it, between two in a line over the logarithm.
func inMiddle(n int, share float64, of func(int) (v, w float64)) float64 {
	sum, lastV, lastQ := 0.0, 0.0, 0.0
	for k := range n {
		v, w := of(k)
		q := sum + w/2
		if q >= share && lastV > 0 {
			return lastV * math.Pow(v/lastV, (share-lastQ)/(q-lastQ))
		}
		sum, lastV, lastQ = sum+w, v, q
	}
	return lastV
}

// Where a rising function passes nothing, also one that is flat far off; at the ends where it does not.
func TestCrossingByHand(t *testing.T) {
	t.Parallel()
	near(t, "a cube root", crossing(0, 10, func(x float64) float64 { return x*x*x - 5 }), math.Cbrt(5), 1e-12)
	near(t, "a logarithm", crossing(-30, 30, func(x float64) float64 { return math.Exp(x) - 7 }), math.Log(7), 1e-12)
	near(t, "flat far off", crossing(-28, 35, func(x float64) float64 { return -math.Expm1(-math.Exp(3*(x-2))) - 0.3 }), 2+math.Log(-math.Log(0.7))/3, 1e-12)
	near(t, "never below", crossing(1, 4, func(x float64) float64 { return x }), 1, 0.1)
	near(t, "never above", crossing(1, 4, func(x float64) float64 { return x - 9 }), 4, 0)
	asked := 0
	crossing(-28, 35, func(x float64) float64 { asked++; return math.Atan(x - 1.234) })
	if asked > 30 { // ten halves to a tenth, and a dozen chords
		t.Errorf("asked %d times", asked)
	}
}

// Both sides of what may be asked.
func TestBoundsOfBelief(t *testing.T) {
	t.Parallel()
	p := Prior{Shape: 2, ShapeSpread: 0.3, Scale: 50, ScaleSpread: 0.4}
	b, err := Believe(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	inf := math.Inf(1)
	for _, c := range []struct {
		w  Window
		ok bool
	}{{Window{0, 1e-9}, true}, {Window{0, 0.9e-9}, false}, {Window{5, 5}, true}, {Window{5, 4.99}, false}, {Window{-1, 5}, false}, {Window{1, 1e12}, true}, {Window{1, 1.1e12}, false}, {Window{1e12, inf}, true}, {Window{1.1e12, inf}, false}, {Window{0, inf}, true}} {
		if _, err := Believe(p, []Window{c.w}); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.w, err)
		}
	}
	for _, v := range []struct {
		x  float64
		ok bool
	}{{1e-6, true}, {0.9e-6, false}, {1e12, true}, {1.1e12, false}} {
		for _, q := range []Prior{{v.x, 0.3, 50, 0.4}, {2, 0.3, v.x, 0.4}} {
			if _, err := Believe(q, nil); (err == nil) != v.ok {
				t.Errorf("%+v: %v", q, err)
			}
		}
	}
	asks := func(what string, ok bool, err error) {
		t.Helper()
		if (err == nil) != ok {
			t.Errorf("%s: %v", what, err)
		}
	}
	for x, ok := range map[float64]bool{0: true, -1e-3: false, 1e12: true, 1.1e12: false} {
		_, err := b.Fails(x, 1)
		asks("done", ok, err)
		_, err = b.Fails(1, x)
		asks("more", ok, err)
		_, err = b.Remaining(x, 0.5)
		asks("done", ok, err)
		_, _, _, err = b.Rate(x, 1)
		asks("done", ok, err)
	}
	for x, ok := range map[float64]bool{1e-6: true, 0.9e-6: false, 1 - 1e-6: true, 1 - 0.9e-6: false} {
		_, err := b.Remaining(1, x)
		asks("share", ok, err)
		_, _, err = b.Law(x)
		asks("share", ok, err)
	}
	for x, ok := range map[float64]bool{1e-9: true, 0.9e-9: false, 1e12: true, 1.1e12: false} {
		_, _, _, err := b.Rate(1, x)
		asks("span", ok, err)
	}
	for x, ok := range map[float64]bool{1e-12: true, 0.9e-12: false, 1e12: true, 1.1e12: false} {
		_, err := LookEvery(x, 1, 1)
		asks("look", ok, err)
		_, err = LookEvery(1, x, 1)
		asks("spoilt", ok, err)
	}
	for x, ok := range map[float64]bool{1e-15: true, 0.9e-15: false, 1e12: true, 1.1e12: false} {
		_, err := LookEvery(1, 1, x)
		asks("rate", ok, err)
	}
	every, err := LookEvery(8, 2, 0.02) // √(2 · 8/0.04) = 20
	asks("look", true, err)
	near(t, "look every", every, 20, 1e-12)
}

// A million lives are taken, one more is not; nor is one failure alone.
func TestHowManyLives(t *testing.T) {
	t.Parallel()
	all := make([]float64, 1_000_001)
	for i := range all {
		all[i] = 1 + float64(i%2)
	}
	for n, want := range map[int]bool{1: false, 2: true, 1_000_000: true, 1_000_001: false} {
		if err := (Lives{Failed: all[:n]}).check(); (err == nil) != want {
			t.Errorf("%d failures: %v", n, err)
		}
	}
	var none *process.RangeError
	if err := (Lives{Failed: []float64{3, 3, 3}}).spread(); !errors.As(err, &none) || none.Value != 0 || none.Lo != math.SmallestNonzeroFloat64 || !math.IsInf(none.Hi, 1) {
		t.Errorf("lives all the same: %v", err)
	}
	if err := (Lives{Failed: []float64{3, 3, 3.1}}).spread(); err != nil {
		t.Errorf("one that is not: %v", err)
	}
	kinds, counts := alike([]float64{3, 5, 3, 3, 5, 7})
	if !slices.Equal(kinds, []float64{3, 5, 7}) || !slices.Equal(counts, []float64{3, 2, 1}) {
		t.Errorf("alike are %v, %v times", kinds, counts)
	}
	// Where a rising function passes nothing: at the start where it is above from there on, at the end where it never is.
	for _, c := range []struct {
		lo, hi float64
		f      func(float64) float64
		want   float64
	}{
		{0, 9, func(x float64) float64 { return x - 2.5 }, 2.5}, {0, 9, func(x float64) float64 { return x + 1 }, 0}, {2, 9, func(x float64) float64 { return x - 2 }, 2}, {0, 9, func(x float64) float64 { return x - 20 }, 9},
		{0, 9, func(x float64) float64 { return math.Atan(50 * (x - 7.25)) }, 7.25}, {-5, 5, func(x float64) float64 { return x * x * x }, 0}, {0, 1, func(x float64) float64 { return math.Expm1(30 * (x - 0.3)) }, 0.3}, {0, 4, func(x float64) float64 { return 0.4*x - 0.7 }, 1.75},
	} {
		if got := crossing(c.lo, c.hi, c.f); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("from %g to %g it passes at %.12g, wanted %g", c.lo, c.hi, got, c.want)
		}
	}
}

// Two laws alike in weight: below a quarter the first, up to three quarters between them in a line of logarithms, above the second.
func TestTheLawWithAShareBelowIt(t *testing.T) {
	t.Parallel()
	b := Belief{laws: []Weibull{{Shape: 2, Scale: 10}, {Shape: 1, Scale: 20}}, weights: []float64{0.5, 0.5}}
	for share, want := range map[float64][2]float64{0.1: {1, 10}, 0.25: {1, 10}, 0.5: {math.Sqrt2, 10 * math.Sqrt2}, 0.625: {math.Pow(2, 0.75), 10 * math.Pow(2, 0.75)}, 0.75: {2, 20}, 0.9: {2, 20}} {
		shape, scale, err := b.Law(share)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "shape", shape, want[0], 1e-12)
		near(t, "scale", scale, want[1], 1e-12)
	}
	b.laws = append(b.laws, Weibull{Shape: 1 + 0.9e-9, Scale: 40}) // as good as alike in shape
	b.weights = []float64{0.2, 0.4, 0.4}
	shape, scale, err := b.Law(0.35)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "shape", shape, 1, 1e-8) // 0.8 at 1: its middle is 0.4
	near(t, "scale", scale, 10*math.Pow(2, (0.35-0.1)/(0.4-0.1)), 1e-12)
}
