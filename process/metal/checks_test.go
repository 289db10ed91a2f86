package metal

import (
	"maps"
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{wearRows, chipRows, chanceRows, rateRows, riskRows} {
		maps.Copy(funcs, part)
	}
	checkrow.Run(t, "checks.csv", funcs)
}

// blend is steel and brass.
func blend(steel float64) []Part { return []Part{{Ferritic, steel}, {Brass, 1 - steel}} }

var wearRows = map[string]checkrow.Func{
	"WearFromParts": func(in checkrow.Inputs) ([]float64, error) {
		w, err := WearFromParts(PartWeighing{in.Num("before"), in.Num("after"), in.Num("ground"), in.Num("resolution")})
		return []float64{w.Share, w.Low, w.High, checkrow.Bit(w.Seen)}, err
	},
	"WearFromMagnet": func(in checkrow.Inputs) ([]float64, error) {
		return one(WearFromMagnet(MagnetYield{in.Num("caught"), in.Num("ground"), in.Num("catch")}))
	},
	"StaysIn": func(in checkrow.Inputs) ([]float64, error) {
		s, err := StaysIn(blend(in.Num("steel")), int(in.Num("passes")))
		return []float64{s.Share, s.Low, s.High, s.Never}, err
	},
}

func spectrum(in checkrow.Inputs) Spectrum { return Spectrum{in.Num("median"), in.Num("spread")} }

var chipRows = map[string]checkrow.Func{
	"Blockers": func(in checkrow.Inputs) ([]float64, error) {
		return one(Blockers(spectrum(in), Window{in.Num("from"), in.Num("to")}, in.Num("density")))
	},
}

var chanceRows = map[string]checkrow.Func{
	"Chance": func(in checkrow.Inputs) ([]float64, error) { return one(Chance(in.Num("rate"), in.Num("mass"))) },
	"CleanMass": func(in checkrow.Inputs) ([]float64, error) {
		return one(CleanMass(in.Num("rate"), in.Num("confidence")))
	},
	"CountAtMost": func(in checkrow.Inputs) ([]float64, error) {
		return checkrow.Each(in.List("found"), func(k float64) (float64, error) { return CountAtMost(int(k), in.Num("confidence")) })
	},
}

var rateRows = map[string]checkrow.Func{"Learn": func(in checkrow.Inputs) ([]float64, error) {
	r, mass := Rate{in.Num("shape"), in.Num("exposure")}, in.List("mass")
	for i, k := range in.List("found") {
		var err error
		if r, err = Learn(r, int(k), mass[i]); err != nil {
			return nil, err
		}
	}
	switch in.Word("ask") {
	case "mean":
		return one(r.Mean())
	case "upper":
		return one(r.Quantile(0.95))
	case "clean":
		return one(r.Clean(in.Num("next")))
	}
	var all []float64
	for _, ask := range []func() (float64, error){
		r.Mean, r.Deviation,
		func() (float64, error) { return r.Quantile(0.025) },
		func() (float64, error) { return r.Quantile(0.975) },
		func() (float64, error) { return r.Above(0.05) },
	} {
		v, err := ask()
		if err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, nil
}}

// bench is the metal of the rows on risk.
func bench(screen, slip float64, passes int) Metal {
	return Metal{Wear: 10e-6, Parts: blend(0.9), Sizes: WearSpectrum, Screen: screen, Slip: slip, Passes: passes}
}

var benchPrint = Print{Mass: 0.2, Nozzle: 0.0008}

var riskRows = map[string]checkrow.Func{
	"PrintRisk": func(in checkrow.Inputs) ([]float64, error) {
		m := bench(in.Num("screen"), in.Num("slip"), int(in.Num("passes")))
		if in.Has("bare") {
			m.Parts = nil
		}
		o, err := PrintRisk(m, benchPrint)
		return []float64{o.Metal, o.Rate, o.Low, o.High, o.Chance, o.MeanMass, o.Sample}, err
	},
	"FinerScreen": func(in checkrow.Inputs) ([]float64, error) {
		c, err := FinerScreen(bench(in.Num("screen"), 1, 1), benchPrint, in.Num("finer"))
		return one(c.Fewer, err)
	},
}
