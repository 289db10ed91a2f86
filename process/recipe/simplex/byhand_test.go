package simplex

import (
	"math"
	"testing"
)

// What multipliers rule out, added up on paper: by the bounds of the columns y·A x lies in an interval, by
// those of the rows y·s in another; the gap between them is the proof, and 0 proves nothing.
func TestProofsByHand(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		lo, hi []float64
		rows   []Row
		y      []float64
		want   float64
	}{
		"x + y ≥ 3 in the unit square":    {[]float64{0, 0}, []float64{1, 1}, []Row{{[]float64{1, 1}, 3, inf}}, []float64{1}, 1},
		"the other way round":             {[]float64{0, 0}, []float64{1, 1}, []Row{{[]float64{1, 1}, 3, inf}}, []float64{-1}, 1},
		"half as strong":                  {[]float64{0, 0}, []float64{1, 1}, []Row{{[]float64{1, 1}, 3, inf}}, []float64{0.5}, 0.5},
		"x/2 ≤ −1 where x is 0 to 1":      {[]float64{0}, []float64{1}, []Row{{[]float64{0.5}, -inf, -1}}, []float64{1}, 1},
		"−x/2 ≥ 1":                        {[]float64{0}, []float64{1}, []Row{{[]float64{-0.5}, 1, inf}}, []float64{1}, 1},
		"it can be":                       {[]float64{0, 0}, []float64{1, 1}, []Row{{[]float64{1, 1}, 1.5, inf}}, []float64{1}, 0},
		"nobody weighs the row":           {[]float64{0, 0}, []float64{1, 1}, []Row{{[]float64{1, 1}, 3, inf}}, []float64{0}, 0},
		"x + y = 1 and x + y = 3":         {[]float64{-inf, 0}, []float64{inf, inf}, []Row{{[]float64{1, 1}, 1, 1}, {[]float64{1, 1}, 3, 3}}, []float64{1, -1}, 2},
		"and twice the first":             {[]float64{-inf, 0}, []float64{inf, inf}, []Row{{[]float64{1, 1}, 1, 1}, {[]float64{2, 2}, 3, 3}}, []float64{2, -1}, 1},
		"an open column that is weighed":  {[]float64{-inf}, []float64{inf}, []Row{{[]float64{1}, 1, 1}, {[]float64{1}, 3, 3}}, []float64{1, -0.9}, 0},
		"an open bound that is set aside": {[]float64{0}, []float64{1}, []Row{{[]float64{1}, -inf, 3}}, []float64{-1}, 0},
	} {
		p := Program{Cost: make([]float64, len(c.lo)), Lo: c.lo, Hi: c.hi, Rows: c.rows}
		if got := ruledOut(p, c.y); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g is ruled out, wanted %g", name, got, c.want)
		}
		if p.Contradicts(c.y) != (c.want > 0) || p.Contradicts(append(c.y, 0)) {
			t.Errorf("%s: contradicts", name)
		}
	}
}

// Prices and rays are those of the rows as they were written, however a row is scaled inside: of
// 2 x ≥ 4 a unit more costs a half, of 16 x ≥ 32 a sixteenth, of 0.2 x ≥ 0.4 five.
func TestPricesAreOfTheRowAsWritten(t *testing.T) {
	t.Parallel()
	for _, a := range []float64{2, 16, 0.2, 1, 3, 0.5, 1e3} {
		p := Program{Cost: []float64{1, 5}, Lo: []float64{0, 0}, Hi: []float64{10, 10}, Rows: []Row{{[]float64{a, 0}, 2 * a, inf}, {[]float64{0, a}, -inf, 3 * a}}}
		s, status := solved(t, p)
		if status != Optimal || math.Abs(s.Values()[0]-2) > 1e-12 || s.Values()[1] != 0 {
			t.Fatalf("%g: %v, %v", a, status, s.Values())
		}
		if math.Abs(s.Price(0)-1/a) > 1e-12/a || s.Price(1) != 0 || math.Abs(s.Objective()-2) > 1e-12 {
			t.Errorf("%g: prices %g and %g, cost %g", a, s.Price(0), s.Price(1), s.Objective())
		}
		if d := s.Reduced(); math.Abs(d[0]) > 1e-12 || math.Abs(d[1]-5) > 1e-12 {
			t.Errorf("%g: reduced costs %v", a, d)
		}
		p.Rows = append(p.Rows, Row{[]float64{a, 0}, -inf, a})
		if s, status = solved(t, p); status != Infeasible || !p.Contradicts(s.Ray()) {
			t.Errorf("%g: x ≥ 2 and x ≤ 1 is %v", a, status)
		}
	}
}

// Rows come and go between solves, and a former basis starts the next one: by hand, x ≥ 2, then x + y ≥ 5, then
// the first undone.
func TestRowsBetweenSolves(t *testing.T) {
	t.Parallel()
	s, status := solved(t, Program{Cost: []float64{1, 2}, Lo: []float64{0, 0}, Hi: []float64{4, 10}, Rows: []Row{{[]float64{1, 0}, 2, inf}}})
	at := func(x, y, cost float64) {
		t.Helper()
		if v := s.Values(); status != Optimal || math.Abs(v[0]-x) > 1e-12 || math.Abs(v[1]-y) > 1e-12 || math.Abs(s.Objective()-cost) > 1e-12 {
			t.Fatalf("%v at %v of %g, wanted %g, %g of %g", status, v, s.Objective(), x, y, cost)
		}
	}
	again := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if status, err = s.Solve(); err != nil {
			t.Fatal(err)
		}
	}
	at(2, 0, 2)
	first := s.Basis()
	again(s.AddRow(Row{[]float64{1, 1}, 5, inf}))
	at(4, 1, 6)
	if s.Rows() != 2 || len(s.Basis()) != 2 {
		t.Errorf("%d rows, basis %v", s.Rows(), s.Basis())
	}
	s.Restart(first)
	again(nil)
	at(4, 1, 6)
	again(s.SetBounds([]float64{0}, []float64{3}))
	at(3, 2, 7)
	again(s.SetRow(1, Row{[]float64{1, 1}, 1, inf}))
	at(2, 0, 2)
	again(s.SetRow(0, Row{[]float64{1, 0}, -inf, 2}))
	at(1, 0, 1)
	if s.SetRow(-1, Row{[]float64{1, 1}, 0, 1}) == nil || s.SetRow(2, Row{[]float64{1, 1}, 0, 1}) == nil {
		t.Error("a row that is not there is set")
	}
}
