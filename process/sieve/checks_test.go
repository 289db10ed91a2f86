package sieve

import (
	"fmt"
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, group := range []map[string]checkrow.Func{seriesChecks, stackChecks, classChecks, lawChecks, fitChecks, damageChecks} {
		for name, f := range group {
			funcs[name] = f
		}
	}
	checkrow.Run(t, "checks.csv", funcs)
}

var seriesChecks = map[string]checkrow.Func{
	"ByDesignation": func(in checkrow.Inputs) ([]float64, error) {
		s, err := ByDesignation(in.Word("designation"))
		return []float64{s.Opening}, err
	},
	"Openings": func(in checkrow.Inputs) ([]float64, error) {
		all := Openings(Standard(in.Word("standard")))
		return []float64{float64(len(all)), all[0].Opening, all[len(all)-1].Opening}, nil
	},
	"Own": func(in checkrow.Inputs) ([]float64, error) {
		s, err := Own(in.Num("opening"), Form(in.Word("form")))
		return []float64{s.Opening}, err
	},
}

// sieves makes woven sieves of one's own.
func sieves(openings []float64) []Sieve {
	var all []Sieve
	for _, x := range openings {
		all = append(all, Sieve{Opening: x, Form: Woven, Designation: name(x)})
	}
	return all
}

func portion(charge float64, net []float64) Portion {
	p := Portion{Charge: charge}
	for _, m := range net {
		p.Rows = append(p.Rows, Row{Mass: m})
	}
	return p
}

// weighed analyses the stack of a row.
func weighed(in checkrow.Inputs) (Analysis, error) {
	s := Stack{Sieves: sieves(in.List("openings"))}
	charge := 0.0
	if in.Has("charge") {
		charge = in.Num("charge")
	}
	if in.Has("allowance") {
		s.Allowance = EN933
		s.Allowance.Share = in.Num("allowance")
	}
	s.Portions = []Portion{portion(charge, in.List("retained"))}
	return Weigh(s)
}

// onStack runs f on the distribution of a row's stack.
func onStack(f func(Discrete, checkrow.Inputs) ([]float64, error)) checkrow.Func {
	return func(in checkrow.Inputs) ([]float64, error) {
		a, err := weighed(in)
		if err != nil {
			return nil, err
		}
		b := Bounds{}
		if in.Has("floor") {
			b.Floor = in.Num("floor")
		}
		d, err := a.Distribution(b)
		if err != nil {
			return nil, err
		}
		return f(d, in)
	}
}

var stackChecks = map[string]checkrow.Func{
	"Passing": func(in checkrow.Inputs) ([]float64, error) { a, err := weighed(in); return a.Passing, err },
	"Retained": func(in checkrow.Inputs) ([]float64, error) {
		a, err := weighed(in)
		return []float64{a.Recovered}, err
	},
	"Loss": func(in checkrow.Inputs) ([]float64, error) {
		a, err := weighed(in)
		return []float64{a.LossShare, checkrow.Bit(a.Closes)}, err
	},
	"LostAsDust": func(in checkrow.Inputs) ([]float64, error) {
		a, err := weighed(in)
		return a.PassingIfLostAsDust(), err
	},
	"GrossAndNet": func(in checkrow.Inputs) ([]float64, error) {
		p, tare := portion(0, in.List("gross")), in.List("tare")
		for i := range p.Rows {
			p.Rows[i].Tare = tare[i]
		}
		a, err := Weigh(Stack{Sieves: sieves(in.List("openings")), Portions: []Portion{p}})
		return a.Retained, err
	},
	"Portions": func(in checkrow.Inputs) ([]float64, error) {
		a, err := Weigh(Stack{Sieves: sieves(in.List("openings")),
			Portions: []Portion{portion(0, in.List("first")), portion(0, in.List("second"))}})
		return append(a.Retained, a.Passing...), err
	},
	"Pool": func(in checkrow.Inputs) ([]float64, error) {
		one := func(name string) Analysis {
			a, _ := Weigh(Stack{Sieves: sieves(in.List("openings")), Portions: []Portion{portion(0, in.List(name))}})
			return a
		}
		p, err := Pool(one("first"), one("second"))
		return append(p.Passing, p.Spread...), err
	},
	"Describe": onStack(func(d Discrete, _ checkrow.Inputs) ([]float64, error) {
		s, err := Describe(d)
		return []float64{s.D10.Value, s.D16.Value, s.D50.Value, s.D60.Value, s.D84.Value, s.D90.Value,
			s.Span.Value, s.Uniformity.Value, s.Curvature.Value}, err
	}),
	"FinesShare": onStack(func(d Discrete, in checkrow.Inputs) ([]float64, error) {
		q, err := FinesShare(d, in.Num("limit"))
		return []float64{q}, err
	}),
	"OversizeShare": onStack(func(d Discrete, in checkrow.Inputs) ([]float64, error) {
		q, err := OversizeShare(d, in.Num("limit"))
		return []float64{q}, err
	}),
	"DiscreteMean": onStack(func(d Discrete, in checkrow.Inputs) ([]float64, error) {
		x, err := MeanDiameter(d, in.Num("p"), in.Num("q"))
		return []float64{x}, err
	}),
	"SauterRange": onStack(func(d Discrete, _ checkrow.Inputs) ([]float64, error) {
		r, err := SauterRange(d)
		return []float64{r.Value, r.Low, r.High}, err
	}),
	"SimpleSize": func(in checkrow.Inputs) ([]float64, error) {
		a, err := weighed(in)
		if err != nil {
			return nil, fmt.Errorf("the stack itself: %w", err)
		}
		r, err := SimpleSize(a, in.Num("p"))
		return []float64{r.Value, r.Low, r.High}, err
	},
}

