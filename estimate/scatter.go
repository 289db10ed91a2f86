package estimate

import (
	"math"
	"slices"
)

// How far the models' error truly is, kind by kind: on a mill that obeys the
// equations it shrinks, on one that does not it grows. What is said of each run by
// all others decides.

// What is believed of the scale of a kind's error before any record. Judgement:
// the prior table may be twice too small or too large.
const (
	scaleMedian = 1.1
	scaleSpread = 0.6 // of its logarithm
	leastScale  = 0.1
	mostScale   = 3.0
	sameScale   = 0.05 // a change of its logarithm that is none
	farMiss     = 3.0  // an error beyond it counts as this many standard deviations
)

// kindOf is the kind of the models' error a reading errs with; false for none.
func kindOf(q Quantity) (errorKind, bool) {
	switch q {
	case OfProduct:
		return errorOfProduct, true
	case OfLeft:
		return errorOfLeft, true
	case OfWall:
		return errorOfHeat, true
	case OfCharge:
		return errorOfCharge, true
	case OfEnergy:
		return errorOfEnergy, true
	case OfSieve:
		return errorOfSizes, true
	}
	return 0, false
}

// rescale asks how far the models are off in each kind of reading, and reports
// whether that changed anything.
func (f *fit) rescale() bool {
	if f.setup.exact {
		return false
	}
	var counts [errorKinds]int
	for i := range f.runs {
		for _, q := range f.readings[i] {
			if k, ok := kindOf(q.of); ok {
				counts[k]++
			}
		}
	}
	before, changed := f.errorScale, false
	here := f.unlikely()
	for k := range errorKinds {
		if counts[k] == 0 {
			continue
		}
		f.errorScale[k] = f.bestScale(k, here[k])
		changed = changed || math.Abs(math.Log(f.errorScale[k]/before[k])) > sameScale
	}
	return changed
}

// stride is how far the logarithm of a scale is looked at either side, and most
// that it moves in a round.
const stride = 0.5

// bestScale looks to either side of a kind's scale and goes to the vertex of the
// parabola; here is what the scale it has costs.
func (f *fit) bestScale(k errorKind, here float64) float64 {
	keep := math.Log(f.errorScale[k])
	prior := func(x float64) float64 { return square((x-math.Log(scaleMedian))/scaleSpread) / 2 }
	cost := func(x float64) float64 {
		f.errorScale[k] = math.Exp(x)
		return f.unlikely()[k] + prior(x)
	}
	less, more := cost(keep-stride), cost(keep+stride)
	f.errorScale[k] = math.Exp(keep)
	here += prior(keep)
	bend := less + more - 2*here
	by := stride
	if less < more {
		by = -stride
	}
	if bend > 0 {
		by = math.Min(math.Max(stride/2*(less-more)/bend, -2*stride), 2*stride)
	}
	return math.Min(math.Max(math.Exp(keep+by), leastScale), mostScale)
}

// unlikely is minus the log likelihood of the readings of every kind, each by what
// all other runs say.
func (f *fit) unlikely() (sum [errorKinds]float64) {
	s, err := f.posterior()
	if err != nil {
		for k := range sum {
			sum[k] = math.Inf(1)
		}
		return sum
	}
	left := f.leaveOut(s)
	for i := range f.runs {
		var of, n [errorKinds]float64
		for m, q := range f.readings[i] {
			if k, ok := kindOf(q.of); ok {
				x := math.Min(math.Abs(left[i].miss[m]/left[i].spread[m]), farMiss)
				of[k] += math.Log(left[i].spread[m]) + x*x/2
				n[k]++
			}
		}
		for k := range sum { // the readings of one kind and run err together: they count as one
			sum[k] += of[k] / math.Max(n[k], 1)
		}
	}
	return sum
}

func square(x float64) float64 { return x * x }

// What the calibration of a quantity is believed to be before any record, and how
// many readings that counts for.
const (
	calibrationWorth  = 4.0
	calibrationSquare = 1.0
)

// calibrate counts how far the readings of every quantity lay from what all others
// said, against what was stated: ranges are widened or narrowed by it.
func (f *Fitted) calibrate() {
	for i := range f.left {
		for m, q := range f.fit.readings[i] {
			x := math.Min(math.Abs(f.left[i].miss[m]/f.left[i].spread[m]), farMiss)
			f.scale[q.of] += x * x
			f.count[q.of]++
		}
	}
	for q, n := range f.count {
		f.scale[q] = math.Sqrt((calibrationWorth*calibrationSquare + f.scale[q]) / (calibrationWorth + float64(n)))
	}
}

// calibrated is the factor on the ranges of a quantity.
func (f *Fitted) calibrated(q Quantity) float64 {
	if f.fit.setup.exact || f.count[q] == 0 {
		return 1
	}
	return f.scale[q] * thick(calibrationWorth+float64(f.count[q]))
}

// shoulder is how far out eight in ten readings lie, over what a spread by squares says,
// which few readings far off make: errors have long tails (a Student's t with four
// degrees of freedom has 0.85, from memory). By 60 mills outside the models to be tuned
// on; without it 86 to 94 of 100 readings lay inside.
var shoulder = [quantities]float64{OfWall: 1.04, OfEnergy: 0.88, OfCharge: 0.88}

// The same of what is no single reading.
const (
	productShoulder = 0.8  // of the models and the yield so far together
	sizesShoulder   = 0.84 // of half of a product by the books, before any stack
)

// shouldered pulls draws to their middle, for an 80 % range that holds 80 %.
func shouldered(draws []float64, by float64) {
	sorted := slices.Clone(draws)
	slices.Sort(sorted)
	middle := sorted[len(sorted)/2]
	for i, v := range draws {
		draws[i] = middle + by*(v-middle)
	}
}

// thick is how much farther out than the normal's the 90 % point of Student's t
// lies (from memory: the first terms of the expansion of Cornish and Fisher).
func thick(freedom float64) float64 {
	z := tail
	return 1 + (z*z+1)/(4*freedom) + (5*z*z*z*z+16*z*z+3)/(96*freedom*freedom)
}

// widening is the scale of the models' error of every kind, as ranges need it.
func (f *Fitted) widening() (scale [errorKinds]float64) {
	scale = f.fit.errorScale
	for q := range quantities {
		if k, ok := kindOf(q); ok {
			scale[k] *= f.calibrated(q)
		}
	}
	return scale
}
