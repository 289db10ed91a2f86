package breakage

// Laws every run obeys, whatever the mill.

import (
	"math"
	"math/rand/v2"
	"testing"
)

// plausible draws a mill and a charge from wide but sensible ranges.
func plausible(rng *rand.Rand, tolerance float64) (*Mill, *Charge, error) {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	scale := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rng.Float64()) }
	largest := scale(0.005, 0.3)
	g, err := NewGrid(largest)
	if err != nil {
		return nil, nil, err
	}
	k := Kernel{scale(1e-5, 1e-3), between(0, 2), scale(0.01, 1), between(0, 5), rng.Float64(), between(0.3, 2), between(2, 8)}
	s := Screen{scale(3e-4, 0.01), between(0, 0.6), scale(0.01, 20), 0}
	m, err := NewMill(g, k, s, Power{scale(10, 3000), scale(0.005, 0.1)}, tolerance)
	if err != nil {
		return nil, nil, err
	}
	c := NewCharge(g)
	thickness := between(0.05, 0.2) * largest
	return m, c, AddFeed(g, c.Held, scale(0.01, 1), largest, between(0.3, 0.9)*largest, thickness)
}

func copyCharge(c *Charge) *Charge {
	return &Charge{append([]float64(nil), c.Held...), append([]float64(nil), c.Passed...), c.Energy}
}

func TestEveryRunKeepsTheLaws(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 7))
	for n := range 400 {
		tolerance := []float64{1e-2, 1e-3, 1e-6}[n%3]
		m, c, err := plausible(rng, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		mass := c.HeldMass()
		duration := 600 * rng.Float64()
		course := &Course{}
		const looks = 12
		for k := range looks {
			course.Time = append(course.Time, min(duration, duration*float64(k)/(looks-1)))
			course.HeldClasses = append(course.HeldClasses, make([]float64, len(c.Held)))
			course.PassedClasses = append(course.PassedClasses, make([]float64, len(c.Held)))
		}
		course.Energy, course.Power = make([]float64, looks), make([]float64, looks)
		if err := m.Run(c, duration, course); err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		for k := range looks {
			checkLook(t, n, course, k, mass, tolerance)
		}
	}
}

// checkLook holds one place of a course against the laws and the place before.
func checkLook(t *testing.T, n int, c *Course, k int, mass, tolerance float64) {
	held, passed := c.HeldClasses[k], c.PassedClasses[k]
	if off := math.Abs(sum(held) + sum(passed) - mass); off > 1e-12*mass {
		t.Errorf("case %d at %g s: %g of the mass is lost or won", n, c.Time[k], off/mass)
	}
	var coarser, coarserBefore float64
	for i := range held {
		if !(held[i] >= 0 && passed[i] >= 0) {
			t.Errorf("case %d at %g s: class %d holds %g, passed %g", n, c.Time[k], i, held[i], passed[i])
		}
		if k == 0 {
			continue
		}
		coarser += held[i] + passed[i]
		coarserBefore += c.HeldClasses[k-1][i] + c.PassedClasses[k-1][i]
		if coarser > coarserBefore+tolerance*mass {
			t.Errorf("case %d at %g s: oversize of class %d rose by %g of the charge", n, c.Time[k], i, (coarser-coarserBefore)/mass)
		}
	}
	if k > 0 && (sum(passed) < sum(c.PassedClasses[k-1])-1e-15 || c.Energy[k] < c.Energy[k-1]) {
		t.Errorf("case %d at %g s: product or energy fell", n, c.Time[k])
	}
	if !(c.Power[k] >= 0) || math.IsInf(c.Power[k], 0) {
		t.Errorf("case %d at %g s: power %g", n, c.Time[k], c.Power[k])
	}
}

