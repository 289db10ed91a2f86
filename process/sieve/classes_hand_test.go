package sieve

// Stacks and classes by hand, both sides of each bound, and what is said of a stack word by word.

import (
	"math"
	"slices"
	"testing"
)

// Three classes: 0.2 in the pan below 1 mm, 0.5 to 4 mm, 0.2 to 8 mm, a tenth above. Between edges the share rises with the logarithm.
func TestClassesByHand(t *testing.T) {
	t.Parallel()
	d := Discrete{edges: []float64{1e-3, 4e-3, 8e-3}, passing: []float64{0.2, 0.7, 0.9}}
	get := must(t)
	for x, want := range map[float64]float64{1e-3: 0.2, 2e-3: 0.45, 4e-3: 0.7, 4e-3 * math.Sqrt2: 0.8, 8e-3: 0.9} {
		near(t, "share", get(d.Cumulative(x)), want, 1e-12)
		near(t, "size", get(d.Quantile(want)), x, 1e-12)
	}
	for x, want := range map[float64]float64{1e-3: 0.5 / math.Log(4) / 1e-3, 2e-3: 0.5 / math.Log(4) / 2e-3, 4e-3: 0.2 / math.Ln2 / 4e-3, 5e-3: 0.2 / math.Ln2 / 5e-3, 8e-3: 0} {
		near(t, "slope", get(d.Density(x)), want, 1e-12)
	}
	beyond := func(what string, err error, side string, edge, held float64) {
		t.Helper()
		b, ok := err.(*BeyondError)
		if !ok || b.Side != side || b.Edge != edge || math.Abs(b.Held-held) > 1e-12 {
			t.Errorf("%s: %v", what, err)
		}
	}
	for what, x := range map[string]float64{"a size in the pan": 0.999e-3, "a tiny one": 1e-9} {
		_, err := d.Cumulative(x)
		beyond(what, err, "below", 1e-3, 0.2)
		_, err = d.Density(x)
		beyond(what, err, "below", 1e-3, 0.2)
	}
	_, err := d.Cumulative(8.001e-3)
	beyond("a size above", err, "above", 8e-3, 0.1)
	_, err = d.Quantile(0.199)
	beyond("a share of the pan", err, "below", 1e-3, 0.2)
	_, err = d.Quantile(0.901)
	beyond("a share above", err, "above", 8e-3, 0.1)
	_, err = d.Moment(1)
	beyond("a mean with an open pan", err, "below", 1e-3, 0.2)
	whole, err := d.Within(Bounds{Floor: 0.5e-3, Ceiling: 16e-3})
	if err != nil {
		t.Fatal(err)
	}
	// The mean of 1/x over a class is (1/lo − 1/hi)/ln(hi/lo), that of x (hi − lo)/ln(hi/lo).
	inverse := 0.2*(2-1)/math.Ln2 + 0.5*(1-0.25)/math.Log(4) + 0.2*(0.25-0.125)/math.Ln2 + 0.1*(0.125-0.0625)/math.Ln2
	mean := 0.2*0.5/math.Ln2 + 0.5*3/math.Log(4) + 0.2*4/math.Ln2 + 0.1*8/math.Ln2
	near(t, "mean of 1/x", get(whole.Moment(-1)), inverse*1e3, 1e-12)
	near(t, "mean of x", get(whole.Moment(1)), mean*1e-3, 1e-12)
	near(t, "mean of 1", get(whole.Moment(0)), 1, 1e-12)
	near(t, "Sauter mean", get(MeanDiameter(whole, 3, 2)), 1e-3/inverse, 1e-12)
	near(t, "mass mean", get(MeanDiameter(whole, 4, 3)), mean*1e-3, 1e-12)
	near(t, "nothing below the floor", get(whole.Cumulative(0.4e-3)), 0, 0)
	near(t, "all below the ceiling", get(whole.Cumulative(17e-3)), 1, 0)
	near(t, "no slope below", get(whole.Density(0.4e-3)), 0, 0)
	near(t, "no slope above", get(whole.Density(17e-3)), 0, 0)
	lower, err := d.Within(Bounds{Floor: 0.5e-3})
	if err != nil {
		t.Fatal(err)
	}
	_, err = lower.Moment(1)
	beyond("a mean with an open top", err, "above", 8e-3, 0.1)
	for _, c := range []struct {
		b  Bounds
		ok bool
	}{
		{Bounds{Floor: 1e-9}, true}, {Bounds{Floor: 0.99e-9}, false}, {Bounds{Floor: 1e-3 * (1 - 2e-9)}, true}, {Bounds{Floor: 1e-3}, false},
		{Bounds{Ceiling: 8e-3}, false}, {Bounds{Ceiling: 8e-3 * (1 + 2e-9)}, true}, {Bounds{Ceiling: 8e3}, true}, {Bounds{Ceiling: 8.01e3}, false},
	} {
		if _, err := d.Within(c.b); (err == nil) != c.ok {
			t.Errorf("within %+v: %v", c.b, err)
		}
	}
}