var classChecks = map[string]checkrow.Func{}

// law reads the law of a row.
func law(in checkrow.Inputs) Law {
	if in.Word("law") == "GGS" {
		return LawGGS
	}
	return Law(in.Word("law"))
}

var lawChecks = map[string]checkrow.Func{
	"RRSB": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewRRSB(in.Num("size"), in.Num("n"))
		if err != nil {
			return nil, err
		}
		q, err := checkrow.Each([]float64{0.1, 0.5, 0.8, 0.9}, d.Quantile)
		if err != nil {
			return nil, err
		}
		d43, err43 := MeanDiameter(d, 4, 3)
		d32, err32 := MeanDiameter(d, 3, 2)
		if err43 != nil || err32 != nil {
			return nil, fmt.Errorf("means: %v, %v", err43, err32)
		}
		return append(q, (q[3]-q[0])/q[1], d43, d32), nil
	},
	"RRSBMoment": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewRRSB(in.Num("size"), in.Num("n"))
		if err != nil {
			return nil, err
		}
		m, err := d.Moment(in.Num("k"))
		return []float64{m}, err
	},
	"RRSBCumulative": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewRRSB(in.Num("size"), in.Num("n"))
		if err != nil {
			return nil, err
		}
		return checkrow.Each(in.List("x"), d.Cumulative)
	},
	"GGSCumulative": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewGGS(in.Num("largest"), in.Num("m"))
		if err != nil {
			return nil, err
		}
		return checkrow.Each(in.List("x"), d.Cumulative)
	},
	"LogNormal": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewLogNormal(in.Num("median"), in.Num("s"))
		if err != nil {
			return nil, err
		}
		var out []float64
		for _, pq := range [][2]float64{{1, 0}, {2, 0}, {2, 1}, {3, 2}, {4, 3}} {
			x, err := MeanDiameter(d, pq[0], pq[1])
			if err != nil {
				return nil, err
			}
			out = append(out, x)
		}
		median, err := d.Number().Quantile(0.5)
		return append(out, median), err
	},
	"LogNormalMass": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewLogNormal(in.Num("median"), in.Num("s"))
		if err != nil {
			return nil, err
		}
		return checkrow.Each(in.List("x"), d.Cumulative)
	},
	"LogNormalNumber": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewLogNormal(in.Num("median"), in.Num("s"))
		if err != nil {
			return nil, err
		}
		return checkrow.Each(in.List("x"), d.Number().Cumulative)
	},
	"LogNormalQuantiles": func(in checkrow.Inputs) ([]float64, error) {
		d, err := NewLogNormal(in.Num("median"), in.Num("s"))
		if err != nil {
			return nil, err
		}
		return checkrow.Each(in.List("p"), d.Quantile)
	},
	"MeanDiameter": func(in checkrow.Inputs) ([]float64, error) {
		d, err := law(in).of(in.Num("scale"), in.Num("shape"))
		if err != nil {
			return nil, fmt.Errorf("the law itself: %w", err)
		}
		x, err := MeanDiameter(d, in.Num("p"), in.Num("q"))
		return []float64{x}, err
	},
}

