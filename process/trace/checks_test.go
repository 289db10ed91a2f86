package trace

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

func row(in checkrow.Inputs, values string) []Reading {
	times := in.List("T")
	var all []Reading
	for i, v := range in.List(values) {
		all = append(all, Reading{At: times[i], Value: v})
	}
	return all
}

func TestChecks(t *testing.T) {
	t.Parallel()
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"Energy": func(in checkrow.Inputs) ([]float64, error) {
			j, err := Energy(row(in, "P"), in.Num("longest"), in.Num("most"))
			return []float64{j.Mid, j.Low, j.High, j.Unseen}, err
		},
		"Runs": func(in checkrow.Inputs) ([]float64, error) {
			runs, err := Runs(row(in, "P"), Known{Idle: in.Num("idle"), Top: in.Num("top")})
			out := []float64{}
			for _, r := range runs {
				end := 0.0
				if r.End != nil {
					end = r.End.At
				}
				out = append(out, r.Start.At, r.Stop.At, end, float64(len(r.Stalls)), r.Energy.Mid)
			}
			return out, err
		},
		"Cool": func(in checkrow.Inputs) ([]float64, error) {
			var all []Reading
			for i := range int(in.Num("n")) {
				at := float64(i) * in.Num("step")
				all = append(all, Reading{At: at, Value: in.Num("room") + (in.Num("from")-in.Num("room"))*math.Exp(-at/in.Num("tau"))})
			}
			c, err := Cool(all, in.Num("room"))
			return []float64{c.Tau.Mid, c.From, math.Round(c.Miss * 1e5)}, err
		},
		"Ahead": func(in checkrow.Inputs) ([]float64, error) {
			b, err := Ahead(row(in, "V"), in.Num("at"))
			return []float64{b.Mid, b.Low, b.High}, err
		},
	})
}
