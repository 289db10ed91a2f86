package estimate

import (
	"math"
	"slices"
)

// The product's forecast, stacked with what any maker reckons by pencil: what is in
// the mill times the yield so far. The two are mixed geometrically, with the share that
// would have forecast the runs best, each from all others (stacked regression,
// from memory: Wolpert 1992, Breiman 1996).

// What is believed of yield and stacking before any record. Judgement.
const (
	usualYield  = 0.8
	yieldWorth  = 2.0         // records the usual yield counts for
	modelError  = 0.2         // of the models, of a logarithm
	pencilError = 0.2         // of the pencil
	commonError = 0.02        // product of the two that both have in common
	stackWorth  = 4.0         // records that these count for
	stackSquare = 0.09 * 0.09 // of the mix
	stackOwn    = 0.08 * 0.08 // of a charge like no other
	farStack    = 0.36        // an error's square counts as this at most
	farMixed    = 1.0         // of the mix, where all of it shows

	strayed       = 0.18 // a step away from the records
	nearBy        = 0.4  // steps that are none
	farthestStray = 2.0  // steps that count
)

// pencil is the yield so far, and how far to go by it.
type pencil struct {
	share  float64 // of the models
	yield  float64 // logarithm
	square float64 // variance of the mix where all of its error shows
	none   bool    // nothing is mixed
}

// pencil learns the yield from the runs on the target's sheet and blade, from all
// where there is none.
func (f *Fitted) pencil(t Target) pencil {
	out := pencil{share: 1, yield: math.Log(usualYield), square: stackSquare + stackOwn}
	if f.fit.setup.exact {
		out.none = true
		return out
	}
	var like, all []logYield
	for i := range f.fit.runs {
		r := &f.fit.runs[i]
		for k, q := range f.fit.readings[i] {
			one, ok := f.yielded(i, k)
			if q.of != OfProduct || !ok {
				continue
			}
			all = append(all, one)
			if r.Screen == t.Screen && r.Chapter == t.Chapter && r.Polymer == t.Polymer {
				like = append(like, one)
			}
		}
	}
	if len(like) > 0 {
		all = like
	}
	sum := yieldWorth * math.Log(usualYield)
	for _, one := range all {
		sum += one.yield
	}
	n := float64(len(all))
	a, b, c := stackWorth*modelError*modelError, stackWorth*pencilError*pencilError, stackWorth*commonError
	mean := sum / (n + yieldWorth)
	for _, one := range all {
		other := (sum - one.yield) / (n - 1 + yieldWorth)
		e, p := limited(one.miss), limited(one.yield-other)
		a, b, c = a+e*e, b+p*p, c+e*p
	}
	w := math.Min(math.Max((b-c)/math.Max(a+b-2*c, 1e-9), 0), 1)
	mixed := stackWorth * (stackSquare + stackOwn)
	for _, one := range all {
		other := (sum - one.yield) / (n - 1 + yieldWorth)
		mixed += math.Min(square((w*one.miss+(1-w)*(one.yield-other))/one.bite), farMixed)
	}
	return pencil{share: w, yield: mean, square: mixed / (stackWorth + n)}
}

// limited keeps a slip from deciding.
func limited(x float64) float64 {
	return math.Min(math.Max(x, -math.Sqrt(farStack)), math.Sqrt(farStack))
}

// logYield is what a run yielded, and how far the models were off it by the other
// runs, both as logarithms, and the share of its error that could show.
type logYield struct{ yield, miss, bite float64 }

// yielded is a run's yield of what was in the mill, an unweighed rest as far as it is
// known; false where its product is no guide.
func (f *Fitted) yielded(i, k int) (logYield, bool) {
	r, one := &f.fit.runs[i], &f.left[i]
	if r.Product == nil || !(*r.Product > 0) || one.miss == nil {
		return logYield{}, false
	}
	expected := math.Max(*r.Product-one.miss[k], 0.05**r.Product)
	in := r.in(f.fit.now[i].residue)
	return logYield{math.Log(*r.Product / in), math.Log(*r.Product / expected), bite(expected / in)}, true
}

// stack mixes the yield into the factors on the models' products, one a draw: the
// draws keep their order, and get the middle and the spread of the mix.
func (p *pencil) stack(charge, distance float64, products, factors []float64) {
	logs := make([]float64, len(products))
	for i := range logs {
		logs[i] = math.Log(math.Max(products[i]*factors[i], 1e-9))
	}
	p.mix(charge, distance, logs)
	for i := range logs {
		factors[i] = math.Exp(logs[i]) / math.Max(products[i], 1e-9)
	}
}

// mix moves the logarithms of a product's draws, of so much in the mill [kg], so far
// from the nearest record [steps].
func (p *pencil) mix(in, distance float64, logs []float64) {
	if p.none {
		return
	}
	sorted := slices.Clone(logs)
	slices.Sort(sorted)
	n := len(sorted)
	middle := (sorted[(n-1)/2] + sorted[n/2]) / 2
	own := (sorted[n-1-n/10] - sorted[n/10]) / 2 / tail
	apart := middle - (math.Log(in) + p.yield)
	to := middle - (1-p.share)*apart
	spread := math.Sqrt(p.square*square(bite(math.Exp(to)/in))/2 + own*own/2 + (1-p.share)*apart*apart/4 + square(beyond(distance)))
	if own < 1e-9 {
		own, spread = 1, 1 // a single draw, or no doubt at all
	}
	for i := range logs {
		logs[i] = to + (logs[i]-middle)*spread/own
	}
}

// beyond is what a product's logarithm errs by more where nobody has ground, as a
// standard deviation: neither the models nor the yield so far were held against
// anything there.
func beyond(distance float64) float64 {
	if math.IsInf(distance, 1) { // nothing on record at all: the ranges are the books'
		return 0
	}
	return strayed * math.Min(math.Max(distance-nearBy, 0), farthestStray)
}

// restack mixes the yield into the products of a run's outcomes.
func (p *pencil) restack(r *Run, distance float64, all []Outcome) {
	logs := make([]float64, len(all))
	for i := range all {
		logs[i] = math.Log(math.Max(all[i].Product, 1e-9))
	}
	in := 0.0
	for i := range all {
		in += all[i].in / float64(len(all))
	}
	p.mix(in, distance, logs)
	for i := range all {
		was := all[i].Product
		all[i].Product = math.Min(math.Exp(logs[i]), all[i].in)
		for k, q := range r.readings() {
			if q.of == OfProduct && k < len(all[i].readings) {
				all[i].readings[k] += all[i].Product - was
			}
		}
	}
}
