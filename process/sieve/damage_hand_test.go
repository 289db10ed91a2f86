package sieve

// The tests for damage by another way: distributions of the library gonum, and sums written out.

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Tails against the library gonum, at and beyond their ends too.
func TestTailsAgainstDistributions(t *testing.T) {
	t.Parallel()
	for _, n := range []float64{1, 7, 40} {
		for k := 1.0; k <= n; k += 3 {
			for _, s := range []float64{0.02, 0.3, 0.9} {
				if got, want := binomialTail(k, n, s), (distuv.Binomial{N: n, P: s}).Survival(k-1); math.Abs(got-want) > 1e-13+1e-9*want && want > 1e-12 {
					t.Errorf("%g of %g with chance %g: %g, wanted %g", k, n, s, got, want)
				}
			}
		}
		for k, want := range map[float64]float64{0: 1, -1: 1, n + 1: 0} {
			near(t, "binomial tail at its end", binomialTail(k, n, 0.4), want, 0)
		}
		near(t, "all of them", binomialTail(n, n, 0.4), math.Pow(0.4, n), 1e-9)
		near(t, "of no chance", binomialTail(1, n, 0), 0, 0)
		near(t, "of certainty", binomialTail(1, n, 1), 1, 0)
	}
	for k, mean := range map[int]float64{1: 0.01, 2: 3, 5: 2, 9: 12} {
		near(t, "Poisson tail", poissonTail(k, mean), distuv.Poisson{Lambda: mean}.Survival(float64(k-1)), 1e-9)
	}
	near(t, "Poisson tail from none", poissonTail(0, 2), 1, 0)
	near(t, "Poisson tail of nothing", poissonTail(1, 0), 0, 0)
	for _, df := range []float64{1, 3, 8, 40} {
		for _, x := range []float64{-3, -0.5, 0, 0.2, 1, 4} {
			near(t, "Student's tail", studentTail(x, df), distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(x), 1e-9)
		}
	}
	near(t, "sum of logarithms", logSum([]float64{-1000, -1000 + math.Log(3)}), -1000+math.Log(4), 1e-12)
}

// Beta distributions with one parameter 1 have quantiles in closed form: p^(1/a), and 1 − (1 − p)^(1/b). The first parameter may
// be from 0.1001.
func TestBetaInClosedForm(t *testing.T) {
	t.Parallel()
	for _, want := range []float64{0.102, 0.3, 0.99} {
		a, b, err := BetaFromQuantiles(math.Pow(0.5, 1/want), math.Pow(0.9, 1/want))
		if err != nil {
			t.Fatal(want, err)
		}
		near(t, "a", a, want, 1e-7)
		near(t, "b", b, 1, 1e-7)
	}
	for _, want := range []float64{1.2, 40, 6000} {
		a, b, err := BetaFromQuantiles(-math.Expm1(-math.Ln2/want), -math.Expm1(-math.Ln10/want))
		if err != nil {
			t.Fatal(want, err)
		}
		near(t, "a", a, 1, 1e-7)
		near(t, "b", b, want, 1e-7)
	}
	for _, a := range []float64{0.1, 0.10005, 0.0995} {
		if got, _, err := BetaFromQuantiles(math.Pow(0.5, 1/a), math.Pow(0.9, 1/a)); err == nil {
			t.Errorf("a first parameter of %g is taken as %g", a, got)
		}
	}
	near(t, "where a fall is", bisect(1e-3, 1e8, func(x float64) bool { return x < 7 }), 7, 1e-13)
}

