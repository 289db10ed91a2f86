package estimate

import (
	"fmt"
	"math"
)

// What the models leave out, as a discrepancy in proportion to what they say: of
// each kind of reading a constant, slopes along the setting, an effect of the
// day and one of the charge, each with a spread it has before any record. A
// forecast f is believed to come out as f·exp(δ),
//
//	δ = λ (κ₀ c + κ_d d + κ_r r) + max(λ, 1) Σ_m κ₁/ℓ_m x_m b_m        c, b, d, r ~ N(0, 1)
//
// so that two runs of one day have in common λ² (κ₀² + κ_d²) + κ₁² Σ x x′/ℓ²; λ is
// learned, see [Fit]. Near
// the records δ is what they say; far from them the slopes open the range.

// errorKind is a kind of reading that errs as one.
type errorKind int

// The kinds.
const (
	errorOfProduct errorKind = iota
	errorOfLeft
	errorOfHeat   // rise of the wall
	errorOfCharge // rise of the charge
	errorOfEnergy
	errorOfSizes
	errorKinds
)

// errorPrior is how far the models are thought to be off before any record, as
// standard deviations of a logarithm.
type errorPrior struct {
	name                       string
	always, slope, day, charge float64 // κ₀, κ₁, κ_d, κ_r
	level                      float64 // ℓ along the level
	blade                      float64 // κ₁/ℓ along what the blade has ground
}

// errorPriors is the one table of what is believed of the models' error.
// Judgement throughout.
var errorPriors = [errorKinds]errorPrior{
	errorOfProduct: {"product", 0.08, 0.16, 0.08, 0.08, 1.7, 0},   // two bags of scrap, pieces and infill differ by 5 to 10 % each; cushioning and dead corners by 15 to 20 % when the charge doubles
	errorOfLeft:    {"left", 0.20, 0.40, 0.15, 0.20, 1.7, 0},      // the small difference of two masses, and what dead corners keep
	errorOfHeat:    {"wall", 0.12, 0.25, 0.05, 0.06, 0.68, 0.08},  // where the loss goes: fan, lid, bearings, spot measured; a blunt blade rubs
	errorOfCharge:  {"charge", 0.21, 0.16, 0.05, 0.06, 1.0, 0.05}, // what a thermometer pointed at or stuck into grains sees; hot and cool grains lie side by side
	errorOfEnergy:  {"energy", 0.06, 0.16, 0.03, 0.04, 0.68, 0},   // efficiency of the motor and the draw of the empty mill change with the load
	errorOfSizes:   {"sizes", 0.08, 0.12, 0.05, 0.05, 1.7, 0.04},  // published curves of one mill and sheet move by a quarter with speed and moisture; plastic is dry
}

// axes are the directions of a setting along which the models may err.
const axes = 5

// The axes. How product and residue change with the blade is told by the wear of
// the break rate, so that axis is for the other kinds alone.
const (
	alongCharge = iota
	alongTime
	alongLevel
	alongDay
	alongBlade
)

// reach is ℓ along charge, time and the day.
const reach = 2.0

// errorTerms is how many coefficients a kind has: the constant, the slopes, and what
// is special of the sheet and blade in use.
const errorTerms = 1 + axes + 1

// isSlope reports whether a term is along the setting.
func isSlope(term int) bool { return term > 0 && term <= axes }

// scaleOf is what a term of a kind is multiplied by. Runs like each other say how far
// the models are off there, and nothing of elsewhere: a small scale is none of the
// slopes'.
func scaleOf(scale *[errorKinds]float64, k errorKind, slope bool) float64 {
	if slope && scale[k] > 0 {
		return math.Max(scale[k], 1)
	}
	return scale[k]
}

// Near the end of a charge nearly all is through, whatever the models have wrong: a
// product errs by a factor as far as it would with the break rate off by one, by which
// a charge that passes with one rate, y = 1 − exp(−kt), moves by −ln(1 − y)(1 − y)/y;
// what is spilled and sticks it errs by at any time. The spreads of [errorPriors] hold
// where bite is 1, at six tenths through. Judgement of how much is of which kind.
const (
	biteAlways = 0.32 // of the spread, that no end of the charge takes away
	biteRate   = 1.53 // and what the other is multiplied by
	leastYield = 0.02
)

