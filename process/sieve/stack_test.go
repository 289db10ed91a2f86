package sieve

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// bench is a stack someone would own.
func bench() []Sieve {
	var s []Sieve
	for _, d := range []string{"4 mm", "2.8 mm", "2 mm", "1.4 mm", "1 mm", "500 µm", "250 µm"} {
		one, _ := ByDesignation(d)
		s = append(s, one)
	}
	return s
}

func codes(w []Code) map[Code]bool {
	all := map[Code]bool{}
	for _, one := range w {
		all[one] = true
	}
	return all
}

func TestWeighRefusesWithCodeAndRow(t *testing.T) {
	t.Parallel()
	ok := []float64{0, 0.001, 0.02, 0.04, 0.03, 0.02, 0.01, 0.004}
	with := func(row int, v float64) []float64 {
		out := append([]float64{}, ok...)
		out[row] = v
		return out
	}
	swapped := bench()
	swapped[2], swapped[3] = swapped[3], swapped[2]
	double := bench()
	double[3] = double[2]
	tared := portion(0.125, ok)
	tared.Rows[4] = Row{Mass: 0.29, Tare: 0.3}
	for name, c := range map[string]struct {
		stack Stack
		code  Code
		row   int
	}{
		"wrong order":       {Stack{Sieves: swapped, Portions: []Portion{portion(0.125, ok)}}, WrongOrder, 4},
		"twice":             {Stack{Sieves: double, Portions: []Portion{portion(0.125, ok)}}, SameSieve, 4},
		"negative":          {Stack{Sieves: bench(), Portions: []Portion{portion(0.125, with(2, -0.001))}}, NegativeMass, 3},
		"less than tare":    {Stack{Sieves: bench(), Portions: []Portion{tared}}, NegativeMass, 5},
		"NaN":               {Stack{Sieves: bench(), Portions: []Portion{portion(0.125, with(7, math.NaN()))}}, NotANumber, 8},
		"infinite":          {Stack{Sieves: bench(), Portions: []Portion{portion(0.125, with(0, math.Inf(1)))}}, NotANumber, 1},
		"all empty":         {Stack{Sieves: bench(), Portions: []Portion{portion(0.125, make([]float64, 8))}}, AllEmpty, 0},
		"pan missing":       {Stack{Sieves: bench(), Portions: []Portion{portion(0.125, ok[:7])}}, WrongNumber, 0},
		"no sieve":          {Stack{Portions: []Portion{portion(0.1, []float64{0.1})}}, TooFew, 0},
		"nothing weighed":   {Stack{Sieves: bench()}, WrongNumber, 0},
		"negative charge":   {Stack{Sieves: bench(), Portions: []Portion{portion(-1, ok)}}, NotANumber, 0},
		"NaN charge":        {Stack{Sieves: bench(), Portions: []Portion{portion(math.NaN(), ok)}}, NotANumber, 0},
		"NaN opening":       {Stack{Sieves: []Sieve{{Opening: math.NaN()}}, Portions: []Portion{portion(0.1, []float64{0.1, 0})}}, NotANumber, 1},
		"allowance of 500%": {Stack{Sieves: bench(), Portions: []Portion{portion(0.125, ok)}, Allowance: Allowance{Share: 5}}, NotANumber, 0},
	} {
		_, err := Weigh(c.stack)
		var refused *EntryError
		if !errors.As(err, &refused) || refused.Code != c.code || refused.Row != c.row || refused.Error() == "" {
			t.Errorf("%s: got %v, wanted %q in row %d", name, err, c.code, c.row)
		}
	}
}