// The mean of the surface between the ends the pan may have: a quarter of the finest opening, a sixteenth, a root of a half; the
// top class reaches a root of two further.
func TestSauterRangeByHand(t *testing.T) {
	t.Parallel()
	r, err := SauterRange(Discrete{edges: []float64{1, 4}, passing: []float64{0.3, 0.8}})
	if err != nil {
		t.Fatal(err)
	}
	at := func(floor float64) float64 {
		return 1 / (0.3*(1/floor-1)/-math.Log(floor) + 0.5*0.75/math.Log(4) + 0.2*(0.25-0.25/math.Sqrt2)/math.Log(math.Sqrt2))
	}
	near(t, "value", r.Value, at(0.25), 1e-12)
	near(t, "low", r.Low, at(1.0/16), 1e-12)
	near(t, "high", r.High, at(1/math.Sqrt2), 1e-12)
	closed, err := SauterRange(Discrete{edges: []float64{1, 4}, passing: []float64{0, 1}})
	if err != nil || closed.Low != closed.High {
		t.Errorf("%+v %v", closed, err)
	}
	near(t, "closed", closed.Value, math.Log(4)/0.75, 1e-12)
}

func errOf[T any](_ T, err error) error { return err }

// What one or two sieves say: through one the three uniformities, through two the three laws, each through both points.
func TestSimpleSizesByHand(t *testing.T) {
	t.Parallel()
	stack := func(openings, net []float64) Analysis {
		a, err := Weigh(Stack{Sieves: sieves(openings), Portions: []Portion{portion(0, net)}})
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	one := func(x, q, p float64) Range {
		at := func(n float64) float64 { return x * math.Pow(math.Log(1-p)/math.Log(1-q), 1/n) }
		return Range{at(1.5), math.Min(at(0.8), at(3)), math.Max(at(0.8), at(3))}
	}
	hold := func(what string, got Range, err error, want Range) {
		t.Helper()
		if err != nil {
			t.Error(what, err)
		}
		near(t, what, got.Value, want.Value, 1e-9)
		near(t, what+", low", got.Low, want.Low, 1e-9)
		near(t, what+", high", got.High, want.High, 1e-9)
	}
	for _, p := range []float64{0.1, 0.5, 0.9} {
		r, err := SimpleSize(stack([]float64{2e-3}, []float64{0.6, 0.4}), p)
		hold("one sieve", r, err, one(2e-3, 0.4, p))
		r, err = SimpleSize(stack([]float64{4e-3, 2e-3}, []float64{0, 0.6, 0.4}), p) // nothing on the coarse one
		hold("one of two parts", r, err, one(2e-3, 0.4, p))
		r, err = SimpleSize(stack([]float64{4e-3, 2e-3}, []float64{0.6, 0.4, 0}), p)
		hold("the other parts", r, err, one(4e-3, 0.4, p))
		r, err = SimpleSize(stack([]float64{4e-3, 2e-3}, []float64{0.6, 0, 0.4}), p) // two that part alike
		hold("both part alike", r, err, one(4e-3, 0.4, p))
		r, err = SimpleSize(stack([]float64{4e-3, 2e-3}, []float64{0.3, 0.4, 0.3}), p)
		z := func(q float64) float64 { return math.Log(-math.Log(1 - q)) }
		phi := func(q float64) float64 { return math.Sqrt2 * math.Erfinv(2*q-1) }
		through := func(y func(float64) float64) float64 { // the straightened share is a line over ln x
			return 4e-3 * math.Exp((y(p)-y(0.7))*math.Ln2/(y(0.7)-y(0.3)))
		}
		rrsb, ggs, normal := through(z), math.Min(through(math.Log), 4e-3*math.Exp(-math.Log(0.7)*math.Ln2/math.Log(0.7/0.3))), through(phi)
		hold("two sieves", r, err, Range{rrsb, math.Min(rrsb, math.Min(ggs, normal)), math.Max(rrsb, math.Max(ggs, normal))})
	}
	for what, err := range map[string]error{
		"3 sieves are no simple test; take the size from the distribution":                        errOf(SimpleSize(stack([]float64{4, 2, 1}, []float64{1, 1, 1, 1}), 0.5)),
		"all of the sample is on one side of each sieve; take a sieve that holds back part of it": errOf(SimpleSize(stack([]float64{2}, []float64{0, 1}), 0.5)),
	} {
		if err == nil || err.Error() != what {
			t.Errorf("%v, wanted %s", err, what)
		}
	}
}

// Three samples taken together: masses add, each counts once in the spread; without the charge of every one the loss is not known.
func TestPoolByHand(t *testing.T) {
	t.Parallel()
	var all []Analysis
	for _, net := range [][]float64{{0.02, 0.08}, {0.03, 0.07}, {0.14, 0.06}} {
		a, err := Weigh(Stack{Sieves: sieves([]float64{2e-3}), Portions: []Portion{portion(net[0]+net[1]+0.001, net)}, Allowance: EN933})
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, a)
	}
	p, err := Pool(all...)
	if err != nil || p.Samples != 3 || p.Allowance != EN933 {
		t.Fatalf("%+v %v", p, err)
	}
	near(t, "on the sieve", p.Retained[0], 0.19, 1e-12)
	near(t, "in the pan", p.Retained[1], 0.21, 1e-12)
	near(t, "passing", p.Passing[0], 0.21/0.4, 1e-12)
	near(t, "spread", p.Spread[0], math.Sqrt((0.04+0.01+0.09)/2), 1e-12) // 0.8, 0.7 and 0.3 about 0.6
	near(t, "charge", p.Charge, 0.403, 1e-12)
	near(t, "loss", p.LossShare, 0.003/0.403, 1e-9)
	all[1].Charge = 0
	if p, err = Pool(all...); err != nil || p.Charge != 0 || p.Loss != 0 || p.Closes {
		t.Errorf("one charge not weighed: %+v %v", p, err)
	}
	other := all[2]
	other.Sieves = sieves([]float64{2.1e-3})
	for what, err := range map[string]error{
		"portion 3, the stack differs from the first one; pool only analyses on the same sieves": errOf(Pool(all[0], all[1], other)),
		"one analysis is no repetition; sieve a second sample":                                   errOf(Pool(all[0])),
	} {
		if err == nil || err.Error() != what {
			t.Errorf("%v, wanted %s", err, what)
		}
	}
}

