// What is known of a mill with a sound screen, and how runs add to it.

package sieve

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"hopperful/process"
)

// Prior says how much of a sound screen's product is coarser than 1.25 holes.
type Prior struct {
	Median float64 // [1]; 0 means 0.01 (judgement)
	Upper  float64 // 90 % of sound runs lie below it [1]; 0 means 0.04 (judgement)
	// Within is the part of that spread that runs on one mill with one screen
	// show among themselves, the rest being between mills [1], 0.05 to 1; 0 means
	// 0.5 (judgement). With 1 nothing is learned from earlier runs.
	Within float64
}

// The grid on which shares are reckoned: normal scores from −4.48 to 4.48.
const (
	scoreStep = 0.04
	scores    = 2*112 + 1
)

// maxGrains is where more grains stop counting: the runs themselves scatter
// more by then.
const maxGrains = 1e5

// Sound is what is known of a mill with a sound screen: the prior, and the
// runs after which the screen was looked at and found whole.
//
// A run's share of coarse grains has a normal score z, with the prior's beta
// distribution as its marginal: share = B⁻¹(Φ(z)). z = u + e, u of this mill and
// screen with variance 1 − Within, e of the run with variance Within. Grains
// are drawn binomially from the share. Runs found sound narrow u, never e.
type Sound struct {
	share  []float64 // at each score
	kernel []float64 // density of e at multiples of scoreStep, 0 in the middle
	mill   []float64 // weight of each u
	Runs   int       // sound runs learned from
}

// NewSound returns what is known before any run.
//
// Source: judgement for the numbers; own derivation for the rule.
// Errors: RangeError for a prior out of range.
// Checks: Torn rows of checks.csv (second library).
func NewSound(p Prior) (Sound, error) {
	defaults := func(v *float64, d float64) {
		if *v == 0 {
			*v = d
		}
	}
	defaults(&p.Median, 0.01)
	defaults(&p.Upper, 0.04)
	defaults(&p.Within, 0.5)
	if err := process.Within("part of the spread within a mill", p.Within, 0.05, 1, "", "judgement"); err != nil {
		return Sound{}, err
	}
	a, b, err := BetaFromQuantiles(p.Median, p.Upper)
	if err != nil {
		return Sound{}, err
	}
	s := Sound{share: make([]float64, scores), mill: make([]float64, scores), kernel: make([]float64, 2*scores-1)}
	between := 1 - p.Within
	for i := range scores {
		z := scoreStep * float64(i-scores/2)
		s.share[i] = mathext.InvRegIncBeta(a, b, normalShare(z))
		if between > 0 {
			s.mill[i] = math.Exp(-z * z / (2 * between))
		}
	}
	if between == 0 {
		s.mill[scores/2] = 1
	}
	for i := range s.kernel {
		e := scoreStep * float64(i-scores+1)
		s.kernel[i] = math.Exp(-e * e / (2 * p.Within))
	}
	toOne(s.mill)
	return s, nil
}

func toOne(w []float64) {
	sum := total(w)
	for i := range w {
		w[i] /= sum
	}
}

// runs returns the weight of each score for the next run.
func (s Sound) runs() []float64 {
	out := make([]float64, scores)
	for u, w := range s.mill {
		if w < 1e-12 {
			continue
		}
		for z := range out {
			out[z] += w * s.kernel[z-u+scores-1]
		}
	}
	toOne(out)
	return out
}

// draw is a sample as independent grains.
type draw struct {
	n, k float64
	long float64 // grains above 2 holes expected for a share of 1
	seen int
}

func (m Sample) draw(screen Screen) (draw, error) {
	if err := process.Within("mass of the sample", m.Mass, 1e-6, maxMass, "kg", "judgement"); err != nil {
		return draw{}, err
	}
	if err := process.Within("share above 1.25 holes", m.Coarse, 0, 1, "", "own derivation"); err != nil {
		return draw{}, err
	}
	if m.Long < NotLooked {
		return draw{}, process.Within("number of long grains", float64(m.Long), 0, 1e9, "", "own derivation")
	}
	n := math.Min(m.Mass/screen.grainMass(CoarseRatio*screen.Hole), maxGrains)
	if err := process.Within("number of grains in the sample", n, 1, maxGrains, "", "own derivation"); err != nil {
		return draw{}, err
	}
	return draw{n: n, k: n * m.Coarse, seen: m.Long, long: m.Mass / screen.grainMass(LongRatio*screen.Hole)}, nil
}

// After returns what is known after a run whose screen was then found whole.
//
// Source: own derivation (the rule at Sound).
// Errors: RangeError for a screen or sample out of range.
// Checks: Torn rows of checks.csv (second library).
func (s Sound) After(screen Screen, sample Sample) (Sound, error) {
	screen, err := screen.check()
	if err != nil {
		return s, err
	}
	d, err := sample.draw(screen)
	if err != nil {
		return s, err
	}
	like := make([]float64, scores)
	top := math.Inf(-1)
	for z, share := range s.share {
		like[z] = d.logShare(share)
		top = math.Max(top, like[z])
	}
	for z := range like {
		like[z] = math.Exp(like[z] - top)
	}
	out := s
	out.Runs++
	out.mill = make([]float64, scores)
	for u, w := range s.mill {
		if w < 1e-300 {
			continue
		}
		sum := 0.0
		for z, l := range like {
			sum += l * s.kernel[z-u+scores-1]
		}
		out.mill[u] = w * sum
	}
	toOne(out.mill)
	return out, nil
}

// logShare is the log-likelihood of the coarse share, less its constant.
func (d draw) logShare(share float64) float64 {
	share = math.Max(share, 1e-300)
	return d.k*math.Log(share) + (d.n-d.k)*math.Log1p(-share)
}

// logLong is the log-likelihood of the long grains, less its constant.
func (d draw) logLong(share, longShare float64) float64 {
	if d.seen == NotLooked {
		return 0
	}
	mean := math.Max(d.long*share*longShare, 1e-300)
	return float64(d.seen)*math.Log(mean) - mean
}