func TestWeighWarns(t *testing.T) {
	t.Parallel()
	weigh := func(charge float64, sieves []Sieve, net ...float64) Analysis {
		a, err := Weigh(Stack{Sieves: sieves, Portions: []Portion{portion(charge, net)}})
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	good := []float64{0, 0.001, 0.02, 0.04, 0.03, 0.02, 0.01, 0.004}
	if a := weigh(0.1251, bench(), good...); len(a.Warnings) != 0 || !a.Closes || len(a.Doubts) != 0 {
		t.Errorf("a sound stack: %+v", a)
	}
	if a := weigh(0.130, bench(), good...); !codes(a.Warnings)[Loss] || a.Closes {
		t.Errorf("5 g missing: %+v", a)
	}
	if a := weigh(0.124, bench(), good...); !codes(a.Warnings)[Gain] || a.Closes || a.Loss >= 0 {
		t.Errorf("1 g too much: %+v", a)
	}
	if a := weigh(0, bench(), good...); !codes(a.Warnings)[ChargeUnknown] || a.Closes || a.Loss != 0 {
		t.Errorf("no charge: %+v", a)
	}
	if a := weigh(0.125, bench(), 0.02, 0.01, 0.02, 0.02, 0.02, 0.01, 0.005, 0.02); !codes(a.Warnings)[CoarseTop] || !codes(a.Warnings)[FullPan] {
		t.Errorf("open ends: %+v", a.Warnings)
	}
	mixed := bench()
	mixed[0].Form = PlateRound
	if a := weigh(0.125, mixed, good...); !codes(a.Warnings)[MixedForms] {
		t.Errorf("round and square: %+v", a.Warnings)
	}
	if a := weigh(0.06, []Sieve{bench()[0], bench()[4]}, 0.001, 0.057, 0.002); !codes(a.Warnings)[WideStep] {
		t.Errorf("4 mm to 1 mm: %+v", a.Warnings)
	}
}

// Sieves weighed with what lay on them and entered as net.
func TestForgottenTareIsAskedAbout(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 9))
	for range 300 {
		net := make([]float64, 8)
		sum := 0.0
		for i := range net {
			net[i] = 0.02 * rng.ExpFloat64()
			sum += net[i]
		}
		tare := 0.08 + 0.4*rng.Float64()
		gross := make([]float64, 8)
		for i := range net {
			gross[i] = net[i] + tare*(1+0.05*rng.NormFloat64())
		}
		a, err := Weigh(Stack{Sieves: bench(), Portions: []Portion{portion(sum, net)}})
		if err != nil || len(a.Doubts) != 0 {
			t.Fatalf("a sound stack is doubted: %v, %v", a.Doubts, err)
		}
		a, err = Weigh(Stack{Sieves: bench(), Portions: []Portion{portion(sum, net), portion(sum, gross)}})
		if err != nil || len(a.Doubts) != 1 {
			t.Fatalf("tare %g: %v, %v", tare, a.Doubts, err)
		}
		d := a.Doubts[0]
		if d.Code != TareForgotten || d.Portion != 2 || d.Rows != 8 || math.Abs(d.Value/tare-1) > 0.1 {
			t.Errorf("tare %g: %+v", tare, d)
		}
	}
	one := []float64{0, 0.001, 0.02, 0.34, 0.03, 0.02, 0.01, 0.004}
	a, err := Weigh(Stack{Sieves: bench(), Portions: []Portion{portion(0.125, one)}})
	if err != nil || len(a.Doubts) != 1 || a.Doubts[0].Rows != 1 || math.Abs(a.Doubts[0].Value-0.3) > 1e-9 {
		t.Errorf("one sieve of 300 g: %+v, %v", a.Doubts, err)
	}
}

func TestOpenClassesAreSaid(t *testing.T) {
	t.Parallel()
	a, err := Weigh(Stack{Sieves: bench(), Portions: []Portion{portion(0.1, []float64{0.012, 0.018, 0.02, 0.01, 0.01, 0.01, 0.008, 0.012})}})
	if err != nil {
		t.Fatal(err)
	}
	d, err := a.Distribution(Bounds{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Describe(d)
	if err != nil {
		t.Fatal(err)
	}
	if s.D10.Side != "below" || s.D10.Value != 250e-6 || s.D90.Side != "above" || s.D90.Value != 4e-3 || s.Span.Known || !s.D50.Known() {
		t.Errorf("got %+v", s)
	}
	var beyond *BeyondError
	if _, err := MeanDiameter(d, 3, 2); !errors.As(err, &beyond) || beyond.Side != "below" || beyond.Error() == "" {
		t.Errorf("Sauter mean with an open pan: %v", err)
	}
	if d, err = d.Within(Bounds{Floor: 60e-6, Ceiling: 6e-3}); err != nil {
		t.Fatal(err)
	}
	if s, err = Describe(d); err != nil || !s.Span.Known || s.D10.Value >= 250e-6 || s.D90.Value <= 4e-3 {
		t.Errorf("with bounds: %+v, %v", s, err)
	}
	if _, err := MeanDiameter(d, 3, 2); err != nil {
		t.Error(err)
	}
	for _, b := range []Bounds{{Floor: 300e-6}, {Floor: -1}, {Ceiling: 3e-3}, {Ceiling: math.NaN()}, {Floor: math.NaN()}} {
		if _, err := a.Distribution(b); err == nil {
			t.Errorf("bounds %+v are taken", b)
		}
	}
}

func TestPoolRefuses(t *testing.T) {
	t.Parallel()
	one, err := Weigh(Stack{Sieves: bench()[:2], Portions: []Portion{portion(0, []float64{0.1, 0.1, 0.1})}})
	if err != nil {
		t.Fatal(err)
	}
	other, err := Weigh(Stack{Sieves: bench()[1:3], Portions: []Portion{portion(0, []float64{0.1, 0.1, 0.1})}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Pool(one); err == nil {
		t.Error("one analysis is pooled")
	}
	if _, err := Pool(one, other); err == nil {
		t.Error("different stacks are pooled")
	}
}

// Between retained, passing and the distribution nothing is lost, whatever the masses.
func TestStacksKeepTheirMass(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 4))
	for range 500 {
		net := make([]float64, 8)
		for i := range net {
			if rng.IntN(3) > 0 {
				net[i] = math.Exp(-4 + 2*rng.NormFloat64())
			}
		}
		a, err := Weigh(Stack{Sieves: bench(), Portions: []Portion{portion(0, net)}})
		if total(net) == 0 {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Recovered-total(net)) > 1e-12 || math.Abs(a.Passing[0]*a.Recovered+net[0]-a.Recovered) > 1e-12 {
			t.Fatalf("mass is lost: %+v", a)
		}
		d, err := a.Distribution(Bounds{})
		if err != nil {
			t.Fatal(err)
		}
		last := 0.0
		for i := len(a.Sieves) - 1; i >= 0; i-- {
			q, err := d.Cumulative(a.Sieves[i].Opening)
			if err != nil || q != a.Passing[i] || q < last || q > 1 {
				t.Fatalf("passing %g, distribution %g, %v", a.Passing[i], q, err)
			}
			last = q
		}
	}
}