// What is known of a mill, with the sums written out: before any run the mill's scores are normal with what is not within a mill;
// a run's are those and its own; the shares are the beta distribution's at them. A run that was sound weighs each mill by the
// chance of so many coarse grains.
func TestSoundBySums(t *testing.T) {
	t.Parallel()
	const h, n = 0.04, 225
	a, b, err := BetaFromQuantiles(0.02, 0.09)
	if err != nil {
		t.Fatal(err)
	}
	beta, normal := distuv.Beta{Alpha: a, Beta: b}, distuv.UnitNormal
	for _, within := range []float64{0.05, 0.3, 1} {
		s, err := NewSound(Prior{Median: 0.02, Upper: 0.09, Within: within})
		if err != nil || len(s.mill) != n || len(s.share) != n || len(s.kernel) != 2*n-1 || s.Runs != 0 {
			t.Fatalf("%d mills, %d shares, %d of the kernel, %d runs (%v)", len(s.mill), len(s.share), len(s.kernel), s.Runs, err)
		}
		mill := make([]float64, n)
		for i := range n {
			z := h * float64(i-112)
			if mill[i] = math.Exp(-z * z / 2 / (1 - within)); within == 1 {
				if mill[i] = 0; i == 112 {
					mill[i] = 1
				}
			}
			if i > 60 && i < 200 {
				near(t, "share", s.share[i], beta.Quantile(normal.CDF(z)), 1e-6)
			}
		}
		compare := func(what string, got, want []float64) {
			t.Helper()
			sum := total(want)
			for i := range want {
				if math.Abs(got[i]-want[i]/sum) > 1e-10 {
					t.Fatalf("within %g, %s at score %d: %g, wanted %g", within, what, i-112, got[i], want[i]/sum)
				}
			}
		}
		spread := func(of []float64, like func(int) float64) []float64 { // over mill or run, with the run's own scatter
			out := make([]float64, n)
			for u := range n {
				for z := range n {
					e := h * float64(z-u)
					out[u] += math.Exp(-e*e/2/within) * of[z] * like(z)
				}
			}
			return out
		}
		compare("mills", s.mill, mill)
		compare("runs", s.runs(), spread(mill, func(int) float64 { return 1 }))
		screen, err := screen2.check()
		if err != nil {
			t.Fatal(err)
		}
		sample := Sample{Mass: 0.01, Coarse: 0.05, Long: NotLooked}
		grains := 0.01 / (1.5 * 1240 * math.Pi / 6 * math.Pow(2.5e-3, 3)) // 657 balls and a half of 2.5 mm
		next, err := s.After(screen2, sample)
		if err != nil || next.Runs != 1 {
			t.Fatal(next.Runs, err)
		}
		ones := make([]float64, n)
		for i := range ones {
			ones[i] = 1
		}
		like := spread(ones, func(z int) float64 {
			return math.Exp(grains * (0.05*math.Log(s.share[z]/0.05) + 0.95*math.Log((1-s.share[z])/0.95)))
		})
		for i := range like {
			like[i] *= mill[i]
		}
		compare("mills after a run", next.mill, like)

		// The test itself, from the weights of the next run.
		w := s.runs()
		for _, long := range []int{NotLooked, 0, 2} {
			sample.Long = long
			got, err := s.Test(screen2, sample, 0.01)
			if err != nil {
				t.Fatal(err)
			}
			shareP, longP, shareLimit, longLimit := 0.0, 1.0, 0.01, 0.0
			perGrain := 0.01 / (1.5 * 1240 * math.Pi / 6 * math.Pow(4e-3, 3))
			if long != NotLooked {
				longP, shareLimit, longLimit = 0, 0.0075, 0.0025
			}
			soundLike, tornLike := 0.0, 0.0
			chance := func(share, longShare float64) float64 { // of what was seen, but for a factor of its own
				l := grains * (0.05*math.Log(math.Max(share, 1e-300)/0.05) + 0.95*math.Log((1-share)/0.95))
				if long != NotLooked {
					mean := math.Max(perGrain*share*longShare, 1e-300)
					l += float64(long)*math.Log(mean) - mean
				}
				return math.Exp(l)
			}
			for z := range n {
				shareP += w[z] * (1 - distuv.Beta{Alpha: grains * 0.05, Beta: grains*0.95 + 1}.Survival(s.share[z]))
				if long > 0 {
					longP += w[z] * distuv.Poisson{Lambda: perGrain * s.share[z] * 0.003}.Survival(float64(long-1))
				} else if long == 0 {
					longP += w[z]
				}
				soundLike += w[z] * chance(s.share[z], screen.Shape.LongShare)
			}
			for i := range 2000 { // a torn screen's share is beta with 1 and 6
				tornLike += chance(distuv.Beta{Alpha: 1, Beta: 6}.Quantile((float64(i)+0.5)/2000), 0.3) / 2000
			}
			near(t, "chance of the share", got.ShareP, shareP, 1e-7)
			near(t, "chance of long grains", got.LongP, longP, 1e-7)
			near(t, "limit of the share", got.ShareLimit, shareLimit, 1e-12)
			near(t, "limit of long grains", got.LongLimit, longLimit, 1e-12)
			near(t, "odds", got.LogBayes, math.Log10(tornLike/soundLike), 1e-6)
			near(t, "grains", got.Grains, grains, 1e-9)
			near(t, "false alarms", got.FalseAlarm, 0.01, 0)
			if got.Alarm != (shareP < shareLimit || longP < longLimit) {
				t.Errorf("alarm %t with chances %g and %g", got.Alarm, shareP, longP)
			}
			for p, x := range map[float64]float64{0.1: got.Expected.Low, 0.5: got.Expected.Value, 0.9: got.Expected.High} {
				sum := 0.0
				for z := range n {
					if sum += w[z]; sum >= p {
						near(t, "expected", x, s.share[z], 0)
						break
					}
				}
			}
			// At its own chance it alarms, a little below it does not.
			if long == NotLooked {
				for by, want := range map[float64]bool{1 + 1e-9: true, 1 - 1e-9: false} {
					if v, err := s.Test(screen2, sample, shareP*by); err != nil || shareP < 0.4 && shareP > 1e-5 && v.Alarm != want {
						t.Errorf("chance %g, false alarms %g: alarm %t (%v)", shareP, shareP*by, v.Alarm, err)
					}
				}
			}
		}
	}
}

