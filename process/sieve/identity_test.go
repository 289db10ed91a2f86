// The laws every size distribution obeys, whatever it is made of.

package sieve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// family draws plausible distributions of every kind, all with known ends.
func family(t *testing.T) map[string]Distribution {
	t.Helper()
	rng := rand.New(rand.NewPCG(7, 11))
	out := map[string]Distribution{}
	for i := range 12 {
		scale := math.Exp(math.Log(1e-3) + rng.NormFloat64())
		shape := 0.5 + 2*rng.Float64()
		for l, s := range map[Law]float64{LawRRSB: shape, LawGGS: shape, LawLogNormal: shape / 2} {
			d, err := l.of(scale, s)
			if err != nil {
				t.Fatal(err)
			}
			out[fmt.Sprintf("%s %d", l, i)] = d
		}
		d, err := randomClasses(rng, scale)
		if err != nil {
			t.Fatal(err)
		}
		out[fmt.Sprintf("classes %d", i)] = d
	}
	return out
}

// randomClasses is a √2 ladder with random shares, some of them zero.
func randomClasses(rng *rand.Rand, scale float64) (Distribution, error) {
	n := 3 + rng.IntN(12)
	edges, shares := make([]float64, n), make([]float64, n)
	sum := 0.0
	for i := range n {
		edges[i] = scale * math.Exp2(float64(n-i)/2)
		if rng.IntN(4) > 0 || i == n/2 {
			shares[i] = rng.ExpFloat64()
		}
		sum += shares[i]
	}
	for i := range shares {
		shares[i] /= sum
	}
	return ofClasses(edges, shares).Within(Bounds{Floor: scale / 4})
}

// ofClasses is the distribution of classes, their upper edges falling, the pan last.
func ofClasses(edges, shares []float64) Discrete {
	var d Discrete
	finer := 0.0
	for i := range slices.Backward(edges) {
		finer += shares[i]
		d.edges, d.passing = append(d.edges, edges[i]), append(d.passing, min(finer, 1)) // shares that add up to 1 but for rounding
	}
	return d
}

// must fails the test on an error.
func must(t *testing.T) func(float64, error) float64 {
	return func(v float64, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("an answer of %g", v)
		}
		return v
	}
}

func TestEveryDistributionKeepsTheLaws(t *testing.T) {
	t.Parallel()
	for name, d := range family(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			risesFromZeroToOne(t, d)
			densityIsTheSlope(t, d)
			quantileInverts(t, d)
			momentsAreIntegrals(t, d)
			meansAreInOrder(t, d)
			refuses(t, d)
		})
	}
}

func risesFromZeroToOne(t *testing.T, d Distribution) {
	get := must(t)
	last := 0.0
	for u := -60.0; u < 20; u += 0.1 {
		q := get(d.Cumulative(math.Exp(u)))
		if q < last || q > 1 {
			t.Fatalf("Q(%g) = %g after %g", math.Exp(u), q, last)
		}
		last = q
	}
	if first := get(d.Cumulative(1e-60)); first > 1e-12 || last < 1-1e-12 {
		t.Errorf("runs from %g to %g", first, last)
	}
}

func densityIsTheSlope(t *testing.T, d Distribution) {
	get := must(t)
	for p := 0.013; p < 1; p += 0.0617 {
		x := get(d.Quantile(p))
		h := 1e-5 * x
		slope := (get(d.Cumulative(x+h)) - get(d.Cumulative(x-h))) / (2 * h)
		if f := get(d.Density(x)); math.Abs(f-slope) > 1e-6*(f+1/x) {
			t.Errorf("at %g: density %g, slope %g", x, f, slope)
		}
	}
}

func quantileInverts(t *testing.T, d Distribution) {
	get := must(t)
	for _, p := range []float64{1e-6, 0.01, 0.1, 0.3, 0.5, 0.77, 0.9, 0.999} {
		if q := get(d.Cumulative(get(d.Quantile(p)))); math.Abs(q-p) > 1e-12 {
			t.Errorf("Q(x(%g)) = %g", p, q)
		}
	}
}

// momentsAreIntegrals compares with the mean of x^k over 20 000 equal shares
// of the mass, taken at the middle of each, where the ends do not dominate.
func momentsAreIntegrals(t *testing.T, d Distribution) {
	get := must(t)
	const n = 20_000
	for _, k := range []float64{1, 0.5, -0.2} {
		m, err := d.Moment(k)
		if err != nil {
			continue // does not exist; refuses looks at that
		}
		sum := 0.0
		for i := range n {
			sum += math.Pow(get(d.Quantile((float64(i)+0.5)/n)), k)
		}
		if r := sum / n / m; math.Abs(r-1) > 5e-3 {
			t.Errorf("moment %g: closed form %g, over quantiles %g", k, m, sum/n)
		}
	}
	if m := get(d.Moment(0)); math.Abs(m-1) > 1e-9 {
		t.Errorf("moment 0 is %g", m)
	}
}