func TestNoTimeChangesNothing(t *testing.T) {
	t.Parallel()
	m, c, err := plausible(rand.New(rand.NewPCG(2, 2)), 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	before := copyCharge(c)
	if err := m.Run(c, 0, nil); err != nil {
		t.Fatal(err)
	}
	near(t, "held", c.Held, before.Held, 0)
	near(t, "passed", c.Passed, before.Passed, 0)
}

// The hold-up without a screen is constant, so the exact solution applies.
func TestClosedMillIsLinear(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 5))
	for range 20 {
		m, c, err := plausible(rng, 1e-8)
		if err != nil {
			t.Fatal(err)
		}
		clear(m.leave[:])
		w := m.PowerAt(c.HeldMass()) / c.HeldMass()
		l := Linear{Break: make([]float64, len(c.Held)), Debris: millDebris(t, m)}
		for i := range l.Break {
			l.Break[i] = w * m.specific[i]
		}
		duration := min(120, 1e4/l.fastest())
		exact := copyCharge(c)
		if err := l.Advance(exact.Held, exact.Passed, duration); err != nil {
			t.Fatal(err)
		}
		if err := m.Run(c, duration, nil); err != nil {
			t.Fatal(err)
		}
		near(t, "held", c.Held, exact.Held, 1e-7*c.HeldMass())
	}
}

