package simplex

// Programs with a name, and what is refused.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
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

// Both ends of what a program may be, and what is said beyond.
func TestProgramsAtTheEdge(t *testing.T) {
	t.Parallel()
	one := func() Program { return Program{Cost: []float64{1}, Lo: []float64{0}, Hi: []float64{1}} }
	for name, c := range map[string]struct{ taken, refused func(p *Program) }{
		"cost":        {func(p *Program) { p.Cost[0] = 1e15 }, func(p *Program) { p.Cost[0] = 1.01e15 }},
		"saving":      {func(p *Program) { p.Cost[0] = -1e15 }, func(p *Program) { p.Cost[0] = -1.01e15 }},
		"upper bound": {func(p *Program) { p.Hi[0] = 1e15 }, func(p *Program) { p.Hi[0] = 1.01e15 }},
		"lower bound": {func(p *Program) { p.Lo[0] = -1e15 }, func(p *Program) { p.Lo[0] = -1.01e15 }},
		"no room":     {func(p *Program) { p.Lo[0] = 1 }, func(p *Program) { p.Lo[0] = 1.1 }},
		"open":        {func(p *Program) { p.Lo[0], p.Hi[0] = -inf, inf }, func(p *Program) { p.Lo[0], p.Hi[0] = -inf, -inf }},
		"rows":        {func(p *Program) { p.Rows = manyRows(2000) }, func(p *Program) { p.Rows = manyRows(2001) }},
		"columns": {func(p *Program) { *p = Program{make([]float64, 1e6), make([]float64, 1e6), make([]float64, 1e6), nil} },
			func(p *Program) {
				*p = Program{make([]float64, 1e6+1), make([]float64, 1e6+1), make([]float64, 1e6+1), nil}
			}},
	} {
		p := one()
		if c.taken(&p); p.check() != nil {
			t.Errorf("%s: refused: %v", name, p.check())
		}
		p = one()
		if c.refused(&p); p.check() == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if err := (Program{}).check(); err == nil || !strings.Contains(err.Error(), "from 1 to 1000000 are") {
		t.Errorf("no columns: %v", err)
	}
	p := one()
	p.Rows = manyRows(1999)
	s, err := New(p)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.AddRow(Row{Coef: []float64{1}, Lo: 0, Hi: 1}); err != nil || s.Rows() != 2000 {
		t.Errorf("row 2000: %v", err)
	}
	if err := s.AddRow(Row{Coef: []float64{1}, Lo: 0, Hi: 1}); err == nil || s.SetRow(1999, Row{Coef: []float64{1}}) != nil || s.SetRow(2000, Row{Coef: []float64{1}}) == nil || s.SetRow(-1, Row{Coef: []float64{1}}) == nil {
		t.Errorf("row 2001: %v", err)
	}
}

func manyRows(n int) []Row {
	all := make([]Row, n)
	for i := range all {
		all[i] = Row{Coef: []float64{1}, Lo: -inf, Hi: inf}
	}
	return all
}

// Rows in any unit: each is scaled by a power of two until its greatest coefficient lies in
// 0.5 to 1, and prices come back in the caller's unit.
func TestRowsInAnyUnit(t *testing.T) {
	t.Parallel()
	for _, unit := range []float64{1e-9, 1e-3, 0.3, 1, 7, 1e6} {
		p := Program{Cost: []float64{2, 3}, Lo: []float64{0, 0}, Hi: []float64{1, 1}, Rows: []Row{{[]float64{unit, unit}, unit, unit}}}
		s, status := solved(t, p)
		if top := s.rows[0][0]; status != Optimal || top < 0.5 || top >= 1 {
			t.Errorf("%g: %v, scaled to %g", unit, status, top)
		}
		// The whole is made of the cheaper; a little more is made of the dearer.
		if got := s.Objective(); got != 2 || math.Abs(s.Price(0)*unit-2) > 1e-9 && math.Abs(s.Price(0)*unit-3) > 1e-9 {
			t.Errorf("%g: cost %g, price %g", unit, got, s.Price(0)*unit)
		}
	}
}

// Pivots are the work on any machine; where a solve starts and which column enters show
// only here. Fewer are better, and are kept by -run AsApproved -update.
func TestWorkIsAsApproved(t *testing.T) {
	t.Parallel()
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round the last digit otherwise")
	}
	var out strings.Builder
	rng := rand.New(rand.NewPCG(9, 9))
	for k := range 12 {
		p := wide(rng, 100+60*k, 2+k)
		for j := range p.Hi { // the later ones hold most columns at 0
			if k%2 == 1 && rng.IntN(4) > 0 {
				p.Hi[j] = 0
			}
			p.Hi[j] *= 1.5
		}
		s, status := solved(t, p)
		fmt.Fprintf(&out, "wide %d %s %d %.9g\n", k, status, s.Pivots(), s.Objective())
		lo, hi := slices.Clone(p.Lo), slices.Clone(p.Hi)
		if j := slices.IndexFunc(s.Values(), func(v float64) bool { return v > 0.01 }); j >= 0 {
			hi[j] = 0 // without the first of those in it
		}
		if err := s.SetBounds(lo, hi); err != nil {
			t.Fatal(err)
		}
		status, err := s.Solve()
		fmt.Fprintf(&out, "on %d %s %d %.9g %v\n", k, status, s.Pivots(), s.Objective(), err)
	}
	pivots := 0
	for k := range 200 {
		p := drawn(rng, k%2 == 0)
		s, _ := solved(t, p)
		pivots += s.Pivots()
	}
	fmt.Fprintf(&out, "drawn %d\n", pivots)
	checkrow.ApprovedText(t, "work", out.String())
}