// More metal than before against the library gonum: Student's tails of the last run, and of the slope of the regression on the
// kilograms ground up to the middle of each run. Less than the scale shows counts as half of what it shows.
func TestMetalAgainstRegression(t *testing.T) {
	t.Parallel()
	for _, found := range [][]float64{{2e-6, 4e-6, 3e-6, 8e-6, 9e-6}, {3e-6, 1e-6, 5e-6, 0, 2e-6, 9e-6}, {2e-6, 2.02e-6, 2e-6, 2.01e-6, 2.3e-6}} {
		m := Metal{Resolution: 1e-6}
		var x, y []float64
		ground := 0.0
		for i, f := range found {
			kg := 0.4 + 0.3*float64(i%3)
			m.Runs = append(m.Runs, MetalRun{Ground: kg, Found: f})
			if f < 1e-6 {
				f = 0.5e-6
			}
			x, y = append(x, ground+kg/2), append(y, math.Log(f/kg))
			ground += kg
		}
		n := float64(len(y))
		mean, s := stat.MeanStdDev(y[:len(y)-1], nil)
		s = math.Max(s, 0.1)
		a, b := stat.LinearRegression(x, y, nil, false)
		rest, sxx := 0.0, 0.0
		for i := range x {
			rest, sxx = rest+math.Pow(y[i]-a-b*x[i], 2), sxx+math.Pow(x[i]-stat.Mean(x, nil), 2)
		}
		step := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Survival((y[len(y)-1] - mean) / (s * math.Sqrt(1+1/(n-1))))
		trend := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Survival(b * math.Sqrt(sxx) / math.Max(math.Sqrt(rest/(n-2)), 0.1))
		c, err := m.Test(0.3)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "chance of the step", c.StepP, step, 1e-9)
		near(t, "chance of the trend", c.TrendP, trend, 1e-9)
		near(t, "last", c.Last, math.Exp(y[len(y)-1]), 1e-12)
		least := 2 * math.Min(step, trend)
		for by, want := range map[float64]bool{1 + 1e-9: true, 1 - 1e-9: false} {
			if least > 1e-5 && least < 0.5 {
				if c, err := m.Test(least * by); err != nil || c.Alarm != want {
					t.Errorf("chances %g and %g, false alarms %g: alarm %t (%v)", step, trend, least*by, c.Alarm, err)
				}
			}
		}
	}
}

