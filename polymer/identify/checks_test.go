package identify

import (
	"testing"

	"hopperful/internal/checkrow"
)

// one wraps a formula of one number.
func one(f func(checkrow.Inputs) (float64, error)) checkrow.Func {
	return func(in checkrow.Inputs) ([]float64, error) {
		v, err := f(in)
		return []float64{v}, err
	}
}

func TestChecks(t *testing.T) {
	t.Parallel()
	liquid := func(in checkrow.Inputs) Liquid { return Liquid(in.Word("liquid")) }
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"WaterDensity":   one(func(in checkrow.Inputs) (float64, error) { return WaterDensity(in.Num("T")) }),
		"EthanolDensity": one(func(in checkrow.Inputs) (float64, error) { return EthanolDensity(in.Num("p"), in.Num("T")) }),
		"Density":        one(func(in checkrow.Inputs) (float64, error) { return Density(liquid(in), in.Num("w"), in.Num("T")) }),
		"StrengthFor":    one(func(in checkrow.Inputs) (float64, error) { return StrengthFor(liquid(in), in.Num("rho"), in.Num("T")) }),
		"RecipeFor": one(func(in checkrow.Inputs) (float64, error) {
			r, err := RecipeFor(liquid(in), in.Num("rho"), in.Num("T"))
			return r.PerLitre, err
		}),
		"RecipeOf": one(func(in checkrow.Inputs) (float64, error) {
			r, err := RecipeOf(liquid(in), in.Num("w"), in.Num("T"))
			return r.PerLitre, err
		}),
		"FloatChance": func(in checkrow.Inputs) ([]float64, error) {
			var all []float64
			for _, l := range in.List("liquids") {
				p, err := FloatChance(l, in.Num("mean"), in.Num("spread"))
				if err != nil {
					return nil, err
				}
				all = append(all, p)
			}
			return all, nil
		},
		"Entropy": one(func(in checkrow.Inputs) (float64, error) { return Entropy(in.List("shares")), nil }),
		"CountRange": func(in checkrow.Inputs) ([]float64, error) {
			low, high, err := CountRange(int(in.Num("x")), int(in.Num("n")), in.Num("level"))
			return []float64{low, high}, err
		},
		"PiecesFor": one(func(in checkrow.Inputs) (float64, error) {
			n, err := PiecesFor(in.Num("limit"), in.Num("level"))
			return float64(n), err
		}),
		"TrueShare": one(func(in checkrow.Inputs) (float64, error) {
			return TrueShare(in.Num("seen"), Parting{Wrong: in.Num("wrong"), Right: in.Num("right")})
		}),
	})
}
