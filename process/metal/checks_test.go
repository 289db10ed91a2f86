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
	for _, part := range []map[string]checkrow.Func{wearRows, forceRows, chipRows, chanceRows, rateRows, sampleRows, riskRows} {
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

func chip(in checkrow.Inputs) Chip { return Chip{0.001, in.Num("chi"), 1.71e6, in.Num("density")} }

var forceRows = map[string]checkrow.Func{
	"Pull": func(in checkrow.Inputs) ([]float64, error) { return one(Pull(chip(in), Field{in.Num("b"), 20})) },
	"PullOverWeight": func(in checkrow.Inputs) ([]float64, error) {
		return one(PullOverWeight(chip(in), Field{in.Num("b"), 20}))
	},
	"LiftNeeds":      func(in checkrow.Inputs) ([]float64, error) { return one(LiftNeeds(chip(in))) },
	"SaturationFlux": func(in checkrow.Inputs) ([]float64, error) { return one(SaturationFlux(chip(in))) },
}

func spectrum(in checkrow.Inputs) Spectrum { return Spectrum{in.Num("median"), in.Num("spread")} }

var chipRows = map[string]checkrow.Func{
	"ChipsPerMass": func(in checkrow.Inputs) ([]float64, error) {
		return one(ChipsPerMass(in.Num("fraction"), in.Num("size"), in.Num("density")))
	},
	"Blockers": func(in checkrow.Inputs) ([]float64, error) {
		return one(Blockers(spectrum(in), Window{in.Num("from"), in.Num("to")}, in.Num("density")))
	},
	"MassAbove": func(in checkrow.Inputs) ([]float64, error) { return one(MassAbove(spectrum(in), in.Num("size"))) },
}

var chanceRows = map[string]checkrow.Func{
	"Chance": func(in checkrow.Inputs) ([]float64, error) { return one(Chance(in.Num("rate"), in.Num("mass"))) },
	"CleanMass": func(in checkrow.Inputs) ([]float64, error) {
		return one(CleanMass(in.Num("rate"), in.Num("confidence")))
	},
	"SampleForPrint": func(in checkrow.Inputs) ([]float64, error) {
		return one(SampleForPrint(Promise{in.Num("mass"), in.Num("chance"), in.Num("confidence")}))
	},
	"CountAtMost": func(in checkrow.Inputs) ([]float64, error) {
		return checkrow.Each(in.List("found"), func(k float64) (float64, error) { return CountAtMost(int(k), in.Num("confidence")) })
	},
	"CountBetween": func(in checkrow.Inputs) ([]float64, error) {
		lo, hi, err := CountBetween(int(in.Num("found")), in.Num("confidence"))
		return []float64{lo, hi}, err
	},
	"ShareAtMost": func(in checkrow.Inputs) ([]float64, error) {
		return checkrow.Each(in.List("good"), func(n float64) (float64, error) { return ShareAtMost(int(n), in.Num("confidence")) })
	},
	"PiecesFor": func(in checkrow.Inputs) ([]float64, error) {
		return checkrow.Each(in.List("share"), func(p float64) (float64, error) {
			n, err := PiecesFor(p, in.Num("confidence"))
			return float64(n), err
		})
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

func ore(in checkrow.Inputs) Ore {
	o := Ore{in.Num("share"), in.Num("metal"), in.Num("rest"), 0.5, 0.25, 1}
	if in.Has("liberation") {
		o.Liberation = in.Num("liberation")
	}
	return o
}

var sampleRows = map[string]checkrow.Func{
	"SamplingConstant": func(in checkrow.Inputs) ([]float64, error) {
		return checkrow.Each(in.List("size"), func(d float64) (float64, error) { return SamplingConstant(ore(in), d) })
	},
	// The published case doubles the mass and takes ±1 % at 95 %.
	"SampleMass": func(in checkrow.Inputs) ([]float64, error) {
		return checkrow.Each(in.List("size"), func(d float64) (float64, error) {
			m, err := SampleMass(ore(in), d, 0.01/1.96)
			return 2 * m, err
		})
	},
	"SamplingDeviation": func(in checkrow.Inputs) ([]float64, error) {
		return one(SamplingDeviation(ore(in), Sampling{in.Num("size"), in.Num("sample"), in.Num("lot")}))
	},
	"CountDeviation": func(in checkrow.Inputs) ([]float64, error) { return one(CountDeviation(in.Num("expected"))) },
}

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
