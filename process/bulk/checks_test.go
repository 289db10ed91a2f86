package bulk

import (
	"maps"
	"math"
	"slices"
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{jarRows, classRows, archRows, runRows, dustRows} {
		maps.Copy(funcs, part)
	}
	checkrow.Run(t, "checks.csv", funcs)
}

var verdicts = []Verdict{Impossible, TooDense, Doubtful, Firm, Usual, Airy}

var jarRows = map[string]checkrow.Func{
	"BulkDensity": func(in checkrow.Inputs) ([]float64, error) {
		return one(BulkDensity(in.Num("mass"), in.Num("volume")))
	},
	"PackingShare": func(in checkrow.Inputs) ([]float64, error) {
		return one(PackingShare(in.Num("bulk"), in.Num("solid")))
	},
	"JudgePacking": func(in checkrow.Inputs) ([]float64, error) {
		p, err := JudgePacking(in.Num("bulk"), in.Num("solid"))
		return []float64{p.Share, float64(slices.Index(verdicts, p.Verdict)), checkrow.Bit(p.Questioned())}, err
	},
}

var classRows = map[string]checkrow.Func{
	"Carr":    func(in checkrow.Inputs) ([]float64, error) { return one(Carr(in.Num("bulk"), in.Num("tapped"))) },
	"Hausner": func(in checkrow.Inputs) ([]float64, error) { return one(Hausner(in.Num("bulk"), in.Num("tapped"))) },
	"ClassFlow": func(in checkrow.Inputs) ([]float64, error) {
		bulk, tapped := in.List("bulk"), in.List("tapped")
		var all []float64
		for i, b := range bulk {
			f, err := ClassFlow(b, tapped[min(i, len(tapped)-1)])
			if err != nil {
				return nil, err
			}
			all = append(all, float64(f))
		}
		return all, nil
	},
}

func outlet(in checkrow.Inputs) Outlet {
	return Outlet{Width: 0.05, HalfAngle: in.Num("degrees") * math.Pi / 180, Slot: in.Num("slot") == 1}
}

var archRows = map[string]checkrow.Func{
	"MechanicalOutlet": func(in checkrow.Inputs) ([]float64, error) {
		lo, hi, err := MechanicalOutlet(in.Num("d95"), in.Num("slot") == 1)
		return []float64{lo, hi}, err
	},
	"MechanicalRisk": func(in checkrow.Inputs) ([]float64, error) {
		return checkrow.Each(in.List("width"), func(w float64) (float64, error) {
			r, err := MechanicalRisk(Outlet{Width: w, Slot: in.Num("slot") == 1}, in.Num("d95"))
			return float64(r), err
		})
	},
	"ArchFactor": func(in checkrow.Inputs) ([]float64, error) { return one(ArchFactor(outlet(in))) },
	"CohesiveOutlet": func(in checkrow.Inputs) ([]float64, error) {
		return one(CohesiveOutlet(outlet(in), in.Num("strength"), in.Num("bulk")))
	},
}

var runRows = map[string]checkrow.Func{
	"DischargeRate": func(in checkrow.Inputs) ([]float64, error) {
		return one(DischargeRate(Discharge{in.Num("outlet"), in.Num("grain"), in.Num("density"), in.Num("c"), in.Num("k")}))
	},
	"FillMass": func(in checkrow.Inputs) ([]float64, error) {
		return one(FillMass(in.Num("volume"), in.Num("bulk"), in.Num("share")))
	},
}

func mixture(in checkrow.Inputs) Mixture {
	return Mixture{in.Num("dust"), in.Num("coarse"), in.Num("fine")}
}

// benchLot is the granulate of the rows on bridging.
func benchLot(dust float64) Granulate {
	return Granulate{Mix: Mixture{dust, 0.5, 0.4}, Stick: Sticking{CoarseStrength, DustStrength}, D95: 0.0025, Mean: 0.0015, Solid: 1240}
}

var dustRows = map[string]checkrow.Func{
	"DustFillsVoids": func(in checkrow.Inputs) ([]float64, error) { return one(DustFillsVoids(mixture(in))) },
	"MixedPacking":   func(in checkrow.Inputs) ([]float64, error) { return one(MixedPacking(mixture(in))) },
	"MixedStrength": func(in checkrow.Inputs) ([]float64, error) {
		return one(MixedStrength(Sticking{in.Num("grains"), in.Num("powder")}, mixture(in)))
	},
	"Bridging": func(in checkrow.Inputs) ([]float64, error) {
		b, err := Bridging(Outlet{in.Num("width"), math.Pi / 9, false}, benchLot(in.Num("dust")))
		return []float64{b.Bulk, b.Strength, b.Ratio, float64(b.Wedging), b.Least, b.Free, b.Sticky, checkrow.Bit(b.Sticks), b.Rate}, err
	},
	"Remedies": func(in checkrow.Inputs) ([]float64, error) {
		all, err := Remedies(Outlet{in.Num("width"), math.Pi / 9, false}, benchLot(in.Num("dust")), Means{0.1, 0.0015})
		var got []float64
		for _, e := range all {
			got = append(got, e.To, checkrow.Bit(e.Runs))
		}
		return got, err
	},
}
