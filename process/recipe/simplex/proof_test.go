package simplex

// Every answer carries its own proof, which these tests check without the
// solver: an optimum by the conditions of optimality, "infeasible" by the
// multipliers, "unbounded" by a way to fall for ever.

import (
	"math"
	"math/rand/v2"
	"testing"
)

// prove holds the solver's answer to a program against its proof.
func prove(t *testing.T, p Program, s *Solver, status Status) {
	t.Helper()
	switch status {
	case Optimal:
		proveOptimal(t, p, s)
	case Infeasible:
		if y := s.Ray(); ruledOut(p, y) < 1e-10 {
			t.Errorf("infeasible without proof: ray %v rules out by %g", y, ruledOut(p, y))
		}
	}
}

func proveOptimal(t *testing.T, p Program, s *Solver) {
	t.Helper()
	x := s.Values()
	var cost, dual float64
	for j, c := range p.Cost {
		cost += c * x[j]
		within(t, "column", x[j], p.Lo[j], p.Hi[j])
		d := c
		for i, r := range p.Rows {
			d -= s.Price(i) * r.Coef[j]
		}
		if math.Abs(d-s.Reduced()[j]) > 1e-7 {
			t.Errorf("column %d: reduced cost %g, by the prices %g", j, s.Reduced()[j], d)
		}
		dual += atBest(t, d, p.Lo[j], p.Hi[j])
	}
	for i, r := range p.Rows {
		var a float64
		for j, v := range r.Coef {
			a += v * x[j]
		}
		within(t, "row", a, r.Lo, r.Hi)
		dual += atBest(t, s.Price(i), r.Lo, r.Hi)
	}
	if off := math.Abs(cost - dual); off > 1e-6*(1+math.Abs(cost)) {
		t.Errorf("cost %.12g, but the prices prove only %.12g", cost, dual)
	}
}

// atBest is the least d·v for v between lo and hi.
func atBest(t *testing.T, d, lo, hi float64) float64 {
	t.Helper()
	if math.Abs(d) < 1e-8 {
		return 0
	}
	if d < 0 {
		lo = hi
	}
	if math.IsInf(lo, 0) {
		t.Errorf("price %g pulls to an open side", d)
		return 0
	}
	return d * lo
}

func within(t *testing.T, what string, v, lo, hi float64) {
	t.Helper()
	if v < lo-1e-7*(1+math.Abs(lo)) || v > hi+1e-7*(1+math.Abs(hi)) {
		t.Errorf("%s value %g is outside %g to %g", what, v, lo, hi)
	}
}

// drawn makes a program of small whole numbers, so that ties, repeated rows and
// degenerate corners are common. Open sides come when open is set.
func drawn(rng *rand.Rand, open bool) Program {
	n, m := 1+rng.IntN(8), rng.IntN(6)
	p := Program{Cost: make([]float64, n), Lo: make([]float64, n), Hi: make([]float64, n)}
	small := func() float64 { return float64(rng.IntN(7) - 3) }
	for j := range n {
		p.Cost[j] = small()
		p.Lo[j], p.Hi[j] = small(), 0
		p.Hi[j] = p.Lo[j] + float64(rng.IntN(5))
		if open && rng.IntN(3) == 0 {
			p.Lo[j] = math.Inf(-1)
		}
		if open && rng.IntN(2) == 0 {
			p.Hi[j] = math.Inf(1)
		}
	}
	for i := range m {
		r := Row{Coef: make([]float64, n), Lo: small() * 2}
		for j := range n {
			r.Coef[j] = small()
		}
		if i > 0 && rng.IntN(4) == 0 {
			for j := range n {
				r.Coef[j] = 2 * p.Rows[0].Coef[j]
			}
		}
		r.Hi = r.Lo + float64(rng.IntN(4))*2
		switch rng.IntN(4) {
		case 0:
			r.Lo = math.Inf(-1)
		case 1:
			r.Hi = math.Inf(1)
		}
		p.Rows = append(p.Rows, r)
	}
	return p
}

func solved(t *testing.T, p Program) (*Solver, Status) {
	t.Helper()
	s, err := New(p)
	if err != nil {
		t.Fatal(err)
	}
	status, err := s.Solve()
	if err != nil {
		t.Fatalf("%d columns, %d rows: %v", len(p.Cost), len(p.Rows), err)
	}
	return s, status
}

func TestEveryAnswerHasItsProof(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 9))
	var seen [3]int
	for k := range 6000 {
		p := drawn(rng, k%3 == 0)
		s, status := solved(t, p)
		seen[status]++
		prove(t, p, s, status)
		if status == Unbounded {
			proveUnbounded(t, p)
		}
		if t.Failed() {
			t.Fatalf("case %d %v: %+v", k, status, p)
		}
	}
	for status, n := range seen {
		if n < 100 {
			t.Errorf("only %d cases are %v", n, Status(status))
		}
	}
}