// millDebris is the debris of a mill as a table, from its running sums.
func millDebris(t *testing.T, m *Mill) [][]float64 {
	t.Helper()
	k := Kernel{Rate: 1, RotorSize: 1, Phi: m.fineIn / (1 - m.fineDown), Gamma: -2 * math.Log2(m.fineDown), Beta: -2 * math.Log2(m.coarseDown)}
	b, err := Debris(m.grid.upper, k.finer)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Twice the power and twice the screen rate do in half the time the same.
func TestTimeScales(t *testing.T) {
	t.Parallel()
	g, err := NewGrid(0.08)
	if err != nil {
		t.Fatal(err)
	}
	var ends [2]*Charge
	for k, f := range []float64{1, 2} {
		m, err := NewMill(g, brittle, Screen{0.002, 0.2, 0.25 * f, 0}, Power{250 * f, 0.02}, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		ends[k] = NewCharge(g)
		ends[k].Held[3] = 0.1
		if err := m.Run(ends[k], 120/f, nil); err != nil {
			t.Fatal(err)
		}
	}
	near(t, "passed", ends[1].Passed, ends[0].Passed, 1e-13)
	near(t, "energy", []float64{ends[1].Energy}, []float64{ends[0].Energy}, 1e-7)
}

// A charge and its double with doubled power and least hold-up run alike.
func TestMassScales(t *testing.T) {
	t.Parallel()
	g, err := NewGrid(0.08)
	if err != nil {
		t.Fatal(err)
	}
	var ends [2]*Charge
	for k, f := range []float64{1, 2} {
		m, err := NewMill(g, brittle, Screen{0.002, 0.2, 0.25, 0}, Power{250 * f, 0.02 * f}, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		ends[k] = NewCharge(g)
		ends[k].Held[3] = 0.1 * f
		if err := m.Run(ends[k], 120, nil); err != nil {
			t.Fatal(err)
		}
		for i := range ends[k].Passed {
			ends[k].Passed[i] /= f
		}
	}
	near(t, "passed", ends[1].Passed, ends[0].Passed, 1e-13)
}

// Two runs one after the other are one run.
func TestRunsJoin(t *testing.T) {
	t.Parallel()
	m, one, err := plausible(rand.New(rand.NewPCG(9, 4)), 1e-8)
	if err != nil {
		t.Fatal(err)
	}
	two, mass := copyCharge(one), one.HeldMass()
	if err := m.Run(one, 100, nil); err != nil {
		t.Fatal(err)
	}
	for _, d := range []float64{37, 63} {
		if err := m.Run(two, d, nil); err != nil {
			t.Fatal(err)
		}
	}
	near(t, "passed", two.Passed, one.Passed, 1e-7*mass)
	near(t, "held", two.Held, one.Held, 1e-7*mass)
}

func TestRunToShare(t *testing.T) {
	t.Parallel()
	m, g := benchMill(t, 1e-6)
	c := NewCharge(g)
	if err := AddFeed(g, c.Held, 0.1, 0.06, 0.03, 0.002); err != nil {
		t.Fatal(err)
	}
	again := copyCharge(c)
	time, reached, err := m.RunToShare(c, 0.9, 3600)
	if err != nil || !reached {
		t.Fatalf("after %g s: reached %v, %v", time, reached, err)
	}
	near(t, "share", []float64{c.PassedMass()}, []float64{0.09}, 1e-9)
	if err := m.Run(again, time, nil); err != nil {
		t.Fatal(err)
	}
	near(t, "passed", again.Passed, c.Passed, 1e-7)
	if e, err := c.SpecificEnergy(); err != nil || math.Abs(e-again.Energy/again.PassedMass()) > 1e-3*e {
		t.Errorf("specific energy %g, %v", e, err)
	}
	if time, reached, err = m.RunToShare(c, 0.999, 1); err != nil || reached || time != 1 {
		t.Errorf("one more second: %g s, reached %v, %v", time, reached, err)
	}
}

// The order of the method: halving the step divides the error by about 16.
func TestOrderIsFour(t *testing.T) {
	t.Parallel()
	m, g := benchMill(t, 1e-9)
	end := func(steps int) []float64 {
		c := NewCharge(g)
		c.Held[8], c.Held[20] = 0.06, 0.04
		s := m.begin(c)
		for range steps {
			s.energy, s.then, _ = m.trial(c.Held, s.floor, s.first, 40/float64(steps), s.now.perMass, 0)
			m.take(c, s.first, 40/float64(steps), s.energy)
			s.now = s.then
		}
		return c.Passed
	}
	exact := end(640)
	coarse, fine := distance(end(40), exact), distance(end(80), exact)
	if order := math.Log2(coarse / fine); order < 3.7 || order > 5 {
		t.Errorf("order %.2f: errors %g and %g", order, coarse, fine)
	}
}

// Compensated grinding of coarse feed gives an RRSB product with n = α.
func TestCompensatedIsRRSB(t *testing.T) {
	t.Parallel()
	l, err := compensated()
	if err != nil {
		t.Fatal(err)
	}
	w := []float64{1, 0, 0, 0, 0, 0}
	if err := l.Advance(w, make([]float64, 6), 3); err != nil {
		t.Fatal(err)
	}
	over := 0.0
	for i := range 5 {
		over += w[i]
		x := 4 * root2(-i-1)
		if want := math.Exp(-math.Pow(x/1.247690, 1.3)); math.Abs(over-want) > 1e-6 {
			t.Errorf("oversize at %g mm: %g, RRSB says %g", x, over, want)
		}
	}
}

// Reid's closed form is a second way to the exact solution where rates differ.
func TestReidAgrees(t *testing.T) {
	t.Parallel()
	k := brittle
	l, err := ladder(k.finer, func(i int) float64 { return 0.5 * root2(-i) })
	if err != nil {
		t.Fatal(err)
	}
	w := []float64{0.5, 0.2, 0.1, 0.1, 0.1, 0}
	want := reid(l, w, 4)
	if err := l.Advance(w, make([]float64, 6), 4); err != nil {
		t.Fatal(err)
	}
	near(t, "masses", w, want, 1e-13)
}

// reid sums a_ij exp(−S_j t), a_ij = Σ_k S_k b_ik a_kj/(S_i − S_j); Reid1965.
func reid(l Linear, w0 []float64, t float64) []float64 {
	n := len(w0)
	a := make([][]float64, n)
	w := make([]float64, n)
	for i := range n {
		a[i] = make([]float64, n)
		a[i][i] = w0[i]
		for j := range i {
			for k := j; k < i; k++ {
				a[i][j] += l.Break[k] * l.Debris[i][k] * a[k][j]
			}
			a[i][j] /= l.Break[i] - l.Break[j]
			a[i][i] -= a[i][j]
		}
		for j := range i + 1 {
			w[i] += a[i][j] * math.Exp(-l.Break[j]*t)
		}
	}
	return w
}

// The more classes the nearer random breakage comes to theory.
func TestRandomBreakageConverges(t *testing.T) {
	t.Parallel()
	last := math.Inf(1)
	for _, n := range []int{20, 40, 80, 160} {
		u, err := random(n, 2, even)
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(u - 0.44818084); off > last/3 && off > 1e-8 {
			t.Errorf("%d classes: error %g after %g", n, off, last)
		} else {
			last = off
		}
	}
}

func near(t *testing.T, what string, got, want []float64, tol float64) {
	t.Helper()
	if d := distance(got, want); !(d <= tol) {
		t.Errorf("%s: differs by %g, allowed %g", what, d, tol)
	}
}

func distance(a, b []float64) float64 {
	var d float64
	for i := range a {
		d = max(d, math.Abs(a[i]-b[i]))
	}
	return d
}
