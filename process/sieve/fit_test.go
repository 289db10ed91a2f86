package sieve

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// drawn sieves n grains drawn one by one from a law on the bench stack.
func drawn(rng *rand.Rand, d Distribution, n int) (Points, error) {
	p := Points{}
	for _, s := range bench() {
		p.X = append(p.X, s.Opening)
	}
	finer := make([]int, len(p.X))
	for range n {
		x, err := d.Quantile(math.Max(rng.Float64(), 1e-300))
		if err != nil {
			return p, err
		}
		for i, opening := range p.X {
			if x <= opening {
				finer[i]++
			}
		}
	}
	for _, k := range finer {
		p.Q = append(p.Q, float64(k)/float64(n))
	}
	return p, nil
}

// The errors of the parameters are what they say: of many samples of known
// grains, the true values lie within one standard error in about 68 of 100.
func TestFitErrorsAreHonest(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(21, 3))
	const samples, grains = 400, 400
	for _, l := range []Law{LawRRSB, LawLogNormal} {
		true1, true2 := 1.6e-3, 1.4
		if l == LawLogNormal {
			true1, true2 = 1.2e-3, 0.7
		}
		d, err := l.of(true1, true2)
		if err != nil {
			t.Fatal(err)
		}
		var scale, shape, misfit float64
		for range samples {
			p, err := drawn(rng, d, grains)
			if err != nil {
				t.Fatal(err)
			}
			f, err := FitLaw(l, p, NonLinear, Weighting{Grains: grains})
			if err != nil {
				t.Fatal(err)
			}
			scale += math.Pow((f.Scale-true1)/f.ScaleError, 2)
			shape += math.Pow((f.Shape-true2)/f.ShapeError, 2)
			misfit += 1 / f.MisfitGrains
		}
		scale, shape = math.Sqrt(scale/samples), math.Sqrt(shape/samples)
		seen := samples / misfit
		t.Logf("%s: errors over standard errors %.2f and %.2f, misfit worth %.0f grains of %d", l, scale, shape, seen, grains)
		// Widening by the misfit makes the errors a little too wide on average.
		if scale < 0.75 || scale > 1.15 || shape < 0.75 || shape > 1.15 || seen < 0.7*grains || seen > 1.4*grains {
			t.Errorf("%s: errors over standard errors %.2f and %.2f, misfit worth %.0f grains", l, scale, shape, seen)
		}
	}
}

// Whatever law the shares come from, its fit returns it, in any unit and order.
func TestFitsReturnTheirLaw(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 2))
	for range 60 {
		shape := 0.7 + 1.5*rng.Float64()
		for l, scale := range map[Law]float64{LawRRSB: 1.5e-3, LawGGS: 5e-3, LawLogNormal: 1e-3} {
			d, err := l.of(scale, shape)
			if err != nil {
				t.Fatal(err)
			}
			factor := math.Exp(rng.NormFloat64())
			var p Points
			for _, i := range rng.Perm(7) {
				x := bench()[i].Opening
				q, err := d.Cumulative(x)
				if err != nil {
					t.Fatal(err)
				}
				p.X, p.Q = append(p.X, factor*x), append(p.Q, q)
			}
			for _, method := range []Method{Linearised, NonLinear} {
				f, err := FitLaw(l, p, method, Weighting{})
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(f.Scale/scale/factor-1) > 1e-6 || math.Abs(f.Shape/shape-1) > 1e-6 || f.RMS > 1e-7 {
					t.Errorf("%s by %s: %g, %g; wanted %g, %g", l, method, f.Scale/factor, f.Shape, scale, shape)
				}
			}
		}
	}
}