// What is said of a stack, word by word, at either side of what makes it said: 5 % on the top sieve or in the pan, openings apart
// by 2.1, forms mixed, a loss or gain beyond the allowance; what is missing as dust.
func TestWhatIsSaidOfAStack(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		openings, net []float64
		charge        float64
		round         int
		warned        []Code
	}{
		{[]float64{2e-3, 1e-3}, []float64{0.005, 0.090, 0.005}, 0.1, -1, nil},
		{[]float64{2e-3, 1e-3}, []float64{0.0051, 0.0899, 0.005}, 0.1, -1, []Code{CoarseTop}},
		{[]float64{2e-3, 1e-3}, []float64{0.005, 0.0899, 0.0051}, 0.1, -1, []Code{FullPan}},
		{[]float64{2.09e-3, 1e-3}, []float64{0.001, 0.098, 0.001}, 0.1, -1, nil},
		{[]float64{2.11e-3, 1e-3}, []float64{0.001, 0.098, 0.001}, 0.1, -1, []Code{WideStep}},
		{[]float64{2e-3, 1e-3}, []float64{0.001, 0.098, 0.001}, 0.1, 0, []Code{MixedForms}},
		{[]float64{2e-3, 1e-3}, []float64{0.001, 0.098, 0.001}, 0.1, 1, []Code{MixedForms}},
		{[]float64{2e-3}, []float64{0.001, 0.001}, 0, -1, []Code{ChargeUnknown, CoarseTop, FullPan}},
		{[]float64{2e-3, 1e-3}, []float64{0.001, 0.09575, 0.003}, 0.1, -1, nil},
		{[]float64{2e-3, 1e-3}, []float64{0.001, 0.0956, 0.003}, 0.1, -1, []Code{Loss}},
		{[]float64{2e-3, 1e-3}, []float64{0.001, 0.09625, 0.003}, 0.1, -1, nil},
		{[]float64{2e-3, 1e-3}, []float64{0.001, 0.0964, 0.003}, 0.1, -1, []Code{Gain}},
	} {
		s := Stack{Sieves: sieves(c.openings), Portions: []Portion{portion(c.charge, c.net)}}
		if c.round >= 0 {
			s.Sieves[c.round].Form = PlateRound
		}
		a, err := Weigh(s)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(a.Warnings, c.warned) {
			t.Errorf("%v on %v: %v, wanted %v", c.net, c.openings, a.Warnings, c.warned)
		}
	}
	a, err := Weigh(Stack{Sieves: sieves([]float64{2e-3, 1e-3}), Portions: []Portion{portion(0.11, []float64{0.05, 0.03, 0.02})}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0.06 / 0.11, 0.03 / 0.11} { // 10 g were lost, as dust
		near(t, "as dust", a.PassingIfLostAsDust()[i], want, 1e-9)
	}
	a.Loss = -0.01
	for i, want := range []float64{0.5, 0.2} {
		near(t, "without a loss", a.PassingIfLostAsDust()[i], want, 1e-9)
	}
}

