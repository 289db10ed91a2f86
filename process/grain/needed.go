// How many grains an answer needs, and how much material that is.

package grain

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/process"
)

// GrainsNeeded returns how many grains must be measured for a size by mass to be
// within a share of the truth with 95 % probability [1].
//
//	sigma  geometric standard deviation of the sizes [1], 1.05 to 3
//	p      share of the mass that is finer: 0.5 for d50 [1], 0.02 to 0.98
//	delta  the share it may be off by [1], 0.001 to 0.5
//
// Equation: s = ln σg, q = m + s z_p, m = 3 s²; n = (1.96/δ)² e^{9s²} [F(1−p)² + (1−F) p²]/f²,
// F = Φ((q − 6s²)/s), f = φ(z_p)/s.
// Holds for: grains alike in shape with log-normal sizes, none left out. For p near 1 and
// wide spreads a lower bound: a simulation at σg 1.6 needed 1.6 times as many for d90.
// Source: own derivation: the variance of a weighted quantile over draws by number.
// Errors: RangeError for arguments out of range.
// Checks: GrainsNeeded rows of checks.csv (16 own derivation, 2 published, 3 refusals).
func GrainsNeeded(sigma, p, delta float64) (float64, error) {
	if err := errors.Join(process.Within("spread of sizes", sigma, 1.05, 3, "", "judgement"),
		process.Within("share finer", p, 0.02, 0.98, "", "judgement"),
		process.Within("allowed error", delta, 0.001, 0.5, "", "judgement")); err != nil {
		return 0, err
	}
	s := math.Log(sigma)
	z := distuv.UnitNormal.Quantile(p)
	q := 3*s*s + s*z
	below := distuv.UnitNormal.CDF((q - 6*s*s) / s)
	density := distuv.UnitNormal.Prob(z) / s
	u := distuv.UnitNormal.Quantile(0.975)
	return u * u / (delta * delta) * math.Exp(9*s*s) * (below*(1-p)*(1-p) + (1-below)*p*p) / (density * density), nil
}

// Needed is how much to spread for an answer.
type Needed struct {
	Grains float64 // [1]
	Volume float64 // of plastic [m³]
	Area   float64 // of sheet at a cover of one tenth [m²]
}

// SampleNeeded returns what a number of grains is in plastic and in paper.
//
//	grains  how many [1], > 0
//	sigma   geometric standard deviation of the sizes [1], 1.05 to 3
//	d50     size at half the mass [m], > 0
//
// Equation: V = n (π/6) d50³ e^{−4.5 s²}; A = n (π/4) d50² e^{−4 s²}/0.1, s = ln σg.
// Holds for: balls with log-normal sizes; flakes weigh less.
// Source: own derivation (moments of the log-normal distribution).
// Errors: RangeError for arguments out of range.
// Checks: SampleNeeded rows of checks.csv (4 own derivation, 1 refusal).
func SampleNeeded(grains, sigma, d50 float64) (Needed, error) {
	if err := errors.Join(process.Above("number of grains", grains, 0, "", "own derivation"),
		process.Within("spread of sizes", sigma, 1.05, 3, "", "judgement"),
		process.Above("size", d50, 0, "m", "own derivation")); err != nil {
		return Needed{}, err
	}
	const cover = 0.1
	s2 := math.Log(sigma) * math.Log(sigma)
	return Needed{Grains: grains,
		Volume: grains * math.Pi / 6 * d50 * d50 * d50 * math.Exp(-4.5*s2),
		Area:   grains * math.Pi / 4 * d50 * d50 * math.Exp(-4*s2) / cover}, nil
}