// meansAreInOrder: the mean over mass is at least Sauter's, and that at least
// the number mean, where they exist (Jensen).
func meansAreInOrder(t *testing.T, d Distribution) {
	last := math.Inf(1)
	for _, pq := range [][2]float64{{4, 3}, {3, 2}, {2, 1}, {1, 0}} {
		m, err := MeanDiameter(d, pq[0], pq[1])
		if err != nil {
			return
		}
		if !(m > 0) || m > last*(1+1e-12) {
			t.Errorf("D%g%g = %g above %g", pq[0], pq[1], m, last)
		}
		last = m
	}
}

func refuses(t *testing.T, d Distribution) {
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if q, err := d.Cumulative(x); err == nil {
			t.Errorf("Q(%g) = %g", x, q)
		}
		if q, err := d.Density(x); err == nil {
			t.Errorf("q(%g) = %g", x, q)
		}
	}
	for _, p := range []float64{0, 1, -0.1, 1.1, math.NaN()} {
		if x, err := d.Quantile(p); err == nil {
			t.Errorf("x(%g) = %g", p, x)
		}
	}
	for _, k := range []float64{-60, 60, math.NaN(), math.Inf(1)} {
		if m, err := d.Moment(k); err == nil {
			t.Errorf("moment %g is %g", k, m)
		}
	}
}

// A law cut into fine classes is that law: class moments over edges meet the
// closed ones.
func TestClassesOfALawAreTheLaw(t *testing.T) {
	t.Parallel()
	get := must(t)
	for _, l := range []Law{LawRRSB, LawGGS, LawLogNormal} {
		d, err := l.of(1e-3, 1.8)
		if err != nil {
			t.Fatal(err)
		}
		var edges, shares []float64
		above := 1.0
		for x := 50e-3; x > 1e-7; x /= math.Pow(2, 1.0/16) {
			edges = append(edges, x)
		}
		for _, x := range edges[1:] {
			q := get(d.Cumulative(x))
			shares = append(shares, above-q)
			above = q
		}
		shares = append(shares, above)
		// What the law puts beyond the ladder is counted into its top class.
		shares[0] += 1 - total(shares)
		c, err := ofClasses(edges, shares).Within(Bounds{Floor: 1e-8})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range []float64{0.1, 0.5, 0.9} {
			if r := get(c.Quantile(p)) / get(d.Quantile(p)); math.Abs(r-1) > 2e-3 {
				t.Errorf("%s: d%g off by %g", l, 100*p, r-1)
			}
		}
		if l == LawLogNormal {
			continue // s = 1.8 reaches beyond any ladder
		}
		for _, pq := range [][2]float64{{4, 3}, {3, 2}} {
			if r := get(MeanDiameter(c, pq[0], pq[1])) / get(MeanDiameter(d, pq[0], pq[1])); math.Abs(r-1) > 2e-3 {
				t.Errorf("%s: D%g%g off by %g", l, pq[0], pq[1], r-1)
			}
		}
	}
}

// Sizes in another unit give the same sizes in that unit.
func TestUnitsScale(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 5))
	edges, shares := []float64{4e-3, 2e-3, 1e-3, 0.5e-3}, []float64{0.2, 0.4, 0.3, 0.1}
	want, err := Describe(ofClasses(edges, shares))
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		f := math.Exp(rng.NormFloat64())
		scaled := slices.Clone(edges)
		for i := range scaled {
			scaled[i] *= f
		}
		got, err := Describe(ofClasses(scaled, shares))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.D50.Value/want.D50.Value/f-1) > 1e-12 || math.Abs(got.Span.Value/want.Span.Value-1) > 1e-12 {
			t.Errorf("factor %g: d50 %g, span %g", f, got.D50.Value, got.Span.Value)
		}
	}
}

func TestNonsenseLawsAreRefused(t *testing.T) {
	t.Parallel()
	for _, l := range []Law{LawRRSB, LawGGS, LawLogNormal} {
		for _, v := range [][2]float64{{0, 1}, {-1, 1}, {math.NaN(), 1}, {1e-3, 0}, {1e-3, math.NaN()}, {math.Inf(1), 1}, {1e-3, 1e9}} {
			if d, err := l.of(v[0], v[1]); err == nil {
				t.Errorf("%s of %v: %v", l, v, d)
			}
		}
	}
}