// Limits of the record of metal, both sides of each.
func TestMetalBounds(t *testing.T) {
	t.Parallel()
	record := func(n int, resolution float64, last MetalRun) Metal {
		m := Metal{Resolution: resolution}
		for range n - 1 {
			m.Runs = append(m.Runs, MetalRun{Ground: 1, Found: 1e-6})
		}
		m.Runs = append(m.Runs, last)
		return m
	}
	usual := MetalRun{Ground: 1, Found: 2e-6}
	for name, c := range map[string]struct {
		m    Metal
		rate float64
		ok   bool
	}{
		"five runs": {record(5, 1e-6, usual), 0, true}, "four": {record(4, 1e-6, usual), 0, false},
		"finest scale": {record(5, 1e-9, usual), 0, true}, "finer": {record(5, 0.9e-9, usual), 0, false},
		"coarsest scale": {record(5, 0.1, usual), 0, true}, "coarser": {record(5, 0.11, usual), 0, false},
		"least ground": {record(5, 1e-6, MetalRun{1e-4, 0}), 0, true}, "less": {record(5, 1e-6, MetalRun{0.9e-4, 0}), 0, false},
		"most ground": {record(5, 1e-6, MetalRun{1e5, 0}), 0, true}, "more": {record(5, 1e-6, MetalRun{1.01e5, 0}), 0, false},
		"all of it metal": {record(5, 1e-6, MetalRun{1, 1}), 0, true}, "more than it": {record(5, 1e-6, MetalRun{1, 1.01}), 0, false},
		"less than none": {record(5, 1e-6, MetalRun{1, -1e-9}), 0, false},
		"fewest alarms":  {record(5, 1e-6, usual), 1e-5, true}, "fewer": {record(5, 1e-6, usual), 0.9e-5, false},
		"most alarms": {record(5, 1e-6, usual), 0.5, true}, "more of them": {record(5, 1e-6, usual), 0.51, false},
	} {
		if _, err := c.m.Test(c.rate); (err == nil) != c.ok {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := record(4, 1e-6, usual).Test(0); err == nil || err.Error() != "4 runs are too few to see a change; weigh the metal of 5 runs" {
		t.Errorf("four runs: %v", err)
	}
}

// The coarse sample of a screen of 2 mm by hand: a sieve from 2.2 to 3.2 mm tells; of 100 g 2 g lie on 5 mm, 3 g on 4 mm, 10 g on
// 2.8 mm and 25 g on 2.24 mm. Finer than 2.5 mm are 60 g, and of the 25 g between the share of the logarithms. A grain of 4 mm
// is 1.5 · 1240 · π/6 · 0.064e-6 kg, 62.3 mg, of 5 mm 121.7 mg: 3 g and 2 g are 49 and 17 grains, begun ones counted.
func TestCoarseSampleByHand(t *testing.T) {
	t.Parallel()
	stack := func(openings, net []float64) Analysis {
		a, err := Weigh(Stack{Sieves: sieves(openings), Portions: []Portion{portion(0, net)}})
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	screen := Screen{Hole: 2e-3, Density: 1240}
	m, err := CoarseSample(stack([]float64{5e-3, 4e-3, 2.8e-3, 2.24e-3}, []float64{0.002, 0.003, 0.010, 0.025, 0.060}), screen)
	if err != nil || m.Long != 49+17 {
		t.Errorf("%+v %v", m, err)
	}
	near(t, "mass", m.Mass, 0.1, 1e-12)
	near(t, "coarse", m.Coarse, 1-(0.6+0.25*math.Log(2.5/2.24)/math.Log(2.8/2.24)), 1e-9)
	m, err = CoarseSample(stack([]float64{2.3e-3, 1e-3}, []float64{0.02, 0.05, 0.03}), screen) // all on the top one counts as coarse
	if err != nil || m.Long != NotLooked {
		t.Errorf("%+v %v", m, err)
	}
	near(t, "coarse on the top", m.Coarse, 0.2, 1e-9)
	for _, c := range []struct {
		openings []float64
		refused  string
	}{
		{[]float64{2.1999e-3, 1e-3}, "a little above"}, {[]float64{2.2e-3, 1e-3}, ""}, {[]float64{3.2e-3, 1e-3}, ""}, {[]float64{3.2001e-3, 1e-3}, "a little above"},
		{[]float64{3.1e-3, 2.6e-3}, "between one and 1.25 times"}, {[]float64{2.6e-3, 2.5e-3}, ""},
	} {
		_, err := CoarseSample(stack(c.openings, []float64{0.02, 0.05, 0.03}), screen)
		var refused *EntryError
		switch {
		case c.refused == "" && err != nil:
			t.Errorf("%v: %v", c.openings, err)
		case c.refused != "" && (!errors.As(err, &refused) || refused.Code != NotReached || refused.What != "no sieve of the stack lies "+c.refused+" the screen's 2 mm" || refused.Hint != "add one near 2.5 mm: 2.50 mm and 2.36 mm"):
			t.Errorf("%v: %v", c.openings, err)
		}
	}
	for hole, ok := range map[float64]bool{2e-3: true, 2.01e-3: false} { // from two holes on a grain is long
		m, err := CoarseSample(stack([]float64{4e-3, 2.5e-3, 2.3e-3}, []float64{0.001, 0.02, 0.05, 0.03}), Screen{Hole: hole, Density: 1240})
		if err != nil || (m.Long == 17) != ok || (m.Long == NotLooked) == ok {
			t.Errorf("hole of %g: %d long grains (%v)", hole, m.Long, err)
		}
	}
	for name, c := range map[string]struct {
		shape GrainShape
		ok    bool
	}{
		"flattest": {GrainShape{Elongation: 0.2}, true}, "flatter": {GrainShape{Elongation: 0.19}, false}, "longest": {GrainShape{Elongation: 10}, true}, "longer": {GrainShape{Elongation: 10.1}, false},
		"all long": {GrainShape{LongShare: 1}, true}, "more": {GrainShape{LongShare: 1.01}, false}, "less": {GrainShape{LongShare: -0.01}, false},
	} {
		if _, err := (Screen{Hole: 2e-3, Density: 1240, Shape: c.shape}).check(); (err == nil) != c.ok {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A sample is worth one grain to 100,000; more count no more. Long grains may be none, or not looked for.
func TestWhatASampleIsWorth(t *testing.T) {
	t.Parallel()
	screen, err := screen2.check()
	if err != nil {
		t.Fatal(err)
	}
	one := screen.grainMass(2.5e-3)
	near(t, "a grain", one, 1.5*1240*math.Pi/6*15.625e-9, 1e-12)
	for grains, want := range map[float64]float64{0.99: 0, 1.01: 1.01, 300: 300, 99_000: 99_000, 120_000: 1e5} {
		d, err := Sample{Mass: grains * one, Coarse: 0.25, Long: 3}.draw(screen)
		if (err == nil) != (want > 0) {
			t.Errorf("%g grains: %v", grains, err)
		}
		near(t, "grains", d.n, want, 1e-9)
		near(t, "coarse ones", d.k, want/4, 1e-9)
		if err == nil {
			near(t, "long ones", d.long, grains*one/screen.grainMass(4e-3), 1e-9)
		}
	}
	for long, ok := range map[int]bool{NotLooked: true, 0: true, NotLooked - 1: false} {
		if _, err := (Sample{Mass: 0.01, Coarse: 0.1, Long: long}).draw(screen); (err == nil) != ok {
			t.Errorf("%d long grains: %v", long, err)
		}
	}
	for part, ok := range map[float64]bool{0.05: true, 0.049: false, 1: true, 1.01: false} {
		if _, err := NewSound(Prior{Within: part}); (err == nil) != ok {
			t.Errorf("within a mill %g: %v", part, err)
		}
	}
}
