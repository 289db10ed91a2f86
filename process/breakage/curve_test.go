package breakage

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

// Size distributions of two real knife mills, as far as their feed is published:
// the balance must be able to give them.

var curveRows = map[string]checkrow.Func{"ScreenCurve": screenCurve}

// The feed of the measured runs: passing at [m] (Lu2024, files of the feed).
var (
	feedAt      = []float64{0.012, 0.01327, 0.01439, 0.01551, 0.0168, 0.01821, 0.02032, 0.02192, 0.02377, 0.031}
	feedPassing = []float64{0.017, 0.059, 0.124, 0.183, 0.252, 0.342, 0.482, 0.634, 0.797, 1}
)

// screenCurve is the balance's curve whose worst sieve lies nearest to a measured
// one, with the three numbers a mill must tell: how fast pieces break against how fast they leave,
// how that grows with size, and the exponent of their debris.
func screenCurve(in checkrow.Inputs) ([]float64, error) {
	sieves, want := in.List("sieves"), in.List("measured")
	best, worst := make([]float64, len(sieves)), math.Inf(1)
	at, step := [3]float64{1.5, 1.6, 1.1}, 0.5
	for step > 0.02 {
		moved := false
		tries := [][3]float64{at}
		for k := range at {
			if k == 2 && in.Has("alpha") { // held where the house believes it
				continue
			}
			for _, by := range [2]float64{1 + step, 1 / (1 + step)} {
				next := at
				next[k] *= by
				tries = append(tries, next)
			}
		}
		for _, try := range tries {
			got, err := curve(in.Num("hole"), try, in.Num("hindrance"), sieves)
			if err != nil {
				return nil, err
			}
			off := 0.0
			for i := range got {
				off = math.Max(off, math.Abs(got[i]-want[i]))
			}
			if off < worst-1e-12 {
				moved = moved || try != tries[0]
				worst, best, at = off, got, try
			}
		}
		if !moved {
			step /= 2
		}
	}
	return best, nil
}

// curve empties a charge of the measured feed: pieces as large as the hole break
// speed times as fast as powder leaves, into debris of one term.
func curve(hole float64, mill [3]float64, hindrance float64, sieves []float64) ([]float64, error) {
	speed, gamma, alpha := mill[0], mill[1], mill[2]
	const leave, held = 0.05, 1.0
	g, err := NewGrid(0.031)
	if err != nil {
		return nil, err
	}
	k := Kernel{Rate: speed * leave * math.Pow(ReferenceSize/hole, alpha) * held / 100, SizeExponent: alpha, RotorSize: 1e3, RotorExponent: 0, Phi: 1, Gamma: gamma, Beta: 3}
	k.Rate *= 2 // the rotor's grip halves every rate where its exponent is 0
	// Power in proportion to what is held, so that the rates stay.
	m, err := NewMill(g, k, Screen{Hole: hole, OpenShare: 1, Rate: leave, Hindrance: hindrance}, Power{Net: 1e4, MinHeld: 100}, 1e-5)
	if err != nil {
		return nil, err
	}
	c := NewCharge(g)
	below := 1.0
	for i := range g.Classes() {
		share := 0.0
		if lower := g.Lower(i); lower > feedAt[0] {
			share = between(feedAt, feedPassing, lower)
		} else if lower > feedAt[0]/2 {
			share = feedPassing[0] * (lower/feedAt[0]*2 - 1)
		}
		c.Held[i] = held * (below - share)
		below = share
	}
	if err := m.Run(c, 3000, nil); err != nil {
		return nil, err
	}
	out := make([]float64, len(sieves))
	return out, g.Passing(c.Passed, sieves, out)
}

// between interpolates straight in ln x.
func between(x, y []float64, at float64) float64 {
	for i := 1; i < len(x); i++ {
		if at <= x[i] {
			return y[i-1] + (y[i]-y[i-1])*math.Log(at/x[i-1])/math.Log(x[i]/x[i-1])
		}
	}
	return 1
}

// With the exponent of a grain that falls straight, and pieces breaking as they are
// thought to, it cannot.
func TestStraightFallCannotGiveTheMeasuredCurves(t *testing.T) {
	t.Parallel()
	sieves := []float64{0.000425, 0.00085, 0.0017, 0.00335, 0.0056, 0.00635}
	measured := []float64{0.0417, 0.1431, 0.3493, 0.7585, 0.9575, 0.9831}
	in := checkrow.Inputs{"hole": "0.0127", "hindrance": "2", "alpha": "1.1", "sieves": "[0.000425 0.00085 0.0017 0.00335 0.0056 0.00635]", "measured": "[0.0417 0.1431 0.3493 0.7585 0.9575 0.9831]"}
	got, err := screenCurve(in)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for i := range sieves {
		worst = math.Max(worst, math.Abs(got[i]-measured[i]))
	}
	t.Logf("%.3f, at worst %.3f off", got, worst)
	if worst < 0.03 {
		t.Errorf("with the exponent 2 the curve is met to %.3f", worst)
	}
}