// bite is the share of the product's error that shows when so much of what is in the
// mill comes out.
func bite(yield float64) float64 {
	y := math.Min(math.Max(yield, leastYield), 1-leastYield)
	return math.Hypot(biteAlways, biteRate*-math.Log1p(-y)*(1-y)/y)
}

// refit is how far the models' error may move with a new sheet or blade, as a
// standard deviation; the first are what the constant is of. Judgement: another
// hole, burr or edge, so that one record on it is believed.
var refit = [errorKinds]float64{errorOfProduct: 0.3, errorOfLeft: 0.3, errorOfSizes: 0.15}

// Terms is how many coefficients of the models' error a draw holds behind the
// parameters.
const Terms = int(errorKinds) * errorTerms

// Setting is how a charge is, or is to be, ground.
type Setting struct {
	Charge      float64 // filled in [kg]
	Time        float64 // ground for [s]
	LevelShare  float64 // of the controller's scale [1]; 0: no controller
	ChargeOfDay float64 // 1 for the first of the day; the mean of a campaign's may stand for all
	Since       float64 // ground since the latest service [kg]
	Charges     int     // charges the forecast is the sum or mean of, whose own errors average; 0 and 1: one
	// Products is what the physics say comes through the screen of one charge, one
	// a draw [kg]; with it the forecast is stacked with the yield so far.
	Products []float64
}

// How people run mills of this kind, cold: some 50 g in a litre for two minutes at sixty
// hundredths of the controller's scale, and grains come out. Common practice, no source.
// The models' error is counted from there.
const (
	UsualCharge = 50.0  // kg/m³ of chamber
	UsualTime   = 120.0 // s
	UsualShare  = 0.6
)

// The most that the models' error is told along the others. Judgement.
const (
	longDay   = 5.0 // charges of a day after which the mill is as warm as it gets
	longBlade = 15. // kg after which a blade is as blunt as it gets
)

// along are the coordinates of a setting in a chamber [m³].
func (s Setting) along(chamber float64) [axes]float64 {
	x := [axes]float64{
		alongCharge: math.Log(s.Charge/(UsualCharge*chamber)) / 0.35,
		alongTime:   math.Log(s.Time/UsualTime) / 0.5,
		alongDay:    math.Min(math.Max(s.ChargeOfDay-1, 0), longDay) / 3,
		alongBlade:  math.Min(math.Max(s.Since, 0), longBlade) / 3,
	}
	if s.LevelShare > 0 {
		x[alongLevel] = math.Log(s.LevelShare/UsualShare) / 0.3
	}
	return x
}

// basis are the factors of a kind's coefficients at a setting, on the first sheet and
// blade or on later ones.
func (k errorKind) basis(x [axes]float64, first bool) [errorTerms]float64 {
	p := &errorPriors[k]
	out := [errorTerms]float64{p.always}
	if !first {
		out[errorTerms-1] = refit[k]
	}
	for m, v := range x {
		switch m {
		case alongLevel:
			out[1+m] = p.slope / p.level * v
		case alongBlade:
			out[1+m] = p.blade * v
		default:
			out[1+m] = p.slope / reach * v
		}
	}
	return out
}

// coefficient names the variable of a kind's term on a sheet and blade.
func (k errorKind) coefficient(term int, screen string, chapter int) string {
	if term == errorTerms-1 {
		return fmt.Sprintf("error/%s/%s/%d", errorPriors[k].name, screen, chapter)
	}
	return fmt.Sprintf("error/%s/%d", errorPriors[k].name, term)
}

// terms numbers the coefficients of all kinds on a sheet and blade, in the order a
// draw holds them.
func (l *ledger) terms(screen string, chapter int) []int {
	all := make([]int, 0, Terms)
	for k := range errorKinds {
		for term := range errorTerms {
			all = append(all, l.number(k.coefficient(term, screen, chapter)))
		}
	}
	return all
}
