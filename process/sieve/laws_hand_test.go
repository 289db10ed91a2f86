package sieve

// The parts of a fit by hand and by another library: slopes, weights, sums, the straight line, how sure the result is.

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within*math.Max(math.Abs(want), 1e-300)) && got != want {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// A law as a fit sees it is the distribution itself, and its slopes are those of small steps of the
// logarithms of scale and shape.
func TestSlopesOfTheLaws(t *testing.T) {
	t.Parallel()
	for _, l := range []Law{LawRRSB, LawGGS, LawLogNormal} {
		for _, shape := range []float64{0.4, 1, 2.3} {
			d, err := l.of(2e-3, shape)
			if err != nil {
				t.Fatal(err)
			}
			s, n := math.Log(2e-3), math.Log(shape)
			for _, x := range []float64{1e-4, 7e-4, 1.9e-3, 3e-3} {
				q, byScale, byShape := l.passing(x, s, n)
				want, err := d.Cumulative(x)
				if err != nil {
					t.Fatal(err)
				}
				near(t, string(l)+": share", q, want, 1e-12)
				const h = 1e-5
				at := func(ds, dn float64) float64 { q, _, _ := l.passing(x, s+ds, n+dn); return q }
				if a, b := (at(h, 0)-at(-h, 0))/(2*h), (at(0, h)-at(0, -h))/(2*h); math.Abs(byScale-a) > 1e-8 || math.Abs(byShape-b) > 1e-8 {
					t.Errorf("%s of shape %g at %g: slopes %g and %g, by steps %g and %g", l, shape, x, byScale, byShape, a, b)
				}
			}
		}
	}
	// At its largest size and beyond, the power law has no slope; nor has the exponential one where e^−z is no number any more.
	for l, x := range map[Law][]float64{LawGGS: {1, 1.0001, 5}, LawRRSB: {701, 1e5}} {
		for _, x := range x {
			if q, a, b := l.passing(x, 0, 0); q != 1 || a != 0 || b != 0 {
				t.Errorf("%s at %g: %g, slopes %g and %g", l, x, q, a, b)
			}
		}
	}
	if _, a, _ := LawRRSB.passing(699, 0, 0); a >= 0 {
		t.Errorf("at z = 699 the slope is %g, wanted −699 e^−699", a)
	}
}

// A share as so many grains, half a one more on either side: of nine grains (9 q + 1/2)/10.
func TestWeightsByHand(t *testing.T) {
	t.Parallel()
	w := weights(Points{Q: []float64{0, 0.5, 1, 0.2}}, Weighting{Grains: 9})
	for i, want := range []float64{1 / (0.05 * 0.95), 4, 1 / (0.95 * 0.05), 1 / (0.23 * 0.77)} {
		near(t, "weight", w[i], want, 1e-12)
	}
	for _, one := range weights(Points{Q: []float64{0, 0.5, 1, 0.2}}, Weighting{Grains: 9, Equal: true}) {
		near(t, "equal weight", one, 1, 0)
	}
}

// The misfit by hand: the law is 1 − e^−x, at ln 2, 2 ln 2 and 3 ln 2 a half, three and seven eighths are finer, the classes
// hold 1/2, 1/4, 1/8, 1/8. Seen are 0.6, 0.15, 0.15, 0.1: 0.01/0.5 + 0.01/0.25 + 2 · 0.000625/0.125 = 0.07, over one degree of
// freedom; with a fourth point over two. A class the law leaves empty counts as half a grain.
func TestMisfitByHand(t *testing.T) {
	t.Parallel()
	f := Fit{Scale: 1, Shape: 1}
	p := Points{X: []float64{2 * math.Ln2, math.Ln2, 3 * math.Ln2}, Q: []float64{0.75, 0.6, 0.9}}
	near(t, "misfit", misfit(LawRRSB, p, f, 1000), 0.07, 1e-9)
	p.X, p.Q = append(p.X, 4*math.Ln2), append(p.Q, 0.9)
	// The last class is parted: 1/16 each, of which 0 and 0.1 are seen.
	near(t, "misfit of four", misfit(LawRRSB, p, f, 1000), (0.02+0.04+0.005+0.0625+0.0375*0.0375*16)/2, 1e-9)
	p = Points{X: []float64{1, 2}, Q: []float64{0.9, 0.95}} // the power law up to 1: all of it below the first
	near(t, "misfit of empty classes", misfit(LawGGS, p, f, 100), 0.01+0.0025/0.005+0.0025/0.005, 1e-9)
}

// Sums, inverse and covariance against matrices of the library gonum: JᵀWJ, JᵀWr, rᵀWr, and s² B Σ Bᵀ with B = (JᵀWJ)⁻¹JᵀW.
func TestEquationsAgainstMatrices(t *testing.T) {
	t.Parallel()
	p := Points{X: []float64{4e-3, 2e-3, 1e-3, 0.5e-3, 0.25e-3}, Q: []float64{0.93, 0.7, 0.41, 0.18, 0.09}}
	for _, l := range []Law{LawRRSB, LawGGS, LawLogNormal} {
		th, w, n := [2]float64{math.Log(6e-3), math.Log(0.9)}, weights(p, Weighting{Grains: 300}), len(p.X)
		j, weight, r, sigma := mat.NewDense(n, 2, nil), mat.NewDiagDense(n, w), mat.NewVecDense(n, nil), mat.NewDense(n, n, nil)
		q := make([]float64, n)
		for i, x := range p.X {
			var a, b float64
			q[i], a, b = l.passing(x, th[0], th[1])
			j.SetRow(i, []float64{a, b})
			r.SetVec(i, p.Q[i]-q[i])
		}
		for i := range n {
			for k := range n {
				sigma.Set(i, k, math.Min(q[i], q[k])-q[i]*q[k])
			}
		}
		var jw, a, g, wr, inverse, b, cov mat.Dense
		jw.Mul(j.T(), weight)
		a.Mul(&jw, j)
		g.Mul(&jw, r)
		wr.Mul(weight, r)
		if err := inverse.Inverse(&a); err != nil {
			t.Fatal(err)
		}
		b.Mul(&inverse, &jw)
		cov.Product(&b, sigma, b.T())
		e := equations(l, p, w, th)
		near(t, "cost", e.cost, mat.Dot(r, wr.ColView(0)), 1e-12)
		inv, ok := invert(e.a)
		if !ok {
			t.Fatalf("%s: %v has no inverse", l, e.a)
		}
		got := sandwich(l, p, w, th, inv, 0.02)
		damp := damped(e.a, 0.5)
		for i := range 2 {
			near(t, "slope of the cost", e.g[i], g.At(i, 0), 1e-12)
			for k := range 2 {
				near(t, "sum", e.a[i][k], a.At(i, k), 1e-12)
				near(t, "inverse", inv[i][k], inverse.At(i, k), 1e-9)
				near(t, "covariance", got[i][k], 0.02*cov.At(i, k), 1e-9)
				grown := 1.0
				if i == k {
					grown = 1.5
				}
				near(t, "damped", damp[i][k], grown*e.a[i][k], 1e-12)
			}
		}
	}
}

// A matrix whose columns are the same but for a part in 10¹⁴ of its determinant has no inverse; one a little further is turned.
func TestWhatHasNoInverse(t *testing.T) {
	t.Parallel()
	for det, want := range map[float64]bool{0: false, 5e-15: false, 1.5e-14: true, 0.75: true} {
		r := math.Sqrt(1 - det)
		if _, ok := invert([2][2]float64{{1, r}, {r, 1}}); ok != want {
			t.Errorf("determinant %g: an inverse %t, wanted %t", det, ok, want)
		}
	}
	inv, ok := invert([2][2]float64{{4, 2}, {1, 3}}) // the determinant is 10
	if want := [2][2]float64{{0.3, -0.2}, {-0.1, 0.4}}; !ok || math.Abs(inv[0][0]-want[0][0])+math.Abs(inv[0][1]-want[0][1])+math.Abs(inv[1][0]-want[1][0])+math.Abs(inv[1][1]-want[1][1]) > 1e-15 {
		t.Errorf("the inverse is %v, wanted %v", inv, want)
	}
	if _, ok := invert([2][2]float64{{1e200, 0}, {0, 1e200}}); ok {
		t.Error("an infinite determinant has an inverse")
	}
}

// The straight line against the library gonum: slope, intercept and correlation of its regression; the errors by the variances of
// slope and intercept, through ln scale = −a/b and ln shape = ± ln b. Points at 0 and 1 are left out, and counted.
func TestLineAgainstRegression(t *testing.T) {
	t.Parallel()
	p := Points{X: []float64{8e-3, 4e-3, 2e-3, 1e-3, 0.5e-3, 0.25e-3, 0.1e-3}, Q: []float64{1, 0.93, 0.7, 0.41, 0.18, 0.09, 0}}
	for _, l := range []Law{LawRRSB, LawGGS, LawLogNormal} {
		var u, y []float64
		for i := 1; i < 6; i++ {
			u, y = append(u, math.Log(p.X[i])), append(y, l.straight(p.Q[i]))
		}
		a, b := stat.LinearRegression(u, y, nil, false)
		mu, rest, sxx := stat.Mean(u, nil), 0.0, 0.0
		for i := range u {
			rest += math.Pow(y[i]-a-b*u[i], 2)
			sxx += math.Pow(u[i]-mu, 2)
		}
		vb := rest / 3 / sxx
		va, ab := rest/3/5+mu*mu*vb, -mu*vb
		sign, shape := 1.0, b
		if l == LawLogNormal {
			sign, shape = -1, 1/b
		}
		f, err := fitLine(l, p)
		if err != nil || f.Used != 5 || f.Dropped != 2 || f.Method != Linearised || f.Law != l {
			t.Fatalf("%+v %v", f, err)
		}
		near(t, "scale", f.Scale, math.Exp(-a/b), 1e-9)
		near(t, "shape", f.Shape, shape, 1e-9)
		near(t, "correlation", f.Line, stat.Correlation(u, y, nil), 1e-9)
		near(t, "variance of ln scale", f.Covariance[0][0], va/(b*b)+a*a/(b*b*b*b)*vb-2*a/(b*b*b)*ab, 1e-6)
		near(t, "variance of ln shape", f.Covariance[1][1], vb/(b*b), 1e-9)
		near(t, "covariance", f.Covariance[0][1], sign/b*(-ab/b+a/(b*b)*vb), 1e-6)
		near(t, "covariance the other way", f.Covariance[1][0], f.Covariance[0][1], 0)
		whole, err := FitLaw(l, p, Linearised, Weighting{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "error of the scale", whole.ScaleError, f.Scale*math.Sqrt(f.Covariance[0][0]), 1e-12)
		near(t, "error of the shape", whole.ShapeError, f.Shape*math.Sqrt(f.Covariance[1][1]), 1e-12)
		square := 0.0
		for i, x := range p.X {
			q, err := whole.Distribution.Cumulative(x)
			if err != nil {
				t.Fatal(err)
			}
			square += math.Pow(q-p.Q[i], 2) / 7
		}
		near(t, "root mean square", whole.RMS, math.Sqrt(square), 1e-9)
		near(t, "grains", whole.Grains, 1000, 0)
		near(t, "grains of the misfit", whole.MisfitGrains, 1/misfit(l, p, f, 1000), 1e-12)
	}
	two := Points{X: []float64{4e-3, 2e-3, 1e-3}, Q: []float64{0.9, 0.5, 0}}
	if _, err := FitLaw(LawRRSB, two, Linearised, Weighting{}); err == nil || err.Error() != "2 sieves part the sample, a fit needs three; with one or two take the simple estimate" {
		t.Errorf("two points in a line: %v", err)
	}
	if _, err := FitLaw(LawRRSB, Points{X: []float64{4e-3, 2e-3, 1e-3}, Q: []float64{0.4, 0.4, 0.4}}, Linearised, Weighting{}); err == nil {
		t.Error("shares that do not rise are fitted")
	}
}

// A fit of least squares is where no neighbour is better, and its errors are those of the grains or of the misfit, whichever is more.
func TestLeastSquaresAreLeast(t *testing.T) {
	t.Parallel()
	p := Points{X: []float64{8e-3, 4e-3, 2e-3, 1e-3, 0.5e-3, 0.25e-3}, Q: []float64{0.99, 0.9, 0.66, 0.4, 0.2, 0.08}}
	for _, l := range []Law{LawRRSB, LawGGS, LawLogNormal} {
		for _, w := range []Weighting{{Grains: 50}, {Grains: 5000}, {Equal: true, Grains: 1}} {
			f, err := FitLaw(l, p, NonLinear, w)
			if err != nil || f.Used != 6 || f.Dropped != 0 || f.Line != 0 || f.Grains != w.Grains {
				t.Fatalf("%+v %v", f, err)
			}
			weight, th := weights(p, w), [2]float64{math.Log(f.Scale), math.Log(f.Shape)}
			at := equations(l, p, weight, th)
			for i := range 24 {
				sin, cos := math.Sincos(float64(i) * math.Pi / 12)
				if e := equations(l, p, weight, [2]float64{th[0] + 1e-3*cos, th[1] + 1e-3*sin}); e.cost < at.cost {
					t.Errorf("%s: costs %.12g, a step away %.12g", l, at.cost, e.cost)
				}
			}
			inv, ok := invert(at.a)
			if !ok {
				t.Fatal(at.a)
			}
			want := sandwich(l, p, weight, th, inv, math.Max(1/w.Grains, misfit(l, p, f, w.Grains)))
			near(t, "error of the scale", f.ScaleError, f.Scale*math.Sqrt(want[0][0]), 1e-6)
			near(t, "error of the shape", f.ShapeError, f.Shape*math.Sqrt(want[1][1]), 1e-6)
			near(t, "covariance", f.Covariance[0][1], want[0][1], 1e-6)
		}
	}
	for grains, ok := range map[float64]bool{0.99: false, 1: true, 1e12: true, 1.01e12: false} {
		if _, err := FitLaw(LawRRSB, p, NonLinear, Weighting{Grains: grains}); (err == nil) != ok {
			t.Errorf("%g grains: %v", grains, err)
		}
	}
	// A size stands from 1 nm to 1 km, a share from 0 to 1.
	for _, c := range []struct {
		x, q float64
		ok   bool
	}{{1e-9, 0, true}, {0.99e-9, 0, false}, {1e3, 1, true}, {1.01e3, 1, false}, {0.1, 1.001, false}, {0.1, -0.001, false}} {
		more := Points{X: append([]float64{c.x}, p.X...), Q: append([]float64{c.q}, p.Q...)}
		if _, err := FitLaw(LawRRSB, more, Linearised, Weighting{}); (err == nil) != c.ok {
			t.Errorf("share %g at %g m: %v", c.q, c.x, err)
		}
	}
}