// proveUnbounded shows that a wide enough box lets the cost fall below any
// bound: twice the box, at least half as much more.
func proveUnbounded(t *testing.T, p Program) {
	t.Helper()
	var cost [2]float64
	for k, box := range []float64{1e4, 2e4} {
		b := Program{Cost: p.Cost, Rows: p.Rows}
		for j := range p.Cost {
			b.Lo, b.Hi = append(b.Lo, max(p.Lo[j], -box)), append(b.Hi, min(p.Hi[j], box))
		}
		s, status := solved(t, b)
		if status != Optimal {
			t.Fatalf("in a box of %g: %v", box, status)
		}
		proveOptimal(t, b, s)
		cost[k] = s.Objective()
	}
	if cost[1] > cost[0]-500 {
		t.Errorf("called unbounded, but the cost is %g in a box and %g in one twice as wide", cost[0], cost[1])
	}
}

// A solver that is changed and goes on from its basis ends where a new one does.
func TestGoingOnIsStartingAfresh(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 1))
	for k := range 800 {
		p := drawn(rng, false)
		s, _ := solved(t, p)
		old := s.Basis()
		for range 4 {
			j := rng.IntN(len(p.Cost))
			p.Lo[j] = float64(rng.IntN(5) - 3)
			p.Hi[j] = p.Lo[j] + float64(rng.IntN(3))
			if err := s.SetBounds(p.Lo, p.Hi); err != nil {
				t.Fatal(err)
			}
			extra := drawnRow(rng, len(p.Cost))
			var err error
			if i := len(p.Rows) - 1; i >= 0 && rng.IntN(2) == 0 {
				p.Rows[i] = extra
				err = s.SetRow(i, extra)
			} else {
				p.Rows = append(p.Rows, extra)
				err = s.AddRow(extra)
			}
			if err != nil {
				t.Fatal(err)
			}
			if rng.IntN(2) == 0 {
				s.Restart(old)
			}
			status, err := s.Solve()
			if err != nil {
				t.Fatal(err)
			}
			prove(t, p, s, status)
			if afresh, want := solved(t, p); status != want || status == Optimal && math.Abs(s.Objective()-afresh.Objective()) > 1e-7 {
				t.Fatalf("case %d: going on %v %g, afresh %v %g", k, status, s.Objective(), want, afresh.Objective())
			}
		}
		if t.Failed() {
			t.Fatalf("case %d: %+v", k, p)
		}
	}
}

func drawnRow(rng *rand.Rand, n int) Row {
	r := Row{Coef: make([]float64, n), Lo: math.Inf(-1), Hi: float64(rng.IntN(9) - 2)}
	for j := range n {
		r.Coef[j] = float64(rng.IntN(5) - 2)
	}
	return r
}

// Many columns, real numbers, ties by copying: the accuracy holds over many pivots.
func TestManyColumns(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(7, 2))
	for range 6 {
		p := wide(rng, 1500, 12)
		s, status := solved(t, p)
		if status != Optimal {
			t.Fatalf("ended %v", status)
		}
		proveOptimal(t, p, s)
	}
}

// wide is a blend of n lots under m limits that cut off about half of them.
func wide(rng *rand.Rand, n, m int) Program {
	p := Program{Cost: make([]float64, n), Lo: make([]float64, n), Hi: make([]float64, n)}
	whole := Row{Coef: make([]float64, n), Lo: 1, Hi: 1}
	for j := range n {
		p.Cost[j], p.Hi[j] = math.Round(50*rng.Float64())/10-2, 0.02+0.05*rng.Float64()
		whole.Coef[j] = 1
	}
	p.Rows = append(p.Rows, whole)
	for range m {
		r := Row{Coef: make([]float64, n), Lo: math.Inf(-1), Hi: 0.5}
		for j := range n {
			r.Coef[j] = math.Round(20*rng.Float64()) / 20
		}
		p.Rows = append(p.Rows, r)
	}
	return p
}

func BenchmarkSolve1000(b *testing.B) {
	p := wide(rand.New(rand.NewPCG(7, 2)), 1000, 8)
	for b.Loop() {
		s, err := New(p)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := s.Solve(); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(s.Pivots()), "pivots")
	}
}

// Most columns held at 0, as deep in a search: the packed program ends where
// the whole one does, with the same proof, and goes on from its basis.
func TestColumnsHeldAtZero(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 3))
	var seen [3]int
	for k := range 60 {
		p := wide(rng, 60+rng.IntN(100), 1+rng.IntN(6))
		for j := range p.Hi {
			p.Hi[j] = 0.1 + 0.4*rng.Float64()
		}
		s, _ := solved(t, p)
		hi := append([]float64(nil), p.Hi...)
		for range 6 {
			for j := range p.Hi {
				p.Hi[j] = 0
				if rng.IntN(10) == 0 {
					p.Hi[j] = hi[j]
				}
			}
			if err := s.SetBounds(p.Lo, p.Hi); err != nil {
				t.Fatal(err)
			}
			status, err := s.Solve()
			if err != nil {
				t.Fatal(err)
			}
			seen[status]++
			prove(t, p, s, status)
			afresh, err := New(p)
			if err != nil {
				t.Fatal(err)
			}
			afresh.refresh()
			if want, err := afresh.run(); err == nil && status == Optimal && (want != status || math.Abs(afresh.Objective()-s.Objective()) > 1e-7) {
				t.Fatalf("case %d: packed %v %g, whole %v %g", k, status, s.Objective(), want, afresh.Objective())
			}
		}
	}
	if seen[Optimal] < 50 || seen[Infeasible] < 50 {
		t.Errorf("%v cases by status: too few of a kind", seen)
	}
}
