package ageing

import (
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func whole(in checkrow.Inputs, name string) int { return int(in.Num(name)) }

var loopRows = map[string]checkrow.Func{
	"SteadyShare":  func(in checkrow.Inputs) ([]float64, error) { return one(SteadyShare(in.Num("r"), whole(in, "n"))) },
	"SteadyMean":   func(in checkrow.Inputs) ([]float64, error) { return one(SteadyMean(in.Num("r"))) },
	"SteadyBeyond": func(in checkrow.Inputs) ([]float64, error) { return one(SteadyBeyond(in.Num("r"), whole(in, "k"))) },
	"MeanAfter":    func(in checkrow.Inputs) ([]float64, error) { return one(MeanAfter(in.Num("r"), whole(in, "batch"))) },
	"SteadyRetained": func(in checkrow.Inputs) ([]float64, error) {
		return one(SteadyRetained(in.Num("r"), in.Num("q")))
	},
	"Steady": func(in checkrow.Inputs) ([]float64, error) {
		a, err := Steady(in.Num("r"), 2e-5)
		if err != nil {
			return nil, err
		}
		mean, err := a.Mean()
		if err != nil {
			return nil, err
		}
		variance := 0.0
		for n, s := range a.Shares {
			variance += (float64(n) - mean) * (float64(n) - mean) * s
		}
		beyond, err := a.Beyond(5)
		if err != nil {
			return nil, err
		}
		half, err := a.Oldest(0.5)
		return []float64{mean, variance, beyond, float64(half), a.Cuts}, err
	},
	"Loop": func(in checkrow.Inputs) ([]float64, error) {
		a, err := Loop(in.Num("r"), whole(in, "batch"), in.Num("cuts"))
		if err != nil {
			return nil, err
		}
		out := make([]float64, 6)
		copy(out, a.Shares[1:])
		out[5] = a.Cuts
		return out, nil
	},
	"Blend": func(in checkrow.Inputs) ([]float64, error) {
		var parts []Part
		for i, m := range in.List("mass") {
			a, err := Passed(int(in.List("passes")[i]))
			if err != nil {
				return nil, err
			}
			parts = append(parts, Part{a, m})
		}
		a, err := Blend(parts...)
		if err != nil {
			return nil, err
		}
		mean, err := a.Mean()
		if err != nil {
			return nil, err
		}
		beyond, err := a.Beyond(3)
		if err != nil {
			return nil, err
		}
		oldest, err := a.Oldest(0)
		return []float64{mean, beyond, float64(oldest)}, err
	},
}

func rowFactor(in checkrow.Inputs) Factor {
	return Factor{in.Num("median"), in.Num("low"), in.Num("high")}
}

func three(f Factor, err error) ([]float64, error) { return []float64{f.Median, f.Low, f.High}, err }

var passRows = map[string]checkrow.Func{
	"Retained": func(in checkrow.Inputs) ([]float64, error) {
		a, err := Steady(in.Num("r"), 0)
		if err != nil {
			return nil, err
		}
		return one(Retained(a, in.Num("q")))
	},
	"RetainedLog": func(in checkrow.Inputs) ([]float64, error) {
		a, err := Steady(in.Num("r"), 0)
		if err != nil {
			return nil, err
		}
		return one(RetainedLog(a, in.Num("q")))
	},
	"LearnFlow": func(in checkrow.Inputs) ([]float64, error) {
		var tests []FlowTest
		shift := 0.0
		if in.Has("shift") {
			shift = in.Num("shift")
		}
		rates, grades := in.List("rates"), in.List("grades")
		each := len(grades) / len(rates)
		for i, rate := range rates {
			tests = append(tests, FlowTest{rate, in.List("doubts")[i], in.List("passes")[i], in.List("gains")[i], in.List("gaindoubts")[i], grades[i*each : (i+1)*each]})
		}
		return three(LearnFlow(rowFactor(in), FreshFlow{in.Num("rate"), in.Num("base"), shift}, tests))
	},
	"PerPass": func(in checkrow.Inputs) ([]float64, error) {
		f, _, err := PerPass(in.Word("polymer"), Property(in.Word("property")))
		return three(f, err)
	},
	"BlendFlow": func(in checkrow.Inputs) ([]float64, error) {
		return one(BlendFlow(in.List("flows"), in.List("shares")))
	},
	"ForecastFlow": func(in checkrow.Inputs) ([]float64, error) {
		from := KnownFlow{in.Num("rate"), in.Num("at"), in.Num("doubt")}
		r, err := ForecastFlow(from, Factor{1.15, 1, 1.5}, in.Num("passes"), in.Num("gain"))
		return []float64{r.Low, r.Median, r.High}, err
	},
}

var waterRows = map[string]checkrow.Func{
	"MolarMass": func(in checkrow.Inputs) ([]float64, error) {
		cuts, err := CutsBy(in.Num("water"), in.Num("extent"))
		if err != nil {
			return nil, err
		}
		a := Virgin()
		for range whole(in, "passes") {
			if a, err = a.Melted(cuts); err != nil {
				return nil, err
			}
		}
		return one(MolarMass(in.Num("fresh"), a.Cuts))
	},
	"MolarLoop": func(in checkrow.Inputs) ([]float64, error) {
		cuts, err := CutsBy(in.Num("water"), 1)
		if err != nil {
			return nil, err
		}
		a, err := Steady(in.Num("r"), cuts)
		if err != nil {
			return nil, err
		}
		return one(MolarMass(in.Num("fresh"), a.Cuts))
	},
	"FlowGain": func(in checkrow.Inputs) ([]float64, error) {
		return one(FlowGain(in.Num("fresh"), 1/in.Num("left")-1/in.Num("fresh"), FlowPower))
	},
	"StrengthLeft": func(in checkrow.Inputs) ([]float64, error) {
		return one(StrengthLeft(in.Num("fresh"), 1/in.Num("left")-1/in.Num("fresh"), in.Num("brittle")))
	},
	"Reacts": func(in checkrow.Inputs) ([]float64, error) {
		r := Reacts(in.Word("polymer"))
		return []float64{r.Share, r.Low, r.High}, nil
	},
}

var limitRows = map[string]checkrow.Func{
	"ShareForStrength": func(in checkrow.Inputs) ([]float64, error) {
		return one(ShareForStrength(in.Num("q"), in.Num("keep")))
	},
	"ShareForFlow": func(in checkrow.Inputs) ([]float64, error) {
		return one(ShareForFlow(in.Num("q"), in.Num("limit")))
	},
}

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{loopRows, passRows, waterRows, limitRows, measuredRows} {
		for name, f := range part {
			funcs[name] = f
		}
	}
	checkrow.Run(t, "checks.csv", funcs)
}
