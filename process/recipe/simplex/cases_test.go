package simplex

// Programs with a name, and what is refused.

import (
	"math"
	"testing"
)

var inf = math.Inf(1)

// Beale's program of 1955 (from memory): degenerate at the origin, where the
// primal method with the usual rule goes round for ever. Optimum −1/20.
func TestBeale(t *testing.T) {
	t.Parallel()
	p := Program{
		Cost: []float64{-0.75, 150, -0.02, 6}, Lo: make([]float64, 4), Hi: []float64{inf, inf, inf, inf},
		Rows: []Row{
			{[]float64{0.25, -60, -0.04, 9}, -inf, 0},
			{[]float64{0.5, -90, -0.02, 3}, -inf, 0},
			{[]float64{0, 0, 1, 0}, -inf, 1},
		},
	}
	s, status := solved(t, p)
	proveOptimal(t, p, s)
	if status != Optimal || math.Abs(s.Objective()+0.05) > 1e-12 {
		t.Errorf("%v %v, wanted −1/20", status, s.Objective())
	}
}

// Klee and Minty's twisted cube (from memory): max Σ 2^(n−j) x_j in
// 2 Σ_{k<j} 2^(j−k) x_k + x_j ≤ 5^j, whose optimum is 5^n.
func TestKleeMinty(t *testing.T) {
	t.Parallel()
	const n = 8
	var p Program
	for j := range n {
		p.Cost, p.Lo, p.Hi = append(p.Cost, -math.Ldexp(1, n-1-j)), append(p.Lo, 0), append(p.Hi, inf)
		r := Row{Coef: make([]float64, n), Lo: -inf, Hi: math.Pow(5, float64(j+1))}
		for k := range j {
			r.Coef[k] = math.Ldexp(1, j-k+1)
		}
		r.Coef[j] = 1
		p.Rows = append(p.Rows, r)
	}
	s, status := solved(t, p)
	proveOptimal(t, p, s)
	if status != Optimal || math.Abs(s.Objective()+math.Pow(5, n)) > 1e-6 {
		t.Errorf("%v %v, wanted −5⁸", status, s.Objective())
	}
}

// Equations that say the same thing twice, where a method that wants
// independent rows gives up.
func TestRedundantEquations(t *testing.T) {
	t.Parallel()
	p := Program{
		Cost: []float64{1, 2, 0}, Lo: make([]float64, 3), Hi: []float64{1, 1, 1},
		Rows: []Row{{[]float64{1, 1, 0}, 1, 1}, {[]float64{2, 2, 0}, 2, 2}, {[]float64{1, 1, 0}, 1, 1}, {[]float64{0, 0, 0}, 0, 0}},
	}
	s, status := solved(t, p)
	proveOptimal(t, p, s)
	if status != Optimal || math.Abs(s.Objective()-1) > 1e-12 {
		t.Errorf("%v %v, wanted 1", status, s.Objective())
	}
	p.Rows[1].Lo, p.Rows[1].Hi = 3, 3
	if s, status := solved(t, p); status != Infeasible || !p.Contradicts(s.Ray()) {
		t.Errorf("x + y = 1 and 2x + 2y = 3: %v", status)
	}
}

func TestStatusNames(t *testing.T) {
	t.Parallel()
	for s, want := range map[Status]string{Optimal: "optimal", Infeasible: "infeasible", Unbounded: "unbounded", 7: "status 7"} {
		if s.String() != want {
			t.Errorf("%d is called %q, wanted %q", int(s), s, want)
		}
	}
}

func TestProgramsRefused(t *testing.T) {
	t.Parallel()
	good := func() Program {
		return Program{Cost: []float64{1, 2}, Lo: []float64{0, 0}, Hi: []float64{1, 1}, Rows: []Row{{[]float64{1, 1}, 1, 1}}}
	}
	for name, spoil := range map[string]func(p *Program){
		"no columns":      func(p *Program) { *p = Program{} },
		"short bounds":    func(p *Program) { p.Hi = p.Hi[:1] },
		"NaN cost":        func(p *Program) { p.Cost[0] = math.NaN() },
		"huge cost":       func(p *Program) { p.Cost[0] = 1e16 },
		"NaN bound":       func(p *Program) { p.Lo[0] = math.NaN() },
		"crossed bounds":  func(p *Program) { p.Lo[0] = 2 },
		"lower infinite":  func(p *Program) { p.Lo[0], p.Hi[0] = inf, inf },
		"huge bound":      func(p *Program) { p.Hi[0] = 1e20 },
		"short row":       func(p *Program) { p.Rows[0].Coef = p.Rows[0].Coef[:1] },
		"NaN coefficient": func(p *Program) { p.Rows[0].Coef[1] = math.NaN() },
		"crossed row":     func(p *Program) { p.Rows[0].Lo = 2 },
		"too many rows":   func(p *Program) { p.Rows = make([]Row, maxRows+1) },
	} {
		p := good()
		spoil(&p)
		if _, err := New(p); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	s, _ := solved(t, good())
	for name, err := range map[string]error{
		"row 1":           s.SetRow(1, Row{Coef: []float64{1, 1}}),
		"a short row":     s.SetRow(0, Row{Coef: []float64{1}}),
		"a short new row": s.AddRow(Row{Coef: []float64{1}}),
		"three bounds":    s.SetBounds(make([]float64, 3), make([]float64, 3)),
		"uneven bounds":   s.SetBounds(make([]float64, 2), make([]float64, 1)),
		"crossed bounds":  s.SetBounds([]float64{2}, []float64{1}),
		"NaN bounds":      s.SetBounds([]float64{math.NaN()}, []float64{1}),
	} {
		if err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if good().Contradicts([]float64{1}) || good().Contradicts([]float64{1, 2}) {
		t.Error("a program with a solution is called contradictory")
	}
}
