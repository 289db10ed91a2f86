package plan

import (
	"testing"

	"hopperful/estimate"
	"hopperful/internal/checkrow"
)

// row is a draw in which only the named parameters matter.
func row(values map[estimate.Param]float64) []float64 {
	r := make([]float64, estimate.Params)
	for p, v := range values {
		r[p] = v
	}
	return r
}

func TestChecks(t *testing.T) {
	t.Parallel()
	one := func(v float64) ([]float64, error) { return []float64{v}, nil }
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"RestShare": func(in checkrow.Inputs) ([]float64, error) {
			return one(coolsTo(row(map[estimate.Param]float64{estimate.WallCapacity: in.Num("capacity"),
				estimate.WallLoss: in.Num("loss"), estimate.LidFactor: in.Num("lid")}), in.Num("rest")))
		},
		"LevelShare": func(in checkrow.Inputs) ([]float64, error) {
			return one(levelShare(int(in.Num("level")), int(in.Num("levels"))))
		},
		"ChamberWidth": func(in checkrow.Inputs) ([]float64, error) { return one(chamberWidth(in.Num("volume"))) },
		"Residue": func(in checkrow.Inputs) ([]float64, error) {
			c := &cell{mass: in.Num("charge"), chain: [][]view{{{held: []float64{in.Num("charge") * in.Num("stay")}}}}}
			return one((&bench{}).residue(c, 0, 0, int(in.Num("charges"))))
		},
		"Exposure": func(in checkrow.Inputs) ([]float64, error) {
			t := campaign{cell: &cell{at: []float64{in.Num("time")}}, charges: 1}
			return one((&bench{}).exposure(row(map[estimate.Param]float64{estimate.Noise: in.Num("noise")}), t))
		},
	})
}
