// Fits the laws of the trade to passing shares.

package sieve

import (
	"fmt"
	"math"

	"hopperful/process"
)

// Method is how a law was fitted.
type Method string

// The methods.
const (
	Linearised Method = "straight line" // the handbook's way, on its plotting paper
	NonLinear  Method = "least squares" // on the passing shares themselves
)

// Points are passing shares at sizes, as an analysis or a handbook gives them.
type Points struct {
	X []float64 // sizes [m], all different
	Q []float64 // mass share finer [1]
}

// Points returns what an analysis has to fit.
func (a Analysis) Points() Points {
	var p Points
	for i, s := range a.Sieves {
		p.X, p.Q = append(p.X, s.Opening), append(p.Q, a.Passing[i])
	}
	return p
}

// Weighting steers a least-squares fit. The zero value is ready to use.
type Weighting struct {
	// Equal gives every sieve the same weight, as spreadsheets do. Else a sieve
	// weighs 1/(Q(1 − Q)), as if grains had been drawn one by one.
	Equal bool
	// Grains is the effective sample size behind the weights and the least
	// uncertainty; 0 means 1000 (judgement: sampling a bag by the scoop is worth
	// far fewer grains than it holds).
	Grains float64
}

const defaultGrains = 1000.0

// Fit is one law fitted one way.
type Fit struct {
	Law          Law
	Method       Method
	Distribution Distribution
	Scale        float64 // x', x_max or x50 [m]
	Shape        float64 // n, m or s [1]
	ScaleError   float64 // standard error of Scale [m]
	ShapeError   float64 // standard error of Shape [1]
	// Covariance is that of ln Scale and ln Shape.
	Covariance [2][2]float64
	RMS        float64 // root mean square of the residuals in Q [1], over all points
	Line       float64 // correlation of the straight line [1]; 0 for NonLinear
	Used       int     // points used
	Dropped    int     // points at 0 or 1, which the straight line cannot use
	Grains     float64 // effective sample size assumed
	// MisfitGrains is the sample size whose chance alone would scatter the
	// shares as far from the law as they are; far below Grains, the law is wrong.
	MisfitGrains float64
}

// FitLaw fits one law to passing shares.
//
//	law     which
//	p       the points, at least three; see its fields
//	method  straight line or least squares
//	w       weights; see its fields
//
// Equation: Linearised: least squares of the straightened share (RRSB ln(−ln(1 − Q)),
// GGS ln Q, log-normal Φ⁻¹(Q)) against ln x. NonLinear: least Σ w (Q − Q̂)² over ln
// scale and ln shape, w = 1/(q(1 − q)), q = (N Q + ½)/(N + 1), or 1. Its covariance
// is s² B Σ Bᵀ with B = (JᵀWJ)⁻¹JᵀW, Σ the multinomial covariance of cumulative
// shares, s² = max(1/N, Pearson's χ² per grain and degree of freedom).
// Holds for: three points and more; the straight line weighs the ends too much.
// Source: Brezani2011 (both ways on the same data); covariance own derivation.
// Errors: RangeError for points out of range; EntryError for fewer than three
// usable points or data no such law can follow.
// Checks: FitLaw rows of checks.csv (published, second library).
func FitLaw(law Law, p Points, method Method, w Weighting) (Fit, error) {
	if err := p.check(); err != nil {
		return Fit{}, err
	}
	if w.Grains == 0 {
		w.Grains = defaultGrains
	}
	if err := process.Within("effective number of grains", w.Grains, 1, 1e12, "", "judgement"); err != nil {
		return Fit{}, err
	}
	f, err := fitLine(law, p)
	if err != nil {
		return Fit{}, err
	}
	if method == NonLinear {
		if f, err = fitLeast(f, p, w); err != nil {
			return Fit{}, err
		}
	}
	f.Grains = w.Grains
	if f.Distribution, err = law.of(f.Scale, f.Shape); err != nil {
		return Fit{}, fmt.Errorf("%s does not follow these shares: %w", law, err)
	}
	f.ScaleError = f.Scale * math.Sqrt(f.Covariance[0][0])
	f.ShapeError = f.Shape * math.Sqrt(f.Covariance[1][1])
	sum := 0.0
	for i, x := range p.X {
		q, _, _ := law.passing(x, math.Log(f.Scale), math.Log(f.Shape))
		sum += (p.Q[i] - q) * (p.Q[i] - q)
	}
	f.RMS = math.Sqrt(sum / float64(len(p.X)))
	f.MisfitGrains = 1 / math.Max(misfit(law, p, f, w.Grains), 1e-15)
	return f, nil
}

// FitAll fits every law both ways, least squares first. A law that cannot
// follow the data is left out.
//
//	p  the points, at least three; see its fields
//	w  weights of the least-squares fits; see its fields
//
// Equation: that of FitLaw, for RRSB, GGS and log-normal.
// Holds for: what FitLaw holds for; a law left out is one whose fit was refused.
// Source: own derivation.
// Errors: those of FitLaw, when it refuses every law.
// Checks: Judge rows of checks.csv, which fit every law (3 own derivation);
// FitLaw rows for the fits.
func FitAll(p Points, w Weighting) ([]Fit, error) {
	var all []Fit
	var last error
	for _, method := range []Method{NonLinear, Linearised} {
		for _, law := range []Law{LawRRSB, LawGGS, LawLogNormal} {
			f, err := FitLaw(law, p, method, w)
			if err != nil {
				last = err
				continue
			}
			all = append(all, f)
		}
	}
	if len(all) == 0 {
		return nil, last
	}
	return all, nil
}

// maxPoints bounds the points of a fit (judgement).
const maxPoints = 10_000

func (p Points) check() error {
	if len(p.X) != len(p.Q) || len(p.X) > maxPoints {
		return &EntryError{Code: WrongNumber, What: fmt.Sprintf("%d shares for %d sizes", len(p.Q), len(p.X)), Hint: "give one share a size"}
	}
	seen := map[float64]bool{}
	for i, x := range p.X {
		if err := process.Within("size", x, 1e-9, 1e3, "m", "judgement"); err != nil {
			return err
		}
		if err := process.Within("passing share", p.Q[i], 0, 1, "", "own derivation"); err != nil {
			return err
		}
		if seen[x] {
			return &EntryError{Code: SameSieve, Row: i + 1, What: fmt.Sprintf("%s stands twice", name(x)), Hint: "take one of them out"}
		}
		seen[x] = true
	}
	return nil
}