func fitted(in checkrow.Inputs) (Fit, error) {
	return FitLaw(law(in), Points{in.List("x"), in.List("q")}, Method(in.Word("method")),
		Weighting{Equal: in.Word("weights") == "equal"})
}

var fitChecks = map[string]checkrow.Func{
	"FitLaw": func(in checkrow.Inputs) ([]float64, error) {
		f, err := fitted(in)
		return []float64{f.Scale, f.Shape}, err
	},
	"FitError": func(in checkrow.Inputs) ([]float64, error) {
		f, err := fitted(in)
		return []float64{f.ScaleError, f.ShapeError, f.Covariance[0][1], f.MisfitGrains}, err
	},
	"FitLine": func(in checkrow.Inputs) ([]float64, error) {
		f, err := FitLaw(law(in), Points{in.List("x"), in.List("q")}, Linearised, Weighting{})
		return []float64{f.Line, f.ShapeError}, err
	},
	"Judge": func(in checkrow.Inputs) ([]float64, error) {
		d, err := law(in).of(in.Num("scale"), in.Num("shape"))
		if err != nil {
			return nil, err
		}
		var p Points
		for _, s := range Openings(R20x3) {
			q, err := d.Cumulative(s.Opening)
			if err != nil {
				return nil, err
			}
			p.X, p.Q = append(p.X, s.Opening), append(p.Q, q)
		}
		fits, err := FitAll(p, Weighting{})
		if err != nil {
			return nil, err
		}
		v, err := Judge(fits)
		found := v.Best.Law == law(in) && v.Word == "fits well" && math.Abs(v.Best.Shape/in.Num("shape")-1) < 1e-6
		return []float64{checkrow.Bit(found), float64(len(v.Alike))}, err
	},
}

// tornTest runs the test of a row after its history of sound runs.
func tornTest(in checkrow.Inputs) (Torn, error) {
	screen := Screen{in.Num("hole"), in.Num("density"), GrainShape{Elongation: 1}}
	s, err := NewSound(Prior{})
	if err != nil {
		return Torn{}, err
	}
	sample := Sample{in.Num("mass"), in.Num("coarse"), NotLooked}
	if in.Has("long") {
		sample.Long = int(in.Num("long"))
	}
	if in.Has("history") {
		for _, share := range in.List("history") {
			if s, err = s.After(screen, Sample{in.Num("mass0"), share, NotLooked}); err != nil {
				return Torn{}, err
			}
		}
	}
	return s.Test(screen, sample, 0)
}

var damageChecks = map[string]checkrow.Func{
	"BetaFromQuantiles": func(in checkrow.Inputs) ([]float64, error) {
		a, b, err := BetaFromQuantiles(in.Num("median"), in.Num("upper"))
		return []float64{a, b}, err
	},
	"EffectiveGrains": func(in checkrow.Inputs) ([]float64, error) {
		n, err := EffectiveGrains(in.Num("mass"), in.Num("size"), in.Num("density"))
		return []float64{n}, err
	},
	"TornShare": func(in checkrow.Inputs) ([]float64, error) { v, err := tornTest(in); return []float64{v.ShareP}, err },
	"TornLong":  func(in checkrow.Inputs) ([]float64, error) { v, err := tornTest(in); return []float64{v.LongP}, err },
	"TornBayes": func(in checkrow.Inputs) ([]float64, error) {
		v, err := tornTest(in)
		return []float64{v.LogBayes}, err
	},
	"CoarseSample": func(in checkrow.Inputs) ([]float64, error) {
		a, err := weighed(in)
		if err != nil {
			return nil, fmt.Errorf("the stack itself: %w", err)
		}
		m, err := CoarseSample(a, Screen{Hole: in.Num("hole"), Density: 1240})
		return []float64{m.Mass, m.Coarse, float64(m.Long)}, err
	},
	"Cracked": func(in checkrow.Inputs) ([]float64, error) {
		m := Metal{Resolution: 1e-7}
		found := in.List("found")
		for i, g := range in.List("ground") {
			m.Runs = append(m.Runs, MetalRun{g, found[i]})
		}
		c, err := m.Test(0)
		return []float64{c.StepP, c.TrendP, checkrow.Bit(c.Alarm)}, err
	},
}