// Refusals word by word, and the most of everything.
func TestRefusalsOfAStack(t *testing.T) {
	t.Parallel()
	weigh := func(s Stack) error { return errOf(Weigh(s)) }
	ok, sieve := portion(0, []float64{0.1, 0.1}), sieves([]float64{2e-3})
	many := func(n int) (s Stack) {
		for i := range n {
			s.Sieves = append(s.Sieves, Sieve{Opening: 1 / float64(i+1), Form: Woven})
		}
		s.Portions = []Portion{{Rows: make([]Row, n+1)}}
		s.Portions[0].Rows[0].Mass = 0.1
		return s
	}
	portions := func(n int) Stack {
		s := Stack{Sieves: sieve}
		for range n {
			s.Portions = append(s.Portions, ok)
		}
		return s
	}
	for _, c := range []struct {
		err  error
		said string
	}{
		{weigh(many(100)), ""}, {weigh(many(101)), "101 sieves are more than 100"}, {weigh(portions(1000)), ""}, {weigh(portions(1001)), "1001 portions are more than 1000"},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{portion(0, []float64{1000, 1})}}), ""},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{portion(0, []float64{1001, 1})}}), "row 1: 1001 kg is no mass on a sieve; weigh it again"},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{ok, {Rows: []Row{{Mass: 1}, {Mass: 0.001, Tare: 0.002}}}}}), "portion 2, row 2: 1 g with the sieve is less than the empty sieve, 2 g; weigh the empty sieve again"},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{{Rows: []Row{{Mass: 0.3, Tare: 0.3}, {Mass: 0.1}}}}}), ""},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{{Rows: []Row{{Mass: 0.1, Tare: -0.001}, {}}}}}), "row 1: -1 g is negative; enter 0 for an empty sieve"},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{portion(1000, []float64{999, 1})}}), ""},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{portion(1001, []float64{1000, 1})}}), "a charge of 1001 kg; enter 0 if it was not weighed"},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{portion(0, []float64{1})}}), "1 masses for 1 sieves and the pan; give one mass a sieve, then the pan"},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{ok}, Allowance: Allowance{Share: 1, Name: "all"}}), ""},
		{weigh(Stack{Sieves: sieve, Portions: []Portion{ok}, Allowance: Allowance{Share: 1.01}}), "the allowance for loss is 1.01; give it as a share of the charge"},
		{weigh(Stack{Sieves: sieves([]float64{1e-3, 2e-3}), Portions: []Portion{ok}}), "row 2: 2 mm lies under 1 mm; list the sieves from the top, the coarsest first"},
		{weigh(Stack{Sieves: sieves([]float64{1e-3, 1e-3}), Portions: []Portion{ok}}), "row 2: 1 mm stands twice; take one of them out"},
		{errOf(FitLaw(LawRRSB, Points{X: []float64{1, 2, 1}, Q: []float64{0.1, 0.2, 0.3}}, Linearised, Weighting{})), "row 3: 1000 mm stands twice; take one of them out"},
	} {
		if (c.err == nil) != (c.said == "") || c.err != nil && c.err.Error() != c.said {
			t.Errorf("%v, wanted %q", c.err, c.said)
		}
	}
	a, err := Weigh(Stack{Sieves: sieve, Portions: []Portion{portion(0.1, []float64{0.35, 0.4})}})
	if err != nil || len(a.Doubts) != 1 || a.Doubts[0].Rows != 2 || math.Abs(a.Doubts[0].Value-0.325) > 1e-12 {
		t.Errorf("650 g more than was put on, in two sieves: %+v (%v)", a.Doubts, err)
	}
	// No sieve may hold less than six tenths of the tare it is said to have been weighed with: 0.4 kg on 0.6 kg of two sieves.
	for light, rows := range map[float64]int{0.181: 2, 0.179: 1} {
		a, err := Weigh(Stack{Sieves: sieve, Portions: []Portion{portion(0.1, []float64{0.7 - light, light})}})
		if err != nil || len(a.Doubts) != 1 || a.Doubts[0].Rows != rows {
			t.Errorf("%g kg on the lighter: %+v (%v)", light, a.Doubts, err)
		}
	}
}
