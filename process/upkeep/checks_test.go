package upkeep

import (
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
)

func TestChecks(t *testing.T) {
	t.Parallel()
	lives := func(in checkrow.Inputs) Lives {
		return Lives{Failed: in.List("failed"), Running: in.List("running")}
	}
	some := func(in checkrow.Inputs, a, b, likelihood float64) []float64 {
		if in.Has("likelihood") {
			return []float64{a, b, likelihood}
		}
		return []float64{a, b}
	}
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"FitWeibull": func(in checkrow.Inputs) ([]float64, error) {
			w, err := FitWeibull(lives(in))
			return some(in, w.Shape, w.Scale, w.LogLikelihood), err
		},
		"FitLogNormal": func(in checkrow.Inputs) ([]float64, error) {
			l, err := FitLogNormal(lives(in))
			return some(in, l.Median, l.Sigma, l.LogLikelihood), err
		},
	})
}

// TestFitsFindTheLawTheLivesCameFrom draws lives from known laws, stops watching
// each part at a time of its own, and looks for the laws; no other unit changes
// them.
func TestFitsFindTheLawTheLivesCameFrom(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	const n = 4000
	var wear, steps Lives
	watch := func(l *Lives, life, until float64) {
		if life > until {
			l.Running = append(l.Running, until)
		} else {
			l.Failed = append(l.Failed, life)
		}
	}
	for range n {
		watch(&wear, 40*math.Pow(-math.Log(1-r.Float64()), 1/1.8), 20+60*r.Float64())
		watch(&steps, 25*math.Exp(0.4*r.NormFloat64()), 15+40*r.Float64())
	}
	w, err := FitWeibull(wear)
	if err != nil {
		t.Fatal(err)
	}
	l, err := FitLogNormal(steps)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(w.Shape/1.8-1) > 0.06 || math.Abs(w.Scale/40-1) > 0.04 || math.Abs(l.Median/25-1) > 0.03 || math.Abs(l.Sigma/0.4-1) > 0.06 {
		t.Errorf("%+v, %+v", w, l)
	}
	scaled := Lives{Failed: times(wear.Failed, 1000), Running: times(wear.Running, 1000)}
	if g, err := FitWeibull(scaled); err != nil || math.Abs(g.Shape/w.Shape-1) > 1e-9 || math.Abs(g.Scale/w.Scale/1000-1) > 1e-9 {
		t.Errorf("in grams %+v, in kilograms %+v (%v)", g, w, err)
	}
}

func times(all []float64, by float64) []float64 {
	out := make([]float64, len(all))
	for i, v := range all {
		out[i] = v * by
	}
	return out
}
