package grain

import (
	"testing"

	"hopperful/internal/checkrow"
)

func TestChecks(t *testing.T) {
	t.Parallel()
	one := func(v float64, err error) ([]float64, error) { return []float64{v}, err }
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"HoleElliptic":    func(in checkrow.Inputs) ([]float64, error) { return one(HoleElliptic(in.Num("b"), in.Num("t"))) },
		"HoleRectangular": func(in checkrow.Inputs) ([]float64, error) { return one(HoleRectangular(in.Num("b"), in.Num("t"))) },
		"GrainsNeeded": func(in checkrow.Inputs) ([]float64, error) {
			return one(GrainsNeeded(in.Num("sigma"), in.Num("p"), in.Num("delta")))
		},
		"SampleNeeded": func(in checkrow.Inputs) ([]float64, error) {
			n, err := SampleNeeded(in.Num("grains"), in.Num("sigma"), in.Num("d50"))
			return []float64{n.Volume, n.Area}, err
		},
		"Calipers": func(in checkrow.Inputs) ([]float64, error) {
			var hull []Point
			for i, x := range in.List("x") {
				hull = append(hull, Point{x, in.List("y")[i]})
			}
			w, l := Calipers(hull)
			return []float64{w, l}, nil
		},
		"LearnShape": func(in checkrow.Inputs) ([]float64, error) {
			s, err := LearnShape(Shape{in.Num("median"), in.Num("spread")}, in.List("ratios"))
			return []float64{s.Median, s.Spread}, err
		},
		"Effective": func(in checkrow.Inputs) ([]float64, error) { return []float64{Effective(in.List("masses"))}, nil },
	})
}
