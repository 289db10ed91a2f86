package melt

import (
	"maps"
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func span(s Span, err error) ([]float64, error) { return []float64{s.Low, s.High}, err }

func flag(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{lawRows, curveRows, rateRows, tubeRows, nozzleRows} {
		maps.Copy(funcs, part)
	}
	checkrow.Run(t, "checks.csv", funcs)
}

// curveOf makes a Cross curve where the row gives a critical stress.
func curveOf(in checkrow.Inputs) (Curve, error) {
	if in.Has("stress") {
		return NewCross(CrossSet{in.Num("zero"), in.Num("stress"), in.Num("n")})
	}
	return NewPower(in.Num("zero"), in.Num("n"))
}

// window is that of the rows: the ceiling of PLA.
var window = Window{Low: 430, Ceiling: 513.15}

func crossWLF(in checkrow.Inputs) CrossWLF {
	m := CrossWLF{D1: in.Num("D1"), D2: in.Num("D2"), A1: in.Num("A1"), A2: in.Num("A2")}
	if in.Has("stress") {
		m.N, m.Stress = in.Num("n"), in.Num("stress")
	}
	return m
}

func viscosities(c Curve, err error, rates []float64) ([]float64, error) {
	if err != nil {
		return nil, err
	}
	all := make([]float64, len(rates))
	for i, r := range rates {
		if all[i], err = c.Viscosity(r); err != nil {
			return nil, err
		}
	}
	return all, nil
}

var lawRows = map[string]checkrow.Func{
	"Viscosity": func(in checkrow.Inputs) ([]float64, error) {
		if in.Has("K") {
			c, err := NewPower(in.Num("K"), in.Num("n"))
			return viscosities(c, err, []float64{in.Num("rate")})
		}
		c, err := NewCross(CrossSet{in.Num("zero"), in.Num("stress"), in.Num("n")})
		return viscosities(c, err, []float64{in.Num("rate")})
	},
	"ZeroShear": func(in checkrow.Inputs) ([]float64, error) { return one(ZeroShear(crossWLF(in), in.Num("T"))) },
	"CrossWLF": func(in checkrow.Inputs) ([]float64, error) {
		c, err := crossWLF(in).At(in.Num("T"), window)
		return viscosities(c, err, in.List("rate"))
	},
	"PowerLawAt": func(in checkrow.Inputs) ([]float64, error) {
		m := PowerLaw{in.Num("K"), in.Num("n"), in.Num("fold"), in.Num("T0")}
		c, err := m.At(in.Num("T"), Window{430, 600})
		return viscosities(c, err, in.List("rate"))
	},
}

// ask puts a row's number to a method of its curve.
func ask(method func(Curve, float64) (float64, error), name string) checkrow.Func {
	return func(in checkrow.Inputs) ([]float64, error) {
		c, err := curveOf(in)
		if err != nil {
			return nil, err
		}
		return one(method(c, in.Num(name)))
	}
}

var curveRows = map[string]checkrow.Func{
	"WallRate": ask(Curve.WallRate, "rate"),
	"Apparent": ask(Curve.Apparent, "rate"),
	"Rate":     ask(Curve.Rate, "tau"),
}

func plastometer(in checkrow.Inputs) Plastometer {
	return Plastometer{in.Num("load"), in.Num("density"), in.Num("loss")}
}

var rateRows = map[string]checkrow.Func{
	"CutRate": func(in checkrow.Inputs) ([]float64, error) { return one(CutRate(in.Num("mass"), in.Num("time"))) },
	"TimedCuts": func(in checkrow.Inputs) ([]float64, error) {
		mass, time := in.List("mass"), in.List("time")
		cuts := make([]Cut, len(mass))
		for i := range cuts {
			cuts[i] = Cut{mass[i], time[i]}
		}
		r, err := TimedCuts(cuts, in.Num("step"))
		return []float64{r.Value, r.Range.Low, r.Range.High, flag(r.Uneven), flag(r.Coarse)}, err
	},
	"Average": func(in checkrow.Inputs) ([]float64, error) {
		m, err := Average(in.List("values"))
		return []float64{m.Value, m.Scatter, m.Range.Low, m.Range.High, m.Spread}, err
	},
	"LoadPressure": func(in checkrow.Inputs) ([]float64, error) { return one(LoadPressure(in.Num("load"))) },
	"ModelMFR": func(in checkrow.Inputs) ([]float64, error) {
		c, err := curveOf(in)
		if err != nil {
			return nil, err
		}
		return one(ModelMFR(c, plastometer(in)))
	},
	"Thinning": func(in checkrow.Inputs) ([]float64, error) {
		c, err := curveOf(in)
		if err != nil {
			return nil, err
		}
		model, err := ModelMFR(c, plastometer(in))
		if err != nil {
			return nil, err
		}
		factor, err := Thinning(in.Num("measured"), model)
		if err != nil {
			return nil, err
		}
		if c, err = c.Thinned(factor); err != nil {
			return nil, err
		}
		return one(ModelMFR(c, plastometer(in)))
	},
}

var tubeRows = map[string]checkrow.Func{
	"WallStress": func(in checkrow.Inputs) ([]float64, error) {
		return one(WallStress(in.Num("drop"), in.Num("R"), in.Num("L")))
	},
	"ApparentRate": func(in checkrow.Inputs) ([]float64, error) { return one(ApparentRate(in.Num("flow"), in.Num("R"))) },
	"FlowAt":       func(in checkrow.Inputs) ([]float64, error) { return one(FlowAt(in.Num("rate"), in.Num("R"))) },
	"ConeDrop": func(in checkrow.Inputs) ([]float64, error) {
		c, err := curveOf(in)
		if err != nil {
			return nil, err
		}
		return one(ConeDrop(c, Cone{in.Num("wide"), in.Num("narrow"), in.Num("L"), in.Num("flow")}))
	},
}

// bench is the nozzle of the rows.
func bench(in checkrow.Inputs) Nozzle {
	loss := in.List("loss")
	return Nozzle{Bore: 1e-3, Land: 2e-3, Entry: 6e-3, Taper: 4e-3, Losses: Span{loss[0], loss[1]}}
}

var nozzleRows = map[string]checkrow.Func{
	"NozzleDrop": func(in checkrow.Inputs) ([]float64, error) {
		c, err := curveOf(in)
		if err != nil {
			return nil, err
		}
		d, err := NozzleDrop(c, bench(in), in.Num("flow"))
		return span(d.Total, err)
	},
	"Swell": func(in checkrow.Inputs) ([]float64, error) { return span(Swell(in.Num("stress"))) },
}