func TestJudgeSaysWhatItMeans(t *testing.T) {
	t.Parallel()
	mixed := Points{X: []float64{8e-3, 4e-3, 2e-3, 1e-3, 0.5e-3, 0.25e-3, 0.125e-3}, Q: []float64{0.99, 0.5, 0.49, 0.48, 0.47, 0.46, 0.1}}
	fits, err := FitAll(mixed, Weighting{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := Judge(fits)
	if err != nil || v.Word != "does not fit" || v.Fits() {
		t.Errorf("two products mixed: %+v, %v", v, err)
	}
	near := Points{X: []float64{2e-3, 1.4e-3, 1e-3, 0.71e-3}, Q: []float64{0.75, 0.60, 0.47, 0.36}}
	if fits, err = FitAll(near, Weighting{}); err != nil {
		t.Fatal(err)
	}
	if v, err = Judge(fits); err != nil || len(v.Alike) == 0 {
		t.Errorf("four middle points: %+v, %v", v, err)
	}
	dusty, err := NewRRSB(2e-3, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	p := Points{X: near.X}
	for _, x := range p.X {
		q, err := dusty.Cumulative(x)
		if err != nil {
			t.Fatal(err)
		}
		p.Q = append(p.Q, q)
	}
	if fits, err = FitAll(p, Weighting{}); err != nil {
		t.Fatal(err)
	}
	if v, err = Judge(fits); err != nil || v.Best.Law != LawRRSB || !v.Fits() || v.Best.Shape > 1 {
		t.Errorf("dusty: %+v, %v", v, err)
	}
	if _, err := Judge(nil); err == nil {
		t.Error("no fits are judged")
	}
}

// No input makes a fit answer with a NaN.
func TestFitsNeverAnswerNaN(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 6))
	fits := 0
	for range 400 {
		n := rng.IntN(9)
		p := Points{}
		for i := range n {
			q := rng.Float64()
			if rng.IntN(4) == 0 {
				q = math.Round(q)
			}
			p.X, p.Q = append(p.X, math.Exp(-7+float64(i)*rng.Float64()+1e-6*float64(i))), append(p.Q, q)
		}
		all, err := FitAll(p, Weighting{Equal: rng.IntN(2) == 0})
		if err != nil {
			var refused *EntryError
			if !errors.As(err, &refused) && err.Error() == "" {
				t.Fatal(err)
			}
			continue
		}
		for _, f := range all {
			fits++
			sum := f.Scale + f.Shape + f.ScaleError + f.ShapeError + f.RMS + f.Line + f.MisfitGrains + f.Covariance[0][1]
			if math.IsNaN(sum) || math.IsInf(sum, 0) || f.Scale <= 0 || f.Shape <= 0 {
				t.Fatalf("%+v for %+v", f, p)
			}
		}
	}
	if fits < 100 {
		t.Errorf("only %d fits were made", fits)
	}
	for name, p := range map[string]Points{
		"lists apart": {X: []float64{1e-3, 2e-3}, Q: []float64{0.1}},
		"NaN size":    {X: []float64{1e-3, math.NaN(), 3e-3}, Q: []float64{0.1, 0.2, 0.3}},
		"NaN share":   {X: []float64{1e-3, 2e-3, 3e-3}, Q: []float64{0.1, math.NaN(), 0.3}},
		"per cent":    {X: []float64{1e-3, 2e-3, 3e-3}, Q: []float64{10, 20, 30}},
		"twice":       {X: []float64{1e-3, 1e-3, 3e-3}, Q: []float64{0.1, 0.2, 0.3}},
		"nothing":     {},
	} {
		if _, err := FitAll(p, Weighting{}); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	if _, err := FitAll(Points{X: []float64{1e-3, 2e-3, 3e-3}, Q: []float64{0.1, 0.4, 0.7}}, Weighting{Grains: -3}); err == nil {
		t.Error("a negative number of grains is taken")
	}
}

// A law follows the shares well up to a hundredth, roughly up to three; beyond it does not, and is
// not drawn. Laws are alike up to a quarter more than the best, or a hundredth.
func TestHowWellALawFits(t *testing.T) {
	t.Parallel()
	for rms, want := range map[float64]string{0: "fits well", 0.01: "fits well", 0.0101: "fits roughly", 0.03: "fits roughly", 0.0301: "does not fit", 0.05: "does not fit"} {
		v, err := Judge([]Fit{{Law: LawRRSB, Method: NonLinear, RMS: rms}, {Law: LawGGS, Method: Linearised, RMS: 0}})
		if err != nil || v.Word != want || v.Fits() != (want != "does not fit") {
			t.Errorf("off by %g it %s, fits %t (%v), wanted %s", rms, v.Word, v.Fits(), err, want)
		}
	}
	for _, c := range []struct {
		best, other float64
		alike       bool
	}{{0.02, 0.025, true}, {0.02, 0.0251, false}, {0.001, 0.01, true}, {0.001, 0.0101, false}} {
		v, err := Judge([]Fit{{Law: LawRRSB, Method: NonLinear, RMS: c.best}, {Law: LawGGS, Method: NonLinear, RMS: c.other}})
		if err != nil || (len(v.Alike) == 1) != c.alike || v.Best.Law != LawRRSB {
			t.Errorf("%g beside %g: %+v %v", c.other, c.best, v, err)
		}
	}
	if (Verdict{}).Fits() {
		t.Error("no law fits")
	}
}
